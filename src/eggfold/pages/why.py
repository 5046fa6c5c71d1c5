"""How each figure came about: the equation in words, the numbers put in, the result."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.figures import number_text
from eggfold.pages.floating import cored_lines

if TYPE_CHECKING:
    from eggfold.jobs.baits import BaitLine
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.dose_line import DoseLine


def _n(value: float) -> str:
    return number_text(value, 6)


def why_lines(batch: Batch) -> Iterator[str]:
    """Yield a sum for each figure of a card, checkable with a pocket calculator."""
    a, rates, n = batch.learned.absorbency.mean, batch.rates, batch.eggs
    yield f"Eggs = {n} × {_n(batch.egg.each_g)} g = {_n(batch.shelled_g)} g"
    yield from _absorbency_lines(batch)
    yield from _learned_lines(batch)
    egg, wet_e, wet_d = batch.egg.each_g, rates.wet_per_egg_g, rates.wet_per_dry
    p = batch.powder
    yield (
        f"All dry mix = absorbency × eggs × (egg + liquids per egg) / (1 − absorbency × liquids per g "
        f"of mix) = {_n(a)} × {n} × ({_n(egg)} + {_n(wet_e)}) / (1 − "
        f"{_n(a)} × {_n(wet_d)}) = {_n(p.expected_g)} g"
    )
    yield (
        f"Wet = {_n(batch.shelled_g)} + {n} × {_n(wet_e)} + {_n(wet_d)} × {_n(p.expected_g)} "
        f"= {_n(batch.wet_g)} g"
    )
    yield (
        f"Base mix = dry mix − powder additives = {_n(p.expected_g)} − "
        f"{_n(p.expected_g - p.base_mix_g)} = {_n(p.base_mix_g)} g"
    )
    share = (p.high_g / p.expected_g) - 1 if p.expected_g else 0
    yield (
        f"Range = dry mix × (1 ± 1.645 × bowl sd) = {_n(p.expected_g)} × (1 ± 1.645 × "
        f"{_n(share / 1.645)}) = {_n(p.low_g)} to {_n(p.high_g)} g"
    )
    for line in batch.doses:
        yield _dose_line(line, batch)
    yield from _paste_lines(batch)
    for bait in batch.baits:
        yield from _bait_lines(bait)


def _absorbency_lines(batch: Batch) -> Iterator[str]:
    t = batch.trial
    if t.amount_g is None:
        yield f"Absorbency = 130 / (60.52 + 4) = {_n(t.absorbency)} g of dry mix per g of wet"
        return
    r = t.rates
    yield (
        f"Trial's dry mix = (bag + eggs × powders per egg) / (1 − powders per g of mix) = "
        f"({_n(t.amount_g)} + {t.eggs} × {_n(r.powder_per_egg_g)}) / (1 − {_n(r.powder_per_dry)}) "
        f"= {_n(t.dry_g)} g"
    )
    yield (
        f"Absorbency = dry mix / wet = {_n(t.dry_g)} / ({t.eggs} × ({_n(t.egg_g)} + "
        f"{_n(r.wet_per_egg_g)}) + {_n(r.wet_per_dry)} × {_n(t.dry_g)}) = {_n(t.absorbency)}"
    )


def _learned_lines(batch: Batch) -> Iterator[str]:
    t, figure = batch.trial, batch.learned.absorbency
    if not figure.notes:
        return
    sd = t.sd_share * t.absorbency
    tops, bottoms = [f"{_n(t.absorbency)} / {_n(sd)}²"], [f"1 / {_n(sd)}²"]
    for seen in figure.seen:
        tops.append(f"{_n(seen.value)} / {_n(seen.sd)}²")
        bottoms.append(f"1 / {_n(seen.sd)}²")
    yield (
        "Absorbency after the weighings, each weighed by 1 / sd² = "
        f"({' + '.join(tops)}) / ({' + '.join(bottoms)}) = {_n(figure.mean)}"
    )


def _dose_line(line: DoseLine, batch: Batch) -> str:
    a = line.additive
    r = a.rates(batch.strength)
    wetting = 1.0 if a.form == "powder" else (a.wetting or 1.0)
    per_egg = (r.powder_per_egg_g + r.wet_per_egg_g) / wetting
    per_dry = (r.powder_per_dry + r.wet_per_dry) / wetting
    if per_egg:
        text = f"{a.name} = {_n(per_egg)} g per egg × {batch.eggs} = {_n(line.amount.g)} g"
    else:
        dry = batch.powder.expected_g
        text = f"{a.name} = {_n(per_dry)} g per g of mix × {_n(dry)} g = {_n(line.amount.g)} g"
    if line.amount.ml is not None and a.density_g_ml is not None:
        text += f"; / {_n(a.density_g_ml)} g/ml = {_n(line.amount.ml)} ml"
    return text


def _paste_lines(batch: Batch) -> Iterator[str]:
    paste, p = batch.paste, batch.powder
    liquids = paste.mass_g - batch.shelled_g - p.expected_g
    yield (
        f"Paste = eggs + liquids + dry mix = {_n(batch.shelled_g)} + {_n(liquids)} + "
        f"{_n(p.expected_g)} = {_n(paste.mass_g)} g"
    )
    kept = paste.finished_g / paste.mass_g
    share = "(1 − bowl loss) × (1 − drying loss)"
    if batch.learned.finished.notes:
        share = "the share that was weighed as finished bait"
    yield (f"Dried = paste × {share} = {_n(paste.mass_g)} × {_n(kept)} = {_n(paste.finished_g)} g")


def _bait_lines(bait: BaitLine) -> Iterator[str]:
    d = bait.diameter_mm
    if bait.floating:
        yield from cored_lines(bait.floating, bait.each_g)
    else:
        ball = f"3.14159 × {_n(d / 10)}³ cm³ / 6"
        yield f"One {d:g} mm bait = density × {ball} = {_n(bait.each_g)} g"
    boil = bait.boil
    if boil.seconds is not None and boil.fourier is not None:
        where = "paste at the cork" if bait.floating else "centre of a ball"
        yield (
            f"Boil of {d:g} mm: Biot number {_n(boil.biot)}, Fourier number {_n(boil.fourier)}; the "
            f"{where} reaches {boil.centre_c:.1f} °C after {_n(boil.seconds)} s in water at "
            f"{boil.water_c:.2f} °C"
        )
