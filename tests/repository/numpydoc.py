"""The sections of a numpydoc docstring, and the units in it."""

from __future__ import annotations

import re

_MASS_AND_SIZE = {"g", "kg", "mg", "ml", "l", "mm", "cm", "m", "m2", "m3", "percent"}
_TIME_AND_HEAT = {"s", "min", "h", "c", "k", "w", "kw", "j", "kj", "pa", "hpa", "kpa"}
UNITS = _MASS_AND_SIZE | _TIME_AND_HEAT
"""Last words of a name that are a unit."""

_SUPERSCRIPTS = str.maketrans("²³", "23")


def sections(docstring: str) -> dict[str, str]:
    """Return the text under each underlined heading."""
    parts = re.split(r"^(\w[\w ]*)\n-{3,}\n", docstring, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def entries(section: str) -> dict[str, str]:
    """Return the description of each name in a Parameters section, in order."""
    parts = re.split(r"^(\S[^:\n]*?)(?: *: *|\n)", section, flags=re.MULTILINE)
    pairs = zip(parts[1::2], parts[2::2], strict=True)
    return {name.strip().lstrip("*"): text for names, text in pairs for name in names.split(",")}


def unit_of_name(name: str) -> list[str]:
    """Return the units a name ends with: ``density_g_ml`` is g, ml."""
    words = name.split("_")
    start = len(words)
    while start > 1 and words[start - 1] in UNITS:
        start -= 1
    return words[start:]


def unit_in_brackets(text: str) -> list[str] | None:
    """Return the units of the first bracket: ``[W/(m² K), above 0]`` is w, m2, k."""
    bracket = re.search(r"\[([^\]]+)\]", text)
    if bracket is None:
        return None
    unit = re.split(r"[,;]", bracket[1])[0].translate(_SUPERSCRIPTS).replace("%", "percent")
    return re.findall(r"[a-z]+[23]?", unit.casefold().replace("deg", ""))
