"""``eggfold shopping``: one merged list."""

from __future__ import annotations

from typing import Any

from eggfold.commands.options import (
    batch_options,
    command,
    delivery_options,
    display_options,
    recipes_and_plans,
    why_option,
)


@command()
@recipes_and_plans
@batch_options
@delivery_options
@why_option
@display_options
def shopping(**given: Any) -> int:
    """List what all batches need, what the shelf has of it, and the packs to buy.

    \b
    eggfold shopping recipes --as freebie --eggs 24
    eggfold shopping recipes/osierfen-caraway.yaml --as freebie --bait 10kg
    eggfold shopping recipes/weekend.yaml
    """
    from eggfold.tasks.shopping import run_shopping

    return run_shopping(given)
