"""Ask the tests to find sampled faults: ``python tests/mutants/mutate.py [COUNT [SEED [MODULE...]]]``.

Each mutant of the modules below stands alone in a copy of the package, and the tests named for its
module run against it until one fails or does not end. It survives where all pass. Prints one line for
each survivor, and what was killed of each module and in all; COUNT is 300 and SEED 1 unless given.
Two mutants are tried at once.
"""

from __future__ import annotations

import os
import random
import resource
import shutil
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from functools import cache, partial
from multiprocessing import get_context
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from mutants.mutations import Mutant, mutants

ROOT = Path(__file__).resolve().parents[2]
UNIT, PROPERTIES, REFERENCE = "tests/unit/engine", "tests/properties", "tests/reference"
GOLDEN = "tests/golden/test_golden.py"
WORKERS = 2
SLOWEST = 2
"""A mutant may compute this many times as long as the untouched module, and GRACE_S more."""
GRACE_S = 5
MOST_MEMORY = 4 << 30


class Tests(NamedTuple):
    """The tests of a module: files, and golden cases by a word in their names."""

    files: tuple[str, ...]
    golden: str


_TRIALS = Tests(
    (
        f"{UNIT}/test_gamma.py",
        f"{PROPERTIES}/test_rates.py",
        f"{REFERENCE}/test_rates.py",
        "tests/unit/jobs/test_trials.py",
    ),
    "trials",
)
_PACKS = Tests(
    (
        f"{REFERENCE}/test_every_cover.py",
        f"{PROPERTIES}/test_packs.py",
        f"{REFERENCE}/test_packs.py",
    ),
    "shopping",
)
TESTS = {
    "engine/scaling": Tests(
        (
            f"{UNIT}/test_scaling.py",
            f"{PROPERTIES}/test_scaling.py",
            f"{REFERENCE}/test_practice.py",
        ),
        "card-stdin or card-us or doses or two-cards-json",
    ),
    "engine/powder": Tests(
        (
            f"{UNIT}/test_powder.py",
            f"{PROPERTIES}/test_powder.py",
            f"{PROPERTIES}/test_scaling.py",
            f"{REFERENCE}/test_practice.py",
        ),
        "powder or card-stdin or two-cards-json or learned",
    ),
    "engine/packs": _PACKS,
    "engine/pack_table": _PACKS,
    "engine/rates": _TRIALS,
    "engine/gamma": _TRIALS,
    "engine/best": _TRIALS,
    "engine/buoyancy": Tests(
        (f"{PROPERTIES}/test_buoyancy.py", f"{REFERENCE}/test_buoyancy.py"), "buoyancy or popups"
    ),
    "units": Tests(
        (
            f"{REFERENCE}/test_customs.py",
            f"{REFERENCE}/test_display_units.py",
            f"{PROPERTIES}/test_scaling.py",
        ),
        "card-us or boil-imperial or doses or shopping-us",
    ),
}


def sample(count: int, seed: int, modules: list[str]) -> list[Mutant]:
    """Return mutants of the modules, each as likely as the other, in the order of the text."""
    found: list[Mutant] = []
    for module in modules:
        text = (ROOT / "src" / "eggfold" / f"{module}.py").read_text(encoding="utf-8")
        found += mutants(module, text)
    chosen = random.Random(seed).sample(range(len(found)), min(count, len(found)))  # noqa: S311
    print(f"{len(found)} mutants, {len(chosen)} of them tried")
    return [found[i] for i in sorted(chosen)]


def _arguments(module: str, *, golden: bool) -> list[str]:
    early = "-Wignore::pytest.PytestAssertRewriteWarning"  # plugins are imported before the fork
    common = [early, "-x", "-q", "-p", "no:cacheprovider", "--no-header", "--tb=no"]
    common.append("--hypothesis-profile=mutants")
    if golden:
        return [*common, GOLDEN, "-k", TESTS[module].golden]
    doctests = "tests/repository/test_house.py::test_examples_are_true"
    name = "eggfold." + module.replace("/", ".")
    return [*common, f"{doctests}[{name}]", *TESTS[module].files]


def _run(package: Path, arguments: list[str], limit_s: float) -> tuple[bool, float]:
    """Tell whether all tests pass in a fork that sees the package, and how long they compute.

    What computes longer than the limit, or asks for too much memory, fails.
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
        import pytest  # noqa: PLC0415 - imported before the fork; named here for the reader

        os._exit(int(pytest.main(arguments)))
    _, status, usage = os.wait4(child, 0)
    return status == 0, usage.ru_utime + usage.ru_stime


@cache
def _own_package(folder: Path) -> Path:
    """Return this worker's copy of the package."""
    package = folder / str(os.getpid()) / "src"
    no_rubbish = shutil.ignore_patterns("__pycache__", "*.egg-info")
    shutil.copytree(ROOT / "src", package, ignore=no_rubbish)
    return package


def _limit_s(folder: Path, module: str) -> float:
    """Return how long the tests of a module may take; raises where they do not pass as it is."""
    longest_s = 0.0
    for golden in (False, True):
        arguments = _arguments(module, golden=golden)
        passed, taken_s = _run(_own_package(folder), arguments, 600)
        if not passed:
            raise SystemExit(f"these fail without a fault: {' '.join(arguments)}")
        longest_s = max(longest_s, taken_s)
    return SLOWEST * longest_s + GRACE_S


def _survives(folder: Path, limits_s: dict[str, float], mutant: Mutant) -> bool:
    package = _own_package(folder)
    file = package / "eggfold" / f"{mutant.module}.py"
    whole = file.read_text(encoding="utf-8")
    file.write_text(mutant.text, encoding="utf-8")
    try:
        return all(
            _run(package, _arguments(mutant.module, golden=golden), limits_s[mutant.module])[0]
            for golden in (False, True)
        )
    finally:
        file.write_text(whole, encoding="utf-8")


def _print_shares(tried: Counter[str], survived: Counter[str]) -> None:
    for module, count in [*tried.items(), ("all", tried.total())]:
        lost = survived.total() if module == "all" else survived[module]
        print(f"{module}: {count - lost} of {count} killed, {100 * (count - lost) / count:.0f} %")


def main() -> None:
    """Try the sample and print who survives."""
    count, seed, *modules = [*sys.argv[1:], *("300", "1")[len(sys.argv) - 1 :]]
    names = modules or list(TESTS)
    os.chdir(ROOT)
    # What every run imports is imported once; the package itself never is here.
    import hypothesis  # noqa: F401, PLC0415
    import pint  # noqa: F401, PLC0415
    import pydantic  # noqa: F401, PLC0415
    import pytest  # noqa: F401, PLC0415
    import scipy.optimize  # noqa: PLC0415
    import scipy.stats  # noqa: F401, PLC0415

    chosen = sample(int(count), int(seed), names)
    tried, survived = Counter(mutant.module for mutant in chosen), Counter[str]()
    with (
        TemporaryDirectory() as name,
        ProcessPoolExecutor(WORKERS, mp_context=get_context("fork")) as workers,
    ):
        folder = Path(name)
        limits_s = dict(zip(tried, workers.map(partial(_limit_s, folder), tried), strict=True))
        verdicts = workers.map(partial(_survives, folder, limits_s), chosen)
        for mutant, survives in zip(chosen, verdicts, strict=True):
            if survives:
                survived[mutant.module] += 1
                print(f"{mutant.module}.py:{mutant.line}: {mutant.change}", flush=True)
    _print_shares(tried, survived)


if __name__ == "__main__":
    main()
