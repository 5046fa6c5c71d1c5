"""What fuzzing found worth keeping, replayed: inputs that reach something of their own."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from eggfold.amounts import Amount, AmountError, parse_amount, parse_dose, parse_number
from eggfold.load.shelf import parse_stock
from fuzz.targets import TARGETS

if TYPE_CHECKING:
    from collections.abc import Callable

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


@pytest.mark.parametrize("number", ["999999999999999.99999", "999999999999999.999999999999999"])
@pytest.mark.parametrize(
    ("read", "ending"),
    [
        (parse_number, ""),
        (lambda text: parse_amount(text, "mass"), " g"),
        (parse_dose, " g per egg"),
        (parse_dose, " % of mix"),
        (lambda text: parse_dose(f"1 g per {text} eggs"), ""),
        (parse_stock, " cup"),
    ],
)
def test_a_number_that_would_be_written_with_too_many_digits_is_refused(
    number: str, read: Callable[[str], object], ending: str
) -> None:
    with pytest.raises(AmountError, match=f"'.*{number[:12]}.*' is too large a number") as raised:
        read(number + ending)
    assert (raised.value.code, raised.value.hint) == ("out-of-range", "at most 999999999999999")


@pytest.mark.parametrize("text", ["1000000000000000 g", "0.1234567890123456 g"])
def test_a_number_with_too_many_digits_is_told_how_many_there_may_be(text: str) -> None:
    with pytest.raises(AmountError) as raised:
        parse_amount(text, "mass")
    assert raised.value.hint == "at most 15 digits on each side of the decimal point"


def test_no_shelf_holds_cups_without_end() -> None:
    assert parse_stock("1000000000 cup").number == 10**9
    with pytest.raises(AmountError, match="1000000001 cup is more than a shelf holds") as raised:
        parse_stock("1000000001 cup")
    assert raised.value.hint == "at most 1,000,000,000 cup"
