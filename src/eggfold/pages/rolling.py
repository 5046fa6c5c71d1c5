"""The clock sheet: what does not fit, who does what when, loads to tick off, bowls, trays, buying."""

from __future__ import annotations

import math
from datetime import timedelta
from itertools import groupby
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.pages.figures import (
    Units,
    day_text,
    eggs_text,
    full_day_text,
    graded_eggs_text,
    moment_text,
    reading_text,
    seconds_text,
    size_text,
    time_text,
    up_to_quarter_text,
)
from eggfold.pages.page import (
    Block,
    Column,
    Facts,
    Lines,
    Page,
    Span,
    Strip,
    StripRow,
    Table,
    basis_blocks,
)
from eggfold.pages.rolling_screen import (
    OF_THE_TRAYS,
    ShownDay,
    basket_text,
    dates_text,
    days_shown,
    list_of_bowls,
    screen_blocks,
    tally_text,
    worth_text,
)
from eggfold.pages.shopping import shopping_blocks
from eggfold.recipe.cautions import IN_BULK

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from eggfold.plan.plan_bowls import PlanBowl
    from eggfold.plan.remedies import Remedy
    from eggfold.plan.rolling import Rolling, Step
    from eggfold.recipe.batch import Batch
    from eggfold.recipe.cautions import Caution


FIRST = (IN_BULK,)
"""Cautions that stand above the page."""
TIMES = {1: "once", 2: "twice"}


def rolling_page(rolling: Rolling, units: Units, *, why: bool = False, full: bool = True) -> Page:
    """Return the clock sheet of a session: one screen, and where it is ``full`` all tables too."""
    full = full or why
    blocks: list[Block] = [*screen_blocks(rolling, units, full=full)]
    if full:
        blocks += _full_blocks(rolling, units, why=why)
    blocks += units.lines()
    people = len(rolling.people)
    aside = f"{dates_text(rolling)}, {people} {'person' if people == 1 else 'people'}"
    alerts = (*first_cautions(rolling.cautions), *unfit_sentences(rolling, units))
    return Page(rolling.name, aside, tuple(blocks), alerts)


def _full_blocks(rolling: Rolling, units: Units, *, why: bool) -> Iterator[Block]:
    """Yield the tables: the session, each day's clock and loads, trays, bowls, buying, cautions."""
    yield _session(rolling, units)
    for shown in days_shown(rolling):
        yield _clock(rolling, shown, units)
        yield _loads(rolling, shown, units)
        yield _day_strip(rolling, shown)
    if rolling.made:
        yield _afterwards(rolling)
        yield _bowls_table(rolling.made, units)
        yield from _bowl_sheets(rolling.made, units)
        yield from shopping_blocks(rolling.shopping, units)
    yield care_lines(rolling.cautions)
    if why:
        from eggfold.pages.why_plans import rolling_sums  # noqa: PLC0415 - few ask for the sums

        yield Lines("HOW EACH FIGURE CAME ABOUT", tuple(rolling_sums(rolling)))
    yield from basis_blocks(rolling, why=why)


def first_cautions(cautions: tuple[Caution, ...]) -> tuple[str, ...]:
    """Return the cautions that come before everything else."""
    return tuple(c.text for c in cautions if c.code in FIRST)


def care_lines(cautions: tuple[Caution, ...]) -> Lines:
    """Return the other cautions."""
    return Lines("TAKE CARE", tuple(c.text for c in cautions if c.code not in FIRST))


