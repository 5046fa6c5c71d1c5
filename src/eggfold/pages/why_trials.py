"""How the figures of a comparison came about, checkable with a pocket calculator and two tables."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.figures import number_text
from eggfold.reference.trials import JEFFREYS_SHAPE, POWER_Z

if TYPE_CHECKING:
    from eggfold.jobs.trials import Against, TrialMix, Trials


def _n(value: float) -> str:
    return number_text(value, 6)


def why_trials(trials: Trials) -> Iterator[str]:
    """Yield a sum for each figure."""
    for mix in trials.fished:
        yield from _mix_lines(mix)
    for against in trials.against_best:
        yield from _against_lines(against, trials.best)


def _mix_lines(mix: TrialMix) -> Iterator[str]:
    o = mix.outings
    rate, low, high = mix.rate or 0.0, mix.low or 0.0, mix.high or 0.0
    t = o.rod_hours
    yield f"{o.recipe}: rate = takes / rod-hours = {o.takes} / {_n(t)} = {_n(rate)}"
    if o.takes:
        yield (
            f"{o.recipe}: low = chi-square at 2.5 %, {2 * o.takes} degrees / 2 / rod-hours = "
            f"{_n(2 * low * t)} / 2 / {_n(t)} = {_n(low)}"
        )
    yield (
        f"{o.recipe}: high = chi-square at 97.5 %, {2 * o.takes + 2} degrees / 2 / rod-hours = "
        f"{_n(2 * high * t)} / 2 / {_n(t)} = {_n(high)}"
    )
    yield (
        f"{o.recipe}: chance to be best = the probability that a gamma rate of shape {o.takes} + "
        f"{JEFFREYS_SHAPE:g} over {_n(t)} rod-hours lies above those of all others, by quadrature = "
        f"{_n(mix.probability_best or 0.0)}"
    )


def _against_lines(against: Against, best: TrialMix) -> Iterator[str]:
    mine, its = against.mix.outings, best.outings
    head = f"{mine.recipe} against {its.recipe}"
    n, t, all_t = mine.takes + its.takes, mine.rod_hours, mine.rod_hours + its.rod_hours
    yield f"{head}: share of the rod-hours = {_n(t)} / {_n(all_t)} = {_n(t / all_t)}"
    yield (
        f"{head}: p-value = all outcomes of a binomial count of {n} at {_n(t / all_t)} that are no "
        f"likelier than {mine.takes} = {_n(against.p_value)}"
    )
    if against.more_rod_hours is None:
        return
    h, t2 = against.more_rod_hours, its.rod_hours
    r1, r2 = against.mix.rate or 0.0, best.rate or 0.0
    d = ((r1**0.5 - r2**0.5) / POWER_Z) ** 2
    yield f"{head}: D = ((√{_n(r1)} − √{_n(r2)}) / {POWER_Z:g})² = {_n(d)}"
    if h:
        yield (
            f"{head}: rod-hours more on each = the h with 1 / (4 × ({_n(t)} + h)) + 1 / (4 × "
            f"({_n(t2)} + h)) = D = {_n(h)}"
        )
    else:
        yield (
            f"{head}: no rod-hours more, as D is not below 1 / (4 × {_n(t)}) + 1 / (4 × {_n(t2)}) = "
            f"{_n(1 / (4 * t) + 1 / (4 * t2))}"
        )
