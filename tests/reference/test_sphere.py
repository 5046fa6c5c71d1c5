"""The series of a sphere in water against textbooks and against a numerical solution."""

from __future__ import annotations

import math

import pytest

from eggfold.engine.sphere import (
    FEWEST_ROOTS,
    MOST_ROOTS,
    Sphere,
    centre_fraction,
    roots_needed,
    sphere_roots,
)
from reference.heat_equation import Ball
from reference.heat_equation import centre_c as solved_centre_c

# Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, Table 5.1, sphere: Bi, ζ1, C1.
INCROPERA = [
    (0.01, 0.1730, 1.0030),
    (0.02, 0.2445, 1.0060),
    (0.04, 0.3450, 1.0120),
    (0.06, 0.4217, 1.0179),
    (0.08, 0.4860, 1.0239),
    (0.1, 0.5423, 1.0298),
    (0.2, 0.7593, 1.0592),
    (0.3, 0.9208, 1.0880),
    (0.4, 1.0528, 1.1164),
    (0.5, 1.1656, 1.1441),
    (0.6, 1.2644, 1.1713),
    (0.7, 1.3525, 1.1978),
    (0.8, 1.4320, 1.2236),
    (0.9, 1.5044, 1.2488),
    (1.0, 1.5708, 1.2732),
    (2.0, 2.0288, 1.4793),
    (3.0, 2.2889, 1.6227),
    (4.0, 2.4556, 1.7202),
    (5.0, 2.5704, 1.7870),
    (6.0, 2.6537, 1.8338),
    (7.0, 2.7165, 1.8673),
    (8.0, 2.7654, 1.8920),
    (9.0, 2.8044, 1.9106),
    (10.0, 2.8363, 1.9249),
    (20.0, 2.9857, 1.9781),
    (30.0, 3.0372, 1.9898),
    (40.0, 3.0632, 1.9942),
    (50.0, 3.0788, 1.9962),
    (100.0, 3.1102, 1.9990),
]


def first_coefficient(biot: float) -> float:
    """C1, read off the series where the first term is all that is left."""
    fourier = 2.0
    (root,) = sphere_roots(biot, 1)
    return centre_fraction(biot, fourier) * math.exp(root**2 * fourier)


def one_term_time_s(sphere: Sphere, start_c: float, water_c: float, centre_c: float) -> float:
    fraction = (water_c - centre_c) / (water_c - start_c)
    (root,) = sphere_roots(sphere.biot, 1)
    fourier = math.log(first_coefficient(sphere.biot) / fraction) / root**2
    return fourier * sphere.radius_m**2 / sphere.diffusivity_m2_s


def centre_c(sphere: Sphere, start_c: float, water_c: float, time_s: float) -> float:
    fourier = sphere.diffusivity_m2_s * time_s / sphere.radius_m**2
    return water_c - (water_c - start_c) * centre_fraction(sphere.biot, fourier)


@pytest.mark.parametrize(("biot", "zeta", "coefficient"), INCROPERA)
def test_incropera_table(biot: float, zeta: float, coefficient: float) -> None:
    assert sphere_roots(biot, 1)[0] == pytest.approx(zeta, abs=0.00005001)
    assert first_coefficient(biot) == pytest.approx(coefficient, abs=0.00005001)


# Six roots as tabulated in the tests of a public heat-conduction code, cut after six decimals.
@pytest.mark.parametrize(
    ("biot", "roots"),
    [
        (0.02, (0.244459, 4.497860, 7.727840, 10.905955, 14.067615, 17.221916)),
        (5.0, (2.570431, 5.354031, 8.302929, 11.334825, 14.407971, 17.503428)),
        (30.0, (3.037240, 6.076634, 9.120085, 12.169063, 15.224528, 18.286950)),
    ],
)
def test_six_roots(biot: float, roots: tuple[float, ...]) -> None:
    assert sphere_roots(biot, 6) == pytest.approx(roots, abs=1e-6)


@pytest.mark.parametrize("biot", [1e-3, 0.5, 0.999999, 1.0, 1.000001, 25.0, 1e6])
def test_each_root_lies_in_its_bracket_and_solves(biot: float) -> None:
    for number, root in enumerate(sphere_roots(biot, 40), start=1):
        assert (number - 1) * math.pi < root < number * math.pi
        assert root * math.cos(root) + (biot - 1) * math.sin(root) == pytest.approx(
            0, abs=1e-12 * max(biot, root)
        )


EGG = Sphere(diameter_m=0.05, conductivity_w_mk=0.627, diffusivity_m2_s=0.151e-6, film_w_m2k=1200.0)


