"""A page without a format: a title and blocks of tables and lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Align = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Column:
    """A column's heading and how its cells stand."""

    title: str
    align: Align = "left"


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings."""

    heading: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """Labels and what is to be known of them."""

    heading: str
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Lines:
    """Sentences, one after the other."""

    heading: str
    items: tuple[str, ...]


Block = Table | Facts | Lines


@dataclass(frozen=True, slots=True)
class Page:
    """One page: alerts come before everything else."""

    title: str
    aside: str
    blocks: tuple[Block, ...]
    alerts: tuple[str, ...] = ()
