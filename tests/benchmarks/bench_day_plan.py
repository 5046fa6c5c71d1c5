"""The planner of a day against 20,000 days drawn at random, and how long a weekend of 90 loads takes it.

    python tests/benchmarks/bench_day_plan.py [PLANS]

The package must be installed, or its ``src`` be on PYTHONPATH. The random days take several minutes.
"""

from __future__ import annotations

import random
import sys
import time
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from day_schedules import random_end_s
from demo_weekend import SMALLER_SATURDAY, SMALLER_SUNDAY, TWO_PEOPLE, fish, hours_of
from eggfold.engine.day_plan import plan_day, plan_days
from eggfold.engine.dispatch import DaySetting
from eggfold.engine.workplace import Hours

PLANS = 20_000
ROUNDS = 5
LATER_LIMIT = 1.03
"""A day may end so much later than the best random one, from its start."""
WEEKEND_LIMIT_MS = 300.0


def against_random(plans: int) -> float:
    """Return how much later the worse day of the demo weekend ends than the best random one."""
    worst = 0.0
    for day, bowls in enumerate((SMALLER_SATURDAY, SMALLER_SUNDAY)):
        setting = DaySetting(TWO_PEOPLE, hours_of(day))
        opens = setting.hours.opens_s
        run = plan_day(bowls, setting)
        draw = random.Random(4)  # noqa: S311 - the same days each time
        best = min(random_end_s(bowls, setting, draw) for _ in range(plans))
        if run is None or run.broken:
            return float("inf")
        print(
            f"{plans} random days: {(best - opens) / 60:.1f} min; {(run.end_s - opens) / 60:.1f} min"
        )
        worst = max(worst, (run.end_s - opens) / (best - opens))
    return worst


def weekend_ms() -> float:
    """Return the time to plan 90 loads for three on two long days."""
    bowls = [fish(20, 1020.0)] * 11
    place = TWO_PEOPLE._replace(people=3, tables=3)
    days = [Hours(d * 86_400.0, d * 86_400.0 + 14 * 3600.0, hours_of(d).breaks) for d in range(2)]
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        plan_days(bowls, place, days)
        times.append(time.perf_counter() - start)
    print(f"{sum(len(bowl.loads) for bowl in bowls)} loads")
    return median(times) * 1000


def main() -> None:
    """Measure and print; the exit tells whether every limit holds."""
    checks = [
        ("90 loads [ms]", weekend_ms(), WEEKEND_LIMIT_MS),
        ("over the best", against_random(int(sys.argv[1]) if sys.argv[1:] else PLANS), LATER_LIMIT),
    ]
    for what, value, limit in checks:
        print(f"{what:20} {value:8.3f}  at most {limit:g}{'' if value <= limit else '  over'}")
    sys.exit(any(value > limit for _, value, limit in checks))


if __name__ == "__main__":
    main()
