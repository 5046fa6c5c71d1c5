"""The sums of a card, for ``--why``."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from eggfold.engine.paste import DENSITY_AT_C, paste_density_g_ml
from eggfold.pages.boil import pan_sums, row_sums, wait_sum
from eggfold.pages.buoyancy import cored_lines
from eggfold.pages.figures import added, bait_text, fine, got, put, size_text, without_sum
from eggfold.recipe.baits import fixed_g
from eggfold.recipe.boil_times import pan_load_g
from eggfold.recipe.trial import LARGE_EGG_WET_G
from eggfold.reference.defaults import DEFAULT_DRY_G, DEFAULT_LIQUIDS_G
from eggfold.reference.eggs import EU_GRADE_MID_WEIGHT_G, US_SOURCE
from eggfold.reference.learning import (
    BLEND_SD,
    BLEND_SD_LIMITS,
    GRADED_EGG_SD,
    INGREDIENT_SD,
    LEAST_MIX_SD,
    SCATTERS,
    TRIAL_SD,
)
from eggfold.reference.properties import PART_NAMES, Parts

if TYPE_CHECKING:
    from eggfold.engine.powder import BlendEstimate, Neighbour
    from eggfold.load.recipe import Strength
    from eggfold.recipe.baits import BaitLine, WantedBait
    from eggfold.recipe.batch import Batch
    from eggfold.recipe.learning import LearntFigure
    from eggfold.recipe.mixing import DoseLine, Paste, Poured
    from eggfold.recipe.trial import Additive, Egg


MOST_ROWS = 6
"""Mixes up to which every row of the system is shown; of more only what they do; house limit."""
TAU2 = f"({INGREDIENT_SD:g} κ0)²"
"""The variance between ingredients, as sums name it."""


def _blend_lines(estimate: BlendEstimate) -> Iterator[str]:
    """Yield what each mix takes, what it shares, how far it pulls, and what follows."""
    k0 = put(estimate.default)
    yield (
        f"Usual wet for a gram of dry, κ0 = 1 / usual absorbency = 1 / {put(1 / estimate.default)} = "
        f"{got(estimate.default)}"
    )
    for one in estimate.neighbours:
        yield from _mix_lines(one)
    if len(estimate.neighbours) <= MOST_ROWS:
        yield from _system(estimate)
    moved = added(f"{put(n.pull)} × ({put(n.mix.wet_per_dry)} − {k0})" for n in estimate.neighbours)
    yield f"Wet of the blend = κ0 + Σ pull × (wet − κ0) = {k0} + {moved} = {got(estimate.mean)}"
    taken = estimate.taken
    if taken.cut:
        yield without_sum(
            "Wet of the blend, kept within bounds",
            got(taken.wet_per_dry),
            f"no blend is taken to ask under half or over twice κ0; its doubt is {taken.sd:.0%}",
        )
    yield (
        f"Absorbency = 1 / wet of the blend = 1 / {put(taken.wet_per_dry)} = "
        f"{got(estimate.absorbency)} g of dry mix per g of wet"
    )
    least, most = BLEND_SD_LIMITS
    yield without_sum(
        "Doubt about it, 1 sd",
        f"{100 * taken.sd:.3g} %",
        f"the variance is {TAU2} × Σ share² − Σ pull × k + ({BLEND_SD:g} κ0)², "
        f"and its root over the wet is kept within {100 * least:g} and {100 * most:g} %",
    )


def _mix_lines(one: Neighbour) -> Iterator[str]:
    name, mix = one.mix.name, one.mix
    yield (
        f"{name}: wet = 1 / its absorbency = 1 / {put(1 / mix.wet_per_dry)} = {got(mix.wet_per_dry)}"
    )
    sd = max(LEAST_MIX_SD, mix.sd)
    yield f"{name}: σ = its doubt × wet = {put(sd)} × {put(mix.wet_per_dry)} = {got(one.sigma)}"


def _system(estimate: BlendEstimate) -> Iterator[str]:
    """Yield K, k and the pulls, each row to be checked."""
    for row, one in zip(estimate.matrix, estimate.neighbours, strict=True):
        yield without_sum(
            f"{one.mix.name}: its row of K and its k",
            f"{', '.join(fine(value, 6) for value in row)} and {fine(one.shared, 6)}",
            f"{TAU2} × Σ share × share of each two mixes, σ² more with itself; k likewise with the "
            "blend",
        )
    for row, one in zip(estimate.matrix, estimate.neighbours, strict=True):
        terms = added(
            f"{put(value)} × {put(other.pull)}"
            for value, other in zip(row, estimate.neighbours, strict=True)
        )
        yield f"{one.mix.name}: its row × the pulls gives its k = {terms} = {got(one.shared)}"


def why_lines(batch: Batch) -> Iterator[str]:
    """Yield a sum for each figure of a card, checkable with a pocket calculator."""
    yield from bowl_sums(batch)
    yield from _paste_lines(batch)
    yield from _bait_lines(batch)
    yield from _soak_lines(batch)


def bowl_sums(batch: Batch) -> Iterator[str]:
    """Yield a sum for each figure of what goes into the bowl."""
    yield from _egg_lines(batch.egg)
    if not batch.poured:
        yield from _eggs_line(batch)
    yield from _absorbency_lines(batch)
    yield from learned_lines("Absorbency", batch.learned.absorbency)
    yield from _rate_lines(_dosed(batch), batch.strength, "")
    if batch.poured:
        yield from _bag_lines(batch)
    yield from _powder_lines(batch)
    for line in batch.doses:
        dose = line.additive.dose(batch.strength)
        eggs = batch.worth if dose and dose.per_egg else None
        yield from _dose_lines(line, eggs, batch.powder.expected_g / 1000, "dry mix")


def _soak_lines(batch: Batch) -> Iterator[str]:
    """Yield a sum for each thing that finished bait takes up, for its weight then, and for its lift."""
    if not batch.soak or batch.paste.soaked_g is None:
        return
    finished_g, fresh_g = batch.paste.finished_g, sum(bait.baits_g for bait in batch.baits)
    for line in batch.soak:
        yield from _dose_lines(line.dose, None, finished_g / 1000, "dried bait")
    terms = added(put(g) for g in (finished_g, *(line.dose.amount.g for line in batch.soak)))
    yield f"With its soak = dried + what is taken up = {terms} = {got(batch.paste.soaked_g)} g"
    taken_g = batch.paste.soaked_g - finished_g
    taken_ml = sum(line.dose.amount.ml or 0.0 for line in batch.soak)
    for bait in batch.baits:
        if bait.soaked is None or bait.floating is None:
            continue
        what, lift = bait_text(bait.kind, bait.diameter_mm, bait.core_mm), bait.floating.lift_range
        part, water = bait.each_g / fresh_g, bait.floating.densities.water_g_ml
        yield (
            f"{what}, taken up = soak × its weight / all baits, fresh = {put(taken_g)} × "
            f"{put(bait.each_g)} / {put(fresh_g)} = {got(taken_g * part)} g, "
            f"{got(taken_ml * part)} ml"
        )
        yield (
            f"{what}, lifts with it, at least in its pores = lift − taken up = {put(lift.low_g)} − "
            f"{put(taken_g * part)} = {got(bait.soaked.low_g)} g; at most by swelling = lift − taken up "
            f"+ its ml × water = {put(lift.high_g)} − {put(taken_g * part)} + {put(taken_ml * part)} × "
            f"{put(water)} = {got(bait.soaked.high_g)} g"
        )


def _dosed(batch: Batch) -> Iterator[Additive]:
    """Return the additives with this batch's egg."""
    return (a.of_egg(batch.egg.each_g) for a in batch.trial.additives)


