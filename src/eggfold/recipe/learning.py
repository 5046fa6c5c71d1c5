"""What a bowl rests on after the user's own notes: absorbency, finished share, paste density."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.engine.learning import (
    BowlRange,
    Posterior,
    SeenBowl,
    after_bowls,
    before_bowls,
    bowl_range,
    learn,
    reading_sd,
)
from eggfold.engine.paste import measured_density_g_ml
from eggfold.engine.powder import Rates, base_mix_g, dry_mix_g, wet_g
from eggfold.errors import NoAnswerError
from eggfold.load.load_recipe import OpenRecipe, find_recipe
from eggfold.load.recipe import Recipe, Strength, finished_fault
from eggfold.nearest import fold
from eggfold.recipe.asked import Assumption, Defaults
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
from eggfold.records import NamedTuple
from eggfold.reference import learning as settings
from eggfold.reference.eggs import LIQUID_EGG_G
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.load.notebook import BowlEntry, RolledEntry
    from eggfold.reference.learning import Learning


FAR = f"not 1 bowl in {0.5 / settings.FAR_TAIL:.0f} lies so far off."
LEAST_SCATTERED = 2
"""Notes from which a page tells how much they scatter; one alone scatters from nothing."""


class Weighing(NamedTuple):
    """One bowl that met the scale: its wet and dry mass, and the scale's division [g]."""

    where: str
    recipe: str
    strength: str
    eggs: float
    taken_g: float
    wet_g: float
    dry_g: float
    scale_g: float


class MeasuredBowl(NamedTuple):
    """A figure that one bowl showed, what was expected of that bowl, and the doubt of the reading."""

    where: str
    value: float
    expected: float = 1.0
    reading_sd: float = 0.0


class DriedBowl(NamedTuple):
    """One bowl whose baits were weighed dried: of which recipe, its paste and the baits [g]."""

    where: str
    recipe: str
    strength: Strength
    paste_g: float
    finished_g: float


class Notes(NamedTuple):
    """The notes on one base mix by day, and the notes that say nothing without their recipe."""

    weighings: tuple[Weighing, ...] = ()
    dried: tuple[DriedBowl, ...] = ()
    densities: tuple[MeasuredBowl, ...] = ()
    lost: tuple[str, ...] = ()


class LearntFigure(NamedTuple):
    """A figure as the notes leave it: what is expected, and all that is known of it.

    What is known is known of its ratio to what it was before the first note.
    """

    began: float
    """The figure before any note."""
    expected: float
    ratio: Posterior
    setting: Learning
    noted: tuple[MeasuredBowl, ...] = ()
    weighed: tuple[Weighing, ...] = ()
    """The bowls behind what was noted, where their sums can be shown."""
    far_off: tuple[str, ...] = ()
    assumptions: tuple[Assumption, ...] = ()

    @property
    def bowls(self) -> int:
        """How many noted bowls it rests on."""
        return len(self.noted)

    def next_bowls(self, bowls: int = 1) -> BowlRange:
        """Return what nine in ten of the next bowls, or of as many together, will show."""
        return BowlRange(*(self.began * ratio for ratio in bowl_range(self.ratio, bowls=bowls)))


class Learnt(NamedTuple):
    """Dry mix per gram of wet [g/g] after the notes on a base mix, and these."""

    absorbency: LearntFigure
    notes: Notes = Notes()

    def density(self, before_g_ml: float, *, once: bool) -> LearntFigure:
        """Return the paste density after the noted hundreds; ``once`` if it was measured itself."""
        setting = settings.DENSITY
        if once:
            setting = setting._replace(level_sd=setting.bowl_sd)
        noted = [one._replace(expected=before_g_ml) for one in self.notes.densities]
        figure = _learned(before_g_ml, noted, setting)
        text = f"{figure.expected:.3f} g/ml, from {_count(figure, 'hundred')}"
        return _explained(figure, "density of the paste", text)


