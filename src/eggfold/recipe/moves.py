"""What moves a card: each doubtful figure taken to its ends, and the bowl worked out again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from eggfold.engine.boil import boil_time_s
from eggfold.engine.paste import mixed_parts, paste_density_g_ml
from eggfold.engine.powder import Rates, absorbency, base_mix_g, dry_mix_g
from eggfold.engine.properties import boiling_point_c
from eggfold.engine.scaling import Dose, dose_by_mass
from eggfold.errors import NoAnswerError
from eggfold.recipe.baits import Drying, WantedBait, expected_finished, fixed_g
from eggfold.recipe.boil_times import Kitchen, ball_of, paste_heat
from eggfold.recipe.composition import FAT, TYPICAL_PARTS, WATER
from eggfold.recipe.trial import Additive, rates_of
from eggfold.records import NamedTuple
from eggfold.reference.defaults import DEFAULTS
from eggfold.reference.eggs import (
    EU_CLASS_FROM_G,
    EU_GRADE_MID_WEIGHT_G,
    OPEN_CLASS_WIDTH_G,
    WHOLE_EGG,
)
from eggfold.reference.slips import (
    ALTITUDE_M,
    CUT_OPEN,
    DENSITY_G_ML,
    LEAST_MOVE_PERCENT,
    MOST_MOVES,
    PLAUSIBLE,
    TYPICAL_MIX_ENDS,
    US_CLASS_SHARE,
    WEIGH_TUB,
    WETTING,
)

if TYPE_CHECKING:
    from eggfold.recipe.batch import Batch
    from eggfold.reference.properties import Parts


Figures = dict[str, float]


class Move(NamedTuple):
    """One doubtful figure, its ends, and by how much the figure it moves most then changes."""

    what: str
    value: str
    low: str
    high: str
    on: str
    low_pct: float
    high_pct: float
    measure: str

    @property
    def change_pct(self) -> float:
        """The larger of the two changes, without its sign."""
        return max(abs(self.low_pct), abs(self.high_pct))


class _Added(NamedTuple):
    """What the additives bring, added up once however many they are."""

    additives: tuple[Additive, ...]
    rates: Rates
    trial_rates: Rates
    portions: tuple[tuple[Parts | None, float, float], ...]
    """Composition, None for the base mix's, with what comes per egg and per gram of dry mix [g]."""


class _Case(NamedTuple):
    """Every figure of a batch that a doubt may touch, so that it can be worked out again."""

    egg_g: float
    trial_egg_g: float
    added: _Added
    absorbs: float
    """The absorbency as a share of what is expected."""
    mix: Parts
    air: float
    bowl_loss: float
    wider_mm: float
    kitchen: Kitchen
    conducts: float
    drying: Drying

    def heats(self, other: _Case) -> bool:
        """Whether a bait takes heat in another way than in another case."""
        mine, others = (
            (one.mix, one.wider_mm, one.kitchen, one.conducts, one.air) for one in (self, other)
        )
        return mine != others

    def stirs(self, other: _Case) -> bool:
        """Whether another paste is in the bowl than in another case."""
        mine, others = (
            (one.egg_g, one.trial_egg_g, one.absorbs, one.added, one.mix, one.air)
            for one in (self, other)
        )
        return mine != others


class _Stirred(NamedTuple):
    """The paste of a case: its base mix [g], composition, mass [g] and density [g/ml]."""

    base_g: float
    parts: Parts
    paste_g: float
    density_g_ml: float


class _Usual(NamedTuple):
    """What the ends of each doubt are compared with."""

    case: _Case
    stirred: _Stirred
    figures: Figures


class _Doubt(NamedTuple):
    """A doubtful figure: its words, the cases of its ends, and what would tell."""

    what: str
    value: str
    ends: tuple[str, str]
    cases: tuple[_Case, ...]
    """With the figure low, then high."""
    measure: str


