"""What a bowl rests on after the user's own notes: absorbency, finished share, paste density."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.paste import measured_density_g_ml
from eggfold.engine.powder import Rates, base_mix_g, dry_mix_g, wet_g
from eggfold.errors import NoAnswerError
from eggfold.files.opened import find_recipe
from eggfold.files.possible import finished_fault
from eggfold.nearest import fold
from eggfold.plural import counted
from eggfold.recipe.assumptions import Assumption, Defaults, joined
from eggfold.recipe.bench import build_bench
from eggfold.recipe.cautions import Caution
from eggfold.recipe.trial import (
    ABSORBENCY,
    Trial,
    build_additives,
    build_egg,
    build_trial,
    mix_of,
    rates_of,
)
from eggfold.reference.defaults import MEASURED_BOWL_SD_PERCENT, MEASURED_SD_PERCENT
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.amounts import Amount
    from eggfold.engine.calibration import Seen
    from eggfold.files.notebook import BowlEntry, RolledEntry
    from eggfold.files.opened import OpenRecipe
    from eggfold.files.recipe import Recipe, Strength


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


class Notes(NamedTuple):
    """The notes on one base mix, and the notes that say nothing without their recipe."""

    weighings: tuple[Weighing, ...] = ()
    yields: tuple[tuple[str, float], ...] = ()
    densities: tuple[tuple[str, float], ...] = ()
    lost: tuple[str, ...] = ()


BIRGE_SOURCE = "Birge 1932, The calculation of errors by the method of least squares (from memory)"

NO_NOTES = Notes()


class Figure(NamedTuple):
    """A learned figure: mean, doubt, bowl to bowl, how many notes it rests on, which are far off."""

    mean: float
    sd: float
    bowl_sd: float
    notes: int = 0
    far_off: tuple[str, ...] = ()
    seen: tuple[Seen, ...] = ()
    prior: tuple[float, float] | None = None
    """Mean and doubt before the notes; None where there are none."""
    weighed: tuple[Weighing, ...] = ()
    """The bowls behind what was seen, where they are what was noted."""
    widened: float = 1.0
    """The Birge ratio that the doubt was widened by; 1 where the notes agree."""
    assumptions: tuple[Assumption, ...] = ()


class Learnt(NamedTuple):
    """Dry mix per gram of wet [g/g], the finished share of the paste [-], and the notes behind."""

    absorbency: Figure
    finished: Figure
    bowl_loss: float
    drying_loss: float
    notes: Notes = NO_NOTES
    assumptions: tuple[Assumption, ...] = ()

    def density(self, before_g_ml: float, *, once: bool) -> Figure:
        """Return the paste density after the noted hundreds; ``once`` if it was measured itself."""
        figure = _measured(before_g_ml, self.notes.densities, once=once)
        text = f"{figure.mean:.3f} g/ml, from {counted(figure.notes, 'hundred')}"
        return _told(figure, "density of the paste", text)


def build_learnt(opened: OpenRecipe, mix: str, trial: Trial) -> Learnt:
    """Return what the notes on a base mix say, on top of the trial and the house defaults."""
    notes, defaults = notes_of(opened, mix), Defaults(opened.recipe.assume)
    absorbency = learned_absorbency(opened, notes, trial)
    bowl_loss, drying_loss = defaults.value("bowl_loss"), defaults.value("drying_loss")
    before = (1 - bowl_loss.share) * (1 - drying_loss.share)
    finished = _measured(before, notes.yields, once=False)
    text = f"{finished.mean * 100:.3g} %, from {counted(finished.notes, 'weighing')}"
    finished = _told(finished, "finished bait", text, "finished bait from the paste")
    losses = (bowl_loss.assumption, drying_loss.assumption)
    assumptions = joined(absorbency.assumptions, losses, finished.assumptions)
    return Learnt(absorbency, finished, bowl_loss.share, drying_loss.share, notes, assumptions)


def _told(figure: Figure, what: str, text: str, whole: str | None = None) -> Figure:
    """Return a measured figure with what there is to say of it, where notes made it."""
    if not figure.notes:
        return figure
    learned = Assumption(f"{whole or what}, learned", text, "yours")
    return figure._replace(assumptions=(learned, *_widened(what, figure), DOUBTS))


DOUBTS = Assumption(
    "doubt about a yield or a density, 1 sd",
    f"{MEASURED_SD_PERCENT:g} % before, {MEASURED_BOWL_SD_PERCENT:g} % from bowl to bowl",
    "house default",
)
"""How far a measured yield or density is trusted."""


def _widened(what: str, figure: Figure) -> tuple[Assumption, ...]:
    """Return by how much the doubt was widened, where the notes disagree."""
    if figure.widened <= 1:
        return ()
    from eggfold.engine.calibration import CHANCE_SPREAD  # noqa: PLC0415

    text = f"× {figure.widened:.3g}, the Birge ratio, as it is above {CHANCE_SPREAD:g}"
    disagree = f"doubt where notes disagree: {what}"
    return (Assumption(disagree, text, "published", BIRGE_SOURCE),)


def notes_of(opened: OpenRecipe, mix: str) -> Notes:
    """Return what the notebook of a run holds on a base mix."""
    if opened.companions.notebook is None:
        return NO_NOTES

    return notes_on(opened, mix)


def learned_absorbency(opened: OpenRecipe, notes: Notes, trial: Trial) -> Figure:
    """Return the absorbency of a mix after its weighings; the trial itself is not counted again."""
    before = _before(trial, Defaults(opened.recipe.assume))
    weighed = _without_trial(notes.weighings, opened.recipe.name, trial)
    if not weighed:
        return before
    after = _after(before, _seen(weighed, before.bowl_sd), [w.where for w in weighed])
    text = f"{after.mean:.4g} g/g, from {counted(after.notes, 'weighing')}"
    learned = Assumption(f"{ABSORBENCY}, learned", text, "yours")
    told = (*before.assumptions, learned, *_widened(ABSORBENCY, after))
    return after._replace(weighed=tuple(weighed), assumptions=told)


class CardOfItsDay:
    """The absorbency that a recipe's card went by, as one weighing of its mix followed another."""

    def __init__(self, recipe: Recipe, trial: Trial) -> None:
        from eggfold.engine.calibration import Learned  # noqa: PLC0415

        before = _before(trial, Defaults(recipe.assume))
        self._recipe, self._trial, self._bowl_sd = recipe.name, trial, before.bowl_sd
        self._learned = Learned(before.mean, before.sd)
        self._counted = 0

    def absorbency(self, weighings: Sequence[Weighing]) -> float:
        """Return what a card went by after some weighings: those of the last time, and more."""
        from eggfold.engine.calibration import learned  # noqa: PLC0415

        new = _without_trial(weighings[self._counted :], self._recipe, self._trial)
        self._learned = learned(self._learned, _seen(new, self._bowl_sd))
        self._counted = len(weighings)
        return self._learned.mean


