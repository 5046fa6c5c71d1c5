"""One file for each command: load, compute, hand page and data to the formats."""