def learned_yield(dried: Sequence[DriedBowl], expected_g: Sequence[float]) -> LearntFigure:
    """Return finished bait over what was expected of each bowl, after those that were weighed dried."""
    noted = [
        MeasuredBowl(bowl.where, bowl.finished_g / bowl.paste_g, g / bowl.paste_g)
        for bowl, g in zip(dried, expected_g, strict=True)
    ]
    figure = _learned(1.0, noted, settings.YIELD)
    text = f"{figure.expected * 100:.3g} % of what was expected, from {_count(figure, 'weighing')}"
    return _explained(figure, "finished bait", text)


def learned_absorbency(recipe: Recipe, notes: Notes, trial: Trial) -> LearntFigure:
    """Return the absorbency of a mix after its weighings; the trial itself is not counted again."""
    setting, bowl_sd = _setting(recipe, trial)
    weighed = tuple(w for w in notes.weighings if not _is_trial(w, recipe.name, trial))
    noted = [_measured(one, trial.absorbency) for one in weighed]
    figure = _learned(trial.absorbency, noted, setting)._replace(weighed=weighed)
    if not weighed:
        return figure._replace(assumptions=(bowl_sd,))
    text = f"{figure.expected:.4g} g/g, from {_count(figure, 'bowl')}"
    learned = Assumption(f"{ABSORBENCY}, learned", text, "yours")
    drift = f"{setting.drift_sd * 100:g} %"
    told = (learned, Assumption("drift of a mix from bowl to bowl, 1 sd", drift, "house default"))
    return figure._replace(assumptions=(bowl_sd, *told))


def _setting(recipe: Recipe, trial: Trial) -> tuple[Learning, Assumption]:
    """Return how far an absorbency may differ, and the assumption about bowls."""
    bowl_sd = Defaults(recipe.assume).value("bowl_sd")
    setting = settings.ABSORBENCY._replace(level_sd=trial.sd_share, bowl_sd=bowl_sd.share)
    return setting, bowl_sd.assumption


def _measured(weighing: Weighing, expected: float) -> MeasuredBowl:
    doubt = reading_sd(weighing.scale_g, weighing.dry_g)
    return MeasuredBowl(weighing.where, weighing.dry_g / weighing.wet_g, expected, doubt)


def _is_trial(weighing: Weighing, recipe: str, trial: Trial) -> bool:
    return (
        trial.own
        and trial.amount_g is not None
        and fold(weighing.recipe) == fold(recipe)
        and weighing.strength == trial.strength
        and math.isclose(weighing.eggs, trial.eggs, rel_tol=1e-6)
        and abs(weighing.taken_g - trial.amount_g) < 1e-6 * trial.amount_g
    )


def _learned(began: float, noted: Sequence[MeasuredBowl], setting: Learning) -> LearntFigure:
    """Return a figure after its notes, with those that lie far off named."""
    if not noted:
        return LearntFigure(began, began, _unlearned(setting), setting)
    lesson = learn(1.0, [_seen(one) for one in noted], setting)
    far = tuple(
        f"{noted[f.position].where}: {noted[f.position].value:.3g}, the others say "
        f"{f.others * noted[f.position].expected:.3g}"
        for f in lesson.far
    )
    expected = began * lesson.posterior.expected
    return LearntFigure(began, expected, lesson.posterior, setting, tuple(noted), (), far)


@cache
def _unlearned(setting: Learning) -> Posterior:
    return before_bowls(1.0, setting)


def _seen(one: MeasuredBowl) -> SeenBowl:
    return SeenBowl(one.value / one.expected, one.reading_sd)


def _count(figure: LearntFigure, what: str) -> str:
    """Say how many notes a figure rests on, and from two on how much they scatter."""
    number = counted(figure.bowls, what)
    if figure.bowls < LEAST_SCATTERED:
        return number
    return f"{number}; they scatter {figure.ratio.scatter * 100:.0f} %"