def _eggs_line(batch: Batch) -> Iterator[str]:
    """Yield the shelled mass of counted eggs, or how many liquid egg counts as."""
    each = put(batch.egg.each_g)
    if batch.egg.liquid:
        yield (
            f"Eggs = liquid egg / what counts as one = {put(batch.shelled_g)} / {each} = "
            f"{got(batch.worth)}"
        )
        return
    yield f"Eggs = number × one egg = {batch.eggs} × {each} = {got(batch.shelled_g)} g"


def _bag_lines(batch: Batch) -> Iterator[str]:
    """Yield what one egg takes of a bag that is to go in whole, and the eggs that asks for."""
    rates, a, egg = batch.rates, put(batch.powder.absorbency), put(batch.egg.each_g)
    bag_g = batch.powder.base_mix_g
    one_g = bag_g / batch.worth
    yield (
        "Base mix of one egg = absorbency × (egg + liquids per egg) / (1 − absorbency × liquids per g "
        "of mix) × (1 − powders per g of mix) − powders per egg = "
        f"{a} × ({egg} + {put(rates.wet_per_egg_g)}) / (1 − {a} × {put(rates.wet_per_dry)}) × "
        f"(1 − {put(rates.powder_per_dry)}) − {put(rates.powder_per_egg_g)} = {got(one_g)} g"
    )
    yield f"Eggs, as expected = bag / base mix of one egg = {put(bag_g)} / {put(one_g)} = {got(batch.worth)}"
    yield (
        f"Egg, as expected = eggs × one egg = {put(batch.worth)} × {egg} = "
        f"{got(batch.worth * batch.egg.each_g)} g"
    )


