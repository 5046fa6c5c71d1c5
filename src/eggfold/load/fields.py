"""The base of every model of a file, and the field types that read a text strictly."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from eggfold.amounts import (
    EXAMPLES,
    Amount,
    AmountError,
    Dimension,
    DoseText,
    parse_amount,
    parse_dose,
    parse_number,
    parse_soak,
)
from eggfold.load.gate import LONGEST_NAME
from eggfold.nearest import did_you_mean, fold, one_of
from eggfold.units import NoSuchMeasureError, amount_in

T = TypeVar("T")


class StrictModel(BaseModel):
    """Frozen, and nothing but the known keys."""

    model_config = ConfigDict(
        strict=True, frozen=True, extra="forbid", allow_inf_nan=False, defer_build=True
    )


def problem(
    code: str, message: str, hint: str | None = None, **context: Any
) -> PydanticCustomError:
    """Return the error a validator raises; ``key=…`` in the context names the key it belongs to."""
    return PydanticCustomError(code, "{text}", {"text": message, "hint": hint, **context})


def read_text(read: Callable[[str], T]) -> Callable[[Any], T]:
    """Wrap a reader of text for pydantic: what is not text is a problem, and so are its errors."""

    def validate(value: Any) -> T:
        if value is None:
            raise problem("no-value", "the value is missing", "write it behind the colon")
        if not isinstance(value, str):
            kind = "a list" if isinstance(value, tuple) else "a mapping"
            raise problem("wrong-shape", f"one value is wanted here, not {kind}")
        try:
            return read(value)
        except AmountError as error:
            raise problem(error.code, error.message, error.hint) from error

    return validate


class Reads:
    """The mark on a field's type that says how its text is read, and its JSON Schema.

    ``written`` are the kinds of text it takes, for a pattern; ``schema`` is the rest, or what it takes
    beside such a text where that has a type of its own.
    """

    def __init__(
        self, read: Callable[[str], Any], *written: tuple[Any, ...], **schema: Any
    ) -> None:
        self.read = read
        self._written = written
        self._read = read_text(read)
        self._schema = schema

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Validate by reading the text, and by nothing else."""
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        """Describe the text."""
        if not self._written:
            return self._schema
        from eggfold.load.patterns import pattern_of  # noqa: PLC0415 - only the schema needs it

        text = {"type": "string", "pattern": pattern_of(*self._written)}
        if "type" in self._schema or "enum" in self._schema:
            return {"anyOf": [self._schema, text]}
        return {**text, **self._schema}


def _name(text: str) -> str:
    name = text.strip()
    if not name:
        raise AmountError("no-value", "the name is empty", "write a name")
    if len(name) > LONGEST_NAME:
        message = f"a name of more than {LONGEST_NAME} characters"
        raise AmountError("long-name", message, "shorten it")
    return name


def in_range(amount: Amount, unit: str, low: float, high: float) -> Amount:
    """Return the amount if it lies in the range; AmountError names the range otherwise."""
    try:
        value = amount_in(amount, unit)
    except NoSuchMeasureError:
        raise AmountError(
            "unknown-measure", f"{amount.unit} differs by country", "ml or l"
        ) from None
    if low <= value <= high:
        return amount
    side = "below" if value < low else "above"
    raise AmountError(
        "out-of-range",
        f"{amount} is {side} what is possible here",
        f"{low:.12g} to {high:.12g} {unit}",
    )


def an_amount(
    *dimensions: Dimension, unit: str, low: float, high: float, usual: tuple[str, ...] = ()
) -> Reads:
    """Read an amount within a range; a number alone is answered with the usual units."""

    def read(text: str) -> Amount:
        try:
            return in_range(
                parse_amount(text, *dimensions, usual=usual or (unit,)), unit, low, high
            )
        except AmountError as error:
            error.hint = possible(error.hint, f"{low:.12g} to {high:.12g} {unit}")
            raise

    def possible(hint: str | None, span: str) -> str | None:
        """Return those amounts of a hint that are in the range; where none is, the range."""
        amounts = (hint or "").split(" or ")
        if not all(_reads(amount, parse_amount, *dimensions) for amount in amounts):
            return hint
        return " or ".join(amount for amount in amounts if _reads(amount, read)) or span

    return Reads(read, ("amount", *dimensions), examples=[EXAMPLES[d] for d in dimensions])


def _reads(text: str, read: Callable[..., Amount], *arguments: Any) -> bool:
    try:
        read(text, *arguments)
    except AmountError:
        return False
    return True


