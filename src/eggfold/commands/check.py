"""``eggfold check``: every problem in every file."""

from __future__ import annotations

import click

from eggfold.commands.options import format_option


@click.command()
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@click.option("--additives", metavar="FILE", help="The register of additives to use.")
@format_option
def check(files: tuple[str, ...], additives: str | None, form: str) -> int:
    """Show every problem in every file, each with its place.

    \b
    eggfold check recipes
    eggfold check recipes/osierfen-caraway.yaml --format json
    """
    from eggfold.commands.run import open_workspace, say  # noqa: PLC0415
    from eggfold.commands.today import last_past_day  # noqa: PLC0415
    from eggfold.files.checking import check_files  # noqa: PLC0415
    from eggfold.formats.json import check_document, dumps  # noqa: PLC0415
    from eggfold.formats.problems import problems_text  # noqa: PLC0415

    workspace = open_workspace(files, additives, stocked=True)
    problems, seen = check_files(workspace, last_past_day())
    errors = sum(p.severity == "error" for p in problems)
    if form == "json":
        click.echo(dumps(check_document(problems)))
    else:
        click.echo(problems_text(problems), nl=False)
        click.echo(
            f"{_many(seen, 'file')}, {_many(errors, 'error')}, {_many(len(problems) - errors, 'warning')}"
        )
    for note in workspace.notes:
        say(note)
    for failure in workspace.failures:
        say(f"eggfold: {failure}")
    return 4 if workspace.failures else int(errors > 0)


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"
