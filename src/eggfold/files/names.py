"""The names in files by a look at their lines, where reading them whole would take too long.

What stands on a line of its own in block style is seen, the rest is passed over in silence.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from eggfold.files.folder import expand, kind_by_name

LIMIT_BYTES = 1024 * 1024

_RECIPE = re.compile(r"^name[ ]*:[ ]+(.+)$", re.MULTILINE)
_SECTION = r"^{}[ ]*:[ ]*(?:#.*)?\n((?:[ ].*\n|[ \t]*(?:#.*)?\n)*)"
_KEY = re.compile(
    r"""^([ ]+)("[^"\\]*"|'(?:[^']|'')*'|[^\s"'#\-{[][^#\n]*?)[ ]*:(?:[ ]|$)""", re.MULTILINE
)


def recipe_name(file: str) -> str | None:
    """Return the name a recipe's file gives it, or None."""
    found = _RECIPE.search(_text_of(file))
    return _unquoted(found[1]) or None if found else None


def names_in_section(file: str, section: str) -> list[str]:
    """Return the keys of the first level inside a section of a file."""
    body = re.search(_SECTION.format(section), _text_of(file), re.MULTILINE)
    keys = [(len(m[1]), _unquoted(m[2])) for m in _KEY.finditer(body[1])] if body else []
    level = keys[0][0] if keys else 0
    return [name for indent, name in keys if indent == level]


def recipe_names(folders: Iterable[str]) -> Iterator[str]:
    """Yield the names of the recipes in folders."""
    for file in expand(folders):
        if kind_by_name(file) is None and (name := recipe_name(file)):
            yield name


def _text_of(file: str) -> str:
    """Return the start of a file as text with plain line ends; nothing where it cannot be read."""
    try:
        with Path(file).open("rb") as stream:
            text = stream.read(LIMIT_BYTES).decode("utf-8-sig", "replace")
    except (OSError, ValueError):
        return ""
    return "\n".join([*text.splitlines(), ""])


def _unquoted(value: str) -> str:
    text = value.strip()
    if text.startswith("'"):
        return text[1:].partition("'")[0] if "''" not in text else text[1:-1].replace("''", "'")
    if text.startswith('"'):
        return text[1:].partition('"')[0]
    return re.sub(r"[ ]+#.*$", "", text)