def _egg_lines(egg: Egg) -> Iterator[str]:
    """Yield the sum of one egg of a grade, or the mean of mixed ones; one that was weighed needs none."""
    if egg.boxes:
        for box in egg.boxes:
            yield from _egg_lines(box.egg)
        eggs = added(f"{box.number} × {put(box.egg.each_g)}" for box in egg.boxes)
        number = added(str(box.number) for box in egg.boxes)
        yield f"One mixed egg = all eggs / number = ({eggs}) / ({number}) = {got(egg.each_g)} g"
    if egg.standard == "eu":
        middle = EU_GRADE_MID_WEIGHT_G[str(egg.grade)]
        yield (
            f"One egg = middle of the class × (1 − shell) = {middle:g} × (1 − "
            f"{put(1 - egg.each_g / middle)}) = {got(egg.each_g)} g"
        )
    elif egg.standard == "us":
        yield without_sum("One egg", f"{egg.each_g:g} g", f"looked up in {US_SOURCE}")


def _absorbency_lines(batch: Batch) -> Iterator[str]:
    t = batch.trial
    if t.predicted and t.predicted.estimate.learned:
        yield from _blend_lines(t.predicted.estimate)
        return
    if t.amount_g is None:
        yield (
            f"Absorbency = usual dry mix / (one EU large egg + usual liquids) = {DEFAULT_DRY_G:g} / "
            f"({put(LARGE_EGG_WET_G - DEFAULT_LIQUIDS_G)} + {DEFAULT_LIQUIDS_G:g}) = {got(t.absorbency)} g of dry mix per g of wet"
        )
        return
    r = t.rates
    yield from _rate_lines(t.additives, t.strength, "Trial: ")
    yield (
        "Trial: dry mix = (bag + eggs × powders per egg) / (1 − powders per g of mix) = "
        f"({put(t.amount_g)} + {put(t.eggs)} × {put(r.powder_per_egg_g)}) / (1 − {put(r.powder_per_dry)}) "
        f"= {got(t.dry_g)} g"
    )
    yield (
        "Absorbency = trial's dry mix / (eggs × (egg + liquids per egg) + liquids per g of mix × dry "
        f"mix) = {put(t.dry_g)} / ({put(t.eggs)} × ({put(t.egg_g)} + {put(r.wet_per_egg_g)}) + "
        f"{put(r.wet_per_dry)} × {put(t.dry_g)}) = {got(t.absorbency)} g of dry mix per g of wet"
    )


