"""What a YAML text says, one step after the other: a text, where a list or mapping starts, its end."""

from __future__ import annotations

from typing import Literal, NamedTuple, TypeAlias

from eggfold.errors import Problem, ProblemsError
from eggfold.files.source import Source

Kind = Literal["scalar", "sequence", "mapping", "end", "alias"]
Refusal: TypeAlias = "tuple[str, str | None]"
"""What of YAML has no meaning in these files, and what to do instead."""


class Event(NamedTuple):
    """One step, and where its text starts and ends."""

    kind: Kind
    start: int
    end: int
    text: str = ""
    plain: bool = False
    """Whether a text stands without quotes."""
    flow: bool = False
    """Whether a list or mapping stands in brackets."""
    refused: Refusal | None = None


class Block(NamedTuple):
    """A list or mapping outside brackets that a line may go on with, and its column."""

    column: int
    kind: Kind


class Resume(NamedTuple):
    """The start of a line from which a text can be read on."""

    at: int
    open: tuple[Block, ...]
    """What is open there, from the outside in."""
    empty: int | None
    """Behind the colon of a key that has no value yet."""


BEGINNING = Resume(0, (), None)


class StrayTabError(ProblemsError):
    """The text cannot be read on at a tab."""

    def __init__(self, problem: Problem, at: int) -> None:
        super().__init__([problem])
        self.at = at


def refusal(source: Source, index: int, message: str, hint: str | None) -> ProblemsError:
    """Return the problem of a part of YAML that has no meaning here."""
    return ProblemsError([source.problem(index, "yaml-feature", message, hint)])
