"""The lift of a bait on a cork ball, and the skin of paste that gives an asked lift."""

from __future__ import annotations

import math

from eggfold.engine.paste import ball_volume_ml, cored_volume_ml
from eggfold.records import NamedTuple
from eggfold.reference.boiling import CORK_RANGE_G_ML, EQUAL_DENSITIES_G_ML, STEEL_DENSITY_G_ML


class Densities(NamedTuple):
    """Densities of lake water, cork and paste [g/ml]."""

    water_g_ml: float
    cork_g_ml: float
    paste_g_ml: float


class LiftRange(NamedTuple):
    """The lift with the heaviest cork and with the lightest [g]."""

    low_g: float
    high_g: float

    @property
    def holds_both_signs(self) -> bool:
        """One cork ball would float the bait and another would sink it: balanced at best."""
        return self.low_g < 0 < self.high_g


def hook_pull_g(hook_g: float, water_g_ml: float) -> float:
    """Return how hard a hook pulls down under water.

    ``pull = hook_g * (1 - water_g_ml / steel)``, steel 7.85 g/ml [1]_.

    Parameters
    ----------
    hook_g : float
        Mass of the hook in air [g], 0 or more.
    water_g_ml : float
        Density of the water [g/ml], above 0 and below 7.85.

    Returns
    -------
    float
        Weight under water as a mass [g].

    Notes
    -----
    A hook of tungsten or with lead on its shank pulls harder than one of steel.

    Examples
    --------
    >>> round(hook_pull_g(0.3, 1.0), 4)
    0.2618

    References
    ----------
    .. [1] EN 1991-1-1, "Actions on structures", 2002, Table A.4.
    """
    return hook_g * (1 - water_g_ml / STEEL_DENSITY_G_ML)


def lift_g(core_mm: float, skin_mm: float, densities: Densities, *, hook_g: float = 0.0) -> float:
    """Return the lift of a bait under water.

    ``lift = water * V_d - cork * V_c - paste * (V_d - V_c) - hook_g * (1 - water / 7.85)``, V_c the
    volume of core_mm and V_d that of core_mm + 2 skin_mm, densities from ``densities`` [1]_.

    Parameters
    ----------
    core_mm : float
        Diameter of the cork ball [mm], 0 or more.
    skin_mm : float
        Paste on each side of it [mm], 0 or more.
    densities : Densities
        Of lake water, cork and paste.
    hook_g : float, optional
        Mass of the hook in air [g], 0 or more.

    Returns
    -------
    float
        Lift as a mass [g], below 0 where the bait sinks.

    Notes
    -----
    A fresh bait. Paste drinks water and cork lets some in, so the lift falls over the hours; a
    boiled skin is a little denser than the raw paste.

    Examples
    --------
    A 10 mm ball under 3 mm of paste floats, and no longer does with a hook of 0.3 g:

    >>> lake = Densities(0.9995, 0.15, 1.16)
    >>> round(lift_g(10.0, 3.0, lake), 3)
    0.185
    >>> round(lift_g(10.0, 3.0, lake, hook_g=0.3), 3)
    -0.077

    References
    ----------
    .. [1] Archimedes, "On floating bodies", book 1, propositions 5 to 7.
    """
    water, cork, paste = densities
    diameter_mm = core_mm + 2 * skin_mm
    pushed = water * ball_volume_ml(diameter_mm)
    weight = cork * ball_volume_ml(core_mm) + paste * cored_volume_ml(diameter_mm, core_mm)
    return pushed - weight - hook_pull_g(hook_g, water)


def lift_range_g(
    core_mm: float, skin_mm: float, densities: Densities, *, hook_g: float = 0.0
) -> LiftRange:
    """Return the lift of a bait for all the cork that its ball may be of.

    ``lift_g`` with core_mm, skin_mm, hook_g and ``densities``, but cork of 0.24 and of 0.10 g/ml [1]_.

    Parameters
    ----------
    core_mm : float
        Diameter of the cork ball [mm], 0 or more.
    skin_mm : float
        Paste on each side of it [mm], 0 or more.
    densities : Densities
        Of lake water, cork and paste; the range takes in the cork's own.
    hook_g : float, optional
        Mass of the hook in air [g], 0 or more.

    Returns
    -------
    LiftRange
        Lowest and highest lift as a mass [g].

    Notes
    -----
    For cork of which ten balls were weighed the lift alone counts. Size and paste are taken as known;
    0.3 mm of diameter on a 14 mm bait would add 0.015 g either way.

    Examples
    --------
    A wafter that may float or sink:

    >>> low_g, high_g = lift_range_g(10.0, 3.0, Densities(0.9995, 0.15, 1.16), hook_g=0.2)
    >>> round(low_g, 3), round(high_g, 3)
    (-0.037, 0.036)

    References
    ----------
    .. [1] Silva, S. P. et al., "Cork: properties, capabilities and applications", International
       Materials Reviews 50, 2005, pp. 345–365: 0.12 to 0.24 g/ml (figures from memory).
    """
    corks = (*CORK_RANGE_G_ML, densities.cork_g_ml)
    heavy, light = (densities._replace(cork_g_ml=cork) for cork in (max(corks), min(corks)))
    return LiftRange(
        lift_g(core_mm, skin_mm, heavy, hook_g=hook_g),
        lift_g(core_mm, skin_mm, light, hook_g=hook_g),
    )


