"""A day tries no more bowls than it has hands for, and a season no more points than its effort."""

from __future__ import annotations

from typing import Any

import pytest

from eggfold.engine import days
from eggfold.engine.days import plan_days
from eggfold.engine.rolling_days import Effort, fewest_days
from eggfold.engine.schedule import Hours, Shop, best_run
from eggfold.engine.season import Limits, RollDay, Stretch
from eggfold.engine.session import ANY_NUMBER, Load, Stages, Work
from eggfold.errors import NoAnswerError

STAGES = Stages(1200.0, 600.0, 600.0, 172800.0, 1.5)
BOWL = Work((Load(500.0, 210.0, 0.06),))
SHOP = Shop((1, ANY_NUMBER, 1, 1), 2)


def test_a_day_tries_no_more_bowls_than_there_are_hands_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two people have time for 22 bowls of 2610 s in eight hours; of 1000 no more are run."""
    tried: list[int] = []
    late: list[int] = []
    run, mix_late = best_run, days.mix_late

    def counting_run(tasks: Any, *given: Any, **named: Any) -> Any:
        tried.append(len(tasks) // 4)
        return run(tasks, *given, **named)

    def counting_mix(tasks: Any, *given: Any) -> Any:
        late.append(len(tasks))
        return mix_late(tasks, *given)

    monkeypatch.setattr(days, "best_run", counting_run)
    monkeypatch.setattr(days, "mix_late", counting_mix)
    planned, left = plan_days([BOWL] * 1000, range(1000), STAGES, SHOP, [Hours(0.0, 28_800.0)])
    assert 0 < max(tried) <= 22
    assert len(late) == 1
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
