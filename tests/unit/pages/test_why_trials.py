"""Every sum that --why prints for a comparison is recomputed from the figures it prints."""

from __future__ import annotations

import re

import pytest
from scipy import special, stats

from eggfold.load.notebook import Fished
from eggfold.pages.trials import why_trials
from eggfold.recipe.trials import build_trials
from printed_sums import faults_of


def lines(*outings: tuple[str, int, int]) -> list[str]:
    """Return the lines for mixes with so many takes in so many rod-hours."""
    fished = [
        Fished.model_validate(
            {"date": "2025-05-01", "recipe": n, "rods": "1", "hours": f"{h}", "takes": f"{x}"}
        )
        for n, x, h in outings
    ]
    return list(why_trials(build_trials({n: f"{n}.yaml" for n, _, _ in outings}, fished)))


LINES = [*lines(("Reed", 7, 180), ("Alder", 2, 168)), *lines(("Reed", 4, 20), ("Weir", 0, 33))]


def figures(text: str) -> list[float]:
    return [float(figure) for figure in re.findall(r"[0-9]+(?:\.[0-9]+)?", text)]


@pytest.mark.parametrize("line", LINES)
def test_the_sum_makes_the_result(line: str) -> None:
    assert list(faults_of(line)) == []


@pytest.mark.parametrize("line", [line for line in LINES if "p-value" in line])
def test_the_p_value_is_that_of_the_binomial_count(line: str) -> None:
    p_value, count, share, seen = figures(line)
    p = stats.binomtest(int(seen), int(count), share).pvalue
    assert p == pytest.approx(p_value, rel=2e-4)


@pytest.mark.parametrize("line", [line for line in LINES if "chi-square" in line])
def test_the_chi_square_figures_are_those_of_the_table(line: str) -> None:
    percent, degrees = figures(line.split("from a table, at")[1])[:2]
    shown = figures(line.split(" = ")[2])[0]
    assert stats.chi2.ppf(percent / 100, degrees) == pytest.approx(shown, rel=1e-5)


def test_the_chance_to_be_best_is_the_incomplete_beta_function() -> None:
    reed = next(line for line in LINES if line.startswith("Reed: chance"))
    expected = special.betainc(2.5, 7.5, 168 / 348)
    assert figures(reed)[0] == pytest.approx(expected, rel=2e-5)


def test_all_kinds_of_lines_are_there() -> None:
    text = "\n".join(LINES)
    for words in ("rate =", "low =", "high =", "chance to be best", "share of", "p-value:", "D ="):
        assert words in text
    assert text.count("the h, ") == 1
    assert text.count("no rod-hours more") == 1


def test_the_hours_still_to_fish_are_not_searched_for() -> None:
    assert not [line for line in LINES if "halving" in line]
