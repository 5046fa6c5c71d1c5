"""``eggfold check``: every problem in every file."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import click

from eggfold.commands.completion import complete_files
from eggfold.commands.options import additives_option, format_option
from eggfold.plural import counted

if TYPE_CHECKING:
    from collections.abc import Callable

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
    from eggfold.commands.run import exit_code, open_workspace, report  # noqa: PLC0415
    from eggfold.errors import errors_of  # noqa: PLC0415
    from eggfold.files.checking import check_files  # noqa: PLC0415
    from eggfold.load.problem_limit import told  # noqa: PLC0415
    from eggfold.recipe.sanity import odd_problems  # noqa: PLC0415

    if dry_run and not fix:
        raise click.UsageError("--dry-run goes with --fix")
    day, now = last_past_day(), today()
    opened = partial(open_workspace, files, additives, stocked=True)
    workspace = opened()
    problems, seen = check_files(workspace, day, now, None if fix else odd_problems)
    mended: list[Mended] = []
    if fix:
        mended, problems = _mend(
            workspace,
            problems,
            lambda: check_files(opened(), day, now)[0],
            dry_run=dry_run,
        )
    problems = told(problems)
    errors = len(errors_of(problems))
    if form == "json":
        from eggfold.commands.delivery import print_json  # noqa: PLC0415
        from eggfold.formats.json import document  # noqa: PLC0415

        fixed = {"mended": _gone(mended), "written": not dry_run} if fix else {}
        print_json(document("check", {"problems": problems, **fixed}))
    else:
        _show(problems, mended)
        warnings = len(problems) - errors
        counts = [counted(seen, "file"), counted(errors, "error"), counted(warnings, "warning")]
        counts += [_to_mend(mended, written=not dry_run)] if fix else []
        click.echo(", ".join(counts))
    report(workspace)
    return exit_code(workspace, problems)


def _mend(
    workspace: Workspace,
    problems: list[Problem],
    again: Callable[[], list[Problem]],
    *,
    dry_run: bool,
) -> tuple[list[Mended], list[Problem]]:
    """Mend what can be mended, and return that with the problems that are left."""
    from eggfold.files.fixing import mend_files, refuse_standard_input  # noqa: PLC0415
    from eggfold.files.journal import finish_interrupted  # noqa: PLC0415

    refuse_standard_input(workspace.arguments)
    if not dry_run:
        finish_interrupted(workspace.arguments)
    mended, left = mend_files(problems, again)
    return _written(workspace, mended, left, dry_run=dry_run)


def _written(
    workspace: Workspace, mended: list[Mended], left: list[Problem], *, dry_run: bool
) -> tuple[list[Mended], list[Problem]]:
    """Write the files, unless it is a dry run; what cannot be written joins the failures and keeps its problems."""
    from eggfold.files.fixing import write_mended  # noqa: PLC0415

    failed = [] if dry_run else write_mended(mended)
    workspace.failures.extend(error for _, error in failed)
    unmended = [one for one, _ in failed]
    left = sorted([*left, *(p for one in unmended for p in one.problems)])
    return [one for one in mended if one not in unmended], left


def _show(problems: list[Problem], mended: list[Mended]) -> None:
    from eggfold.formats.difference import differences_text  # noqa: PLC0415
    from eggfold.formats.problems import problems_text  # noqa: PLC0415

    click.echo(differences_text(one.change for one in mended), nl=False)
    click.echo(problems_text(problems), nl=False)


def _gone(mended: list[Mended]) -> list[Problem]:
    return [problem for one in mended for problem in one.problems]


def _to_mend(mended: list[Mended], *, written: bool) -> str:
    return f"{len(_gone(mended))} {'mended' if written else 'to mend'}"