# Çengel & Ghajar, Heat and Mass Transfer, Example 4-3, boiling eggs: 865 s by one term and a root
# read from a table; 0.5 % covers that reading, and is 0.3 K at the centre.
def test_cengel_egg() -> None:
    assert one_term_time_s(EGG, 5.0, 95.0, 70.0) == pytest.approx(865.0, rel=0.005)
    assert centre_c(EGG, 5.0, 95.0, 865.0) == pytest.approx(70.0, abs=0.3)


# Çengel & Ghajar, end-of-chapter problems on boiled eggs, 5.5 cm. The data are the book's; the
# times are the book's one-term equation with exact roots, worked out apart and printed to 0.1 s.
# One term asks for a Fourier number above 0.2. The last problem has 0.16, where it is 0.7 % late.
PROBLEMS = [
    (Sphere(0.055, 0.607, 0.146e-6, 800.0), 4.3, 100.0, 74.0, 1105.9, 0.2),
    (Sphere(0.055, 0.6, 0.14e-6, 1400.0), 8.0, 97.0, 70.0, 1064.5, 0.2),
    (Sphere(0.055, 0.607, 0.146e-6, 800.0), 8.0, 100.0, 60.0, 844.9, 0.6),
]


@pytest.mark.parametrize(("egg", "start_c", "water_c", "reached_c", "time_s", "late_k"), PROBLEMS)
def test_cengel_problems(
    egg: Sphere, start_c: float, water_c: float, reached_c: float, time_s: float, late_k: float
) -> None:
    assert one_term_time_s(egg, start_c, water_c, reached_c) == pytest.approx(time_s, abs=0.06)
    assert centre_c(egg, start_c, water_c, time_s) == pytest.approx(reached_c, abs=late_k)


# Çengel & Ghajar, the first of these problems: the printed Biot number.
def test_biot_number_is_on_the_radius() -> None:
    assert PROBLEMS[0][0].biot == pytest.approx(36.24, abs=0.006)


# The number of roots is the program's own choice: the first that is left out is below exp(-16).
@pytest.mark.parametrize("biot", [0.3, 3.0, 20.0, 400.0])
@pytest.mark.parametrize("fourier", [0.005, 0.012, 0.02, 0.0648, 0.0649, 0.13, 1.0])
def test_more_roots_change_nothing(biot: float, fourier: float) -> None:
    expected = math.fsum(
        4 * (math.sin(z) - z * math.cos(z)) / (2 * z - math.sin(2 * z)) * math.exp(-z * z * fourier)
        for z in sphere_roots(biot, 200)
    )
    assert centre_fraction(biot, fourier) == pytest.approx(expected, abs=4e-7)


@pytest.mark.parametrize("fourier", [0.00074, 0.003, 0.01, 0.03, 0.0648, 0.0649, 0.2, 5.0])
def test_the_last_root_has_died_out(fourier: float) -> None:
    count = roots_needed(fourier)
    for biot in (0.01, 3.0, 1000.0):
        assert sphere_roots(biot, count)[-1] ** 2 * fourier > 16
    assert count == FEWEST_ROOTS or ((count / 2 - 1) * math.pi) ** 2 * fourier <= 16


def test_there_is_a_limit_to_roots() -> None:
    assert roots_needed(0.0) == MOST_ROOTS
    assert roots_needed(9.0) == FEWEST_ROOTS


# Numerical solution of the heat equation; its layers are good to 0.01 K.
@pytest.mark.parametrize("time_s", [20.0, 70.0, 140.0])
@pytest.mark.parametrize("film", [150.0, 1200.0])
def test_centre_agrees_with_a_numerical_solution(film: float, time_s: float) -> None:
    ball = Sphere(0.016, 0.42, 1.4e-7, film)
    expected = solved_centre_c(Ball(0.008, 0.42, 1.4e-7, film), 20.0, 99.974, time_s)
    assert centre_c(ball, 20.0, 99.974, time_s) == pytest.approx(expected, abs=0.01)


def test_nothing_has_changed_at_the_start() -> None:
    assert centre_c(EGG, 5.0, 95.0, 0.0) == 5.0


def test_another_size_and_another_paste() -> None:
    ball = Sphere(0.016, 0.4, 1.2e-7, 1200.0)
    assert ball.sized(0.020) == Sphere(0.020, 0.4, 1.2e-7, 1200.0)
    assert ball.conducting(1.5) == Sphere(0.016, 0.4 * 1.5, 1.2e-7 * 1.5, 1200.0)


@pytest.mark.parametrize("diameter_m", [0.0, -0.016, math.inf, math.nan])
def test_a_sphere_has_a_size(diameter_m: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        Sphere(diameter_m, 0.4, 1.4e-7, 1200.0)


def test_refusals() -> None:
    with pytest.raises(ValueError, match="Biot number"):
        sphere_roots(1e-4, 1)
    with pytest.raises(ValueError, match="one root"):
        sphere_roots(1.0, 0)
    with pytest.raises(ValueError, match="Fourier number"):
        centre_fraction(10.0, -0.1)
