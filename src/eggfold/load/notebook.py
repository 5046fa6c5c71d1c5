"""notebook.yaml: what the scale said, what was rolled, and what was caught on it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal, TypeVar, get_args

from pydantic import Field, PrivateAttr, ValidationError, model_validator

from eggfold.amounts import Amount
from eggfold.errors import Problem, ProblemsError, in_quotes
from eggfold.load.eggs import MOST_EGGS, EggMass
from eggfold.load.fields import (
    Date,
    Diameter,
    Name,
    StrictModel,
    Text,
    a_number,
    a_whole,
    a_word,
    an_amount,
    problem,
)
from eggfold.load.folder import files_by_notebook
from eggfold.load.gate import first_problems, read_source
from eggfold.load.names import recipe_names
from eggfold.load.reading import NodePath, Placed, read_list
from eggfold.load.recipe import StrengthWord, refuse_density, refuse_finished
from eggfold.load.yaml_tree import Scalar, Sequence, read_nodes
from eggfold.nearest import did_you_mean, fold, one_of
from eggfold.records import NamedTuple
from eggfold.units import amount_in

SectionName = Literal["weighed", "rolled", "cut", "bagged", "count", "trip", "fished", "bought"]
SECTIONS: tuple[SectionName, ...] = get_args(SectionName)

EggCount = Annotated[int, a_whole(1, MOST_EGGS, "egg")]
Weight = Annotated[Amount, an_amount("mass", unit="g", low=0, high=10_000_000)]
ScaleStep = Annotated[Amount, an_amount("mass", unit="g", low=0.001, high=100)]
BowlWeight = Annotated[Amount, an_amount("mass", unit="g", low=0.001, high=10_000_000)]
FinishedWeight = Annotated[Amount, an_amount("mass", unit="g", low=1, high=10_000_000)]
HundredWeight = Annotated[Amount, an_amount("mass", unit="g", low=1, high=20_000)]
WaterTemperature = Annotated[Amount, an_amount("temperature", unit="degC", low=-2, high=40)]

DEFAULT_SCALE = Amount(1.0, "g")
"""The division of the scale that a weighing was read from, where it does not say."""


class Dated(StrictModel):
    """One entry: when, what it changed on the shelf, and the line it stands in."""

    date: Date
    """The day, year first."""
    began: Text | None = None
    """What stood behind the section's key while it had no entry, to be put back."""
    was: dict[str, Text] = Field(default_factory=dict)
    """Lines of the shelf as they were before, by the line they stand in now."""
    now: dict[str, Text] = Field(default_factory=dict)
    """The same lines as the note left them."""
    _line: int = PrivateAttr(default=0)

    @property
    def line(self) -> int:
        """The line of the file where the entry starts."""
        return self._line


class Noted(Dated):
    """An entry of one recipe."""

    recipe: Name
    """The recipe's name."""


class BowlEntry(Noted):
    """What is common to every bowl that met the scale."""

    strength: StrengthWord
    """Which doses went in."""
    eggs: EggCount | None = None
    """Eggs in the bowl."""
    liquid: BowlWeight | None = None
    """All beaten egg that went in, where it was not counted."""
    egg: EggMass | None = None
    """What one of them weighed, shelled."""
    before: Weight | None = None
    """The bag of base mix before."""
    after: Weight | None = None
    """The bag of base mix after."""
    scale: ScaleStep | None = None
    """The scale's division; 1 g if it does not say."""
    base_mix: Name | None = None
    """The base mix, by name."""
    wet: BowlWeight | None = None
    """All wet mass that went in."""
    dry: BowlWeight | None = None
    """All dry mix that went in, powders included."""

    @property
    def taken_g(self) -> float | None:
        """Base mix that left the bag [g]."""
        if self.before is None or self.after is None:
            return None
        return amount_in(self.before, "g") - amount_in(self.after, "g")

    @property
    def scale_g(self) -> float:
        """The division of the scale [g]."""
        return amount_in(self.scale or DEFAULT_SCALE, "g")

    def eggs_worth(self, egg_g: float) -> float:
        """Return the eggs, or what liquid egg counts as where one weighs so much."""
        if self.liquid is None:
            return self.eggs or 0
        return amount_in(self.liquid, "g") / egg_g

    @model_validator(mode="after")
    def _counted_or_poured(self) -> BowlEntry:
        if self.eggs and self.liquid:
            text = "eggs and liquid both say how much egg went in"
            raise problem("two-amounts", text, "keep one of them", key="liquid")
        if not (self.eggs or self.liquid):
            raise problem("missing-key", "eggs is missing", "eggs: 1, or liquid: 60 g")
        return self

    @model_validator(mode="after")
    def _bag_gets_lighter(self) -> BowlEntry:
        if (self.before is None) != (self.after is None):
            key = "before" if self.after is None else "after"
            other = "after" if key == "before" else "before"
            text = f"{key} without {other} weighs nothing"
            raise problem("missing-key", text, f"{other}: the bag on the scale", key=key)
        taken = self.taken_g
        if taken is None:
            return self
        if taken <= 0:
            text = (
                f"the bag weighs {self.after} after and {self.before} before: nothing was taken out"
            )
            raise problem("bag-not-lighter", text, "before is the heavier one", key="after")
        if self.dry is not None and amount_in(self.dry, "g") < taken * (1 - 1e-9):
            text = f"{self.dry} of dry mix is less than the base mix in it, {taken:.6g} g"
            raise problem("dry-under-bag", text, "dry counts the base mix and powders", key="dry")
        return self


