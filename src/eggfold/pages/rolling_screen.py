"""The first screen of a weekend: when it ends, what to decide and to do first, and each bowl to tick."""

from __future__ import annotations

from datetime import timedelta
from itertools import groupby
from shlex import quote
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.pages.figures import (
    Units,
    bait_text,
    day_text,
    duration_text,
    eggs_text,
    full_day_text,
    moment_text,
    quarter_before,
    seconds_text,
    size_text,
    time_text,
    weekday_text,
)
from eggfold.pages.page import TICK, Block, Column, Facts, Table
from eggfold.pages.shopping import thing_name
from eggfold.plan.remedies import START
from eggfold.recipe.batch import tally
from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from datetime import datetime

    from eggfold.plan.plan_bowls import Basket, PlanBowl
    from eggfold.plan.rolling import BowlDay, Check, Rolling, Step
    from eggfold.plan.session import Finish
    from eggfold.recipe.batch import Batch
    from eggfold.stock.shopping import ShoppingItem

STATIONS = {"mix": "The mixing bowl", "roll": "The table", "boil": "The pan"}
MOST_NAMED = 2
"""Things beside eggs that are named before the list."""
WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
OF_THE_TRAYS = {
    "turn": "turn the trays",
    "soak": "off the trays, into the soak until {}",
    "bag": "bag and freeze",
}
"""What is done once baits lie on the trays."""
LATE = "25min"
"""A delay as an example."""


class ShownDay(NamedTuple):
    """One day on which something is made: its bowls in order, with their times, and its steps."""

    bowls: tuple[PlanBowl, ...]
    times: tuple[BowlDay, ...]
    steps: tuple[Step, ...]
    finish: Finish
    check: Check | None
    breaks: tuple[tuple[datetime, datetime], ...]

    @property
    def start(self) -> datetime:
        """When the day begins."""
        return self.steps[0].start

    def first(self, what: str) -> Step | None:
        """Return the first step of a kind."""
        return next((step for step in self.steps if step.what == what), None)


def days_shown(rolling: Rolling) -> tuple[ShownDay, ...]:
    """Return the days on which something is made."""
    times, moment = rolling.times, rolling.session.clock.moment
    found = []
    for day, finish, check in zip(rolling.days, rolling.finish, rolling.checks, strict=True):
        if day.run is None or finish is None:
            continue
        bowls = rolling.made_on(day)
        numbers = {bowl.number for bowl in bowls}
        steps = tuple(
            step
            for step in rolling.steps
            if step.what not in OF_THE_TRAYS
            and (numbers & {*step.bowls} or (step.what == "clean" and step.end == finish.expected))
        )
        breaks = tuple(
            (moment(start), moment(end))
            for hours in rolling.session.hours
            for start, end in hours.breaks
            if steps[0].start <= moment(start) < finish.expected
        )
        own = tuple(times[bowl.number] for bowl in bowls)
        found.append(ShownDay(bowls, own, steps, finish, check, breaks))
    return tuple(found)


def dates_text(rolling: Rolling) -> str:
    """Return the days on which something is made, the start of the plan where nothing is."""
    days = [shown.start for shown in days_shown(rolling)] or [rolling.session.clock.zero]
    first, last = days[0], days[-1]
    if len(days) == 1:
        return full_day_text(first)
    same = (first.year, first.month) == (last.year, last.month)
    begin = f"{weekday_text(first)} {first.day}" if same else day_text(first)
    return f"{begin} {'and' if len(days) == 2 else 'to'} {full_day_text(last)}"


def screen_blocks(rolling: Rolling, units: Units, *, full: bool) -> Iterator[Block]:
    """Yield what stands on the first screen; headings only where there is more than that."""
    days = days_shown(rolling)
    yield Facts("FIRST OF ALL" if full else "", tuple(_decisions(rolling, days, units)))
    for shown in days:
        yield _day_table(rolling, shown, units)
    yield Facts("FOR ALL OF IT" if full else "", tuple(_afterwards(rolling, units, full=full)))


