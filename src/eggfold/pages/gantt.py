"""A day of rolling as a strip: one row a station, a bowl's number on each span."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from eggfold.pages.page import Span, Strip, StripRow
from eggfold.pages.times import time_text

if TYPE_CHECKING:
    from datetime import datetime

    from eggfold.jobs.plans.steps import Step
    from eggfold.jobs.rolling import Rolling

BOWL_GAP_H = 0.5
"""Loads of one bowl closer than this are drawn as one span [h]."""
HAND_GAP_H = 0.1
"""Work of one person closer than this is drawn as one span [h]."""


def day_strip(rolling: Rolling, steps: list[Step]) -> Strip:
    """Return when each station works on which bowl, then when each person works."""
    zero = steps[0].start.replace(minute=0, second=0, microsecond=0)

    def hours(moment: datetime) -> float:
        return (moment - zero) / timedelta(hours=1)

    rows = []
    for what in ("mix", "rest", "roll", "boil"):
        busy = [(hours(s.start), hours(s.end), f"{s.bowls[0]}") for s in steps if s.what == what]
        rows.append(StripRow(what, _spans(busy, BOWL_GAP_H)))
    for i, name in enumerate(rolling.people):
        busy = [(hours(s.start), hours(s.end), "") for s in steps if s.who == i]
        rows.append(StripRow(name, _spans(busy, HAND_GAP_H)))
    last = hours(max(s.end for s in steps))
    ticks = tuple((float(h), time_text(zero + timedelta(hours=h))) for h in range(int(last) + 2))
    return Strip("WHO IS BUSY WHEN", "time of day", ticks, tuple(rows))


def _spans(parts: list[tuple[float, float, str]], gap_h: float) -> tuple[Span, ...]:
    """Join spans of one label that all but touch."""
    by_label: dict[str, list[tuple[float, float]]] = {}
    for start, end, label in sorted(parts):
        by_label.setdefault(label, []).append((start, end))
    spans = []
    for label, times in by_label.items():
        begin, until = times[0]
        for start, end in times[1:]:
            if start - until > gap_h:
                spans.append(Span(begin, until, label))
                begin = start
            until = max(until, end)
        spans.append(Span(begin, until, label))
    spans.sort()
    return tuple(spans)
