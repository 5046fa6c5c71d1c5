"""What a powder is made of: a label's analysis, or a blend of ingredients."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from eggfold.load.fields import StrictModel, a_share, a_word, problem
from eggfold.reference.allergens import CONTAINS, SHORT_NAMES

MOST_PERCENT = 100.5
"""A label's parts may round to a little over 100."""
LEAST_PERCENT = 99.5

Share = Annotated[float, a_share(0, 100)]
LabelShare = Annotated[float, a_share(0, 100, bare=True)]

Allergen = Annotated[str, a_word(CONTAINS, "unknown-allergen", SHORT_NAMES)]
Contains = Annotated[tuple[Allergen, ...], Field(strict=False)]


class Analysis(StrictModel):
    """A label's analysis in % by mass; what it leaves out is filled in by rule."""

    protein: LabelShare | None = None
    """Protein, % by mass."""
    fat: LabelShare | None = None
    """Fat or oil, % by mass."""
    carbohydrate: LabelShare | None = None
    """Carbohydrate without the fibre; the rest if it is left out, % by mass."""
    fibre: LabelShare | None = None
    """Fibre, % by mass."""
    ash: LabelShare | None = None
    """Ash, the minerals, % by mass."""
    water: LabelShare | None = None
    """Water or moisture; 9 if it is left out, % by mass."""

    def stated(self) -> dict[str, float]:
        """Return the parts the label states."""
        return {k: v for k, v in self if v is not None}

    def shortfall(self) -> float:
        """Return what is missing to 100 % [%], 0 within the rounding or without carbohydrate."""
        parts = self.stated()
        gap = 100 - sum(parts.values()) - (0 if "water" in parts else 9)
        return gap if self.carbohydrate is not None and gap > 100 - LEAST_PERCENT else 0.0

    @model_validator(mode="after")
    def _adds_up(self) -> Analysis:
        parts = self.stated()
        total = sum(parts.values()) + (0 if "water" in parts else 9)
        if self.carbohydrate is not None and not total:
            message = "the analysis says that there is nothing in it"
            hint = "the parts on the label, or leave the analysis out"
            raise problem("empty-analysis", message, hint, key=next(iter(parts)))
        if total > MOST_PERCENT:
            water = "" if "water" in parts else ", with 9 % water that it does not state"
            message = f"the analysis adds up to {total:g} %{water}"
            raise problem("analysis-over-100", message, "at most 100 %", key=next(iter(parts)))
        return self


Blend = Annotated[dict[str, Share], Field(strict=False)]


def blend_total_problem(blend: dict[str, float]) -> tuple[str, str] | None:
    """Return the sentence and hint for a blend that does not add up to 100 %, or None."""
    total = sum(blend.values())
    if LEAST_PERCENT <= total <= MOST_PERCENT:
        return None
    gap = 100 - total
    hint = f"{abs(gap):g} % {'is missing' if gap > 0 else 'is too much'}"
    return f"the blend adds up to {total:g} %", hint
