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


NAMES = ("Reed", "Alder")
LINES = [*lines(("Reed", 7, 180), ("Alder", 2, 168)), *lines(("Reed", 24, 20), ("Weir", 0, 33))]


def figures(text: str) -> list[float]:
    return [float(figure) for figure in re.findall(r"[0-9]+(?:\.[0-9]+)?", text)]


@pytest.mark.parametrize("line", LINES)
def test_the_sum_makes_the_result(line: str) -> None:
    assert list(faults_of(line)) == []


@pytest.mark.parametrize("line", [line for line in LINES if "chi-square" in line])
def test_the_chi_square_figures_are_those_of_the_table(line: str) -> None:
    percent = figures(line.split("from a table, at")[1])[0]
    degrees = figures(line.split("degrees of freedom", maxsplit=1)[0])[-1]
    shown = figures(line.split(" = ")[2])[1]
    assert stats.chi2.ppf(percent / 100, degrees) == pytest.approx(shown, rel=1e-5)


def test_the_chance_to_be_best_is_the_incomplete_beta_function() -> None:
    reed, alder = (next(line for line in LINES if line.startswith(f"{n}: chance")) for n in NAMES)
    (chance, shape, hours), (_, other, its) = figures(reed)[:3], figures(alder)[:3]
    assert chance == pytest.approx(special.betainc(other, shape, its / (hours + its)), rel=2e-5)


def test_the_spread_of_many_outings_is_not_written_out() -> None:
    text = "\n".join(lines(*[("Reed", 1, 20), ("Alder", 0, 20)] * 13))
    assert text.count("added up over all of them") == 2
    assert "spread =" not in text


def test_all_kinds_of_lines_are_there() -> None:
    text = "\n".join(LINES)
    for words in ("rate =", "low =", "high =", "chance to be best", "spread =", "Dispersion φ ="):
        assert words in text
    for words in ("evidence:", "allowing for luck =", "D ="):
        assert words in text
    assert text.count("the h, ") == 1
    assert text.count("no rod-hours more") == 1


def test_the_hours_still_to_fish_are_not_searched_for() -> None:
    assert not [line for line in LINES if "halving" in line]
