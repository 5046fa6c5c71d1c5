"""What bench.yaml refuses because it would mean different things in different kitchens."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from running import copy_recipes, run_eggfold


@pytest.mark.parametrize(
    ("line", "column"),
    [
        ("pan: 9 pint", 6),
        ("spoons: [5 ml, 1 cup]", 16),
        ("syringes: [{size: 1 floz, division: 1 ml}]", 19),
    ],
)
def test_a_measure_that_differs_by_country_is_refused(
    line: str, column: int, tmp_path: Path
) -> None:
    (tmp_path / "bench.yaml").write_text(f"{line}\n", encoding="utf-8")
    checked = run_eggfold(["check", "bench.yaml"], tmp_path)
    assert checked.exit == 1
    assert checked.stdout.startswith(f"bench.yaml:1:{column}: ")
    assert "differs by country [unknown-measure]" in checked.stdout
    boiled = run_eggfold(["boil", "--diameter", "16mm"], tmp_path)
    assert (boiled.exit, boiled.stderr.splitlines()[-1]) == (1, "    try: ml or l")


def test_a_spoon_without_a_country_is_one_of_5_ml(tmp_path: Path) -> None:
    (tmp_path / "bench.yaml").write_text("spoons: [1 tsp]\n", encoding="utf-8")
    assert run_eggfold(["check", "bench.yaml"], tmp_path).exit == 0


@pytest.mark.parametrize(("line", "hint"), [("altitude: 250", "250 m"), ("freezer: 60", "60 l")])
def test_a_number_alone_is_answered_with_the_unit_of_its_key(
    line: str, hint: str, tmp_path: Path
) -> None:
    (tmp_path / "bench.yaml").write_text(f"{line}\n", encoding="utf-8")
    checked = run_eggfold(["check", "bench.yaml"], tmp_path)
    assert checked.stdout.splitlines()[3] == f"    try: {hint}"
    asked = run_eggfold(["boil", "--altitude", "250"], tmp_path)
    assert asked.stderr.endswith("try: 250 m\n")


@pytest.mark.parametrize(
    ("line", "own"),
    [
        ("spoons: [7.5 ml]", ("spoons", "7.5 ml")),
        ("scales: []", None),
        ("syringes: []", ("syringes", "none")),
        ("drops_per_ml: 24", ("drops per ml", "24")),
    ],
)
def test_only_the_tools_that_the_file_lists_are_yours(
    line: str, own: tuple[str, str] | None, tmp_path: Path
) -> None:
    copy_recipes(tmp_path)
    (tmp_path / "bench.yaml").write_text(f"{line}\n", encoding="utf-8")
    args = ["batch", "recipes/osierfen-caraway.yaml", "--bench", "bench.yaml", "--format", "json"]
    batch = json.loads(run_eggfold(args, tmp_path).stdout)["batches"][0]
    kinds = {"scales", "syringes", "spoons", "drops per ml", "tools"}
    told = {a["what"]: a for a in batch["assumptions"] if a["what"] in kinds}
    assert told.pop("tools")["origin"] == "house default"
    yours = [(what, a["value"]) for what, a in told.items() if a["origin"] == "yours"]
    assert yours == ([own] if own else [])


@pytest.mark.parametrize(("pace", "code"), [("4", 1), ("5", 0), ("1000", 0), ("1001", 1)])
def test_baits_on_cork_are_rolled_at_a_pace_that_hands_have(
    pace: str, code: int, tmp_path: Path
) -> None:
    (tmp_path / "bench.yaml").write_text(f"cork_pace: {pace} per hour\n", encoding="utf-8")
    checked = run_eggfold(["check", "bench.yaml"], tmp_path)
    assert checked.exit == code
    assert ("5 to 1000" in checked.stdout) is bool(code)


def test_a_folder_without_a_recipe_says_how_to_begin(tmp_path: Path) -> None:
    said = run_eggfold(["batch"], tmp_path)
    assert (said.stdout, said.exit) == ("", 2)
    assert said.stderr.endswith(
        "there is no recipe in this folder: eggfold new makes one to begin with\n"
    )
