"""What the notebook holds on a base mix: bowls that met the scale, yields, hundreds of baits."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.paste import measured_density_g_ml
from eggfold.engine.powder import trial_dry_g, wet_g
from eggfold.files.opened import find_recipe
from eggfold.jobs.assumptions import Assumed
from eggfold.jobs.bowl import build_additives, build_egg, mix_of, rates_of
from eggfold.jobs.learnt import NO_NOTES, Notes, Weighing
from eggfold.nearest import fold
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.files.notebook import Bowl, Rolled
    from eggfold.files.opened import OpenRecipe


class _Bowl(NamedTuple):
    """A noted bowl: its base mix, wet mass with the liquids by their wetting, dry mix and paste."""

    base_mix: str
    wet_g: float
    dry_g: float
    paste_g: float


def notes_on(opened: OpenRecipe, mix: str) -> Notes:
    """Return what the notebook holds on a base mix, from bowls of any recipe with that mix."""
    notebook = opened.companions.notebook
    if notebook is None:
        return NO_NOTES
    weighings, yields, densities, lost = [], [], [], []
    for entry in (*notebook.weighed, *notebook.rolled):
        bowl = _bowl(entry, opened)
        if bowl is None:
            if _tells(entry):
                lost.append(f"{_where(entry)}: there is no recipe {entry.recipe} any more")
            continue
        if fold(bowl.base_mix) != fold(mix):
            continue
        if entry.taken_g is not None:
            weighings.append(_weighing(entry, bowl))
        if rolled := _rolled(entry):
            if rolled.finished and bowl.paste_g > 0:
                yields.append((_where(entry), amount_in(rolled.finished, "g") / bowl.paste_g))
            if rolled.hundred and rolled.diameter:
                hundred, size = amount_in(rolled.hundred, "g"), amount_in(rolled.diameter, "mm")
                densities.append((_where(entry), measured_density_g_ml(hundred, size)))
    return Notes(tuple(weighings), tuple(yields), tuple(densities), tuple(lost))


def _rolled(entry: Bowl) -> Rolled | None:
    from eggfold.files.notebook import Rolled  # noqa: PLC0415

    return entry if isinstance(entry, Rolled) else None


def _tells(entry: Bowl) -> bool:
    rolled = _rolled(entry)
    return entry.taken_g is not None or bool(rolled and (rolled.finished or rolled.hundred))


def _where(entry: Bowl) -> str:
    return f"line {entry.line}, {entry.date}"


def _weighing(entry: Bowl, bowl: _Bowl) -> Weighing:
    return Weighing(
        _where(entry),
        entry.recipe,
        entry.strength,
        entry.eggs,
        entry.taken_g or 0.0,
        bowl.wet_g,
        bowl.dry_g,
        entry.scale_g,
    )


def _bowl(entry: Bowl, opened: OpenRecipe) -> _Bowl | None:
    """Return the masses of a noted bowl: as noted, else worked out from its recipe."""
    if entry.base_mix and entry.wet and entry.dry:
        wet, dry = amount_in(entry.wet, "g"), amount_in(entry.dry, "g")
        rolled = _rolled(entry)
        noted = rolled.paste if rolled else None
        return _Bowl(entry.base_mix, wet, dry, amount_in(noted, "g") if noted else wet + dry)
    found = find_recipe(entry.recipe, opened)
    if found is None or found.answerable(entry.strength):
        return None
    assumed = Assumed(found.recipe.assume)
    egg = build_egg(found.recipe.eggs, assumed).each_g
    if entry.egg:
        egg = amount_in(entry.egg, "g")
    additives = build_additives(found.recipe, found.additives, assumed)
    rates = rates_of(additives, entry.strength)
    by_mass = rates_of([a._replace(wetting=1.0) for a in additives], entry.strength)
    mix = mix_of(found.recipe, entry.strength).name
    if entry.taken_g is None:
        return None
    dry = trial_dry_g(entry.taken_g, entry.eggs, rates)
    wet = wet_g(entry.eggs, egg, dry, rates)
    return _Bowl(mix, wet, dry, wet_g(entry.eggs, egg, dry, by_mass) + dry)
