"""What was noted, as a page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.pages.figures import (
    Units,
    eggs_text,
    number_text,
    size_text,
    temperature_text,
)
from eggfold.pages.page import NONE, Block, Column, Facts, Lines, Page, Table
from eggfold.reference.measures import KITCHEN_UNITS

if TYPE_CHECKING:
    from eggfold.load.lots import Lot
    from eggfold.load.shelf import Stock
    from eggfold.stock.baits import LotChange
    from eggfold.stock.noting import Note
    from eggfold.stock.withdraw import Withdrawal


def note_page(note: Note, units: Units) -> Page:
    """Return the page of a note."""
    heading = "TAKEN BACK" if note.what == "undone" else "NOTED"
    blocks: list[Block] = [Facts(heading, tuple(_facts(note, units)))]
    if note.lots:
        blocks.append(_lots(note, units))
    if len(note.bought) > 1:
        blocks.append(_things(note, units))
    if note.withdrawal.drawn:
        blocks.append(_drawn(note, units))
    if note.withdrawal.passed:
        heading = "NOT PUT BACK" if note.what == "undone" else "NOT TAKEN OFF"
        reasons = tuple(f"{p.name}: {p.reason}" for p in note.withdrawal.passed)
        blocks.append(Lines(heading, reasons))
    if note.remarks:
        blocks.append(Lines("MIND", note.remarks))
    aside = "TAKEN BACK" if note.what == "undone" else note.what.upper()
    return Page(note.title, f"{aside}, {note.date}", tuple(blocks))


def _facts(note: Note, units: Units) -> Iterator[tuple[str, str]]:
    if "takes" in note.figures:
        yield from _outing(note)
    elif "looked" in note.figures:
        yield from _cut(note)
    elif len(note.bought) == 1:
        (_, amount, left) = note.bought[0]
        yield "Bought", _stock(amount, units)
        yield "Left now", _stock(left, units)
    elif "eggs" in note.figures:
        yield from _bowl(note, units)
    elif note.what == "bagged" and all(note.lots[0]):
        expected, bagged = (left_text(lot, units) for lot in note.lots[0] if lot)
        yield "Bagged", f"{bagged}; expected {expected}"
    elif "took_back" in note.figures:
        yield "Was noted", str(note.figures["took_back"])
    elif "took_g" in note.figures:
        yield "Took", units.mass(_number(note, "took_g"))
    if note.notebook:
        yield "Notebook", note.notebook
    if note.shelf:
        yield "Shelf", note.shelf


def _outing(note: Note) -> Iterator[tuple[str, str]]:
    figures = note.figures
    yield "Takes", f"{figures['takes']}"
    rods, hours = _number(note, "rods"), _number(note, "hours")
    yield "Rod hours", f"{number_text(rods * hours)} ({rods:g} × {number_text(hours)} h)"
    for key in ("swim", "remark"):
        if figures.get(key):
            yield key.capitalize(), str(figures[key])


def _cut(note: Note) -> Iterator[tuple[str, str]]:
    figures = note.figures
    size, time_s = size_text(_number(note, "diameter_mm")), _number(note, "after_s")
    looked = "set through" if figures["looked"] == "set" else "raw inside"
    yield "Cut open", f"{size} after {time_s:g} s: {looked}"
    if figures.get("conducts") is not None:
        peak = temperature_text(_number(note, "expected_peak_c"))
        yield "Expected", f"its centre to peak at {peak}; from about 65 °C on it looks set"
        doubt = number_text(100 * _number(note, "doubt"), 2)
        conducts = number_text(_number(note, "conducts"))
        cuts = counted(int(_number(note, "cuts")), "cut")
        yield f"{figures['base_mix']}", f"heat {conducts} times as fast, ±{doubt} %, after {cuts}"


def _bowl(note: Note, units: Units) -> Iterator[tuple[str, str]]:
    figures = note.figures
    liquid = figures.get("liquid_g")
    egg = f"{units.mass(float(liquid))} of egg" if liquid else eggs_text(_number(note, "eggs"))
    yield "Bowl", f"{egg}, {figures['strength']} doses"
    if figures.get("taken_g") is not None:
        taken, low, high = (units.mass(_number(note, k)) for k in ("taken_g", "low_g", "high_g"))
        expected = f"; expected {low} to {high}"
        if figures["egg_low_g"] is not None:
            low, high = (units.mass(_number(note, k)) for k in ("egg_low_g", "egg_high_g"))
            yield "Egg expected", f"{low} to {high}"
            expected = ", all of it"
        yield f"{figures['base_mix']}", f"{taken} out of the bag{expected}"
        taken_up = number_text(_number(note, "absorbency"))
        yield "Dry mix taken", f"{taken_up} g for each gram of egg and liquids"
    if figures.get("finished_g") is not None:
        finished = units.mass(_number(note, "finished_g"))
        expected = units.mass(_number(note, "expected_finished_g"))
        yield "Finished bait", f"{finished}; expected {expected}"
    if figures.get("hundred_g") is not None:
        size = size_text(_number(note, "diameter_mm"))
        yield "A hundred baits", f"{units.mass(_number(note, 'hundred_g'))} of {size}"


def _drawn(note: Note, units: Units) -> Table:
    back = note.what == "undone"
    columns = (
        Column("What"),
        Column("put back" if back else "taken", "right"),
        Column("left before", "right"),
        Column("left now", "right"),
    )
    return Table(
        "BACK ON THE SHELF" if back else "OFF THE SHELF", columns, _rows(note.withdrawal, units)
    )


def _rows(withdrawal: Withdrawal, units: Units) -> tuple[tuple[str, ...], ...]:
    return tuple(
        (d.name, _stock(d.drew, units), _stock(d.before, units), _stock(d.left, units))
        for d in withdrawal.drawn
    )


def _stock(stock: Stock, units: Units) -> str:
    if stock.unit in KITCHEN_UNITS:
        return str(stock)
    return units.amount(float(stock.exact()), stock.kind)


def _number(note: Note, key: str) -> float:
    return float(note.figures[key] or 0)


def _lots(note: Note, units: Units) -> Table:
    """Return the lots of bait that changed."""
    columns = (Column("Bait"), Column("before", "right"), Column("now", "right"), Column("state"))
    return Table("BAIT IN HAND", columns, tuple(_lot(lot, units) for lot in note.lots))


def _lot(change: LotChange, units: Units) -> tuple[str, ...]:
    lot = change.after or change.before
    assert lot is not None  # noqa: S101 - one of them is there
    made = f", made {lot.made}" if lot.made else ""
    before, after = (left_text(one, units) if one else NONE for one in change)
    return f"{lot.recipe} {lot.strength}{made}", before, after, lot.state


def left_text(lot: Lot, units: Units) -> str:
    """Return how much of a lot is left."""
    stock = lot.left.stock
    exact = float(stock.exact())
    text = f"{exact:,.0f} baits" if stock.kind == "piece" else units.mass(exact)
    return f"{'about ' if lot.left.rough or lot.weighed == 'no' else ''}{text}"


def _things(note: Note, units: Units) -> Table:
    columns = (Column("What"), Column("bought", "right"), Column("left now", "right"))
    rows = (
        (name, _stock(amount, units), _stock(left, units)) for name, amount, left in note.bought
    )
    return Table("ON THE SHELF", columns, tuple(rows))
