"""Heat flow into a skin of paste around a core, against a numerical solution and its own limits."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from eggfold.engine.heat import boil_time_s, centre_temperature_c
from eggfold.engine.shell import Shell, shell_roots
from eggfold.engine.sphere import Sphere, sphere_roots
from reference.heat_equation import Skin, inner_face_c

PASTE = (0.42, 1.4e-7)
WATER_C, START_C = 99.974, 20.0


def layers_inner_c(shell: Shell, time_s: float) -> float:
    skin = Skin(shell.core_m / 2, shell.diameter_m / 2, *PASTE, shell.film_w_m2k)
    return inner_face_c(skin, START_C, WATER_C, time_s)


# Numerical solution of the heat equation; its layers are good to 0.01 K.
@pytest.mark.parametrize("core_m", [0.004, 0.008, 0.010, 0.012, 0.014])
@pytest.mark.parametrize(("film", "time_s"), [(150.0, 30.0), (1200.0, 10.0), (1200.0, 40.0)])
def test_inner_face_agrees_with_a_numerical_solution(
    core_m: float, film: float, time_s: float
) -> None:
    shell = Shell(0.016, core_m, *PASTE, film)
    reached = centre_temperature_c(shell, START_C, WATER_C, time_s)
    assert reached == pytest.approx(layers_inner_c(shell, time_s), abs=0.01)


@pytest.mark.parametrize("core_m", [0.008, 0.010, 0.012])
@pytest.mark.parametrize("centre_c", [62.0, 73.0, 90.0])
def test_the_boil_ends_where_the_numerical_solution_says(core_m: float, centre_c: float) -> None:
    shell = Shell(0.016, core_m, *PASTE, 1200.0)
    time_s = boil_time_s(shell, START_C, WATER_C, centre_c)
    assert time_s is not None
    assert layers_inner_c(shell, time_s) == pytest.approx(centre_c, abs=0.01)


# A core of no size leaves the ball, which is checked against published tables of its own; a small
# one moves its inner face out of the centre, where the profile is flat: second order in its share.
@pytest.mark.parametrize("film", [30.0, 150.0, 1200.0, 20000.0])
@pytest.mark.parametrize("centre_c", [21.0, 62.0, 73.0, 90.0, 99.9])
def test_without_a_core_it_is_the_ball(film: float, centre_c: float) -> None:
    ball = boil_time_s(Sphere(0.016, *PASTE, film), START_C, WATER_C, centre_c)
    for core_m in (0.0, 1e-6, 1e-5):
        shell = boil_time_s(Shell(0.016, core_m, *PASTE, film), START_C, WATER_C, centre_c)
        assert shell == pytest.approx(ball, rel=1e-9 + 20 * (core_m / 0.016) ** 2)


def test_without_a_core_the_roots_are_those_of_the_ball() -> None:
    assert shell_roots(5.0, 0.0, 30) == pytest.approx(sphere_roots(5.0, 30), rel=1e-13)


# Incropera & DeWitt, Table 5.1, plane wall: Bi, ζ1, C1. A thin skin on a large core is a wall as
# deep as the skin, heated from one side; what the bend adds is of the order of the skin's share.
WALL = [(0.1, 0.3111, 1.0161), (1.0, 0.8603, 1.1191), (10.0, 1.4289, 1.2620)]


@pytest.mark.parametrize(("biot", "zeta", "coefficient"), WALL)
def test_a_thin_skin_is_a_wall(biot: float, zeta: float, coefficient: float) -> None:
    depth = 1e-4
    (root,) = shell_roots(biot / depth, 1 - depth, 1)
    assert root * depth == pytest.approx(zeta, abs=0.0002)
    shell = Shell(1.0, 1 - depth, 0.5 * depth, 1e-7, biot)
    assert shell.biot == pytest.approx(biot / depth)
    assert shell.terms(1)[0][0] == pytest.approx(coefficient, abs=0.0002)


@pytest.mark.parametrize("biot", [1e-3, 0.3, 0.999999, 1.0, 5.0, 25.0, 1e4])
@pytest.mark.parametrize("core_share", [0.05, 0.5, 0.9, 0.99])
def test_each_root_solves_the_film_condition(biot: float, core_share: float) -> None:
    """The profile's slope at the surface is what the film takes: u' = (1 − biot) u at r = 1."""
    roots = shell_roots(biot, core_share, 30)
    assert list(roots) == sorted(set(roots))
    for z in roots:
        depth = z * (1 - core_share)
        profile = math.sin(depth) + z * core_share * math.cos(depth)
        slope = z * math.cos(depth) - z * z * core_share * math.sin(depth)
        size = (1 + biot) * (1 + z * z)
        assert slope - (1 - biot) * profile == pytest.approx(0, abs=1e-10 * size)


# The coefficients are projections of a uniform start on each profile: integrals done by scipy.
@pytest.mark.parametrize("biot", [0.5, 24.0])
@pytest.mark.parametrize("core_share", [0.0, 0.4, 0.8])
def test_coefficients_are_projections(biot: float, core_share: float) -> None:
    ball = Shell(2.0, 2 * core_share, 1.0, 1.0, biot)
    for (coefficient, _), z in zip(ball.terms(6), shell_roots(biot, core_share, 6), strict=True):

        def profile(r: float, z: float = z) -> float:
            depth = z * (r - core_share)
            return math.sin(depth) + z * core_share * math.cos(depth)

        above = quad(lambda r, p=profile: r * p(r), core_share, 1, epsabs=1e-12)[0]
        below = quad(lambda r, p=profile: p(r) ** 2, core_share, 1, epsabs=1e-12)[0]
        assert coefficient == pytest.approx(above / below * z, rel=1e-8)


# The number of roots is the program's own choice; more of them must not move a boil by 0.1 s.
@pytest.mark.parametrize("core_m", [0.004, 0.010, 0.0155])
@pytest.mark.parametrize("film", [100.0, 1200.0, 20000.0])
@pytest.mark.parametrize("centre_c", [20.1, 32.0, 62.0, 90.0, 99.9])
def test_more_roots_change_nothing(core_m: float, film: float, centre_c: float) -> None:
    shell = Shell(0.016, core_m, *PASTE, film)
    time_s = boil_time_s(shell, START_C, WATER_C, centre_c)
    assert time_s is not None
    fourier = shell.diffusivity_m2_s * time_s / shell.radius_m**2
    left = math.fsum(c * math.exp(-d * fourier) for c, d in shell.terms(200))
    wanted = (WATER_C - centre_c) / (WATER_C - START_C)
    slope = math.fsum(-c * d * math.exp(-d * fourier) for c, d in shell.terms(200))
    late_s = (left - wanted) / slope * shell.radius_m**2 / shell.diffusivity_m2_s
    assert late_s == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize(
    ("diameter_m", "core_m"),
    [(0.016, 0.016), (0.016, 0.02), (0.016, -0.001), (0.016, math.nan), (0.0, 0.0)],
)
def test_a_core_fits_inside(diameter_m: float, core_m: float) -> None:
    with pytest.raises(ValueError, match=r"smaller|above 0"):
        Shell(diameter_m, core_m, *PASTE, 1200.0)


def test_refusals() -> None:
    with pytest.raises(ValueError, match="core's share"):
        shell_roots(5.0, 1.0, 1)
    with pytest.raises(ValueError, match="Biot number"):
        shell_roots(1e-5, 0.5, 1)
