"""What is read of a text, as plain lists that can be compared."""

from __future__ import annotations

from typing import TYPE_CHECKING
from unittest.mock import patch

from eggfold.errors import ProblemsError
from eggfold.load import yaml_tree
from eggfold.load.yaml_tree import Mapping, Node, Scalar, Sequence, read_nodes

if TYPE_CHECKING:
    from eggfold.load.gate import Source


def spans(node: Node) -> list[object]:
    """Return where everything in a tree starts and ends, and what it says."""
    if isinstance(node, Scalar):
        return [] if node.is_empty else [node.start, node.end, node.text, node.plain]
    if isinstance(node, Sequence):
        return [node.start, node.end, *(spans(item) for item in node.items)]
    assert isinstance(node, Mapping)
    pairs = ((spans(e.key), spans(e.value)) for e in node.entries.values())
    return [node.start, node.end, node.flow, *pairs]


def read_tree(source: Source) -> list[object] | None:
    """Return what a text comes to, its tree and problems; None where it cannot be read."""
    try:
        root, problems = read_nodes(source)
    except ProblemsError:
        return None
    return [spans(root), problems]


def read_slowly(source: Source) -> list[object] | None:
    """Return what a text comes to where the C reader is not installed."""
    with patch.object(yaml_tree, "CParser", None):
        return read_tree(source)
