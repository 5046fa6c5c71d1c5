"""The JSON Schema of a text: a pattern that takes every way of writing it that is read."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from eggfold.amounts import SPELLED_OUT, UNITS, VULGAR, Dimension

_DIGITS = r"[0-9]+([.,][0-9]+)?"
_FRACTION = rf"([0-9]+ ?)?([{''.join(VULGAR)}]|[1-9][0-9]?[/⁄][1-9][0-9]?)"
NUMBER = rf"({_FRACTION}|{_DIGITS})"
_SPACE = r"[ \t]*"
_CLOCK = r"[0-9]{1,2}([:.]|[ ]?h)?([0-9]{2})?[ ]?([aApP][.]?[mM][.]?)?"
_DATE = r"[0-9]{4}[-/.][0-9]{1,2}[-/.][0-9]{1,2}"
_WORD = r"[a-zA-Z]+"


def any_case(words: Iterable[str]) -> str:
    """Return a pattern of words in small and capital letters; a space may be any gap."""
    return "|".join("".join(map(_either_case, word)) for word in words)


def _either_case(letter: str) -> str:
    if letter in " -_":
        return "[ _-]+"
    return f"[{letter.lower()}{letter.upper()}]" if letter.isalpha() else re.escape(letter)


def units(dimensions: Iterable[Dimension]) -> str:
    """Return a pattern of the units of some dimensions, however they are spelt."""
    known = [unit for dimension in dimensions for unit in UNITS[dimension]]
    words = [*known, *(word for word, unit in SPELLED_OUT.items() if unit in known)]
    return f"({any_case(dict.fromkeys(words))})[sS]?[.]?"


def amount(*dimensions: Dimension) -> str:
    """Return the pattern of an amount, in one unit or in two."""
    one = f"{NUMBER}{_SPACE}{units(dimensions)}"
    return f"{one}([ ,]{{0,2}}[0-9]{{1,4}}{_SPACE}{units(dimensions)})?"


def dose() -> str:
    """Return the pattern of a dose."""
    per = rf"( ?/ ?| ({any_case(('per', 'a', 'an', 'each', 'for', 'for each'))}) )"
    amounts = f"{NUMBER}{_SPACE}{units(('mass', 'volume'))}"
    egg = r"([0-9.]+ ?)?eggs?"
    mix = r"([0-9.,]+ ?)?(kg|kilo|kilogram|lb|pound|g|gram)s? (of )?(dry )?mix"
    egg_amount = f"({NUMBER}{_SPACE})?{units(('mass', 'volume'))}"
    of_eggs = f"{egg_amount} (of )?(beaten |liquid )?eggs?"
    share = rf"{NUMBER} ?(%|per ?cent) (of )?(the )?(dry )?mix"
    return f"{any_case(['none'])}|{share}|{amounts}{per}({egg}|{mix}|{of_eggs})"


_PATTERNS: dict[str, str] = {
    "number": NUMBER,
    "share": amount("share"),
    "date": _DATE,
    "time of day": _CLOCK,
    "moment": rf"{_DATE}([tT]|,? +(at )?){_CLOCK}",
    "hours": rf"(from )?{_CLOCK} ?(-|–|—|to|until|till) ?{_CLOCK}",
    "price": rf"([^\s0-9]{{1,3}} ?)?{NUMBER}( ?[^\s0-9]{{1,3}})?",
    "pace": rf"{amount('mass')}{_SPACE}(per|/|an?) ?(h|hour)",
    "cork pace": rf"{NUMBER} ?(per|an|/) ?(h|hour)",
    "soak": rf"{NUMBER}{_SPACE}{units(('mass', 'volume'))} per ({NUMBER} )?(kg|lb) bait",
    "pieces": rf"[0-9]+ ?({any_case(['x', 'pc', 'pcs', 'piece', 'egg', 'ball', 'unit'])})?s?",
}


def pattern_of(*alternatives: tuple[str, ...]) -> str:
    """Return the pattern of a text that is written in one of several ways, each a kind and its words."""
    return f"^[ ]*({'|'.join(_pattern(kind, *words) for kind, *words in alternatives)})[ ]*$"


def _pattern(kind: str, *words: Any) -> str:
    if kind == "amount":
        return amount(*words)
    if kind == "dose":
        return dose()
    if kind == "word":
        return any_case(words)
    if kind == "whole":
        return rf"[0-9]+ ?({any_case(words)})s?" if words[0] else "[0-9]+"
    if kind == "eggs":
        return _eggs(*words)
    return _PATTERNS[kind]


def _eggs(numbers: tuple[str, ...], grades: tuple[str, ...], letters: tuple[str, ...]) -> str:
    count = f"([0-9]{{1,6}}|{any_case(numbers)})?"
    standard = any_case(("eu", "us", "uk"))
    size = f"({any_case(grades)}|{any_case(letters)})?"
    gap = "[ _-]*"
    return f"{count}{gap}[x×]?{gap}({standard})?{gap}{size}{gap}({standard})?{gap}([eE]ggs?)?"
