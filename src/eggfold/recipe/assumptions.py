"""What a result assumes, each figure with its origin; it comes back beside the figure."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain
from typing import TYPE_CHECKING

from eggfold.records import NamedTuple
from eggfold.reference.defaults import DEFAULTS, Origin
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.load.recipe import Assume


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