def _rate_lines(additives: Iterable[Additive], strength: Strength, head: str) -> Iterator[str]:
    """Yield what all liquids and all powders add up to, per egg and per gram of dry mix."""
    sums: dict[str, list[tuple[str, str, float]]] = {}
    for a in additives:
        rates = a.rates(strength)._asdict()
        for name, what in _RATES.items():
            if rates[name]:
                sums.setdefault(what, []).append(
                    (a.name, _rate_term(a, strength, rates[name]), rates[name])
                )
    for what, terms in sums.items():
        text = added(term for _, term, _ in terms)
        if "×" in text or "+" in text:
            names = ", ".join(name for name, _, _ in terms)
            yield f"{head or what[0].upper()}{what if head else what[1:]} ({names}) = {text} = {got(sum(rate for *_, rate in terms))} g"


_RATES = {
    "powder_per_egg_g": "powders per egg",
    "powder_per_dry": "powders per g of mix",
    "wet_per_egg_g": "liquids per egg",
    "wet_per_dry": "liquids per g of mix",
}


def _rate_term(a: Additive, strength: Strength, rate: float) -> str:
    """Return one additive's part of a rate: its volume by its density, and by its wetting."""
    wetting = 1.0 if a.form == "powder" else a.wetting
    wets = "" if wetting == 1 else f" × {put(wetting)}"
    dose = a.dose(strength)
    if dose is not None and dose.by_volume and a.density_g_ml:
        each = rate / wetting / a.density_g_ml if wetting else 0.0
        return f"{put(each)} × {put(a.density_g_ml)}{wets}"
    return f"{put(rate / wetting if wetting else 0.0)}{wets}"


def _powder_lines(batch: Batch) -> Iterator[str]:
    rates, n, p = batch.rates, put(batch.worth), batch.powder
    egg, wet_e, wet_d = batch.egg.each_g, rates.wet_per_egg_g, rates.wet_per_dry
    yield (
        "All dry mix = absorbency × eggs × (egg + liquids per egg) / (1 − absorbency × liquids per g of "
        f"mix) = {put(p.absorbency)} × {n} × ({put(egg)} + {put(wet_e)}) / (1 − {put(p.absorbency)} × "
        f"{put(wet_d)}) = {got(p.expected_g)} g"
    )
    yield (
        f"Wet = eggs + eggs × liquids per egg + liquids per g of mix × dry mix = "
        f"{put(batch.worth * egg)} + {n} × {put(wet_e)} + {put(wet_d)} × {put(p.expected_g)} = "
        f"{got(batch.wet_g)} g"
    )
    powders = p.expected_g - p.base_mix_g
    yield (
        "Base mix = dry mix × (1 − powders per g of mix) − eggs × powders per egg = "
        f"{put(p.expected_g)} × (1 − {put(rates.powder_per_dry)}) − {n} × "
        f"{put(rates.powder_per_egg_g)} = {got(p.base_mix_g)} g"
    )
    yield from _doubt_lines(batch)
    if batch.poured:
        yield from _poured_lines(batch, batch.poured)
        return
    for side, dry, base in (
        ("Low", p.low_g, p.base_mix_low_g),
        ("High", p.high_g, p.base_mix_high_g),
    ):
        text = (
            f"{side} end = {side.lower()} absorbency × wet = {put(dry / batch.wet_g)} × "
            f"{put(batch.wet_g)} = {got(dry)} g"
        )
        if base > 0:
            text += f"; base mix in it {put(dry)} − {put(powders)} = {got(base)} g"
        yield text


def _poured_lines(batch: Batch, poured: Poured) -> Iterator[str]:
    """Yield the ends of the egg that a whole bag asks for, and the eggs to beat."""
    dry_g, others_g = batch.powder.expected_g, batch.wet_g - poured.expected_g
    for side, absorbs, egg_g in (
        ("Least", "high", poured.low_g),
        ("Most", "low", poured.high_g),
    ):
        if egg_g:
            yield (
                f"{side} egg = dry mix / {absorbs} absorbency − liquids = {put(dry_g)} / "
                f"{put(dry_g / (egg_g + others_g))} − {put(others_g)} = {got(egg_g)} g"
            )
    if not batch.egg.liquid:
        yield (
            f"Eggs to beat = most egg / one egg = {put(poured.high_g)} / {put(batch.egg.each_g)} = "
            f"{got(poured.high_g / batch.egg.each_g)}, rounded up to {batch.eggs}"
        )


