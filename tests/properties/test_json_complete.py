"""Every figure that a page prints is in its JSON: unrounded there, so each is looked for as shown."""

from __future__ import annotations

import json
import math
import re
from typing import TYPE_CHECKING, Any

import pytest

from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

CARAWAY, MILLET = "recipes/osierfen-caraway.yaml", "recipes/osierfen-millet.yaml"
RUNS = (
    ("batch", CARAWAY, "--as", "freebie", "--eggs", "6", "--full"),
    ("batch", "recipes/osierfen-reedmace.yaml", "--full"),
    ("batch", "recipes/osierfen-weir-us.yaml", "--as", "hookbait", "--eggs", "3", "--full"),
    ("shopping", CARAWAY, MILLET, "--as", "freebie", "--eggs", "24"),
    ("doses", CARAWAY),
    ("doses", "--additives", "recipes/additives.yaml"),
    ("boil", "14mm", "20mm"),
    ("boil", "--for", "80s", "16mm"),
    ("buoyancy", "--core", "12mm", "--skin", "2mm"),
    ("powder", MILLET),
    ("powder", "recipes/osierfen-stillwater-fish.yaml"),
    ("shelf", "recipes"),
    ("trials", CARAWAY, MILLET),
)
FIGURE = re.compile(r"(?<![\w.:#])([−-]?[0-9][0-9,]*(?:\.[0-9]+)?)(?![\w:]|\.[0-9]|-[0-9]{2})")
FACTORS = (1, 1000, 0.001, 100, 0.01, 60, 1 / 60, 3600, 1 / 3600)
"""Between a unit on a page and one in JSON; a share may stand in per cent."""
NO_FIGURE = re.compile(
    r"95 % range|USDA [0-9]+|  \[ \] .*|RANGES  95 %|[0-9]{4}-[0-9]{2}-[0-9]{2}|[0-9]+:[0-9]{2}|recipe [0-9a-f]{8}|'[^']*'|[A-Z][a-z]+ \([^)]*\)"
)
"""Days, times, digests, quoted words, and scoops: base_mix_low_g and the like, as a scale shows them."""


def numbers_in(data: Any) -> Iterator[float]:
    """Yield each number of JSON; those in its texts too, where a tool or a source is named."""
    if isinstance(data, bool) or data is None:
        return
    if isinstance(data, int | float):
        yield float(data)
    elif isinstance(data, str):
        yield from (
            float(found.replace(",", ""))
            for found in re.findall(r"[0-9][0-9,]*(?:\.[0-9]+)?", data)
        )
    else:
        for part in data.values() if isinstance(data, dict) else data:
            yield from numbers_in(part)


def is_shown(text: str, numbers: set[float]) -> bool:
    """Tell whether some number, in some unit, reads so when it is rounded."""
    digits = text.replace(",", "").replace("−", "-").lstrip("-")
    shown, places = float(digits), len(digits.partition(".")[2])
    step = 10.0 ** (-places if places else max(0, len(digits) - 3))
    if not places and any(math.floor(number) == shown for number in numbers):  # whole eggs
        return True
    if not places and shown % 5 == 0 and any(abs(n - shown) < 5 for n in numbers):  # to 5 s
        return True
    near = (abs(abs(number) * factor - shown) for number in numbers for factor in FACTORS)
    return min(near, default=math.inf) <= 0.51 * step


@pytest.mark.parametrize("args", RUNS, ids=" ".join)
def test_a_figure_on_a_page_is_in_json(args: tuple[str, ...], tmp_path: Path) -> None:
    copy_recipes(tmp_path, outings=True)
    page = run_eggfold(list(args), tmp_path).stdout
    data = json.loads(run_eggfold([*args, "--format", "json"], tmp_path).stdout)
    numbers = set(numbers_in(data))
    missing = {
        line.strip(): lost
        for line in page.splitlines()
        if (
            lost := [f for f in FIGURE.findall(NO_FIGURE.sub("", line)) if not is_shown(f, numbers)]
        )
    }
    assert missing == {}
