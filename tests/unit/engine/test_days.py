"""A day tries no more bowls than it has hands for, and a season no more points than its effort."""

from __future__ import annotations

from typing import Any

import pytest

from eggfold.engine import day_plan
from eggfold.engine.day_plan import plan_day, plan_days
from eggfold.engine.season import Effort, Limits, RollDay, Stretch, fewest_days
from eggfold.engine.workplace import BowlWork, Hours, PanLoad, Workplace
from eggfold.errors import NoAnswerError

BOWL = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 150.0, 60.0, 0.06),))


def test_a_day_tries_no_more_bowls_than_there_are_hands_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two people have time for 20 bowls of 2610 s before they clean; of 1000 no more are run."""
    tried: list[int] = []

    def counting(bowls: Any, *given: Any, **named: Any) -> Any:
        tried.append(len(bowls))
        return plan_day(bowls, *given, **named)

    monkeypatch.setattr(day_plan, "plan_day", counting)
    planned, left = plan_days([BOWL] * 1000, Workplace(2), [Hours(0.0, 28_800.0)])
    assert 0 < max(tried) <= 20
    assert len(planned[0].bowls) + len(left) == 1000


def test_a_search_ends_where_its_effort_does() -> None:
    """The effort that a season takes is enough for it, one point less is not."""
    roll = [RollDay(t * 100.0, t * 100.0 + 50.0) for t in range(40)]
    trips = [Stretch(30, 1 / 20, 0.0, 0.0, t * 400.0, t * 400.0 + 90.0) for t in range(1, 10)]
    effort = Effort()
    enough = effort.left
    rolled = fewest_days(roll, trips, Limits(), effort=effort)
    spent = enough - effort.left
    assert spent > len(trips)
    assert fewest_days(roll, trips, Limits(), effort=Effort(spent)) == rolled
    with pytest.raises(NoAnswerError, match="split the plan"):
        fewest_days(roll, trips, Limits(), effort=Effort(spent - 1))
