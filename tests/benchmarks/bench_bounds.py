"""What a file just under 1 MiB may take beside a small one of its kind: 3 s of a processor, and 100 MB.

    python tests/benchmarks/bench_bounds.py PYTHON [WORD...]

PYTHON is the interpreter of a normal install without the test extra. Words choose the files that
have one of them in their line of the table. Each is run once: the bounds are wide.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.hostile import FEW, HOSTILE, Hostile
from benchmarks.timing import interpreter

LIMIT_S = 3.0
LIMIT_MB = 100.0
GIVEN_UP_S = 60
"""A run that takes longer is stopped."""


class Cost(NamedTuple):
    """What one run took: a processor's time, and memory at its peak."""

    seconds: float
    megabytes: float


def run_once(command: Sequence[str], folder: Path) -> Cost:
    """Run a command in a folder, however it ends, and throw its output away."""
    child = subprocess.Popen(
        command,
        cwd=folder,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    stop = threading.Timer(GIVEN_UP_S, child.kill)
    stop.start()
    _, status, usage = os.wait4(child.pid, 0)
    stop.cancel()
    child.returncode = os.waitstatus_to_exitcode(status)
    return Cost(usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def measure(python: str, hostile: Hostile, folder: Path) -> list[tuple[str, Cost]]:
    """Return what each command takes beside the large file over what it takes beside the small one."""
    rows = []
    small, large = folder / "small", folder / "large"
    for place, lines in ((small, FEW), (large, None)):
        place.mkdir(parents=True)
        (place / "reed.yaml").write_text(hostile.beside, encoding="utf-8")
        (place / hostile.file).write_text(hostile.text(lines), encoding="utf-8")
    for words in hostile.commands:
        arguments = [word.replace("{}", hostile.file) for word in words]
        few, many = (
            run_once([python, "-m", "eggfold", *arguments], place) for place in (small, large)
        )
        over = Cost(many.seconds - few.seconds, many.megabytes - few.megabytes)
        rows.append((" ".join(arguments), over))
    return rows


def main() -> None:
    """Measure and print; the exit tells whether every bound holds."""
    python, words = interpreter(), sys.argv[2:]
    failed = False
    print(f"{'s':>6} {'MB':>6}  at most {LIMIT_S:g} s and {LIMIT_MB:g} MB")
    with tempfile.TemporaryDirectory() as folder:
        for number, hostile in enumerate(HOSTILE):
            title = f"{hostile.file}: {hostile.what}"
            if words and not any(word in title for word in words):
                continue
            for command, over in measure(python, hostile, Path(folder) / str(number)):
                is_over = over.seconds > LIMIT_S or over.megabytes > LIMIT_MB
                failed |= is_over
                mark = "  over" if is_over else ""
                print(
                    f"{over.seconds:6.2f} {over.megabytes:6.1f}  {title}: {command}{mark}",
                    flush=True,
                )
    sys.exit(failed)


if __name__ == "__main__":
    main()