class WeighedEntry(BowlEntry):
    """A bag weighed before and after a bowl: how much powder the wet took."""

    before: Weight
    """The bag of base mix before."""
    after: Weight
    """The bag of base mix after."""


class RolledEntry(BowlEntry):
    """A bowl that became bait: what it drew from the shelf, and what was measured on it."""

    finished: FinishedWeight | None = None
    """What the dried baits weighed."""
    paste: FinishedWeight | None = None
    """All paste, by mass; ``wet`` and ``dry`` together if it does not say."""
    hundred: HundredWeight | None = None
    """What a hundred freshly rolled baits weighed."""
    diameter: Diameter | None = None
    """Their diameter as rolled."""
    drew: dict[str, Text] = Field(default_factory=dict)
    """What left the shelf, by the shelf's name of it."""
    had: dict[str, Text] = Field(default_factory=dict)
    """What stood behind ``left`` before, as it was written."""
    corrected: dict[str, Text] = Field(default_factory=dict)
    """What was drawn beyond what the shelf said was left."""

    @model_validator(mode="after")
    def _hundred_of_a_size(self) -> RolledEntry:
        if (self.hundred is None) != (self.diameter is None):
            key = "hundred" if self.diameter is None else "diameter"
            other = "diameter" if key == "hundred" else "hundred"
            text = f"{key} says nothing without {other}"
            raise problem("missing-key", text, f"{other}: …", key=key)
        if self.hundred and self.diameter:
            refuse_density(self.hundred, self.diameter, key="hundred")
        return self

    @property
    def paste_g(self) -> float | None:
        """All paste [g], None where the entry does not say."""
        if self.paste:
            return amount_in(self.paste, "g")
        if self.wet and self.dry:
            return amount_in(self.wet, "g") + amount_in(self.dry, "g")
        return None

    @model_validator(mode="after")
    def _dries_lighter(self) -> RolledEntry:
        if self.finished and self.paste_g:
            refuse_finished(self.finished, self.paste_g)
        return self


Looks = Literal["raw", "set"]
CutTime = Annotated[Amount, an_amount("time", unit="s", low=1, high=7200, usual=("s", "min"))]
StartTemperature = Annotated[Amount, an_amount("temperature", unit="degC", low=0, high=90)]
Height = Annotated[Amount, an_amount("length", unit="m", low=0, high=5000)]


class CutEntry(Noted):
    """Two baits cut open after their boil: raw inside, or set through."""

    base_mix: Name
    """The base mix, by name."""
    size: Diameter
    """The bait, as rolled."""
    boiled: CutTime
    """How long it was in the pan."""
    looked: Annotated[Looks, a_word(get_args(Looks), "unknown-look")]
    """raw where there was a raw, shiny core; set where there was none."""
    start: StartTemperature | None = None
    """The paste before the boil, where it was not as on the card."""
    altitude: Height | None = None
    """The kitchen above the sea, where it was not that of the bench."""


