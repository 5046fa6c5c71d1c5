"""The whole of notebook.yaml as one model, for editors; the program reads it section by section."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from eggfold.files.notebook import Fished, RolledEntry, Weighed
from eggfold.load.fields import StrictModel


class NotebookFile(StrictModel):
    """What the scale said, what was rolled, and what was caught on it."""

    weighed: Annotated[tuple[Weighed, ...], Field(strict=False)] | None = None
    """Bags weighed before and after a bowl."""
    rolled: Annotated[tuple[RolledEntry, ...], Field(strict=False)] | None = None
    """Bowls that became bait."""
    fished: Annotated[tuple[Fished, ...], Field(strict=False)] | None = None
    """Sessions and what they caught."""
