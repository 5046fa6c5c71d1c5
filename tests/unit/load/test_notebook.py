"""notebook.yaml: masses that a bowl cannot have are refused where they stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.edit.splice import drop_last
from eggfold.load.gate import Source
from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

ENTRY = (
    "{date: 2026-01-02, recipe: Osierfen Millet, strength: freebie, eggs: 6, before: 5 kg, "
    "after: 4.2 kg, base_mix: Osierfen millet mix, wet: 330 g, dry: 900 g}"
)


@pytest.mark.parametrize(("key", "mass"), [("wet", "330 g"), ("dry", "900 g")])
@pytest.mark.parametrize("section", ["weighed", "rolled"])
def test_a_bowl_of_nothing_is_refused(section: str, key: str, mass: str, tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    entry = ENTRY.replace(f"{key}: {mass}", f"{key}: 0 g")
    (tmp_path / "recipes" / "notebook.yaml").write_text(f"{section}:\n  - {entry}\n", "utf-8")
    outcome = run_eggfold(["check", "recipes/notebook.yaml"], tmp_path)
    assert outcome.exit == 1
    column = entry.index("0 g", entry.index(f"{key}: 0 g")) + 5
    assert f"notebook.yaml:2:{column}: 0 g is below what is possible here" in outcome.stdout


def test_a_line_that_looks_like_an_entry_is_not_taken_for_one() -> None:
    text = 'rolled:\n  - {date: 2025-05-01, recipe: "a\n  - b"}\n'
    assert drop_last(Source("notebook.yaml", f"# mine\n{text}"), "rolled", None) == "# mine\n"
