"""One thing on the shelf has one density, under whatever names it is dosed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from eggfold.nearest import fold
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.amounts import Amount
    from eggfold.errors import Problem
    from eggfold.files.additives import AdditiveKeys
    from eggfold.files.shelf import OpenShelf
    from eggfold.load.reading import Path, Placed


class _Stated(NamedTuple):
    """A density as somebody wrote it, and where."""

    name: str
    density: Amount
    where: str


class StatedDensities:
    """Remembers the density of everything on the shelf as files are read."""

    def __init__(self, shelf: OpenShelf) -> None:
        self._shelf = shelf
        self._first: dict[str, _Stated] = {}

    def conflicts(
        self, placed: Placed, named: Iterator[tuple[Path, str, AdditiveKeys]]
    ) -> Iterator[Problem]:
        """Yield a problem for each density that differs from the first of the same thing."""
        for path, name, keys in named:
            own = self._shelf.names.get(fold(name))
            if own is None or keys.density is None:
                continue
            at = (*path, "density")
            line = placed.source.place(placed.index(at)).line
            stated = _Stated(name, keys.density, f"{placed.source.file}:{line}")
            first = self._first.setdefault(own, stated)
            if amount_in(first.density, "g/ml") != amount_in(stated.density, "g/ml"):
                message = (
                    f"'{name}' weighs {stated.density}, but {first.density} as '{first.name}' in "
                    f"{first.where}; both are '{own}' on the shelf"
                )
                hint = "one density for both, or two items on the shelf"
                yield placed.problem(at, "two-densities", message, hint)