def unfit_sentences(rolling: Rolling, units: Units) -> Iterator[str]:
    """Yield what does not fit, each with the smallest change that makes it fit."""
    if rolling.eggs_short:
        yield f"Not enough eggs: {rolling.eggs_short} more would cover the plan."
    if rolling.left_out:
        ways = [_way(change, units, is_over=not rolling.days) for change in rolling.changes]
        which = list_of_bowls(tuple(bowl.number for bowl in rolling.left_out))
        if rolling.made:
            mass = units.mass(sum(bowl.batch.paste.finished_g for bowl in rolling.left_out))
            ways.append(f"{which} left out ({mass} of dried bait)")
        ways = ways or ["much less bait"]
        does = "does" if len(rolling.left_out) == 1 else "do"
        over = "" if rolling.days else ": the days of the plan are over"
        yield (
            f"{which[0].upper()}{which[1:]} {does} not fit{over}. "
            f"What makes it fit: {', or '.join(ways)}."
        )
    freezer = rolling.freezer_l
    if freezer.short:
        have = freezer.have or 0.0
        yield (
            f"The freezer is too small: {units.room(freezer.needed)} are needed, there are "
            f"{units.litres(have)}. {units.room(math.ceil(freezer.needed) - have)} more make it fit, or "
            f"{units.mass(_too_much_g(rolling))} of bait less."
        )


def _too_much_g(rolling: Rolling) -> float:
    """Return the bait that does not go into the freezer, at the mean room a gram takes."""
    bowls = (*rolling.made, *rolling.left_out)
    finished = sum(b.batch.paste.finished_g for b in bowls)
    return finished * rolling.freezer_l.short / rolling.freezer_l.needed


def _way(change: Remedy, units: Units, *, is_over: bool) -> str:
    more = f"go on for {up_to_quarter_text(change.seconds)} more on the last day"
    number = "one more tray" if change.trays == 1 else f"{change.trays} more trays"
    trays = f"{number} ({units.area(change.area_m2)})"
    days = "one more day" if change.days == 1 else f"{change.days} more days"
    days += " from now on" if is_over else ""
    return {
        "hours": more,
        "trays": trays,
        "days": days,
        "people": "one more person",
        "tables": "one more table",
        "pans": "one more pan",
        "hours-and-trays": f"{more} with {trays}",
        "days-and-trays": f"{days} with {trays}",
    }[change.what]


def _session(rolling: Rolling, units: Units) -> Facts:
    rows = [
        (
            "What fits" if rolling.left_out and rolling.made else "In all",
            worth_text([b.batch for b in rolling.made], units) if rolling.made else _none(rolling),
        )
    ]
    if rolling.rescue.done:
        done = rolling.rescue.done
        rows.append(("Done before", counted(done, "bowl")))
    by_want: dict[int, list[PlanBowl]] = {}
    for bowl in rolling.made:
        by_want.setdefault(bowl.want, []).append(bowl)
    for bowls in by_want.values():
        batch = bowls[0].batch
        rows.append(
            (f"{batch.recipe}, {batch.strength}", worth_text([b.batch for b in bowls], units))
        )
    for finish in rolling.finish:
        if finish:
            text = (
                f"{time_text(finish.expected)} all clean, from {time_text(finish.early)} to "
                f"{time_text(finish.late)} as rolling goes fast or slow"
            )
            if finish.late > finish.closes:
                text += f"; slow is past your hours, which end at {time_text(finish.closes)}"
            rows.append((f"Ends {day_text(finish.expected)}", text))
    return Facts("SESSION", tuple(rows))


def _none(rolling: Rolling) -> str:
    return "nothing fits" if rolling.left_out or rolling.eggs_short else "nothing is left to roll"


def clock_lines(rolling: Rolling, shown: ShownDay, units: Units) -> Iterator[str]:
    """Yield a day's clock as sentences, for a calendar."""
    for start, end, who, what in _clock(rolling, shown, units).rows:
        yield f"{start} to {end} {who}: {what}"


def _clock(rolling: Rolling, shown: ShownDay, units: Units) -> Table:
    """Return who does what when; the loads of a bowl at one station are one line, each cut one of its own."""
    columns = (Column("From"), Column("to"), Column("who"), Column("what"))
    spans: dict[tuple[str, tuple[int, ...], int | None], list[Step]] = {}
    for step in shown.steps:
        if step.what != "rest":
            load = step.load if step.what == "cut" else None
            spans.setdefault((step.what, step.bowls, load), []).append(step)
    rows = [(start, end, "all", "break") for start, end in shown.breaks]
    for (what, bowls, load), parts in spans.items():
        who = sorted({p.who for p in parts if p.who is not None})
        names = ", ".join(rolling.people[i] for i in who) or "all"
        end = max(p.end for p in parts)
        rows.append((parts[0].start, end, names, _doing(rolling, what, bowls, load, units)))
    rows.sort()
    cells = tuple((time_text(start), time_text(end), *words) for start, end, *words in rows)
    return Table(f"CLOCK  {full_day_text(shown.start)}", columns, cells)


