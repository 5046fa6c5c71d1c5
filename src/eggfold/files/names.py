"""The names in files by a look at their lines, where reading them whole would take too long.

What the usual ways of writing show is found, the rest is passed over in silence: a file that is
broken, or not there, gives the names that can still be seen.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

LIMIT_BYTES = 1024 * 1024

_SECTION = r"^{}[ ]*:[ ]*(?:#.*)?\n((?:[ -].*\n|[ \t]*(?:#.*)?\n)*)"
_QUOTED = r"""'(?:[^'\n]|'')*'|"[^"\\\n]*\""""
_KEY = re.compile(rf"""^([ ]+)({_QUOTED}|[^\s"'#\-{{[][^#\n]*?)[ ]*:(?:[ ]|$)""", re.MULTILINE)
_TOP_NAME = re.compile(r"^name[ ]*:[ ]+(.+)$", re.MULTILINE)
_BLOCK_NAME = re.compile(r"^[ ]*(?:- +|[ ])name[ ]*:[ ]+(.+)$", re.MULTILINE)
_FLOW_NAME = re.compile(rf"[{{,][ ]*name[ ]*:[ ]+({_QUOTED}|[^,}}\n]+)")
_MIX = re.compile(r"^(?:base_mix|[ ]+hookbait|[ ]+freebie)[ ]*:[ ]+([^{\s#].*)$", re.MULTILINE)
_LISTED = re.compile(r"^[ ]*- +([^{[\s#].*)$", re.MULTILINE)
_FLOW_LIST = re.compile(r"^additives[ ]*:[ ]*\[([^]{]*)\]", re.MULTILINE)
_LISTED_IN_FLOW = re.compile(rf"{_QUOTED}|[^\s,][^,]*")
_PLAN_KEY = re.compile(r"^(bowls|trips)[ ]*:", re.MULTILINE)


def plan_key(file: str) -> str | None:
    """Return the key that makes a file a plan, ``bowls`` before ``trips``; None for any other file."""
    found = _PLAN_KEY.findall(_text_of(file))
    return min(found) if found else None


def recipe_name(file: str) -> str | None:
    """Return the name a recipe's file gives it, or None."""
    found = _TOP_NAME.search(_text_of(file))
    return _unquoted(found[1]) or None if found else None


def names_in_recipe(file: str) -> Iterator[str]:
    """Yield the base mixes and additives that a recipe names."""
    text = _text_of(file)
    mixes = _section(text, "base_mix")
    additives = _section(text, "additives")
    found = [m[1] for m in _MIX.finditer(f"{mixes}\n{_lines_of(text, 'base_mix')}")]
    found += _BLOCK_NAME.findall(mixes + additives)
    found += _FLOW_NAME.findall(text)
    found += [value for value in _LISTED.findall(additives) if ": " not in value]
    for listed in _FLOW_LIST.findall(text):
        found += _LISTED_IN_FLOW.findall(listed)
    yield from filter(None, map(_unquoted, found))


def names_in_section(file: str, section: str) -> Iterator[str]:
    """Yield the keys of the first level inside a section of a file."""
    keys = [(len(m[1]), _unquoted(m[2])) for m in _KEY.finditer(_section(_text_of(file), section))]
    level = keys[0][0] if keys else 0
    yield from (name for indent, name in keys if indent == level)


def _section(text: str, name: str) -> str:
    body = re.search(_SECTION.format(name), text, re.MULTILINE)
    return body[1] if body else ""


def _lines_of(text: str, key: str) -> str:
    return "\n".join(line for line in text.split("\n") if line.startswith(key))


def _text_of(file: str) -> str:
    """Return the start of a file as text with plain line ends; nothing where it cannot be read."""
    try:
        with Path(file).open("rb") as stream:
            text = stream.read(LIMIT_BYTES).decode("utf-8-sig", "replace")
    except (OSError, ValueError):
        return ""
    return "\n".join([*re.split(r"\r\n?|\n", text), ""])


def _unquoted(value: str) -> str:
    text = value.strip()
    if found := re.match(_QUOTED, text):
        inner = found[0][1:-1]
        return inner.replace("''", "'") if text.startswith("'") else inner
    if text[:1] in ("'", '"'):  # a quote that is never closed
        return ""
    return re.sub(r"[ \t]+#.*$", "", text)
