"""The library's C reader and its pure one say the same of a text, at the same places."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from eggfold.load.gate import Source
from trees import read_slowly, read_tree

TEXTS = st.sampled_from(
    [
        "Reed bed",
        "it's",
        "'it''s'",
        '"a: b # c"',
        "0,7 ml",
        "a:b",
        "a#b",
        "é\xa0#",
        "[a, 'b, c', ]",
        "[]",
        "{size: 1 kg, price: 9.80}",
        "{left: 0,7 g}",
        "{a: {}, b: , c}",
        "",
        "~",
        "2027-03-27 09:00",
    ]
)
LINES = st.builds(
    "{}{}{}{}{}".format,
    st.sampled_from(["", "  ", "  ", "    ", "    ", "      "]),
    st.sampled_from(["", "", "- ", "-   "]),
    st.sampled_from(["", "name: ", "left:  ", "Malt syrup: ", "'a b' : ", "also: ", "items: "]),
    TEXTS,
    st.sampled_from(["", "", "  # so far", " "]),
)
ORDERLY = st.builds(
    lambda lines, newline: newline.join(["items:", *lines]),
    st.lists(LINES, max_size=8),
    st.sampled_from(["\n", "\r\n"]),
)
LOOSE = st.lists(
    st.sampled_from(
        [
            *"abé\xa0{}[],?|>&*!%@`=~'\" ",
            "a: ",
            "b:\n",
            "- ",
            "\n",
            "\r\n",
            "\n  ",
            "\n    ",
            ": ",
            " #c",
            "#",
            "{a: b}",
            "'f''g'",
            '"h"',
            "...",
            "---",
            "<<: ",
            "\t",
            "a\tb",
            "12:30",
            "|\n  x",
            "-",
            ":",
            "0,7 ml",
        ]
    ),
    max_size=14,
).map("".join)


HARD = st.sampled_from(
    [
        "  ? left",
        "  : 640 g",
        "  - - a",
        "  -",
        '  "a\\u00e9":',
        "    more of it",
        "    'begun",
        "    ended'",
        "  [",
        "  a: b,",
        "  ]",
        "    a: [b,",
        "    c]",
        "  n: |",
        "  o: >-",
        "\tp: q",
        "  r:\ts",
        "--- # t",
        "...",
        "%YAML 1.2",
        "  &u v: w",
        "  !x y: z",
        "  *a : b",
        "  ? - c: d",
        "  ? e: f",
        "    # so far",
    ]
)
MIXED = st.builds(
    lambda first, lines, newline: newline.join([*first, "items:", *lines]),
    st.lists(HARD, max_size=1),
    st.lists(st.one_of(LINES, LINES, HARD), min_size=1, max_size=12),
    st.sampled_from(["\n", "\r\n"]),
)


def examples(test: Callable[[str], None]) -> Callable[[str], None]:
    """Try a test on the texts that were once read otherwise, or might be."""
    for text in TEXTS_OF_NOTE:
        test = example(text)(test)
    return test


TEXTS_OF_NOTE = [
    "rolled: []\n  # none\n",
    "fished:\n  - a: b\n    a: c\n",
    "fished:\n  - a: b\n      c: d\n",
    "fished:\n  - <<: b\n",
    "fished:\n- {a: {}, b: {c: d, }, }\n",
    "fished:\n  -   a:  b  \n      c:\n        d: e\n      f: g\n",
    "fished:\n    - a:\n        b: c\n    - d:\n",
    "fished:\n  - a:\n    - b: c\n",
    "items:\n  a: {left: 0,7 g}\n  b: [0,7 g, 0,8 g]\n",
    "items:\n  a:\n  - b: c\n    d: [e, {f: }]\n  - g\nh: i\n",
    "a: b\n...\nc: d\n",
    "a: b\n c: d\n",
    "a:\n  - b\n    c: d\n",
    "'a''b' : \"c\"  # d\n",
    "a: b#c\nd: e:f\ng: [h:i, j#k]\n",
    "a: {b: c}#d\n",
    "a: 'b\n  c'\n",
    "a: \xa0b\xa0#c\n",
    f"{'a' * 1030}: b\n",
    "a:\n" + "".join(f"  - {i}\n" for i in range(70)),
    "a: " + "[" * 60 + "]" * 60,
]


@given(st.one_of(ORDERLY, MIXED, LOOSE))
@examples
def test_the_c_reader_and_the_pure_one_say_the_same(text: str) -> None:
    """Where the pure one refuses, it is stricter in a few odd places, as a comment behind a bar."""
    source = Source("notebook.yaml", text)
    slowly = read_slowly(source)
    assert not slowly or read_tree(source) == slowly


@pytest.mark.parametrize(
    ("text", "value"),
    [("{a: 12:30}", "12:30"), ("{a: b?}", "b?"), ("a:\tb", "b"), ("a: b\tc\t# d", "b c")],
)
def test_what_one_of_them_refuses_is_read_with_both(text: str, value: str) -> None:
    source = Source("x.yaml", text)
    assert value in str(read_tree(source))
    assert read_slowly(source) == read_tree(source)
