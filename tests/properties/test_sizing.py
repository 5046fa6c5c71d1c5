"""A batch sized by eggs, a bag, liquid egg or bait: one line, read in every direction."""

from __future__ import annotations

import math
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from eggfold.load.load_recipe import OpenRecipe
from eggfold.recipe.asked import Asked, AskedEgg, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.reference.session import ENOUGH
from recipe_files import recipes_of

BAG_G = 262.5
doses = st.integers(1, 60).map(lambda tenths: f"{tenths / 10:g}")
units = st.sampled_from(["egg", "3 eggs", "500 ml eggs", "200 g eggs", "kg mix", "lb mix"])


@st.composite
def recipes(draw: st.DrawFn, eggs: str = "count: 2, grade: medium, standard: eu") -> str:
    """Draw a recipe that was weighed: a syrup, an oil and a powder, each dosed in any way."""
    lines = [
        f"  - {{name: {form} {i}, form: {form}, freebie: {draw(doses)} g per {draw(units)}}}"
        for i, form in enumerate(("liquid", "oil", "powder"))
    ]
    additives = "\n".join(lines)
    return (
        f"name: Drawn\neggs: {{{eggs}}}\nbase_mix: {{name: Drawn mix, amount: {BAG_G} g}}\n"
        f"additives:\n{additives}\nbaits: {{freebie: 18 mm}}\n"
    )


def opened_of(text: str) -> OpenRecipe:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "drawn.yaml"
        file.write_text(text, encoding="utf-8")
        (opened,) = recipes_of(file)
    assert opened.problems == []
    return opened


def batch_of(text: str, size: BatchSize, *eggs: AskedEgg) -> Batch:
    return build_batch(opened_of(text), Asked("freebie", size, eggs))


def amounts_of(batch: Batch) -> list[float]:
    """Return everything that is in a batch, which is to grow with it [g]."""
    return [batch.wet_g, batch.powder.base_mix_g, batch.paste.mass_g] + [
        line.amount.g for line in batch.doses
    ]


@given(recipes())
def test_the_trial_gives_back_its_bag_and_the_bag_its_eggs(text: str) -> None:
    by_eggs = batch_of(text, BatchSize("eggs", 2))
    assert by_eggs.powder.base_mix_g == pytest.approx(BAG_G, rel=1e-12)
    by_bag = batch_of(text, BatchSize("powder", BAG_G))
    assert by_bag.worth == pytest.approx(2, rel=1e-12)
    assert amounts_of(by_bag) == pytest.approx(amounts_of(by_eggs), rel=1e-12)
    assert batch_of(text, BatchSize("powder", BAG_G, whole_eggs=True)).eggs == 2


@given(recipes(), st.floats(5, 50_000), st.integers(2, 9))
def test_twice_the_bag_takes_twice_of_everything(text: str, bag_g: float, times: int) -> None:
    one = batch_of(text, BatchSize("powder", bag_g))
    more = batch_of(text, BatchSize("powder", times * bag_g))
    assert amounts_of(more) == pytest.approx([times * g for g in amounts_of(one)], rel=1e-9)


@given(recipes(), st.integers(1, 200))
def test_eggs_and_the_bag_they_take_are_one_batch(text: str, eggs: int) -> None:
    by_eggs = batch_of(text, BatchSize("eggs", eggs))
    by_bag = batch_of(text, BatchSize("powder", by_eggs.powder.base_mix_g))
    assert amounts_of(by_bag) == pytest.approx(amounts_of(by_eggs), rel=1e-9)
    by_liquid = batch_of(text, BatchSize("liquid", by_eggs.shelled_g))
    assert amounts_of(by_liquid) == pytest.approx(amounts_of(by_eggs), rel=1e-9)


@given(recipes(), st.floats(30, 20_000))
def test_egg_at_either_end_still_wets_the_bag_as_its_absorbency_says(
    text: str, bag_g: float
) -> None:
    batch = batch_of(text, BatchSize("powder", bag_g))
    poured = batch.poured
    assert poured is not None
    assert batch.powder.base_mix_g == pytest.approx(bag_g)
    assert batch.powder.base_mix_low_g == batch.powder.base_mix_high_g == batch.powder.base_mix_g
    assert 0 <= poured.low_g < poured.expected_g < poured.high_g
    assert batch.eggs == math.ceil(poured.high_g / batch.egg.each_g - 1e-9)
    others_g = batch.wet_g - poured.expected_g
    _, low, high = batch.learned.absorbency.next_bowls(batch.bowls_number)
    assert low * (poured.high_g + others_g) == pytest.approx(batch.powder.expected_g)
    if poured.low_g:
        assert high * (poured.low_g + others_g) == pytest.approx(batch.powder.expected_g)


@given(recipes(), st.floats(200, 20_000))
def test_a_bag_is_sure_for_no_more_eggs_than_are_expected(text: str, bag_g: float) -> None:
    batch = batch_of(text, BatchSize("powder", bag_g, whole_eggs=True))
    one_more = batch_of(text, BatchSize("eggs", batch.eggs + 1))
    assert batch.powder.base_mix_g <= bag_g * (1 + 1e-9) < one_more.powder.base_mix_g * (1 + 1e-6)
    assert batch.sure is not None
    assert 0 <= batch.sure <= batch.eggs
    assert batch.sure * batch.powder.base_mix_high_g / batch.eggs <= bag_g * (1 + 1e-9)


@settings(deadline=None)
@given(recipes(), st.integers(20, 3000))
def test_baits_are_made_of_the_fewest_eggs_that_come_near(text: str, baits: int) -> None:
    batch = batch_of(text, BatchSize("count", baits, enough=ENOUGH))
    made = sum(line.count for line in batch.baits)
    assert made >= ENOUGH * baits
    assume(batch.eggs > 1)
    fewer = batch_of(text, BatchSize("eggs", batch.eggs - 1))
    assert sum(line.count for line in fewer.baits) < ENOUGH * baits


@given(recipes(), st.integers(1, 30), st.integers(1, 30))
def test_mixed_eggs_are_their_mean(text: str, large: int, small: int) -> None:
    boxes = AskedEgg("eu", "large", number=large), AskedEgg("eu", "small", number=small)
    batch = batch_of(text, BatchSize("eggs", large + small), *boxes)
    assert batch.shelled_g == pytest.approx(0.89 * (68 * large + 48 * small))
    assert [box.number for box in batch.egg.boxes] == [large, small]


@given(recipes("liquid_egg: 600 g"))
def test_a_trial_in_liquid_egg_gives_back_its_bag_without_a_size(text: str) -> None:
    batch = batch_of(text, BatchSize("trial"))
    assert batch.powder.base_mix_g == pytest.approx(BAG_G, rel=1e-12)
    assert batch.shelled_g == pytest.approx(600, rel=1e-12)
    assert batch.counted is None


@given(doses, st.floats(20, 5000))
def test_a_dose_by_the_amount_of_eggs_goes_by_their_mass(dose: str, egg_g: float) -> None:
    entry = f"{{name: Syrup, form: liquid, freebie: {dose} g per 500 ml eggs}}"
    text = f"name: Drawn\nbase_mix: Drawn mix\nadditives: [{entry}]\nbaits: {{freebie: 18 mm}}\n"
    batch = batch_of(text, BatchSize("liquid", egg_g))
    (line,) = batch.doses
    assert line.amount.g == pytest.approx(float(dose) * egg_g / (500 * 1.03))
