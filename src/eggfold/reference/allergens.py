"""Allergens by the names of Regulation (EU) 1169/2011 Annex II, and bird food."""

from __future__ import annotations

SOURCE = "Regulation (EU) 1169/2011 Annex II"

BIRD_FOOD = "bird food"

ALLERGENS = (
    "cereals containing gluten",
    "crustaceans",
    "eggs",
    "fish",
    "peanuts",
    "soybeans",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame seeds",
    "sulphur dioxide and sulphites",
    "lupin",
    "molluscs",
)

CONTAINS = (*ALLERGENS, BIRD_FOOD)
"""Every word that ``contains`` may list."""

SHORT_NAMES = {
    "gluten": "cereals containing gluten",
    "cereals with gluten": "cereals containing gluten",
    "cereals": "cereals containing gluten",
    "wheat": "cereals containing gluten",
    "crustacean": "crustaceans",
    "egg": "eggs",
    "peanut": "peanuts",
    "groundnuts": "peanuts",
    "soya": "soybeans",
    "soy": "soybeans",
    "soya beans": "soybeans",
    "tree nuts": "nuts",
    "sesame": "sesame seeds",
    "sulphites": "sulphur dioxide and sulphites",
    "sulfites": "sulphur dioxide and sulphites",
    "sulphur dioxide": "sulphur dioxide and sulphites",
    "mollusc": "molluscs",
    "mollusks": "molluscs",
    "birdfood": "bird food",
}
"""Other spellings of the same words."""