def build_moves(batch: Batch) -> tuple[Move, ...]:
    """Return what moves a batch most, the largest change first, at most ten."""
    case = _case(batch)
    stirred = _stirred(batch, case)
    main = max(batch.roll.wanted, key=lambda w: w.share)
    figures = {"powder": stirred.base_g} if batch.poured is None else {}
    figures |= _dried(batch, case, stirred) | _rolled(batch, case, stirred, main)
    usual = _Usual(case, stirred, figures | _boiled(batch, case, stirred, main))
    moves = (_move(batch, usual, main, doubt) for doubt in _doubts(batch, case))
    found = [move for move in moves if move and move.change_pct >= LEAST_MOVE_PERCENT]
    return tuple(sorted(found, key=lambda move: -move.change_pct)[:MOST_MOVES])


def _move(batch: Batch, usual: _Usual, main: WantedBait, doubt: _Doubt) -> Move | None:
    try:
        low, high = (_figures(batch, end, usual, main) for end in doubt.cases)
    except NoAnswerError:
        return None
    changes = {
        on: (100 * (low[on] / figure - 1), 100 * (high[on] / figure - 1))
        for on, figure in usual.figures.items()
        if figure and on in low and on in high
    }
    if not changes:
        return None
    # rounded, so that of figures that change alike the first is named, whatever their last digits
    on = max(changes, key=lambda key: round(max(map(abs, changes[key])), 9))
    return Move(doubt.what, doubt.value, *doubt.ends, on, *changes[on], doubt.measure)


def _case(batch: Batch) -> _Case:
    roll, paste = batch.roll, batch.paste
    return _Case(
        batch.egg.each_g,
        batch.trial.egg_g,
        _added(batch, _merged(batch.trial.additives)),
        1.0,
        paste.portions[1][1],
        paste.air,
        roll.bowl_loss,
        0.0,
        roll.kitchen,
        1.0,
        roll.drying,
    )


def _figures(batch: Batch, case: _Case, usual: _Usual, main: WantedBait) -> Figures:
    """Return those of the four figures that differ in a case: base mix, finished, baits, boil."""
    stirred, figures = usual.stirred, {}
    if other := case.stirs(usual.case):
        stirred = _stirred(batch, case)
        figures = {"powder": stirred.base_g}
    rolls = other or case.bowl_loss != usual.case.bowl_loss
    if rolls or case.drying != usual.case.drying:
        figures |= _dried(batch, case, stirred)
    if rolls or case.wider_mm != usual.case.wider_mm:
        figures |= _rolled(batch, case, stirred, main)
    # other proportions move powder and baits far more than heat: only the heat's own doubts boil anew
    if case.heats(usual.case):
        figures |= _boiled(batch, case, stirred, main)
    return figures


def _stirred(batch: Batch, case: _Case) -> _Stirred:
    n, rates, absorbs = batch.worth, case.added.rates, _absorbency(batch, case)
    if batch.poured:  # the bag is all in: what is in doubt is how much egg it asks for
        one_g = base_mix_g(dry_mix_g(absorbs, 1, case.egg_g, rates), 1, rates)
        n = batch.powder.base_mix_g / one_g
    dry_g = dry_mix_g(absorbs, n, case.egg_g, rates)
    base_g = base_mix_g(dry_g, n, rates)
    portions = _portions(n, case, dry_g, base_g)
    parts = mixed_parts(portions)
    return _Stirred(base_g, parts, sum(g for g, _ in portions), _density(batch, parts, case.air))


def _dried(batch: Batch, case: _Case, paste: _Stirred) -> Figures:
    water = paste.parts.water / sum(paste.parts)
    made = case.bowl_loss, paste.paste_g, paste.density_g_ml, water
    return {"finished": expected_finished(batch.roll.wanted, case.drying, *made).mass_g}


def _rolled(batch: Batch, case: _Case, paste: _Stirred, main: WantedBait) -> Figures:
    """Return the baits of the largest share, nothing where none has a share."""
    if not main.share:
        return {}
    density = paste.density_g_ml
    left_g = max(0.0, paste.paste_g * (1 - case.bowl_loss) - fixed_g(batch.roll.wanted, density))
    return {"baits": main.many(left_g * main.share, density, case.wider_mm)}


