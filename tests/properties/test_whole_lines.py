"""A text read line by line is what YAML's reader makes of it, wherever it is read so."""

from __future__ import annotations

from collections.abc import Iterator

from hypothesis import example, given
from hypothesis import strategies as st

from eggfold.errors import ProblemsError
from eggfold.files.events import Event
from eggfold.files.nodes import Mapping, Node, Scalar, Sequence, read_events
from eggfold.files.source import Source
from eggfold.files.whole_lines import UndecidedError, line_events
from eggfold.files.yaml_events import yaml_events

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


def spans(node: Node) -> list[object]:
    """Return where everything in a tree starts and ends, and what it says."""
    if isinstance(node, Scalar):
        empty = node.plain and not node.text
        return [] if empty else [node.start, node.end, node.text, node.plain]
    if isinstance(node, Sequence):
        return [node.start, node.end, *(spans(item) for item in node.items)]
    assert isinstance(node, Mapping)
    pairs = ((spans(e.key), spans(e.value)) for e in node.entries.values())
    return [node.start, node.end, node.flow, *pairs]


def read(source: Source, events: Iterator[Event]) -> list[object]:
    try:
        root, problems = read_events(source, events, 60)
    except ProblemsError as error:
        return [error.problems]
    return [spans(root), problems]


@given(st.one_of(ORDERLY, LOOSE))
@example("rolled: []\n  # none\n")
@example("fished:\n  - a: b\n    a: c\n")
@example("fished:\n  - a: b\n      c: d\n")
@example("fished:\n  - <<: b\n")
@example("fished:\n- {a: {}, b: {c: d, }, }\n")
@example("fished:\n  -   a:  b  \n      c:\n        d: e\n      f: g\n")
@example("fished:\n    - a:\n        b: c\n    - d:\n")
@example("fished:\n  - a:\n    - b: c\n")
@example("items:\n  a: {left: 0,7 g}\n  b: [0,7 g, 0,8 g]\n")
@example("items:\n  a:\n  - b: c\n    d: [e, {f: }]\n  - g\nh: i\n")
@example("a: b\n...\nc: d\n")
@example("a: b\n c: d\n")
@example("a:\n  - b\n    c: d\n")
@example("'a''b' : \"c\"  # d\n")
@example("a: b#c\nd: e:f\ng: [h:i, j#k]\n")
@example("a: {b: c}#d\n")
@example("a: 'b\n  c'\n")
@example("a: \xa0b\xa0#c\n")
@example(f"{'a' * 1030}: b\n")
@example("a:\n" + "".join(f"  - {i}\n" for i in range(70)))
@example("a: " + "[" * 60 + "]" * 60)
def test_whole_lines_read_as_yaml_reads_them(text: str) -> None:
    source = Source("notebook.yaml", text)
    try:
        found = read(source, line_events(text))
    except UndecidedError:
        return
    assert found == read(source, yaml_events(source))
