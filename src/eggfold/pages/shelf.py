"""The shelf: what is there, what is past its date, what runs out first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from eggfold.pages.figures import Units, eggs_text, got, put, without_sum
from eggfold.pages.note import left_text
from eggfold.pages.page import NONE, Block, Column, Lines, Page, Table
from eggfold.reference.eggs import ANY_EGGS, WEIGHED_EGGS
from eggfold.reference.measures import SOON_DAYS

if TYPE_CHECKING:
    from eggfold.stock.shelf import ShelfRow, ShelfState

NOTHING_THERE = "Nothing yet. To put something there: eggfold note bought 'EU large eggs' 10"
MOST_NAMED = 50
"""Names in one sentence; the table above it has them all."""


def shelf_page(state: ShelfState, units: Units, *, why: bool = False) -> Page:
    """Return the page of a shelf."""
    columns = (
        Column("On the shelf"),
        Column("left", "right"),
        Column("use by"),
        Column("state"),
        Column("lasts", "right"),
        Column("in"),
    )
    table: Block = Table("THERE", columns, tuple(_row(row, units) for row in state.rows))
    if not state.rows:
        table = Lines("THERE", (NOTHING_THERE,))
    remarks = Lines("TO KNOW", tuple(_remarks(state)))
    blocks: list[Block] = [table]
    if state.baits:
        blocks.append(_baits(state, units))
    if remarks.items:
        blocks.append(remarks)
    if why:
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(_why(state))))
    blocks += units.lines()
    return Page(f"Shelf {state.file}", str(state.day), tuple(blocks))


def _baits(state: ShelfState, units: Units) -> Table:
    """Return the lots of finished bait with their age."""
    columns = (Column("Bait in hand"), Column("left", "right"), Column("age", "right"))
    rows = tuple(
        (
            f"{lot.recipe} {lot.strength}",
            left_text(lot, units),
            NONE if age is None else f"{age} d",
            "dry, not bagged" if is_dry else lot.state,
            "" if lot.weighed == "yes" else "never weighed",
        )
        for lot, age, is_dry in state.baits
    )
    return Table("BAIT", (*columns, Column("state"), Column("")), rows)


def _why(state: ShelfState) -> Iterator[str]:
    need = (
        "the high end of the base mix, or the freebie dose; eggfold batch with --why shows the sums"
    )
    yield without_sum("Need of one egg", "recipe by recipe", need)
    for row in state.rows:
        if row.drawn:
            d = row.drawn
            yield (
                f"{row.name}: lasts = in date / need of one egg × eggs = {put(d.in_hand)} / "
                f"{put(d.need)} × {put(d.eggs)} = {got(row.lasts_eggs or 0.0)} eggs"
            )


def _row(row: ShelfRow, units: Units) -> tuple[str, ...]:
    return (
        row.name,
        NONE if row.left is None or row.unit is None else units.amount(row.left, row.unit),
        NONE if row.use_by is None else str(row.use_by),
        "no date" if row.status == "in date" and row.use_by is None else row.status,
        NONE if row.lasts_eggs is None else eggs_text(int(row.lasts_eggs)),
        row.recipe or NONE,
    )


def _remarks(state: ShelfState) -> Iterator[str]:
    if first := state.first_out:
        lasts = eggs_text(int(first.lasts_eggs or 0))
        yield f"Runs out first: {first.name}, after {lasts} of {first.recipe} at the freebie dose."
    past = [row.name for row in state.rows if row.status == "past its date"]
    if past:
        yield f"Past its date, not counted: {_named(past)}."
    soon = [row.name for row in state.rows if row.status == "soon due"]
    if soon:
        yield f"Due within {SOON_DAYS} days (house default): {_named(soon)}."
    if state.missing:
        yield f"Needed and not on the shelf: {_named(state.missing)}."
        if any(name.startswith(WEIGHED_EGGS.partition("{")[0]) for name in state.missing):
            yield f"Weighed eggs are found by a name: write also: [{ANY_EGGS}] under those you use."
    untracked = [row.name for row in state.rows if row.left is None]
    if untracked:
        yield f"No amount given (left), so never deducted: {_named(untracked)}."
    if state.unused:
        yield f"No recipe here uses: {_named(state.unused)}."


def _named(names: Sequence[str]) -> str:
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {more:,} more" if more > 0 else "")