def _before(trial: Trial, defaults: Defaults) -> Figure:
    """Return a mix's absorbency before any weighing."""
    a0, bowl_sd = trial.absorbency, defaults.value("bowl_sd")
    rests_on = (bowl_sd.assumption,)
    return Figure(a0, trial.sd_share * a0, bowl_sd.share * a0, assumptions=rests_on)


def _without_trial(weighings: Sequence[Weighing], recipe: str, trial: Trial) -> list[Weighing]:
    return [w for w in weighings if not _is_trial(w, recipe, trial)]


def _seen(weighings: Sequence[Weighing], bowl_sd: float) -> list[Seen]:
    from eggfold.engine.calibration import Seen, weighed_sd  # noqa: PLC0415

    return [Seen(w.dry_g / w.wet_g, weighed_sd(bowl_sd, w.scale_g, w.wet_g)) for w in weighings]


def _is_trial(weighing: Weighing, recipe: str, trial: Trial) -> bool:
    return (
        trial.own
        and trial.amount_g is not None
        and fold(weighing.recipe) == fold(recipe)
        and weighing.strength == trial.strength
        and weighing.eggs == trial.eggs
        and abs(weighing.taken_g - trial.amount_g) < 1e-6 * trial.amount_g
    )


def _measured(mean: float, noted: Sequence[tuple[str, float]], *, once: bool) -> Figure:
    """Return a yield or a density after its measurements; ``once`` if the mean was measured itself."""
    bowl_sd = MEASURED_BOWL_SD_PERCENT / 100 * mean
    figure = Figure(mean, bowl_sd if once else MEASURED_SD_PERCENT / 100 * mean, bowl_sd)
    if not noted:
        return figure
    from eggfold.engine.calibration import Seen  # noqa: PLC0415

    return _after(figure, [Seen(value, bowl_sd) for _, value in noted], [w for w, _ in noted])


