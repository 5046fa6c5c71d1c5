"""``eggfold batch``: the card."""

from __future__ import annotations

from typing import Any

from eggfold.commands.options import (
    batch_options,
    command,
    delivery_options,
    display_options,
    recipes_or_here,
    why_option,
)


@command()
@recipes_or_here
@batch_options
@delivery_options
@why_option
@display_options
def batch(**given: Any) -> int:
    """Turn a trial into a batch: doses, powder, baits, boil, shopping.

    Without a recipe, all in the working folder.

    \b
    eggfold batch recipes/osierfen-caraway.yaml
    eggfold batch recipes/osierfen-caraway --as freebie --eggs 6
    eggfold batch recipes --as freebie --bait 10kg --format json
    eggfold batch 'recipes/*.yaml' --as freebie --eggs 6 --output cards.pdf
    """
    from eggfold.tasks.batch import run_batch

    return run_batch(given)
