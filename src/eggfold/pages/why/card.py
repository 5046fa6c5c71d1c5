"""How the figures of a card came about: the eggs, the powder, what is measured into the bowl."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from eggfold.engine.powder import Z_90
from eggfold.engine.scaling import dose_rates
from eggfold.pages.why.baits import bait_lines, paste_lines
from eggfold.pages.why.learned import learned_lines
from eggfold.pages.why.sums import added, fine, got, put, without_sum
from eggfold.reference.defaults import DEFAULT_DRY_G, DEFAULT_LIQUIDS_G
from eggfold.reference.eggs import EU_GRADE_MID_WEIGHT_G, US_SOURCE
from eggfold.units import is_volume

if TYPE_CHECKING:
    from eggfold.files.recipe import Strength
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.bowl.dose_line import DoseLine
    from eggfold.jobs.bowl.trial import Additive, Egg


def why_lines(batch: Batch) -> Iterator[str]:
    """Yield a sum for each figure of a card, checkable with a pocket calculator."""
    yield from bowl_sums(batch)
    yield from paste_lines(batch)
    yield from bait_lines(batch)


def bowl_sums(batch: Batch) -> Iterator[str]:
    """Yield a sum for each figure of what goes into the bowl."""
    yield from egg_lines(batch.egg)
    yield f"Eggs = number × one egg = {batch.eggs} × {put(batch.egg.each_g)} = {got(batch.shelled_g)} g"
    yield from _absorbency_lines(batch)
    yield from learned_lines("Absorbency", batch.learned.absorbency)
    yield from rate_lines(batch.trial.additives, batch.strength, "")
    yield from _powder_lines(batch)
    for line in batch.doses:
        yield from _dose_lines(line, batch)


def egg_lines(egg: Egg) -> Iterator[str]:
    """Yield the sum of one egg of a grade; an egg that the user weighed needs none."""
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
    if t.amount_g is None:
        yield (
            f"Absorbency = usual dry mix / (one EU large egg + usual liquids) = {DEFAULT_DRY_G:g} / "
            f"(60.52 + {DEFAULT_LIQUIDS_G:g}) = {got(t.absorbency)} g of dry mix per g of wet"
        )
        return
    r = t.rates
    yield from rate_lines(t.additives, t.strength, "Trial: ")
    yield (
        "Trial: dry mix = (bag + eggs × powders per egg) / (1 − powders per g of mix) = "
        f"({put(t.amount_g)} + {t.eggs} × {put(r.powder_per_egg_g)}) / (1 − {put(r.powder_per_dry)}) "
        f"= {got(t.dry_g)} g"
    )
    yield (
        "Absorbency = trial's dry mix / (eggs × (egg + liquids per egg) + liquids per g of mix × dry "
        f"mix) = {put(t.dry_g)} / ({t.eggs} × ({put(t.egg_g)} + {put(r.wet_per_egg_g)}) + "
        f"{put(r.wet_per_dry)} × {put(t.dry_g)}) = {got(t.absorbency)} g of dry mix per g of wet"
    )


def rate_lines(additives: Iterable[Additive], strength: Strength, head: str) -> Iterator[str]:
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
    if dose is not None and is_volume(dose) and a.density_g_ml:
        each = rate / wetting / a.density_g_ml if wetting else 0.0
        return f"{put(each)} × {put(a.density_g_ml)}{wets}"
    return f"{put(rate / wetting if wetting else 0.0)}{wets}"


def _powder_lines(batch: Batch) -> Iterator[str]:
    a, rates, n, p = batch.learned.absorbency, batch.rates, batch.eggs, batch.powder
    egg, wet_e, wet_d = batch.egg.each_g, rates.wet_per_egg_g, rates.wet_per_dry
    yield (
        "All dry mix = absorbency × eggs × (egg + liquids per egg) / (1 − absorbency × liquids per g of "
        f"mix) = {put(a.mean)} × {n} × ({put(egg)} + {put(wet_e)}) / (1 − {put(a.mean)} × "
        f"{put(wet_d)}) = {got(p.expected_g)} g"
    )
    yield (
        f"Wet = eggs + eggs × liquids per egg + liquids per g of mix × dry mix = "
        f"{put(batch.shelled_g)} + {n} × {put(wet_e)} + {put(wet_d)} × {put(p.expected_g)} = "
        f"{got(batch.wet_g)} g"
    )
    powders = p.expected_g - p.base_mix_g
    yield (
        "Base mix = dry mix × (1 − powders per g of mix) − eggs × powders per egg = "
        f"{put(p.expected_g)} × (1 − {put(rates.powder_per_dry)}) − {n} × "
        f"{put(rates.powder_per_egg_g)} = {got(p.base_mix_g)} g"
    )
    yield from _doubt_lines(batch)
    both = math.hypot(a.sd, a.bowl_sd)
    yield (
        f"Doubt of this bowl = √(sd of the absorbency² + bowl to bowl²) = √({put(a.sd)}^2 + "
        f"{put(a.bowl_sd)}^2) = {got(both)}"
    )
    for side, sign, dry, base in (
        ("Low", "−", p.low_g, p.base_mix_low_g),
        ("High", "+", p.high_g, p.base_mix_high_g),
    ):
        text = (
            f"{side} end = (absorbency {sign} {Z_90:g} × doubt) × wet = ({put(a.mean)} {sign} "
            f"{Z_90:g} × {put(both)}) × {put(batch.wet_g)} = {got(dry)} g"
        )
        if base > 0:
            text += f"; base mix in it {put(dry)} − {put(powders)} = {got(base)} g"
        if dry > 0:
            yield text


def _doubt_lines(batch: Batch) -> Iterator[str]:
    """Yield the parts of the doubt, and what the 90 % range takes of it."""
    a, first, share = batch.learned.absorbency, batch.trial.absorbency, batch.trial.sd_share
    learned = " before the notes" if a.prior else ""
    yield (
        f"Sd of the absorbency{learned} = its share in doubt × absorbency = {put(share)} × "
        f"{put(first)} = {got(share * first)}"
    )
    yield (
        f"Bowl to bowl = its share × absorbency{learned} = {put(a.bowl_sd / first)} × {put(first)} = "
        f"{got(a.bowl_sd)}"
    )
    how = "looked up: nine in ten values of a normal distribution lie so near its middle"
    yield without_sum("Range of the powder", f"{Z_90:g} × doubt to either side", how)


def _dose_lines(line: DoseLine, batch: Batch) -> Iterator[str]:
    a = line.additive
    dry_kg, by_volume = (
        batch.powder.expected_g / 1000,
        line.by_volume and line.amount.ml is not None,
    )
    unit, amount = ("ml", line.amount.ml or 0.0) if by_volume else ("g", line.amount.g)
    dose = a.dose(batch.strength)
    if dose is not None and dose_rates(dose, a.density_g_ml).per_egg_g:
        sum_ = f"dose per egg × eggs = {put(amount / batch.eggs)} × {batch.eggs}"
    else:
        sum_ = f"dose per kg × dry mix in kg = {put(amount / dry_kg)} × {put(dry_kg)}"
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