def _after(figure: Figure, seen: Sequence[Seen], where: Sequence[str]) -> Figure:
    """Return a figure after its observations, with those that lie far off."""
    from eggfold.engine.calibration import (  # noqa: PLC0415
        CHANCE_SPREAD,
        Learned,
        birge_ratio,
        learned,
        outliers,
    )

    prior = Learned(figure.mean, figure.sd)
    after = learned(prior, seen)
    far = outliers(prior, seen)
    rest = learned(prior, [one for i, one in enumerate(seen) if i not in far])
    named = tuple(f"{where[i]}: {seen[i].value:.3g}, the others say {rest.mean:.3g}" for i in far)
    ratio = birge_ratio(prior, seen)
    widened = ratio if ratio > CHANCE_SPREAD else 1.0
    return Figure(
        after.mean,
        after.sd * widened,
        figure.bowl_sd,
        len(seen),
        named,
        tuple(seen),
        prior,
        widened=widened,
    )


def note_cautions(learnt: Learnt, density: Figure) -> list[Caution]:
    """Return a caution for each note that lies far off the others, or says nothing any more."""
    far = [
        Caution("note-far-off", f"Notebook, {where} {unit}. It counts all the same: check it.")
        for figure, unit in (
            (learnt.absorbency, "g of dry mix per g of wet"),
            (learnt.finished, "of the paste as finished bait"),
            (density, "g/ml of paste"),
        )
        for where in figure.far_off
    ]
    lost = [Caution("note-lost", f"Notebook, {where}; left out.") for where in learnt.notes.lost]
    return far + lost


class _Bowl(NamedTuple):
    """A noted bowl: its base mix, wet mass with the liquids by their wetting, dry mix and paste."""

    base_mix: str
    wet_g: float
    dry_g: float
    paste_g: float


class _Source(NamedTuple):
    """A recipe at one strength, as bowls were made after it; doses by wetting and by mass."""

    mix: str
    trial: Trial
    rates: Rates
    by_mass: Rates
    card: CardOfItsDay


@dataclass(slots=True)
class _Reading:
    """Collects what bowls of one base mix tell, each bowl on top of those before it."""

    opened: OpenRecipe
    mix: str
    sources: dict[tuple[str, Strength], _Source | None] = field(default_factory=dict)
    weighings: list[Weighing] = field(default_factory=list)
    yields: list[tuple[str, float]] = field(default_factory=list)
    densities: list[tuple[str, float]] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)

    def add(self, entry: BowlEntry) -> None:
        """Add what a bowl tells, if it is one of this mix."""
        bowl = _noted(entry) or self._worked_out(entry)
        if bowl is None:
            if _tells(entry):
                self.lost.append(f"{_where(entry)}: {_why_lost(entry, self.opened)}")
        elif fold(bowl.base_mix) == fold(self.mix):
            self._count(entry, bowl)

    def _worked_out(self, entry: BowlEntry) -> _Bowl | None:
        which = entry.recipe, entry.strength
        if which not in self.sources:
            self.sources[which] = _source(*which, self.opened)
        source = self.sources[which]
        return None if source is None else _worked_out(entry, source, self.weighings)

    def _count(self, entry: BowlEntry, bowl: _Bowl) -> None:
        if entry.taken_g is not None:
            self.weighings.append(_weighing(entry, bowl))
        if rolled := _rolled(entry):
            if rolled.finished and bowl.paste_g > 0:
                self._count_finished(entry, rolled.finished, bowl.paste_g)
            if rolled.hundred and rolled.diameter:
                hundred, size = amount_in(rolled.hundred, "g"), amount_in(rolled.diameter, "mm")
                self.densities.append((_where(entry), measured_density_g_ml(hundred, size)))

    def _count_finished(self, entry: BowlEntry, finished: Amount, paste_g: float) -> None:
        if fault := finished_fault(finished, paste_g):
            self.lost.append(f"{_where(entry)}: {fault}")
        else:
            self.yields.append((_where(entry), amount_in(finished, "g") / paste_g))


