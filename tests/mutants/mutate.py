"""Ask the tests to find sampled faults: ``python tests/mutants/mutate.py [COUNT [SEED [ROOM...]]]``.

A room is a folder of the package, or ``eggfold`` for the modules beside them; a module's own name, as
``engine/gamma``, is a room too. COUNT faults are tried of each room, 20 and SEED 1 unless given. Each
stands alone in a copy of the package, and the tests that call its function run against it, the quickest
first, until one fails, does not end, or SPENT_S of them have passed: then it survives. Which test calls
what is found by one run of all of them, and kept until a file changes. Prints each survivor and what was
killed of each room; ends with 1 where that is fewer than a room of LEAST_PERCENT shows in 99 samples of 100. Two mutants are tried at once.
A fault in spared.txt changes no answer, for the reason given there, and is not tried.

The room ``constants`` is every number of ``reference/``, each BY more: cases of golden/ and problems/ are not
asked, for what was printed before is no reason why a figure is right.
"""

from __future__ import annotations

import ast
import hashlib
import math
import os
import pickle
import random
import resource
import shutil
import sys
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import cache, partial
from multiprocessing import get_context
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from mutants.calls import ASKED, Called, InOneProcess, Recorder
from mutants.mutations import Mutant, constants, mutants

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "eggfold"
KEPT = ROOT / ".mutants"
SPARED = Path(__file__).with_name("spared.txt")
CONSTANTS, REFERENCE = "constants", "reference"
BY = 1.03
"""A constant that is tried alone becomes so many times as large; a whole number becomes one more."""
LEAST_PERCENT = 85
CHANCE = 2.33
"""Standard deviations that ninety-nine samples of a hundred stay within, on one side."""
SPENT_S = 10.0
"""Tests that take so long together, by the clock of the untouched package, are asked of one mutant."""
SLOWEST = 3
"""A mutant may compute this many times as long as the untouched package, and GRACE_S more."""
GRACE_S = 15
MOST_MEMORY = 4 << 30
WORKERS = 2
PARTS = 8
"""The first run of all tests is handed out in so many parts."""

Calls = dict[str, Called]


def rooms() -> dict[str, list[str]]:
    """Return the modules of each room: the package's folders, and what lies beside them."""
    found: dict[str, list[str]] = defaultdict(list)
    for file in sorted(PACKAGE.rglob("*.py")):
        module = file.relative_to(PACKAGE).with_suffix("")
        room = module.parts[0] if len(module.parts) > 1 else PACKAGE.name
        found[room].append(module.as_posix())
    return found


def sample(count: int, seed: int, room: str, modules: Iterable[str]) -> list[Mutant]:
    """Return mutants of a room, each as likely as the other, in the order of the text."""
    found: list[Mutant] = []
    spared = {line.partition("  # ")[0] for line in SPARED.read_text("utf-8").splitlines()}
    for module in modules:
        text = (PACKAGE / f"{module}.py").read_text(encoding="utf-8")
        of_module = constants(module, text, BY) if room == CONSTANTS else mutants(module, text)
        found += [one for one in of_module if f"{module}.py: {one.change}" not in spared]
    chosen = random.Random(seed).sample(range(len(found)), min(count, len(found)))  # noqa: S311
    return [found[i] for i in sorted(chosen)]


def tests_for(mutant: Mutant, calls: Calls) -> list[str]:
    """Return the tests to ask: of its function, then of its module, else of what imports that.

    What stands beside all functions is asked of the test files that import the module, then of the functions
    that name it.
    """
    modules = {test: {module for module, _ in called.functions} for test, called in calls.items()}
    here = [test for test in calls if mutant.module in modules[test]]
    its_own = [test for test in here if (mutant.module, mutant.function) in calls[test].functions]
    naming: list[str] = []
    if not mutant.function:
        files = _importing(ROOT / "tests", mutant.module)
        its_own = [test for test in calls if test.partition("::")[0] in files]
        functions = _naming(mutant.module, mutant.line)
        naming = [test for test in calls if not functions.isdisjoint(calls[test].functions)]
    importers = _importing(PACKAGE, mutant.module)
    beside = here or [test for test in calls if not modules[test].isdisjoint(importers)]
    asked: dict[str, None] = {}
    spent_s = 0.0
    for tests in (its_own, naming, beside):
        for test in sorted(tests, key=lambda test: calls[test].seconds):
            if test not in asked and spent_s + calls[test].seconds <= SPENT_S:
                asked[test] = None
                spent_s += calls[test].seconds
    return list(asked)