def _explained(figure: LearntFigure, what: str, text: str) -> LearntFigure:
    """Return a measured figure with what there is to say of it, where notes made it."""
    if not figure.bowls:
        return figure
    level, bowl, drift = (
        f"{sd * 100:g} %"
        for sd in (figure.setting.level_sd, figure.setting.bowl_sd, figure.setting.drift_sd)
    )
    doubt = f"{level} before the first note, {bowl} from bowl to bowl, drifting by {drift}"
    learned = Assumption(f"{what}, learned", text, "yours")
    doubts = Assumption(f"uncertainty of {what}, 1 sd", doubt, "house default")
    return figure._replace(assumptions=(learned, doubts))


def note_cautions(learnt: Learnt, dried: LearntFigure, density: LearntFigure) -> list[Caution]:
    """Return a caution for each note that lies far off the others, or says nothing any more."""
    far = [
        Caution(
            "note-far-off", f"Notebook, {where} {unit}; {FAR} It counts all the same: check it."
        )
        for figure, unit in (
            (learnt.absorbency, "g of dry mix per g of wet"),
            (dried, "of the paste as finished bait"),
            (density, "g/ml of paste"),
        )
        for where in figure.far_off
    ]
    lost = [Caution("note-lost", f"Notebook, {where}; left out.") for where in learnt.notes.lost]
    return far + lost


class _Lesson(NamedTuple):
    """What one entry tells, and of which mix by its folded name; of none where all of it is lost."""

    mix: str = ""
    weighing: Weighing | None = None
    dried: DriedBowl | None = None
    density: MeasuredBowl | None = None
    lost: str | None = None


class NotedMixes(NamedTuple):
    """What a notebook tells of every mix."""

    by_mix: Mapping[str, Sequence[_Lesson]]

    def of(self, mix: str) -> Notes:
        """Return the notes on one mix."""
        lessons = self.by_mix.get(fold(mix), ())
        return Notes(
            tuple(one.weighing for one in lessons if one.weighing),
            tuple(one.dried for one in lessons if one.dried),
            tuple(one.density for one in lessons if one.density),
            tuple(one.lost for one in (*self.by_mix.get("", ()), *lessons) if one.lost),
        )


def notes_of(opened: OpenRecipe) -> NotedMixes:
    """Return what the notebook of a run tells of each mix, from bowls of any recipe with it."""
    by_mix: dict[str, list[_Lesson]] = defaultdict(list)
    for lesson in _lessons_by_day(opened):
        by_mix[lesson.mix].append(lesson)
    return NotedMixes(by_mix)


class _Bowl(NamedTuple):
    """A noted bowl: its base mix, wet mass with the liquids by their wetting, dry mix and paste."""

    base_mix: str
    wet_g: float
    dry_g: float
    paste_g: float


class _Card(NamedTuple):
    """A recipe's card of a day: doses by wetting and by mass, and what weighings taught until then."""

    recipe: str
    mix: str
    trial: Trial
    rates: Rates
    by_mass: Rates
    known: Posterior
    counted: int = 0

    @property
    def absorbency(self) -> float:
        """What the card went by."""
        return self.trial.absorbency * self.known.expected

    def after(self, weighings: Sequence[Weighing]) -> _Card:
        """Return the card after the weighings of its mix so far, those of the last time among them."""
        new = (w for w in weighings[self.counted :] if not _is_trial(w, self.recipe, self.trial))
        seen = [_seen(_measured(one, self.trial.absorbency)) for one in new]
        return self._replace(known=after_bowls(self.known, seen), counted=len(weighings))


