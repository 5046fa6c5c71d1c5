"""The outermost door: every way a run can end becomes an exit code and at most one sentence."""

from __future__ import annotations

import gc
import os
import sys

TYPE_CHECKING = False  # typing takes milliseconds in which nothing is guarded yet
if TYPE_CHECKING:
    import click

INTERRUPTED = 130

gc.disable()  # imports make no cycles worth a collection; a long run turns it on again


def main() -> None:
    """Run the program and exit."""
    sys.unraisablehook = _end_where_nothing_can_be_raised
    try:
        code = run(sys.argv[1:]) if _has_streams() else 4
        _ignore_interrupts()  # all is said: what is left is the interpreter's own end
    except KeyboardInterrupt:
        code = INTERRUPTED
    sys.exit(code)


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
    try:
        return _run(arguments)
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        if _was_interrupted(error):
            return INTERRUPTED
        if "--traceback" in arguments or os.environ.get("EGGFOLD_TRACEBACK"):
            raise
        words = f"{type(error).__name__}: {error}"[:200]
        hint = "run again with EGGFOLD_TRACEBACK=1 for the whole of it"
        print(f"eggfold: a fault in the program ({words}); {hint}", file=sys.stderr)  # noqa: T201
        return 1


def _run(arguments: list[str]) -> int:
    import click  # noqa: PLC0415 - the import is part of what is guarded

    from eggfold.commands.root import root  # noqa: PLC0415
    from eggfold.errors import EggfoldError  # noqa: PLC0415
    from eggfold.formats.characters import clean  # noqa: PLC0415
    from eggfold.tasks.surroundings import silence_stdout, soften  # noqa: PLC0415

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
    except click.Abort:
        return INTERRUPTED
    except EggfoldError as error:
        print(f"eggfold: {clean(str(error))}", file=sys.stderr)  # noqa: T201
        return error.exit_code
    except BrokenPipeError:
        silence_stdout()
        return 0
    except OSError as error:
        silence_stdout()
        where = error.filename or "cannot write"
        print(f"eggfold: {where}: {error.strerror}", file=sys.stderr)  # noqa: T201
        return 4
    return code if isinstance(code, int) else 0


def _answer(root: click.Group, arguments: list[str]) -> object:
    """Run one command, or answer the shell that asks what could be typed next."""
    from eggfold.commands.completion import VARIABLE, answer_shell  # noqa: PLC0415

    if question := os.environ.get(VARIABLE):
        return answer_shell(root, question)
    with root.make_context("eggfold", list(arguments)) as context:
        return root.invoke(context)


def _was_interrupted(error: BaseException | None) -> bool:
    """Tell whether an error only wraps ctrl-c, as a class or an extension being made may."""
    while error is not None:
        if isinstance(error, KeyboardInterrupt):
            return True
        error = error.__cause__ or error.__context__
    return False


def _end_where_nothing_can_be_raised(fault: sys.UnraisableHookArgs) -> None:
    """End at once where ctrl-c met code that lets nothing out, which would print it instead."""
    if _was_interrupted(fault.exc_value):
        os._exit(INTERRUPTED)
    sys.__unraisablehook__(fault)


def _ignore_interrupts() -> None:
    import signal  # noqa: PLC0415

    signal.signal(signal.SIGINT, signal.SIG_IGN)


if __name__ == "__main__":
    main()
