"""A page without a format: a title and blocks of tables and lines."""

from __future__ import annotations

from typing import Literal, NamedTuple

Align = Literal["left", "right"]


class Column(NamedTuple):
    """A column's heading and how its cells stand."""

    title: str
    align: Align = "left"


class Table(NamedTuple):
    """Rows under headings."""

    heading: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


class Facts(NamedTuple):
    """Labels and what is to be known of them."""

    heading: str
    rows: tuple[tuple[str, str], ...]


class Lines(NamedTuple):
    """Sentences, one after the other."""

    heading: str
    items: tuple[str, ...]


Block = Table | Facts | Lines


class Page(NamedTuple):
    """One page: alerts come before everything else."""

    title: str
    aside: str
    blocks: tuple[Block, ...]
    alerts: tuple[str, ...] = ()