def _doing(
    rolling: Rolling, what: str, bowls: tuple[int, ...], load: int | None, units: Units
) -> str:
    if what == "clean":
        return "clean bowl, gun, table, pan and floor"
    bowl = next(b for b in rolling.made if b.number == bowls[0])
    batch = bowl.batch
    if what == "mix":
        return f"mix bowl {bowl.number}: {batch.recipe}, {batch.strength}, {eggs_text(batch.eggs)}"
    if what == "roll":
        sizes = ", ".join(size_text(b.diameter_mm) for b in batch.baits)
        dry = "" if any(b.boil_s for b in bowl.baskets) else ", lay out, not boiled"
        return f"roll bowl {bowl.number}: {units.mass(batch.paste.mass_g)} to {sizes}{dry}"
    if what == "cut":
        size = next(size_text(b.diameter_mm) for b in bowl.baskets if b.number == load)
        return f"cut two of {size} of bowl {bowl.number} open: no raw, shiny core"
    if what == "water":
        return f"new pan water, bowl {bowl.number}"
    times = sorted({b.boil_s for b in bowl.baskets if b.boil_s})
    seconds = " or ".join(seconds_text(t) for t in times)
    return f"boil bowl {bowl.number}: {counted(len(bowl.baskets), 'load')}, {seconds} each, then lay out"


def _loads(rolling: Rolling, shown: ShownDay, units: Units) -> Table:
    """Return when each load goes into the pan, with a box to tick."""
    columns = (
        Column("Bowl", "right"),
        Column("a load"),
        Column("boil"),
        Column("in at; tick it off"),
    )
    boils: dict[int, list[Step]] = {}
    for step in shown.steps:
        if step.what == "boil":
            boils.setdefault(step.bowls[0], []).append(step)
    rows = []
    for number, parts in boils.items():
        bowl = next(b for b in rolling.made if b.number == number)
        for size, group in groupby(bowl.baskets, key=basket_text):
            baskets = list(group)
            first = baskets[0]
            times = [p for p in parts if any(p.load == b.number for b in baskets)]
            ticks = "  ".join(f"[_]{time_text(p.start)}" for p in times)
            each = f"{units.mass(first.load_g)}, about {first.baits:.0f} of {size}"
            time = seconds_text(first.boil_s) if first.boil_s else "not boiled"
            rows.append((f"{number}", each, time, ticks))
    return Table("LOADS", columns, tuple(rows))


def _afterwards(rolling: Rolling) -> Table:
    """Return when to turn the trays and when to bag."""
    columns = (Column("When"), Column("what"))
    rows = [
        (
            moment_text(s.start),
            f"{OF_THE_TRAYS[s.what].format(moment_text(s.end))}: {list_of_bowls(s.bowls)}",
        )
        for s in rolling.steps
        if s.what in OF_THE_TRAYS
    ]
    turned = TIMES.get(rolling.turns_a_day, f"{rolling.turns_a_day} times")
    return Table(f"DRYING  one layer, turned {turned} a day", columns, tuple(rows))


def _bowls_table(bowls: tuple[PlanBowl, ...], units: Units) -> Table:
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
            units.mass(b.batch.paste.mass_g),
            units.mass(b.batch.paste.finished_g),
            tally_text([b.batch]),
            f"{len(b.baskets)}",
        )
        for b in bowls
    ]
    total = (
        "",
        "all bowls",
        f"{sum(b.batch.eggs for b in bowls)}",
        units.mass(sum(b.batch.paste.mass_g for b in bowls)),
        units.mass(sum(b.batch.paste.finished_g for b in bowls)),
        tally_text([b.batch for b in bowls]),
        f"{sum(len(b.baskets) for b in bowls)}",
    )
    return Table("BOWLS", columns, (*rows, total))


