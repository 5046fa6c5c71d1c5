"""How the weights on freezer-bag labels came about, on a page of its own behind them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.page import Lines, Page
from eggfold.pages.why.card import why_lines
from eggfold.pages.why.sums import got, put, without_sum

if TYPE_CHECKING:
    from eggfold.jobs.labels import Label


def label_sums(made: tuple[Label, ...]) -> Iterator[Page]:
    """Yield a page of sums for each batch."""
    for last in (label for label in made if label.bag == label.bags):
        lines = (*why_lines(last.batch), *_bag_lines(last))
        yield Page(
            last.recipe, last.strength.upper(), (Lines("HOW EACH FIGURE CAME ABOUT", lines),)
        )


def _bag_lines(last: Label) -> Iterator[str]:
    """Yield the last bag's weight and the last day."""
    dried = last.batch.paste.finished_g
    if last.bags > 1:
        bag_g = (dried - last.weight_g) / (last.bags - 1)
        yield (
            f"Bag {last.bags}: weight = dried − full bags × one bag = {put(dried)} − {last.bags - 1} × "
            f"{put(bag_g)} = {got(last.weight_g)} g"
        )
    keeping = last.keeping
    begun = "frozen" if keeping.frozen else "made"
    yield without_sum(
        "Use by",
        f"{keeping.use_by}",
        f"{keeping.months} calendar months from the day it was {begun}",
    )
