"""Doses that can be reckoned by hand, as mass and as volume, with and without a density."""

from __future__ import annotations

import pytest

from eggfold.amounts import Amount, parse_dose
from eggfold.engine.scaling import DoseRates, dose_rates, measure_of, scale_dose
from eggfold.units import Quantity, dose_quantity, quantity_of


def dose(text: str) -> Quantity:
    found = dose_quantity(parse_dose(text))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("text", "density_g_ml", "rates"),
    [
        ("3 g per egg", None, DoseRates(3, 0)),
        ("3 g per 2 eggs", 1.25, DoseRates(1.5, 0)),
        ("4 ml per egg", 1.25, DoseRates(5, 0)),
        ("20 g per kg mix", None, DoseRates(0, 0.02)),
        ("20 ml per kg mix", 0.9, DoseRates(0, 0.018)),
        ("2 % of mix", None, DoseRates(0, 0.02)),
    ],
)
def test_a_dose_is_mass_per_egg_or_per_mix(
    text: str, density_g_ml: float | None, rates: DoseRates
) -> None:
    assert dose_rates(dose(text), density_g_ml) == pytest.approx(rates, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "unit", "amount"),
    [
        ("3 g per egg", "g", 18),
        ("0.5 ml per egg", "ml", 3),
        ("20 g per kg mix", "g", 15.6),
        ("5 ml per kg mix", "ml", 3.9),
        ("2 % of mix", "g", 15.6),
    ],
)
def test_six_eggs_and_780_g_of_mix_take_so_much(text: str, unit: str, amount: float) -> None:
    assert scale_dose(dose(text), 6, 780).m_as(unit) == pytest.approx(amount, rel=1e-12)


def test_an_amount_has_a_volume_where_a_density_is_known() -> None:
    powder, spoon = quantity_of(Amount(9.0, "g")), quantity_of(Amount(5.0, "ml"))
    assert measure_of(powder, None) == (9, None)
    assert measure_of(powder, 0.9) == pytest.approx((9, 10))
    assert measure_of(spoon, 0.9) == pytest.approx((4.5, 5))


def test_a_volume_without_a_density_has_no_mass() -> None:
    with pytest.raises(ValueError, match="a dose by volume needs a density"):
        dose_rates(dose("5 ml per kg mix"), None)
    with pytest.raises(ValueError, match="a volume needs a density"):
        measure_of(quantity_of(Amount(5.0, "ml")), None)
