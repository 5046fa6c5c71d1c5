"""``eggfold schema``: JSON Schema for editors."""

from __future__ import annotations

import click

from eggfold.commands.option_types import OneOf

KINDS = ("recipe", "additives", "ingredients", "bench", "shelf", "notebook", "rolling", "campaign")
"""As eggfold.files.schemas has them, which TAB does not wait for."""


@click.command()
@click.argument("kind", metavar="KIND", type=OneOf(KINDS))
def schema(kind: str) -> int:
    """Print the JSON Schema of a kind of file, for your editor.

    KIND is recipe, additives, ingredients, bench, shelf, notebook, rolling or campaign.

    \b
    eggfold schema recipe
    eggfold schema bench > bench.schema.json
    """
    from eggfold.commands.delivery import print_json  # noqa: PLC0415
    from eggfold.files.schemas import build_schema  # noqa: PLC0415

    print_json(build_schema(kind))
    return 0
