"""``eggfold schema``: JSON Schema for editors."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import OneOf, command

KINDS = ("recipe", "additives", "ingredients", "bench", "shelf", "notebook", "rolling", "campaign")
"""As eggfold.load.schemas has them, which TAB does not wait for."""


@command()
@click.argument("kind", metavar="KIND", type=OneOf(KINDS))
def schema(**given: Any) -> int:
    """Print the JSON Schema of a kind of file, for your editor.

    KIND is recipe, additives, ingredients, bench, shelf, notebook, rolling or campaign.

    \b
    eggfold schema recipe
    eggfold schema bench > bench.schema.json
    """
    from eggfold.tasks.new import run_schema

    return run_schema(given)
