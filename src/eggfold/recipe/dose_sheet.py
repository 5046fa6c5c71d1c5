"""The dose sheet: every additive beside the trial, the bowl and a kilo of dry mix."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache, partial
from typing import TYPE_CHECKING

from eggfold.amounts import AmountError
from eggfold.engine.powder import Rates, base_mix_g, dry_mix_g
from eggfold.errors import in_quotes
from eggfold.load.eggs import MOST_EGGS
from eggfold.load.load_recipe import Companion, Companions, OpenRecipe, each_once, read_with
from eggfold.load.register import full_additive
from eggfold.nearest import fold
from eggfold.recipe.asked import Assumption, joined
from eggfold.recipe.bench import Bench, build_bench
from eggfold.recipe.learning import learned_absorbency, notes_of
from eggfold.recipe.mixing import predicted_blend, reading_of
from eggfold.recipe.trial import (
    DEFAULT_ABSORBENCY,
    USUAL_ABSORBENCY,
    Additive,
    Egg,
    build_additive,
    build_additives,
    build_egg,
    build_trial,
    dose_assumptions,
    graded_egg,
    rates_of,
)
from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from eggfold.load.recipe import Strength


class DoseColumn(NamedTuple):
    """One column of the sheet: a strength, for so many eggs or so much dry mix.

    With neither it stands for the eggs of each recipe's own trial, or as the freebie dose for those
    of a full bowl.
    """

    strength: Strength
    eggs: int | None = None
    kg_dry: float | None = None


class Extent(NamedTuple):
    """What a column stands for: eggs, dry mix [g], and what led from one to the other."""

    eggs: float
    dry_g: float
    absorbency: float
    egg_g: float
    rates: Rates
    assumptions: tuple[Assumption, ...] = ()


class Cell(NamedTuple):
    """One amount in the row's unit, and the tool for it."""

    amount: float
    tool: str
    extent: Extent
    dose: float
    """What the dose says for one egg or one kilo of dry mix."""
    per_egg: bool
    over_ceiling: bool


class DoseRow(NamedTuple):
    """One additive: ceiling and soak as written, and a cell a column (None where it is left out)."""

    recipe: str | None
    name: str
    ceiling: str | None
    unit: str
    cells: tuple[Cell | None, ...]
    assumptions: tuple[Assumption, ...]
    columns: tuple[DoseColumn, ...]
    """The sheet's columns with the eggs of this recipe."""
    soak: str | None = None


class DoseSheet(NamedTuple):
    """Additives in rows, a strength and its eggs or dry mix in columns."""

    columns: tuple[DoseColumn, ...]
    rows: tuple[DoseRow, ...]
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...] = ()
    by_name: bool = False

    def ordered_by_name(self) -> DoseSheet:
        """Return the sheet with its rows by additive, whichever recipe they come from."""
        rows = sorted(self.rows, key=lambda row: (fold(row.name), fold(row.recipe or "")))
        return self._replace(rows=tuple(rows), by_name=True)


def default_columns(eggs: int | None) -> tuple[DoseColumn, ...]:
    """Return the recipe's own trial, a bowl of so many eggs or a full one, and a kilo of dry mix."""
    return (
        DoseColumn("hookbait"),
        DoseColumn("freebie", eggs),
        DoseColumn("freebie", kg_dry=1.0),
    )


def _counted(
    column: DoseColumn, trial: int, bowl_g: float, extent_of: Callable[[DoseColumn], Extent]
) -> DoseColumn:
    """Return a column with the eggs of a trial, or of a full bowl, where it names none."""
    if column.eggs is not None or column.kg_dry is not None:
        return column
    if column.strength == "hookbait":
        return column._replace(eggs=trial)
    of_one = extent_of(column._replace(eggs=1))
    rates = of_one.rates
    wet_g = of_one.egg_g + rates.wet_per_egg_g + rates.wet_per_dry * of_one.dry_g
    return column._replace(eggs=max(1, int(bowl_g / (of_one.dry_g + wet_g))))


def _bowl_told(columns: tuple[DoseColumn, ...], bench: Bench) -> tuple[Assumption, ...]:
    """Return what a full bowl is, where a column is one."""
    return (bench.bowl_assumption,) if DoseColumn("freebie") in columns else ()


ONLY_ADDITIVE = Assumption(
    "a dose per kg in a bowl of eggs", "as if it were the only additive", "house default"
)