def notes_on(opened: OpenRecipe, mix: str) -> Notes:
    """Return what the notebook holds on a base mix, from bowls of any recipe with that mix."""
    notebook = opened.companions.notebook
    if notebook is None:
        return NO_NOTES
    reading = _Reading(opened, mix)
    for entry in sorted((*notebook.weighed, *notebook.rolled), key=lambda entry: entry.date):
        reading.add(entry)
    return Notes(
        tuple(reading.weighings),
        tuple(reading.yields),
        tuple(reading.densities),
        tuple(reading.lost),
    )


def _rolled(entry: BowlEntry) -> RolledEntry | None:
    from eggfold.files.notebook import RolledEntry  # noqa: PLC0415

    return entry if isinstance(entry, RolledEntry) else None


def _tells(entry: BowlEntry) -> bool:
    rolled = _rolled(entry)
    return entry.taken_g is not None or bool(rolled and (rolled.finished or rolled.hundred))


def _where(entry: BowlEntry) -> str:
    return f"line {entry.line}, {entry.date}"


def _weighing(entry: BowlEntry, bowl: _Bowl) -> Weighing:
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


def _noted(entry: BowlEntry) -> _Bowl | None:
    """Return the masses of a bowl as they were noted, None where they were not."""
    if not (entry.base_mix and entry.wet and entry.dry):
        return None
    wet, dry = amount_in(entry.wet, "g"), amount_in(entry.dry, "g")
    rolled = _rolled(entry)
    noted = rolled.paste if rolled else None
    return _Bowl(entry.base_mix, wet, dry, amount_in(noted, "g") if noted else wet + dry)


def _source(name: str, strength: Strength, opened: OpenRecipe) -> _Source | None:
    """Return the recipe that bowls were made after, None where it cannot tell what went in."""
    found = find_recipe(name, opened)
    if found is None or found.answerable(strength):
        return None
    recipe, bench = found.recipe, build_bench(found.companions.bench)
    additives = build_additives(recipe, found.additives, bench)
    try:
        trial = build_trial(recipe, additives, strength, build_egg(recipe))
    except NoAnswerError:
        return None
    by_mass = rates_of([a._replace(wetting=1.0) for a in additives], strength)
    mix = mix_of(recipe, strength).name
    rates = rates_of(additives, strength)
    return _Source(mix, trial, rates, by_mass, CardOfItsDay(recipe, trial))


def _worked_out(entry: BowlEntry, source: _Source, before: Sequence[Weighing]) -> _Bowl | None:
    """Return the masses of a bowl that was measured by the card of its day.

    Liquids and powders were measured on the dry mix that the weighings ``before`` let expect; only
    the base mix varies.
    """
    n, rates = entry.eggs, source.rates
    egg_g = amount_in(entry.egg, "g") if entry.egg else source.trial.egg_g
    a = source.card.absorbency(before)
    try:
        expected = dry_mix_g(a, n, egg_g, rates)
        powders = expected - base_mix_g(expected, n, rates)
    except NoAnswerError:
        return None
    dry = expected if entry.taken_g is None else entry.taken_g + powders
    paste = wet_g(n, egg_g, expected, source.by_mass) + dry
    return _Bowl(source.mix, wet_g(n, egg_g, expected, rates), dry, paste)


def _why_lost(entry: BowlEntry, opened: OpenRecipe) -> str:
    if find_recipe(entry.recipe, opened) is None:
        return f"no one recipe here is called {entry.recipe}"
    return f"{entry.recipe} as it is now does not say what went in"
