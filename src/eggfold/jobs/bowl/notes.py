"""What the notebook holds on a base mix: bowls that met the scale, yields, hundreds of baits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.paste import measured_density_g_ml
from eggfold.engine.powder import Rates, base_mix_g, dry_mix_g, wet_g
from eggfold.errors import NoAnswerError
from eggfold.files.opened import find_recipe
from eggfold.files.possible import finished_fault
from eggfold.jobs.bowl.assumptions import Assumed
from eggfold.jobs.bowl.bench import build_bench
from eggfold.jobs.bowl.learnt import NO_NOTES, CardOfItsDay, Notes, Weighing
from eggfold.jobs.bowl.trial import Trial, build_additives, build_egg, build_trial, mix_of, rates_of
from eggfold.nearest import fold
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.amounts import Amount
    from eggfold.files.notebook import BowlEntry, RolledEntry
    from eggfold.files.opened import OpenRecipe
    from eggfold.files.recipe import Strength


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
    recipe, assumed = found.recipe, Assumed(found.recipe.assume)
    egg = build_egg(recipe.eggs, assumed)
    bench = build_bench(found.companions.bench)
    additives = build_additives(recipe, found.additives, assumed, bench)
    try:
        trial = build_trial(recipe, additives, strength, egg, assumed)
    except NoAnswerError:
        return None
    by_mass = rates_of([a._replace(wetting=1.0) for a in additives], strength)
    mix = mix_of(recipe, strength).name
    card = CardOfItsDay(recipe.name, trial, assumed)
    return _Source(mix, trial, rates_of(additives, strength), by_mass, card)


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
        return f"there is no recipe {entry.recipe} any more"
    return f"{entry.recipe} as it is now does not say what went in"
