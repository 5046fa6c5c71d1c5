"""Each strength takes the bag that was weighed of its own mix, else that of the other."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("hookbait", "freebie", "taken"),
    [
        ("{name: H, amount: 120 g}", "{name: F, amount: 140 g}", (120, 140)),
        ("{name: H}", "{name: F, amount: 140 g}", (140, 140)),
        ("{name: H, amount: 120 g}", "{name: F}", (120, 120)),
    ],
)
def test_a_strength_takes_its_own_bag_or_the_other(
    tmp_path: Path, hookbait: str, freebie: str, taken: tuple[float, float]
) -> None:
    text = f"name: T\nbase_mix:\n  hookbait: {hookbait}\n  freebie: {freebie}\n"
    (tmp_path / "t.yaml").write_text(text, "utf-8")
    for strength, grams in zip(("hookbait", "freebie"), taken, strict=True):
        command = ["batch", "t.yaml", "--as", strength, "--eggs", "1", "--format", "json"]
        [batch] = json.loads(run_eggfold(command, tmp_path).stdout)["batches"]
        assert batch["powder"]["base_mix_g"] == pytest.approx(grams, rel=1e-9)