def _absorbency_ends(batch: Batch) -> tuple[float, float]:
    """Return the ends of the absorbency that a bowl's range rests on."""
    powder, poured, wet = batch.powder, batch.poured, batch.wet_g
    if poured is None:
        return powder.low_g / wet, powder.high_g / wet
    others_g = wet - poured.expected_g
    return powder.expected_g / (poured.high_g + others_g), powder.expected_g / (
        poured.low_g + others_g
    )


def _doubt_lines(batch: Batch) -> Iterator[str]:
    """Yield the doubt before any note, and the range that it and the bowls leave."""
    absorbency, trial = batch.learned.absorbency, batch.trial
    if trial.own and trial.sd_share > TRIAL_SD:
        yield (
            "Doubt about the trial = √(one bowl² + one egg of its class² / eggs) = "
            f"√({put(TRIAL_SD)}^2 + {put(GRADED_EGG_SD)}^2 / {put(trial.eggs)}) = {got(trial.sd_share)}"
        )
    setting, bowls = absorbency.setting, batch.bowls_number
    together = "" if bowls == 1 else f", the scatter averaged over {bowls} bowls"
    yield without_sum(
        "Absorbency, low and high end",
        " and ".join(map(got, _absorbency_ends(batch))),
        f"where 5 and 95 of 100 bowls lie below: {SCATTERS} normal distributions of its logarithm "
        f"are added up{together}, one for each scatter from {100 * setting.least_bowl_sd:g} to "
        f"{100 * setting.most_bowl_sd:g} %, as likely as {100 * setting.bowl_sd:g} % expected and the "
        f"notes make it, the level in doubt by {100 * absorbency.ratio.level_sd:.3g} %",
    )


def _dose_lines(line: DoseLine, eggs: float | None, kg: float, of: str) -> Iterator[str]:
    """Yield an amount: of a dose per egg, else of one per kilo of dry mix or dried bait."""
    a, by_volume = line.additive, line.by_volume and line.amount.ml is not None
    unit, amount = ("ml", line.amount.ml or 0.0) if by_volume else ("g", line.amount.g)
    if eggs:
        sum_ = f"dose per egg × eggs = {put(amount / eggs)} × {put(eggs)}"
    else:
        sum_ = f"dose per kg × {of} in kg = {put(amount / kg)} × {put(kg)}"
    text = f"{a.name} = {sum_} = {got(amount)} {unit}"
    if line.amount.ml is not None and a.density_g_ml is not None and amount:
        if by_volume:
            text += (
                f"; by its density {put(amount)} × {put(a.density_g_ml)} = {got(line.amount.g)} g"
            )
        else:
            text += (
                f"; by its density {put(amount)} / {put(a.density_g_ml)} = {got(line.amount.ml)} ml"
            )
    yield text
    if line.trial and line.trial.g and line.amount.g:
        yield (
            f"{a.name}, times the trial's = {put(line.amount.g)} / {put(line.trial.g)} = "
            f"{got(line.amount.g / line.trial.g)}"
        )
    yield from _reading_lines(line)


def _reading_lines(line: DoseLine) -> Iterator[str]:
    reading, tool = line.reading, line.reading.tool
    dose = line.amount.g if tool.unit == "g" else line.amount.ml
    if not dose:
        return
    times = "" if reading.premix == 1 else " × parts of the premix"
    shown = put(dose) if reading.premix == 1 else f"({put(dose)} × {reading.premix})"
    pair = (put(reading.amount), shown)
    more, less = pair if reading.amount >= dose * reading.premix else pair[::-1]
    yield (
        f"{line.additive.name}, out by = (reading off the dose{times} + half a division for each "
        f"filling) / dose{times} × 100 = ({more} − {less} + {reading.fillings} × "
        f"{put(tool.division)} / 2) / {shown} × 100 = {fine(reading.error_pct, 3)} %"
    )


