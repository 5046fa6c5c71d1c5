"""The outermost door: every way a run can end becomes an exit code and at most one sentence."""

from __future__ import annotations

import gc
import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import click

gc.disable()  # imports make no cycles worth a collection; a long run turns it on again


def main() -> None:
    """Run the program and exit."""
    sys.exit(run(sys.argv[1:]) if _has_streams() else 4)


def _has_streams() -> bool:
    """Tell whether there is an output to write to; errors that nobody can see go nowhere."""
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115 - to the end
    if sys.stdout is None:
        print("eggfold: cannot write: standard output is closed", file=sys.stderr)  # noqa: T201
        return False
    return True


def run(arguments: list[str]) -> int:
    """Run one command line and return its exit code."""
    import click  # noqa: PLC0415 - the import is part of what is guarded

    from eggfold.commands.display import soften  # noqa: PLC0415
    from eggfold.commands.root import root  # noqa: PLC0415
    from eggfold.errors import EggfoldError  # noqa: PLC0415

    soften(sys.stdout)
    soften(sys.stderr)
    try:
        code = _answer(root, arguments)
        sys.stdout.flush()
    except click.exceptions.Exit as end:
        return end.exit_code
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except (click.Abort, KeyboardInterrupt):
        return 130
    except EggfoldError as error:
        print(f"eggfold: {error}", file=sys.stderr)  # noqa: T201
        return error.exit_code
    except BrokenPipeError:
        _silence_stdout()
        return 0
    except OSError as error:
        _silence_stdout()
        print(f"eggfold: cannot write: {error.strerror}", file=sys.stderr)  # noqa: T201
        return 4
    except Exception as error:
        if "--traceback" in arguments or os.environ.get("EGGFOLD_TRACEBACK"):
            raise
        words = f"{type(error).__name__}: {error}"[:200]
        hint = "run again with EGGFOLD_TRACEBACK=1 for the whole of it"
        print(f"eggfold: a fault in the program ({words}); {hint}", file=sys.stderr)  # noqa: T201
        return 1
    return code if isinstance(code, int) else 0


def _answer(root: click.Group, arguments: list[str]) -> object:
    """Run one command, or answer the shell that asks what could be typed next."""
    from eggfold.commands.completion import VARIABLE, answer_shell  # noqa: PLC0415

    if question := os.environ.get(VARIABLE):
        return answer_shell(root, question)
    with root.make_context("eggfold", list(arguments)) as context:
        return root.invoke(context)


def _silence_stdout() -> None:
    """Keep the interpreter's own flush at exit from failing once more."""
    devnull = os.open(os.devnull, os.O_WRONLY)
    os.dup2(devnull, sys.stdout.fileno())


if __name__ == "__main__":
    main()
