"""What no plan holds is refused before it is worked out, and what a plan says twice is worked out once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from eggfold.errors import NoAnswerError
from eggfold.plan import plan_bowls, rolling, session
from eggfold.plan.campaign import build_season
from eggfold.plan.rolling import build_rolling
from eggfold.recipe.batch import build_batch
from plan_files import campaign_plan, lay_out, rolling_plan

START = "start: 2027-03-27 09:00\nhours: 9 h\n"
WANT = "  - {recipe: osierfen-caraway, bait: 1 kg}\n"
TODAY = "2027-01-01"
TRIP = "  - {leave: 2027-04-02, freebies: {recipe: osierfen-caraway, bait: 1 kg}}\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Lay out the recipes, for plans to be written beside them."""
    lay_out(tmp_path)
    return tmp_path


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """Note every batch that a plan works out."""
    seen: list[object] = []

    def counting(opened: Any, asked: Any) -> Any:
        seen.append(asked)
        return build_batch(opened, asked)

    monkeypatch.setattr(plan_bowls, "build_batch", counting)
    return seen


def test_the_same_want_is_worked_out_once(folder: Path, worked_out: list[object]) -> None:
    """One batch is its bowl; every want still has its own."""
    answer = build_rolling(rolling_plan(folder, f"{START}bowls:\n{WANT * 40}"))
    assert len(worked_out) == 1
    assert [bowl.number for bowl in answer.bowls] == list(range(1, 41))
    assert sorted(bowl.want for bowl in answer.bowls) == list(range(40))


def test_more_wants_than_bowls_are_refused_unseen(folder: Path, worked_out: list[object]) -> None:
    """No recipe is worked out for them."""
    opened = rolling_plan(folder, f"{START}bowls:\n{WANT * (session.MOST_BOWLS + 1)}")
    with pytest.raises(NoAnswerError, match="more than 200 bowls"):
        build_rolling(opened)
    assert not worked_out


def test_a_want_of_too_many_bowls_is_refused_before_any_is_made(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two wants count together."""
    monkeypatch.setattr(rolling, "split_bowls", None)
    for eggs in (["100000"], ["9000", "9001"]):
        wants = "".join(f"  - {{recipe: osierfen-caraway, eggs: {n}}}\n" for n in eggs)
        with pytest.raises(NoAnswerError, match="more than 200 bowls"):
            build_rolling(rolling_plan(folder, f"{START}bowls:\n{wants}"))


def test_too_many_loads_are_refused(folder: Path) -> None:
    """Large bowls over the smallest pan have too many loads, though they are few."""
    wants = WANT.replace("1 kg", "1000 kg") * 3
    with pytest.raises(NoAnswerError, match="more than 5000 loads"):
        build_rolling(rolling_plan(folder, f"{START}bowls:\n{wants}", "bowl: 100 kg\npan: 0.5 l\n"))


def test_the_size_of_a_plan_is_that_of_its_bowls(folder: Path) -> None:
    """What is counted beforehand is what is made."""
    plan = f"{START}bowls: {{recipe: osierfen-caraway, bait: 60 kg}}\n"
    bowls = build_rolling(rolling_plan(folder, plan)).bowls
    opened = rolling_plan(folder, plan)
    whole = plan_bowls.whole_batch(
        opened.recipes["osierfen-caraway"], "freebie", opened.plan.bowls[0]
    )
    most_g = max(bowl.batch.paste.mass_g for bowl in bowls) + 1
    size = session.size_in_bowls(whole, whole.eggs, most_g)
    loads = sum(len(bowl.baskets) for bowl in bowls)
    assert size.bowls == len(bowls) > 10
    assert abs(size.loads - loads) <= size.bowls
    assert size.loads > size.bowls


def test_too_many_breaks_are_refused(folder: Path) -> None:
    """A hundred pass, one more does not."""
    one = "  - {at: 12:30, lasts: 1 min}\n"
    plan = f"{START}bowls:\n{WANT}breaks:\n"
    assert build_rolling(rolling_plan(folder, plan + one * session.MOST_BREAKS)).made
    with pytest.raises(NoAnswerError, match="101 breaks"):
        build_rolling(rolling_plan(folder, plan + one * (session.MOST_BREAKS + 1)))


def test_a_season_of_more_than_ten_years_is_refused(folder: Path) -> None:
    """Ten years are a season."""
    ten, more = (TRIP.replace("2027", year) for year in ("2037-01-02", "2037-02-02"))
    ten, more = ten.replace("-04-02", ""), more.replace("-04-02", "")
    assert build_season(campaign_plan(folder, f"hours: 9 h\ntrips:\n{ten}", TODAY), TODAY).days
    with pytest.raises(NoAnswerError, match="more than ten years"):
        build_season(campaign_plan(folder, f"hours: 9 h\ntrips:\n{more}", TODAY), TODAY)


def test_trips_that_take_too_much_are_refused(folder: Path, worked_out: list[object]) -> None:
    """No recipe is worked out for them."""
    things = "{recipe: osierfen-caraway, bait: 1 kg}, " * (session.MOST_PORTIONS + 1)
    trip = f"  - {{leave: 2027-04-02, freebies: [{things}]}}\n"
    opened = campaign_plan(folder, f"hours: 9 h\ntrips:\n{trip}", TODAY)
    with pytest.raises(NoAnswerError, match="501 things"):
        build_season(opened, TODAY)
    assert not worked_out
