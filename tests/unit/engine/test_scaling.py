"""Doses that can be reckoned by hand, as mass and as volume, with and without a density."""

from __future__ import annotations

import pytest

from eggfold.amounts import parse_dose
from eggfold.engine.scaling import Dose, dose_by_mass, dose_of, scale_dose


def dose(text: str) -> Dose:
    found = dose_of(parse_dose(text))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("text", "density_g_ml", "mass"),
    [
        ("3 g per egg", None, Dose(3, 0)),
        ("3 g per 2 eggs", 1.25, Dose(1.5, 0)),
        ("4 ml per egg", 1.25, Dose(5, 0)),
        ("20 g per kg mix", None, Dose(0, 20)),
        ("1 lb per 2 lb mix", None, Dose(0, 500)),
        ("20 ml per kg mix", 0.9, Dose(0, 18)),
        ("2 % of mix", None, Dose(0, 20)),
    ],
)
def test_a_dose_is_mass_per_egg_or_per_mix(
    text: str, density_g_ml: float | None, mass: Dose
) -> None:
    assert dose_by_mass(dose(text), density_g_ml) == pytest.approx(mass, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "density_g_ml", "amount"),
    [
        ("3 g per egg", None, (18, None)),
        ("3 g per egg", 0.9, (18, 20)),
        ("0.5 ml per egg", 1.2, (3.6, 3)),
        ("20 g per kg mix", None, (15.6, None)),
        ("5 ml per kg mix", 0.9, (3.51, 3.9)),
        ("2 % of mix", None, (15.6, None)),
    ],
)
def test_six_eggs_and_780_g_of_mix_take_so_much(
    text: str, density_g_ml: float | None, amount: tuple[float, float | None]
) -> None:
    g, ml = scale_dose(dose(text), 6, 780, density_g_ml)
    assert g == pytest.approx(amount[0], rel=1e-12)
    assert ml == (None if amount[1] is None else pytest.approx(amount[1], rel=1e-12))


def test_a_volume_without_a_density_has_no_mass() -> None:
    with pytest.raises(ValueError, match="a dose by volume needs a density"):
        dose_by_mass(dose("5 ml per kg mix"), None)
    with pytest.raises(ValueError, match="a volume needs a density"):
        scale_dose(dose("5 ml per kg mix"), 6, 780, None)
