"""A 40 kg weekend and a season of 40 trips with 30 lots in hand inside the process, and how both grow.

    python tests/benchmarks/bench_plans.py

The package must be installed, or its ``src`` be on PYTHONPATH.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from statistics import median

from eggfold.load.load_plan import open_campaign, open_rolling
from eggfold.load.workspace import Chosen
from eggfold.plan.campaign import build_season
from eggfold.plan.rolling import build_rolling

ROOT = Path(__file__).resolve().parents[2]

ROUNDS = 7
WEEKEND_LIMIT_MS = 500.0
SEASON_LIMIT_MS = 2000.0
GROWTH_LIMIT = 3.0
"""Twice the work may take this many times as long."""

IN_HAND = 30
"""Lots in hand while a season is planned."""
LOTS = (
    ("Osierfen Caraway", "freebie"),
    ("Osierfen Stillwater Fish", "freebie"),
    ("Osierfen Caraway", "hookbait"),
)

WEEKEND = """\
start: 2027-03-27 08:00
hours: 14 h
days: {days}
people: 3
tables: 3
breaks: {{at: 12:30, lasts: 45 min}}
bowls:
  - {{recipe: osierfen-stillwater-fish, bait: {half} kg}}
  - {{recipe: osierfen-caraway, bait: {half} kg}}
"""


def season_plan(trips: int) -> str:
    """Return a campaign of so many weekly trips."""
    lines = ["hours: 10 h", "people: 2", "tables: 2", "trips:"]
    day = date(2027, 3, 23)
    for i in range(trips):
        lines += [
            f"  - leave: {day}",
            f"    back: {day + timedelta(days=2)}",
            "    freebies:",
            f"      - {{recipe: osierfen-caraway, bait: {6 + i % 5} kg}}",
            "      - {recipe: osierfen-stillwater-fish, bait: 4 kg}",
            "    hookbaits: {recipe: osierfen-caraway, count: 100}",
        ]
        day += timedelta(days=7)
    return "\n".join(lines) + "\n"


def shelf_with(lots: int) -> str:
    """Return a shelf with so many lots of bait in hand."""
    lines = ["items: {}", "baits:"]
    for i in range(lots):
        recipe, strength = LOTS[i % len(LOTS)]
        made = date(2027, 1, 1) + timedelta(days=i)
        lines.append(
            f"  - {{recipe: {recipe}, strength: {strength}, left: {1 + i % 3} kg, made: {made}}}"
        )
    return "\n".join(lines) + "\n"


def milliseconds(run: Callable[[], object]) -> float:
    """Return the median time of a call."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        run()
        times.append(time.perf_counter() - start)
    return median(times) * 1000


def weekend_ms(folder: Path, kilos: int) -> tuple[float, int]:
    """Return the time to plan a weekend, and its loads."""
    file = folder / "weekend.yaml"
    file.write_text(WEEKEND.format(half=kilos / 2, days=kilos // 20), encoding="utf-8")

    def run() -> int:
        rolling = build_rolling(open_rolling(str(file), Chosen()))
        return sum(len(bowl.baskets) for bowl in rolling.bowls)

    return milliseconds(run), run()


def season_ms(folder: Path, trips: int) -> tuple[float, int]:
    """Return the time to plan a season with bait in hand, and its rolling days."""
    (folder / "shelf.yaml").write_text(shelf_with(IN_HAND), encoding="utf-8")
    file = folder / "season.yaml"
    file.write_text(season_plan(trips), encoding="utf-8")
    today = "2027-03-01"

    def run() -> int:
        opened = open_campaign(str(file), Chosen(stocked=True), today)
        return len(build_season(opened, today).days)

    return milliseconds(run), run()


def main() -> None:
    """Measure and print; the exit tells whether every limit holds."""
    folder = Path(tempfile.mkdtemp())
    try:
        for name in ("additives", "osierfen-caraway", "osierfen-stillwater-fish"):
            shutil.copy(ROOT / "recipes" / f"{name}.yaml", folder)
        weekends = {kilos: weekend_ms(folder, kilos) for kilos in (20, 40, 80)}
        seasons = {trips: season_ms(folder, trips) for trips in (10, 20, 40)}
    finally:
        shutil.rmtree(folder)
    for kilos, (ms, loads) in weekends.items():
        print(f"{kilos:3} kg, {loads:3} loads      {ms:7.1f} ms")
    for trips, (ms, days) in seasons.items():
        print(f"{trips:3} trips, {days:3} days     {ms:7.1f} ms")
    checks = [
        ("40 kg weekend [ms]", weekends[40][0], WEEKEND_LIMIT_MS),
        ("40 trips [ms]", seasons[40][0], SEASON_LIMIT_MS),
        ("80 kg / 40 kg", weekends[80][0] / weekends[40][0], GROWTH_LIMIT),
        ("40 trips / 20 trips", seasons[40][0] / seasons[20][0], GROWTH_LIMIT),
    ]
    for what, value, limit in checks:
        print(f"{what:20} {value:8.2f}  at most {limit:g}{'' if value <= limit else '  over'}")
    sys.exit(any(value > limit for _, value, limit in checks))


if __name__ == "__main__":
    main()
