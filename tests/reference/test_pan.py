"""What a pan takes, and how long it wants between two loads."""

from __future__ import annotations

import pytest

from eggfold.engine.pan import even_loads, pan_load_kg, reboil_wait_s


# Steam tables for water at 100 degC, 958.4 kg/m³ and 4216 J/(kg K), from memory; the correlation
# lies up to 0.6 % off.
def test_pan_load_balances_the_heat() -> None:
    load = pan_load_kg(5.0, 100.0, 20.0, 5.0, 2700.0)
    given = 0.005 * 958.4 * 4216 * 5
    assert load * 2700 * (95 - 20) == pytest.approx(given, rel=0.006)


def test_reboil_wait() -> None:
    assert reboil_wait_s(0.5, 2700.0, 100.0, 20.0, 2000.0, 0.4, 70.0, 30.0) == pytest.approx(65.0)
    assert reboil_wait_s(0.1, 2700.0, 100.0, 20.0, 2000.0, 0.4, 70.0, 30.0) == 30.0


@pytest.mark.parametrize(
    ("baits_g", "most_g", "number"),
    [(0, 521, 0), (1, 521, 1), (521, 521, 1), (521.1, 521, 2), (1200, 521, 3), (3 * 0.1, 0.3, 1)],
)
def test_loads_are_evened_out(baits_g: float, most_g: float, number: int) -> None:
    # a count: no load over what the pan takes, and one load fewer would not do
    loads = even_loads(baits_g, most_g)
    assert loads.number == number
    assert loads.number * loads.each_g == pytest.approx(baits_g)
    assert loads.each_g <= most_g * (1 + 1e-8)


def test_refusals() -> None:
    with pytest.raises(ValueError, match="colder"):
        pan_load_kg(5.0, 100.0, 95.0, 5.0, 2700.0)
    with pytest.raises(ValueError, match="burner"):
        reboil_wait_s(0.5, 2700.0, 100.0, 20.0, 0.0, 0.4, 70.0, 30.0)
    with pytest.raises(ValueError, match="must take more"):
        even_loads(100.0, 0.0)
