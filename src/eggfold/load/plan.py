"""The two plans: a weekend's rolling, and a season of trips."""

from __future__ import annotations

import re
from datetime import date
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationError, model_validator

from eggfold.amounts import Amount, AmountError, parse_amount
from eggfold.load.bench import CorkPace
from eggfold.load.eggs import MOST_EGGS
from eggfold.load.fields import (
    TIME,
    Date,
    Moment,
    Name,
    OneOrMany,
    Reads,
    StrictModel,
    Text,
    TimeOfDay,
    Zone,
    a_whole,
    a_word,
    an_amount,
    in_range,
    parse_time,
    problem,
)
from eggfold.load.recipe import BaitList, Baits, StrengthWord

MOST_BAITS = 100_000_000
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

Mass = Annotated[Amount, an_amount("mass", unit="g", low=1, high=1_000_000, usual=("kg", "g"))]
Minutes = Annotated[Amount, an_amount("time", unit="min", low=0, high=24 * 60)]
Standing = Annotated[Amount, an_amount("time", unit="min", low=5, high=24 * 60)]
TrayTime = Annotated[Amount, an_amount("time", unit="h", low=1, high=14 * 24)]


def _hours(text: str) -> Amount:
    """Read the hours of a day, also from one time to another; none at all is a problem of its own."""
    if times := _FROM_TO.fullmatch(text.strip()):
        begin, end = (_minutes(parse_time(time)) for time in times.groups())
        if end <= begin:
            raise AmountError("not-a-time", f"'{text}' ends before it begins", "hours: 9:00-17:00")
        return Amount((end - begin) / 60, "h")
    if hours := _HOURS_ALONE.fullmatch(text.strip()):
        begin, end = (int(hour) for hour in hours.groups())
        end += 12 * (end <= begin)
        hint = f"{begin}:00-{end}:00" if end < 24 else "hours: 9:00-17:00"
        raise AmountError("not-a-time", f"'{text}' may be hours of the clock", hint)
    amount = parse_amount(text, "time", usual=("h",))
    if not amount.value:
        raise AmountError("no-hours", "no hours, no bait", "hours: 8 h")
    return in_range(amount, "h", 0, 24)


_FROM_TO = re.compile(rf"(?:from )?({TIME}) ?(?:-|–|—|to|until|till) ?({TIME})", re.IGNORECASE)
_HOURS_ALONE = re.compile(r"(?:from )?([0-9]{1,2}) ?(?:-|–|—|to|until|till) ?([0-9]{1,2})")


def _minutes(time: str) -> int:
    return 60 * int(time[:2]) + int(time[3:])


HoursADay = Annotated[Amount, Reads(_hours, ("hours",), ("amount", "time"), examples=["8 h"])]
Count = Annotated[int, a_whole(1, 20)]


class Quantity(StrictModel):
    """How much of a recipe: finished bait, baits or eggs' worth, and the sizes if not its own."""

    recipe: Name
    """A recipe beside the plan: its file, or its name."""
    bait: Mass | None = None
    """How much finished bait, as in 10 kg."""
    count: Annotated[int, a_whole(1, MOST_BAITS)] | None = None
    """How many baits."""
    eggs: Annotated[int, a_whole(1, MOST_EGGS, "egg")] | None = None
    """How many eggs' worth."""
    sizes: BaitList | None = None
    """Other sizes than the recipe's: one, or a list."""

    @model_validator(mode="after")
    def _one_amount(self) -> Quantity:
        given = [k for k in ("bait", "count", "eggs") if getattr(self, k) is not None]
        if not given:
            text, hint = "how much of it?", "bait: 10 kg, count: 2000 or eggs: 48"
            raise problem("no-amount", text, hint, key="recipe")
        if len(given) > 1:
            text = f"{given[0]} and {given[1]} both say how much"
            raise problem("two-amounts", text, "keep one of them", key=given[1])
        return self

    @model_validator(mode="after")
    def _sizes_add_up(self) -> Quantity:
        try:
            Baits(freebie=self.sizes)
        except ValidationError as error:
            wrong = error.errors(include_url=False)[0]
            context = wrong["ctx"]
            raise problem(wrong["type"], context["text"], context["hint"], key="sizes") from error
        return self


