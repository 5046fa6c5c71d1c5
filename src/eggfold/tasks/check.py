"""``check``: every problem in every file of any kind, and what of it is mended."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.edit.commit import finishing
from eggfold.edit.fix import Mended, mend_files, refuse_standard_input, write_mended
from eggfold.edit.writing import differences_text
from eggfold.errors import FileAccessError, NoAnswerError, OptionError, Problem, errors_of, tidy
from eggfold.formats.characters import clean
from eggfold.formats.json import document
from eggfold.formats.plain_text import problems_text
from eggfold.load.folder import KINDS_BY_NAME, companion, expand, kind_by_name
from eggfold.load.gate import first_problems, shown_problems
from eggfold.load.load_recipe import (
    OpenRecipe,
    check_warnings,
    named_recipes,
    open_bench,
    open_powders,
    open_register,
    open_stock,
    shared_name_problem,
)
from eggfold.load.lots import lot_problems
from eggfold.load.names import own_name
from eggfold.load.notebook import check_notebook, gone_recipes
from eggfold.load.recipe import STRENGTHS
from eggfold.load.workspace import Chosen, Findings, Workspace, open_workspace
from eggfold.nearest import fold
from eggfold.recipe.bench import build_bench
from eggfold.recipe.sanity import boil_doubts, recipe_doubts
from eggfold.recipe.trial import build_additives, build_egg, build_trial
from eggfold.tasks.asked import Given
from eggfold.tasks.delivery import print_json
from eggfold.tasks.run import begin, exit_code, report
from eggfold.tasks.surroundings import last_past_day, say, show, today

if TYPE_CHECKING:
    from eggfold.load.recipe import Strength
    from eggfold.load.shelf import OpenShelf
    from eggfold.recipe.sanity import Doubt


def run_check(given: Given) -> int:
    """Show the problems, and mend them where that is asked for; return the exit code."""
    fix, written = given["fix"], not given["dry_run"]
    if not (fix or written):
        raise OptionError("--dry-run goes with --fix")
    if fix:
        refuse_standard_input(given["files"])
        if written and _finished(given["files"]):
            return FileAccessError.exit_code
    files, chosen = named_recipes(given["files"]), begin(given, stocked=True)
    look = partial(check_files, files, chosen, last_past_day(), today())
    findings, seen = look()
    mended: list[Mended] = []
    if fix:
        mended, findings = _mend(findings, look, written=written)
    problems = shown_problems(findings.problems)
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
    report(findings)
    return exit_code(findings, problems)


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


def _mend(
    findings: Findings, look: Callable[[], tuple[Findings, int]], *, written: bool
) -> tuple[list[Mended], Findings]:
    """Mend what can be mended, and return that with what is left to tell.

    What cannot be written joins the failures and keeps its problems.
    """
    mended, left = mend_files([*findings.problems], lambda: [*look()[0].problems])
    failed = write_mended(mended) if written else []
    unmended = [one for one, _ in failed]
    left = sorted([*left, *(p for one in unmended for p in one.problems)])
    findings = findings.failing(error for _, error in failed)._replace(problems=left)
    return [one for one in mended if one not in unmended], findings


def _check_shelf(file: str, workspace: Workspace) -> list[Problem]:
    """Return all problems of a shelf that are not told yet, also those with the register beside it."""
    register = workspace.companions.register
    if register.file is None and (beside := companion("additives", file, None)):
        register = open_register(beside)[0]
    elif file in workspace.told:
        return _lots(workspace.companions.shelf)
    opened, _, problems = open_stock(file, register)
    return problems + _lots(opened)


def _lots(shelf: OpenShelf | None) -> list[Problem]:
    """Return the problems of the lots on a shelf, and the lots whose recipe is gone."""
    if shelf is None or "baits" not in shelf.source.text:
        return []
    return lot_problems(shelf) + first_problems(gone_recipes(shelf.placed, shelf.file, ("baits",)))


def check_files(
    arguments: tuple[str, ...],
    chosen: Chosen,
    last_day: str | None = None,
    today: str | None = None,
) -> tuple[Findings, int]:
    """Return all there is to tell, problems sorted, and how many files were looked at.

    Each file is looked at with what lies beside it. A notebook has no day after ``last_day``; trips
    of a campaign before ``today`` are past.
    """
    checked = [_check_together(group, chosen, last_day, today) for group in _groups(arguments)]
    findings = Findings().plus(*(found for found, _ in checked))
    return findings._replace(problems=tidy(findings.problems)), sum(seen for _, seen in checked)


def _groups(arguments: tuple[str, ...]) -> list[tuple[str, ...]]:
    """Return the files that are meant, those together that have the same companions."""
    groups: dict[tuple[str | None, ...], list[str]] = {}
    for argument in arguments:
        try:
            files = [*expand([argument])]
        except FileAccessError:  # it is told of where the files are read
            files = [argument]
        for file in files:
            beside = tuple(companion(kind, file, None) for kind in KINDS_BY_NAME)
            groups.setdefault(beside, []).append(file)
    return [tuple(files) for files in groups.values()] if len(groups) > 1 else [arguments]


def _check_together(
    arguments: tuple[str, ...], chosen: Chosen, last_day: str | None, today: str | None
) -> tuple[Findings, int]:
    workspace = open_workspace(arguments, chosen)
    found, seen = [workspace.findings], 0
    firsts: dict[tuple[Path, str], str] = {}
    for one in workspace.opened(required=False):
        if isinstance(one, OpenRecipe):
            problems = [*map(_told_once, one.problems), *check_warnings(one), *_doubt_problems(one)]
            found.append(Findings(problems + _shared_name(one, firsts)))
        elif one.plan:
            from eggfold.load.load_plan import plan_file_problems  # noqa: PLC0415 - dates and zones

            found.append(Findings(plan_file_problems(one.file, *one.plan, today)))
        else:
            found.append(one.findings)
        seen += not found[-1].failures
    for file in workspace.files:
        if kind := kind_by_name(file):
            found.append(Findings(_companion_problems(file, kind, workspace, last_day)))
            seen += 1
    return Findings().plus(*found)._replace(notes=()), seen


def _companion_problems(
    file: str, kind: str, workspace: Workspace, last_day: str | None
) -> list[Problem]:
    """Return the problems of a companion that are not told yet."""
    if kind == "shelf":
        return _check_shelf(file, workspace)
    if file in workspace.told:
        return []
    if kind == "notebook":
        return check_notebook(file, last_day)
    if kind == "additives":
        return open_register(file)[1]
    return open_bench(file)[1] if kind == "bench" else open_powders(file)[1]


def _shared_name(opened: OpenRecipe, firsts: dict[tuple[Path, str], str]) -> list[Problem]:
    """Return a warning where an earlier recipe of the folder has this one's name."""
    name = own_name(opened.placed.root)
    first = firsts.setdefault((Path(opened.file).parent, fold(name or "")), opened.file)
    if name is None or first == opened.file:
        return []
    return [shared_name_problem(opened.placed, first, severity="warning")]