def _decisions(
    rolling: Rolling, days: tuple[ShownDay, ...], units: Units
) -> Iterator[tuple[str, str]]:
    """Yield when each day ends, what to decide during it, what to do first, and who does what."""
    if rolling.rescue.done:
        yield "DONE", counted(rolling.rescue.done, "bowl")
    if rolling.rescue.late_s:
        how = (
            "same bowls, same order, breaks stay"
            if rolling.shifted
            else "the rest is planned again"
        )
        yield "LATE", f"{duration_text(rolling.rescue.late_s)} behind the plan: {how}"
    if not days:
        fits = not (rolling.left_out or rolling.eggs_short)
        yield "LEFT", "nothing to roll" if fits else "all of it: nothing fits"
        return
    ends = "   ".join(_on(shown.finish.expected, days) for shown in days)
    yield "DONE BY", f"{ends}   cleaning included, at your usual pace"
    yield from _listed(
        "CHECK", (_check_text(shown, shown.check, days) for shown in days if shown.check)
    )
    yield from _listed("FIRST", _first(rolling, days, units))
    if len(rolling.people) > 1:
        said = [_who(rolling, shown) for shown in days]
        if len({*said}) > 1:
            days_of = (weekday_text(shown.start) for shown in days)
            said = [f"{day}   {text}" for day, text in zip(days_of, said, strict=True)]
        yield from _listed("WHO", dict.fromkeys(said))


