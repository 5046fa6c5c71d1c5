"""Pages as text: what is copied from them."""

from __future__ import annotations

import pytest

from eggfold.formats.plain_text import page_text
from eggfold.pages.page import Facts, Lines, Page

COMMAND = "eggfold note trip recipes/season.yaml 'Reed arm' --home RECIPE=AMOUNT"


@pytest.mark.parametrize("width", [60, 80])
@pytest.mark.parametrize("words", ["", "It is over, and nobody wrote it down. If not: "])
def test_a_command_to_copy_stays_in_one_piece(words: str, width: int) -> None:
    text = words + COMMAND
    blocks = (Lines("", (text,)), Facts("", (("WRONG?", text),)))
    lines = page_text(Page("A season", "", blocks, (text,) if words else ()), width).splitlines()
    assert len([line for line in lines if line.endswith(COMMAND)]) == len(blocks) + bool(words)
