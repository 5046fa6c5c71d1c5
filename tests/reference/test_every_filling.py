"""The tool for a dose, against every tool, every number of fillings and every mark of each."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator

import pytest

from eggfold.engine.measuring import best_reading
from eggfold.reference.measures import BUILT_IN, Tool

CAPACITIES = ((1.0, 0.01), (2.0, 0.1), (2.5, 0.1), (5.0, 0.2), (10.0, 0.5), (20.0, 1.0))


def errors_of(tool: Tool, dose: float) -> Iterator[float]:
    """Yield the error in per cent of every amount that five fillings give, or twenty drops."""
    whole = tool.kind in {"spoon", "dropper"}
    step = tool.capacity if whole else tool.division
    marks = 1 if whole else round(tool.capacity / step)
    for fillings in range(1, (20 if tool.kind == "dropper" else 5) + 1):
        for n in range(1, fillings * marks + 1):
            error = abs(n * step - dose) + fillings * tool.division / 2
            yield error / dose * 100


def any_bench(chance: random.Random) -> list[Tool]:
    syringes = [
        Tool(f"{c:g} ml syringe", "syringe", "ml", c, d)
        for c, d in chance.sample(CAPACITIES, chance.randint(1, 4))
    ]
    spoon = chance.choice([1.25, 2.5, 5.0, 15.0])
    drop = 1 / chance.choice([20, 30, 32, 40])
    return [
        *syringes,
        Tool("spoon", "spoon", "ml", spoon, spoon / 5),
        Tool("dropper", "dropper", "ml", drop, drop / 5),
    ]


@pytest.mark.parametrize("seed", range(40))
def test_no_other_mark_of_any_tool_is_nearer_where_none_is_within_5_percent(seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311 - no secret
    tools = list(BUILT_IN[:5]) if seed % 4 == 0 else any_bench(chance)
    most = max(5 * tool.capacity for tool in tools)
    for _ in range(5):
        dose = math.exp(chance.uniform(math.log(0.03), math.log(most)))
        least = min(error for tool in tools for error in errors_of(tool, dose))
        reading = best_reading(tools, dose, dose)
        if least > 50:
            assert reading.premix > 1 or not reading.amount
        else:
            assert reading.premix == 1
            assert reading.error_pct <= max(least, 5) + 1e-6
