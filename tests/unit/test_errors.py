"""How what somebody wrote is shown beside what is wrong with it."""

from __future__ import annotations

import pytest

from eggfold.errors import LONGEST_QUOTED, in_quotes


def test_a_text_is_shown_whole() -> None:
    assert in_quotes("x" * LONGEST_QUOTED) == f"'{'x' * LONGEST_QUOTED}'"


@pytest.mark.parametrize("length", [LONGEST_QUOTED + 1, 10_000])
def test_a_long_text_is_shown_cut(length: int) -> None:
    assert in_quotes("x" * length) == f"'{'x' * (LONGEST_QUOTED - 3)}...'"
