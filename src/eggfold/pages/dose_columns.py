"""What stands over a column of the dose sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.figures import eggs_text

if TYPE_CHECKING:
    from eggfold.jobs.doses import DoseColumn


def column_title(column: DoseColumn) -> str:
    """Return what a column stands for."""
    if column.eggs is not None:
        return f"{column.strength}, {eggs_text(column.eggs)}"
    return f"{column.strength}, {column.kg_dry:g} kg dry mix"
