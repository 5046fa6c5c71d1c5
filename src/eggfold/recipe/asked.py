"""What a run asks for, and what a result assumes: each figure with its origin, beside the figure."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import chain
from typing import TYPE_CHECKING, Literal

from eggfold.amounts import Amount, AmountError, parse_amount
from eggfold.errors import in_quotes
from eggfold.load.eggs import MOST_EGGS
from eggfold.nearest import did_you_mean, fold_word, one_of
from eggfold.records import NamedTuple
from eggfold.reference.defaults import DEFAULTS, Origin
from eggfold.reference.eggs import GRADES_OF, LETTERS
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.load.recipe import Assume, Strength


class Assumption(NamedTuple):
    """One figure a result rests on: what it is, its value, and where it comes from."""

    what: str
    value: str
    origin: Origin
    source: str | None = None


class Assumed(NamedTuple):
    """A default or the user's own figure for it, and what there is to say of it."""

    value: float
    assumption: Assumption

    @property
    def share(self) -> float:
        """A figure in per cent as a share."""
        return self.value / 100


class Defaults(NamedTuple):
    """The named defaults, and what a recipe says in their stead."""

    own: Assume | None = None

    def value(self, name: str, asked: float | None = None) -> Assumed:
        """Return what is asked, else the recipe's own figure, else the default."""
        default = DEFAULTS[name]
        own = getattr(self.own, name) if self.own else None
        if asked is None and own is not None:
            asked = own if isinstance(own, float) else amount_in(own, default.unit)
        value = default.value if asked is None else asked
        text = f"{value:g} {default.unit}"
        if asked is None:
            return Assumed(value, Assumption(default.what, text, default.origin, default.source))
        return Assumed(value, Assumption(default.what, text, "yours"))


HOUSE_DEFAULTS = Defaults()


def joined(*parts: Iterable[Assumption]) -> tuple[Assumption, ...]:
    """Return what several figures assume, one after the other, each thing where it comes first."""
    found: dict[str, Assumption] = {}
    for one in chain.from_iterable(parts):
        found.setdefault(one.what, one)
    return tuple(found.values())


class BatchSize(NamedTuple):
    """How big the batch is to be.

    By eggs, base mix in the bag [g], liquid egg [g], finished bait [g] or baits; by the ``trial`` it is as
    big as that where its egg was liquid, else one egg.
    """

    by: Literal["trial", "eggs", "powder", "liquid", "bait", "count"] = "eggs"
    value: float = 1.0
    whole_eggs: bool = False
    """Of a bag: the most whole eggs that it is enough for, instead of the whole bag."""
    enough: float = 1.0
    """What share of the bait or baits is enough."""
    by_volume: bool = False
    """Whether liquid egg was measured by volume."""

    @property
    def is_bag(self) -> bool:
        """Whether the whole bag goes in and egg is what varies."""
        return self.by == "powder" and not self.whole_eggs


class AskedEgg(NamedTuple):
    """The egg of this batch: a grade of a standard, or one shelled egg by weight [g]."""

    standard: str | None = None
    grade: str | None = None
    each_g: float | None = None
    number: int | None = None
    """How many of them, where a box of them is meant."""

    @property
    def in_words(self) -> str:
        """How they are typed."""
        one = f"{self.each_g:g}g" if self.each_g else f"{self.standard}-{self.grade}"
        return f"{self.number}x{one}".replace(" ", "-") if self.number else one.replace(" ", "-")


class Asked(NamedTuple):
    """Everything a card depends on beside the recipe."""

    strength: Strength
    size: BatchSize = BatchSize()
    eggs: tuple[AskedEgg, ...] = ()
    """The kind of egg, or boxes with so many of each kind; none where they are the recipe's."""
    diameter_mm: float | None = None
    until: str | None = None
    altitude_m: float | None = None
    pan_l: float | None = None
    start_c: float | None = None
    drying_h: float | None = None
    """How long a plan dries its baits."""


_BOX = r"(?s)([0-9]{1,6}) ?[x×] ?(.+)"


def parse_eggs(texts: Sequence[str]) -> tuple[AskedEgg, ...]:
    """Read one kind of egg, or boxes as in ``12xeu-large``; AmountError otherwise."""
    found = []
    for text in texts:
        box = re.fullmatch(_BOX, text.strip())
        if box is None and len(texts) > 1:
            message = f"{in_quotes(text)} does not say how many of these"
            raise AmountError("no-count", message, "12xeu-large and 6xeu-medium")
        egg = parse_egg(box[2] if box else text)
        number = int(box[1]) if box else None
        if number is not None and not 1 <= number <= MOST_EGGS:
            raise AmountError(
                "out-of-range", f"{in_quotes(text)} is not a box", f"1 to {MOST_EGGS} eggs"
            )
        found.append(egg._replace(number=number))
    return tuple(found)


def parse_egg(text: str) -> AskedEgg:
    """Read ``eu-medium``, ``us-large`` or ``52g``; AmountError otherwise."""
    words = fold_word(text)
    standard, _, grade = words.partition(" ")
    if standard in GRADES_OF:
        if grade in GRADES_OF[standard]:
            return AskedEgg(standard, grade)
        grades = ", ".join(GRADES_OF[standard])
        raise AmountError("unknown-grade", f"{standard.upper()} eggs have no such grade", grades)
    try:
        mass = parse_amount(text, "mass")
    except AmountError as error:
        known = [f"{s}-{g.replace(' ', '-')}" for s, grades in GRADES_OF.items() for g in grades]
        grade = LETTERS.get(words, words).replace(" ", "-")
        graded = [name for name in known if name.partition("-")[2] == grade]
        near = one_of(graded) if graded else did_you_mean(text, known)
        near = near or "eu-medium, us-large or 52g; how many is --eggs"
        raise AmountError(
            "unknown-egg", f"{in_quotes(text)} is not an egg known here", near
        ) from error
    return AskedEgg(each_g=_egg_mass(mass))


def _egg_mass(mass: Amount) -> float:
    each_g = amount_in(mass, "g")
    if 5 <= each_g <= 250:
        return each_g
    raise AmountError("out-of-range", f"one shelled egg of {mass} is not possible", "5 to 250 g")
