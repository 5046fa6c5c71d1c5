"""A text read line by line, wherever it can be, is what YAML's reader makes of it."""

from __future__ import annotations

from collections.abc import Callable
from unittest.mock import patch

from hypothesis import example, given
from hypothesis import strategies as st

from eggfold.files import yaml_events as yaml_events_module
from eggfold.files.nodes import plain_data, read_nodes
from eggfold.files.source import Source
from eggfold.files.text_events import text_events
from eggfold.files.whole_lines import UndecidedError, line_events
from eggfold.files.yaml_events import yaml_events
from trees import read_steps

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


@given(st.one_of(ORDERLY, LOOSE))
@examples
def test_whole_lines_read_as_yaml_reads_them(text: str) -> None:
    source = Source("notebook.yaml", text)
    try:
        found = read_steps(source, line_events(text))
    except UndecidedError:
        return
    assert found == read_steps(source, yaml_events(source))


@given(st.one_of(MIXED, LOOSE))
@examples
def test_lines_among_hard_ones_read_as_yaml_reads_them_all(text: str) -> None:
    source = Source("notebook.yaml", text)
    assert read_steps(source, text_events(source)) == read_steps(source, yaml_events(source))


def test_a_hard_line_is_the_only_one_that_yaml_reads() -> None:
    plain = "  - {date: 2026-05-02, rods: 3}\n" * 500
    text = f"fished:\n{plain}  - ? date\n    : 3\n{plain}"
    with patch.object(yaml_events_module, "MOST_STEPS", 40):
        root, problems = read_nodes(Source("notebook.yaml", text), max_nodes=10_000)
    assert not problems
    assert len(plain_data(root)["fished"]) == 1001
