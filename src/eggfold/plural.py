"""Numbers with the thing they count."""

from __future__ import annotations


def counted(number: float | str, noun: str) -> str:
    """Return a number, or its text as shown, with a noun that takes an s beside all but 1.

    >>> counted(1, "rod-hour"), counted("0.5", "rod-hour"), counted(2, "rod-hour")
    ('1 rod-hour', '0.5 rod-hours', '2 rod-hours')
    """
    return f"{number} {noun}{'' if str(number) == '1' else 's'}"
