"""``check``: every problem in every file, and what of it is mended."""

from __future__ import annotations

from collections.abc import Iterator

from eggfold.amounts import counted
from eggfold.edit.commit import finishing
from eggfold.edit.fix import Mended, mend_files, refuse_standard_input, write_mended
from eggfold.errors import FileAccessError, OptionError, Problem, errors_of
from eggfold.formats.characters import clean
from eggfold.formats.difference import differences_text
from eggfold.formats.json import document
from eggfold.formats.problems import problems_text
from eggfold.load.checking import check_files
from eggfold.load.problem_limit import told
from eggfold.load.workspace import Workspace
from eggfold.tasks.asked import Given
from eggfold.tasks.delivery import print_json
from eggfold.tasks.doubts import doubt_problems
from eggfold.tasks.run import exit_code, open_workspace, report
from eggfold.tasks.surroundings import last_past_day, say, show, today


def run_check(given: Given) -> int:
    """Show the problems, and mend them where that is asked for; return the exit code."""
    fix, written = given["fix"], not given["dry_run"]
    if not (fix or written):
        raise OptionError("--dry-run goes with --fix")
    if fix:
        refuse_standard_input(given["files"])
        if written and _finished(given["files"]):
            return FileAccessError.exit_code
    workspace = open_workspace(given["files"], given, stocked=True)
    days = last_past_day(), today()
    problems, seen = check_files(workspace, *days, doubt_problems)
    mended: list[Mended] = []
    if fix:
        mended, problems = _mend(workspace, problems, given, days)
    problems = told(problems)
    gone = [problem for one in mended for problem in one.problems]
    if given["form"] == "json":
        fixed = {"mended": gone, "written": written} if fix else {}
        print_json(document("check", {"problems": problems, **fixed}))
    else:
        show(differences_text(one.change for one in mended))
        show(problems_text(problems))
        counts = [counted(seen, "file"), *_counts(problems)]
        counts += [f"{len(gone)} {'mended' if written else 'to mend'}"] if fix else []
        show(f"{', '.join(counts)}\n")
    report(workspace)
    return exit_code(workspace, problems)


def _finished(files: tuple[str, ...]) -> bool:
    """Finish a note that was interrupted beside some files, say so, and tell whether there was one."""
    with finishing(files) as finished:
        if finished:
            say(f"eggfold: {clean(finished)}")
    return finished is not None


def _counts(problems: list[Problem]) -> Iterator[str]:
    errors = len(errors_of(problems))
    yield counted(errors, "error")
    yield counted(len(problems) - errors, "warning")


def _problems(given: Given, days: tuple[str, str]) -> list[Problem]:
    """Return the problems of all files as they are now."""
    workspace = open_workspace(given["files"], given, stocked=True)
    return check_files(workspace, *days, doubt_problems)[0]


def _mend(
    workspace: Workspace, problems: list[Problem], given: Given, days: tuple[str, str]
) -> tuple[list[Mended], list[Problem]]:
    """Mend what can be mended, and return that with the problems that are left.

    What cannot be written joins the failures and keeps its problems.
    """
    mended, left = mend_files(problems, lambda: _problems(given, days))
    failed = [] if given["dry_run"] else write_mended(mended)
    workspace.failures.extend(error for _, error in failed)
    unmended = [one for one, _ in failed]
    left = sorted([*left, *(p for one in unmended for p in one.problems)])
    return [one for one in mended if one not in unmended], left
