"""The comparison of trial mixes: in a table, as a strip, and in words."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.nearest import fold
from eggfold.pages.figures import (
    added,
    chance_text,
    evidence_text,
    fine,
    got,
    more_rod_hours_text,
    number_text,
    put,
    rate_text,
    rod_hours_text,
    temperature_text,
    without_sum,
)
from eggfold.pages.page import (
    NONE,
    Block,
    Column,
    Lines,
    Page,
    Span,
    Strip,
    StripRow,
    Table,
    companion_facts,
)
from eggfold.reference.learning import (
    LEAST_EXPECTED,
    MOST_MORE_ROD_HOURS,
    POWER_Z,
    PRIOR_DISPERSION,
    PRIOR_OUTINGS,
    PRIOR_TAKES,
    RATIO_SD,
    TOLD_APART,
)

if TYPE_CHECKING:
    from eggfold.engine.trials import RatedMix
    from eggfold.load.notebook import Fished
    from eggfold.recipe.trials import Against, TrialMix, Trials


RATE = "takes per 100 rod-hours"
STEPS = (1, 2, 5, 10)
"""A tick stands at every first, second or fifth of a power of ten."""
FEWEST_TICKS = 4
MOST_TERMS = 12
"""Outings of a mix whose spread is shown term by term; house limit."""


def trials_page(trials: Trials, *, why: bool = False, full: bool = False) -> Page:
    """Return the page: the mixes by rate seen, their ranges, and what they do and do not show."""
    fished = trials.fished
    hours = math.fsum(mix.outings.rod_hours for mix in fished)
    blocks: list[Block] = [_mixes(trials)]
    if trials.against_best and trials.best.outings.takes:
        blocks.append(_against(trials))
    blocks += [
        _ranges(fished),
        Lines("WHAT THIS SHOWS", tuple(_shown(trials))),
        Lines("WHAT IT DOES NOT SHOW", tuple(_not_shown(trials))),
    ]
    if full:
        blocks.append(_sessions(trials.sessions))
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
    never = (mix for mix in trials.mixes if mix.rated is None)
    alone = len(fished) == 1
    rows = tuple(_mix_row(mix, alone=alone) for mix in (*fished, *never))
    return Table("MIXES", columns, rows)


def _mix_row(mix: TrialMix, *, alone: bool) -> tuple[str, ...]:
    o, rated = mix.outings, mix.rated
    name = o.recipe if mix.file else f"{o.recipe} (no recipe any more)"
    noted = (name, str(o.entries), str(o.takes), rod_hours_text(o.rod_hours))
    if rated is None:
        return (*noted, NONE, NONE, NONE)
    return (
        *noted,
        rate_text(rated.rate),
        f"{rate_text(rated.low)} to {rate_text(rated.high)}",
        NONE if alone else chance_text(rated.probability_best),
    )


def _against(trials: Trials) -> Table:
    columns = (
        Column("Mix"),
        Column("rate, where the best is 1", "right"),
        Column("allowing for luck", "right"),
        Column("evidence", "right"),
        Column("days together", "right"),
        Column("more rod-hours, on each", "right"),
    )
    rows = tuple(_against_row(against) for against in trials.against_best)
    return Table(f"AGAINST THE BEST SEEN  {trials.best.recipe}", columns, rows)


def _against_row(against: Against) -> tuple[str, ...]:
    found = against.found
    return (
        against.mix.recipe,
        NONE if found.ratio is None else number_text(found.ratio, 2),
        number_text(found.ratio_shrunk, 2),
        evidence_text(found.evidence),
        str(found.days_together),
        _more(found.more_rod_hours),
    )


def _more(rod_hours: float | None) -> str:
    if rod_hours is None:
        return "rates are equal"
    if rod_hours > MOST_MORE_ROD_HOURS:
        return f"over {MOST_MORE_ROD_HOURS:g}"
    return more_rod_hours_text(rod_hours) if rod_hours else "0"


def _ranges(fished: tuple[TrialMix, ...]) -> Strip:
    rows = tuple(
        StripRow(mix.recipe, (Span(r.low * 100, r.high * 100, "", r.rate * 100),))
        for mix in fished
        if (r := mix.rated)
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
    if not takes or best.rated is None:
        yield (
            "No takes yet: nothing here tells these mixes apart. Any chance to be best comes from the "
            "hours alone; the mix fished least can still be anything."
        )
        return
    yield (
        f"{best.recipe} has the highest rate seen: {rate_text(best.rated.rate)} {RATE}, where "
        f"{rate_text(best.rated.low)} to {rate_text(best.rated.high)} would agree with its "
        f"{counted(best.outings.takes, 'take')}."
    )
    yield _spells(trials.dispersion, is_seen=len(trials.sessions) > len(fished))
    if len(fished) == 1:
        yield "No other mix has been fished: there is nothing to compare it with yet."
        return
    chance = chance_text(best.rated.probability_best)
    yield f"All else being equal, the chance that it is the best of these {len(fished)} is {chance}."
    for against in trials.against_best:
        yield _told(against, best.recipe)


def _spells(dispersion: float, *, is_seen: bool) -> str:
    times = number_text(dispersion, 2)
    if not is_seen:
        return (
            f"Takes come in spells: until a mix was fished twice, the ranges allow for {times} times as much "
            "spread as pure chance gives."
        )
    if times == "1":
        return "From outing to outing takes vary no more than by pure chance."
    return (
        f"Takes come in spells: from outing to outing they vary {times} times as much as by pure chance, "
        "and the ranges allow for it."
    )


def _told(against: Against, best: str) -> str:
    name, found = against.mix.recipe, against.found
    if against.told_apart:
        return (
            f"{name}: told apart. Were it just as good, no more than 1 season of "
            f"{TOLD_APART:g} would ever show evidence of {TOLD_APART:g}, however often you look; here "
            f"it is {evidence_text(found.evidence)}."
        )
    evidence = f"evidence {evidence_text(found.evidence)}, where {TOLD_APART:g} tells two apart"
    text = (
        f"{name}: leaning towards {best}; {evidence}."
        if against.leaning
        else f"{name}: not told apart; {evidence}."
    )
    more = found.more_rod_hours
    if not more or more > MOST_MORE_ROD_HOURS:
        return text
    hours = counted(more_rod_hours_text(more), "more rod-hour")
    return f"{text} If the rates seen are the true ones, about {hours} on each would show it."


def _not_shown(trials: Trials) -> Iterator[str]:
    waters = [f"{m.recipe} {_water(m)}" for m in trials.fished if m.outings.water_c]
    noted = f" Water noted: {', '.join(waters)}." if waters else ""
    yield (
        "Water, season, weather, swim and rods may differ between these outings, and the figures "
        f"do not know it.{noted}"
    )
    if len(trials.fished) > 1:
        yield (
            "Fished on the same days, what makes a day good or bad cancels out, and the answer usually "
            "comes sooner. Swap the rods round."
        )
    if len(trials.fished) > 2:
        yield (
            "The best of several is in part the luckiest: chance, evidence and the rate with luck taken "
            "off allow for it; the rate seen does not."
        )
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


def _sessions(sessions: tuple[Fished, ...]) -> Table:
    """Return every outing by day, with what was written beside it."""
    columns = (
        Column("Day"),
        Column("mix"),
        Column("rods", "right"),
        Column("hours", "right"),
        Column("takes", "right"),
        Column("water", "right"),
        Column("swim, remark"),
    )
    rows = tuple(
        (
            str(one.date),
            one.recipe,
            str(one.rods),
            number_text(one.hours, 4),
            str(one.takes),
            NONE if one.water_c is None else temperature_text(one.water_c),
            "; ".join(filter(None, (one.swim, one.remark))),
        )
        for one in sorted(sessions, key=lambda one: one.date)
    )
    return Table("OUTINGS", columns, rows)


def why_trials(trials: Trials) -> Iterator[str]:
    """Yield a sum for each figure."""
    phi, fished = trials.dispersion, trials.fished
    yield from _dispersion_lines(trials)
    takes = sum(mix.outings.takes for mix in fished)
    hours = math.fsum(mix.outings.rod_hours for mix in fished)
    common = (takes + 0.5) / hours
    if len(fished) > 1:
        yield (
            f"All mixes together: rate = (takes + 1/2) / rod-hours = ({takes} + 0.5) / {put(hours)} = "
            f"{got(common)}"
        )
    for mix in fished:
        if mix.rated:
            yield from _mix_lines(mix, mix.rated, phi, None if len(fished) == 1 else common)
    for against in trials.against_best:
        yield from _against_lines(against, trials.best, phi)


def _dispersion_lines(trials: Trials) -> Iterator[str]:
    """Yield how much takes vary: each mix's own spread, and what all and the prior make of it."""
    spreads = []
    for mix in trials.fished:
        key, o = fold(mix.recipe), mix.outings
        of_mix = [s for s in trials.sessions if fold(s.recipe) == key]
        rate = (o.takes + 0.5) / o.rod_hours
        yield (
            f"{mix.recipe}: rate with half a take more = ({o.takes} + 0.5) / {put(o.rod_hours)} = "
            f"{got(rate)}"
        )
        spreads.append(_spread(of_mix, rate))
        head = (
            f"{mix.recipe}: spread = Σ (takes − rate × rod-hours)² / expected takes, at least 1/2"
        )
        if len(of_mix) > MOST_TERMS:
            yield without_sum(
                head.replace(" =", " of its outings,"),
                fine(spreads[-1], 5),
                "added up over all of them",
            )
        else:
            terms = added(_spread_term(s, rate) for s in of_mix)
            yield f"{head} = {terms} = {fine(spreads[-1], 5)}"
    mixes, outings = len(spreads), len(trials.sessions)
    spread = added(fine(one, 7) for one in spreads)
    raw = (PRIOR_DISPERSION * PRIOR_OUTINGS + math.fsum(spreads)) / (
        PRIOR_OUTINGS + outings - mixes
    )
    least = "; never under 1" if raw < 1 else ""
    yield (
        f"Dispersion φ = ({PRIOR_OUTINGS:g} × {PRIOR_DISPERSION:g} + spreads) / ({PRIOR_OUTINGS:g} + "
        f"outings − mixes) = ({PRIOR_OUTINGS:g} × {PRIOR_DISPERSION:g} + {spread}) / "
        f"({PRIOR_OUTINGS:g} + {outings} − {mixes}) = {got(raw)}{least}"
    )


