"""Which trial mix has earned a season: takes, rods and hours compared, with their uncertainty."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.best import probabilities_best
from eggfold.engine.rates import equal_rates_p_value, garwood_interval, more_exposure_h
from eggfold.errors import NoAnswerError
from eggfold.nearest import fold
from eggfold.reference.trials import MOST_MIXES
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.load.companions import Companion
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
    rate: float | None = None
    low: float | None = None
    high: float | None = None
    probability_best: float | None = None

    @property
    def recipe(self) -> str:
        """The mix's name."""
        return self.outings.recipe


class Against(NamedTuple):
    """One mix against the one with the highest rate seen."""

    mix: TrialMix
    ratio: float | None
    p_value: float
    more_rod_hours: float | None


class Trials(NamedTuple):
    """The answer: every mix, the best seen, the others against it, and what was not compared."""

    mixes: tuple[TrialMix, ...]
    best: TrialMix
    against_best: tuple[Against, ...]
    left_out: tuple[Outings, ...]
    companions: tuple[Companion, ...] = ()

    @property
    def fished(self) -> tuple[TrialMix, ...]:
        """The mixes that have a rate, the highest first."""
        fished = [mix for mix in self.mixes if mix.rate is not None]
        return tuple(sorted(fished, key=lambda mix: -(mix.rate or 0)))


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
    noted = add_up(fished)
    asked = {fold(name): (name, file) for name, file in files.items()}
    mixes = [
        TrialMix(noted.get(key, Outings(name))._replace(recipe=name), file)
        for key, (name, file) in asked.items()
    ]
    unasked = {key: outings for key, outings in noted.items() if key not in asked}
    mixes += [TrialMix(o, None) for key, o in unasked.items() if key not in elsewhere]
    left_out = tuple(o for key, o in unasked.items() if key in elsewhere)
    if len(mixes) > MOST_MIXES:
        raise NoAnswerError(
            f"{len(mixes):,} mixes have been noted or named; at most {MOST_MIXES} are compared: "
            "name fewer recipes, or note one mix under one name"
        )
    compared = _with_rates(mixes)
    seen = [mix for mix in compared if mix.rate is not None]
    if not seen:
        raise NoAnswerError(
            "none of these mixes has been fished yet; note an outing with "
            "eggfold note fished RECIPE --rods N --hours H --takes N"
        )
    best = max(seen, key=lambda mix: mix.rate or 0)
    against = tuple(_against(mix, best) for mix in seen if mix is not best)
    return Trials(tuple(compared), best, against, left_out, companions)


def add_up(fished: Iterable[Fished]) -> dict[str, Outings]:
    """Return the outings of each recipe by its folded name, in the order first noted."""
    noted: dict[str, Outings] = {}
    for entry in fished:
        key = fold(entry.recipe)
        before = noted.get(key, Outings(entry.recipe))
        water = [*(before.water_c or ())]
        if entry.water is not None:
            water.append(amount_in(entry.water, "degC"))
        noted[key] = Outings(
            before.recipe,
            before.entries + 1,
            before.takes + entry.takes,
            before.rod_hours + entry.rod_hours,
            (min(water), max(water)) if water else None,
        )
    return noted


def _with_rates(mixes: list[TrialMix]) -> list[TrialMix]:
    fished = [mix.outings for mix in mixes if mix.outings.entries]
    chances = iter(probabilities_best([o.takes for o in fished], [o.rod_hours for o in fished]))
    return [_with_rate(mix, next(chances)) if mix.outings.entries else mix for mix in mixes]


def _with_rate(mix: TrialMix, probability_best: float) -> TrialMix:
    takes, rod_hours = mix.outings.takes, mix.outings.rod_hours
    interval = garwood_interval(takes, rod_hours)
    return mix._replace(
        rate=takes / rod_hours,
        low=interval.low,
        high=interval.high,
        probability_best=probability_best,
    )


def _against(mix: TrialMix, best: TrialMix) -> Against:
    mine, its = mix.outings, best.outings
    four = (mine.takes, mine.rod_hours, its.takes, its.rod_hours)
    ratio = (mix.rate or 0.0) / best.rate if best.rate else None
    return Against(mix, ratio, equal_rates_p_value(*four), more_exposure_h(*four))
