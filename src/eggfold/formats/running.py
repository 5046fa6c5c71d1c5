"""A table of words as running text, where a sheet has no room for its rows."""

from __future__ import annotations

from eggfold.pages.page import Block, Lines, Table


def running(block: Block) -> Block:
    """Return a table of words as one sentence for all rows; any other block as it is."""
    if not isinstance(block, Table) or any(column.align == "right" for column in block.columns):
        return block
    titles = _sentence(tuple(column.title for column in block.columns))
    return Lines(f"{block.heading}  {titles}", ("; ".join(map(_sentence, block.rows)),))


def _sentence(cells: tuple[str, ...]) -> str:
    return f"{cells[0]}: {', '.join(filter(None, cells[1:]))}"
