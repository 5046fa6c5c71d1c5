"""The eggs of a recipe: how many, and how big."""

from __future__ import annotations

from typing import Annotated

from pydantic import model_validator

from eggfold.amounts import Amount
from eggfold.load.fields import StrictModel, a_whole, a_word, an_amount, problem
from eggfold.reference.eggs import GRADES, GRADES_OF, LETTERS, STANDARDS

MOST_EGGS = 100_000

EggMass = Annotated[Amount, an_amount("mass", unit="g", low=5, high=250)]

GRADE_HINTS = {
    **{letter: f"{grade}, with standard: eu or us" for letter, grade in LETTERS.items()},
    **{
        f"{standard} {grade}": f"{grade}, with standard: {standard}"
        for standard, grades in GRADES_OF.items()
        for grade in grades
    },
}
"""What to write for a grade in a letter, or for one that names its standard itself."""


class Eggs(StrictModel):
    """The trial's eggs: how many, and how big."""

    count: Annotated[int, a_whole(1, MOST_EGGS)] = 1
    """How many eggs the trial had; 1 if it does not say."""
    grade: Annotated[str, a_word(GRADES, "unknown-grade", hints=GRADE_HINTS)] | None = None
    """The size on the box; it needs a standard, because countries differ."""
    standard: Annotated[str, a_word(STANDARDS, "unknown-standard")] | None = None
    """Whose sizes: eu (and UK) or us."""
    liquid: EggMass | None = None
    """What one egg weighs without its shell, on your scale."""
    in_shell: EggMass | None = None
    """What one egg weighs in its shell."""

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
            text = f"{self.grade} is no {str(self.standard).upper()} grade"
            raise problem("unknown-grade", text, hint, key="grade")
        return self
