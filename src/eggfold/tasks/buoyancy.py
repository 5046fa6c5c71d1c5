"""``buoyancy``: what a bait on a cork ball lifts."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from eggfold.engine.buoyancy import cork_density_g_ml
from eggfold.errors import OptionError
from eggfold.pages.buoyancy import buoyancy_page
from eggfold.pages.figures import units_in
from eggfold.recipe.asked import Assumption
from eggfold.recipe.buoyancy import AskedBuoyancy, SkinPaste, build_buoyancy, typical_skin
from eggfold.records import NamedTuple
from eggfold.reference import boiling
from eggfold.reference.defaults import DEFAULTS
from eggfold.tasks.asked import Given, amount_option
from eggfold.tasks.delivery import Answer, deliver_alone, destination_of

if TYPE_CHECKING:
    from eggfold.load.load_recipe import Companion


def run_buoyancy(given: Given) -> int:
    """Write what the bait lifts; return the exit code."""
    to, asked = destination_of(given), _asked(given)
    if given["recipe"] and given["paste_density"]:
        raise OptionError("take the paste from --recipe or give --paste-density, not both")
    found = _paste(given)
    if found.code:
        return found.code
    result = build_buoyancy(asked, found.paste, found.companions)
    deliver_alone(
        to,
        Answer(
            "buoyancy", result, partial(buoyancy_page, units=units_in(given["units"])), given["why"]
        ),
    )
    return 0


def _asked(given: Given) -> AskedBuoyancy:
    if (given["skin"] is None) == (given["lift"] is None):
        raise OptionError("give one of --skin (shows the lift) and --lift (shows the skin)")
    low, high = boiling.LEAST_CORE_MM, boiling.MOST_CORE_MM
    core_mm = amount_option("core", given["core"], "length", "mm", low, high)
    skin_mm = lift = None
    if given["lift"] is not None:
        most = boiling.MOST_LIFT_G
        lift = amount_option("lift", given["lift"], "mass", "g", -most, most, signed=True)
    else:
        low, high = boiling.LEAST_SKIN_MM, boiling.MOST_SKIN_MM
        skin_mm = amount_option("skin", given["skin"], "length", "mm", low, high)
        whole_mm, most_mm = core_mm + 2 * skin_mm, boiling.MOST_BAIT_MM
        if whole_mm > most_mm:
            raise OptionError(
                f"--skin: core and skin make a bait of {whole_mm:g} mm; at most {most_mm:g} mm"
            )
    water, lake = given["water"], DEFAULTS["water_temperature"]
    return AskedBuoyancy(
        core_mm,
        skin_mm,
        lift,
        amount_option("hook", given["hook"], "mass", "g", 0, boiling.MOST_HOOK_G),
        None
        if water is None
        else amount_option("water", water, "temperature", "degC", lake.low, lake.high),
        _cork_density(given, core_mm),
    )


def _cork_density(given: Given, core_mm: float) -> float | None:
    stated, ten = given["cork_density"], given["ten_balls"]
    cork = DEFAULTS["cork_density"]
    if stated is not None and ten is not None:
        raise OptionError("give one of --cork-density and --ten-balls, not both")
    if stated is not None:
        return amount_option("cork-density", stated, "density", "g/ml", cork.low, cork.high)
    if ten is None:
        return None
    density = cork_density_g_ml(amount_option("ten-balls", ten, "mass", "g", 0.001, 1000), core_mm)
    if not cork.low <= density <= cork.high:
        raise OptionError(
            f"--ten-balls: ten balls of {core_mm:g} mm at {ten} are {density:.2f} g/ml; cork is "
            f"{cork.low:g} to {cork.high:g} g/ml; check the weight and --core"
        )
    return density


class _Found(NamedTuple):
    """A paste, the files it was read with, the exit code where there is none."""

    paste: SkinPaste
    companions: tuple[Companion, ...] = ()
    code: int = 0


def _paste(given: Given) -> _Found:
    """Return the paste that the options ask for."""
    if given["paste_density"] is not None:
        density = amount_option("paste-density", given["paste_density"], "density", "g/ml", 0.2, 3)
        own = Assumption("density of the paste", f"{density:g} g/ml", "yours")
        return _Found(SkinPaste("own paste", density, (own,)))
    if given["recipe"] is None:
        return _Found(typical_skin())
    from eggfold.tasks.powder import paste_of  # noqa: PLC0415 - few name a recipe

    found = paste_of(given["recipe"], given["strength"] or "hookbait", given)
    assumptions = found.paste.assumptions if found.paste else ()
    paste = SkinPaste(found.name, found.density_g_ml, assumptions, found.defaults)
    return _Found(paste, found.companions, found.code)
