"""A file full of faults: every one is told, and the work for each is bounded."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.files import opened, reading
from eggfold.files.checking import check_files
from eggfold.files.reading import MOST_GUESSES
from eggfold.files.workspace import Workspace

if TYPE_CHECKING:
    from collections.abc import ItemsView
    from pathlib import Path

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
            opened,
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
    problems, _ = check_files(Workspace((str(file),)))
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
