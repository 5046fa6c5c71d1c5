"""Scaling is linear and invertible, mass closes, kg and lb agree, and any bytes give problems."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.amounts import AmountError, DoseText, parse_dose, parse_soak
from eggfold.engine.powder import Rates, absorbency, base_mix_g, dry_mix_g, trial_dry_g, wet_g
from eggfold.engine.scaling import Dose, dose_of, scale_dose
from eggfold.errors import ProblemsError
from eggfold.load.gate import Source
from eggfold.load.yaml_tree import read_nodes

rates = st.builds(Rates, st.floats(0, 20), st.floats(0, 0.2), st.floats(0, 15), st.floats(0, 0.15))
amounts = st.floats(0.01, 500).map(lambda v: float(f"{v:.4f}"))


@given(rates, st.floats(110, 160), st.integers(1, 12), st.integers(1, 5000))
def test_scaling_up_and_back_returns_the_bag(r: Rates, bag: float, trial: int, eggs: int) -> None:
    dry = trial_dry_g(bag * trial, trial, r)
    a = absorbency(dry, trial, 60.52, r)
    up = dry_mix_g(a, eggs, 60.52, r)
    assert up / eggs * trial == pytest.approx(dry, rel=1e-12)
    assert base_mix_g(up, eggs, r) * trial / eggs == pytest.approx(bag * trial, rel=1e-9)
    assert a * wet_g(eggs, 60.52, up, r) == pytest.approx(up, rel=1e-12)


def dose(text: str) -> Dose:
    found = dose_of(parse_dose(text))
    assert found is not None
    return found


@given(amounts, st.integers(1, 400))
def test_a_dose_per_egg_scales_up_and_back(ml: float, eggs: int) -> None:
    taken = scale_dose(dose(f"{ml} ml per egg"), eggs, 0, 1.0)
    assert taken.ml is not None
    assert taken.ml / eggs == pytest.approx(ml, rel=1e-12)


@given(amounts, st.floats(1, 1e5))
def test_kg_and_lb_give_the_same_answer(ml: float, dry_g: float) -> None:
    written = (f"{ml} ml per kg mix", f"{ml} ml per 2.2046226218488 lb mix")
    in_kg, in_lb = (scale_dose(dose(text), 1, dry_g, 1.0) for text in written)
    assert math.isclose(in_kg.g, in_lb.g, rel_tol=1e-12)


@given(amounts, st.sampled_from(["egg", "3 eggs", "kg mix", "2 lb mix"]))
def test_parsing_what_was_written_is_the_identity(value: float, per: str) -> None:
    dose = parse_dose(f"{value} g per {per}")
    assert parse_dose(str(dose)) == dose


@given(amounts, st.sampled_from(["kg bait", "3 lb bait", "2 kg bait"]))
def test_parsing_a_soak_that_was_written_is_the_identity(value: float, per: str) -> None:
    soak = parse_soak(f"{value} ml per {per}")
    assert parse_soak(str(soak)) == soak


@given(amounts, st.floats(1, 1e5))
def test_a_soak_per_kg_and_per_lb_give_the_same_answer(ml: float, finished_g: float) -> None:
    written = (f"{ml} ml per kg bait", f"{ml} ml per 2.2046226218488 lb bait")
    doses = (dose_of(parse_soak(text)) for text in written)
    in_kg, in_lb = (scale_dose(one, 0, finished_g, 1.0) for one in doses if one is not None)
    assert math.isclose(in_kg.g, in_lb.g, rel_tol=1e-12)


@given(st.text(max_size=60))
def test_any_text_is_a_dose_or_one_sentence(text: str) -> None:
    try:
        assert isinstance(parse_dose(text), DoseText)
    except AmountError as error:
        assert error.message


@given(st.text(max_size=300))
def test_any_text_is_a_tree_or_problems(text: str) -> None:
    try:
        read_nodes(Source("x.yaml", text))
    except ProblemsError as error:
        assert error.problems
