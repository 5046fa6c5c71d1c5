"""A bar on standard error for what lasts longer than a second; on a terminal only."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

T = TypeVar("T")

PATIENCE_S = 1.0
EVERY_S = 0.1
WIDTH = 30


def shown(items: Iterable[T], total: Callable[[], int], verb: str) -> Iterator[T]:
    """Yield the items, showing how far they are; ``total`` is asked for when a bar is due."""
    if not sys.stderr.isatty():
        yield from items
        return
    due = time.monotonic() + PATIENCE_S
    expected = 0
    try:
        for done, item in enumerate(items):
            if time.monotonic() >= due:
                expected = expected or max(total(), 1)
                _write(f"\r{bar_text(done, expected, verb)}")
                due = time.monotonic() + EVERY_S
            yield item
    finally:
        if expected:
            _write("\r" + " " * len(bar_text(expected, expected, verb)) + "\r")


def bar_text(done: int, total: int, verb: str) -> str:
    """Return the bar: a verb, what is filled, and the count in words."""
    filled = min(WIDTH, WIDTH * done // total)
    return f"{verb} [{'#' * filled}{'.' * (WIDTH - filled)}] {done:>{len(str(total))}} of {total}"


def _write(text: str) -> None:
    sys.stderr.write(text)
    sys.stderr.flush()
