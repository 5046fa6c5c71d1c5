"""Labels: each a small page, many to a sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.figures import mass_text, size_text
from eggfold.pages.page import BLANK, Facts, Lines, Page
from eggfold.pages.sums import got, put, without_sum
from eggfold.pages.why_card import why_lines
from eggfold.reference.paper import THAW_H

if TYPE_CHECKING:
    from eggfold.recipe.labels import Label


CARE = f"thaw {THAW_H} h, never refreeze; wash hands; keep from children and dogs"


def label_page(label: Label) -> Page:
    """Return one label."""
    keeping = label.keeping
    rows = (
        ("Mix", label.base_mix),
        ("Size", ", ".join(size_text(d) for d in label.diameters_mm)),
        ("Weight", mass_text(label.weight_g)),
        ("Bag", f"{label.bag} of {label.bags}"),
        ("Made", keeping.made.isoformat()),
        ("Frozen", keeping.frozen.isoformat() if keeping.frozen else BLANK),
        ("Use by", keeping.use_by.isoformat()),
        *((("Soak", ", ".join(label.soak)),) if label.soak else ()),
        ("Contains", _contains(label)),
        ("Care", CARE),
    )
    return Page(label.recipe, label.strength.upper(), (Facts("FISHING BAIT, NOT FOOD", rows),))


def _contains(label: Label) -> str:
    contains, silent = label.declared
    text = ", ".join(contains)
    return f"{text}; not declared: {', '.join(silent)}" if silent else text


def label_sums(made: tuple[Label, ...]) -> Iterator[Page]:
    """Yield a page of sums for each batch."""
    for last in (label for label in made if label.bag == label.bags):
        lines = (*why_lines(last.batch), *_bag_lines(last))
        yield Page(
            last.recipe, last.strength.upper(), (Lines("HOW EACH FIGURE CAME ABOUT", lines),)
        )


def _bag_lines(last: Label) -> Iterator[str]:
    """Yield the last bag's weight and the last day."""
    dried = last.batch.paste.soaked_g or last.batch.paste.finished_g
    if last.bags > 1:
        bag_g = (dried - last.weight_g) / (last.bags - 1)
        yield (
            f"Bag {last.bags}: weight = {'soaked' if last.soak else 'dried'} − full bags × one bag = {put(dried)} − {last.bags - 1} × "
            f"{put(bag_g)} = {got(last.weight_g)} g"
        )
    keeping = last.keeping
    begun = "frozen" if keeping.frozen else "made"
    yield without_sum(
        "Use by",
        f"{keeping.use_by}",
        f"{keeping.months} calendar months from the day it was {begun}",
    )