class BowlsWanted(Quantity):
    """Bowls to roll in a session."""

    strength: StrengthWord = "freebie"
    """Freebie or hookbait."""


class Break(StrictModel):
    """A time each day at which nobody works."""

    at: TimeOfDay
    """When it begins, each day."""
    lasts: Minutes
    """How long nobody works."""


def _names(value: Any) -> Any:
    """Read a number of people as so many names, and one name as a list."""
    if not isinstance(value, str):
        return value
    if not value.strip().isdecimal():
        return tuple(_BETWEEN_NAMES.split(value.strip()))
    if not 1 <= int(value[:9]) <= MOST_PEOPLE:
        message = f"{value[:9]} people cannot share a kitchen"
        raise problem("out-of-range", message, f"1 to {MOST_PEOPLE}")
    return tuple(f"person {i + 1}" for i in range(int(value)))


MOST_PEOPLE = 20
_BETWEEN_NAMES = re.compile(r"\s*(?:,\s*and\s|,|;|\+|&|\sand\s)\s*")
People = Annotated[
    tuple[Name, ...],
    Field(strict=False, min_length=1, max_length=MOST_PEOPLE),
    BeforeValidator(
        _names,
        json_schema_input_type=Annotated[int, a_whole(1, MOST_PEOPLE)] | Name | tuple[Name, ...],
    ),
]
BreakList = Annotated[tuple[Break, ...], Field(strict=False), OneOrMany(dict)]


class SessionKeys(StrictModel):
    """What a day of rolling is like; both plans say it in the same words."""

    hours: HoursADay
    """How long a day lasts, cleaning included."""
    people: People | None = None
    """How many, or their names; else the bench's."""
    breaks: BreakList = ()
    """Times each day at which nobody works."""
    pans: Count | None = None
    """How many pans boil side by side; else as many as the bench lists."""
    tables: Count = 1
    """How many gun-and-table places there are; one person works at each."""
    mixing_bowls: Count = 1
    """How many bowls are mixed side by side."""
    mix: Minutes | None = None
    """Time to mix one bowl, whatever its size."""
    rest: Minutes | None = None
    """Rest of the paste before it is rolled."""
    stand: Standing | None = None
    """From the end of a bowl's rest to its last sausage at the most, covered."""
    raw: Standing | None = None
    """From the table to the pan at the most."""
    cork_pace: CorkPace | None = None
    """Baits on cork that one person moulds by hand, as in 60 per hour; else the bench's."""
    cool: Minutes | None = None
    """Time a load cools."""
    cleaning: Minutes | None = None
    """Cleaning at the end of each day."""
    drying: TrayTime | None = None
    """Time in one layer on the trays."""
    turn_at: Annotated[tuple[TimeOfDay, ...], Field(strict=False)] | None = None
    """Times of day at which trays are turned and emptied."""
    zone: Zone | None = None
    """Time zone, as in Europe/London; without it every day has 24 hours."""
    name: Name | None = None
    """What the page is called."""
    notes: Text | None = None
    """Anything you like."""


class RollingPlan(SessionKeys):
    """A weekend's rolling: one day, or several in a row with the same hours."""

    start: Moment
    """Day and time, as in 2027-03-27 09:00."""
    bowls: Annotated[tuple[BowlsWanted, ...], Field(strict=False), OneOrMany(dict)]
    """What to roll."""
    days: Annotated[int, a_whole(1, 14)] = 1
    """Days in a row with the same hours."""


class Daily(Amount):
    """So much bait on each day of a trip."""


def _bait(text: str) -> Amount:
    bare, per_day, rest = text.partition(" per day")
    bare = text if rest.strip() else bare
    amount = in_range(parse_amount(bare, "mass", usual=("kg", "g")), "g", 1, 1_000_000)
    return Daily(*amount) if per_day else amount