class Fished(Noted):
    """A session: rods, hours and takes on one mix."""

    rods: Annotated[int, a_whole(1, 50)]
    """Rods that fished it."""
    hours: Annotated[float, a_number(0.01, 10_000, "hours")]
    """Hours each of them was out."""
    takes: Annotated[int, a_whole(0, 1000)]
    """Fish that took it."""
    water: WaterTemperature | None = None
    """The water."""
    swim: Text | None = None
    """Where it was fished."""
    remark: Text | None = None
    """Anything else worth keeping."""

    @property
    def water_c(self) -> float | None:
        """The temperature of the water [°C]."""
        return amount_in(self.water, "degC") if self.water else None

    @property
    def rod_hours(self) -> float:
        """The exposure: rods times hours."""
        return self.rods * self.hours


class BaggedEntry(Noted):
    """Dried bait on the scale, and what became of it."""

    strength: StrengthWord
    """Freebie or hookbait."""
    amount: Text
    """What it weighed, or how many baits."""
    state: Text
    """frozen, dried or fresh."""


class CountEntry(Dated):
    """What bait was there on a day."""

    counted: dict[str, Text] = Field(default_factory=dict)
    """How much, by recipe and strength."""
    rest: Text | None = None
    """none where nothing else was there."""


class TripEntry(Dated):
    """A trip: what it took of the bait in hand, and what came home."""

    plan: Name
    """The plan's file."""
    leave: Date
    """The day it began."""
    name: Name | None = None
    """What it is called."""
    took: dict[str, Text] = Field(default_factory=dict)
    """How much, by recipe and strength."""
    home: dict[str, Text] = Field(default_factory=dict)
    """What came home of it."""
    assumed: dict[str, Text] = Field(default_factory=dict)
    """Trips before it that nobody had noted, booked as planned: their names, by the day they began."""


class BoughtEntry(Dated):
    """What was bought."""

    bought: dict[str, Text] = Field(default_factory=dict)
    """How much, by the shelf's name of it."""


class EntryFault(NamedTuple):
    """What is wrong with an entry: the key, a sentence, and what to try."""

    key: str
    message: str
    hint: str | None


class Notebook(NamedTuple):
    """The entries that could be read, in the order of the file, and the file's name."""

    file: str | None = None
    weighed: tuple[WeighedEntry, ...] = ()
    rolled: tuple[RolledEntry, ...] = ()
    cut: tuple[CutEntry, ...] = ()
    trip: tuple[TripEntry, ...] = ()
    fished: tuple[Fished, ...] = ()


E = TypeVar("E", bound=Dated)
MODELS: dict[SectionName, type[Dated]] = {
    "weighed": WeighedEntry,
    "rolled": RolledEntry,
    "cut": CutEntry,
    "bagged": BaggedEntry,
    "count": CountEntry,
    "trip": TripEntry,
    "fished": Fished,
    "bought": BoughtEntry,
}
TELLING: tuple[SectionName, ...] = ("weighed", "rolled", "cut", "trip", "fished")
"""The sections of which answers are made; the others are only kept to be taken back."""


def open_notebook(
    file: str, sections: tuple[SectionName, ...] = TELLING
) -> tuple[Notebook, list[Problem]]:
    """Read some sections of a notebook, and the problems in them; the others are passed over.

    Raises FileAccessError if the file cannot be read.
    """
    try:
        source = read_source(file, kept=True)
        root, problems = read_nodes(source, kept=True, whole=sections)
    except ProblemsError as error:
        return Notebook(file), error.problems
    placed = Placed(source, root)
    problems += first_problems(unknown_keys(placed))
    found: dict[SectionName, tuple[list[Any], list[Problem]]] = {
        name: read_entries(MODELS[name], placed, name) for name in sections if name in root.entries
    }
    entries = {name: tuple(read) for name, (read, _) in found.items()}
    problems += [problem for _, wrong in found.values() for problem in wrong]
    return Notebook(file, **entries), problems


def unknown_keys(placed: Placed) -> Iterator[Problem]:
    """Yield a problem for each key at the top that is no section."""
    for key in placed.root.entries:
        if key not in SECTIONS:
            hint = did_you_mean(key, SECTIONS) or one_of(SECTIONS)
            yield placed.problem(
                (key,), "unknown-key", f"{in_quotes(key)} is not a key here", hint, key=True
            )


_SPARE = {
    "date": "2000-01-01",
    "recipe": "-",
    "strength": "hookbait",
    "eggs": "1",
    "before": "2 g",
    "after": "1 g",
    "base_mix": "-",
    "size": "16 mm",
    "boiled": "60 s",
    "looked": "set",
    "rods": "1",
    "hours": "1",
    "takes": "0",
    "amount": "0",
    "state": "-",
    "plan": "-",
    "leave": "2000-01-01",
}