def a_word(
    choices: tuple[str, ...],
    code: str,
    aliases: Mapping[str, str] | None = None,
    hints: Mapping[str, str] | None = None,
) -> Reads:
    """Read one word out of several; case, space, ``-`` and ``_`` are alike.

    ``hints`` say what to try instead of some words that are none of them.
    """
    known = {_word(c): c for c in choices} | {_word(k): v for k, v in (aliases or {}).items()}

    def read(text: str) -> str:
        if chosen := known.get(_word(text)):
            return chosen
        hint = (hints or {}).get(_word(text)) or did_you_mean(text, choices)
        message = f"'{text[:40]}' is not one of the words known here"
        raise AmountError(code, message, hint or f"one of {one_of(choices)}")

    return Reads(read, ("word", *known), enum=list(choices))


def _word(text: str) -> str:
    return fold(text.replace("-", " ").replace("_", " "))


def a_whole(low: int, high: int, of: str = "") -> Reads:
    """Read a whole number within a range; ``of`` is what is counted, which may stand behind it."""
    word = re.compile(rf" ?{of}s?", re.IGNORECASE)

    def read(text: str) -> int:
        digits = re.match(r"[0-9]+", text.strip()) if of else None
        bare = digits and word.fullmatch(text.strip(), digits.end())
        number = parse_number(digits[0] if digits and bare else text)
        if number != int(number):
            raise AmountError("not-whole", f"'{text}' is not a whole number", "count in whole ones")
        if not low <= number <= high:
            hint = f"{low} to {high}"
            raise AmountError("out-of-range", f"{text} is outside what is possible here", hint)
        return int(number)

    return Reads(read, ("whole", of), type="integer", minimum=low, maximum=high)


def a_number(low: float, high: float, unit: str) -> Reads:
    """Read a plain number within a range."""

    def read(text: str) -> float:
        number = parse_number(text, hours=unit == "hours")
        if not low <= number <= high:
            hint = f"{low:g} to {high:g} {unit}"
            raise AmountError("out-of-range", f"{text} is outside what is possible here", hint)
        return number

    return Reads(read, ("number",), type="number", minimum=low, maximum=high)


def a_share(low: float, high: float, *, bare: bool = False) -> Reads:
    """Read a share in per cent; ``bare`` lets the sign be left out."""

    def read(text: str) -> float:
        if bare and text.replace(".", "", 1).isdecimal():
            text = f"{text} %"
        return in_range(parse_amount(text, "share"), "%", low, high).value

    if bare:
        return Reads(read, ("share",), ("number",), type="number", minimum=low, maximum=high)
    return Reads(read, ("share",), examples=["11 %"])


Name = Annotated[str, Reads(_name, type=["string", "number", "boolean"], maxLength=LONGEST_NAME)]
"""A name is text however it looks; an editor may take 1921 for a number."""
Text = Annotated[str, Reads(str, type=["string", "number", "boolean"])]
_DOSES = ["4 g per egg", "45 g per kg mix", "3 ml per 500 ml eggs", "2 % of mix", "none"]
SoakDose = Annotated[
    DoseText,
    Reads(
        parse_soak,
        ("soak",),
        examples=["30 ml per kg bait"],
    ),
]
Dose = Annotated[DoseText, Reads(parse_dose, ("dose",), examples=_DOSES)]
Density = Annotated[Amount, an_amount("density", unit="g/ml", low=0.2, high=3)]
NOT_BOILED = Amount(0.0, "s")
"""What a time in the pan of ``none`` is read as."""


def _boil_time(text: str) -> Amount:
    if fold(text) == "none":
        return NOT_BOILED
    if re.fullmatch(r"0(?:\.0+)? ?[a-z]*|no|not", fold(text)):
        raise AmountError("not-an-amount", f"'{text[:40]}' is not a boiling time", "none")
    time: Amount = _TIME_IN_PAN.read(text)
    return time


_TIME_IN_PAN = an_amount("time", unit="s", low=1, high=3600, usual=("s", "min"))


BoilTime = Annotated[
    Amount,
    Reads(_boil_time, ("word", "none"), ("amount", "time"), examples=["90 s", "none"]),
]
DryingTime = Annotated[Amount, an_amount("time", unit="h", low=0, high=14 * 24)]
a_diameter = an_amount("length", unit="mm", low=3, high=80)
Diameter = Annotated[Amount, a_diameter]