def _paste_lines(batch: Batch) -> Iterator[str]:
    """Yield the paste's mass, what it is made of, its density, and what it weighs dried."""
    paste = batch.paste
    yield (
        "Paste = eggs + base mix + additives = "
        f"{added(put(g) for g, _ in paste.portions)} = {got(paste.mass_g)} g"
    )
    if batch.doses and not paste.measured:
        how = "a house default where no analysis is stated"
        value = "liquids as water, oils as fat, powders as the base mix"
        yield without_sum("What additives are made of", value, how)
    yield from density_lines(paste)
    yield from learned_lines("Density", paste.density)
    yield from learned_lines("Finished bait from the paste", batch.dried)
    yield from _dried_lines(batch)


def _dried_lines(batch: Batch) -> Iterator[str]:
    """Yield what each size loses while it dries, and what all weigh then."""
    paste, drying = batch.paste, batch.roll.drying
    terms, expected_g = [], 0.0
    for bait, wanted in zip(batch.baits, batch.roll.wanted, strict=True):
        loss = drying.loss(bait.diameter_mm, paste.water_share, wanted.drying_h)
        hours = drying.hours if wanted.drying_h is None else wanted.drying_h
        if drying.stated_share is None:
            yield without_sum(
                f"Drying loss of {size_text(bait.diameter_mm)} after {hours:g} h",
                f"{put(loss.share)}, {put(loss.low)} to {put(loss.high)}",
                f"water moves out of a ball by a series: {put(paste.water_share)} of the paste is water, "
                f"{put(drying.steam_share)} steams off, diffusivity {put(drying.diffusivity_m2_s * 1e12)} "
                "× 10⁻¹² m²/s",
            )
        terms.append(f"{put(bait.paste_g)} × (1 − {put(loss.share)})")
        expected_g += bait.paste_g * (1 - loss.share)
        if wanted.cork_g:
            expected_g += bait.baits_g - bait.paste_g
            terms.append(f"{put(bait.baits_g - bait.paste_g)}")
    corks = " + corks" if any(w.cork_g for w in batch.roll.wanted) else ""
    before = ", before the notes," if batch.dried.bowls else ""
    yield (
        f"Dried{before} = Σ paste of a size × (1 − its drying loss){corks} = {added(terms)} = "
        f"{got(expected_g)} g"
    )
    if not batch.dried.bowls:
        return
    ratio = batch.dried.expected
    if expected_g * ratio > paste.finished.most_g:
        how = "no bowl weighs more than if nothing dried away"
        yield without_sum("Dried", f"{got(paste.finished_g)} g", how)
        return
    yield (
        f"Dried = that × what bowls weighed over it = {put(expected_g)} × {put(ratio)} = "
        f"{got(paste.finished_g)} g"
    )


def density_lines(paste: Paste) -> Iterator[str]:
    """Yield the density: of weighed baits, or from the parts of what was stirred together."""
    before = paste.density.began
    if paste.measured:
        hundred_g, diameter_mm = paste.measured
        yield (
            f"Density = a hundred baits / 100 / (3.14159 × diameter³ / 6) = {put(hundred_g)} / 100 / "
            f"(3.14159 × {put(diameter_mm / 10)}³ / 6) = {got(before)} g/ml"
        )
        return
    yield from _mixed_lines(paste.portions, paste.parts)
    terms = added(
        f"{put(share)} / {put(_alone_g_ml(name))}"
        for name, share in zip(PART_NAMES, paste.parts, strict=True)
        if share
    )
    yield (
        f"Density = (1 − air) / Σ share / density of the part at {DENSITY_AT_C:g} °C after Choi and "
        f"Okos = (1 − {put(paste.air)}) / ({terms}) = {got(before)} g/ml"
    )


