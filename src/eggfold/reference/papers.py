"""Sizes of paper [mm], portrait, from the smallest to the largest."""

from __future__ import annotations

PAPERS = {
    "a6": (105.0, 148.0),  # ISO 216:2007, table 2
    "a5": (148.0, 210.0),  # ISO 216:2007, table 2
    "a4": (210.0, 297.0),  # ISO 216:2007, table 2
    "letter": (215.9, 279.4),  # ANSI/ASME Y14.1, size A: 8.5 by 11 in
}
DEFAULT_CARD = "a5"
"""House default: a card is half an A4 sheet where it fits."""
DEFAULT_SHEET = "a4"
"""House default: the paper in a European printer."""
