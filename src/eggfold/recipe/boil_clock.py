"""One load after the other: when each goes into the pan and when it comes out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from eggfold.errors import NoAnswerError
from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from eggfold.load.load_recipe import Companion
    from eggfold.recipe.assumptions import Assumption
    from eggfold.recipe.batch import Batch
    from eggfold.recipe.boil import BoilTable


class Boiled(NamedTuple):
    """One kind of bait at the stove: its time in the pan and how many loads there are of it."""

    kind: str
    diameter_mm: float
    core_mm: float | None
    seconds: float
    loads: int
    load_g: float
    wait_s: float
    """Until the pan boils again after a load of it."""


class ClockLoad(NamedTuple):
    """One load: what it is, and when it goes in and comes out if no time is lost."""

    number: int
    bait: Boiled
    in_s: float
    out_s: float
    wait_s: float
    """Until the pan is back on the boil for the next load; 0 after the last."""


class PanClock(NamedTuple):
    """A session at one pan."""

    what: str
    loads: tuple[ClockLoad, ...]
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...] = ()

    @property
    def total_s(self) -> float:
        """From the first load going in to the last coming out."""
        return self.loads[-1].out_s


def build_clock(
    what: str,
    baits: Iterable[Boiled],
    assumptions: tuple[Assumption, ...] = (),
    companions: tuple[Companion, ...] = (),
) -> PanClock:
    """Return the loads of a session in order, with its bait's wait after each but the last.

    Raises NoAnswerError where there is nothing to boil.
    """
    queue = [bait for bait in baits for _ in range(bait.loads)]
    if not queue:
        raise NoAnswerError(
            "nothing of this batch goes into the pan: take more eggs, or bait that is boiled"
        )
    loads = []
    now_s = 0.0
    for number, bait in enumerate(queue, start=1):
        out_s = now_s + bait.seconds
        wait = bait.wait_s if number < len(queue) else 0.0
        loads.append(ClockLoad(number, bait, now_s, out_s, wait))
        now_s = out_s + wait
    return PanClock(what, tuple(loads), assumptions, companions)


def baits_of_table(table: BoilTable, loads: int) -> Iterator[Boiled]:
    """Yield each row of a boil table as so many full loads."""
    for row in table.rows:
        wait = table.wait_after(row)
        yield Boiled("bottom", row.diameter_mm, None, row.said_s, loads, table.load_g, wait)


def baits_of_batch(batch: Batch, loads: int | None = None) -> Iterator[Boiled]:
    """Yield each bait of a batch; an own number of loads beats the batch's."""
    for line in batch.baits:
        if not (line.count and line.boil):
            continue
        bait = line.kind, line.diameter_mm, line.core_mm
        yield Boiled(*bait, line.boil.said_s, loads or line.loads, line.load_g, line.wait_s)
