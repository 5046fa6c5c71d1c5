"""Packs for a full shelf, as shares of the time they may take.

    python tests/benchmarks/bench_packs.py

200 things, six packs each, kilos and pounds mixed: with prices, without, and with needs so large that
a search through the packs would not end.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.timing import Check, report
from eggfold.load.shelf import OpenShelf, open_shelf
from eggfold.stock.holdings import ShelfToday, as_fraction, holding_of, price_per_unit, purchase_of

THINGS = 200
PACKS = 6
ALLOWED_S = 0.3
ROUNDS = 5
SIZES_KG = {
    "250 g": 0.25,
    "500 g": 0.5,
    "1 kg": 1,
    "2.5 kg": 2.5,
    "5 kg": 5,
    "10 kg": 10,
    "25 kg": 25,
    "8 oz": 0.227,
    "1 lb": 0.454,
    "2 lb": 0.907,
    "5 lb": 2.27,
    "10 lb": 4.54,
    "50 lb": 22.7,
}


def shelf_text(*, priced: bool) -> str:
    """Return a shelf of things in packs that get cheaper by the kilo, more or less."""
    draw = random.Random(7)  # noqa: S311 - the same shelf each time
    lines = ["currency: EUR", "items:"]
    for i in range(THINGS):
        lines += [f"  Thing {i}:", f"    left: {draw.randint(0, 900)} g", "    sold_in:"]
        for size in draw.sample(list(SIZES_KG), PACKS):
            price = 8 * SIZES_KG[size] ** 0.9 * draw.uniform(0.9, 1.1)
            lines.append(f"      - {{size: {size}{f', price: {price:.2f}' if priced else ''}}}")
    return "\n".join(lines) + "\n"


def read(text: str) -> OpenShelf:
    """Read a shelf from a file, as the program does."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "shelf.yaml"
        path.write_text(text, encoding="utf-8")
        opened, problems = open_shelf(str(path))
    assert opened is not None
    assert not problems
    return opened


def buy_all(opened: OpenShelf, need_g: float) -> None:
    """Buy every thing on the shelf for a need that differs a little from thing to thing."""
    stock = ShelfToday(opened, date(2026, 1, 1))
    for i, name in enumerate(opened.shelf.items):
        holding = holding_of(stock, name, "g", None)
        assert holding is not None
        need = as_fraction(need_g * (1 + i / THINGS))
        bought = purchase_of(need - (holding.in_hand or 0), holding.offers)
        assert bought is not None
        price_per_unit(need, bought, holding.offers)


def least_seconds(opened: OpenShelf, need_g: float) -> float:
    """Return the least time of several rounds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        buy_all(opened, need_g)
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Measure and print."""
    priced, bare = read(shelf_text(priced=True)), read(shelf_text(priced=False))
    cases = [
        ("priced, 12 kg each", priced, 12_345.678),
        ("priced, 400 kg each", priced, 400_000.123),
        ("without prices, 12 kg each", bare, 12_345.678),
    ]
    report(
        [Check(f"{what} / 300 ms", least_seconds(s, g) / ALLOWED_S, 1.0) for what, s, g in cases]
    )


if __name__ == "__main__":
    main()
