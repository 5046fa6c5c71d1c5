"""Which trial mix has earned a season: takes, rods and hours compared, with their uncertainty."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING

from eggfold.engine.trials import AgainstBest, Outing, RatedMix, compare_trials
from eggfold.errors import NoAnswerError
from eggfold.nearest import fold
from eggfold.records import NamedTuple
from eggfold.reference.learning import LEANING, MOST_MIXES, TOLD_APART

if TYPE_CHECKING:
    from eggfold.load.load_recipe import Companion
    from eggfold.load.notebook import Fished


class Outings(NamedTuple):
    """What the notebook says of one mix: outings, takes, rods times hours, and the water [°C]."""

    recipe: str
    entries: int = 0
    takes: int = 0
    rod_hours: float = 0.0
    water_c: tuple[float, float] | None = None


class TrialMix(NamedTuple):
    """One mix of the comparison; a mix never fished has no rate."""

    outings: Outings
    file: str | None
    """None where no recipe of this name is there any more."""
    rated: RatedMix | None = None

    @property
    def recipe(self) -> str:
        """The mix's name."""
        return self.outings.recipe


class Against(NamedTuple):
    """One mix against the one with the highest rate seen."""

    mix: TrialMix
    found: AgainstBest

    @property
    def told_apart(self) -> bool:
        """Whether the evidence is enough, however often one has looked."""
        return self.found.evidence >= TOLD_APART

    @property
    def leaning(self) -> bool:
        """Whether the evidence leans towards the best seen."""
        return LEANING <= self.found.evidence < TOLD_APART


class Trials(NamedTuple):
    """The answer: every mix, the best seen, the others against it, and what was not compared."""

    mixes: tuple[TrialMix, ...]
    best: TrialMix
    against_best: tuple[Against, ...]
    dispersion: float
    """How many times their mean the takes of an outing vary."""
    sessions: tuple[Fished, ...]
    """What was compared, outing by outing, in the notebook's order."""
    left_out: tuple[Outings, ...]
    companions: tuple[Companion, ...] = ()

    @property
    def fished(self) -> tuple[TrialMix, ...]:
        """The mixes that have a rate, the highest first."""
        rates = [(mix, mix.rated.rate) for mix in self.mixes if mix.rated]
        return tuple(mix for mix, _ in sorted(rates, key=lambda pair: -pair[1]))


def build_trials(
    files: Mapping[str, str],
    fished: Iterable[Fished],
    elsewhere: Collection[str] = (),
    companions: tuple[Companion, ...] = (),
) -> Trials:
    """Compare recipes, given as files by name, and noted ones that no file has any more.

    Noted recipes that are ``elsewhere``, folded names in files not asked for, are left out and
    named. Raises NoAnswerError where none was ever fished, or where there are too many.
    """
    entries = tuple(fished)
    noted = add_up(entries)
    asked = {fold(name): (name, file) for name, file in files.items()}
    mixes = {
        key: TrialMix(noted.get(key, Outings(name))._replace(recipe=name), file)
        for key, (name, file) in asked.items()
    }
    unasked = {key: outings for key, outings in noted.items() if key not in asked}
    mixes |= {key: TrialMix(o, None) for key, o in unasked.items() if key not in elsewhere}
    left_out = tuple(o for key, o in unasked.items() if key in elsewhere)
    if len(mixes) > MOST_MIXES:
        raise NoAnswerError(
            f"{len(mixes):,} mixes have been noted or named; at most {MOST_MIXES} are compared: "
            "name fewer recipes, or note one mix under one name"
        )
    sessions = tuple(entry for entry in entries if fold(entry.recipe) in mixes)
    return _compared(mixes, sessions, left_out, companions)


def _compared(
    mixes: Mapping[str, TrialMix],
    sessions: tuple[Fished, ...],
    left_out: tuple[Outings, ...],
    companions: tuple[Companion, ...],
) -> Trials:
    outings = [Outing(fold(s.recipe), s.date, s.takes, s.rod_hours) for s in sessions]
    # the first of several alike is the best: in the order of the files, not of the notebook
    order = {key: i for i, key in enumerate(mixes)}
    found = compare_trials(sorted(outings, key=lambda outing: order[outing.mix]))
    if found.best is None:
        raise NoAnswerError(
            "none of these mixes has been fished yet; note an outing with "
            "eggfold note fished RECIPE --rods N --hours H --takes N"
        )
    rated = {one.mix: one for one in found.mixes}
    known = {key: mix._replace(rated=rated.get(key)) for key, mix in mixes.items()}
    return Trials(
        tuple(known.values()),
        known[found.best.mix],
        tuple(Against(known[one.mix], one) for one in found.against_best),
        found.dispersion,
        sessions,
        left_out,
        companions,
    )


def add_up(fished: Iterable[Fished]) -> dict[str, Outings]:
    """Return the outings of each recipe by its folded name, in the order first noted."""
    noted: dict[str, Outings] = {}
    for entry in fished:
        key = fold(entry.recipe)
        before = noted.get(key, Outings(entry.recipe))
        water = [*(before.water_c or ())]
        if entry.water_c is not None:
            water.append(entry.water_c)
        noted[key] = Outings(
            before.recipe,
            before.entries + 1,
            before.takes + entry.takes,
            before.rod_hours + entry.rod_hours,
            (min(water), max(water)) if water else None,
        )
    return noted
