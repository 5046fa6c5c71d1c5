"""Names and entries as YAML text that reads back as the same text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TypeAlias

Fields: TypeAlias = "dict[str, str | dict[str, str]]"
"""An entry: keys with a text, or with texts of their own."""

_PLAIN = r"[^\W_](?:[\w .()/%+'&°×-]*[\w.()/%+'&°×-])?"
_ESCAPED = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def scalar_text(text: str) -> str:
    """Return a text as a plain scalar where that is safe everywhere, else in double quotes."""
    if re.fullmatch(_PLAIN, text):
        return text
    return f'"{"".join(_escaped(character) for character in text)}"'


def _escaped(character: str) -> str:
    if character in _ESCAPED:
        return _ESCAPED[character]
    if character == " " or (character.isprintable() and character != "\ufeff"):
        return character
    code = ord(character)
    if code > 0xFFFF:
        return f"\\U{code:08X}"
    return f"\\u{code:04X}"


def flow_entry(fields: Fields) -> list[str]:
    """Return an entry as one line: a list item with all keys in braces."""
    return [f"- {_braces(fields)}"]


def _braces(fields: Fields) -> str:
    pairs = (
        f"{scalar_text(key)}: {_braces({**value}) if isinstance(value, dict) else scalar_text(value)}"
        for key, value in fields.items()
    )
    return f"{{{', '.join(pairs)}}}"


def block_entry(fields: Fields) -> list[str]:
    """Return an entry as a list item with a line for each key."""
    lines = list(_block_lines(fields))
    return [f"- {lines[0]}", *(f"  {line}" for line in lines[1:])]


def _block_lines(fields: Fields) -> Iterator[str]:
    for key, value in fields.items():
        if isinstance(value, dict):
            yield f"{scalar_text(key)}:"
            yield from (f"  {scalar_text(k)}: {scalar_text(v)}" for k, v in value.items())
        else:
            yield f"{scalar_text(key)}: {scalar_text(value)}"
