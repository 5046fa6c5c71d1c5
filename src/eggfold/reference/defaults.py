"""Named defaults: value, unit, range, origin and source, shown with each figure they make."""

from __future__ import annotations

from typing import Literal

from eggfold.records import NamedTuple

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
        "house default",
        "between 9.5 % (Cotterill & Geiger 1977) and 12 % (USDA SR28 01123, as refuse)",
    ),
    "air": Default("air in the paste", 5, "%", 0, 40, "house default"),
    "bowl_loss": Default("paste left in bowl and gun", 3, "%", 0, 50, "house default"),
    "diameter_spread": Default("spread of the rolled size, ±", 0.3, "mm", 0, 5, "house default"),
    "start": Default("paste before the boil", 20, "degC", 0, 60, "house default"),
    "film": Default(
        "heat passing from boiling water",
        1200,
        "W/(m² K)",
        100,
        20000,
        "published",
        "a textbook's exercise, eggs in boiling water: Çengel & Ghajar, Example 4-3",
    ),
    "cooling_film": Default(
        "heat passing to the air from a wet bait", 150, "W/(m² K)", 20, 2000, "house default"
    ),
    "steam_loss": Default("weight steamed off while cooling", 3, "%", 0, 20, "house default"),
    "drying_diffusivity": Default(
        "water moving through a drying bait",
        5,
        "× 10⁻¹² m²/s",
        0.1,
        1000,
        "house default",
        "pasta at 40 to 120 °C has 1.6 to 110; nothing was found for a paste at room temperature",
    ),
    "absorbency_sd": Default("uncertainty of powder uptake, 1 sd", 10, "%", 0, 50, "house default"),
    "bowl_sd": Default("bowl to bowl, 1 sd", 5, "%", 0, 50, "house default"),
    "cork_density": Default(
        "cork",
        0.15,
        "g/ml",
        0.05,
        0.5,
        "house default",
        "solid cork is sold at 0.12 to 0.24 g/ml; light balls are lighter",
    ),
    "water_temperature": Default("lake water", 12, "degC", 0, 40, "house default"),
    "burner_efficiency": Default(
        "burner's heat that reaches the pan", 40, "%", 5, 100, "house default"
    ),
}
"""The names that ``assume`` knows."""

DEFAULT_DRY_G = 130.0
"""Dry mix [g] for one EU large egg and DEFAULT_LIQUIDS_G of liquids; common practice, 110 to 150."""
DEFAULT_LIQUIDS_G = 4.0
USUAL_DRY_G = (110.0, 150.0)
"""Dry mix [g] that an EU large egg and its liquids usually take; common practice."""

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

REST_WATER_PER_DRY = 0.10
"""Water that stays in a bait dried in a room, by mass of its dry [-]; house default, near the 8 to 9 %
of pasta at 58 to 66 % humidity (exercise data)."""
OWN_DRYING_LOSS_PERCENT = (0.0, 50.0)
"""What a user may state that drying takes [%]; without it each size is worked out."""
PASTE_DAYS, PASTE_MONTHS = 2, 3
"""How long paste with raw egg keeps in the fridge [days] and in the freezer [months]; house default."""
SOAK_H = 24.0
"""Time that bait takes to take up a soak [h]; common practice, a day."""
DRYING_LOSS_RANGE = (0.5, 1.5)
"""A worked out drying loss may be half as much to half as much again [-]; house default."""

DEFAULT_WATER_PERCENT = 9.0
"""Water [%] of a label analysis that does not state it; house default."""

HOOKBAIT_EGGS_LIMIT = 6
"""Above this many eggs, hookbait doses are more likely a slip than a wish; common practice."""

LEAST_FINISHED_SHARE, MOST_FINISHED_SHARE = 0.3, 1.25
"""Dried baits weigh this part of the paste they were rolled from [-]; house default. About two thirds
of a paste is dry, and half of it may stay in the bowl; corks inside weigh up to a quarter of their
skin."""
PASTE_DENSITY_RANGE_G_ML = (0.9, 1.5)
"""Density [g/ml] that fresh paste may have: much air, or much salt and sugar; house default."""
