"""Pages to write: the demo's own, and one with every block there is."""

from __future__ import annotations

import math
from pathlib import Path
from tempfile import TemporaryDirectory

from eggfold.errors import errors_of
from eggfold.load.recipe import Strength
from eggfold.load.workspace import Chosen, open_workspace
from eggfold.pages.card import card_page
from eggfold.pages.figures import METRIC
from eggfold.pages.page import (
    TICK,
    Column,
    Facts,
    Lines,
    Page,
    Plot,
    Span,
    Strip,
    StripRow,
    Table,
)
from eggfold.pages.shopping import shopping_page
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.stock.shopping import build_shopping
from eggfold.tasks.run import answers
from running import RECIPES

DAY = "2026-01-01"


def batches_of(*files: Path, strength: Strength = "freebie", eggs: int = 6) -> list[Batch]:
    """Return the batches of recipes."""
    workspace = open_workspace(map(str, files), Chosen())
    asked = Asked(strength, BatchSize("eggs", eggs))
    batches, findings = answers(workspace, asked, build_batch)
    assert not findings.failures
    assert not errors_of(findings.problems)
    return batches


def demo_batches() -> list[Batch]:
    """Return a bowl of six eggs of every demo recipe."""
    return batches_of(RECIPES)


def demo_cards() -> list[Page]:
    """Return their cards, the merged list last."""
    batches = demo_batches()
    listed = shopping_page(build_shopping(batches), batches, METRIC)
    return [*(card_page(batch, METRIC, full=True, day=DAY) for batch in batches), listed]


def card_with(name: str) -> Page:
    """Return the card of a recipe whose name, mix and additive all are ``name``."""
    quoted = "".join(f"\\U{ord(letter):08x}" for letter in name)
    text = (
        f'name: "{quoted}"\n'
        f'base_mix: {{name: "{quoted}", amount: 134 g}}\n'
        f'additives:\n  - {{name: "{quoted}", form: powder, hookbait: 3 g per egg}}\n'
    )
    with TemporaryDirectory() as folder:
        recipe = Path(folder) / "recipe.yaml"
        recipe.write_text(text, encoding="utf-8")
        (batch,) = batches_of(recipe, strength="hookbait", eggs=1)
    return card_page(batch, METRIC, build_shopping([batch]), full=True, day=DAY)


def every_block(name: str = "Reed bed mix") -> Page:
    """Return a page with all kinds of blocks; ``name`` stands wherever a user's word can."""
    curve = tuple((float(t), 100 - 80 * math.exp(-t / 60)) for t in range(0, 205, 5))
    stock = ((0.0, 5.0), (3.0, 4.2), (7.0, 1.1), (9.0, 0.2))
    return Page(
        name,
        "sample",
        (
            Table(
                "TABLE",
                (Column("done"), Column("name"), Column("amount", "right"), Column("with")),
                ((TICK, name, "3.76 ml", "4 × 1 ml syringe"), (TICK, "Malt syrup", "31.8 g", "")),
            ),
            Facts("FACTS", ((name, "about 823 g"), ("Powder used", "__________ g"))),
            Lines(f"LINES of {name}", (f"{name} first.", "Boiling water scalds.")),
            Plot("CURVE", "time, s", "centre, °C", curve, ((98.0, 84.4, name),)),
            Plot("STOCK", "day", "kg", stock, ((7.0, 1.1, "order"),), stepped=True),
            Strip(
                "STRIP",
                "takes in 10 rod hours",
                ((0.0, "0"), (1.0, "1"), (2.0, "2")),
                (
                    StripRow(name, (Span(0.4, 1.9, "", 1.0),)),
                    StripRow("Pan", (Span(0.0, 0.5, "boil 1"), Span(0.6, 0.62, name))),
                ),
            ),
        ),
        (f"Mind {name}.",),
        corner="recipe 0123abcd, 2026-01-01",
    )
