"""Room on the trays and in the freezer, by geometry."""

from __future__ import annotations

import math

import pytest

from eggfold.engine.drying import freezer_l, tray_area_m2


# Geometry: as many circles' squares as there are balls, 1.4 of them (house default).
@pytest.mark.parametrize(("core_mm", "skin_mm"), [(0.0, 8.0), (10.0, 2.0), (12.0, 4.0)])
def test_tray_and_freezer_by_counting_balls(core_mm: float, skin_mm: float) -> None:
    diameter_cm = (core_mm + 2 * skin_mm) / 10
    core_ml, whole_ml = (math.pi / 6 * d**3 for d in (core_mm / 10, diameter_cm))
    each_g = 0.15 * core_ml + 1.16 * (whole_ml - core_ml)
    density = each_g / whole_ml
    area = tray_area_m2(200 * each_g, density, diameter_cm * 10)
    assert area == pytest.approx(200 * (diameter_cm / 100) ** 2 * 1.4)
    assert freezer_l(200 * each_g, density) == pytest.approx(200 * whole_ml / 1000 / 0.60)
