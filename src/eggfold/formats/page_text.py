"""A page as lines of plain characters, bold where that is wanted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from eggfold.formats.characters import clean
from eggfold.formats.columns import GAP, side_by_side, wrapped
from eggfold.formats.table import table_lines
from eggfold.pages.page import Facts, Lines, Page, Plot, Strip, Table


def page_text(page: Page, width: int = 80, *, color: bool = False) -> str:
    """Return a page as lines of at most ``width`` characters."""
    return "\n".join(_page_lines(page, width, _bold if color else iter)) + "\n"


def _bold(lines: Iterable[str]) -> Iterator[str]:
    return (f"\x1b[1m{line}\x1b[0m" for line in lines)


def _page_lines(
    page: Page, width: int, strong: Callable[[Iterable[str]], Iterator[str]]
) -> Iterator[str]:
    for alert in page.alerts:
        yield from strong(wrapped(f"!! {clean(alert)}", width, "   "))
    yield from strong(_title(clean(page.title), clean(page.aside), width))
    yield "=" * width
    for block in page.blocks:
        yield ""
        yield from strong(wrapped(clean(block.heading), width, "  "))
        if isinstance(block, Table):
            yield from table_lines(block, width)
        elif isinstance(block, Facts):
            yield from _facts(block, width)
        elif isinstance(block, Lines):
            yield from _lines(block, width)
        elif isinstance(block, Strip):
            from eggfold.formats.strip import strip_lines  # noqa: PLC0415 - few pages have one

            yield from strip_lines(block, width)
        elif isinstance(block, Plot):
            from eggfold.formats.plot import plot_lines  # noqa: PLC0415 - few pages have one

            yield from map(clean, plot_lines(block, width))
    if page.corner:
        yield ""
        yield clean(page.corner).rjust(width)


def _title(title: str, aside: str, width: int) -> Iterator[str]:
    if len(title) <= width - len(aside) - GAP:
        yield f"{title}{' ' * (width - len(title) - len(aside))}{aside}"
    else:
        yield from wrapped(title, width, "")
        yield from (line.rjust(width) for line in wrapped(aside, width, ""))


def _lines(block: Lines, width: int) -> Iterator[str]:
    for item in block.items:
        yield from wrapped(f"- {clean(item)}", width, "  ")


def _facts(block: Facts, width: int) -> Iterator[str]:
    labels = [clean(label) for label, _ in block.rows]
    words = max(len(word) for label in labels for word in label.split(" "))
    label_width = min(max(map(len, labels)), max(width // 3, min(words, width // 2)))
    for label, value in block.rows:
        yield from side_by_side(
            (clean(label), clean(value)), (label_width, width - label_width - GAP)
        )
