"""Fuzz a target, guided by coverage: ``python tests/fuzz/run.py TARGET SECONDS [FOLDER]``.

It needs the ``fuzz`` extra, on Python 3.11 or 3.12. New inputs go to FOLDER (a temporary one without
it); an input that breaks something is written there as ``crash-…``, and one that is slow as
``slow-unit-…`` or ``timeout-…``. Move what it found into ``corpus/TARGET`` once it is mended.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import mkdtemp

import atheris

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent)]

with atheris.instrument_imports(include=["eggfold", "ruamel"]):
    from fuzz.seeds import words, write_seeds
    from fuzz.targets import TARGETS

LONGEST = {"read": 4000, "amounts": 100, "edit": 4000}
"""Bytes of an input: what breaks on more also breaks on these."""
SLOW_S = 20


def main() -> None:
    """Run libFuzzer on the target that the command line names."""
    target, seconds, *folder = sys.argv[1:]
    found = Path(folder[0] if folder else mkdtemp(prefix=f"fuzz-{target}-"))
    found.mkdir(parents=True, exist_ok=True)
    write_seeds(target, found)
    dictionary = found.with_suffix(".dict")
    dictionary.write_text("".join(f'"{word}"\n' for word in words()), encoding="utf-8")
    options = [
        f"-max_total_time={seconds}",
        f"-max_len={LONGEST[target]}",
        "-len_control=0",
        f"-timeout={SLOW_S}",
        f"-dict={dictionary}",
        f"-artifact_prefix={found}/",
        "-rss_limit_mb=1024",
    ]
    atheris.Setup(
        [sys.argv[0], *options, str(found), str(HERE / "corpus" / target)], TARGETS[target]
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main()