def soaked_lift_range_g(
    lift: LiftRange, taken_g: float, taken_ml: float, water_g_ml: float
) -> LiftRange:
    """Return the lift of a bait that has taken up liquid, in its pores or by swelling.

    ``low = lift.low - taken_g`` where all of it fills pores, ``high = lift.high - taken_g + taken_ml *
    water_g_ml`` where the bait swells by all of it [1]_.

    Parameters
    ----------
    lift : LiftRange
        Before.
    taken_g : float
        Mass that one bait takes up [g], 0 or more.
    taken_ml : float
        Its volume [ml], 0 or more; 0 where it is not known.
    water_g_ml : float
        Density of the water [g/ml], above 0.

    Returns
    -------
    LiftRange
        Lowest and highest lift as a mass [g].

    Notes
    -----
    What dries away is taken to shrink the bait by its own volume, which leaves the lift as it was.

    Examples
    --------
    A gram of syrup, 1.35 g/ml, taken up where the bait lifted 1 g:

    >>> low_g, high_g = soaked_lift_range_g(LiftRange(1.0, 1.0), 1.0, 1 / 1.35, 1.0)
    >>> round(low_g, 3), round(high_g, 3)
    (0.0, 0.741)

    References
    ----------
    .. [1] Archimedes, "On floating bodies", proposition 7 (from memory).
    """
    return LiftRange(lift.low_g - taken_g, lift.high_g - taken_g + taken_ml * water_g_ml)


def skin_for_lift_mm(
    core_mm: float, wanted_g: float, densities: Densities, *, hook_g: float = 0.0
) -> float | None:
    """Find the skin of paste that gives an asked lift.

    ``(core_mm + 2 skin)**3 = (6 / pi * (wanted_g + hook pull) + (cork - paste) * core_mm**3) / (water -
    paste)``, densities from ``densities``, pull from hook_g; it is ``lift_g`` solved for the skin [1]_.

    Parameters
    ----------
    core_mm : float
        Diameter of the cork ball [mm], above 0.
    wanted_g : float
        Asked lift with the hook [g]; below 0 sinks.
    densities : Densities
        Of lake water, cork and paste.
    hook_g : float, optional
        Mass of the hook in air [g], 0 or more.

    Returns
    -------
    float or None
        Skin [mm], above 0; None where no skin gives that lift, or any does.

    Notes
    -----
    Around a core in paste denser than water the bare ball lifts most, and every skin takes from
    that. Paste as dense as water changes nothing, whatever its thickness.

    Examples
    --------
    >>> round(skin_for_lift_mm(10.0, 0.185, Densities(0.9995, 0.15, 1.16)), 2)
    3.0

    References
    ----------
    .. [1] Archimedes, "On floating bodies", book 1, propositions 5 to 7.
    """
    water, cork, paste = densities
    if abs(water - paste) < EQUAL_DENSITIES_G_ML:
        return None
    core_ml = ball_volume_ml(core_mm)
    needed_g = wanted_g + hook_pull_g(hook_g, water) + (cork - paste) * core_ml
    bait_ml = needed_g / (water - paste)
    if bait_ml <= core_ml:
        return None
    skin_mm = (_ball_diameter_mm(bait_ml) - core_mm) / 2
    return skin_mm if skin_mm > 0 else None


def _ball_diameter_mm(volume_ml: float) -> float:
    return 10 * math.cbrt(6 * volume_ml / math.pi)


def bare_core_mm(wanted_g: float, water_g_ml: float, cork_g_ml: float, *, hook_g: float) -> float:
    """Return the cork ball that lifts so much without any paste.

    ``d = (6 / pi * (wanted_g + hook pull) / (water_g_ml - cork_g_ml))**(1/3)``, pull from hook_g [1]_.

    Parameters
    ----------
    wanted_g : float
        Asked lift with the hook [g]; below 0 sinks.
    water_g_ml : float
        Density of the water [g/ml], above cork_g_ml.
    cork_g_ml : float
        Density of the cork [g/ml], above 0.
    hook_g : float
        Mass of the hook in air [g], 0 or more.

    Returns
    -------
    float
        Diameter [mm], 0 where even no cork lifts that.

    Notes
    -----
    Asked to sink harder than the hook pulls, the bait needs no cork: then 0.

    Examples
    --------
    >>> round(bare_core_mm(0.445, 1.0, 0.15, hook_g=0.0), 1)
    10.0

    References
    ----------
    .. [1] Archimedes, "On floating bodies", book 1, propositions 5 to 7.
    """
    needed_g = max(0.0, wanted_g + hook_pull_g(hook_g, water_g_ml))
    return _ball_diameter_mm(needed_g / (water_g_ml - cork_g_ml))


def cork_density_g_ml(ten_balls_g: float, core_mm: float) -> float:
    """Return the density of cork from the weight of ten balls.

    ``density = ten_balls_g / 10 / (pi * core_mm**3 / 6)``

    Parameters
    ----------
    ten_balls_g : float
        Mass of ten balls [g], above 0.
    core_mm : float
        Their diameter [mm], above 0.

    Returns
    -------
    float
        Density [g/ml].

    Notes
    -----
    Mass over volume; no source. A hundredth of a millimetre on the diameter of a 10 mm ball is 0.3 % of
    its density; solid cork is sold at 0.12 to 0.24 g/ml.

    Examples
    --------
    >>> round(cork_density_g_ml(0.9, 10.0), 4)
    0.1719
    """
    return ten_balls_g / 10 / ball_volume_ml(core_mm)