def _told_once(problem: Problem) -> Problem:
    """Return a broken additive as a warning: the register's own problem is the error."""
    return problem._replace(severity="warning") if problem.code == "broken-additive" else problem


def _doubt_problems(opened: OpenRecipe) -> Iterator[Problem]:
    """Yield a warning for each doubtful figure of a recipe, at its place."""
    strengths = [s for s in STRENGTHS if not opened.answerable(s)]
    found = [doubt for s in strengths for doubt in _doubts(opened, s)]
    told = {doubt.code + "".join(map(str, doubt.path)): doubt for doubt in reversed(found)}
    for doubt in told.values():
        whole = doubt.path == ("additives",)
        yield opened.placed.problem(
            doubt.path, doubt.code, doubt.text, doubt.hint, key=whole, severity="warning"
        )


def _doubts(opened: OpenRecipe, strength: Strength) -> Iterator[Doubt]:
    recipe = opened.recipe
    egg, bench = build_egg(recipe), build_bench(opened.companions.bench)
    additives = build_additives(recipe, opened.additives, egg, bench)
    try:
        trial = build_trial(recipe, additives, strength, egg)
        yield from recipe_doubts(recipe, trial, (strength, trial.strength))
        if opened.soak:
            from eggfold.recipe.soak import soak_doubts  # noqa: PLC0415 - few soak

            yield from soak_doubts(opened)
        if _has_own_time(opened, strength):
            from eggfold.recipe.asked import Asked  # noqa: PLC0415 - few have a time of their own
            from eggfold.recipe.batch import build_batch  # noqa: PLC0415

            batch = build_batch(opened, Asked(strength))
            yield from boil_doubts(recipe, strength, [bait.boil for bait in batch.baits])
    except NoAnswerError:
        return


def _has_own_time(opened: OpenRecipe, strength: Strength) -> bool:
    """Tell whether a recipe states a time in the pan for a strength."""
    baits = opened.recipe.baits_of(strength)
    return opened.recipe.own_boil(strength) is not None or any(bait.boil for bait in baits)