def _boiled(batch: Batch, case: _Case, paste: _Stirred, main: WantedBait) -> Figures:
    """Return the time of the largest share, nothing where it is the user's own."""
    seconds = _seconds(batch, case, main, paste.parts) if main.own_s is None else None
    return {"boil": seconds} if seconds else {}


def _absorbency(batch: Batch, case: _Case) -> float:
    """Return the absorbency of a case: a trial's bag stays, so other eggs or liquids change it."""
    trial, expected = batch.trial, batch.learned.absorbency.expected
    if trial.amount_g is None or trial.from_blend:
        return expected * case.absorbs
    seen = absorbency(trial.dry_g, trial.eggs, case.trial_egg_g, case.added.trial_rates)
    return expected * case.absorbs * seen / trial.absorbency


def _portions(n: float, case: _Case, dry_g: float, base_g: float) -> list[tuple[float, Parts]]:
    portions = [(n * case.egg_g, WHOLE_EGG), (base_g, case.mix)]
    for parts, per_egg_g, per_dry in case.added.portions:
        portions.append((n * per_egg_g + dry_g * per_dry, parts or case.mix))
    return portions


def _merged(additives: Iterable[Additive]) -> tuple[Additive, ...]:
    """Return as few additives that bring the same, so that each doubt is worked out on these."""
    merged: dict[object, tuple[Additive, Dose | None, Dose | None]] = {}
    for a in additives:
        hookbait, freebie = a.hookbait, a.freebie
        if a.density_is_own:  # known, so its doses may as well be masses
            hookbait = hookbait and dose_by_mass(hookbait, a.density_g_ml)
            freebie = freebie and dose_by_mass(freebie, a.density_g_ml)
        key = a.form, a.density_is_own, a.wetting, a.parts, _kind(hookbait), _kind(freebie)
        if before := merged.get(key):
            merged[key] = before[0], _sum(before[1], hookbait), _sum(before[2], freebie)
        else:
            merged[key] = a, hookbait, freebie
    return tuple(a._replace(hookbait=h, freebie=f) for a, h, f in merged.values())


def _kind(dose: Dose | None) -> tuple[bool, bool] | None:
    return dose and (dose.by_volume, dose.per_egg_g > 0)


def _sum(one: Dose | None, other: Dose | None) -> Dose | None:
    if one is None or other is None:
        return None
    per_egg, per_kg = one.per_egg + other.per_egg, one.per_kg + other.per_kg
    return Dose(per_egg, per_kg, one.by_volume, one.per_egg_g + other.per_egg_g)


def _added(batch: Batch, additives: Iterable[Additive], egg_g: float | None = None) -> _Added:
    of_trial = list(additives)
    used = [a.of_egg(egg_g or batch.egg.each_g) for a in of_trial]
    portions: dict[Parts | None, tuple[float, float]] = {}
    for a in used:
        if dose := a.dose(batch.strength):
            parts = a.parts or {"liquid": WATER, "oil": FAT}.get(a.form)
            mass = dose_by_mass(dose, a.density_g_ml)
            per_egg_g, per_dry = portions.get(parts, (0.0, 0.0))
            portions[parts] = per_egg_g + mass.per_egg, per_dry + mass.per_kg / 1000
    return _Added(
        tuple(of_trial),
        rates_of(used, batch.strength),
        rates_of(of_trial, batch.trial.strength),
        tuple((parts, *brought) for parts, brought in portions.items()),
    )


def _density(batch: Batch, parts: Parts, air: float) -> float:
    """Return the paste's density; one that was measured stays."""
    paste = batch.paste
    if paste.measured or paste.density.bowls:
        return paste.density_g_ml
    return paste_density_g_ml(parts, air)


def _seconds(batch: Batch, case: _Case, main: WantedBait, parts: Parts) -> float | None:
    heat = paste_heat(parts, case.kitchen)
    heat = heat._replace(
        conductivity_w_mk=heat.conductivity_w_mk * case.conducts,
        diffusivity_m2_s=heat.diffusivity_m2_s * case.conducts,
    )
    ball = ball_of(main.diameter_mm + case.wider_mm, heat, case.kitchen)
    return boil_time_s(ball, case.kitchen.course, batch.roll.target.centre_c)


