"""How the figures of a card came about: the paste, the baits rolled from it, their time in the pan."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.engine.paste import DENSITY_AT_C
from eggfold.engine.properties import density_kg_m3
from eggfold.jobs.bowl.kitchen import PasteHeat, paste_heat
from eggfold.pages.figures import size_text
from eggfold.pages.floating import cored_lines
from eggfold.pages.why.boil import pan_sums, row_sums, wait_sum
from eggfold.pages.why.learned import learned_lines
from eggfold.pages.why.sums import added, got, put, without_sum
from eggfold.reference.parts import PART_NAMES, Parts

if TYPE_CHECKING:
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.bowl.baits import BaitLine, Wanted
    from eggfold.jobs.bowl.mixing import Paste


def paste_lines(batch: Batch) -> Iterator[str]:
    """Yield the paste's mass, what it is made of, its density, and what it weighs dried."""
    paste, learned = batch.paste, batch.learned
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
    yield from learned_lines("Finished bait from the paste", learned.finished)
    if learned.finished.notes:
        yield (
            f"Dried = paste × share weighed as finished bait = {put(paste.mass_g)} × "
            f"{put(learned.finished.mean)} = {got(paste.finished_g)} g"
        )
    else:
        yield (
            f"Dried = paste × (1 − bowl loss) × (1 − drying loss) = {put(paste.mass_g)} × (1 − "
            f"{put(learned.bowl_loss)}) × (1 − {put(learned.drying_loss)}) = {got(paste.finished_g)} g"
        )


def density_lines(paste: Paste) -> Iterator[str]:
    """Yield the density: of weighed baits, or from the parts of what was stirred together."""
    before = paste.density.prior[0] if paste.density.prior else paste.density_g_ml
    if paste.measured:
        hundred_g, diameter_mm = paste.measured
        yield (
            f"Density = a hundred baits / 100 / (3.14159 × diameter³ / 6) = {put(hundred_g)} / 100 / "
            f"(3.14159 × {put(diameter_mm / 10)}³ / 6) = {got(before)} g/ml"
        )
        return
    yield from mixed_lines(paste.portions, paste.parts)
    terms = added(
        f"{put(share)} / {put(alone_g_ml(name))}"
        for name, share in zip(PART_NAMES, paste.parts, strict=True)
        if share
    )
    yield (
        f"Density = (1 − air) / Σ share / density of the part at {DENSITY_AT_C:g} °C after Choi and "
        f"Okos = (1 − {put(paste.air)}) / ({terms}) = {got(before)} g/ml"
    )


def mixed_lines(portions: tuple[tuple[float, Parts], ...], whole: Parts) -> Iterator[str]:
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


def alone_g_ml(name: str) -> float:
    """Return the density of one part by itself at the temperature of a kitchen."""
    return density_kg_m3(Parts(**{n: float(n == name) for n in PART_NAMES}), DENSITY_AT_C) / 1000


def bait_lines(batch: Batch) -> Iterator[str]:
    """Yield weights, counts, lifts and times, bait by bait."""
    kitchen, heat = batch.roll.kitchen, paste_heat(batch.paste.parts, batch.roll.kitchen)
    yield from _roll_lines(batch)
    yield from pan_sums(kitchen, heat, batch.baits[0].boil.load_g)
    for bait, wanted in zip(batch.baits, batch.roll.wanted, strict=True):
        yield from _weight_lines(bait, batch.paste.density_g_ml)
        if not wanted.count:
            yield from _count_lines(bait, wanted, batch)
        yield from row_sums(kitchen, heat, bait.boil)
        yield from _load_lines(bait, wanted, batch)
        yield from _wait_lines(bait, batch, heat)


def _wait_lines(bait: BaitLine, batch: Batch, heat: PasteHeat) -> Iterator[str]:
    if bait is batch.baits[0] or batch.roll.kitchen.burner_w is not None:
        yield wait_sum(batch.roll.kitchen, heat, bait.boil, bait.wait_s)


def _left_g(batch: Batch) -> float:
    """Return the paste left to roll by share, once those with a count are taken."""
    rolled = batch.paste.mass_g * (1 - batch.roll.bowl_loss)
    density = batch.paste.density_g_ml
    return rolled - sum((w.count or 0) * density * w.paste_ml for w in batch.roll.wanted)


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


def _count_lines(bait: BaitLine, wanted: Wanted, batch: Batch) -> Iterator[str]:
    """Yield the count as expected, and its low and high end."""
    size, left, keep = size_text(bait.diameter_mm), _left_g(batch), 1 - batch.roll.bowl_loss
    p, spread = batch.powder, batch.roll.spread_mm
    less, more = (p.expected_g - p.low_g) * keep, (p.high_g - p.expected_g) * keep
    rolled = put(keep)
    yield (
        f"Paste at least for {size} = to roll − (dry mix − its low end) × (1 − bowl loss) = {put(left)} "
        f"− ({put(p.expected_g)} − {put(p.low_g)}) × {rolled} = {got(left - less)} g"
    )
    yield (
        f"Paste at most for {size} = to roll + (high end − dry mix) × (1 − bowl loss) = {put(left)} "
        f"+ ({put(p.high_g)} − {put(p.expected_g)}) × {rolled} = {got(left + more)} g"
    )
    for what, paste_g, wider_mm, count in (
        ("", left, 0.0, bait.count),
        (" at least, rolled wide of less powder", max(0.0, left - less), spread, bait.low),
        (" at most, rolled narrow of more powder", left + more, -spread, bait.high),
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


def _load_lines(bait: BaitLine, wanted: Wanted, batch: Batch) -> Iterator[str]:
    density = batch.paste.density_g_ml
    if wanted.count:
        mass, text = (
            wanted.count * density * wanted.paste_ml,
            (f"{wanted.count} × {put(density)} × {put(wanted.paste_ml)}"),
        )
    else:
        mass, text = _left_g(batch) * wanted.share, f"{put(_left_g(batch))} × {put(wanted.share)}"
    load = bait.boil.load_g
    yield (
        f"Loads of {size_text(bait.diameter_mm)} = its paste / one load = {text} / {put(load)} = "
        f"{got(mass / load)}, rounded up to {bait.loads}"
    )
