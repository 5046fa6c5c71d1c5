"""What the notebook says about a base mix: how much it takes up, what it yields, how dense it is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.calibration import Learned, Seen, learned, outliers, weighed_sd
from eggfold.engine.paste import measured_density_g_ml
from eggfold.engine.powder import trial_dry_g, wet_g
from eggfold.files.workspace import find_recipe
from eggfold.jobs.assumptions import Assumed
from eggfold.jobs.bowl import Trial, build_additives, build_egg, mix_of, rates_of
from eggfold.nearest import fold
from eggfold.reference.defaults import MEASURED_BOWL_SD_PERCENT, MEASURED_SD_PERCENT
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.files.notebook import Bowl, Rolled
    from eggfold.files.workspace import OpenRecipe


class Weighing(NamedTuple):
    """One bowl that met the scale: its wet and dry mass, and the scale's division [g]."""

    where: str
    recipe: str
    strength: str
    eggs: int
    taken_g: float
    wet_g: float
    dry_g: float
    scale_g: float


class Figure(NamedTuple):
    """A learned figure: mean, doubt, bowl to bowl, how many notes it rests on, which are far off."""

    mean: float
    sd: float
    bowl_sd: float
    notes: int = 0
    far_off: tuple[str, ...] = ()
    seen: tuple[Seen, ...] = ()


class Notes(NamedTuple):
    """The notes on one base mix, and the notes that say nothing without their recipe."""

    weighings: tuple[Weighing, ...] = ()
    yields: tuple[tuple[str, float], ...] = ()
    densities: tuple[tuple[str, float], ...] = ()
    lost: tuple[str, ...] = ()


NO_NOTES = Notes()


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
        base_mix, wet, dry = bowl
        if fold(base_mix) != fold(mix):
            continue
        if entry.taken_g is not None:
            weighings.append(_weighing(entry, wet, dry))
        if rolled := _rolled(entry):
            if rolled.finished and wet + dry > 0:
                share = amount_in(rolled.finished, "g") / (wet + dry)
                yields.append((_where(entry), share))
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


def _weighing(entry: Bowl, wet: float, dry: float) -> Weighing:
    return Weighing(
        _where(entry),
        entry.recipe,
        entry.strength,
        entry.eggs,
        entry.taken_g or 0.0,
        wet,
        dry,
        entry.scale_g,
    )


def _bowl(entry: Bowl, opened: OpenRecipe) -> tuple[str, float, float] | None:
    """Return base mix, wet and dry mass of a noted bowl: as noted, else worked out from its recipe."""
    if entry.base_mix and entry.wet and entry.dry:
        return entry.base_mix, amount_in(entry.wet, "g"), amount_in(entry.dry, "g")
    found = find_recipe(entry.recipe, opened)
    if found is None or found.answerable(entry.strength):
        return None
    assumed = Assumed(found.recipe.assume)
    egg = build_egg(found.recipe.eggs, assumed).each_g
    if entry.egg:
        egg = amount_in(entry.egg, "g")
    rates = rates_of(build_additives(found.recipe, found.additives, assumed), entry.strength)
    mix = mix_of(found.recipe, entry.strength).name
    if entry.taken_g is None:
        return None
    dry = trial_dry_g(entry.taken_g, entry.eggs, rates)
    return mix, wet_g(entry.eggs, egg, dry, rates), dry


def absorbency_of(opened: OpenRecipe, trial: Trial, notes: Notes, bowl_sd_share: float) -> Figure:
    """Return the absorbency of a mix after its weighings; the trial itself is not counted again."""
    bowl_sd = bowl_sd_share * trial.absorbency
    counted = [w for w in notes.weighings if not _is_trial(w, opened.recipe.name, trial)]
    seen = [Seen(w.dry_g / w.wet_g, weighed_sd(bowl_sd, w.scale_g, w.wet_g)) for w in counted]
    prior = Learned(trial.absorbency, trial.sd_share * trial.absorbency)
    return _figure(prior, seen, [w.where for w in counted], bowl_sd)


def _is_trial(weighing: Weighing, recipe: str, trial: Trial) -> bool:
    return (
        trial.own
        and trial.amount_g is not None
        and fold(weighing.recipe) == fold(recipe)
        and weighing.strength == trial.strength
        and weighing.eggs == trial.eggs
        and abs(weighing.taken_g - trial.amount_g) < 1e-6 * trial.amount_g
    )


def measured_figure(mean: float, noted: Iterable[tuple[str, float]], *, once: bool) -> Figure:
    """Return a yield or a density after its measurements; ``once`` if the mean was measured itself."""
    noted = list(noted)
    bowl_sd = MEASURED_BOWL_SD_PERCENT / 100 * mean
    sd = bowl_sd if once else MEASURED_SD_PERCENT / 100 * mean
    seen = [Seen(value, bowl_sd) for _, value in noted]
    return _figure(Learned(mean, sd), seen, [where for where, _ in noted], bowl_sd)


def _figure(prior: Learned, seen: Sequence[Seen], where: Sequence[str], bowl_sd: float) -> Figure:
    after = learned(prior, seen)
    far = outliers(prior, seen)
    rest = learned(prior, [one for i, one in enumerate(seen) if i not in far])
    named = tuple(f"{where[i]}: {seen[i].value:.3g}, the others say {rest.mean:.3g}" for i in far)
    return Figure(after.mean, after.sd, bowl_sd, len(seen), named, tuple(seen))
