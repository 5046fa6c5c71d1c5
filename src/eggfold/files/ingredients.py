"""ingredients.yaml: the user's own powders, which beat the built-in ones."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from eggfold.files.analysis import Analysis, Contains
from eggfold.load.fields import StrictModel
from eggfold.load.reading import Placed, Reading, read_model


class OwnPowder(StrictModel):
    """A powder's label."""

    analysis: Analysis
    """Its label's analysis in % by mass."""
    contains: Contains | None = None
    """The allergens on its label."""


class Ingredients(StrictModel):
    """The user's own powders by name."""

    ingredients: Annotated[dict[str, OwnPowder], Field(strict=False)]
    """Your own powders by name; they beat the built-in ones."""


def read_ingredients(placed: Placed) -> Reading[Ingredients]:
    """Read ingredients.yaml, with every problem in it."""
    return read_model(Ingredients, placed, {"ingredients": {}}, None)