def no_goldens(calls: Calls) -> Calls:
    """Return the tests that look for a reason outside what was printed before."""
    printed = ("tests/golden/", "tests/problems/")
    return {test: called for test, called in calls.items() if not test.startswith(printed)}


@cache
def _naming(module: str, line: int) -> frozenset[tuple[str, int]]:
    """Return the functions that name what a line beside all functions gives a value."""
    names = _values_at(PACKAGE / f"{module}.py", line)
    found = set()
    for user in (module, *_importing(PACKAGE, module)):
        tree = ast.parse((PACKAGE / f"{user}.py").read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef) and not names.isdisjoint(_names(node)):
                begins = min([node.lineno, *(d.lineno for d in node.decorator_list)])
                found.add((user, begins))
    return frozenset(found)


def _values_at(file: Path, line: int) -> set[str]:
    """Return the names of a module that a line gives a value, and of what is made of them below."""
    names: set[str] = set()
    for node in ast.parse(file.read_text(encoding="utf-8")).body:
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        given = {
            name.id for t in targets if t for name in ast.walk(t) if isinstance(name, ast.Name)
        }
        holds = node.lineno <= line <= (node.end_lineno or 0)
        if holds or not names.isdisjoint(_names(node)):
            names |= given
    return names


def _names(tree: ast.AST) -> set[str]:
    """Return the names and attributes that stand in some code."""
    return {
        node.id if isinstance(node, ast.Name) else node.attr
        for node in ast.walk(tree)
        if isinstance(node, ast.Name | ast.Attribute)
    }


@cache
def _importing(folder: Path, module: str) -> frozenset[str]:
    """Return what imports a module: modules of the package by their names, tests by their files."""
    name = "eggfold." + module.replace("/", ".")
    found = set()
    for file in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and name in {
                node.module,
                *(f"{node.module}.{alias.name}" for alias in node.names),
            }:
                found.add(_called(file))
    return frozenset(found)


def _called(file: Path) -> str:
    if file.is_relative_to(PACKAGE):
        return file.relative_to(PACKAGE).with_suffix("").as_posix()
    return file.relative_to(ROOT).as_posix()


def _fork(package: Path, limit_s: float, work: Callable[[], int]) -> int:
    """Return how some work ends in a fork that sees the package.

    What computes longer than the limit, or asks for too much memory, does not end with 0.
    """
    child = os.fork()
    if not child:
        resource.setrlimit(resource.RLIMIT_CPU, (int(limit_s), int(limit_s)))
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        os.environ.update({"PYTHONPATH": str(package), "CI": "1", "PYTHONDONTWRITEBYTECODE": "1"})
        sys.dont_write_bytecode = True
        sys.path.insert(0, str(package))
        silence = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silence, 1)
        os.dup2(silence, 2)
        os._exit(work())
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _pytest(asked: Sequence[str], *plugins: object) -> int:
    early = "-Wignore::pytest.PytestAssertRewriteWarning"  # plugins are imported before the fork
    common = [early, "-q", "-p", "no:cacheprovider", "--no-header", "--tb=no"]
    arguments = [*common, "--hypothesis-profile=mutants", *asked]
    return int(pytest.main(arguments, [InOneProcess(), *plugins]))


@cache
def _own_package(folder: Path) -> Path:
    """Return this worker's copy of the package."""
    package = folder / str(os.getpid()) / "src"
    no_rubbish = shutil.ignore_patterns("__pycache__", "*.egg-info")
    shutil.copytree(ROOT / "src", package, ignore=no_rubbish)
    return package


def _recorded(folder: Path, files: Sequence[str]) -> Calls:
    package, kept = _own_package(folder), folder / f"{os.getpid()}.calls"

    def record() -> int:
        recorder = Recorder(package)
        _pytest(files, recorder)
        kept.write_bytes(pickle.dumps(recorder.calls()))
        return 0

    if _fork(package, 3600, record):
        raise SystemExit("the tests could not be run once")
    calls: Calls = pickle.loads(kept.read_bytes())  # noqa: S301 - written above
    return calls


