"""Windows as far as another system can play it: run ``python tests/like_windows.py ARGUMENTS``.

The file locks are msvcrt's, there are no terminals, users and forks, a folder cannot be opened and an open
file neither removed nor replaced. Paths stay this system's: nothing here proves what a real Windows does.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from importlib import reload
from types import ModuleType
from typing import Any

MISSING_MODULES = ("fcntl", "termios", "tty", "pty", "pwd", "grp", "resource")
MISSING_NAMES = ("O_NOFOLLOW", "O_NONBLOCK", "O_DIRECTORY", "geteuid", "getuid", "fchown", "fork")


def become_windows() -> None:
    """Make the program see another system; what libraries have seen so far stays."""
    import zoneinfo  # noqa: F401, PLC0415 - libraries begin as they do here

    import click.shell_completion  # noqa: F401, PLC0415
    import pint  # noqa: F401, PLC0415
    import pydantic  # noqa: F401, PLC0415

    import eggfold.edit.commit  # noqa: PLC0415 - the only one that asks for the system's name

    for name in MISSING_MODULES:
        sys.modules[name] = None  # type: ignore[assignment]
    sys.modules["msvcrt"] = _msvcrt()
    for name in MISSING_NAMES:
        delattr(os, name)
    os.open = _refusing(os.open, lambda path, *_: os.path.isdir(path))  # noqa: PTH112
    os.unlink = _refusing(os.unlink, _is_open)
    os.replace = _refusing(os.replace, lambda old, new: _is_open(old) or _is_open(new))
    here, sys.platform = sys.platform, "win32"
    reload(eggfold.edit.commit)
    sys.platform = here


def _msvcrt() -> ModuleType:
    module: Any = ModuleType("msvcrt")
    module.LK_NBLCK = 2
    module.locking = lambda descriptor, _mode, size: os.lockf(descriptor, os.F_TLOCK, size)
    return module  # type: ignore[no-any-return]


def _refusing(call: Callable[..., Any], is_refused: Callable[..., bool]) -> Callable[..., Any]:
    def calling(*paths: Any, **more: Any) -> Any:
        if is_refused(*paths):
            raise PermissionError(13, "Permission denied", str(paths[0]))
        return call(*paths, **more)

    return calling


def _is_open(path: Any) -> bool:
    """Tell whether this process has a file open, as Linux says it."""
    real = os.path.realpath(path)
    return any(
        os.path.realpath(f"/proc/self/fd/{number}") == real
        for number in os.listdir("/proc/self/fd")  # noqa: PTH208
    )


if __name__ == "__main__":
    become_windows()
    from eggfold.__main__ import run

    sys.exit(run(sys.argv[1:]))
