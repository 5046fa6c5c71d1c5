"""Published tables and named defaults as data, each with its source."""