def _mixed_lines(portions: tuple[tuple[float, Parts], ...], whole: Parts) -> Iterator[str]:
    """Yield the share of each part in what was stirred together."""
    mass = added(put(g) for g, _ in portions)
    for name, share in zip(PART_NAMES, whole, strict=True):
        terms = [
            f"{put(g)} × {put(getattr(parts.normalised(), name))}"
            for g, parts in portions
            if g and getattr(parts, name)
        ]
        if terms:
            yield (
                f"{name.capitalize()} of the paste = Σ mass × its share / Σ mass = ({added(terms)}) / "
                f"({mass}) = {got(share)}"
            )


def _alone_g_ml(name: str) -> float:
    """Return the density of one part by itself at the temperature of a kitchen."""
    return paste_density_g_ml(Parts(**{n: float(n == name) for n in PART_NAMES}), 0.0)


def _bait_lines(batch: Batch) -> Iterator[str]:
    """Yield weights, counts, lifts and times, bait by bait."""
    kitchen, heat = batch.roll.kitchen, batch.roll.heat(batch.paste)
    most_g = pan_load_g(heat, kitchen)
    yield from _roll_lines(batch)
    yield from pan_sums(kitchen, heat, most_g)
    for bait, wanted in zip(batch.baits, batch.roll.wanted, strict=True):
        yield from _weight_lines(bait, batch.paste.density_g_ml)
        if not wanted.count:
            yield from _count_lines(bait, wanted, batch)
        if bait.boil is None:
            continue
        yield from row_sums(kitchen, heat, bait.boil)
        yield _load_line(bait, wanted, batch, most_g)
        if bait is batch.baits[0] or kitchen.burner_w is not None:
            yield wait_sum(kitchen, heat, bait.boil, bait.load_g, bait.wait_s)


def _left_g(batch: Batch) -> float:
    """Return the paste left to roll by share, once those with a count are taken."""
    rolled = batch.paste.mass_g * (1 - batch.roll.bowl_loss)
    return rolled - fixed_g(batch.roll.wanted, batch.paste.density_g_ml)


def _roll_lines(batch: Batch) -> Iterator[str]:
    """Yield the paste that is rolled by share: all of it but what the counted baits take."""
    density, roll = batch.paste.density_g_ml, batch.roll
    taken = "".join(
        f" − {w.count} × {put(density)} × {put(w.paste_ml)}" for w in roll.wanted if w.count
    )
    words = " − counted baits × density × paste in one" if taken else ""
    yield (
        f"To roll = paste × (1 − bowl loss){words} = {put(batch.paste.mass_g)} × (1 − "
        f"{put(roll.bowl_loss)}){taken} = {got(_left_g(batch))} g"
    )
    for line, share in zip(batch.pastes, roll.paste_shares, strict=True):
        yield (
            f"Paste not boiled = its share × to roll = {put(share)} × {put(_left_g(batch))} = "
            f"{got(line.mass_g)} g"
        )


def _weight_lines(bait: BaitLine, density: float) -> Iterator[str]:
    if bait.floating:
        yield from cored_lines(bait.floating, bait.each_g)
        return
    yield (
        f"One {size_text(bait.diameter_mm)} bait = density × 3.14159 × diameter³ / 6 = {put(density)} × "
        f"3.14159 × {put(bait.diameter_mm / 10)}³ / 6 = {got(bait.each_g)} g"
    )
    if bait.sausage_mm is not None:
        yield (
            f"Sausage of {size_text(bait.diameter_mm)} = 0.816497 × table's pitch = 0.816497 × "
            f"{put(bait.diameter_mm)} = {got(bait.sausage_mm)} mm; of another thickness, one bait is cut "
            "every 2 × diameter³ / (3 × thickness²)"
        )


