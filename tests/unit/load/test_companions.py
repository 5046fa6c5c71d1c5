"""Every answer names the files that it read beside the recipe, and where they lay."""

from __future__ import annotations

import json
import re
import shlex
import shutil
from pathlib import Path

import pytest

from running import RECIPES, copy_recipes, run_eggfold

NOTES = "weighed:\n  - {date: 2026-01-01, recipe: Osierfen Weir, eggs: 1, before: 2 kg, after: 1.9 kg}\n"
MILLET = "osierfen-millet.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder with a bench and a notebook, and recipes with their register below."""
    mixes = tmp_path / "mixes"
    mixes.mkdir()
    shutil.copy(RECIPES / MILLET, mixes)
    shutil.copy(RECIPES / "additives.yaml", mixes)
    (tmp_path / "bench.yaml").write_text("pan: 8 l\n", encoding="utf-8")
    (tmp_path / "notebook.yaml").write_text(NOTES, encoding="utf-8")
    return tmp_path


def read_of(folder: Path, command: str, stdin: bytes = b"") -> dict[str, str]:
    """Return the files that a page says were read, by the place it gives."""
    shown = run_eggfold([*shlex.split(command), "--full"], folder, stdin=stdin).stdout
    block = re.search(r"^FILES READ\n((?:.+\n)+)", shown, re.MULTILINE)
    rows = block[1].splitlines() if block else []
    return dict(re.split(r" {2,}", row, maxsplit=1) for row in rows)


def test_a_card_says_what_was_read_and_where(folder: Path) -> None:
    assert read_of(folder, f"batch mixes/{MILLET}") == {
        "Beside the recipe": "additives.yaml",
        "In the folder above": "bench.yaml, notebook.yaml",
    }


def test_what_is_left_out_is_not_named(folder: Path) -> None:
    read = read_of(folder, f"batch mixes/{MILLET} --without-notes")
    assert read["In the folder above"] == "bench.yaml"


def test_a_named_file_stands_with_its_path(folder: Path) -> None:
    (folder / "caravan").mkdir()
    shutil.copy(RECIPES / "shelf.yaml", folder / "caravan")
    read = read_of(folder, f"batch mixes/{MILLET} --shelf caravan/shelf.yaml")
    assert read["Elsewhere"] == "caravan/shelf.yaml"
    by_name = read_of(folder, f"batch mixes/{MILLET} --bench bench.yaml")
    assert by_name == read_of(folder, f"batch mixes/{MILLET}")


def test_without_a_file_the_working_folder_stands_for_the_recipes(folder: Path) -> None:
    recipe = (folder / "mixes" / MILLET).read_bytes()
    assert read_of(folder / "mixes", "batch -", stdin=recipe) == {
        "In the working folder": f"additives.yaml, {MILLET}",
        "In the folder above": "bench.yaml, notebook.yaml",
    }
    assert read_of(folder, "boil") == {"In the working folder": "bench.yaml"}


def test_each_card_sees_the_files_from_its_own_folder(folder: Path) -> None:
    shutil.copy(RECIPES / MILLET, folder / "upper.yaml")
    shutil.copy(RECIPES / "additives.yaml", folder)
    (folder / "mixes" / "additives.yaml").unlink()
    everything = "additives.yaml, bench.yaml, notebook.yaml"
    run = run_eggfold(
        ["batch", "upper.yaml", f"mixes/{MILLET}", "--format", "markdown", "--full"], folder
    )
    places = re.findall(r"## FILES READ\n\n- \*\*([^:]+):\*\* (.+)", run.stdout)
    first = ("Beside the recipe", everything)
    assert places == [first, ("In the folder above", everything), first]  # the list comes last


def test_nothing_is_said_where_there_is_nothing(folder: Path) -> None:
    alone = folder / "a" / "b"
    alone.mkdir(parents=True)
    (alone / "plain.yaml").write_text("name: Plain\nbase_mix: Plain mix\n", encoding="utf-8")
    run = run_eggfold(["batch", "plain.yaml", "--full"], alone)
    assert run.exit == 0
    assert "FILES READ" not in run.stdout
    run = run_eggfold(["batch", "plain.yaml", "--format", "json"], alone)
    assert json.loads(run.stdout)["batches"][0]["companions"] == []


def test_a_file_that_could_not_be_read_is_not_named(folder: Path) -> None:
    (folder / "bench.yaml").write_text("pan: [\n", encoding="utf-8")
    run = run_eggfold(["batch", f"mixes/{MILLET}", "--format", "json"], folder)
    assert run.exit == 1
    (batch,) = json.loads(run.stdout)["batches"]
    assert [one["kind"] for one in batch["companions"]] == ["additives", "notebook"]


@pytest.mark.parametrize(
    ("command", "kinds"),
    [
        ("shopping recipes --as freebie --eggs 6", "additives shelf"),
        ("shopping recipes/weekend.yaml", "additives shelf"),
        ("doses recipes", "additives"),
        ("doses --additives recipes/additives.yaml", "additives"),
        ("powder recipes/osierfen-millet.yaml", "additives shelf"),
        ("boil --recipe recipes/osierfen-millet.yaml", "additives"),
        ("boil --clock --recipe recipes/osierfen-millet.yaml", "additives"),
        ("buoyancy --core 12mm --skin 2mm --recipe recipes/osierfen-millet.yaml", "additives"),
        ("buoyancy --core 12mm --skin 2mm", ""),
        ("rolling recipes/weekend.yaml", "additives shelf"),
        ("campaign recipes/season.yaml", "additives shelf"),
    ],
)
def test_other_answers_list_them_too(tmp_path: Path, command: str, kinds: str) -> None:
    copy_recipes(tmp_path)
    found = json.loads(run_eggfold([*shlex.split(command), "--format", "json"], tmp_path).stdout)
    beside = [one for one in found["companions"] if one["kind"] != "recipe"]
    assert beside == [{"kind": kind, "file": f"recipes/{kind}.yaml"} for kind in kinds.split()]
    assert bool(read_of(tmp_path, command)) == bool(kinds)
