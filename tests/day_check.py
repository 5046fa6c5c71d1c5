"""What a plan of a day breaks, worked out from its steps alone."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from eggfold.engine.dispatch import DayRun, DaySetting, DayStep
from eggfold.engine.workplace import BowlWork, Hours

SLACK_S = 1e-3


def faults(bowls: Sequence[BowlWork], setting: DaySetting, run: DayRun) -> list[str]:
    """Return everything that nobody could do, or that the limits and the roles forbid."""
    if missing := list(_missing(bowls, run)):
        return missing
    return [
        *_people(setting, run),
        *_stations(setting, run),
        *_order(bowls, setting, run),
        *_pan(bowls, setting, run),
        *_trays(setting, run),
        *_told(setting, run),
    ]


def steps_of(run: DayRun, what: str) -> list[DayStep]:
    return [step for step in run.steps if step.what == what]


def _missing(bowls: Sequence[BowlWork], run: DayRun) -> Iterator[str]:
    """Yield what is not done once, or not for as long as it takes."""
    for what in ("mix", "rest"):
        if sorted(s.bowl for s in steps_of(run, what) if s.bowl is not None) != list(
            range(len(bowls))
        ):
            yield f"not every bowl has one {what}"
    for what in ("roll", "boil"):
        wanted = {
            (k, i): load.roll_s if what == "roll" else load.boil_s + load.wait_s
            for k, bowl in enumerate(bowls)
            for i, load in enumerate(bowl.loads)
            if what == "roll" or load.boil_s
        }
        found = [((s.bowl, s.load), s.end_s - s.start_s) for s in steps_of(run, what)]
        if sorted(place for place, _ in found) != sorted(wanted):
            yield f"not every load has one {what}"
        elif any(abs(wanted[place] - seconds) > SLACK_S for place, seconds in found):  # type: ignore[index]
            yield f"a {what} lasts as long as it should not"
    for step in steps_of(run, "mix"):
        if step.bowl is None or abs(step.end_s - step.start_s - bowls[step.bowl].mix_s) > SLACK_S:
            yield "a mixing lasts as long as it should not"


def is_in_break(hours: Hours, start_s: float, end_s: float) -> bool:
    """Tell whether a break falls between two times."""
    return any(begins < end_s and start_s < ends for begins, ends in hours.breaks)


def _overlap(a: DayStep, b: DayStep) -> bool:
    return a.start_s < b.end_s - SLACK_S and b.start_s < a.end_s - SLACK_S


def _people(setting: DaySetting, run: DayRun) -> Iterator[str]:
    """Yield who does two things at once, though not two pans of one bowl, or works in a break."""
    held = [step for step in run.steps if step.person is not None]
    if any(not 0 <= s.person < setting.workplace.people for s in held if s.person is not None):
        yield "somebody is not there"
    for a, b in combinations(held, 2):
        at_pans = a.what == b.what == "boil" and a.bowl == b.bowl and a.pan != b.pan
        if a.person == b.person and _overlap(a, b) and not at_pans:
            yield f"person {a.person} does {a.what} and {b.what} at once"
    for step in (*held, *steps_of(run, "clean")):
        if is_in_break(setting.hours, step.start_s + SLACK_S, step.end_s - SLACK_S):
            yield f"{step.what} in a break"
        if step.start_s < setting.hours.opens_s - SLACK_S:
            yield "work before the day begins"
    cleaned = steps_of(run, "clean")
    if held and [c.start_s >= max(s.end_s for s in held) - SLACK_S for c in cleaned] != [True]:
        yield "cleaned before all is done"


def _most_at_once(steps: Sequence[DayStep]) -> int:
    moments = [step.start_s for step in steps]
    return max(
        (
            sum(s.start_s <= at + SLACK_S and s.end_s > at + 2 * SLACK_S for s in steps)
            for at in moments
        ),
        default=0,
    )


def _stations(setting: DaySetting, run: DayRun) -> Iterator[str]:
    place = setting.workplace
    if _most_at_once(steps_of(run, "mix")) > place.mixing_bowls:
        yield "too few mixing bowls"
    if _most_at_once(steps_of(run, "roll")) > place.tables:
        yield "too few tables"
    for pan in range(place.pans):
        own = [s for s in run.steps if s.pan == pan]
        taken = [
            s._replace(end_s=s.start_s + place.water_s) if s.what == "water" else s for s in own
        ]
        if any(_overlap(a, b) for a, b in combinations(taken, 2)):
            yield "two things in one pan"
    if any(s.pan is None or s.pan >= place.pans for s in steps_of(run, "boil")):
        yield "a load in no pan"


def _order(bowls: Sequence[BowlWork], setting: DaySetting, run: DayRun) -> Iterator[str]:
    """Yield what overtakes, or begins before what it needs."""
    ready = {s.bowl: s.end_s for s in steps_of(run, "rest")}
    for rest in steps_of(run, "rest"):
        mixed = [s.end_s for s in steps_of(run, "mix") if s.bowl == rest.bowl]
        if not mixed or abs(rest.end_s - rest.start_s - setting.workplace.rest_s) > SLACK_S:
            yield "paste does not rest"
        elif abs(rest.start_s - mixed[0]) > SLACK_S:
            yield "paste rests before it is mixed"
    rolled = {(s.bowl, s.load): s.end_s for s in steps_of(run, "roll")}
    if any(s.start_s < ready.get(s.bowl, math.inf) - SLACK_S for s in steps_of(run, "roll")):
        yield "rolled before it has rested"
    for step in steps_of(run, "boil"):
        if step.start_s < rolled.get((step.bowl, step.load), math.inf) - SLACK_S:
            yield "boiled before it is rolled"
    order = [one.bowl for one in run.bowls]
    for what in ("mix", "roll", "boil"):
        steps = steps_of(run, what)
        if [order.index(s.bowl) for s in steps if s.bowl is not None] != sorted(
            order.index(s.bowl) for s in steps if s.bowl is not None
        ):
            yield f"a bowl overtakes at {what}"
    boiled = {(k, i) for k, b in enumerate(bowls) for i, load in enumerate(b.loads) if load.boil_s}
    at_tables = [(s.bowl, s.load) for s in steps_of(run, "roll") if (s.bowl, s.load) in boiled]
    if at_tables != [(s.bowl, s.load) for s in steps_of(run, "boil")]:
        yield "a load overtakes"


def _pan(bowls: Sequence[BowlWork], setting: DaySetting, run: DayRun) -> Iterator[str]:
    yield from _cut(bowls, setting, run)
    yield from _water(bowls, setting, run)
    if not setting.workplace.roles:
        return
    for one in run.bowls:
        own = [s for s in run.steps if s.bowl == one.bowl]
        at_pan = [s for s in own if s.what in {"boil", "cut", "water"}]
        if {s.person for s in at_pan} - {one.pan_person}:
            yield "the pan changes hands within a bowl"
        boils = [s for s in at_pan if s.what == "boil"]
        if not boils:
            continue
        start, end = boils[0].start_s, boils[-1].end_s
        alone = setting.workplace.people == 1
        for step in run.steps:
            inside = start + SLACK_S < step.start_s < end - SLACK_S
            if inside and step.what == "mix" and step.person == one.pan_person and not alone:
                yield "who has the pan mixes"
        if alone and max(s.end_s for s in own if s.what == "roll") > start + SLACK_S:
            yield "one person alone boils before the bowl is rolled"


def _cut(bowls: Sequence[BowlWork], setting: DaySetting, run: DayRun) -> Iterator[str]:
    """Yield where a size is boiled on before its first load was cut open."""
    if not setting.workplace.cut_s:
        return
    cut = {(s.bowl, s.load): s for s in steps_of(run, "cut")}
    until: dict[str, float] = {}
    for step in steps_of(run, "boil"):
        assert step.bowl is not None
        assert step.load is not None
        size = bowls[step.bowl].loads[step.load].size
        if size not in until:
            own = cut.pop((step.bowl, step.load), None)
            if own is None or abs(own.start_s - step.end_s) > SLACK_S:
                yield "the first load of a size is not cut open"
            until[size] = math.inf if own is None else own.end_s
        elif step.start_s < until[size] - SLACK_S:
            yield "a size is boiled on before it was cut open"
    if cut:
        yield "a size is cut open twice"


def _water(bowls: Sequence[BowlWork], setting: DaySetting, run: DayRun) -> Iterator[str]:
    grams = [0.0] * setting.workplace.pans
    for step in run.steps:
        if step.pan is None:
            continue
        if step.what == "water":
            grams[step.pan] = 0.0
        elif step.bowl is not None and step.load is not None:
            paste_g = bowls[step.bowl].loads[step.load].paste_g
            if (
                grams[step.pan]
                and grams[step.pan] + paste_g > setting.workplace.water_every_g + 1e-6
            ):
                yield "the pan water is not changed"
            grams[step.pan] += paste_g


def _trays(setting: DaySetting, run: DayRun) -> Iterator[str]:
    opens = setting.hours.opens_s
    lying = [(opens, t.until_s, t.area_m2) for t in setting.lying]
    laid = [*lying, *run.laid]
    for at, _, _ in laid:
        used = sum(a for s, e, a in laid if s <= at + SLACK_S and e > at + SLACK_S)
        if used > setting.workplace.area_m2 + 1e-6:
            yield "too few trays"


def _told(setting: DaySetting, run: DayRun) -> Iterator[str]:
    """Yield where the plan says of itself what its steps do not."""
    place = setting.workplace
    broken = set()
    for one in run.bowls:
        own = [s for s in run.steps if s.bowl == one.bowl]
        ready = next(s.end_s for s in own if s.what == "rest")
        rolled = {s.load: s.end_s for s in own if s.what == "roll"}
        stands_s = max(rolled.values(), default=ready) - ready
        raw_s = max((s.start_s - rolled[s.load] for s in own if s.what == "boil"), default=0.0)
        if abs(stands_s - one.stands_s) > SLACK_S or abs(raw_s - one.raw_s) > SLACK_S:
            yield "a wait is told wrong"
        broken |= {(one.bowl, "stand")} if stands_s > place.stand_s + 1.1 else set()
        broken |= {(one.bowl, "raw")} if raw_s > place.raw_s + 1.1 else set()
    if run.bowls and run.clean_s > setting.hours.closes_s + 1.1:
        broken.add((run.bowls[-1].bowl, "hours"))
    if broken != set(run.broken):
        yield "a broken limit is not told"
    work = [s.end_s for s in run.steps if s.what != "clean"]
    if work and abs(max(work) - run.end_s) > SLACK_S:
        yield "the end is told wrong"
    starts = [s.start_s for s in run.steps]
    if any(a > b for a, b in pairwise(starts)):
        yield "steps are not in order"
