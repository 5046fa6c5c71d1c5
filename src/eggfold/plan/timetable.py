"""A plan's clock: days and breaks as seconds from the start, and seconds as moments again."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.schedule import Hours
from eggfold.files.clock import days_after, moment_of, zone_of
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.files.plan import SessionKeys


class Clock(NamedTuple):
    """A moment that counts as zero, in the plan's zone; nights with a clock change stay right."""

    zero: datetime
    zone_name: str | None

    @property
    def zone(self) -> tzinfo:
        """The plan's zone."""
        return zone_of(self.zone_name)

    def seconds(self, day: str, time: str) -> float:
        """Return a moment on the clock as seconds from zero."""
        moment = moment_of(day, time, self.zone)
        return (moment.astimezone(UTC) - self.zero.astimezone(UTC)).total_seconds()

    def moment(self, seconds: float) -> datetime:
        """Return seconds from zero as a moment on the clock."""
        elapsed = self.zero.astimezone(UTC) + timedelta(seconds=seconds)
        return elapsed.astimezone(self.zone)


def clock_at(day: str, time: str, zone_name: str | None) -> Clock:
    """Return a clock that counts from a moment."""
    return Clock(moment_of(day, time, zone_of(zone_name)), zone_name)


def day_hours(clock: Clock, day: str, time: str, plan: SessionKeys, cleaning_s: float) -> Hours:
    """Return a day's working hours, without the cleaning that ends it."""
    opens = clock.seconds(day, time)
    closes = opens + amount_in(plan.hours, "s") - cleaning_s
    breaks = []
    for one in plan.breaks:
        on = day if one.at >= time else days_after(day, 1)
        start = clock.seconds(on, one.at)
        breaks.append((start, start + amount_in(one.lasts, "s")))
    return Hours(opens, closes, tuple(sorted(breaks)))


def moments_at(clock: Clock, times: tuple[str, ...], first_day: str, days: int) -> list[float]:
    """Return every moment at which the clock shows one of several times, ascending [s]."""
    found = {clock.seconds(days_after(first_day, i), time) for i in range(days) for time in times}
    return sorted(found)