def all_calls(folder: Path, workers: ProcessPoolExecutor) -> Calls:
    """Return what every test calls, from the last run where no file has changed since."""
    digest = hashlib.sha256()
    for file in sorted([*PACKAGE.rglob("*.py"), *ROOT.glob("tests/**/*.py")]):
        digest.update(file.read_bytes())
    kept = KEPT / f"{digest.hexdigest()[:16]}.calls"
    if not kept.exists():
        files = [
            str(file.relative_to(ROOT))
            for place in ASKED
            for file in sorted([ROOT / "tests" / place, *(ROOT / "tests" / place).rglob("*.py")])
            if file.name.startswith("test_")
        ]
        parts = workers.map(partial(_recorded, folder), [files[i::PARTS] for i in range(PARTS)])
        shutil.rmtree(KEPT, ignore_errors=True)
        KEPT.mkdir()
        kept.write_bytes(
            pickle.dumps({test: called for part in parts for test, called in part.items()})
        )
    calls: Calls = pickle.loads(kept.read_bytes())  # noqa: S301 - written above
    return calls


class Trial(NamedTuple):
    """A mutant, the tests to ask and how long they may compute."""

    mutant: Mutant
    asked: list[str]
    limit_s: float


def trial_of(calls: Calls, mutant: Mutant) -> Trial:
    """Return how a mutant is tried."""
    asked = tests_for(mutant, calls)
    return Trial(mutant, asked, SLOWEST * sum(calls[test].seconds for test in asked) + GRACE_S)


def _survives(folder: Path, trial: Trial) -> bool:
    if not trial.asked:
        return True
    package = _own_package(folder)
    file = package / "eggfold" / f"{trial.mutant.module}.py"
    whole = file.read_text(encoding="utf-8")
    file.write_text(trial.mutant.text, encoding="utf-8")
    try:
        return _fork(package, trial.limit_s, lambda: _pytest(["-x", *trial.asked])) == 0
    finally:
        file.write_text(whole, encoding="utf-8")


def _import_what_all_need() -> None:
    """Import once what every run imports; the package itself never is here."""
    import hypothesis  # noqa: F401, PLC0415
    import pint  # noqa: F401, PLC0415
    import pydantic  # noqa: F401, PLC0415
    import scipy.optimize  # noqa: PLC0415
    import scipy.stats  # noqa: F401, PLC0415


def fewest(tried: int) -> float:
    """Return how many of a sample must be killed, so that the room may still be one of LEAST_PERCENT.

    ``n p - CHANCE sqrt(n p (1 - p))``, the normal approximation of the binomial distribution.
    """
    share = LEAST_PERCENT / 100
    return tried * share - CHANCE * math.sqrt(tried * share * (1 - share))


def _room_is_held(room: str, trials: Sequence[Trial], verdicts: Iterable[bool]) -> bool:
    """Print who survives, and tell whether enough was killed."""
    killed = 0
    for (mutant, _, _), survives in zip(trials, verdicts, strict=True):
        killed += not survives
        if survives:
            print(f"{mutant.module}.py:{mutant.line}: {mutant.change}", flush=True)
    percent = 100 * killed / len(trials) if trials else 100
    print(f"{room}: {killed} of {len(trials)} killed, {percent:.0f} %", flush=True)
    return killed >= fewest(len(trials))


def main() -> int:
    """Try the samples, print who survives, and tell whether some room keeps too many."""
    count, seed, *named = [*sys.argv[1:], *("20", "1")[len(sys.argv) - 1 :]]
    found = rooms()
    os.chdir(ROOT)
    _import_what_all_need()
    too_many = 0
    with (
        TemporaryDirectory() as name,
        ProcessPoolExecutor(WORKERS, mp_context=get_context("fork")) as workers,
    ):
        folder = Path(name)
        calls = all_calls(folder, workers)
        for room in named or found:
            modules = found[REFERENCE] if room == CONSTANTS else found.get(room, [room])
            chosen = sample(int(count), int(seed), room, modules)
            asked = no_goldens(calls) if room == CONSTANTS else calls
            trials = [trial_of(asked, mutant) for mutant in chosen]
            too_many += not _room_is_held(
                room, trials, workers.map(partial(_survives, folder), trials)
            )
    return min(too_many, 1)


if __name__ == "__main__":
    sys.exit(main())
