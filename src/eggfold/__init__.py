"""eggfold turns a one-egg trial of home-made fishing bait into a batch."""

__version__ = "0.1.0"
