"""The program started again and again without loading its libraries each time: forks of one process.

Each line of standard input is a run in JSON; its exit code is answered on a line of its own. What a
run would load is loaded beforehand; all else is as in a process of its own.
"""

from __future__ import annotations

import json
import os
import sys
from importlib import import_module
from pkgutil import walk_packages
from typing import Any

import eggfold


def main() -> None:
    for module in walk_packages(eggfold.__path__, "eggfold."):
        import_module(module.name)
    for line in sys.stdin:
        child = os.fork()
        if not child:
            _run(json.loads(line))
        _, status = os.waitpid(child, 0)
        print(os.waitstatus_to_exitcode(status), flush=True)  # noqa: T201 - the answer


def _run(run: dict[str, Any]) -> None:
    """Run the program on the files that stand for its streams; never returns."""
    for number, flags in enumerate(
        (os.O_RDONLY, os.O_WRONLY | os.O_APPEND, os.O_WRONLY | os.O_APPEND)
    ):
        stream = os.open(run["streams"][number], flags)
        os.dup2(stream, number)
        os.close(stream)
    sys.stdin, sys.stdout, sys.stderr = (
        open(number, mode, encoding="utf-8", errors=errors, closefd=False)  # noqa: SIM115 - to the end
        for number, (mode, errors) in enumerate(
            (("r", "surrogateescape"), ("w", "surrogateescape"), ("w", "backslashreplace"))
        )
    )
    os.environ.clear()
    os.environ.update(run["environment"])
    os.chdir(run["folder"])
    sys.argv = ["eggfold", *run["args"]]
    code: Any = 1
    try:
        import_module("eggfold.__main__").main()
        code = 0
    except SystemExit as end:
        code = end.code
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code if isinstance(code, int) else int(code is not None))


if __name__ == "__main__":
    main()
