"""Weekends and seasons: bowls, sessions, days, purchases, remedies."""
