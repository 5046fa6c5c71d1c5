"""What a powder and its paste are made of, and what one egg takes of each ingredient."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from eggfold.engine.paste import mixed_parts
from eggfold.recipe.batch import Batch, declared_mix
from eggfold.recipe.cautions import SALT, Caution, declared_in
from eggfold.recipe.composition import known_powder, label_parts
from eggfold.recipe.mixing import DryMix, Paste, ingredients_taken
from eggfold.records import NamedTuple
from eggfold.reference.boiling import TYPICAL_MIX
from eggfold.reference.customary import PART_CUSTOMS, Custom, find_custom
from eggfold.reference.ingredients import CONTAINS
from eggfold.reference.properties import PART_NAMES, Parts

if TYPE_CHECKING:
    from collections.abc import Iterable

    from eggfold.engine.powder import WetTaken
    from eggfold.load.load_recipe import Companion, Companions, OpenRecipe
    from eggfold.load.recipe import Mix
    from eggfold.recipe.asked import Assumption


class IngredientLine(NamedTuple):
    """One ingredient of the powder: its share, what one egg takes, and where its figures are from."""

    name: str
    percent: float
    g_per_egg: float
    parts: Parts
    record: str
    note: str | None
    taken: WetTaken | None = None
    """The wet that a gram of it seems to take, as far as weighed mixes tell."""

    @property
    def wet_per_dry(self) -> float | None:
        """Grams of wet for a gram of it."""
        return self.taken.wet_per_dry if self.taken else None

    @property
    def sd_pct(self) -> float | None:
        """The doubt about that, one standard deviation in per cent."""
        return 100 * self.taken.sd if self.taken else None


class MixPrice(NamedTuple):
    """What a kilo of a powder costs: name, grams and price of a gram of each part, and what has none."""

    currency: str
    parts: tuple[tuple[str, float, float], ...]
    unpriced: tuple[str, ...]

    @property
    def per_kg(self) -> float:
        """Money for a kilo, of what has a price."""
        return sum(grams * each for _, grams, each in self.parts)


class PowderResult(NamedTuple):
    """The answer for one recipe and strength; analyses in per cent by mass."""

    recipe: str
    name: str
    strength: str
    ingredients: tuple[IngredientLine, ...]
    analysis: Parts
    paste: Parts
    mixed: Paste
    contains: tuple[str, ...]
    not_declared: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...]
    salt_in_water_pct: float
    sugar_in_water_pct: float
    """What is named salt or sugar, in per cent of the paste's water."""
    powder: DryMix
    """What one egg takes, as a range."""
    price: MixPrice | None = None
    swapped: PowderResult | None = None
    """The same with other powders in its blend."""


_OF_THE_PASTE = (
    "the trial's eggs",
    "shell of an egg",
    "one ",
    "dry mix",
    "liquids and oils",
    "1 ",
    "analysis",
    "not on the label",
    "composition",
    "air in the paste",
    "density",
)


def paste_assumptions(batch: Batch) -> tuple[Assumption, ...]:
    """Return what the paste alone rests on, without bowl, bench and pan."""
    lake = batch.roll.lake.assumptions if batch.roll.lake else ()
    listed = (a for a in batch.assumptions if a.what.startswith(_OF_THE_PASTE))
    return tuple(a for a in listed if a not in lake)


SUGAR = re.compile(r"\bsugar|dextrose|glucose|fructose|sucrose|maltose|lactose", re.IGNORECASE)
POWDER_CAUTIONS = ("recipe-passed-over", "allergens", "nuts", "bird-food", "dogs", "raw-egg")
"""The card's cautions that belong to what a paste is made of."""


def build_powder(opened: OpenRecipe, batch: Batch) -> PowderResult:
    """Return what the base mix of a batch of one egg is made of."""
    mix = declared_mix(opened, batch.strength)
    base_g = batch.powder.base_mix_g
    taken = ingredients_taken(opened, batch.strength, batch.trial.predicted)
    found = _lines(mix, opened.companions, base_g)
    lines = tuple(line._replace(taken=taken.get(line.name)) for line in found)
    analysis = _percent(mixed_parts((line.g_per_egg, line.parts) for line in lines))
    contains, silent = declared_in(mix, opened.companions.powders)
    return PowderResult(
        batch.recipe,
        mix.name,
        batch.strength,
        lines,
        analysis,
        _percent(batch.paste.parts),
        batch.paste,
        tuple(word for word in CONTAINS if word in contains),
        silent,
        tuple(_mix_notes(analysis)),
        tuple(c for c in batch.cautions if c.code in POWDER_CAUTIONS),
        paste_assumptions(batch),
        batch.companions,
        _in_water_pct(SALT, lines, batch),
        _in_water_pct(SUGAR, lines, batch),
        batch.powder,
    )


def _in_water_pct(name: re.Pattern[str], lines: Iterable[IngredientLine], batch: Batch) -> float:
    """Return what of the mix and the additives has such a name, in per cent of the paste's water."""
    masses = [(line.name, line.g_per_egg) for line in lines]
    masses += ((line.additive.name, line.amount.g) for line in batch.doses)
    named_g = sum(g for called, g in masses if name.search(called))
    return 100 * named_g / (batch.paste.mass_g * batch.paste.water_share)


def _lines(mix: Mix, companions: Companions, base_g: float) -> list[IngredientLine]:
    if mix.analysis is not None:
        parts, record = label_parts(mix.analysis), "your label"
        return [IngredientLine(mix.name, 100.0, base_g, parts, record, None)]
    if not mix.blend:
        return [IngredientLine(mix.name, 100.0, base_g, TYPICAL_MIX, "typical mix, assumed", None)]
    total = sum(mix.blend.values())
    return [
        _blended(name, share / total * 100, base_g, companions) for name, share in mix.blend.items()
    ]


def _blended(name: str, percent: float, base_g: float, companions: Companions) -> IngredientLine:
    known = known_powder(name, companions.powders)
    if known is None:
        raise LookupError(name)
    note = _outside(find_custom(known.name), percent)
    return IngredientLine(name, percent, base_g * percent / 100, known.parts, known.record, note)


def _outside(custom: Custom | None, percent: float) -> str | None:
    """Return the note of a share that leaves the customary range."""
    if custom is None or custom.low - 1e-9 <= percent <= custom.high + 1e-9:
        return None
    side = "under" if percent < custom.low else "over"
    return f"{side} the customary {custom.low:g} to {custom.high:g} % ({custom.origin})"


def _mix_notes(analysis: Parts) -> list[str]:
    notes = []
    for custom in PART_CUSTOMS:
        percent = getattr(analysis, custom.name)
        if note := _outside(custom, percent):
            notes.append(f"{custom.name} is {note}")
    return notes


def _percent(parts: Parts) -> Parts:
    whole = parts.normalised()
    return Parts(*(100 * getattr(whole, name) for name in PART_NAMES))
