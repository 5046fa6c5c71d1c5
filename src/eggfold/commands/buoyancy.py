"""``eggfold buoyancy``: what a bait on a cork ball lifts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import click

from eggfold.commands.display import display_options
from eggfold.commands.options import (
    additives_option,
    amount_option,
    bench_option,
    delivery_options,
    notes_options,
    recipe_option,
    strength_option,
    why_option,
)

if TYPE_CHECKING:
    from eggfold.files.companions import Companion
    from eggfold.recipe.buoyancy import AskedBuoyancy, SkinPaste


@click.command()
@click.option("--core", metavar="SIZE", required=True, help="The cork ball, as in 12mm.")
@click.option("--skin", metavar="SIZE", help="Paste on each side of it: shows the lift.")
@click.option("--lift", metavar="MASS", help="Asked lift, below 0 sinks: shows the skin.")
@click.option(
    "--hook", metavar="MASS", default="0g", show_default=True, help="What the hook weighs."
)
@click.option("--water", metavar="TEMPERATURE", help="Lake water, 12degC if not given.")
@click.option("--cork-density", metavar="DENSITY", help="Cork, 0.15g/ml if not given.")
@click.option("--ten-balls", metavar="MASS", help="What ten of these cork balls weigh.")
@click.option("--paste-density", metavar="DENSITY", help="Paste, as in 1.16g/ml.")
@recipe_option
@strength_option
@additives_option
@bench_option
@notes_options
@delivery_options
@why_option
@display_options
def buoyancy(*, why: bool, **given: Any) -> int:
    """Show what a bait on a cork ball lifts, or the skin for a lift.

    \b
    eggfold buoyancy --core 12mm --skin 2mm --hook 0.3g
    eggfold buoyancy --core 12mm --lift 0.1g --hook 0.3g --ten-balls 1.4g
    eggfold buoyancy --core 8mm --lift -0.2g --paste-density 1.18g/ml
    """
    from eggfold.commands.delivery import deliver_page, destination_of  # noqa: PLC0415
    from eggfold.formats.json import document  # noqa: PLC0415
    from eggfold.pages.buoyancy import buoyancy_page  # noqa: PLC0415
    from eggfold.recipe.buoyancy import build_buoyancy  # noqa: PLC0415

    to, asked = destination_of(given), _asked(given)
    if given["recipe"] and given["paste_density"]:
        raise click.UsageError("take the paste from --recipe or give --paste-density, not both")
    found = _paste(given)
    if found.code:
        return found.code
    result = build_buoyancy(asked, found.paste, found.companions)
    deliver_page(
        to, "buoyancy", lambda: buoyancy_page(result, why=why), lambda: document("buoyancy", result)
    )
    return 0


def _asked(given: dict[str, Any]) -> AskedBuoyancy:
    from eggfold.recipe.buoyancy import AskedBuoyancy  # noqa: PLC0415
    from eggfold.reference import floating  # noqa: PLC0415

    if (given["skin"] is None) == (given["lift"] is None):
        raise click.UsageError("give one of --skin (shows the lift) and --lift (shows the skin)")
    low, high = floating.LEAST_CORE_MM, floating.MOST_CORE_MM
    core_mm = amount_option("core", given["core"], "length", "mm", low, high)
    skin_mm = lift = None
    if given["lift"] is not None:
        lift = _signed_g("lift", given["lift"], floating.MOST_LIFT_G)
    else:
        low, high = floating.LEAST_SKIN_MM, floating.MOST_SKIN_MM
        skin_mm = amount_option("skin", given["skin"], "length", "mm", low, high)
        _refuse_wide(core_mm + 2 * skin_mm, floating.MOST_BAIT_MM)
    water = given["water"]
    return AskedBuoyancy(
        core_mm,
        skin_mm,
        lift,
        amount_option("hook", given["hook"], "mass", "g", 0, floating.MOST_HOOK_G),
        None if water is None else amount_option("water", water, "temperature", "degC", 0, 40),
        _cork_density(given, core_mm),
    )


def _refuse_wide(whole_mm: float, most_mm: float) -> None:
    if whole_mm > most_mm:
        raise click.UsageError(
            f"--skin: core and skin make a bait of {whole_mm:g} mm; at most {most_mm:g} mm"
        )


def _signed_g(name: str, text: str, most_g: float) -> float:
    """Read a mass that may be below 0."""
    stripped = text.strip()
    sign = -1.0 if stripped[:1] in ("-", "\N{MINUS SIGN}") else 1.0
    bare = stripped[1:] if stripped[:1] in ("-", "\N{MINUS SIGN}", "+") else stripped
    return sign * amount_option(name, bare, "mass", "g", 0, most_g)


def _cork_density(given: dict[str, Any], core_mm: float) -> float | None:
    from eggfold.engine.buoyancy import cork_density_g_ml  # noqa: PLC0415
    from eggfold.reference.defaults import DEFAULTS  # noqa: PLC0415

    stated, ten = given["cork_density"], given["ten_balls"]
    cork = DEFAULTS["cork_density"]
    if stated is not None and ten is not None:
        raise click.UsageError("give one of --cork-density and --ten-balls, not both")
    if stated is not None:
        return amount_option("cork-density", stated, "density", "g/ml", cork.low, cork.high)
    if ten is None:
        return None
    density = cork_density_g_ml(amount_option("ten-balls", ten, "mass", "g", 0.001, 1000), core_mm)
    if not cork.low <= density <= cork.high:
        raise click.UsageError(
            f"--ten-balls: ten balls of {core_mm:g} mm at {ten} are {density:.2f} g/ml; cork is "
            f"{cork.low:g} to {cork.high:g} g/ml; check the weight and --core"
        )
    return density


class _Found(NamedTuple):
    """A paste, the files it was read with, the exit code where there is none."""

    paste: SkinPaste
    companions: tuple[Companion, ...] = ()
    code: int = 0


def _paste(given: dict[str, Any]) -> _Found:
    """Return the paste that the options ask for."""
    from eggfold.commands.paste_of import paste_of  # noqa: PLC0415
    from eggfold.recipe.assumptions import Assumption  # noqa: PLC0415
    from eggfold.recipe.buoyancy import SkinPaste, typical_skin  # noqa: PLC0415

    if given["paste_density"] is not None:
        density = amount_option("paste-density", given["paste_density"], "density", "g/ml", 0.2, 3)
        own = Assumption("density of the paste", f"{density:g} g/ml", "yours")
        return _Found(SkinPaste("own paste", density, (own,)))
    if given["recipe"] is None:
        return _Found(typical_skin())
    found = paste_of(given["recipe"], given["strength"] or "hookbait", given)
    assumptions = found.paste.assumptions if found.paste else ()
    paste = SkinPaste(found.name, found.density_g_ml, assumptions, found.defaults)
    return _Found(paste, found.companions, found.code)
