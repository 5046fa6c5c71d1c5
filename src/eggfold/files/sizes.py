"""Several sizes in one breath, as people write them: what a list of baits looks like instead."""

from __future__ import annotations

import re
from collections.abc import Sequence

from eggfold.amounts import AmountError, parse_amount

_BETWEEN = re.compile(r"(?<=[a-z]),\s*|,\s+|\s*[;+&]\s*|\s+and\s+")
MOST_SHOWN = 6
"""More sizes than this are not spelled out."""


def sizes_in(text: str) -> list[str]:
    """Return the sizes that a text names, each with its unit; none where it is not several sizes."""
    parts = _BETWEEN.split(text.strip())
    if len(parts) < 2:
        return []
    unit = re.sub(r"[0-9. ]", "", parts[-1])
    sizes = [f"{part} {unit}" if re.fullmatch(r"[0-9.]+", part) else part for part in parts]
    return sizes if all(map(_is_size, sizes)) else []


def _is_size(text: str) -> bool:
    try:
        parse_amount(text, "length")
    except AmountError:
        return False
    return True


def list_of(sizes: Sequence[object]) -> str:
    """Return how several sizes are written: each takes its share of the paste, the last the rest."""
    shown = [s for s in sizes if isinstance(s, str) and _is_size(s)]
    if len(shown) != len(sizes) or len(shown) > MOST_SHOWN:
        shown = ["18 mm", "20 mm"]
    share = f", share: {100 // len(shown)} %"
    *heads, last = shown
    return f"[{''.join(f'{{size: {size}{share}}}, ' for size in heads)}{{size: {last}}}]"
