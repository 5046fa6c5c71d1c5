"""Pages as text of a given width."""

from __future__ import annotations

from collections.abc import Iterable

from eggfold.formats.page_text import page_text
from eggfold.formats.registry import Setting, Written
from eggfold.pages.page import LabelSheet, Page


def write_pages(pages: Iterable[Page], setting: Setting) -> Written:
    """Return pages one under the other, an empty line between them; labels side by side."""
    if setting.grid:
        from eggfold.formats.label_sheet import sheet_text  # noqa: PLC0415 - only labels stand in a grid

        return Written(sheet_text(LabelSheet(tuple(pages), *setting.grid), setting.width))
    written = (page_text(page, setting.width, color=setting.color) for page in pages)
    return Written("\n".join(written))
