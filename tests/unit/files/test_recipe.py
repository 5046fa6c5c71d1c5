"""What is said of a recipe that is written in a natural way which is none of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from eggfold.files.sizes import list_of, sizes_in
from running import Outcome, run_eggfold

HEAD = "name: Reeds\nbase_mix: M\n"


def check(folder: Path, text: str) -> Outcome:
    (folder / "reeds.yaml").write_text(f"{HEAD}{text}\n", encoding="utf-8")
    return run_eggfold(["check", "reeds.yaml"], folder)


@pytest.mark.parametrize(
    "written",
    [
        "18 mm, 20 mm",
        "18, 20 mm",
        "18 mm,20 mm",
        "18 mm and 20 mm",
        "[18 mm, 20 mm]",
        "[18 mm, {size: 20 mm}]",
        "[18, 20]",
    ],
)
def test_several_sizes_are_answered_with_a_list_that_can_be_read(
    written: str, tmp_path: Path
) -> None:
    right = "[{size: 18 mm, share: 50 %}, {size: 20 mm}]"
    outcome = check(tmp_path, f"baits:\n  freebie: {written}")
    assert f"    try: {right}\n" in outcome.stdout
    assert outcome.stdout.endswith("1 file, 1 error, 0 warnings\n")
    assert check(tmp_path, f"baits:\n  freebie: {right}").exit == 0


@pytest.mark.parametrize("text", ["16,5 mm", "16 mm", "1/2 in", "big, small", "16 mm,5", ""])
def test_one_size_is_not_several(text: str) -> None:
    assert sizes_in(text) == []


@pytest.mark.parametrize("many", [1, 2, 3, 6, 7])
def test_a_list_of_sizes_shares_the_paste(many: int, tmp_path: Path) -> None:
    sizes = [f"{10 + i} mm" for i in range(many)]
    assert check(tmp_path, f"baits: {{freebie: {list_of(sizes)}}}").exit == 0
