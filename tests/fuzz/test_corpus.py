"""What fuzzing found worth keeping, replayed: inputs that reach something of their own."""

from __future__ import annotations

from pathlib import Path

import pytest

from eggfold.amounts import Amount, parse_amount, parse_dose
from fuzz.targets import TARGETS

CORPUS = Path(__file__).resolve().parent / "corpus"
INPUTS = sorted(path for path in CORPUS.glob("*/*") if path.is_file())


def test_each_target_has_a_corpus() -> None:
    assert {path.parent.name for path in INPUTS} == set(TARGETS)


@pytest.mark.parametrize("path", INPUTS, ids=lambda path: f"{path.parent.name}-{path.name}")
def test_an_input_that_fuzzing_kept_breaks_nothing(path: Path) -> None:
    TARGETS[path.parent.name](path.read_bytes())


@pytest.mark.parametrize("text", ["0.00001 g", "0.000000000000001 kg", "999999999999999.9 mg"])
def test_an_amount_is_written_as_it_can_be_read(text: str) -> None:
    written = str(parse_amount(text, "mass"))
    assert "e" not in written
    assert Amount(*parse_amount(written, "mass")) == parse_amount(text, "mass")


def test_a_dose_for_a_crumb_of_egg_is_written_as_it_can_be_read() -> None:
    assert str(parse_dose("1 ml per 0.00001 eggs")) == "1 ml per 0.00001 eggs"
