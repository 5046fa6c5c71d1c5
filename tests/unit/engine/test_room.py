"""How much base mix there is room for beside the powders of the additives."""

from __future__ import annotations

import pytest

from eggfold.engine.powder import Rates, base_mix_g
from eggfold.errors import NoAnswerError


def test_the_least_room_is_room() -> None:
    assert base_mix_g(3.5, 1, Rates(powder_per_egg_g=3.0)) == pytest.approx(0.5)


@pytest.mark.parametrize("dry_g", [3.0, 2.0])
def test_without_room_there_is_no_answer(dry_g: float) -> None:
    with pytest.raises(NoAnswerError, match="leave no room"):
        base_mix_g(dry_g, 1, Rates(powder_per_egg_g=3.0))
