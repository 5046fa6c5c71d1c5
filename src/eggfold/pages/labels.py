"""Labels: each a small page, many to a sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.figures import Units, got, put, size_text, without_sum
from eggfold.pages.page import BLANK, Facts, Lines, Page
from eggfold.pages.why_card import why_lines
from eggfold.reference.paper import FROZEN_MONTHS, THAW_H

if TYPE_CHECKING:
    from eggfold.recipe.labels import Label


WHOSE = {"yours": "own figure", "common practice": "by custom"}
FROZEN = f"thaw {THAW_H} h, never refreeze"
DRIED = "keep dry and airy"
RAW = "RAW EGG, keep cold, do not taste"
CARE = "sour or mouldy: bin; wash hands; keep from children and dogs"


def label_page(label: Label, units: Units) -> Page:
    """Return one label."""
    keeping = label.keeping
    rows = (
        ("Mix", label.batch.powder.base_mix),
        ("Size", ", ".join(size_text(d) for d in label.diameters_mm) or "paste, not boiled"),
        ("Weight", units.mass(label.weight_g)),
        ("Bag", f"{label.bag} of {label.bags}"),
        ("Made", keeping.made.isoformat()),
        ("Frozen", _frozen(label)),
        ("Use by", f"{keeping.use_by}, {'at most' if label.unboiled else WHOSE[keeping.origin]}"),
        *((("Soak", ", ".join(label.soak)),) if label.soak else ()),
        ("Contains", _contains(label)),
        ("Care", f"{_kept(label)}; {CARE}"),
    )
    return Page(
        label.batch.recipe, label.batch.strength.upper(), (Facts("FISHING BAIT, NOT FOOD", rows),)
    )


def _frozen(label: Label) -> str:
    if label.keeping.days is not None:
        return "no, in the fridge" if label.unboiled else "no, dried"
    return label.keeping.frozen.isoformat() if label.keeping.frozen else BLANK


def _kept(label: Label) -> str:
    """Return how a bag is kept."""
    if label.unboiled:
        return RAW
    return FROZEN if label.keeping.days is None else DRIED


def _contains(label: Label) -> str:
    contains, silent = label.declared
    text = ", ".join(contains)
    return f"{text}; not declared: {', '.join(silent)}" if silent else text


def label_sums(made: tuple[Label, ...]) -> Iterator[Page]:
    """Yield a page of sums for each batch."""
    for last in (label for label in made if label.bag == label.bags and not label.unboiled):
        batch, lines = last.batch, (*why_lines(last.batch), *_bag_lines(last))
        sums = Lines("HOW EACH FIGURE CAME ABOUT", lines)
        yield Page(batch.recipe, batch.strength.upper(), (sums,))


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
    time = f"{keeping.months or FROZEN_MONTHS} calendar months"
    if keeping.days is not None:
        time = f"{keeping.days} days"
    yield without_sum("Use by", f"{keeping.use_by}", f"{time} from the day it was {begun}")
