"""Times of a plan on its clock: breaks past midnight, turnings, and when a trip's bait is taken out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.plan.in_hand import build_wants
from eggfold.plan.session import clock_at, day_hours, moments_at
from plan_files import campaign_plan, lay_out, rolling_plan

if TYPE_CHECKING:
    from pathlib import Path

HOUR_S = 3600.0


@pytest.mark.parametrize(
    ("at", "begins_h"), [("23:30", 3.5), ("01:00", 5.0), ("20:00", 0.0), ("19:59", 23 + 59 / 60)]
)
def test_a_break_before_the_start_is_on_the_next_day(
    tmp_path: Path, at: str, begins_h: float
) -> None:
    lay_out(tmp_path)
    text = f"""\
start: 2027-04-03 20:00
hours: 8 h
breaks: {{at: "{at}", lasts: 30 min}}
bowls: {{recipe: osierfen-caraway, eggs: 3}}
"""
    plan = rolling_plan(tmp_path, text).plan
    hours = day_hours(clock_at("2027-04-03", "20:00", None), "2027-04-03", "20:00", plan)
    assert (hours.opens_s, hours.closes_s) == (0.0, 8 * HOUR_S)
    [(start_s, end_s)] = hours.breaks
    assert start_s == pytest.approx(begins_h * HOUR_S)
    assert end_s - start_s == pytest.approx(HOUR_S / 2)


def test_trays_are_turned_at_each_time_of_each_day() -> None:
    clock = clock_at("2027-04-03", "09:00", None)
    found = moments_at(clock, ("20:00", "08:00"), "2027-04-03", 2)
    assert found == [-1 * HOUR_S, 11 * HOUR_S, 23 * HOUR_S, 35 * HOUR_S]


@pytest.mark.parametrize(
    ("trip", "thaw", "day"),
    [
        ("", "", "2027-04-01"),  # ten hours before six in the morning
        ("at: 09:59, ", "", "2027-04-01"),
        ("at: 10:00, ", "", "2027-04-02"),
        ("at: 10:00, ", "thaw: 11 h\n", "2027-04-01"),
    ],
)
def test_bait_is_taken_out_so_long_before_the_trip(
    tmp_path: Path, trip: str, thaw: str, day: str
) -> None:
    lay_out(tmp_path)
    takes = "freebies: {recipe: osierfen-caraway, bait: 4 kg}, hookbaits: {recipe: osierfen-caraway, count: 90}"
    text = f"hours: 9 h\n{thaw}trips: [{{leave: 2027-04-02, {trip}{takes}}}]\n"
    freebies, hookbaits = build_wants(campaign_plan(tmp_path, text, "2027-03-01"), [0])
    assert [str(one.leave) for one in (freebies, hookbaits)] == ["2027-04-02"] * 2
    assert [str(one.thaw) for one in (freebies, hookbaits)] == [day] * 2
    assert freebies.need_g == 4000
    assert hookbaits.need_g == pytest.approx(90 * hookbaits.each_g)
    assert freebies.kind == ("osierfen caraway", "freebie")
