"""The heat equation in a ball, solved without any series."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from scipy.integrate import solve_ivp

if TYPE_CHECKING:
    from numpy.typing import NDArray

LAYERS = 400
"""They are good to 0.01 K."""
COOLS_S = 300.0
"""The centre of a 30 mm ball has turned by then."""


class Ball(NamedTuple):
    """What is heated from outside; by symmetry no heat goes through its centre."""

    radius_m: float
    conductivity_w_mk: float
    diffusivity_m2_s: float
    film_w_m2k: float


def centre_c(ball: Ball, start_c: float, water_c: float, time_s: float) -> float:
    """Return the temperature at the centre, from the balance of every layer."""
    return _inner(_heated(ball, np.full(LAYERS, start_c), water_c, time_s).y[:, -1])


def peak_after_c(
    ball: Ball, start_c: float, water_c: float, time_s: float, air_c: float, cooling_film: float
) -> float:
    """Return the most that the centre reaches in air, after so long in water."""
    return peak_after(ball, start_c, water_c, time_s, air_c, cooling_film)[0]


def peak_after(
    ball: Ball, start_c: float, water_c: float, time_s: float, air_c: float, cooling_film: float
) -> tuple[float, float]:
    """Return the most that the centre reaches in air, after so long in water, and when."""
    warm = np.full(LAYERS, start_c)
    if time_s > 0:
        warm = _heated(ball, warm, water_c, time_s).y[:, -1]
    cooling = _heated(ball._replace(film_w_m2k=cooling_film), warm, air_c, COOLS_S)
    return max((_inner(column), time) for column, time in zip(cooling.y.T, cooling.t, strict=True))


def _inner(layer_c: NDArray[np.float64]) -> float:
    return (9 * float(layer_c[0]) - float(layer_c[1])) / 8


def _heated(ball: Ball, layer_c: NDArray[np.float64], fluid_c: float, time_s: float) -> Any:
    edges = np.linspace(0.0, ball.radius_m, LAYERS + 1)
    width = edges[1] - edges[0]
    capacity = ball.conductivity_w_mk / ball.diffusivity_m2_s
    volumes = np.diff(edges**3) / 3 * capacity
    links = ball.conductivity_w_mk * edges[1:-1] ** 2 / width
    surface = edges[-1] ** 2 / (width / 2 / ball.conductivity_w_mk + 1 / ball.film_w_m2k)

    def change(_time_s: float, layer_c: NDArray[np.float64]) -> NDArray[np.float64]:
        flows = np.zeros(LAYERS + 1)
        flows[1:-1] = links * (layer_c[:-1] - layer_c[1:])
        flows[-1] = surface * (layer_c[-1] - fluid_c)
        return (flows[:-1] - flows[1:]) / volumes

    return solve_ivp(
        change,
        (0.0, time_s),
        layer_c,
        method="LSODA",
        lband=1,
        uband=1,
        rtol=1e-8,
        atol=1e-8,
        max_step=time_s / 100,
    )
