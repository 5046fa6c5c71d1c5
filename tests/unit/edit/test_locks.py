"""Who writes holds a lock that others find."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from eggfold.edit import commit

if TYPE_CHECKING:
    import pytest


def test_a_lock_that_its_last_holder_removes_meanwhile_is_taken_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Opened while another held it and locked when that one was done, it would be a lock of no file."""
    opened: list[str] = []
    take = commit._open  # noqa: SLF001 - the moment between opening and locking

    def opening(path: str) -> int:
        descriptor = take(path)
        if not opened:
            Path(path).unlink()
        opened.append(path)
        return descriptor

    monkeypatch.setattr(commit, "_open", opening)
    with commit.locked([str(tmp_path)]):
        assert commit.is_held(str(tmp_path))
    assert len(opened) == 2
    assert not commit.is_held(str(tmp_path))
    assert not list(tmp_path.iterdir())
