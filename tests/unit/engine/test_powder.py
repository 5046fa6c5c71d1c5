"""Bowls that can be reckoned by hand, and doses that leave no bowl to reckon."""

from __future__ import annotations

import pytest

from eggfold.engine.powder import (
    Rates,
    absorbency,
    base_mix_g,
    dry_mix_g,
    sum_rates,
    trial_dry_g,
    wet_g,
)
from eggfold.errors import NoAnswerError


def test_without_additives_a_bowl_is_eggs_and_base_mix() -> None:
    for rates in (Rates(), sum_rates([])):
        assert trial_dry_g(130, 1, rates) == 130
        assert absorbency(130, 1, 52, rates) == 2.5
        assert dry_mix_g(2.5, 6, 52, rates) == 780
        assert base_mix_g(780, 6, rates) == 780
        assert wet_g(6, 52, 780, rates) == 312


def test_the_doses_of_several_additives_add_up() -> None:
    rates = sum_rates([Rates(3, 0.25, 1, 0.125), Rates(4, 0.5, 2, 0.25)])
    assert rates == Rates(7, 0.75, 3, 0.375)


def test_powders_per_kg_are_part_of_the_trial() -> None:
    # a quarter of the dry mix and 5 g an egg beside 140 g from the bag: 150 g are three quarters
    assert trial_dry_g(140, 2, Rates(powder_per_egg_g=5, powder_per_dry=0.25)) == 200


@pytest.mark.parametrize("share", [1.0, 1.25])
def test_powders_that_are_the_whole_mix_have_no_trial(share: float) -> None:
    with pytest.raises(NoAnswerError, match="the whole mix or more"):
        trial_dry_g(130, 1, Rates(powder_per_dry=share))


@pytest.mark.parametrize(
    ("per_kg", "shown"),
    [
        (0.5, r"1 kg of mix gets 500 g, which wets 1\.00 kg"),
        (0.75, r"1 kg of mix gets 750 g, which wets 1\.50 kg"),
        (1.5, r"1 kg of mix gets 1500 g, which wets 3\.00 kg"),
    ],
)
def test_liquids_that_wet_more_than_they_belong_to_have_no_bowl(per_kg: float, shown: str) -> None:
    # at 2 g of mix for each gram of wet the series of doses for doses has no sum from 0.5 on
    with pytest.raises(NoAnswerError, match=shown):
        dry_mix_g(2, 1, 50, Rates(wet_per_dry=per_kg))


@pytest.mark.parametrize("each_g", [65.0, 70.0])
def test_powders_that_fill_the_bowl_leave_no_base_mix(each_g: float) -> None:
    with pytest.raises(NoAnswerError, match=f"{2 * each_g:.0f} g.* in 130 g of dry mix"):
        base_mix_g(130, 2, Rates(powder_per_egg_g=each_g))


def test_the_least_room_is_room() -> None:
    assert base_mix_g(3.5, 1, Rates(powder_per_egg_g=3.0)) == pytest.approx(0.5)


@pytest.mark.parametrize("dry_g", [3.0, 2.0])
def test_without_room_there_is_no_answer(dry_g: float) -> None:
    with pytest.raises(NoAnswerError, match="leave no room"):
        base_mix_g(dry_g, 1, Rates(powder_per_egg_g=3.0))