def register_sheet(companions: Companions, columns: tuple[DoseColumn, ...]) -> DoseSheet:
    """Return the sheet of a register alone: one EU large egg at the default absorbency.

    Each additive is worked out as the only one in its bowl.
    """
    register, bench = companions.register, build_bench(companions.bench)
    egg = graded_egg("eu", "large")
    bowl_of = cache(partial(_extent, None, [], egg))
    counted = tuple(_counted(c, 1, bench.bowl_g, bowl_of) for c in columns)
    rows = []
    told = [egg.assumptions, (USUAL_ABSORBENCY, ONLY_ADDITIVE)]
    for name, keys in register.entries.values():
        full = full_additive(name, (keys, register.measures))
        additive = build_additive(full, None, egg, bench)
        extent_of = partial(_extent, None, [additive], egg)
        row = _row(None, additive, counted, extent_of, bench)
        rows.append(row._replace(soak=str(keys.soak) if keys.soak else None))
        told += [additive.assumptions, rows[-1].assumptions]
    read = tuple(read_with(companions.files, None))
    told.append(_bowl_told(columns, bench))
    return DoseSheet(columns, tuple(rows), joined(*told, bench.tool_assumptions), read)


class RecipeRows(NamedTuple):
    """The rows of one recipe, what they rest on, and the files that were read with it."""

    recipe: str
    rows: list[DoseRow]
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...]


def recipe_rows(opened: OpenRecipe, columns: tuple[DoseColumn, ...]) -> RecipeRows:
    """Return the rows of a recipe, with its own eggs and absorbency."""
    egg, bench = build_egg(opened.recipe), build_bench(opened.companions.bench)
    additives = build_additives(opened.recipe, opened.additives, egg, bench)
    extent_of = cache(partial(_extent, opened, additives, egg))
    name = opened.recipe.name
    trial = opened.recipe.eggs.count if opened.recipe.eggs else 1
    bowl = _bowl_told(columns, bench)
    columns = tuple(_counted(c, trial, bench.bowl_g, extent_of) for c in columns)
    rows = [_row(name, additive, columns, extent_of, bench) for additive in additives]
    nothing = (None,) * len(columns)
    rows += [
        DoseRow(name, a.name, None, "g", nothing, (), columns, str(a.soak)) for a in opened.soak
    ]
    told = joined(
        egg.assumptions,
        *(a.assumptions for a in additives),
        bowl,
        bench.tool_assumptions,
        *(row.assumptions for row in rows),
    )
    return RecipeRows(name, rows, told, opened.companions.read_with(opened.file))


def recipe_sheet(parts: Sequence[RecipeRows], columns: tuple[DoseColumn, ...]) -> DoseSheet:
    """Return the sheet of chosen recipes."""
    rows = tuple(row for part in parts for row in part.rows)
    listed = [(part.recipe, one) for part in parts for one in part.assumptions]
    read = each_once(part.companions for part in parts)
    return DoseSheet(columns, rows, tuple(_each_once(listed)), read)


def _each_once(listed: list[tuple[str, Assumption]]) -> Iterator[Assumption]:
    """Yield what all recipes assumed, once; what differs is told by recipe."""
    values: dict[str, set[str]] = {}
    for _, one in listed:
        values.setdefault(one.what, set()).add(one.value)
    seen = set()
    for recipe, one in listed:
        differs = len(values[one.what]) > 1
        told = one._replace(what=f"{recipe}: {one.what}") if differs else one
        if told.what not in seen:
            seen.add(told.what)
            yield told


def _row(
    recipe: str | None,
    additive: Additive,
    columns: tuple[DoseColumn, ...],
    extent_of: Callable[[DoseColumn], Extent],
    bench: Bench,
) -> DoseRow:
    doses = [d for d in (additive.hookbait, additive.freebie) if d is not None]
    by_volume = bool(doses) and all(d.by_volume for d in doses)
    cells: list[Cell | None] = []
    told: list[Iterable[Assumption]] = []
    for column in columns:
        if additive.dose(column.strength) is None:
            cells.append(None)
            continue
        extent = extent_of(column)
        told += [dose_assumptions([additive], column.strength), extent.assumptions]
        cells.append(_cell(additive, column.strength, extent, bench, by_volume=by_volume))
    unit = "ml" if by_volume else "g"
    ceiling = additive.ceiling_text
    return DoseRow(recipe, additive.name, ceiling, unit, tuple(cells), joined(*told), columns)


