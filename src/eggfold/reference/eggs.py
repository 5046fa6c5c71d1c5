"""Egg grades and the composition of an egg."""

from __future__ import annotations

from eggfold.reference.properties import Parts

EU_CLASS_FROM_G = {"medium": 53.0, "large": 63.0, "extra large": 73.0}
"""Least weight of each class [g in the shell]; it ends where the next begins, small is below medium."""
OPEN_CLASS_WIDTH_G = 10.0
"""How wide the classes without a bound are taken to be, as the others are [g]; house default."""
EU_GRADE_MID_WEIGHT_G = {
    "small": EU_CLASS_FROM_G["medium"] - OPEN_CLASS_WIDTH_G / 2,
    "medium": (EU_CLASS_FROM_G["medium"] + EU_CLASS_FROM_G["large"]) / 2,
    "large": (EU_CLASS_FROM_G["large"] + EU_CLASS_FROM_G["extra large"]) / 2,
    "extra large": EU_CLASS_FROM_G["extra large"] + OPEN_CLASS_WIDTH_G / 2,
}
"""Middle of each class [g in the shell]; house default, where in its class an egg lies."""
EU_SOURCE = "Regulation (EC) 589/2008 Art. 4, carried over into Delegated Regulation (EU) 2023/2465"

US_EDIBLE_G = {
    "small": 38.0,
    "medium": 44.0,
    "large": 50.0,
    "extra large": 56.0,
    "jumbo": 63.0,
}
"""Edible mass of one egg [g], shell off, by US weight class."""
US_SOURCE = "USDA SR28 record 01123"

STANDARDS = ("eu", "us")
GRADES = ("small", "medium", "large", "extra large", "jumbo")
LETTERS = {"s": "small", "m": "medium", "l": "large", "xl": "extra large"}
"""What a box may say for a grade."""
GRADES_OF = {"eu": tuple(EU_GRADE_MID_WEIGHT_G), "us": tuple(US_EDIBLE_G)}

WEIGHED_EGGS = "eggs of {:.1f} g shelled"
"""How a page and a list call eggs that were weighed."""
ANY_EGGS = "eggs"
"""The shelf's name for eggs of no grade: what weighed eggs are found by."""

LIQUID_EGG_G_ML = 1.03
"""Shelled, beaten egg without froth [g/ml]; house default."""
LIQUID_EGG_G = 60.5
"""What counts as one egg where egg is taken by mass or volume [g]: an EU large one; house default."""
LIQUID_EGGS = "liquid egg"
"""How a page and a list call egg that is taken by mass or volume."""

WHOLE_EGG = Parts(protein=12.56, fat=9.51, carbohydrate=0.72, fibre=0.0, ash=1.06, water=76.15)
"""Raw whole egg [% by mass]."""
EGG_IN_WORDS = "water 76.15, protein 12.56, fat 9.51 %"
WHOLE_EGG_SOURCE = "USDA SR28 record 01123"
