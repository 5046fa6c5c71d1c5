"""When a word is a slip for a known one, and when it only looks like it."""

from __future__ import annotations

import pytest

from eggfold.nearest import MANY, is_slip, nearest


@pytest.mark.parametrize(
    ("word", "known"),
    [
        ("oyl", "oil"),
        ("liqid", "liquid"),
        ("hookbat", "hookbait"),
        ("amuont", "amount"),  # two changed places
        ("Reed flavor", "Reed flavour"),
        (" semolna ", "Semolina"),
    ],
)
def test_a_few_letters_off_are_a_slip(word: str, known: str) -> None:
    assert is_slip(word, known)
    assert is_slip(known, word)


@pytest.mark.parametrize(
    ("word", "known"),
    [
        ("Fishmeal", "fish oil"),  # another thing altogether
        ("Oat bran", "Wheat bran"),
        ("popup", "bottom"),
        ("", "oil"),
    ],
)
def test_another_word_is_no_slip(word: str, known: str) -> None:
    assert not is_slip(word, known)


def test_two_words_are_offered_where_either_may_be_meant() -> None:
    assert set(nearest("Reed mix", ["Reed mix A", "Reed mix B", "Rye"])) == {
        "Reed mix A",
        "Reed mix B",
    }
    assert nearest("Reed mixa", ["Reed mix A", "Rye mix"]) == ["Reed mix A"]


def test_words_are_near_that_share_six_letters_of_ten() -> None:
    assert nearest("abcxy", ["abcde"]) == ["abcde"]
    assert nearest("abcxyz", ["abcdef"]) == []


def test_of_many_words_those_are_looked_at_that_begin_alike() -> None:
    known = [*(f"mix {number}" for number in range(MANY)), "barley meal", "parley meal"]
    assert nearest("burley meal", known) == ["barley meal"]
