"""A blend before its first bowl, against the same posterior by another road and planted powders."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from eggfold.engine.powder import KnownMix, predict_blend

K0 = 64.52 / 130
"""Grams of wet per gram of dry of the default, an EU large egg and 4 g of liquids in 130 g."""
NAMES = [f"powder {letter}" for letter in "abcdefghijkl"]

Dice = np.random.Generator


def some_blend(dice: Dice, of: int) -> dict[str, float]:
    chosen = dice.choice(NAMES, of, replace=False)
    return {
        str(name): float(part) for name, part in zip(chosen, dice.dirichlet([2] * of), strict=True)
    }


def some_mixes(dice: Dice, count: int, true: dict[str, float] | None = None) -> list[KnownMix]:
    mixes = []
    for i in range(count):
        blend = some_blend(dice, int(dice.integers(1, 6)))
        wet = sum(part * true[name] for name, part in blend.items()) if true else K0
        wet *= math.exp(dice.normal(0, 0.05 if true else 0.15))
        mixes.append(KnownMix(f"mix {i}", blend, wet, float(dice.choice([0.0, 0.05, 0.1]))))
    return mixes


def by_precisions(mixes: list[KnownMix]) -> tuple[Any, Any]:
    """Return mean and covariance of all powders by adding up precisions, not by the mixes' K."""
    w = np.array([[mix.parts.get(name, 0.0) for name in NAMES] for mix in mixes])
    sigma = np.array([mix.wet_per_dry * max(mix.sd, 0.02) for mix in mixes])
    wet = np.array([mix.wet_per_dry for mix in mixes])
    precision = np.eye(len(NAMES)) / (0.25 * K0) ** 2 + w.T @ np.diag(1 / sigma**2) @ w
    covariance = np.linalg.inv(precision)
    return K0 + covariance @ w.T @ ((wet - w.sum(axis=1) * K0) / sigma**2), covariance


@pytest.mark.parametrize("count", [1, 3, 8, 50])
def test_the_prediction_is_that_of_a_regression_on_the_powders(count: int) -> None:
    dice = np.random.default_rng(20261130 + count)
    mixes = some_mixes(dice, count)
    means, covariance = by_precisions(mixes)
    blend = some_blend(dice, 4) | {next(iter(mixes[0].parts)): 0.3}
    w = np.array([blend.get(name, 0.0) for name in NAMES]) / sum(blend.values())
    found = predict_blend(blend, mixes, K0)
    assert found.learned
    assert found.mean == pytest.approx(float(w @ means), rel=1e-9)
    variance = float(w @ covariance @ w) + (0.05 * K0) ** 2
    assert found.variance == pytest.approx(variance, rel=1e-9)
    assert found.taken.wet_per_dry == found.mean == pytest.approx(1 / found.absorbency)
    assert found.taken.sd == pytest.approx(math.sqrt(variance) / found.mean)
    for name, taken in found.ingredients.items():
        i = NAMES.index(name)
        assert taken.wet_per_dry == pytest.approx(means[i], rel=1e-9)
        sd = math.sqrt(covariance[i, i]) / means[i]
        assert taken.sd == pytest.approx(min(max(sd, 0.05), 0.25), rel=1e-9)


def test_the_sums_behind_add_up_to_the_prediction() -> None:
    dice = np.random.default_rng(20261130)
    mixes = some_mixes(dice, 6)
    found = predict_blend(some_blend(dice, 5), mixes, K0)
    pulls = np.linalg.solve(np.array(found.matrix), [one.shared for one in found.neighbours])
    assert [one.pull for one in found.neighbours] == pytest.approx(list(pulls), rel=1e-9)
    off = [one.pull * (one.mix.wet_per_dry - K0) for one in found.neighbours]
    assert found.mean == pytest.approx(K0 + sum(off), rel=1e-12)
    tau2 = (0.25 * K0) ** 2
    for i, (one, row) in enumerate(zip(found.neighbours, found.matrix, strict=True)):
        own = sum(part**2 for part in one.mix.parts.values())
        assert row[i] == pytest.approx(tau2 * own + one.sigma**2, rel=1e-12)


def test_planted_powders_are_found_within_the_doubt() -> None:
    """Powders drawn as they are thought to differ, each mix known to 5 %: the doubt is as said."""
    dice = np.random.default_rng(20261130)
    off = []
    for _ in range(300):
        true = dict(zip(NAMES, K0 * dice.normal(1, 0.25, len(NAMES)).clip(0.2), strict=True))
        mixes = [mix._replace(sd=0.05) for mix in some_mixes(dice, 8, true)]
        blend = some_blend(dice, 4)
        found = predict_blend(blend, mixes, K0)
        wet = sum(part * true[name] for name, part in blend.items()) + dice.normal(0, 0.05 * K0)
        off.append((found.mean - wet) / math.sqrt(found.variance))
    assert np.std(off) == pytest.approx(1, abs=0.12)
    assert np.mean(np.abs(off) < 1.645) == pytest.approx(0.90, abs=0.04)


# By hand: with τ = 0.25 κ0, Σw² = 1/2, κ = 1.2 κ0 known to 5 %.
def test_of_its_own_weighings_a_blend_keeps_what_the_scale_does_not_doubt() -> None:
    blend = {"a": 50.0, "b": 50.0}
    found = predict_blend(blend, [KnownMix("itself", blend, 1.2 * K0, 0.05)], K0)
    pull = 0.25**2 / 2 / (0.25**2 / 2 + (0.05 * 1.2) ** 2)
    assert found.neighbours[0].pull == pytest.approx(pull, rel=1e-12)
    assert found.taken.wet_per_dry == pytest.approx(K0 * (1 + 0.2 * pull), rel=1e-12)


# By hand: √(0.05² + 0.25² Σ w²), within 10 and 25 %.
@pytest.mark.parametrize(
    ("parts", "sd"),
    [
        ((1,), 0.25),
        ((1, 1), math.sqrt(0.0025 + 0.0625 / 2)),
        ((1, 1, 1, 1, 1), math.sqrt(0.0025 + 0.0625 / 5)),
        ((6, 3, 1), math.sqrt(0.0025 + 0.0625 * 0.46)),
        ((1,) * 40, 0.10),
    ],
)
def test_a_blend_of_which_nothing_was_learned_keeps_the_default(
    parts: tuple[float, ...], sd: float
) -> None:
    blend = dict(zip(map(str, range(len(parts))), parts, strict=True))
    for known in ([], [KnownMix("a stranger", {"sugar": 1.0}, 3 * K0, 0.02)]):
        found = predict_blend(blend, known, K0)
        assert not found.learned
        assert list(found.taken) == pytest.approx([K0, sd, False])
        for taken in found.ingredients.values():
            assert list(taken) == pytest.approx([K0, 0.25, False])
