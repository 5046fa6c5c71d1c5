"""What a YAML text says, one step after the other: a text, where a list or mapping starts, its end."""

from __future__ import annotations

from typing import Literal, NamedTuple, TypeAlias

from eggfold.errors import ProblemsError
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


def refusal(source: Source, index: int, message: str, hint: str | None) -> ProblemsError:
    """Return the problem of a part of YAML that has no meaning here."""
    return ProblemsError([source.problem(index, "yaml-feature", message, hint)])
