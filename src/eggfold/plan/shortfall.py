"""Why a season cannot be made, and the smallest change of each limit that makes it fit."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from eggfold.amounts import counted
from eggfold.engine.season import Effort, Limits, RollDay, Stretch, fewest_days
from eggfold.errors import NoAnswerError

STEPS = 40
"""Halvings in the search for the smallest change: far finer than any figure shown."""
HOURS_SEARCHED = 24.0
"""How many times the hours of a day are tried at the most."""

Try = Callable[[float], tuple[Sequence[Stretch], Limits]]


def explain_shortfall(
    days: Sequence[RollDay],
    stretches: Sequence[Stretch],
    limits: Limits,
    dates: Sequence[str],
    names: Sequence[str],
) -> str:
    """Return the sentence that says what does not fit and what would make it fit."""
    early = _too_early(days, stretches)
    if early is not None:
        first = f"the first is {dates[0]}" if dates else "there is none"
        return (
            f"no rolling day is early enough for {names[early]}: {first}; is some made already, say so with "
            "eggfold note count; else add days to roll_on, begin with roll_from earlier, dry for less "
            "time, or leave the trip out with --skip"
        )
    effort = Effort()
    try:
        ways = _ways(days, stretches, limits, effort) or _both(days, stretches, limits, effort)
    except NoAnswerError as error:
        return f"not everything can be made in time; {error}"
    if not ways:
        return (
            "not everything can be made in time, and no one change of freezer, trays, hours or "
            "keeping is enough: add days to roll_on or begin with roll_from earlier"
        )
    return f"not everything can be made in time; what makes it fit: {', or '.join(ways)}"


def _too_early(days: Sequence[RollDay], stretches: Sequence[Stretch]) -> int | None:
    """Return the first stretch that no day's bait can reach."""
    first = min((d.bagged_s for d in days), default=math.inf)
    return next((i for i, s in enumerate(stretches) if s.leave_s < first), None)


def _ways(
    days: Sequence[RollDay], stretches: Sequence[Stretch], limits: Limits, effort: Effort
) -> list[str]:
    def litres(value: float) -> tuple[Sequence[Stretch], Limits]:
        return stretches, limits._replace(litres=value)

    def area(value: float) -> tuple[Sequence[Stretch], Limits]:
        return stretches, limits._replace(area_m2=value)

    def life(value: float) -> tuple[Sequence[Stretch], Limits]:
        return stretches, limits._replace(life_s=value)

    def hours(value: float) -> tuple[Sequence[Stretch], Limits]:
        return [s._replace(share=s.share / value) for s in stretches], limits

    total_l = sum(s.eggs * s.litres for s in stretches)
    total_m2 = sum(s.eggs * s.area_m2 for s in stretches)
    freezer = _least(days, litres, limits.litres, total_l, effort)
    trays = _least(days, area, limits.area_m2, total_m2, effort)
    longer = _least(days, hours, 1.0, HOURS_SEARCHED, effort)
    keeping = _least(days, life, limits.life_s, 730 * 86_400.0, effort)
    ways: list[str] = []
    if freezer is not None:
        ways.append(f"a freezer of {math.ceil(freezer)} l instead of {limits.litres:g} l")
    if trays is not None:
        more = math.ceil(trays * 100) / 100
        ways.append(f"trays of {more:g} m² instead of {limits.area_m2:.2f} m²")
    if longer is not None:
        more = math.ceil((longer - 1) * 100)
        ways.append(f"{more} % more rolled in a day (hours, people or tables)")
    if keeping is not None:
        ways.append(f"bait that keeps {counted(math.ceil(keeping / 86_400), 'day')} frozen")
    return ways


def _both(
    days: Sequence[RollDay], stretches: Sequence[Stretch], limits: Limits, effort: Effort
) -> list[str]:
    """Return the least freezer, and the least trays beside it, where only both together help."""
    total_l = sum(s.eggs * s.litres for s in stretches)
    total_m2 = sum(s.eggs * s.area_m2 for s in stretches)

    def litres(value: float) -> tuple[Sequence[Stretch], Limits]:
        return stretches, limits._replace(litres=value, area_m2=total_m2)

    if math.isinf(limits.area_m2):
        return []
    freezer = _least(days, litres, limits.litres, total_l, effort)
    if freezer is None:
        return []
    whole = float(math.ceil(freezer))

    def area(value: float) -> tuple[Sequence[Stretch], Limits]:
        return stretches, limits._replace(litres=whole, area_m2=value)

    trays = _least(days, area, limits.area_m2, total_m2, effort)
    if trays is None:
        return []
    more = math.ceil(trays * 100) / 100
    return [
        f"a freezer of {whole:g} l instead of {limits.litres:g} l together with "
        f"trays of {more:g} m² instead of {limits.area_m2:.2f} m²"
    ]


def _least(
    days: Sequence[RollDay], attempt: Try, have: float, most: float, effort: Effort
) -> float | None:
    """Return the least value of one limit with which all fits, None where it alone does not help."""
    if math.isinf(have) or most <= have or fewest_days(days, *attempt(most), effort=effort) is None:
        return None
    low, high = have, most
    for _ in range(STEPS):
        middle = (low + high) / 2
        if fewest_days(days, *attempt(middle), effort=effort) is None:
            low = middle
        else:
            high = middle
        if high - low < 1e-3 * high:
            break
    return high