def _extent(
    opened: OpenRecipe | None, company: list[Additive], egg: Egg, column: DoseColumn
) -> Extent:
    """Return eggs and dry mix [g] of a column."""
    rates = rates_of(company, column.strength)
    a = DEFAULT_ABSORBENCY
    assumptions: tuple[Assumption, ...] = ()
    if opened is not None:
        a, assumptions = _absorbency(opened, company, egg, column.strength)
    dry_of_one = dry_mix_g(a, 1, egg.each_g, rates)
    if column.eggs is not None:
        return Extent(column.eggs, dry_of_one * column.eggs, a, egg.each_g, rates, assumptions)
    dry = (column.kg_dry or 1.0) * 1000
    return Extent(dry / dry_of_one, dry, a, egg.each_g, rates, assumptions)


def _absorbency(
    opened: OpenRecipe, company: list[Additive], egg: Egg, strength: Strength
) -> tuple[float, tuple[Assumption, ...]]:
    """Return what a recipe's mix takes up after its notes, and what that rests on."""
    noted = notes_of(opened)
    predicted = predicted_blend(opened, strength, noted)
    trial = build_trial(opened.recipe, company, strength, egg, predicted)
    mix = opened.recipe.mix(strength)
    if mix is None:
        return trial.absorbency, trial.assumptions
    learned = learned_absorbency(opened.recipe, noted.of(mix.name), trial)
    return learned.expected, (*trial.assumptions, *learned.assumptions)


def _cell(
    additive: Additive,
    strength: Strength,
    extent: Extent,
    bench: Bench,
    *,
    by_volume: bool,
) -> Cell | None:
    dose = additive.dose(strength)
    amount = additive.amount(strength, extent.eggs, extent.dry_g)
    if dose is None or amount is None:
        return None
    base_g = base_mix_g(extent.dry_g, extent.eggs, extent.rates)
    reading = reading_of(additive, strength, amount, bench.tools, base_g)
    shown = amount.ml if by_volume and amount.ml is not None else amount.g
    per_egg = bool(dose.per_egg)
    times = extent.eggs if per_egg else extent.dry_g / 1000
    over = additive.over_ceiling(amount, extent.eggs, extent.dry_g)
    return Cell(shown, reading.in_words, extent, shown / times, per_egg, over)


MOST_COLUMNS = 24
MOST_KG = 10_000

_COLUMN = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,6})?) ?(kg)? ?([hf]?)")
_EXAMPLE = "1,2,4,6,12 or 1h,6f,1kg"


def parse_columns(text: str) -> tuple[DoseColumn, ...]:
    """Read a list of columns; AmountError says which part is none.

    A bare number is eggs: one egg takes the hookbait dose, more take the freebie dose. ``h`` or
    ``f`` behind it chooses the dose, ``kg`` makes it dry mix, at the freebie dose.
    """
    parts = [part.strip() for part in text.split(",", MOST_COLUMNS)]
    if len(parts) > MOST_COLUMNS:
        raise AmountError("columns", f"more than {MOST_COLUMNS} columns", "a shorter list")
    columns = tuple(_column(part) for part in parts)
    twice = next((p for i, p in enumerate(parts) if columns[i] in columns[:i]), None)
    if twice is not None:
        raise AmountError("columns", f"'{twice}' stands twice", "each column once")
    return columns


def _column(text: str) -> DoseColumn:
    match = _COLUMN.fullmatch(text)
    if match is None:
        raise AmountError("columns", f"{in_quotes(text)} is not a column", _EXAMPLE)
    number, kg, letter = float(match[1]), match[2], match[3]
    if kg and 0 < number <= MOST_KG:
        return DoseColumn(_strength(letter, "freebie"), None, number)
    if not kg and number == int(number) and 1 <= number <= MOST_EGGS:
        return DoseColumn(
            _strength(letter, "hookbait" if number == 1 else "freebie"), int(number), None
        )
    wanted = f"up to {MOST_KG} kg" if kg else f"whole eggs from 1 to {MOST_EGGS}"
    raise AmountError("columns", f"{in_quotes(text)} is not a column", wanted)


def _strength(letter: str, otherwise: Strength) -> Strength:
    if letter:
        return "hookbait" if letter == "h" else "freebie"
    return otherwise
