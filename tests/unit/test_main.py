"""The outermost door, opened as the installed program opens it."""

from __future__ import annotations

import signal
import sys
from typing import TYPE_CHECKING

import pytest

from eggfold.__main__ import main

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.fixture(autouse=True)
def own_hooks(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(sys, "unraisablehook", sys.unraisablehook)
    monkeypatch.setattr(sys, "argv", ["eggfold", "--version"])
    interrupt = signal.getsignal(signal.SIGINT)
    yield
    signal.signal(signal.SIGINT, interrupt)


def ended() -> object:
    with pytest.raises(SystemExit) as caught:
        main()
    return caught.value.code


def test_a_run_ends_with_its_code(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended() == 0
    assert capsys.readouterr().out.startswith("eggfold ")


def test_without_an_output_nothing_is_run(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    assert ended() == 4
    assert capsys.readouterr().err == "eggfold: cannot write: standard output is closed\n"
