"""Bowls of a plan: the table of all, and a sheet for each that differs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.display import shown_pair
from eggfold.pages.figures import eggs_text, graded_eggs_text, mass_text, measure_text, reading_text
from eggfold.pages.page import Column, Table

if TYPE_CHECKING:
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.plans.portions import Bowl


def bowls_table(bowls: tuple[Bowl, ...]) -> Table:
    """Return one line for each bowl, and their sum."""
    columns = (
        Column("Bowl", "right"),
        Column("what"),
        Column("eggs", "right"),
        Column("paste", "right"),
        Column("dried", "right"),
        Column("baits", "right"),
        Column("loads", "right"),
    )
    rows = [
        (
            f"{b.number}",
            f"{b.batch.recipe}, {b.batch.strength}",
            f"{b.batch.eggs}",
            mass_text(b.batch.paste.mass_g),
            mass_text(b.batch.paste.finished_g),
            f"{b.baits:,}",
            f"{len(b.baskets)}",
        )
        for b in bowls
    ]
    total = (
        "",
        "all bowls",
        f"{sum(b.batch.eggs for b in bowls)}",
        mass_text(sum(b.batch.paste.mass_g for b in bowls)),
        mass_text(sum(b.batch.paste.finished_g for b in bowls)),
        f"{sum(b.baits for b in bowls):,}",
        f"{sum(len(b.baskets) for b in bowls)}",
    )
    return Table("BOWLS", columns, (*rows, total))


def bowl_sheets(bowls: tuple[Bowl, ...]) -> list[Table]:
    """Return what goes into each bowl; equal bowls share a sheet."""
    groups: dict[tuple[int, int], list[Bowl]] = {}
    for bowl in bowls:
        groups.setdefault((bowl.want, bowl.batch.eggs), []).append(bowl)
    return [_sheet(group) for group in groups.values()]


def _sheet(bowls: list[Bowl]) -> Table:
    batch = bowls[0].batch
    numbers = ", ".join(f"{b.number}" for b in bowls)
    which = f"BOWL {numbers}" if len(bowls) == 1 else f"EACH OF BOWLS {numbers}"
    heading = f"{which}  {batch.recipe}, {batch.strength.upper()}, {eggs_text(batch.eggs)}"
    columns = (Column("In the bowl"), Column("amount", "right"), Column("measure with"))
    return Table(heading, columns, tuple(_lines(batch)))


def _lines(batch: Batch) -> list[tuple[str, str, str]]:
    powder = batch.powder
    doses = [
        (
            line.additive.name,
            measure_text(line.amount, by_volume=line.by_volume),
            reading_text(line.reading),
        )
        for line in batch.doses
    ]
    ready = f"{mass_text(powder.base_mix_low_g)} at once, have {mass_text(powder.base_mix_high_g)}"
    return [
        (graded_eggs_text(batch.eggs, batch.egg.label), mass_text(batch.shelled_g), "shelled"),
        *doses,
        (powder.base_mix, mass_text(powder.base_mix_g), ready),
        ("powder used", f"______ {shown_pair('mass').small}", ""),
    ]
