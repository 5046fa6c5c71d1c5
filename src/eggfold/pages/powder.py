"""The page of a powder: grams for one egg first, then what it all is made of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.figures import (
    Units,
    added,
    density_text,
    got,
    number_text,
    put,
    without_sum,
)
from eggfold.pages.page import NONE, Block, Column, Facts, Lines, Page, Table, basis_blocks
from eggfold.pages.why_card import density_lines, learned_lines
from eggfold.reference.customary import NEVER_ALIKE
from eggfold.reference.ingredients import SOURCE
from eggfold.reference.properties import PART_NAMES

if TYPE_CHECKING:
    from eggfold.recipe.powder import IngredientLine, PowderResult


def powder_page(result: PowderResult, units: Units, *, why: bool = False) -> Page:
    """Return the page of a powder."""
    shown = result.swapped or result
    blocks: list[Block] = []
    if result.swapped:
        blocks += [
            _side_by_side(result, shown, units),
            _ingredients(shown, "ONE EGG, SWAPPED", units),
            _holds(shown),
        ]
    else:
        blocks += [_ingredients(result, "ONE EGG", units), _analysis(result), _holds(result)]
    if notes := _notes(shown):
        blocks.append(Lines("OUTSIDE WHAT IS CUSTOMARY", notes))
    blocks.append(Lines("TAKE CARE", (*_swap_cautions(result), *(c.text for c in shown.cautions))))
    if why:
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(_why(result))))
    if why and result.swapped:
        blocks.append(Lines("HOW EACH SWAPPED FIGURE CAME ABOUT", tuple(_why(shown))))
    blocks += (*units.lines(), *basis_blocks(shown, why=why))
    return Page(result.name, f"{result.recipe}, {result.strength}", tuple(blocks))


FIRST_BOWL = "The swapped mix was never weighed: weigh its first bowl."
BINDS = (
    "Albumin, gluten, krill and their like bind or attract whatever their analysis: make one egg of it "
    "first."
)


def _swap_cautions(result: PowderResult) -> Iterator[str]:
    """Yield what to mind of a swapped blend."""
    if result.swapped is None:
        return
    yield FIRST_BOWL
    now, then = ({line.name for line in one.ingredients} for one in (result, result.swapped))
    if any(NEVER_ALIKE.search(name) for name in now ^ then):
        yield BINDS


def _side_by_side(before: PowderResult, after: PowderResult, units: Units) -> Table:
    """Return what a swap changes: powder for one egg, analysis, cost, allergens."""
    columns = (Column(""), Column("now", "right"), Column("swapped", "right"))
    both = (before, after)
    rows: list[tuple[str, ...]] = [("one egg takes", *(_taken(one, units) for one in both))]
    rows += [
        (f"{name} of the powder", *(_percent(getattr(one.analysis, name)) for one in both))
        for name in PART_NAMES
    ]
    if before.price or after.price:
        rows.append(("a kilo of powder costs", *(_price(one) for one in both)))
    for what, held, others in (("new in it", after, before), ("no longer in it", before, after)):
        if words := [word for word in held.contains if word not in others.contains]:
            cell = ", ".join(words)
            rows.append((what, *(("", cell) if held is after else (cell, ""))))
    return Table("SIDE BY SIDE", columns, tuple(rows))


def _taken(result: PowderResult, units: Units) -> str:
    powder = result.powder
    around = f"{units.mass(powder.base_mix_low_g)} to {units.mass(powder.base_mix_high_g)}"
    return f"{units.mass(powder.base_mix_g)} ({around})"


def _price(result: PowderResult) -> str:
    price = result.price
    if price is None:
        return "not known"
    least = "at least " if price.unpriced else ""
    return f"{least}{price.per_kg:.2f} {price.currency}"


def _price_lines(result: PowderResult) -> Iterator[str]:
    """Yield what a kilo of powder costs, part by part."""
    if result.price is None:
        return
    terms = added(f"{put(grams)} × {put(each)}" for _, grams, each in result.price.parts)
    names = ", ".join(name for name, *_ in result.price.parts)
    yield (
        f"A kilo of powder = Σ g in a kilo × price of 1 g ({names}) = {terms} = "
        f"{got(result.price.per_kg)} {result.price.currency}"
    )


def _ingredients(result: PowderResult, heading: str, units: Units) -> Table:
    told = any(line.taken for line in result.ingredients)
    columns = (
        Column("Ingredient"),
        Column("one egg takes", "right"),
        Column("share", "right"),
        *((Column("wet for 1 g", "right"),) if told else ()),
        Column("figures from"),
    )
    rows = [
        (
            line.name,
            units.mass(line.g_per_egg),
            _percent(line.percent),
            *((_wet(line),) if told else ()),
            line.record,
        )
        for line in result.ingredients
    ]
    if len(rows) > 1:
        blank = ("",) if told else ()
        rows.append(("all", units.mass(result.powder.base_mix_g), _percent(100), *blank, ""))
    return Table(heading, columns, tuple(rows))


def _wet(line: IngredientLine) -> str:
    """Return the wet that a gram seems to take with its doubt, a dash where nothing tells."""
    if line.taken is None:
        return NONE
    return f"{number_text(line.taken.wet_per_dry, 2)} g ±{100 * line.taken.sd:.0f} %"


def _analysis(result: PowderResult) -> Table:
    columns = (Column("By mass"), Column("powder", "right"), Column("paste", "right"))
    rows = tuple(
        (name, _percent(getattr(result.analysis, name)), _percent(getattr(result.paste, name)))
        for name in PART_NAMES
    )
    return Table("MADE OF", columns, rows)


def _holds(result: PowderResult) -> Facts:
    rows = [
        ("Paste", f"{density_text(result.mixed.density_g_ml)}, fresh"),
        ("The powder holds", ", ".join(result.contains) or "no declared allergens"),
    ]
    rows += [
        (f"{what} in its water", f"{_percent(percent)} of it, by mass")
        for what, percent in _in_water(result)
    ]
    if result.price:
        without = ", ".join(result.price.unpriced)
        left_out = f"; no price: {without}" if without else ""
        rows.append(("A kilo of it costs", f"{_price(result)}{left_out}"))
    if result.not_declared:
        rows.append(("Not declared", f"{', '.join(result.not_declared)}; read the label"))
    return Facts("ALLERGENS AND DENSITY", tuple(rows))


def _in_water(result: PowderResult) -> list[tuple[str, float]]:
    both = (("Salt", result.salt_in_water_pct), ("Sugar", result.sugar_in_water_pct))
    return [(what, percent) for what, percent in both if percent]


def _notes(result: PowderResult) -> tuple[str, ...]:
    lines = (
        f"{line.name}, {_percent(line.percent)}: {line.note}"
        for line in result.ingredients
        if line.note
    )
    return (*lines, *(f"{note[0].upper()}{note[1:]}" for note in result.notes))


def _percent(value: float) -> str:
    return f"{value:.1f} %"


def _why(result: PowderResult) -> Iterator[str]:
    for line in result.ingredients:
        yield (
            f"{line.name} = base mix for one egg × share = {put(result.powder.base_mix_g)} × "
            f"{put(line.percent)} / 100 = {got(line.g_per_egg)} g"
        )
    taken = [
        f"{line.name} {got(line.taken.wet_per_dry)} g ± {100 * line.taken.sd:.3g} %"
        for line in result.ingredients
        if line.taken
    ]
    if taken:
        how = (
            "the weighed mixes are solved for each as for a blend of it alone, within half and twice "
            "the usual wet and 5 and 25 % of doubt"
        )
        yield without_sum("Wet for 1 g", "; ".join(taken), how)
    for name in PART_NAMES:
        terms = " + ".join(
            f"{put(line.percent)} × {put(_share(line, name))}" for line in result.ingredients
        )
        yield (
            f"{name.capitalize()} of the powder = Σ share × its {name} / 100 = ({terms}) / 100 = "
            f"{got(getattr(result.analysis, name))} %"
        )
    yield from _price_lines(result)
    mass_g, water = result.mixed.mass_g, result.mixed.water_share
    for what, percent in _in_water(result):
        yield (
            f"{what} in the water = what is named {what.lower()} / (paste × its water) × 100 = "
            f"{put(percent / 100 * mass_g * water)} / ({put(mass_g)} × {put(water)}) × 100 = "
            f"{got(percent)} %"
        )
    yield from density_lines(result.mixed)
    yield from learned_lines("Density", result.mixed.density)
    if any(line.record.startswith("USDA") for line in result.ingredients):
        yield without_sum(
            "Built-in powders",
            "fibre taken out of the carbohydrate, scaled to 100 %",
            f"looked up in {SOURCE}",
        )


def _share(line: IngredientLine, name: str) -> float:
    return float(100 * getattr(line.parts.normalised(), name))
