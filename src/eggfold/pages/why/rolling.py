"""How the figures of a clock sheet came about: who holds whom up, trays, freezer."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from eggfold.pages.why.shopping import buying_lines
from eggfold.pages.why.sums import added, got, put, without_sum
from eggfold.reference.session import LOOSE_PACKING, TRAY_AREA_FACTOR

if TYPE_CHECKING:
    from eggfold.jobs.plans.portions import Bowl
    from eggfold.jobs.rolling import Rolling

CARD = "the sums stand on its card: eggfold batch with --why"
CLOCK = (
    "each step begins as soon as bowl, table, pan, trays and hands are free, first in, first out; the "
    "order of the bowls is searched for"
)


def rolling_sums(rolling: Rolling) -> Iterator[str]:
    """Yield what each station has to do, then the room that each bowl takes."""
    yield without_sum("What goes into each bowl", "as a batch of its eggs", CARD)
    yield without_sum("Who does what when", "by the clock", CLOCK)
    if rolling.made:
        yield from _work_sums(rolling)
    for bowl in rolling.made:
        yield from room_sums(f"Bowl {bowl.number}", bowl)
    yield from buying_lines(rolling.shopping)


def _work_sums(rolling: Rolling) -> Iterator[str]:
    """Yield the work of each station, shared out; nothing ends before it is done."""
    session, (mix, _, table, pan, hands) = rolling.session, rolling.bounds
    stages, (bowls, _, tables, pans) = session.stages, session.shop.stations
    loads = [load for bowl in rolling.made for load in bowl.work.loads]
    kilos, seconds = sum(x.paste_g for x in loads) / 1000, sum(x.pan_s for x in loads)
    minutes = put(stages.mix_s / 60)
    yield (
        f"The mixing bowl = bowls × minutes each / mixing bowls = {len(rolling.made)} × {minutes} / "
        f"{bowls} = {got(mix.work_s / 60)} min of work"
    )
    yield (
        f"The table = paste in kg / kg an hour × 60 / tables = {put(kilos)} / {put(stages.pace_kg_h)} × "
        f"60 / {tables} = {got(table.work_s / 60)} min of work"
    )
    yield (
        f"The pan = all boils and waits in s / 60 / pans = {put(seconds)} / 60 / {pans} = "
        f"{got(pan.work_s / 60)} min of work"
    )
    yield (
        "The people = mixing + rolling + boiling / people = "
        f"({len(rolling.made)} × {minutes} + {put(kilos)} / {put(stages.pace_kg_h)} × 60 + "
        f"{put(seconds)} / 60) / {session.shop.hands} = {got(hands.work_s / 60)} min of work"
    )


def room_sums(head: str, bowl: Bowl) -> Iterator[str]:
    """Yield the tray and the room in the freezer that a bowl takes."""
    paste = bowl.batch.paste
    density = put(paste.density_g_ml)
    sizes = []
    for diameter_mm, group in groupby(
        sorted(bowl.baskets, key=lambda b: b.diameter_mm), key=lambda b: b.diameter_mm
    ):
        kilos = sum(b.paste_g for b in group) / 1000
        sizes.append(f"{put(kilos)} × 6 / ({density} × 3.14159 × {put(diameter_mm)})")
    yield (
        f"{head}: tray = Σ paste in kg × 6 / (density × 3.14159 × diameter) × room each takes = "
        f"({added(sizes)}) × {TRAY_AREA_FACTOR:g} = {got(bowl.area_m2)} m²"
    )
    yield (
        f"{head}: freezer = dried in kg / (density × packing) = {put(paste.finished_g / 1000)} / "
        f"({density} × {LOOSE_PACKING:g}) = {got(bowl.freezer_l)} l"
    )
