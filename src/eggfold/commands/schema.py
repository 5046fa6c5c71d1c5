"""``eggfold schema``: JSON Schema for editors."""

from __future__ import annotations

import click


@click.command()
@click.argument("kind", metavar="KIND")
def schema(kind: str) -> int:
    """Print the JSON Schema of a kind of file, for your editor.

    KIND is recipe, additives, ingredients, bench, shelf, notebook, rolling or campaign.

    \b
    eggfold schema recipe
    eggfold schema bench > bench.schema.json
    """
    from eggfold.commands.delivery import print_json  # noqa: PLC0415
    from eggfold.files.schemas import KINDS, build_schema  # noqa: PLC0415
    from eggfold.nearest import did_you_mean, one_of  # noqa: PLC0415

    if kind not in KINDS:
        hint = did_you_mean(kind, KINDS) or f"one of {one_of(KINDS)}"
        raise click.UsageError(f"there is no kind of file '{kind[:40]}'; {hint}")
    print_json(build_schema(kind))
    return 0
