"""The comparison of trial mixes: in a table, as a strip, and in words."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.basis import companion_facts
from eggfold.pages.figures import (
    chance_text,
    more_rod_hours_text,
    number_text,
    p_value_text,
    rate_text,
    rod_hours_text,
)
from eggfold.pages.page import Block, Column, Lines, Page, Span, Strip, StripRow, Table
from eggfold.pages.sums import fine, got, put, without_sum
from eggfold.plural import counted
from eggfold.reference.trials import FEW_TAKES, JEFFREYS_SHAPE, POWER_Z, SIGNIFICANCE

if TYPE_CHECKING:
    from eggfold.recipe.trials import Against, TrialMix, Trials


RATE = "takes per 100 rod-hours"
STEPS = (1, 2, 5, 10)
"""A tick stands at every first, second or fifth of a power of ten."""
FEWEST_TICKS = 4


def trials_page(trials: Trials, *, why: bool = False) -> Page:
    """Return the page: the mixes by rate seen, their ranges, and what they do and do not show."""
    fished = trials.fished
    hours = math.fsum(mix.outings.rod_hours for mix in fished)
    blocks: list[Block] = [_mixes(trials)]
    if trials.against_best and trials.best.rate:
        blocks.append(_against(trials))
    blocks += [
        _ranges(fished),
        Lines("WHAT THIS SHOWS", tuple(_shown(trials))),
        Lines("WHAT IT DOES NOT SHOW", tuple(_not_shown(trials))),
    ]
    if why:
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(why_trials(trials))))
    blocks += companion_facts(trials.companions)
    return Page("Trial mixes", counted(rod_hours_text(hours), "rod-hour"), tuple(blocks))


def _mixes(trials: Trials) -> Table:
    columns = (
        Column("Mix"),
        Column("outings", "right"),
        Column("takes", "right"),
        Column("rod-hours", "right"),
        Column("takes per 100", "right"),
        Column("95 % range", "right"),
        Column("chance to be best", "right"),
    )
    fished = trials.fished
    never = (mix for mix in trials.mixes if mix.rate is None)
    alone = len(fished) == 1
    rows = tuple(_mix_row(mix, alone=alone) for mix in (*fished, *never))
    return Table("MIXES", columns, rows)


def _mix_row(mix: TrialMix, *, alone: bool) -> tuple[str, ...]:
    o = mix.outings
    name = o.recipe if mix.file else f"{o.recipe} (no recipe any more)"
    noted = (name, str(o.entries), str(o.takes), rod_hours_text(o.rod_hours))
    if mix.rate is None or mix.low is None or mix.high is None or mix.probability_best is None:
        return (*noted, "–", "–", "–")
    return (
        *noted,
        rate_text(mix.rate),
        f"{rate_text(mix.low)} to {rate_text(mix.high)}",
        "–" if alone else chance_text(mix.probability_best),
    )


def _against(trials: Trials) -> Table:
    columns = (
        Column("Mix"),
        Column("its rate over the best's", "right"),
        Column("p-value", "right"),
        Column("rod-hours more, on each", "right"),
    )
    rows = tuple(
        (
            a.mix.recipe,
            "–" if a.ratio is None else number_text(a.ratio, 2),
            p_value_text(a.p_value),
            _more(a.more_rod_hours),
        )
        for a in trials.against_best
    )
    return Table(f"AGAINST THE BEST SEEN  {trials.best.recipe}", columns, rows)


def _more(rod_hours: float | None) -> str:
    if rod_hours is None:
        return "rates are equal"
    return more_rod_hours_text(rod_hours) if rod_hours else "0"


def _ranges(fished: tuple[TrialMix, ...]) -> Strip:
    rows = tuple(
        StripRow(
            mix.recipe,
            (Span((mix.low or 0) * 100, (mix.high or 0) * 100, "", (mix.rate or 0) * 100),),
        )
        for mix in fished
    )
    highest = max(span.end for row in rows for span in row.spans)
    return Strip("RANGES  95 %, the rate seen marked in each", RATE, _ticks(highest), rows)


def _ticks(highest: float) -> tuple[tuple[float, str], ...]:
    """Return round ticks from 0 up to the first at or above the highest value."""
    power = 10.0 ** math.floor(math.log10(highest / FEWEST_TICKS))
    step = max(s * power for s in STEPS if s * power * FEWEST_TICKS <= highest * (1 + 1e-9))
    count = math.ceil(highest / step - 1e-9)
    return tuple((i * step, number_text(i * step)) for i in range(count + 1))


def _shown(trials: Trials) -> Iterator[str]:
    best, fished = trials.best, trials.fished
    takes = sum(mix.outings.takes for mix in fished)
    if not takes:
        yield (
            "No takes yet: nothing here tells these mixes apart. Any chance to be best comes from the "
            "hours alone; the mix fished least can still be anything."
        )
        return
    yield (
        f"{best.recipe} has the highest rate seen: {rate_text(best.rate or 0)} {RATE}, where "
        f"{rate_text(best.low or 0)} to {rate_text(best.high or 0)} would agree with its "
        f"{counted(best.outings.takes, 'take')}."
    )
    if len(fished) == 1:
        yield "No other mix has been fished: there is nothing to compare it with yet."
        return
    chance = chance_text(best.probability_best or 0)
    yield f"Were all else equal, the chance that it is the best of these {len(fished)} is {chance}."
    for against in trials.against_best:
        yield _told_apart(against)


def _told_apart(against: Against) -> str:
    name = against.mix.recipe
    if against.more_rod_hours is None:
        return f"{name} has the same rate so far."
    seasons = (
        "fewer than 1 of 1000"
        if against.p_value < 0.001
        else f"{number_text(against.p_value * 100, 2)} of 100"
    )
    text = (
        f"{name}: were it just as good, chance alone would share the takes out this unevenly in "
        f"{seasons} such seasons"
    )
    if against.p_value < SIGNIFICANCE:
        return f"{text}; this is more than chance often does."
    if not against.more_rod_hours:
        return f"{text}; not yet told apart, though by the rule for planning the hours would do."
    more = counted(more_rod_hours_text(against.more_rod_hours), "more rod-hour")
    return (
        f"{text}; not yet told apart. If the rates seen are the true ones, {more} on "
        "each would tell them apart four times in five."
    )


def _not_shown(trials: Trials) -> Iterator[str]:
    waters = [f"{m.recipe} {_water(m)}" for m in trials.fished if m.outings.water_c]
    noted = f" Water noted: {', '.join(waters)}." if waters else ""
    yield (
        "Water, season, weather, swim and rods may differ between these outings, and the figures "
        f"do not know it. The fair way is both mixes on the same days.{noted}"
    )
    yield "Takes come in spells; the figures take them one by one, so the true ranges are wider."
    if any(a.more_rod_hours and a.mix.outings.takes < FEW_TAKES for a in trials.against_best):
        yield f"With under {FEW_TAKES} takes on a mix, the rod-hours still to fish are a rough guide."
    if len(trials.fished) > 2:
        yield "The best of several is in part the luckiest: it looks better here than it is."
    if trials.left_out:
        named = (
            f"{o.recipe} ({counted(o.takes, 'take')} in "
            f"{counted(rod_hours_text(o.rod_hours), 'rod-hour')})"
            for o in trials.left_out
        )
        yield (
            "Noted, but left out, because not asked for or with errors in the recipe: "
            f"{', '.join(named)}."
        )
    yield "No figure here is a promise of fish."


def _water(mix: TrialMix) -> str:
    low, high = mix.outings.water_c or (0.0, 0.0)
    if low == high:
        return f"{number_text(low)} °C"
    return f"{number_text(low)} to {number_text(high)} °C"


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