def _count_lines(bait: BaitLine, wanted: WantedBait, batch: Batch) -> Iterator[str]:
    """Yield the count as expected, and its low and high end."""
    size, left, keep = size_text(bait.diameter_mm), _left_g(batch), 1 - batch.roll.bowl_loss
    varies = batch.poured or batch.powder
    spread, what = batch.roll.kitchen.spread_mm, "egg" if batch.poured else "dry mix"
    more, less = (g * keep for g in varies.margin)
    rolled, short = put(keep), "egg" if batch.poured else "powder"
    yield (
        f"Paste at least for {size} = to roll − ({what} − its low end) × (1 − bowl loss) = {put(left)} "
        f"− ({put(varies.expected_g)} − {put(varies.low_g)}) × {rolled} = {got(left - less)} g"
    )
    yield (
        f"Paste at most for {size} = to roll + (high end − {what}) × (1 − bowl loss) = {put(left)} "
        f"+ ({put(varies.high_g)} − {put(varies.expected_g)}) × {rolled} = {got(left + more)} g"
    )
    for what, paste_g, wider_mm, count in (
        ("", left, 0.0, bait.count),
        (f" at least, rolled wide of less {short}", max(0.0, left - less), spread, bait.low),
        (f" at most, rolled narrow of more {short}", left + more, -spread, bait.high),
    ):
        core_mm = bait.core_mm or 0.0
        rolled_mm = max(bait.diameter_mm + wider_mm, 0.5 * (bait.diameter_mm + core_mm))
        core = f" − {put(core_mm / 10)}³" if core_mm else ""
        exact = wanted.many(paste_g * wanted.share, batch.paste.density_g_ml, wider_mm)
        under = ", just under" if float(got(exact)) > count + 0.999 else ""
        yield (
            f"Baits of {size}{what} = share × paste / (density × 3.14159 / 6 × diameter³) = "
            f"{put(wanted.share)} × {put(paste_g)} / ({put(batch.paste.density_g_ml)} × 3.14159 / 6 × "
            f"({put(rolled_mm / 10)}³{core})) = {got(exact)}{under}, so {count} whole"
        )


def _load_line(bait: BaitLine, wanted: WantedBait, batch: Batch, most_g: float) -> str:
    """Return how many loads a size makes, and what each of them weighs."""
    each = put(bait.each_g)
    if wanted.count:
        text = f"{wanted.count} × {each}"
    else:
        text = (
            f"{put(_left_g(batch))} × {put(wanted.share)} / ({put(batch.paste.density_g_ml)} × "
            f"{put(wanted.paste_ml)}) × {each}"
        )
    return (
        f"Loads of {size_text(bait.diameter_mm)} = all its baits / most of one load = {text} / "
        f"{put(most_g)} = {got(bait.baits_g / most_g)}, rounded up to {bait.loads}; each weighs all / "
        f"loads = {put(bait.baits_g)} / {max(1, bait.loads)} = {got(bait.load_g)} g"
    )


def learned_lines(what: str, figure: LearntFigure) -> Iterator[str]:
    """Yield how the user's own notes moved a figure; nothing where there are none."""
    for i, noted in enumerate(figure.noted):
        over, doubt = ", over what was expected =", ""
        if figure.weighed:
            bowl = figure.weighed[i]
            over = (
                f" = dry mix / wet = {put(bowl.dry_g)} / {put(bowl.wet_g)} = {got(noted.value)}; over "
                "what was expected"
            )
            doubt = (
                f"; doubt of the scale = its division / (√6 × dry mix) = {put(bowl.scale_g)} / "
                f"(√6 × {put(bowl.dry_g)}) = {fine(noted.reading_sd, 5)}"
            )
        yield (
            f"{what} of {noted.where}{over} {put(noted.value)} / {put(noted.expected)} = "
            f"{got(noted.value / noted.expected)}{doubt}"
        )
    if not figure.bowls:
        return
    setting = figure.setting
    yield without_sum(
        f"{what} after the notes",
        f"{got(figure.expected)}, {got(figure.expected / figure.began)} of what was expected",
        f"level, scatter and drift are learned together, day by day: a level in doubt by "
        f"{100 * setting.level_sd:.3g} % before the first note and drifting by "
        f"{100 * setting.drift_sd:g} % a bowl meets each note under each of {SCATTERS} scatters; after "
        f"them bowls scatter by {100 * figure.ratio.scatter:.2g} %",
    )
