"""How the figures of a comparison came about, checkable with a pocket calculator and two tables."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.why.sums import fine, got, put, without_sum
from eggfold.plural import counted
from eggfold.reference.trials import JEFFREYS_SHAPE, POWER_Z

if TYPE_CHECKING:
    from eggfold.jobs.trials import Against, TrialMix, Trials


def why_trials(trials: Trials) -> Iterator[str]:
    """Yield a sum for each figure."""
    for mix in trials.fished:
        yield from _mix_lines(mix, alone=len(trials.fished) == 1)
    for against in trials.against_best:
        yield from _against_lines(against, trials.best)


def _mix_lines(mix: TrialMix, *, alone: bool) -> Iterator[str]:
    o = mix.outings
    rate, low, high = mix.rate or 0.0, mix.low or 0.0, mix.high or 0.0
    t = o.rod_hours
    yield f"{o.recipe}: rate = takes / rod-hours = {o.takes} / {put(t)} = {got(rate)}"
    if o.takes:
        yield (
            f"{o.recipe}: low = chi-square from a table, at 2.5 % and {2 * o.takes} degrees of freedom, "
            f"/ 2 / rod-hours = {put(2 * low * t)} / 2 / {put(t)} = {got(low)}"
        )
    yield (
        f"{o.recipe}: high = chi-square from a table, at 97.5 % and {2 * o.takes + 2} degrees of "
        f"freedom, / 2 / rod-hours = {put(2 * high * t)} / 2 / {put(t)} = {got(high)}"
    )
    if alone:
        return
    yield without_sum(
        f"{o.recipe}: chance to be best",
        got(mix.probability_best or 0.0),
        f"by quadrature: how likely a gamma rate of shape {o.takes} + {JEFFREYS_SHAPE:g} over "
        f"{counted(put(t), 'rod-hour')} lies above those of all others",
    )


def _against_lines(against: Against, best: TrialMix) -> Iterator[str]:
    mine, its = against.mix.outings, best.outings
    head = f"{mine.recipe} against {its.recipe}"
    n, t, all_t = mine.takes + its.takes, mine.rod_hours, mine.rod_hours + its.rod_hours
    r1, r2 = against.mix.rate or 0.0, best.rate or 0.0
    if against.ratio is not None:
        yield f"{head}: ratio = its rate / the best rate = {put(r1)} / {put(r2)} = {got(against.ratio)}"
    yield f"{head}: share of the rod-hours = {put(t)} / ({put(t)} + {put(its.rod_hours)}) = {got(t / all_t)}"
    yield without_sum(
        f"{head}: p-value",
        got(against.p_value),
        f"all outcomes of a binomial count of {n} at {got(t / all_t)} that are no likelier than "
        f"{mine.takes} are added up",
    )
    if against.more_rod_hours is None:
        return
    h, t2 = against.more_rod_hours, its.rod_hours
    d = ((r1**0.5 - r2**0.5) / POWER_Z) ** 2
    yield f"{head}: D = ((√{put(r2)} − √{put(r1)}) / {POWER_Z:g})^2 = {fine(d, 8)}"
    if h:
        yield (
            f"{head}: rod-hours more on each = the h, {put(h)}, for which 1 / (4 × "
            f"(rod-hours + h)) of both add up to D = 1 / (4 × ({put(t)} + {put(h)})) + 1 / (4 × "
            f"({put(t2)} + {put(h)})) = {fine(d, 8)}"
        )
    else:
        yield (
            f"{head}: no rod-hours more, as D is not below 1 / (4 × {put(t)}) + 1 / (4 × {put(t2)}) = "
            f"{got(1 / (4 * t) + 1 / (4 * t2))}"
        )
