"""What is read of a text, as plain lists that can be compared."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.errors import ProblemsError
from eggfold.files.nodes import Mapping, Node, Scalar, Sequence, read_events

if TYPE_CHECKING:
    from collections.abc import Iterator

    from eggfold.files.events import Event
    from eggfold.files.source import Source


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


def read_steps(source: Source, events: Iterator[Event], most_nodes: int = 60) -> list[object]:
    """Return what the steps of a text come to: its tree and problems, or why it cannot be read."""
    try:
        root, problems = read_events(source, events, most_nodes)
    except ProblemsError as error:
        return [error.problems]
    return [spans(root), problems]
