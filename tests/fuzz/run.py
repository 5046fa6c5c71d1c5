"""Fuzz a target, guided by coverage, or make a corpus small.

``python tests/fuzz/run.py TARGET SECONDS [FOLDER [SEED]]`` puts new inputs into FOLDER (a temporary one
without it), with SEED much the same ones as before; an input that breaks something is written there as ``crash-…``, and one that is slow as
``slow-unit-…`` or ``timeout-…``. Move what it found into ``corpus/TARGET`` once it is mended.

``python tests/fuzz/run.py TARGET -merge=1 INTO FOLDER...`` copies to INTO the fewest inputs that reach
what the other folders reach beyond it; so are all options that libFuzzer has handed on to it.

It needs the ``fuzz`` extra, on Python 3.11 or 3.12.
"""

from __future__ import annotations

import gc
import sys
from pathlib import Path
from random import Random
from tempfile import mkdtemp
from typing import TYPE_CHECKING

import atheris

if TYPE_CHECKING:
    from collections.abc import Callable

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent)]

with atheris.instrument_imports(
    include=["eggfold", "ruamel"],
    # Four fifths of the time would go into counting branches character by character.
    exclude=["ruamel.yaml.scanner", "ruamel.yaml.reader", "ruamel.yaml.main", "ruamel.yaml.error"],
):
    from fuzz.mutation import change_lines
    from fuzz.seeds import words, write_seeds
    from fuzz.targets import TARGETS

LONGEST = {"read": 1200, "amounts": 100, "edit": 1200}
"""Bytes of an input: what breaks on more also breaks on these, and they are quickly read."""
CHOICES = {"read": 1, "edit": 2}
"""Bytes before the text of a file, of the targets that read one."""
SLOW_S = 20


def main() -> None:
    """Run libFuzzer on the target that the command line names."""
    target, *given = sys.argv[1:]
    gc.enable()  # the program's door turns it off, and only a command turns it on again
    options = given if given[0].startswith("-") else _fuzzing(target, *given)
    limits = [f"-max_len={LONGEST[target]}", f"-timeout={SLOW_S}", "-rss_limit_mb=1024"]
    itself = f"{sys.executable} {sys.argv[0]} {target}"  # merging starts it again
    mutator = {"custom_mutator": _mutator(CHOICES[target])} if target in CHOICES else {}
    atheris.Setup([itself, *limits, *options], TARGETS[target], **mutator)
    atheris.Fuzz()


def _fuzzing(target: str, seconds: str, folder: str | None = None, seed: str = "0") -> list[str]:
    found = Path(folder or mkdtemp(prefix=f"fuzz-{target}-"))
    found.mkdir(parents=True, exist_ok=True)
    write_seeds(target, found)
    dictionary = found.with_suffix(".dict")
    dictionary.write_text("".join(f'"{word}"\n' for word in words()), encoding="utf-8")
    return [
        f"-max_total_time={seconds}",
        f"-seed={seed}",
        "-len_control=0",
        f"-dict={dictionary}",
        f"-artifact_prefix={found}/",
        str(found),
        str(HERE / "corpus" / target),
    ]


def _mutator(choices: int) -> Callable[[bytes, int, int], bytes]:
    known = [word.encode() for word in words()]

    def mutate(data: bytes, longest: int, seed: int) -> bytes:
        random = Random(seed)  # noqa: S311
        if len(data) <= choices or random.random() < 0.5:
            return bytes(atheris.Mutate(data, longest))
        return data[:choices] + change_lines(data[choices:], known, random)[: longest - choices]

    return mutate


if __name__ == "__main__":
    main()
