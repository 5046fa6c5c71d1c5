"""The boil table."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from eggfold.pages.basis import basis_blocks
from eggfold.pages.display import units_lines
from eggfold.pages.figures import litres_text, mass_text, seconds_text, size_text
from eggfold.pages.page import Block, Column, Facts, Lines, Page, Table
from eggfold.reference.boiling import TARGETS

if TYPE_CHECKING:
    from eggfold.jobs.boil import BoilTable
    from eggfold.jobs.bowl.kitchen import Boil

CAUTIONS = (
    "Boiling water and hot baskets scald: long sleeves, no children.",
    "Gas ring: certified, outdoors or wide open, a carbon monoxide alarm beside it.",
    "Cut two or three baits open before you trust a time.",
)


def boil_page(table: BoilTable, *, why: bool = False) -> Page:
    """Return the table: seconds by size and target, or what a given time reaches."""
    own = table.rows[0].until is None
    kitchen = table.kitchen
    blocks: list[Block] = [
        *units_lines(),
        _reached(table) if own else _times(table),
        Facts(
            "PAN",
            (
                ("Water boils at", f"{kitchen.water_c:.1f} °C"),
                ("One load", f"{mass_text(table.load_g)} in {litres_text(kitchen.pan_l)}"),
                ("Between loads", f"wait for the boil, {table.wait_s:.0f} s or more"),
            ),
        ),
        Lines("TAKE CARE", CAUTIONS),
    ]
    if why:
        from eggfold.pages.boil_curve import time_curve  # noqa: PLC0415 - few ask for the sums
        from eggfold.pages.why.boil import boil_sums  # noqa: PLC0415

        blocks += time_curve(table)
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(boil_sums(table))))
    blocks += basis_blocks(table, why=why)
    core_mm = table.rows[0].core_mm
    title = (
        "Time in the pan" if core_mm is None else f"Time in the pan on {size_text(core_mm)} cork"
    )
    return Page(title, table.paste, tuple(blocks))


def _times(table: BoilTable) -> Table:
    names = list(dict.fromkeys(str(row.until) for row in table.rows))
    heads = (Column(f"{name} ({TARGETS[name].centre_c:g} °C)", "right") for name in names)
    customary = any(row.customary_s for row in table.rows)
    columns = [Column("Size"), *heads]
    if customary:
        columns.append(Column("customary"))
    rows = []
    for diameter, group in groupby(table.rows, key=lambda row: row.diameter_mm):
        boils = list(group)
        cells = [size_text(diameter), *(_seconds(b) for b in boils)]
        if customary:
            cells.append(_customary(boils))
        rows.append(tuple(cells))
    return Table("SECONDS  from the load going in", tuple(columns), tuple(rows))


def _customary(boils: list[Boil]) -> str:
    known = {str(b.until): seconds_text(b.customary_s) for b in boils if b.customary_s}
    if len(known) == len(boils) and len(set(known.values())) == 1:
        return next(iter(known.values()))
    return ", ".join(f"{until} {time}" for until, time in known.items()) or "–"


def _seconds(boil: Boil) -> str:
    return "not here" if boil.seconds is None else seconds_text(boil.seconds)


def _reached(table: BoilTable) -> Table:
    columns = (Column("Size"), Column("boil", "right"), Column("reaches", "right"))
    rows = tuple(
        (size_text(r.diameter_mm), _seconds(r), f"{r.centre_c:.1f} °C") for r in table.rows
    )
    point = "CENTRE" if table.rows[0].core_mm is None else "PASTE AT THE CORK"
    return Table(f"{point}  after your time", columns, rows)