def read_entries(
    model: type[E], placed: Placed, name: SectionName
) -> tuple[list[E], list[Problem]]:
    """Return the entries of a section that can be read, and the problems of the others.

    Nothing is read behind more problems than are told.
    """
    spare = {key: text for key, text in _SPARE.items() if key in model.model_fields}
    found, problems = read_list(model, placed, name, spare)
    for entry, start in found:
        entry._line = placed.source.place(start).line  # noqa: SLF001
    return [entry for entry, _ in found], problems


def entry_fault(name: SectionName, fields: dict[str, Any]) -> EntryFault | None:
    """Return what is wrong with an entry before it is written, None if nothing is."""
    try:
        MODELS[name].model_validate(fields)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        context = first.get("ctx", {})
        key = context.get("key") or first["loc"][0]
        return EntryFault(str(key), str(context.get("text", first["msg"])), context.get("hint"))
    return None


def check_notebook(file: str, last_day: str | None) -> list[Problem]:
    """Return every problem of a notebook; days after ``last_day`` have not come yet.

    Raises FileAccessError if the file cannot be read.
    """
    try:
        source = read_source(file, kept=True)
        root, problems = read_nodes(source, kept=True)
    except ProblemsError as error:
        return error.problems
    placed = Placed(source, root)
    problems += first_problems(unknown_keys(placed))
    for name in SECTIONS:
        if name in root.entries:
            problems += read_entries(MODELS[name], placed, name)[1]
    problems += first_problems(_future_days(placed, last_day)) if last_day else ()
    problems += first_problems(gone_recipes(placed, file))
    return problems


def _texts(
    placed: Placed, key: str, sections: tuple[str, ...] = SECTIONS
) -> Iterator[tuple[NodePath, str]]:
    """Yield every entry's text of a key, with its path."""
    for name in sections:
        section = placed.node((name,))
        for i, _ in enumerate(section.items if isinstance(section, Sequence) else ()):
            value = placed.node((name, i, key))
            if isinstance(value, Scalar):
                yield (name, i, key), value.text


def _future_days(placed: Placed, last_day: str) -> Iterator[Problem]:
    for path, text in _texts(placed, "date"):
        if len(text) == len(last_day) and text[:4].isdecimal() and text > last_day:
            message = f"{text} is in the future"
            yield placed.problem(path, "future-date", message, f"{last_day} or a day before it")


def gone_recipes(
    placed: Placed, file: str, sections: tuple[str, ...] = SECTIONS
) -> Iterator[Problem]:
    """Yield a warning for each entry whose recipe is not by its file: it is kept all the same."""
    known: dict[str, str] | None = None
    for path, text in _texts(placed, "recipe", sections):
        if known is None:
            known = {fold(name): name for name in recipe_names(files_by_notebook(file)).values()}
        if fold(text) not in known:
            message = f"no recipe here is called {in_quotes(text)}; the entry is kept"
            hint = did_you_mean(text, known.values())
            yield placed.problem(path, "recipe-gone", message, hint, severity="warning")


class NotebookFile(StrictModel):
    """What the scale said, what was rolled, and what was caught on it."""

    weighed: Annotated[tuple[WeighedEntry, ...], Field(strict=False)] | None = None
    """Bags weighed before and after a bowl."""
    rolled: Annotated[tuple[RolledEntry, ...], Field(strict=False)] | None = None
    """Bowls that became bait."""
    cut: Annotated[tuple[CutEntry, ...], Field(strict=False)] | None = None
    """Baits cut open after their boil."""
    bagged: Annotated[tuple[BaggedEntry, ...], Field(strict=False)] | None = None
    """Dried bait on the scale."""
    count: Annotated[tuple[CountEntry, ...], Field(strict=False)] | None = None
    """What bait was there on a day."""
    trip: Annotated[tuple[TripEntry, ...], Field(strict=False)] | None = None
    """Trips, and what they took of the bait in hand."""
    fished: Annotated[tuple[Fished, ...], Field(strict=False)] | None = None
    """Sessions and what they caught."""
    bought: Annotated[tuple[BoughtEntry, ...], Field(strict=False)] | None = None
    """What was bought."""
