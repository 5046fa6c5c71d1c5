"""The tool for a dose, at the edge of what a tool can show."""

from __future__ import annotations

import pytest

from eggfold.engine.measuring import best_reading
from eggfold.reference.bench import BUILT_IN, SCALES, SPOONS, Tool

COARSE = [SCALES[1]]
TEASPOON = [tool for tool in SPOONS if tool.capacity == 5]


@pytest.mark.parametrize("tools", [SCALES, COARSE], ids=["built in", "1 g scale"])
def test_no_dose_by_weight_is_out_by_more_than_half(tools: list[Tool]) -> None:
    doses = [tools[0].division / 100 * 1.03**step for step in range(400)]
    assert max(best_reading(tools, dose, None).error_pct for dose in doses) <= 50 + 1e-9


@pytest.mark.parametrize(
    ("dose_g", "premix"), [(0.05, 10), (0.09, 10), (0.1, 1), (0.15, 10), (0.2, 1)]
)
def test_a_premix_begins_where_half_a_division_is_half_the_dose(dose_g: float, premix: int) -> None:
    assert best_reading(BUILT_IN, dose_g, None).premix == premix


@pytest.mark.parametrize("dose", [0.1, 0.3, 0.7, 1.4, 2.5])
@pytest.mark.parametrize("tools", [BUILT_IN, COARSE, TEASPOON], ids=["built in", "1 g", "teaspoon"])
def test_a_premix_holds_the_dose_and_is_enough(tools: list[Tool], dose: float) -> None:
    reading = best_reading(tools, dose, dose)
    if reading.premix > 1:
        assert reading.amount / reading.premix == pytest.approx(dose, rel=0.1)
        assert reading.stirred * reading.premix >= reading.amount
        assert reading.tool.division / 2 <= 0.05 * reading.stirred
        assert reading.fillings <= 5


def test_a_dose_that_no_premix_brings_near_has_the_nearest_reading() -> None:
    reading = best_reading(TEASPOON, 2.6, 2.6)
    assert (reading.premix, reading.amount) == (10, 25.0)
