"""What a freezer label rests on."""

from __future__ import annotations

FROZEN_MONTHS = 6
"""How long dried bait keeps in the freezer [months], 1 to MOST_MONTHS; common practice."""
MOST_MONTHS = 60

THAW_H = 10
"""How long before use a bag is taken out [h]; common practice."""

MOST_LABELS = 2000
"""More bags than this from one batch are a slip in --bag; house default."""

MOST_COLUMNS, MOST_ROWS = 5, 13
"""The smallest label that A4 sheets are commonly sold with, 38 × 21 mm, stands 5 by 13; from memory."""
