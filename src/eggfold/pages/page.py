"""A page without a format: a title and blocks of tables and lines."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal, Protocol

from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from eggfold.load.load_recipe import Companion, Location
    from eggfold.recipe.asked import Assumption


Align = Literal["left", "right"]

TICK = "[ ]"
"""A box to tick by hand; formats that can draw make it one."""
BLANK = "__________"
"""Room to write by hand."""
NONE = "–"
"""What stands in a cell that has nothing to say."""


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


class Plot(NamedTuple):
    """A curve of y over x, with the points worth naming; ``stepped`` holds y until the next x."""

    heading: str
    x_title: str
    y_title: str
    points: tuple[tuple[float, float], ...]
    marks: tuple[tuple[float, float, str], ...] = ()
    stepped: bool = False


class Span(NamedTuple):
    """A stretch of a strip's axis, with the point in it that matters most, if any."""

    start: float
    end: float
    label: str = ""
    point: float | None = None


class StripRow(NamedTuple):
    """One labelled row of spans."""

    label: str
    spans: tuple[Span, ...]


class Strip(NamedTuple):
    """Spans on one shared axis, a row each: intervals, or who does what when."""

    heading: str
    axis_title: str
    ticks: tuple[tuple[float, str], ...]
    rows: tuple[StripRow, ...]


class Weighed(NamedTuple):
    """One thing that goes into the bowl: how much, what, measured with what, and in the trial."""

    amount: str
    name: str
    how: str = ""
    trial: str = ""


class Scoop(NamedTuple):
    """A part of the tub, as it is shown and in grams."""

    text: str
    grams: float


class Tub(NamedTuple):
    """What varies, as a rule base mix, weighed into a tub: at once, then scoop by scoop as it asks."""

    name: str
    whole: Scoop
    at_once: Scoop
    to_expected: tuple[Scoop, ...]
    expected: str
    to_end: tuple[Scoop, ...]
    stiff: str
    how: str = "into a tub; use from it"
    start: str = "at once; knead, rest 10 min, then by feel"
    empty: str = "the tub is empty"
    sure: str = ""
    """What the weights rest on."""


class Bowl(NamedTuple):
    """What goes into one bowl, in the order it goes in; all of it is ticked."""

    heading: str
    trial: str
    """What the amounts beside each thing belong to."""
    rows: tuple[Weighed, ...]
    tub: Tub


class SizeInPan(NamedTuple):
    """One size in the pan: how long, how many loads, and a box for each of them."""

    name: str
    time: str
    loads: str
    boxes: int


class Loads(NamedTuple):
    """Every size that goes into the pan; of each the first load is cut open before the next."""

    heading: str
    rows: tuple[SizeInPan, ...]
    cut: str
    """What stands beside the first load's box."""
    until: str
    """What is to be seen then, and what to do otherwise."""


Block = Table | Facts | Lines | Plot | Strip | Bowl | Loads


class Page(NamedTuple):
    """One page: alerts come under its title before all else, the corner stands small at the very end."""

    title: str
    aside: str
    blocks: tuple[Block, ...]
    alerts: tuple[str, ...] = ()
    corner: str = ""
    front: int | None = None
    """How many blocks stand on the front of a sheet of paper, the others on its back; None flows on."""


PLACES: dict[Location, str] = {
    "beside": "Beside the recipe",
    "here": "In the working folder",
    "above": "In the folder above",
    "elsewhere": "Elsewhere",
}


class WithBasis(Protocol):
    """A result that says what it rests on."""

    @property
    def companions(self) -> tuple[Companion, ...]:
        """The files that were read with the recipe."""

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """What was assumed."""


def basis_blocks(answer: WithBasis, *, why: bool = False) -> Iterator[Block]:
    """Yield the files that were read, what was assumed, and with ``why`` where that comes from."""
    yield from companion_facts(answer.companions)
    yield _assumption_table(answer.assumptions)
    if why:
        sources = tuple(f"{a.what}: {a.source}" for a in answer.assumptions if a.source)
        yield Lines("SOURCES", sources)


def companion_facts(companions: tuple[Companion, ...]) -> Iterator[Facts]:
    """Yield the files that were read with the recipe, by place; nothing where there are none."""
    rows = []
    for place, label in PLACES.items():
        if files := [_name(one) for one in companions if one.place == place]:
            rows.append((label, ", ".join(files)))
    if rows:
        yield Facts("FILES READ", tuple(rows))


def _name(companion: Companion) -> str:
    return companion.file if companion.place == "elsewhere" else companion.file_name


def _assumption_table(assumptions: tuple[Assumption, ...]) -> Table:
    """Return the table of what was assumed, with its origin."""
    columns = (Column("What"), Column("value"), Column("origin"))
    rows = tuple((a.what, a.value.replace("degC", "°C"), a.origin) for a in assumptions)
    return Table("ASSUMED", columns, rows)
