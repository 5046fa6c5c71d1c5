"""eggfold turns a one-egg trial of home-made fishing bait into a batch."""

from __future__ import annotations

__version__ = "0.1.0"