def _doubts(batch: Batch, case: _Case) -> Iterator[_Doubt]:
    yield from _of_the_mix(batch, case)
    yield from _of_the_eggs(batch, case)
    yield from _of_liquids(batch, case)
    yield from _of_defaults(batch, case)
    yield from _of_the_pan(batch, case)
    if TYPICAL_PARTS in batch.assumptions:
        cases = tuple(case._replace(mix=parts.normalised()) for parts in TYPICAL_MIX_ENDS)
        words = "a meal mix", "a fishmeal mix"
        yield _Doubt("What is in the base mix", "a typical mix", words, cases, "give its analysis")


def _of_the_mix(batch: Batch, case: _Case) -> Iterator[_Doubt]:
    p, egg = batch.powder, batch.poured
    if egg:
        others_g = batch.wet_g - egg.expected_g
        wet = (egg_g + others_g for egg_g in (egg.low_g, egg.high_g))
        ends = tuple(case._replace(absorbs=batch.wet_g / wet_g) for wet_g in wet)
        words = f"{egg.low_g:.0f} g", f"{egg.high_g:.0f} g"
        what = "How much egg this mix asks for"
        yield _Doubt(what, f"{egg.expected_g:.0f} g", words, ends, "weigh what you poured")
        return
    ends = tuple(case._replace(absorbs=dry_g / p.expected_g) for dry_g in (p.low_g, p.high_g))
    words = f"{p.base_mix_low_g:.0f} g", f"{p.base_mix_high_g:.0f} g"
    yield _Doubt("How much this mix takes up", f"{p.base_mix_g:.0f} g", words, ends, WEIGH_TUB)


def _of_the_eggs(batch: Batch, case: _Case) -> Iterator[_Doubt]:
    grade, each_g = batch.egg.grade, batch.egg.each_g
    if grade is None:
        return
    low, high = (1 - US_CLASS_SHARE) * each_g, (1 + US_CLASS_SHARE) * each_g
    if batch.egg.standard == "eu":
        middle = EU_GRADE_MID_WEIGHT_G[grade]
        start = EU_CLASS_FROM_G.get(grade, middle - OPEN_CLASS_WIDTH_G / 2)
        low, high = each_g * start / middle, each_g * (2 * middle - start) / middle
    cases = tuple(_of_egg(batch, case, egg_g) for egg_g in (low, high))
    words = f"{low:.0f} g", f"{high:.0f} g"
    yield _Doubt("One egg, shelled", f"{each_g:.1f} g", words, cases, "weigh the shelled eggs")


def _of_egg(batch: Batch, case: _Case, egg_g: float) -> _Case:
    """Return a case with another egg; doses by the gram of egg go with it."""
    by_mass = any(a.of_egg(egg_g) is not a for a in case.added.additives)
    added = _added(batch, case.added.additives, egg_g) if by_mass else case.added
    return case._replace(egg_g=egg_g, added=added)


def _of_liquids(batch: Batch, case: _Case) -> Iterator[_Doubt]:
    used = [a for a in case.added.additives if a.dose(batch.strength) is not None]
    if any(a.form != "powder" and a.wetting == 1 for a in used):
        ends = tuple(
            case._replace(added=_added(batch, (_wetting(a, end) for a in case.added.additives)))
            for end in WETTING[:2]
        )
        words = f"{WETTING.low:g} g", f"{WETTING.high:g} g"
        yield _Doubt("1 g of liquid wets like", "1 g of egg", words, ends, WETTING.measure)
    for form, plausible in DENSITY_G_ML.items():
        silent = [a for a in used if a.form == form and not a.density_is_own]
        if not silent:
            continue
        ends = tuple(
            case._replace(added=_added(batch, (_dense(a, form, end) for a in case.added.additives)))
            for end in plausible[:2]
        )
        words = f"{plausible.low:g} g/ml", f"{plausible.high:g} g/ml"
        what = f"Density of {'oils' if form == 'oil' else 'liquids'} that state none"
        yield _Doubt(what, f"{silent[0].density_g_ml:g} g/ml", words, ends, plausible.measure)


