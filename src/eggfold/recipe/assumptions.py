"""What a result assumed, each figure with its origin."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from eggfold.reference.defaults import DEFAULTS, Origin
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.files.recipe import Assume


class Assumption(NamedTuple):
    """One figure a result rests on: what it is, its value, and where it comes from."""

    what: str
    value: str
    origin: Origin
    source: str | None = None


@dataclass(slots=True)
class Assumed:
    """Collects assumptions while a result is built, each thing once."""

    overrides: Assume | None = None
    found: dict[str, Assumption] = field(default_factory=dict)

    def note(self, what: str, value: str, origin: Origin, source: str | None = None) -> None:
        """Remember that a figure was used."""
        self.found.setdefault(what, Assumption(what, value, origin, source))

    def value(self, name: str) -> float:
        """Return a named default, or the recipe's own value for it, and remember it."""
        default = DEFAULTS[name]
        own = getattr(self.overrides, name) if self.overrides else None
        if own is None:
            text = f"{default.value:g} {default.unit}"
            self.note(default.what, text, default.origin, default.source)
            return default.value
        number: float = own if isinstance(own, float) else amount_in(own, default.unit)
        self.note(default.what, f"{number:g} {default.unit}", "yours")
        return number

    def share(self, name: str) -> float:
        """Return a named default in per cent as a share."""
        return self.value(name) / 100

    def listed(self) -> tuple[Assumption, ...]:
        """Return everything that was noted, in order."""
        return tuple(self.found.values())
