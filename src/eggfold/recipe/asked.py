"""What a command asks of a recipe: strength, size, eggs and kitchen."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from eggfold.amounts import Amount, AmountError, parse_amount
from eggfold.nearest import did_you_mean, fold, one_of
from eggfold.reference.eggs import GRADES_OF, LETTERS
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.load.recipe import Strength


class BatchSize(NamedTuple):
    """How big the batch is to be: eggs, base mix in the bag [g], finished bait [g] or baits."""

    by: Literal["eggs", "powder", "bait", "count"] = "eggs"
    value: float = 1.0


class AskedEgg(NamedTuple):
    """The egg of this batch: a grade of a standard, or one shelled egg by weight [g]."""

    standard: str | None = None
    grade: str | None = None
    each_g: float | None = None


class Asked(NamedTuple):
    """Everything a card depends on beside the recipe."""

    strength: Strength
    size: BatchSize = BatchSize()
    egg: AskedEgg | None = None
    diameter_mm: float | None = None
    until: str | None = None
    altitude_m: float | None = None
    pan_l: float | None = None
    start_c: float | None = None
    drying_h: float | None = None
    """How long a plan dries its baits."""


def parse_egg(text: str) -> AskedEgg:
    """Read ``eu-medium``, ``us-large`` or ``52g``; AmountError otherwise."""
    words = fold(text.replace("-", " ").replace("_", " "))
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
        near = near or (error.code == "no-unit" and error.hint) or "eu-medium, us-large or 52g"
        raise AmountError("unknown-egg", f"'{text[:40]}' is no egg known here", near) from error
    return AskedEgg(each_g=_egg_mass(mass))


def _egg_mass(mass: Amount) -> float:
    each_g = amount_in(mass, "g")
    if 5 <= each_g <= 250:
        return each_g
    raise AmountError("out-of-range", f"one shelled egg of {mass} is not possible", "5 to 250 g")
