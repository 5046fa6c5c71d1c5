"""What an answer rests on: the files that were read, what was assumed, and the sources."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Protocol

from eggfold.pages.page import Block, Column, Facts, Lines, Table

if TYPE_CHECKING:
    from eggfold.load.load_recipe import Companion, Place
    from eggfold.recipe.assumptions import Assumption

PLACES: dict[Place, str] = {
    "beside": "Beside the recipe",
    "here": "In the working folder",
    "above": "In the folder above",
    "elsewhere": "Elsewhere",
}


class WithBasis(Protocol):
    """A result that says what it rests on."""

    @property
    def companions(self) -> tuple[Companion, ...]:
        """The files that were read with the recipe."""

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """What was assumed."""


def basis_blocks(answer: WithBasis, *, why: bool = False) -> Iterator[Block]:
    """Yield the files that were read, what was assumed, and with ``why`` where that comes from."""
    yield from companion_facts(answer.companions)
    yield assumption_table(answer.assumptions)
    if why:
        sources = tuple(f"{a.what}: {a.source}" for a in answer.assumptions if a.source)
        yield Lines("SOURCES", sources)


def companion_facts(companions: tuple[Companion, ...]) -> Iterator[Facts]:
    """Yield the files that were read with the recipe, by place; nothing where there are none."""
    rows = []
    for place, label in PLACES.items():
        if files := [_name(one) for one in companions if one.place == place]:
            rows.append((label, ", ".join(files)))
    if rows:
        yield Facts("FILES READ", tuple(rows))


def _name(companion: Companion) -> str:
    return companion.file if companion.place == "elsewhere" else companion.file_name


def assumption_table(assumptions: tuple[Assumption, ...]) -> Table:
    """Return the table of what was assumed, with its origin."""
    columns = (Column("What"), Column("value"), Column("origin"))
    rows = tuple((a.what, a.value.replace("degC", "°C"), a.origin) for a in assumptions)
    return Table("ASSUMED", columns, rows)