def _lessons_by_day(opened: OpenRecipe) -> Iterator[_Lesson]:
    """Yield what each bowl in the notebook tells; one without masses by the card of its day."""
    notebook = opened.companions.notebook
    if notebook is None:
        return
    weighings: dict[str, list[Weighing]] = defaultdict(list)
    cards: dict[tuple[str, Strength], _Card | None] = {}
    for entry in sorted((*notebook.weighed, *notebook.rolled), key=lambda entry: entry.date):
        bowl, which = _noted(entry), (entry.recipe, entry.strength)
        if bowl is None:
            card = cards[which] if which in cards else _card(*which, opened)
            cards[which] = card = card and card.after(weighings[fold(card.mix)])
            bowl = card and _worked_out(entry, card)
        if bowl is not None:
            yield (lesson := _lesson_of(entry, bowl))
            weighings[lesson.mix] += [lesson.weighing] if lesson.weighing else []
        elif _tells(entry):
            yield _Lesson(lost=f"{_where(entry)}: {_why_lost(entry, opened)}")


def _lesson_of(entry: BowlEntry, bowl: _Bowl) -> _Lesson:
    lesson = _Lesson(fold(bowl.base_mix), None if entry.taken_g is None else _weighing(entry, bowl))
    rolled = _rolled(entry)
    if rolled and rolled.hundred and rolled.diameter:
        hundred, size = amount_in(rolled.hundred, "g"), amount_in(rolled.diameter, "mm")
        density = MeasuredBowl(_where(entry), measured_density_g_ml(hundred, size))
        lesson = lesson._replace(density=density)
    if rolled and rolled.finished and bowl.paste_g > 0:
        if fault := finished_fault(rolled.finished, bowl.paste_g):
            return lesson._replace(lost=f"{_where(entry)}: {fault}")
        finished_g = amount_in(rolled.finished, "g")
        dried = DriedBowl(_where(entry), entry.recipe, entry.strength, bowl.paste_g, finished_g)
        lesson = lesson._replace(dried=dried)
    return lesson


def _rolled(entry: BowlEntry) -> RolledEntry | None:
    from eggfold.load.notebook import RolledEntry  # noqa: PLC0415

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
        entry.eggs_worth(LIQUID_EGG_G),
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


def _card(name: str, strength: Strength, opened: OpenRecipe) -> _Card | None:
    """Return the card of a recipe before any note, None where it cannot tell what went in."""
    found = find_recipe(name, opened)
    if found is None or found.answerable(strength):
        return None
    recipe, bench = found.recipe, build_bench(found.companions.bench)
    egg = build_egg(recipe)
    additives = build_additives(recipe, found.additives, egg, bench)
    try:
        trial = build_trial(recipe, additives, strength, egg)
    except NoAnswerError:
        return None
    by_mass = rates_of([a._replace(wetting=1.0) for a in additives], strength)
    mix, rates = mix_of(recipe, strength).name, rates_of(additives, strength)
    known = _unlearned(_setting(recipe, trial)[0])
    return _Card(recipe.name, mix, trial, rates, by_mass, known)


def _worked_out(entry: BowlEntry, card: _Card) -> _Bowl | None:
    """Return the masses of a bowl that was measured by the card of its day.

    Liquids and powders were measured on the dry mix that the card let expect; only the base mix
    varies.
    """
    egg_g = amount_in(entry.egg, "g") if entry.egg else card.trial.egg_g
    n, rates = entry.eggs_worth(egg_g), card.rates
    try:
        expected = dry_mix_g(card.absorbency, n, egg_g, rates)
        powders = expected - base_mix_g(expected, n, rates)
    except NoAnswerError:
        return None
    dry = expected if entry.taken_g is None else entry.taken_g + powders
    paste = wet_g(n, egg_g, expected, card.by_mass) + dry
    return _Bowl(card.mix, wet_g(n, egg_g, expected, rates), dry, paste)


def _why_lost(entry: BowlEntry, opened: OpenRecipe) -> str:
    if find_recipe(entry.recipe, opened) is None:
        return f"no one recipe here is called {entry.recipe}"
    return f"{entry.recipe} as it is now does not say what went in"
