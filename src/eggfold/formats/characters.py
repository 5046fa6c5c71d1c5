"""Characters that may stand on a page, and figures that stay with their units."""

from __future__ import annotations

import re

_UNITS = "g|kg|ml|l|mm|m²|cm³|s|°C|K|degC|g/ml|g/g|egg|eggs|dry|rod-hours?|takes|oz|lb|fl|tsp|US|UK"
_FIGURE = re.compile(
    rf"(?<=[0-9±×]) (?=(?:{_UNITS})\b|%|[0-9])|(?<=_) (?=(?:{_UNITS})\b)"
    "|(?<=kg) (?=dry)|(?<=fl) (?=oz)|(?<=U[SK]) (?=tsp|fl)"
)
UNSAFE = re.compile(
    "[\x00-\x1f\x7f-\x9f\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]"
)


def clean(text: str) -> str:
    """Return text with control, line-separator and bidirectional characters shown as U+FFFD."""
    return UNSAFE.sub("\ufffd", text) if not text.isascii() or not text.isprintable() else text


def hold_figures(text: str) -> str:
    """Return text in which no figure can part from its unit: the space between is a fixed one."""
    return _FIGURE.sub("\u00a0", text)
