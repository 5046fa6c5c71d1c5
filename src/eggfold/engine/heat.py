"""How long a ball of paste boils, and how warm its slowest point gets."""

from __future__ import annotations

from eggfold.engine.series import Ball, fourier_at, fraction_and_slope


def fourier_number(ball: Ball, time_s: float) -> float:
    """Give the time in the water as a Fourier number.

    Fo = diffusivity_m2_s time_s / (diameter_m / 2)², the first and the last of ball [1]_.

    Parameters
    ----------
    ball : Ball
        A Sphere, or a Shell around a core
    time_s : float
        Time in the water, 0 or more, [s]

    Returns
    -------
    float
        Fourier number on the radius, [-]

    Raises
    ------
    ValueError
        If the time is below 0.

    Notes
    -----
    The length is the radius, as in the Biot number.

    Examples
    --------
    The boiled egg of [1]_ has 0.209 at its printed 865 s:

    >>> from eggfold.engine.sphere import Sphere
    >>> egg = Sphere(diameter_m=0.05, conductivity_w_mk=0.627, diffusivity_m2_s=0.151e-6,
    ...              film_w_m2k=1200.0)
    >>> round(fourier_number(egg, 865.0), 3)
    0.209

    References
    ----------
    .. [1] Çengel, Y. A. and Ghajar, A. J., "Heat and mass transfer", 4th edition, 2011
       (edition from memory), Example 4-3.
    """
    if not time_s >= 0:
        raise ValueError(f"The time in the water must be 0 or more, not {time_s:g} s.")
    return ball.diffusivity_m2_s * time_s / ball.radius_m**2


def centre_temperature_c(ball: Ball, start_c: float, water_c: float, time_s: float) -> float:
    """Give the temperature at the slowest point of a ball after some time in the water.

    T = water_c − (water_c − start_c) θ, θ the series of ball at time_s [1]_.

    Parameters
    ----------
    ball : Ball
        A Sphere, or a Shell around a core
    start_c : float
        Temperature of the ball when it goes in, −40 to 150, [degC]
    water_c : float
        Temperature of the water, −40 to 150, [degC]
    time_s : float
        Time in the water, 0 or more, [s]

    Returns
    -------
    float
        Temperature at the centre, or at the inner face of a Shell, [degC]

    Raises
    ------
    ValueError
        If the time is below 0 or the Biot number lies outside 0.001 to 1 000 000.

    Notes
    -----
    The water keeps its temperature and the properties do not change on the way. Balls that touch
    one another, or a pan that goes off the boil, heat more slowly.

    Examples
    --------
    The boiled egg of [1]_ reaches 70 degC at its printed 865 s:

    >>> from eggfold.engine.sphere import Sphere
    >>> egg = Sphere(diameter_m=0.05, conductivity_w_mk=0.627, diffusivity_m2_s=0.151e-6,
    ...              film_w_m2k=1200.0)
    >>> round(centre_temperature_c(egg, 5.0, 95.0, 865.0))
    70

    References
    ----------
    .. [1] Çengel, Y. A. and Ghajar, A. J., "Heat and mass transfer", 4th edition, 2011
       (edition from memory), Example 4-3.
    """
    left, _ = fraction_and_slope(ball, fourier_number(ball, time_s))
    return water_c - (water_c - start_c) * left


def boil_time_s(ball: Ball, start_c: float, water_c: float, centre_c: float) -> float | None:
    """Find how long a ball must boil until its slowest point reaches a temperature.

    The time at which θ = (water_c − centre_c) / (water_c − start_c), θ the series of
    ball [1]_.

    Parameters
    ----------
    ball : Ball
        A Sphere, or a Shell around a core
    start_c : float
        Temperature of the ball when it goes in, −40 to 150, [degC]
    water_c : float
        Temperature of the water, −40 to 150, [degC]
    centre_c : float
        Temperature the centre is to reach, −40 to 150, [degC]

    Returns
    -------
    float or None
        Time in the water, 0 when the centre is already there, None when the water is not hotter
        than the asked centre, [s]

    Raises
    ------
    ValueError
        If the Biot number lies outside 0.001 to 1 000 000.

    Notes
    -----
    The water keeps its temperature and the properties do not change on the way. The full series
    is solved, not its first term, which is about 1 % late below a Fourier number of 0.2.

    Examples
    --------
    The boiled egg of [1]_, printed as 865 s from a table reading of the first root:

    >>> from eggfold.engine.sphere import Sphere
    >>> egg = Sphere(diameter_m=0.05, conductivity_w_mk=0.627, diffusivity_m2_s=0.151e-6,
    ...              film_w_m2k=1200.0)
    >>> round(boil_time_s(egg, 5.0, 95.0, 70.0))
    861
    >>> boil_time_s(egg, 5.0, 95.0, 95.0) is None
    True

    References
    ----------
    .. [1] Çengel, Y. A. and Ghajar, A. J., "Heat and mass transfer", 4th edition, 2011
       (edition from memory), Example 4-3.
    """
    if centre_c >= water_c:
        return None
    if centre_c <= start_c:
        return 0.0
    fraction = (water_c - centre_c) / (water_c - start_c)
    return fourier_at(ball, fraction) * ball.radius_m**2 / ball.diffusivity_m2_s
