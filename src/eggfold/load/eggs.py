"""The eggs of a recipe: how many, and how big."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, model_validator

from eggfold.amounts import NUMBER_WORDS, Amount, AmountError, parse_amount
from eggfold.errors import in_quotes
from eggfold.load.fields import Reads, StrictModel, a_whole, a_word, an_amount, in_range, problem
from eggfold.nearest import fold_word
from eggfold.reference.eggs import GRADES, GRADES_OF, LETTERS, STANDARDS
from eggfold.reference.measures import KITCHEN_UNITS

MOST_EGGS = 100_000

LEAST_LIQUID, MOST_LIQUID = 5, 6_000_000
"""Beaten egg [g or ml], as much as may be counted; house limits."""


def _liquid(text: str) -> Amount:
    """Read beaten egg by mass or volume; a pint's size is known where the recipe says whose it is."""
    amount = parse_amount(text, "mass", "volume", usual=("g", "ml"))
    if amount.unit in KITCHEN_UNITS:
        return amount
    mass = amount.dimension == "mass"
    return in_range(amount, "g" if mass else "ml", LEAST_LIQUID, MOST_LIQUID)


LiquidEgg = Annotated[
    Amount, Reads(_liquid, ("amount", "mass", "volume"), examples=["600 g", "500 ml"])
]
EggMass = Annotated[Amount, an_amount("mass", unit="g", low=5, high=250)]

GRADE_HINTS = {
    f"{standard} {grade}": f"{grade}, with standard: {standard}"
    for standard, grades in GRADES_OF.items()
    for grade in grades
}
"""What to write for a grade that names its standard itself."""
_IN_WORDS = (
    rf"([0-9]{{1,6}}|{'|'.join(NUMBER_WORDS)})?(?: ?[x×])? ?(?:(eu|us|uk) )?({'|'.join((*GRADES, *LETTERS))})?"
    r"(?: (eu|us|uk))?(?: ?eggs?)?"
)


class Eggs(StrictModel):
    """The trial's eggs: how many, and how big."""

    count: Annotated[int, a_whole(1, MOST_EGGS, "egg")] = 1
    """How many eggs the trial had; 1 if it does not say."""
    grade: Annotated[str, a_word(GRADES, "unknown-grade", LETTERS, GRADE_HINTS)] | None = None
    """The size on the box; it needs a standard, because countries differ."""
    standard: Annotated[str, a_word(STANDARDS, "unknown-standard", {"uk": "eu"})] | None = None
    """Whose sizes: eu (and UK) or us."""
    liquid: EggMass | None = None
    """What one egg weighs without its shell, on your scale."""
    in_shell: EggMass | None = None
    """What one egg weighs in its shell."""
    liquid_egg: LiquidEgg | None = None
    """All shelled egg of the trial, by mass or volume, where it was not counted."""

    @model_validator(mode="after")
    def _counted_or_measured(self) -> Eggs:
        others = "count", "grade", "standard", "liquid", "in_shell"
        other = next((key for key in others if key in self.model_fields_set), None)
        if self.liquid_egg and other:
            text = f"liquid_egg is all of the trial's egg, and {other} counts or weighs eggs"
            raise problem("two-sizes", text, "keep one of them", key=other)
        return self

    @model_validator(mode="after")
    def _one_size(self) -> Eggs:
        if self.liquid and self.in_shell:
            text = "liquid and in_shell both give the egg's weight"
            raise problem("two-sizes", text, "keep one of them", key="in_shell")
        own = "liquid" if self.liquid else "in_shell"
        if (self.liquid or self.in_shell) and (self.grade or self.standard):
            key = "grade" if self.grade else "standard"
            text = f"{key} and {own} both give the egg's size"
            raise problem("two-sizes", text, "keep one of them", key=key)
        if self.grade and not self.standard:
            text = f"{self.grade} in which country? EU and US grades differ"
            raise problem("missing-key", text, "standard: eu or us", key="grade")
        if self.standard and not self.grade:
            hint = f"grade: {', '.join(GRADES_OF[str(self.standard)])}"
            raise problem("missing-key", "grade is missing", hint, key="standard")
        if self.grade and self.grade not in GRADES_OF[str(self.standard)]:
            hint = f"one of {', '.join(GRADES_OF[str(self.standard)])}"
            text = f"no {str(self.standard).upper()} box says {self.grade}"
            raise problem("unknown-grade", text, hint, key="grade")
        return self


def eggs_in_words(value: Any) -> Any:
    """Read ``2``, ``12 eggs``, ``1 large eu`` as the keys that they stand for."""
    if not isinstance(value, str):
        return value
    found = re.fullmatch(_IN_WORDS, fold_word(value))
    if found is None or not value.strip():
        text = f"{in_quotes(value)} is not how eggs are written"
        raise problem("wrong-shape", text, _weighed_hint(value) or _EGGS)
    number, before, grade, behind = found.groups()
    count = str(NUMBER_WORDS.index(number) + 1) if number in NUMBER_WORDS else number
    keys = {"count": count or "1"}
    standard = (before or behind or "").replace("uk", "eu")
    if grade and not standard:
        grade = LETTERS.get(grade, grade)
        text = f"{grade} in which country? EU and US grades differ"
        raise problem(
            "missing-key", text, f"{{count: {count or 1}, grade: {grade}, standard: eu}} or us"
        )
    return keys | ({"grade": grade, "standard": standard} if grade else {})


_EGGS = "{count: 2, grade: large, standard: eu}"


def _weighed_hint(text: str) -> str | None:
    """Return how a weight alone is written, which is that of a shelled egg or of one in its shell."""
    try:
        mass = parse_amount(text, "mass")
    except AmountError:
        return None
    return f"{{liquid: {mass}}} for one shelled egg, {{in_shell: {mass}}} for one in its shell"


TrialEggs = Annotated[
    Eggs,
    BeforeValidator(
        eggs_in_words,
        json_schema_input_type=Eggs
        | Annotated[int, a_whole(1, MOST_EGGS)]
        | Annotated[str, Reads(str, ("eggs", NUMBER_WORDS, GRADES, tuple(LETTERS)))],
    ),
]
"""The eggs of a recipe, by their keys or in words."""
