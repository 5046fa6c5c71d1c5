"""A difference in which only words changed is the one that difflib shows."""

from __future__ import annotations

import difflib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.edit.writing import Change, differences_text


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "utf-16-le", "utf-16-be"])
def test_a_file_in_any_encoding_that_is_read_shows_its_difference(encoding: str) -> None:
    old, new = (f"name: Reed\nnotes: {text}\n".encode(encoding) for text in ("½", "¾"))
    shown = differences_text([Change("a.yaml", old, new)])
    assert shown.endswith("\n-notes: ½\n+notes: ¾\n")


@given(st.lists(st.tuples(st.integers(0, 10**6), st.sampled_from([0, 0, 0, 0, 1])), min_size=1))
def test_lines_with_other_words_are_shown_as_difflib_shows_them(
    lines: list[tuple[int, int]],
) -> None:
    old = [f"{i} {number}\n" for i, (number, _) in enumerate(lines)]
    new = [f"{i} {number}{'!' * more}\n" for i, (number, more) in enumerate(lines)]
    change = Change("a.yaml", "".join(old).encode(), "".join(new).encode())
    expected = difflib.unified_diff(old, new, "a.yaml", "a.yaml")
    shown = differences_text([change])
    assert shown == "".join(expected)
