"""Tables on paper: which columns fold, and where what is to spare goes."""

from __future__ import annotations

import pytest

from eggfold.formats.pdf import lay_out
from eggfold.formats.pdf_blocks import (
    MOST_SPARE,
    BlockFrame,
    Typeface,
    Words,
    block_bands,
    width_of,
)
from eggfold.pages.page import Column, Lines, Page, Table
from eggfold.reference.paper import DEFAULT_CARD, DEFAULT_SHEET

LONG = "one egg of the trial, shelled, the middle of its class less the shell"
ASSUMED = Table(
    "ASSUMED",
    (Column("What"), Column("value"), Column("origin")),
    ((LONG, LONG, "common practice"), ("pan", "5 l", "house default")),
)
CLOCK = Table("CLOCK", (Column("From"), Column("what")), (("09:00", "mix bowl 1"),))


def words_of(table: Table, width: float) -> list[Words]:
    return [
        word for band in block_bands(table, BlockFrame(Typeface(), width)) for word in band.words
    ]


@pytest.mark.parametrize("width", [34.0, 45.0, 60.0])
def test_only_the_widest_columns_fold(width: float) -> None:
    words = words_of(ASSUMED, width)
    texts = [word.text for word in words]
    assert {"common practice", "house default"} <= set(texts)
    assert LONG not in texts
    assert all(word.x + width_of(word.text, word.bold) * word.scale <= width for word in words)


def test_words_stand_beside_what_they_belong_to() -> None:
    time, what = (word for word in words_of(CLOCK, 60.0) if word.text in {"09:00", "mix bowl 1"})
    assert what.x - time.x - width_of(time.text) <= MOST_SPARE + 2


def test_a_card_whose_front_stands_on_a_small_sheet_takes_it() -> None:
    front = Lines("", ("Weigh the bag, and weigh it again.",) * 10)
    card = Page("Reed bed mix", "1 egg", (front, front), front=1)
    assert lay_out((card,), Typeface(), None)[0] == DEFAULT_CARD
    longer = card._replace(blocks=(*[front] * 7, front), front=7)
    assert lay_out((longer,), Typeface(), None)[0] == DEFAULT_SHEET
