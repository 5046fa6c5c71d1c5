"""The egg as the bowl sees it: shelled."""

from __future__ import annotations

from eggfold.reference.eggs import EU_GRADE_MID_WEIGHT_G, US_EDIBLE_G


def shelled_egg_g(standard: str, grade: str, shell_share: float) -> float:
    """Return the shelled mass of one egg of a grade.

    EU and UK: ``mid-weight(grade) * (1 - shell_share)``, the middle of the class [1]_; US: the published
    edible mass [2]_.

    Parameters
    ----------
    standard : str
        ``eu`` or ``us``.
    grade : str
        A grade of that standard.
    shell_share : float
        Shell as a share of the whole egg [-], 0 to 1; the US figures are shelled already.

    Returns
    -------
    float
        Mass [g].

    Raises
    ------
    KeyError
        If the standard has no such grade.

    Notes
    -----
    The middle of the class stands for the egg; a tray may lie anywhere in its class.

    Examples
    --------
    >>> round(shelled_egg_g("eu", "large", 0.11), 2)
    60.52
    >>> shelled_egg_g("us", "large", 0.11)
    50.0

    References
    ----------
    .. [1] Regulation (EC) 589/2008, 2008, Art. 4.
    .. [2] USDA, "National Nutrient Database for Standard Reference", Release 28, 2015, record 01123.
    """
    if standard == "us":
        return US_EDIBLE_G[grade]
    return EU_GRADE_MID_WEIGHT_G[grade] * (1 - shell_share)
