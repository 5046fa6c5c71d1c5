"""Labels: each a small page, many to a sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.figures import mass_text, size_text
from eggfold.pages.page import BLANK, Facts, Page
from eggfold.reference.labels import THAW_H

if TYPE_CHECKING:
    from eggfold.jobs.labels import Label

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
        ("Contains", _contains(label)),
        ("Care", CARE),
    )
    return Page(label.recipe, label.strength.upper(), (Facts("FISHING BAIT, NOT FOOD", rows),))


def _contains(label: Label) -> str:
    contains, silent = label.declared
    text = ", ".join(contains)
    return f"{text}; not declared: {', '.join(silent)}" if silent else text