def _bowl_sheets(bowls: tuple[PlanBowl, ...], units: Units) -> list[Table]:
    """Return what goes into each bowl; equal bowls share a sheet."""
    groups: dict[tuple[int, int], list[PlanBowl]] = {}
    for bowl in bowls:
        groups.setdefault((bowl.want, bowl.batch.eggs), []).append(bowl)
    return [_sheet(group, units) for group in groups.values()]


def _sheet(bowls: list[PlanBowl], units: Units) -> Table:
    batch = bowls[0].batch
    numbers = ", ".join(f"{b.number}" for b in bowls)
    which = f"BOWL {numbers}" if len(bowls) == 1 else f"EACH OF BOWLS {numbers}"
    heading = f"{which}  {batch.recipe}, {batch.strength.upper()}, {eggs_text(batch.eggs)}"
    columns = (Column("In the bowl"), Column("amount", "right"), Column("measure with"))
    return Table(heading, columns, tuple(_lines(batch, units)))


def _lines(batch: Batch, units: Units) -> list[tuple[str, str, str]]:
    powder = batch.powder
    doses = [
        (
            line.additive.name,
            units.measure(line.amount, by_volume=line.by_volume),
            reading_text(line.reading),
        )
        for line in batch.doses
    ]
    ready = (
        f"{units.mass(powder.base_mix_low_g)} at once, have {units.mass(powder.base_mix_high_g)}"
    )
    return [
        (graded_eggs_text(batch.eggs, batch.egg.label), units.mass(batch.shelled_g), "shelled"),
        *doses,
        (powder.base_mix, units.mass(powder.base_mix_g), ready),
        ("powder used", f"______ {units.mass_pair.small}", ""),
        *(
            (
                f"soak, once dry: {line.dose.additive.name}",
                units.measure(line.dose.amount, by_volume=line.dose.by_volume),
                reading_text(line.dose.reading),
            )
            for line in batch.soak
        ),
        *(
            ("paste, not boiled", units.mass(line.mass_g), "bag it at once")
            for line in batch.pastes
        ),
    ]


BOWL_GAP_H = 0.5
"""Loads of one bowl closer than this are drawn as one span [h]."""
HAND_GAP_H = 0.1
"""Work of one person closer than this is drawn as one span [h]."""


def _day_strip(rolling: Rolling, shown: ShownDay) -> Strip:
    """Return when each station works on which bowl, then when each person works."""
    steps = shown.steps
    zero = shown.start.replace(minute=0, second=0, microsecond=0)

    def hours(moment: datetime) -> float:
        return (moment - zero) / timedelta(hours=1)

    rows = []
    for what in ("mix", "rest", "roll", "boil"):
        busy = [(hours(s.start), hours(s.end), f"{s.bowls[0]}") for s in steps if s.what == what]
        rows.append(StripRow(what, _spans(busy, BOWL_GAP_H)))
    for i, name in enumerate(rolling.people):
        busy = [(hours(s.start), hours(s.end), "") for s in steps if s.who == i]
        rows.append(StripRow(name, _spans(busy, HAND_GAP_H)))
    last = hours(max(s.end for s in steps))
    ticks = tuple((float(h), time_text(zero + timedelta(hours=h))) for h in range(int(last) + 2))
    return Strip("WHO IS BUSY WHEN", "time of day", ticks, tuple(rows))


def _spans(parts: list[tuple[float, float, str]], gap_h: float) -> tuple[Span, ...]:
    """Join spans of one label that all but touch."""
    by_label: dict[str, list[tuple[float, float]]] = {}
    for start, end, label in sorted(parts):
        by_label.setdefault(label, []).append((start, end))
    spans = []
    for label, times in by_label.items():
        begin, until = times[0]
        for start, end in times[1:]:
            if start - until > gap_h:
                spans.append(Span(begin, until, label))
                begin = start
            until = max(until, end)
        spans.append(Span(begin, until, label))
    spans.sort()
    return tuple(spans)