def _wetting(a: Additive, end: float) -> Additive:
    return a if a.form == "powder" or a.wetting != 1 else a._replace(wetting=end)


def _dense(a: Additive, form: str, end: float) -> Additive:
    return a if a.form != form or a.density_is_own else a._replace(density_g_ml=end)


def _of_defaults(batch: Batch, case: _Case) -> Iterator[_Doubt]:
    """Yield each named default that stands in for the user's own figure."""
    assumed = {a.what for a in batch.assumptions if a.origin != "yours"}
    for name, (low, high, measure) in PLAUSIBLE.items():
        default = DEFAULTS[name]
        if default.what not in assumed:
            continue
        cases = tuple(_with(batch, case, name, end) for end in (low, high))
        unit = default.unit.replace("degC", "°C")
        words = f"{low:g} {unit}", f"{high:g} {unit}"
        what = default.what[0].upper() + default.what[1:]
        yield _Doubt(what, f"{default.value:g} {unit}", words, cases, measure)


def _with(batch: Batch, case: _Case, name: str, end: float) -> _Case:
    """Return a case with a named default at one of its ends."""
    kitchen, drying = case.kitchen, case.drying
    if name == "shell":
        kept = (1 - end / 100) / (1 - DEFAULTS[name].value / 100)
        same = batch.egg.each_g == batch.trial.egg_g
        trial_egg_g = case.trial_egg_g * kept if same else case.trial_egg_g
        return case._replace(egg_g=case.egg_g * kept, trial_egg_g=trial_egg_g)
    if name == "air":
        return case._replace(air=end / 100, kitchen=kitchen._replace(air_share=end / 100))
    if name == "bowl_loss":
        return case._replace(bowl_loss=end / 100)
    if name == "steam_loss":
        return case._replace(drying=drying._replace(steam_share=end / 100))
    if name == "drying_diffusivity":
        return case._replace(drying=drying._replace(diffusivity_m2_s=end * 1e-12))
    if name == "start":
        return case._replace(kitchen=kitchen._replace(start_c=end))
    if name == "film":
        return case._replace(kitchen=kitchen._replace(film_w_m2k=end))
    return case._replace(kitchen=kitchen._replace(cooling_film_w_m2k=end))


def _of_the_pan(batch: Batch, case: _Case) -> Iterator[_Doubt]:
    kitchen = case.kitchen
    main = max(batch.roll.wanted, key=lambda w: w.share)
    spread, size = kitchen.spread_mm, main.diameter_mm
    if main.core_mm is None:
        words = f"{size - spread:g} mm", f"{size + spread:g} mm"
        cases = tuple(case._replace(wider_mm=mm) for mm in (-spread, spread))
        each_g = 20 * batch.paste.density_g_ml * main.paste_ml
        weigh = f"weigh 20 rolled: {each_g:.3g} g"
        yield _Doubt(f"Size of {size:g} mm", f"{size:g} mm", words, cases, weigh)
    doubt = batch.roll.heat(batch.paste).doubt_share
    cases = tuple(case._replace(conducts=1 + end) for end in (-doubt, doubt))
    words = f"{100 * (1 - doubt):.0f} %", f"{100 * (1 + doubt):.0f} %"
    yield _Doubt("Heat that the paste conducts", "100 %", words, cases, CUT_OPEN)
    if any(a.what == "height above the sea" and a.origin != "yours" for a in batch.assumptions):
        low, high, measure = ALTITUDE_M
        water = (kitchen._replace(water_c=boiling_point_c(end)) for end in (low, high))
        cases = tuple(case._replace(kitchen=one) for one in water)
        words = f"{low:g} m", f"{high:g} m"
        yield _Doubt("Height above the sea", f"{kitchen.altitude_m:g} m", words, cases, measure)
