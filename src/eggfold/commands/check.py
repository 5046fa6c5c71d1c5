"""``eggfold check``: every problem in every file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from eggfold.commands.completion import complete_files
from eggfold.commands.options import additives_option, format_option
from eggfold.plural import counted

if TYPE_CHECKING:
    from eggfold.errors import Problem
    from eggfold.files.fixing import Mended
    from eggfold.files.workspace import Workspace


@click.command()
@click.argument("files", nargs=-1, required=True, metavar="FILE...", shell_complete=complete_files)
@click.option(
    "--fix", is_flag=True, help="Mend what has one right answer, and show the difference."
)
@click.option("--dry-run", is_flag=True, help="With --fix: show the difference, write nothing.")
@additives_option
@format_option
def check(
    files: tuple[str, ...], additives: str | None, form: str, *, fix: bool, dry_run: bool
) -> int:
    """Show every problem in every file, each with its place.

    \b
    eggfold check recipes
    eggfold check recipes/osierfen-caraway.yaml --format json
    eggfold check recipes --fix --dry-run
    """
    from eggfold.commands.dates import last_past_day, today  # noqa: PLC0415
    from eggfold.commands.delivery import print_json  # noqa: PLC0415
    from eggfold.commands.run import exit_code, open_workspace, report  # noqa: PLC0415
    from eggfold.errors import errors_of  # noqa: PLC0415
    from eggfold.files.checking import check_files  # noqa: PLC0415
    from eggfold.formats.check_json import check_document  # noqa: PLC0415

    if dry_run and not fix:
        raise click.UsageError("--dry-run goes with --fix")
    day = last_past_day()
    workspace = open_workspace(files, additives, stocked=True)
    problems, seen = check_files(workspace, day, today())
    mended: list[Mended] = []
    if fix:
        mended, problems = _mend(workspace, files, additives, day, write=not dry_run)
    errors = len(errors_of(problems))
    if form == "json":
        print_json(check_document(problems, mended if fix else None, written=not dry_run))
    else:
        _show(problems, mended)
        warnings = len(problems) - errors
        counts = [counted(seen, "file"), counted(errors, "error"), counted(warnings, "warning")]
        if fix:
            number = sum(len(one.problems) for one in mended)
            counts.append(f"{number} {'to mend' if dry_run else 'mended'}")
        click.echo(", ".join(counts))
    report(workspace)
    return exit_code(workspace, problems)


def _mend(
    workspace: Workspace, files: tuple[str, ...], additives: str | None, day: str, *, write: bool
) -> tuple[list[Mended], list[Problem]]:
    """Mend the files; what cannot be written joins the failures and keeps its problems."""
    from eggfold.commands.run import open_workspace  # noqa: PLC0415
    from eggfold.files.checking import check_files  # noqa: PLC0415
    from eggfold.files.fixing import mend_files, refuse_standard_input, write_mended  # noqa: PLC0415

    refuse_standard_input(files)
    mended, left = mend_files(
        lambda: check_files(open_workspace(files, additives, stocked=True), day)[0]
    )
    failed = write_mended(mended) if write else []
    workspace.failures.extend(error for _, error in failed)
    unmended = [one for one, _ in failed]
    left = sorted([*left, *(p for one in unmended for p in one.problems)])
    return [one for one in mended if one not in unmended], left


def _show(problems: list[Problem], mended: list[Mended]) -> None:
    from eggfold.formats.difference import differences_text  # noqa: PLC0415
    from eggfold.formats.problems import problems_text  # noqa: PLC0415

    click.echo(differences_text(one.change for one in mended), nl=False)
    click.echo(problems_text(problems), nl=False)
