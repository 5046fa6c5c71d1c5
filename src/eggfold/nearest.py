"""Did you mean: the known word nearest to an unknown one."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

NEAR = 0.6
"""How alike two words must be for one to be taken for a slip of the other, 0 to 1; house default."""
CLEARLY_NEARER = 0.08
"""How much nearer the first must be than the second to be the one that was meant; house default."""

LETTERS_A_SLIP = 5
"""In so many letters of a word one may be wrong and the word still be plain; house default."""

MANY = 5000
"""Of more names than this only those with the same first letter are looked at."""

_MEANT = r"did you mean (.+)\?"


def fold(name: str) -> str:
    """Return a name without case and with single spaces, the form in which names are compared."""
    return " ".join(name.casefold().split())


def fold_word(text: str) -> str:
    """Return a word of a file folded, however its parts are joined: by a space, ``-`` or ``_``."""
    return fold(text.replace("-", " ").replace("_", " "))


def nearest(word: str, known: Iterable[str]) -> list[str]:
    """Return the known word nearest to ``word``; two where either may be meant, none if none is near."""
    return list(_nearest(fold(word)[:80], tuple(known)))


@lru_cache(maxsize=256)  # the same slip is often made all over a file
def _nearest(wrong: str, known: tuple[str, ...]) -> tuple[str, ...]:
    from difflib import SequenceMatcher, get_close_matches  # noqa: PLC0415 - only a mistake needs it

    by_fold = {fold(k): k for k in known}
    if len(by_fold) > MANY:
        by_fold = {folded: k for folded, k in by_fold.items() if folded[:1] == wrong[:1]}
    close = get_close_matches(wrong, by_fold, n=2, cutoff=NEAR)
    likeness = [SequenceMatcher(None, name, wrong).ratio() for name in close]
    if len(close) == 2 and likeness[0] - likeness[1] >= CLEARLY_NEARER:
        close.pop()
    return tuple(by_fold[name] for name in close)


def nearest_few(word: str, known: Iterable[str]) -> list[str]:
    """Return the three known words nearest to ``word``, the nearest first; none if none is near."""
    from difflib import get_close_matches  # noqa: PLC0415 - only a mistake needs it

    by_fold = {fold(k): k for k in known}
    return [by_fold[close] for close in get_close_matches(fold(word)[:80], by_fold, n=3)]


def did_you_mean(word: str, known: Iterable[str]) -> str | None:
    """Return the hint that names the nearest known word, or None."""
    near = nearest(word, known)
    return f"did you mean {one_of(near)}?" if near else None


def meant(hint: str | None) -> str | None:
    """Return the one word that a hint of ``did_you_mean`` names, None where it names none or two."""
    match = re.fullmatch(_MEANT, hint or "")
    return match[1] if match and " or " not in match[1] else None


def is_slip(word: str, known: str) -> bool:
    """Tell whether a word is another but for a few letters: one in five, at least one.

    Letters that are missing, one too many, another, or changed places with the next.
    """
    wrong, right = fold(word), fold(known)
    most = max(1, len(right) // LETTERS_A_SLIP)
    return abs(len(wrong) - len(right)) <= most and _letters_off(wrong[:80], right[:80]) <= most


def _letters_off(one: str, other: str) -> int:
    """Return the optimal string alignment distance of two words."""
    before, row = list[int](), list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        last, before, row = before, row, [i]
        for j, b in enumerate(other, 1):
            off = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and b == one[i - 2]:
                off = min(off, last[j - 2] + 1)
            row.append(off)
    return row[-1]


def one_of(words: Iterable[str]) -> str:
    """Return ``a, b or c``."""
    *head, last = words
    return f"{', '.join(head)} or {last}" if head else last