def _spread(sessions: list[Fished], rate: float) -> float:
    return math.fsum(
        (s.takes - rate * s.rod_hours) ** 2 / max(rate * s.rod_hours, LEAST_EXPECTED)
        for s in sessions
    )


def _spread_term(session: Fished, rate: float) -> str:
    expected = f"{put(rate)} × {put(session.rod_hours)}"
    over = expected if rate * session.rod_hours > LEAST_EXPECTED else f"{LEAST_EXPECTED:g}"
    return f"({session.takes} − {expected})^2 / ({over})"


def _mix_lines(mix: TrialMix, rated: RatedMix, phi: float, common: float | None) -> Iterator[str]:
    o, t, shrunk = mix.outings, mix.outings.rod_hours, rated.shrunk
    yield f"{o.recipe}: rate = takes / rod-hours = {o.takes} / {put(t)} = {got(rated.rate)}"
    table = "dispersion × chi-square from a table, at"
    if o.takes:
        yield (
            f"{o.recipe}: low = {table} 2.5 % and 2 × takes / φ, {put(2 * o.takes / phi)}, degrees of "
            f"freedom, / 2 / rod-hours = {put(phi)} × {put(2 * rated.low * t / phi)} / 2 / {put(t)} = "
            f"{got(rated.low)}"
        )
    yield (
        f"{o.recipe}: high = {table} 97.5 % and 2 more, {put(2 * o.takes / phi + 2)}, degrees of freedom, "
        f"/ 2 / rod-hours = {put(phi)} × {put(2 * rated.high * t / phi)} / 2 / {put(t)} = {got(rated.high)}"
    )
    if common is None:
        return
    yield (
        f"{o.recipe}: rate allowing for luck = ({PRIOR_TAKES:g} + takes / φ) / ({PRIOR_TAKES:g} / rate of "
        f"all + rod-hours / φ) = ({PRIOR_TAKES:g} + {o.takes} / {put(phi)}) / ({PRIOR_TAKES:g} / "
        f"{put(common)} + {put(t)} / {put(phi)}) = {got(shrunk.mean)}"
    )
    yield without_sum(
        f"{o.recipe}: chance to be best",
        got(rated.probability_best),
        f"by quadrature: how likely a gamma rate of shape {put(shrunk.shape)} over "
        f"{counted(put(shrunk.exposure_h), 'rod-hour')} lies above those of all others",
    )


