"""Which outings count for which mix, which mix is the best seen, and what has no answer."""

from __future__ import annotations

import pytest

from eggfold.errors import NoAnswerError
from eggfold.load.notebook import Fished
from eggfold.recipe.trials import Trials, build_trials
from eggfold.reference.learning import MOST_MIXES


def outing(
    recipe: str,
    rods: int,
    hours: float,
    takes: int,
    water: str | None = None,
    day: str = "2025-05-01",
) -> Fished:
    keys = {"date": day, "recipe": recipe, "rods": f"{rods}", "hours": f"{hours}"}
    more = {"water": water} if water else {}
    return Fished.model_validate(keys | {"takes": f"{takes}"} | more)


def compare(*fished: Fished, asked: tuple[str, ...] = ("Reed", "Alder")) -> Trials:
    return build_trials({name: f"{name}.yaml" for name in asked}, fished)


def test_outings_of_one_mix_add_up_whatever_the_case() -> None:
    trials = compare(
        outing("Reed", 3, 8, 2, "10 degC"),
        outing("  reed", 2, 4.5, 1, "53.6 degF"),
        outing("Alder", 1, 5, 0),
    )
    reed, alder = trials.mixes
    assert reed.outings[:4] == ("Reed", 2, 3, 33.0)
    assert reed.outings.water_c == pytest.approx((10, 12))
    assert reed.rated is not None
    assert reed.rated.rate == pytest.approx(3 / 33)
    assert alder.outings.water_c is None
    assert trials.best == reed


def test_a_mix_never_fished_is_listed_and_left_out() -> None:
    trials = compare(outing("Reed", 1, 5, 1), asked=("Alder", "Reed"))
    alder, reed = trials.mixes
    assert alder.rated is None
    assert reed.rated is not None
    assert reed.rated.probability_best == pytest.approx(1)
    assert trials.against_best == ()
    assert trials.fished == (reed,)


def test_a_mix_without_a_recipe_is_compared_and_one_not_asked_for_is_named() -> None:
    fished = [outing("Gone", 1, 5, 4), outing("Reed", 1, 5, 1), outing("Weir", 1, 5, 9)]
    trials = build_trials({"Reed": "reed.yaml"}, fished, {"weir"})
    assert [(mix.recipe, mix.file) for mix in trials.mixes] == [
        ("Reed", "reed.yaml"),
        ("Gone", None),
    ]
    assert trials.best.recipe == "Gone"
    assert [outings.recipe for outings in trials.left_out] == ["Weir"]
    assert [session.recipe for session in trials.sessions] == ["Gone", "Reed"]
    chances = [mix.rated.probability_best for mix in trials.mixes if mix.rated]
    assert sum(chances) == pytest.approx(1)


def test_of_equal_rates_the_first_is_the_best_and_no_hours_part_them() -> None:
    trials = compare(outing("Alder", 1, 5, 1), outing("Reed", 1, 10, 2))
    assert trials.best.recipe == "Reed"
    [alder] = trials.against_best
    assert (alder.found.ratio, alder.found.more_rod_hours) == (1, None)
    assert not alder.told_apart
    assert not alder.leaning


def test_without_a_take_there_is_no_ratio() -> None:
    [alder] = compare(outing("Reed", 1, 5, 0), outing("Alder", 1, 9, 0)).against_best
    assert (alder.found.ratio, alder.found.more_rod_hours) == (None, None)
    assert alder.found.evidence == pytest.approx(1)


def season(alder_day: str) -> list[Fished]:
    days = [f"2025-05-{day:02}" for day in range(1, 13)]
    reed = [outing("Reed", 1, 10, 2 * (i % 2), day=day) for i, day in enumerate(days)]
    alder = [outing("Alder", 1, 10, 0, day=day.replace("-05-", alder_day)) for day in days]
    return [*reed, *alder]


def test_days_together_are_counted_by_their_date() -> None:
    [together] = compare(*season("-05-")).against_best
    [apart] = compare(*season("-06-")).against_best
    assert (together.found.days_together, apart.found.days_together) == (12, 0)
    assert together.found.evidence == pytest.approx(apart.found.evidence)  # hours as many on each


def test_words_follow_the_evidence() -> None:
    weak = compare(outing("Reed", 1, 10, 3), outing("Alder", 1, 10, 1)).against_best[0]
    assert (weak.told_apart, weak.leaning) == (False, False)
    several = [outing("Reed", 1, 10, 2), outing("Alder", 1, 10, 0)]
    leaning = compare(*several * 4).against_best[0]
    assert (leaning.told_apart, leaning.leaning) == (False, True)
    told = compare(*several * 8).against_best[0]
    assert (told.told_apart, told.leaning) == (True, False)


def test_more_mixes_than_anybody_fishes_are_not_compared() -> None:
    fished = [outing(f"Bed {i}", 1, 5, 1) for i in range(MOST_MIXES)]
    assert len(compare(*fished, asked=()).mixes) == MOST_MIXES
    with pytest.raises(NoAnswerError, match=f"{MOST_MIXES + 1} mixes"):
        compare(*fished, outing("Reed", 1, 5, 1), asked=())


def test_nothing_fished_has_no_answer() -> None:
    with pytest.raises(NoAnswerError, match="eggfold note fished"):
        compare()