class Take(Quantity):
    """What a trip takes of a recipe: bait in all or on each day, baits or eggs' worth."""

    bait: (
        Annotated[Amount, Reads(_bait, type="string", examples=["10 kg", "2 kg per day"])] | None
    ) = None
    """How much finished bait, as in 10 kg, or 2 kg per day."""

    def for_days(self, days: int) -> Take:
        """Return what so many days take in all."""
        if not isinstance(self.bait, Daily):
            return self
        value, unit = self.bait
        amount = in_range(Amount(value * days, unit), "g", 1, 1_000_000)
        return self.model_copy(update={"bait": amount})


TakeList = Annotated[tuple[Take, ...], Field(strict=False), OneOrMany(dict)]


class Trip(StrictModel):
    """A trip: its days, when you leave, and what you take."""

    leave: Date
    """The day you leave."""
    back: Date | None = None
    """The day you are back."""
    at: TimeOfDay | None = None
    """When you leave, as in 04:30."""
    name: Name | None = None
    """What you call it."""
    days: Annotated[int, a_whole(1, 60)] | None = None
    """Days on which you bait; else all from leave to back."""
    freebies: TakeList = ()
    """What you take to bait with."""
    hookbaits: TakeList = ()
    """What you take for the hook."""

    @model_validator(mode="after")
    def _is_a_trip(self) -> Trip:
        if not self.freebies and not self.hookbaits:
            text, hint = "the trip takes nothing", "freebies: {recipe: …, bait: 10 kg}"
            raise problem("no-amount", text, hint, key="leave")
        if self.back and self.back < self.leave:
            text = f"back on {self.back}, before leaving on {self.leave}"
            raise problem("back-before-leave", text, "a day on or after leave", key="back")
        return self

    @model_validator(mode="after")
    def _in_all(self) -> Trip:
        days = (
            self.days
            or 1 + (date.fromisoformat(self.last_day) - date.fromisoformat(self.leave)).days
        )
        try:
            taken = {
                key: tuple(take.for_days(days) for take in getattr(self, key))
                for key in ("freebies", "hookbaits")
            }
        except AmountError as error:
            raise problem(error.code, error.message, error.hint, key="days") from error
        self.__dict__.update(taken)  # the model is frozen for all others
        return self

    @property
    def last_day(self) -> str:
        """The day you are back, or the day you leave."""
        return self.back or self.leave


Weekday = Annotated[str, a_word(WEEKDAYS, "unknown-weekday")]


class Campaign(SessionKeys):
    """A season: trips, and the days on which bait can be rolled for them."""

    trips: Annotated[tuple[Trip, ...], Field(strict=False), OneOrMany(dict)]
    """Every trip of the season."""
    roll_on: Annotated[tuple[Weekday, ...], Field(strict=False), OneOrMany(str)] = (
        "saturday",
        "sunday",
    )
    """Weekdays on which you can roll."""
    not_on: Annotated[tuple[Date, ...], Field(strict=False), OneOrMany(str)] = ()
    """Days on which you cannot."""
    roll_from: Date | None = None
    """The first day on which you can; else today."""
    start_at: TimeOfDay | None = None
    """When a rolling day begins."""
    most: Mass | None = None
    """Finished bait in one day at the most."""
    freezer_life: Annotated[int, a_whole(1, 730)] | None = None
    """Days that bait keeps frozen."""
    egg_life: Annotated[int, a_whole(1, 90)] | None = None
    """Days from buying eggs to rolling them."""
    thawed_life: Annotated[int, a_whole(1, 30)] | None = None
    """Days that thawed bait keeps."""
    dry_life: Annotated[int, a_whole(1, 365)] | None = None
    """Days that dried or fresh bait keeps out of the freezer."""
    thaw: Minutes | None = None
    """How long before leaving bait comes out of the freezer."""
