"""Named defaults: value, unit, range, origin and source, shown with each figure they make."""

from __future__ import annotations

from typing import Literal, NamedTuple

Origin = Literal["yours", "published", "common practice", "house default"]


class Default(NamedTuple):
    """One default a recipe's ``assume`` may change."""

    what: str
    value: float
    unit: str
    low: float
    high: float
    origin: Origin
    source: str | None = None


DEFAULTS: dict[str, Default] = {
    "shell": Default(
        "shell of an egg",
        11,
        "%",
        5,
        20,
        "published",
        "general texts on egg composition: 9 to 12 %",
    ),
    "air": Default("air in the paste", 5, "%", 0, 40, "house default"),
    "bowl_loss": Default("paste left in bowl and gun", 3, "%", 0, 50, "house default"),
    "drying_loss": Default("weight lost in drying", 5, "%", 0, 50, "house default"),
    "diameter_spread": Default("spread of the rolled size, ±", 0.3, "mm", 0, 5, "house default"),
    "start": Default("paste before the boil", 20, "degC", 0, 60, "house default"),
    "film": Default(
        "heat passing from boiling water",
        1200,
        "W/(m² K)",
        100,
        20000,
        "published",
        "Çengel & Ghajar, Heat and Mass Transfer, Example 4-3",
    ),
    "absorbency_sd": Default("doubt about the absorbency, 1 sd", 10, "%", 0, 50, "house default"),
    "bowl_sd": Default("bowl to bowl, 1 sd", 5, "%", 0, 50, "house default"),
    "cork_density": Default(
        "cork", 0.15, "g/ml", 0.05, 0.5, "published", "cork suppliers' figures: 0.10 to 0.24 g/ml"
    ),
    "water_temperature": Default("lake water", 12, "degC", 0, 40, "house default"),
    "burner_efficiency": Default(
        "burner's heat that reaches the pan", 40, "%", 5, 100, "house default"
    ),
}
"""The names that ``assume`` knows."""

AMOUNT_SD_PERCENT = 5.0
"""Doubt about the absorbency [%] where the mix's own amount stands in the recipe; house default."""

DEFAULT_DRY_G = 130.0
"""Dry mix [g] for one EU large egg and DEFAULT_LIQUIDS_G of liquids; common practice, 110 to 150."""
DEFAULT_LIQUIDS_G = 4.0
USUAL_DRY_G = (110.0, 150.0)
"""Dry mix [g] that an EU large egg and its liquids usually take; common practice."""
ODD_DRY_G = (55.0, 300.0)
"""Dry mix [g] of such an egg outside which a trial is likelier a slip: half the least and twice the
most that is usual; house default."""

DENSITY_G_ML = {"liquid": 1.00, "oil": 0.92}
"""Density [g/ml] of an additive without one of its own; house default."""

DEFAULT_SIZE_MM = {"hookbait": 16.0, "freebie": 18.0}
"""Bait diameter [mm] of a recipe without baits; house default."""

DEFAULT_ALTITUDE_M = 0.0
"""Height above the sea [m]; house default."""

PAN_FALL_K = 5.0
"""How far a load may cool the pan [K]; house default."""
SHORTEST_WAIT_S = 30.0
WAIT_WITHOUT_BURNER_S = 60.0
"""Wait between loads [s]; house default."""

DEFAULT_WATER_PERCENT = 9.0
"""Water [%] of a label analysis that does not state it; house default."""

HOOKBAIT_EGGS_LIMIT = 6
"""Above this many eggs, hookbait doses are more likely a slip than a wish; common practice."""

MEASURED_SD_PERCENT = 3.0
"""Doubt about yield and density [%] before either was measured; house default."""
MEASURED_BOWL_SD_PERCENT = 2.0
"""Yield and density from bowl to bowl [%]; house default."""

LEAST_FINISHED_SHARE, MOST_FINISHED_SHARE = 0.3, 1.25
"""Dried baits weigh this part of the paste they were rolled from [-]; house default. About two thirds
of a paste is dry, and half of it may stay in the bowl; corks inside weigh up to a quarter of their
skin."""
PASTE_DENSITY_RANGE_G_ML = (0.9, 1.5)
"""Density [g/ml] that fresh paste may have: much air, or much salt and sugar; house default."""
