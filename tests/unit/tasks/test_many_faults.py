"""A file full of faults: every one is told, and the work for each is bounded."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from eggfold.edit.fix import mend_files
from eggfold.errors import Problem
from eggfold.load import load_recipe, reading, shelf
from eggfold.load.gate import Source
from eggfold.load.reading import MOST_GUESSES
from eggfold.load.shelf import ITEMS_AT_ONCE
from eggfold.load.workspace import Chosen
from eggfold.load.yaml_tree import read_nodes
from eggfold.recipe.dose_sheet import default_columns, recipe_rows, recipe_sheet
from eggfold.recipe.trial import build_trial
from eggfold.tasks.check import check_files
from recipe_files import recipes_of

if TYPE_CHECKING:
    from collections.abc import ItemsView

MANY = 3 * MOST_GUESSES
KEYS = "".join(f"additivs{i}: x\n" for i in range(MANY))
BLEND = "".join(f"    Semolin{i}: 0.1 %\n" for i in range(MANY))


@pytest.mark.parametrize(
    ("text", "code", "module", "seeker"),
    [
        (f"name: A\nbase_mix: B\n{KEYS}", "unknown-key", reading, "did_you_mean"),
        (
            f"name: A\nbase_mix:\n  name: B\n  blend:\n{BLEND}    Semolina: 40 %\n",
            "unknown-ingredient",
            load_recipe,
            "nearest_few",
        ),
    ],
)
def test_the_nearest_word_is_sought_for_so_many_and_no_more(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    text: str,
    code: str,
    module: object,
    seeker: str,
) -> None:
    sought: list[str] = []
    monkeypatch.setattr(module, seeker, lambda word, _: sought.append(word))
    file = tmp_path / "many.yaml"
    file.write_text(text, encoding="utf-8")
    problems = check_files((str(file),), Chosen())[0].problems
    assert sum(p.code == code for p in problems) == MANY
    assert len(sought) == MOST_GUESSES


def test_all_broken_parts_are_left_out_in_one_pass() -> None:
    class Counted(dict[str, object]):
        passes = 0

        def items(self) -> ItemsView[str, object]:  # type: ignore[override]
            Counted.passes += 1
            return super().items()

    data = Counted({f"key{i}": "x" for i in range(MANY)})
    assert reading._without(data, [(key,) for key in data], None) == {}  # noqa: SLF001
    assert Counted.passes == 1


def test_the_same_slip_is_guessed_at_once_and_mended_everywhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sought: list[str] = []
    monkeypatch.setattr(reading, "did_you_mean", lambda word, _: sought.append(word))
    items = "".join(f"  A{i}: {{lefft: 1 g}}\n" for i in range(2 * ITEMS_AT_ONCE))
    file = tmp_path / "shelf.yaml"
    file.write_text(f"items:\n{items}", encoding="utf-8")
    chosen = Chosen(shelf=str(file), stocked=True)
    problems = check_files((str(file),), chosen)[0].problems
    assert len(problems) == 2 * ITEMS_AT_ONCE
    assert sought == ["lefft"]


@pytest.mark.parametrize("name", ["additives", "ingredients", "bench", "shelf"])
def test_a_companion_is_read_once(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path(f"{name}.yaml").write_text("wrong: 1\n", encoding="utf-8")
    read: list[str] = []

    def counted(source: Source, *, kept: bool = False) -> object:
        read.append(source.file)
        return read_nodes(source, kept=kept)

    monkeypatch.setattr(load_recipe, "read_nodes", counted)
    monkeypatch.setattr(shelf, "read_nodes", counted)
    findings, seen = check_files((f"{name}.yaml",), Chosen(stocked=True))
    assert findings.problems
    assert seen == 1
    assert read == [f"{name}.yaml"]


def test_corrections_that_do_harm_are_told_from_the_others_in_one_look(tmp_path: Path) -> None:
    good = "".join(f"  A{i}: {{form: oil, hookbat: 1 g per egg}}\n" for i in range(20))
    bad = "".join(
        f"  B{i}: {{form: oil, hookbait: 1 g per egg, hookbat: 1 g per egg}}\n" for i in range(20)
    )
    file = tmp_path / "additives.yaml"
    file.write_text(f"additives:\n{good}{bad}", encoding="utf-8")
    looks: list[int] = []

    def check() -> list[Problem]:
        looks.append(1)
        return [*check_files((str(file),), Chosen())[0].problems]

    mended, left = mend_files(check(), check)
    assert len(mended[0].problems) == 20
    assert len(left) == 20
    assert len(looks) == 3  # as it is, with all corrections, with the good ones


def test_a_column_of_the_dose_sheet_is_worked_out_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    built: list[object] = []

    def counted(*arguments: Any) -> object:
        built.append(arguments)
        return build_trial(*arguments)

    monkeypatch.setattr("eggfold.recipe.dose_sheet.build_trial", counted)
    additives = "".join(
        f"  - {{name: A{i}, form: oil, hookbait: 1 g per egg, freebie: 1 g per egg}}\n"
        for i in range(10)
    )
    recipe = f"name: A\nbase_mix: {{name: B, amount: 130 g}}\nadditives:\n{additives}"
    file = tmp_path / "a.yaml"
    file.write_text(recipe, encoding="utf-8")
    columns = default_columns(6)
    sheet = recipe_sheet([recipe_rows(one, columns) for one in recipes_of(file)], columns)
    assert len(sheet.rows) == 10
    assert len(built) == 3
