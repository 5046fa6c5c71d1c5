"""Paper: its sizes [mm], portrait, from the smallest to the largest, and what labels on it say."""

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
MM = 72 / 25.4
"""A millimetre [pt], of which an inch has 72."""
LARGE_PAPER_MM = 200.0
"""From this width on the front of a card is set in the larger type; house default."""
LABEL_EDGE_MM = 3.5
"""What stays free along a label's edges: printers pull a sheet in a little askew; house default."""


def front_pt(paper: str) -> float:
    """Return the least type of a card's front on a paper [pt], legible at arm's length; house default."""
    return 14.0 if PAPERS[paper][0] >= LARGE_PAPER_MM else 11.0


FROZEN_MONTHS = 6
"""How long dried bait keeps in the freezer [months], 1 to MOST_MONTHS; common practice."""
MOST_MONTHS = 60
MOST_DAYS = 60
"""Dried bait that is not frozen keeps no longer than this by anybody's figure [days]; house default."""

THAW_H = 10
"""How long before use a bag is taken out [h]; common practice."""

LEAST_REST = 0.1
"""A rest of less than this part of a bag gets no bag of its own: the others share it; house default."""
MOST_LABELS = 2000
"""More bags than this from one batch are a slip in --bag; house default."""

MOST_COLUMNS, MOST_ROWS = 5, 13
"""The smallest label that A4 sheets are commonly sold with, 38 × 21 mm, stands 5 by 13; from memory."""
