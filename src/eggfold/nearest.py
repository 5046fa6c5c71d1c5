"""Did you mean: the known word nearest to an unknown one."""

from __future__ import annotations

from collections.abc import Iterable


def fold(name: str) -> str:
    """Return a name without case and with single spaces, the form in which names are compared."""
    return " ".join(name.casefold().split())


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word nearest to ``word``, or None if none is near."""
    from difflib import get_close_matches  # noqa: PLC0415 - only a mistake needs it

    by_fold = {fold(k): k for k in known}
    close = get_close_matches(fold(word)[:80], by_fold, n=1, cutoff=0.6)
    return by_fold[close[0]] if close else None


def nearest_few(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Return the known words nearest to ``word``, the nearest first; none if none is near."""
    from difflib import get_close_matches  # noqa: PLC0415 - only a mistake needs it

    by_fold = {fold(k): k for k in known}
    return [by_fold[close] for close in get_close_matches(fold(word)[:80], by_fold, n=most)]


def did_you_mean(word: str, known: Iterable[str]) -> str | None:
    """Return the hint that names the nearest known word, or None."""
    near = nearest(word, known)
    return None if near is None else f"did you mean {near}?"


def one_of(words: Iterable[str]) -> str:
    """Return ``a, b or c``."""
    *head, last = words
    return f"{', '.join(head)} or {last}" if head else last
