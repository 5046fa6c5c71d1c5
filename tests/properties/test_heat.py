"""What must hold for every ball and every composition."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.engine.boil import Course, boil_range_s, boil_time_s, lifted_c, peak_c
from eggfold.engine.properties import (
    conductivity_w_mk,
    density_kg_m3,
    diffusivity_m2_s,
    specific_heat_j_kgk,
)
from eggfold.engine.sphere import Sphere, centre_fraction
from eggfold.reference.properties import PART_NAMES, Parts

WATER_C = 99.974
START_C = 20.0

diameters_m = st.floats(0.004, 0.06)
conductivities_w_mk = st.floats(0.2, 0.65)
diffusivities_m2_s = st.floats(0.8e-7, 1.7e-7)
films_w_m2k = st.floats(100.0, 20000.0)
spheres = st.builds(Sphere, diameters_m, conductivities_w_mk, diffusivities_m2_s, films_w_m2k)
centres_c = st.floats(START_C + 0.5, WATER_C - 0.5)
times_s = st.floats(0.0, 3600.0)
courses = st.builds(
    Course,
    st.floats(-5.0, 60.0),
    st.floats(85.0, 100.0),
    st.floats(5.0, 35.0),
    st.floats(20.0, 2000.0),
)
shares = st.floats(0.001, 100.0)
compositions = st.builds(Parts, *[shares] * len(PART_NAMES))
temperatures_c = st.floats(0.0, 150.0)

PURE = [Parts(*(float(name == other) for other in PART_NAMES)) for name in PART_NAMES]
KITCHEN = Course(START_C, WATER_C, 20.0, 150.0)
ROUNDING = 1 + 1e-6


def boil(ball: Sphere, centre_c: float, course: Course = KITCHEN) -> float:
    time_s = boil_time_s(ball, course, centre_c)
    assert time_s is not None
    return time_s


@given(spheres, st.floats(1.0, 4.0), centres_c)
def test_a_bigger_ball_never_boils_shorter(ball: Sphere, growth: float, centre_c: float) -> None:
    bigger = ball.sized(ball.diameter_m * growth)
    assert boil(bigger, centre_c) * ROUNDING >= boil(ball, centre_c)


@given(spheres, centres_c, centres_c)
def test_a_hotter_target_never_boils_shorter(ball: Sphere, one_c: float, other_c: float) -> None:
    assert boil(ball, max(one_c, other_c)) * ROUNDING >= boil(ball, min(one_c, other_c))


@given(spheres, courses, st.floats(0.02, 0.98))
def test_the_peak_is_the_target(ball: Sphere, course: Course, part: float) -> None:
    coolest_c = max(course.start_c, course.air_c)  # colder than the air there is no peak
    centre_c = coolest_c + part * (course.water_c - coolest_c)
    reached_c = peak_c(ball, course, boil(ball, centre_c, course))
    assert reached_c == pytest.approx(centre_c, abs=0.01)


@given(spheres, courses, times_s)
def test_the_peak_lies_between_lifting_and_water(
    ball: Sphere, course: Course, time_s: float
) -> None:
    lifted = lifted_c(ball, course, time_s)
    assert course.start_c - 1e-4 <= lifted <= peak_c(ball, course, time_s) <= course.water_c + 1e-4


@given(spheres, courses, times_s, times_s)
def test_a_longer_boil_never_peaks_cooler(
    ball: Sphere, course: Course, one_s: float, other_s: float
) -> None:
    short_s, long_s = sorted((one_s, other_s))
    assert peak_c(ball, course, long_s) >= peak_c(ball, course, short_s) - 0.001


@given(spheres, centres_c, st.floats(0.0, 0.003), st.floats(0.0, 0.4))
def test_a_time_lies_in_its_range(
    ball: Sphere, centre_c: float, spread_m: float, share: float
) -> None:
    found = boil_range_s(ball, KITCHEN, centre_c, spread_m=spread_m, conductivity_share=share)
    assert found is not None
    assert found.low_s <= boil(ball, centre_c) * ROUNDING
    assert found.high_s * ROUNDING >= boil(ball, centre_c)


@given(st.floats(1e-3, 1e6), st.floats(0.0, 3.0), st.floats(0.0, 3.0))
def test_the_centre_only_warms(biot: float, one: float, other: float) -> None:
    early = centre_fraction(biot, min(one, other))
    late = centre_fraction(biot, max(one, other))
    assert 0 <= late <= early + 1e-9
    assert early <= 1 + 1e-9


@given(compositions, temperatures_c)
def test_a_mixture_lies_between_its_parts(parts: Parts, temperature_c: float) -> None:
    for function in (density_kg_m3, conductivity_w_mk, specific_heat_j_kgk):
        pure = [function(part, temperature_c) for part in PURE]
        assert min(pure) / ROUNDING <= function(parts, temperature_c) <= max(pure) * ROUNDING


@given(compositions, temperatures_c, st.floats(0.0, 0.4), st.floats(0.0, 0.4))
def test_more_air_is_lighter_and_conducts_less(
    parts: Parts, temperature_c: float, one: float, other: float
) -> None:
    little, much = sorted((one, other))
    for function in (density_kg_m3, conductivity_w_mk, diffusivity_m2_s):
        dense = function(parts, temperature_c, air_share=little)
        assert function(parts, temperature_c, air_share=much) <= dense * ROUNDING


@given(compositions, temperatures_c, st.floats(0.01, 100.0))
def test_the_scale_of_the_shares_does_not_matter(
    parts: Parts, temperature_c: float, scale: float
) -> None:
    scaled = Parts(*(share * scale for share in parts))
    for function in (density_kg_m3, conductivity_w_mk, specific_heat_j_kgk, diffusivity_m2_s):
        expected = function(parts, temperature_c)
        assert function(scaled, temperature_c) == pytest.approx(expected, rel=1e-12)