def _against_lines(against: Against, best: TrialMix, phi: float) -> Iterator[str]:
    found, mine, its = against.found, against.mix.rated, best.rated
    if mine is None or its is None:
        return
    head = f"{against.mix.recipe} against {best.recipe}"
    r1, r2, t, t2 = mine.rate, its.rate, mine.catch.rod_hours, its.catch.rod_hours
    if found.ratio is not None:
        yield f"{head}: ratio = its rate / the best rate = {put(r1)} / {put(r2)} = {got(found.ratio)}"
    yield (
        f"{head}: ratio allowing for luck = {put(mine.shrunk.mean)} / {put(its.shrunk.mean)} = "
        f"{got(found.ratio_shrunk)}"
    )
    yield without_sum(
        f"{head}: evidence",
        got(found.evidence),
        "for ratios of the rates up to 8 either way, the likelier the nearer 1 (1 sd of the logarithm "
        f"{RATIO_SD:g}), how much likelier each makes the takes of the days together and of the others "
        "than equal rates do, to the power 1 / φ, on average, over the number of other mixes",
    )
    if found.more_rod_hours is None:
        return
    h, d = found.more_rod_hours, ((r1**0.5 - r2**0.5) / POWER_Z) ** 2 / phi
    yield f"{head}: D = ((√{put(r2)} − √{put(r1)}) / {POWER_Z:g})^2 / {put(phi)} = {fine(d, 8)}"
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
