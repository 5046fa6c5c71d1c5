"""Named tuples whose annotations nobody compiles.

``typing.NamedTuple`` compiles the annotation of every field when a class is made, to check what mypy has
checked before: over a hundred classes, a twentieth of the time in which a card begins. Here they are left alone.
For mypy it is the standard one. Annotations come from the future, as ruff sees: without, Python 3.14 has none yet.
"""

from __future__ import annotations

from collections import namedtuple
from typing import TYPE_CHECKING, Any

__all__ = ["NamedTuple"]

if TYPE_CHECKING:
    from typing import NamedTuple
else:

    class _Making(type):
        """Makes a named tuple of the annotated names of a class; all else becomes part of it."""

        def __new__(cls, name: str, bases: tuple[type, ...], names: dict[str, Any]) -> type:
            if not bases:
                return super().__new__(cls, name, bases, names)
            fields = names["__annotations__"]
            given = [names.pop(field) for field in fields if field in names]
            module = names.pop("__module__")
            made = namedtuple(name, fields, defaults=given, module=module)  # noqa: PYI024
            for key, value in names.items():
                setattr(made, key, value)
            return made

    class NamedTuple(metaclass=_Making):
        """The base of a named tuple."""
