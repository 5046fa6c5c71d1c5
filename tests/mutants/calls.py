"""Which tests call which functions of the package, found by running them once."""

from __future__ import annotations

import os
import sys
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import pytest

if TYPE_CHECKING:
    from collections.abc import Generator, Iterable
    from types import CodeType, FrameType

PAPER = ("drawn", "formats", "labels", "csv", "delivery", "names")
ASKED = (
    *("golden", "unit", "problems", "reference", "properties"),  # the longest file first
    *(f"paper/test_{name}.py" for name in PAPER),
    *("fuzz/test_corpus.py", "repository/test_house.py"),
)
"""Where tests lie that may be asked to find a fault: those that start no other program."""


class Called(NamedTuple):
    """How long a test computed, and the functions that it called: module and first line."""

    seconds: float
    functions: frozenset[tuple[str, int]]


class Recorder:
    """A pytest plugin that notes what each test calls, in this process."""

    def __init__(self, package: Path) -> None:
        self._within = f"{package / 'eggfold'}{os.sep}"
        self._codes: dict[str, set[CodeType]] = defaultdict(set)
        self._seconds: dict[str, float] = {}
        self._failed: set[str] = set()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        seen = self._codes[item.nodeid]

        def on_call(frame: FrameType, _event: str, _arg: Any) -> None:
            seen.add(frame.f_code)

        begun_s = sum(os.times()[:4])
        sys.settrace(on_call)
        try:
            return (yield)
        finally:
            sys.settrace(None)
            self._seconds[item.nodeid] = sum(os.times()[:4]) - begun_s

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if not report.passed:
            self._failed.add(report.nodeid)

    def calls(self) -> dict[str, Called]:
        """Return the tests that passed."""
        return {
            test: Called(self._seconds[test], frozenset(self._functions(codes)))
            for test, codes in self._codes.items()
            if test not in self._failed
        }

    def _functions(self, codes: Iterable[CodeType]) -> Iterable[tuple[str, int]]:
        for code in codes:
            if code.co_filename.startswith(self._within):
                module = code.co_filename.removeprefix(self._within).removesuffix(".py")
                yield Path(module).as_posix(), code.co_firstlineno


class InOneProcess:
    """A pytest plugin that starts no process for the program where the test's own will do."""

    def pytest_collection(self) -> None:
        import running  # noqa: PLC0415 - it imports the package

        apart = running.start_eggfold

        def start(args: Any, cwd: Path, *, stdin: bytes = b"", merged: bool = False) -> Any:
            if merged:
                return apart(args, cwd, stdin=stdin, merged=True)
            return running.run_eggfold(args, cwd, stdin=stdin)

        running.start_eggfold = start
