"""What is said of a value that has another shape than the one wanted there."""

from __future__ import annotations

import pytest

from eggfold.load.gate import Source
from eggfold.load.reading import Placed, read_model
from eggfold.load.recipe import Recipe
from eggfold.load.yaml_tree import read_nodes


def hints_of(text: str) -> list[str | None]:
    """Return what to try for each problem of a recipe."""
    source = Source("reed.yaml", text)
    placed = Placed(source, read_nodes(source)[0])
    spare = {"name": "-", "base_mix": "-"}
    return [problem.hint for problem in read_model(Recipe, placed, spare).problems]


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("baits: 18 mm", "hookbait: 18 mm"),
        ("additives: Syrup", "- name: Syrup"),
        ("additives: 4 g", "- name: …"),
        ("baits: {freebie: {size: 18 mm, count: 3}}", "- size: …"),
        ("additives: {name: Syrup}", "- name: …"),
        ("baits: {freebie: {size: 18 mm}}", "- size: …"),
        ("baits: [18 mm]", "hookbait: …"),
    ],
)
def test_it_is_shown_in_the_shape_that_is_wanted(line: str, hint: str) -> None:
    assert hints_of(f"name: Reed\nbase_mix: Mix\n{line}\n") == [hint]


@pytest.mark.parametrize(
    ("mix", "hint"),
    [
        ("{name: M, blend: Semolina}", "Semolina: …"),
        ("{name: M, analysis: 40 %}", "protein: 40 %"),
        ("{name: M, analysis: {a: 1}}", "ash, carbohydrate, fat, fibre, protein or water"),
    ],
)
def test_only_keys_of_that_place_are_named(mix: str, hint: str) -> None:
    """A base mix is one mix, or one for each strength: the keys of the other say nothing here."""
    assert hints_of(f"name: Reed\nbase_mix: {mix}\n") == [hint]


@pytest.mark.parametrize(
    ("line", "hint"),
    [("analysis: {waeter: 0 %}", "did you mean water?"), ("contains: {fish: 1}", "[…]")],
)
def test_a_slip_within_an_additive_names_what_may_stand_there(line: str, hint: str) -> None:
    text = f"additives:\n  - name: Oil\n    form: oil\n    {line}\n"
    assert hint in hints_of(f"name: Reed\nbase_mix: Mix\n{text}")