def _listed(label: str, texts: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield texts one below the other, the first beside the label."""
    for i, text in enumerate(texts):
        yield ("" if i else label), text


def _on(moment: datetime, days: tuple[ShownDay, ...]) -> str:
    """Return a time, with its day where the plan has several."""
    return f"{weekday_text(moment)} {time_text(moment)}" if len(days) > 1 else time_text(moment)


def _check_text(shown: ShownDay, check: Check, days: tuple[ShownDay, ...]) -> str:
    """Return by when to begin a bowl or leave it, a little sooner so that it falls on a quarter."""
    after = next((other for other in days if other.start > shown.start), None)
    other = weekday_text(after.start) if after else "another day"
    at = _on(quarter_before(check.at), days)
    return f"{at}   bowl {check.bowl} not begun yet? Leave it for {other}."


def _first(rolling: Rolling, days: tuple[ShownDay, ...], units: Units) -> Iterator[str]:
    first, begins = days[0], rolling.rescue == START
    if begins and (bought := short_text(rolling.shopping, units)):
        eve = weekday_text(first.start - timedelta(days=1))
        yield f"Buy {bought}. Weigh out the tubs on {eve}."
        yield f"In whole packs: eggfold shopping {quote(rolling.file)}"
    mix, boil = first.first("mix"), first.first("boil")
    texts = []
    if mix:
        texts.append((mix.start, f"{_does(rolling, mix, 'mix', 'mixes')} bowl {mix.bowls[0]}"))
    if begins and boil:
        on = quarter_before(boil.start - timedelta(seconds=rolling.session.place.water_s))
        texts.append((max(on, first.start), f"{_does(rolling, boil, 'put', 'puts')} the water on"))
    said = "; ".join(f"{time_text(at)} {text}" for at, text in sorted(texts))
    yield f"{weekday_text(first.start)} {said}" if len(days) > 1 else said


def _does(rolling: Rolling, step: Step, you: str, other: str) -> str:
    """Return who does a thing; one person alone is told to."""
    if step.who is None or len(rolling.people) == 1:
        return you
    return f"{rolling.people[step.who]} {other}"


def worth_text(batches: Sequence[Batch], units: Units) -> str:
    """Return some batches as kilos, baits and eggs' worth together."""
    finished = units.mass(sum(batch.paste.finished_g for batch in batches))
    eggs = eggs_text(sum(batch.eggs for batch in batches))
    made = tally(batches)
    baits = f"{made.expected:,} bait{'' if made.expected == 1 else 's'}"
    if made.low != made.high:
        baits = f"about {baits} ({tally_text(batches)})"
    return ", ".join((finished, *([baits] if made.high else []), eggs))


def tally_text(batches: Sequence[Batch]) -> str:
    """Return from how few to how many baits some batches make."""
    made = tally(batches)
    return f"{made.low:,} to {made.high:,}" if made.low != made.high else f"{made.expected:,}"


def short_text(items: Iterable[ShoppingItem], units: Units) -> str:
    """Return the eggs and the heaviest things that are short, and how many more are."""
    short = [item for item in items if item.need > (item.in_hand or 0.0)]
    eggs = [
        f"{(buy := item.need - (item.in_hand or 0)):g} {thing_name(item, buy)}"
        for item in short
        if item.unit == "piece"
    ]
    others = [item for item in short if item.unit != "piece"]
    others.sort(key=lambda item: item.need - (item.in_hand or 0.0), reverse=True)
    named = [
        f"{units.amount(item.need - (item.in_hand or 0.0), item.unit)} {item.name}"
        for item in others[:MOST_NAMED]
    ]
    if len(others) > MOST_NAMED:
        named.append(counted(len(others) - MOST_NAMED, "more thing"))
    return ", ".join([*eggs, *named])


def _who(rolling: Rolling, shown: ShownDay) -> str:
    """Return who has the pan for which bowls, and who mixes."""
    people = rolling.people
    spans = [
        (person, [bowl.number for bowl, _ in group])
        for person, group in groupby(
            zip(shown.bowls, shown.times, strict=True), key=lambda pair: pair[1].pan_person
        )
        if person is not None
    ]
    at_pan = {person for person, _ in spans}
    mixers = {step.who for step in shown.steps if step.what == "mix" and step.who is not None}
    if len(at_pan) == 1:
        [person] = at_pan
        has = f"{people[person]} has the pan and rolls between loads"
        others = [people[i] for i in range(len(people)) if i != person]
        alone = mixers <= {*range(len(people))} - at_pan
        does = "mix and roll" if len(others) > 1 else "mixes and rolls"
        rest = _joined(others) if len(others) <= 3 else "the others"
        return f"{has}; {rest} {does}{'' if alone else ', and whoever is free mixes'}"
    turns = ", ".join(f"{people[person]} {list_of_bowls(tuple(own))}" for person, own in spans)
    if not turns:
        return "nothing is boiled: whoever is free mixes and rolls"
    return f"pan: {turns}; whoever is without the pan mixes and rolls"


def _joined(names: list[str]) -> str:
    return " and ".join([*([", ".join(names[:-1])] if names[1:] else []), names[-1]])


def list_of_bowls(numbers: tuple[int, ...]) -> str:
    """Return bowls by their numbers."""
    if len(numbers) == 1:
        return f"bowl {numbers[0]}"
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"bowls {numbers[0]} to {numbers[-1]}"
    return f"bowls {_joined([*map(str, numbers)])}"


def _day_table(rolling: Rolling, shown: ShownDay, units: Units) -> Table:
    """Return a day's bowls, one line each to tick, with its breaks and its pan water."""
    rows = [
        (times.mix_start, (f"{bowl.number}", TICK, *_bowl_times(times), _bowl_text(bowl, units)))
        for bowl, times in zip(shown.bowls, shown.times, strict=True)
    ]
    for start, end in shown.breaks:
        rows.append(
            (start, ("", "", "", f"{time_text(start)}-{time_text(end)}", _break(shown, start)))
        )
    for step in shown.steps:
        if step.what == "water":
            who = "" if step.who is None or len(rolling.people) == 1 else rolling.people[step.who]
            text = f"new pan water: {who}" if who else "new pan water"
            rows.append((step.start, ("", "", "", time_text(step.start), text)))
    clean = f"{time_text(shown.steps[-1].start)}-{time_text(shown.finish.expected)}"
    rows.sort(key=lambda row: row[0])
    cells = [row for _, row in rows]
    cells.append(("", "", "", clean, "clean bowl, gun, table, pan and floor"))
    columns = (
        Column("No", "right"),
        Column(""),
        Column("mix"),
        Column("roll"),
        Column("what"),
    )
    return Table(full_day_text(shown.start).upper(), columns, tuple(cells))


def _bowl_times(times: BowlDay) -> tuple[str, str]:
    rolled = f"{time_text(times.roll_start)}-{time_text(times.roll_end)}"
    return time_text(times.mix_start), rolled


def _bowl_text(bowl: PlanBowl, units: Units) -> str:
    batch = bowl.batch
    return f"{batch.recipe}, {batch.strength}, {eggs_text(batch.eggs)}, {units.mass(batch.paste.mass_g)}"


def _break(shown: ShownDay, start: datetime) -> str:
    """Return what waits through a break, and that nobody leaves a flame."""
    waits = [
        bowl.number
        for bowl, times in zip(shown.bowls, shown.times, strict=True)
        if times.mix_start < start < times.roll_end
    ]
    if not waits:
        return "break, burner off"
    return f"break, burner off; paste of {list_of_bowls(tuple(waits))} covered"


def _afterwards(rolling: Rolling, units: Units, *, full: bool) -> Iterator[tuple[str, str]]:
    """Yield what holds for every load, what holds the day up, what fits, and where more stands."""
    if rolling.made:
        yield "EACH LOAD", _each_load(rolling)
        yield "SLOWEST", _slowest(rolling)
    yield "FITS", f"{'Everything' if rolling.fits else 'See the top'}. {_trays(rolling, units)}."
    yield "", f"Freezer {_freezer(rolling, units)}."
    if rolling.made:
        yield "DRYING", _drying(rolling)
    if full:
        return
    yield "CARE", CARE
    if rolling.made:
        yield "LATE?", f"eggfold rolling {quote(rolling.file)} --late {LATE}"
    yield "MORE", "Loads, trays, bowl cards, buying, safety: --full, or on paper."


CARE = (
    "Boiling water, hot baskets, gas, raw egg, dust, allergens: the usual care (--full). Cover "
    "paste and raw baits that stand."
)


def _each_load(rolling: Rolling) -> str:
    """Return how long each size boils; sizes of one time and one mix stand together."""
    times: dict[tuple[str, str, float], dict[str, None]] = {}
    for bowl in rolling.made:
        batch = bowl.batch
        for basket in bowl.baskets:
            key = (batch.recipe, batch.strength, basket.boil_s)
            times.setdefault(key, {})[basket_text(basket)] = None
    several = len({key[:2] for key in times}) > 1
    texts = []
    for (recipe, strength, boil_s), sizes in times.items():
        said = f"{' and '.join(sizes)} {seconds_text(boil_s) if boil_s else 'not boiled'}"
        texts.append(f"{said} ({recipe}, {strength})" if several else said)
    first = "First load of each size: cut two open before the next."
    boiled = any(boil_s for _, _, boil_s in times)
    return "; ".join(texts) + (f". {first}" if boiled else "")


def basket_text(basket: Basket) -> str:
    """Return the size of a load's baits, with their kind where they are no bottom baits."""
    size, kind = basket.diameter_mm, basket.kind
    return size_text(size) if kind == "bottom" else bait_text(kind, size, None)


def _slowest(rolling: Rolling) -> str:
    """Return what holds the days up, and what one more of each thing saves."""
    busiest = rolling.bottleneck
    number = 2 * len(rolling.people)
    hands = f"Your {WORDS[number] if number < len(WORDS) else number} hands"
    each = " each" if busiest.what == "people" and len(rolling.people) > 1 else ""
    work = f"{STATIONS.get(busiest.what, hands)}, about {_about(busiest.work_s)} of work{each}"
    saved = sorted((s for s in rolling.savings if _about(s.seconds)), key=lambda s: -s.seconds)
    texts = [f"one more {s.what} saves {_about(s.seconds)}" for s in saved]
    if rest := [s.what for s in rolling.savings if not _about(s.seconds)]:
        texts.append(f"one more {' or '.join(rest)} saves nothing")
    return f"{work}; {', '.join(texts)}."


def _about(seconds: float) -> str:
    """Return a duration to five minutes, nothing where it is less than half of them."""
    fives = round(seconds / 300)
    return duration_text(fives * 300) if fives else ""


ALL_WANTED = "also what does not fit"


def _trays(rolling: Rolling, units: Units) -> str:
    room = rolling.trays_m2
    if rolling.left_out:
        have = "" if room.have is None else f"; there are {units.area(room.have)}"
        return f"Trays {units.area(room.needed)} for everything at once, {ALL_WANTED}{have}"
    free = f"; the last are free on {moment_text(rolling.trays_free)}" if rolling.trays_free else ""
    return f"Trays {units.area(room.needed)}{of_text(room.have, units.area)} in use at once{free}"


def of_text(have: float | None, written: Callable[[float], str]) -> str:
    """Return how much of a room there is, behind what is needed of it; nothing where nobody stated it."""
    return "" if have is None else f" of {written(have)}"


def _freezer(rolling: Rolling, units: Units) -> str:
    room = rolling.freezer_l
    have = of_text(room.have, units.litres)
    wanted = f", {ALL_WANTED}" if rolling.left_out else ""
    return f"{units.room(room.needed)}{have} when everything is bagged{wanted}"


def _drying(rolling: Rolling) -> str:
    """Return when trays are turned, and which bowls are bagged when."""
    bagged = [
        f"{list_of_bowls(step.bowls)} {moment_text(step.start)}"
        for step in rolling.steps
        if step.what == "bag"
    ]
    turns = " and ".join(sorted({time_text(s.start) for s in rolling.steps if s.what == "turn"}))
    turned = f"Turn the trays at {turns}. " if turns else ""
    return f"{turned}Bag and freeze {'; '.join(bagged)}."
