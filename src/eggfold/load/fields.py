"""The base of every model of a file, and the field types that read a text strictly."""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, datetime, timedelta, tzinfo
from typing import Annotated, Any, get_args
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from eggfold.amounts import (
    EXAMPLES,
    SPELLED_OUT,
    UNITS,
    VULGAR,
    Amount,
    AmountError,
    Dimension,
    DoseText,
    parse_amount,
    parse_dose,
    parse_number,
    parse_soak,
)
from eggfold.errors import in_quotes
from eggfold.load.gate import LONGEST_NAME
from eggfold.nearest import did_you_mean, fold, fold_word, one_of
from eggfold.reference.boiling import LEAST_BAIT_MM, MOST_BAIT_MM
from eggfold.units import NoSuchMeasureError, amount_in


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
        self._schema = schema

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Validate by reading the text, and by nothing else."""
        return core_schema.no_info_plain_validator_function(self._validated)

    def _validated(self, value: Any) -> Any:
        """Return what is read; what is not text is a problem, and so is what cannot be read."""
        if value is None:
            raise problem("no-value", "the value is missing", "write it behind the colon")
        if not isinstance(value, str):
            kind = "a list" if isinstance(value, tuple) else "a mapping"
            raise problem("wrong-shape", f"one value is wanted here, not {kind}")
        try:
            return self.read(value)
        except AmountError as error:
            raise problem(error.code, error.message, error.hint) from error

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        """Describe the text."""
        if not self._written:
            return self._schema
        text = {"type": "string", "pattern": pattern_of(*self._written)}
        if "type" in self._schema or "enum" in self._schema:
            return {"anyOf": [self._schema, text]}
        return {**text, **self._schema}


class OneOrMany:
    """The mark on a list whose one item may stand without it; ``kind`` is what such an item is read as."""

    def __init__(self, kind: type) -> None:
        self._kind = kind

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Read one item as a list of it."""
        either = handler.generate_schema(get_args(source)[0] | source)
        return core_schema.no_info_before_validator_function(
            self._listed, handler(source), json_schema_input_schema=either
        )

    def _listed(self, value: Any) -> Any:
        alone = isinstance(value, self._kind) and not isinstance(value, tuple)
        return (value,) if alone else value


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
    known = {fold_word(c): c for c in choices} | {
        fold_word(k): v for k, v in (aliases or {}).items()
    }

    def read(text: str) -> str:
        if chosen := known.get(fold_word(text)):
            return chosen
        hint = (hints or {}).get(fold_word(text)) or did_you_mean(text, choices)
        message = f"{in_quotes(text)} is not one of the words known here"
        raise AmountError(code, message, hint or one_of(choices))

    return Reads(read, ("word", *known), enum=list(choices))


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
        raise AmountError("not-an-amount", f"{in_quotes(text)} is not a boiling time", "none")
    time: Amount = _TIME_IN_PAN.read(text)
    return time


_TIME_IN_PAN = an_amount("time", unit="s", low=1, high=3600, usual=("s", "min"))


BoilTime = Annotated[
    Amount,
    Reads(_boil_time, ("word", "none"), ("amount", "time"), examples=["90 s", "none"]),
]
DryingTime = Annotated[Amount, an_amount("time", unit="h", low=0, high=14 * 24)]
a_diameter = an_amount("length", unit="mm", low=LEAST_BAIT_MM, high=MOST_BAIT_MM)
Diameter = Annotated[Amount, a_diameter]


_DAY = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_IN_WORDS = (
    rf"(?i)([0-9]{{1,2}})(?:st|nd|rd|th|\.)? ?({'|'.join(_MONTHS)})[a-z]*\.?,? ?([0-9]{{4}})"
    rf"|({'|'.join(_MONTHS)})[a-z]*\.? ([0-9]{{1,2}})(?:st|nd|rd|th)?,? ([0-9]{{4}})"
)
_OTHER_WAY = r"(?:([0-9]{1,2})[./-] ?)?([0-9]{1,2})[./-] ?([0-9]{4})"
FIRST_YEAR, LAST_YEAR = 1900, 2999
"""Years that a day may lie in: weeks before and years after it are in the calendar too."""


def parse_date(text: str) -> str:
    """Read ``2026-03-01``; AmountError otherwise."""
    text = text.strip()
    match = _DAY.fullmatch(text)
    if match is None:
        turned = _turned(text)
        hint = f"year first: {turned}" if turned else "year first, as in 2026-03-01"
        raise AmountError("not-a-date", f"{in_quotes(text)} is not a date", hint)
    year, month, day = (int(part) for part in match.group(1, 3, 4))
    if not (1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]):
        raise AmountError("not-a-date", f"there is no {text}", "a day that the calendar has")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        hint = f"a year from {FIRST_YEAR} to {LAST_YEAR}"
        raise AmountError("not-a-date", f"{text} is too far away to plan or to remember", hint)
    return f"{year:04}-{month:02}-{day:02}"


def _turned(text: str) -> str | None:
    """Return a day whose year stands last with the year first; both days where it may be either."""
    if words := re.fullmatch(_IN_WORDS, text):
        month = _MONTHS.index((words[2] or words[4]).casefold()) + 1
        return f"{words[3] or words[6]}-{month:02}-{int(words[1] or words[5]):02}"
    found = re.fullmatch(_OTHER_WAY, text)
    if found is None:
        return None
    year = int(found[3])
    if not found[1]:
        return f"{year}-MM-DD"
    one, two = int(found[1]), int(found[2])
    days = [
        f"{year}-{month:02}-{day:02}"
        for day, month in dict.fromkeys([(one, two), (two, one)])
        if 1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]
    ]
    return " or ".join(days) or f"{year}-MM-DD"


Date = Annotated[str, Reads(parse_date, ("date",), examples=["2026-03-01"])]


TIME = r"[0-9]{1,2}(?:(?:[:.]| ?h)[0-9]{2} ?(?:[ap]\.?m\.?)?| ?[ap]\.?m\.?)"
"""How a time of day is written: ``9:00``, ``9.00``, ``9h00``, ``9 am``."""
_TIME = re.compile(r"([0-9]{1,2})(?:(?:[:.]| ?h)([0-9]{2}))? ?(?:([ap])\.?m\.?)?", re.IGNORECASE)


def parse_time(text: str) -> str:
    """Read ``9:30`` and ``9.30 am`` as ``09:30``; AmountError otherwise."""
    text = text.strip()
    match = _TIME.fullmatch(text)
    if match is None or not (match[2] or match[3]):
        hint = f"{match[1]}:00" if match and int(match[1]) < 24 else "hours:minutes, as 14:20"
        raise AmountError("not-a-time", f"{in_quotes(text)} is not a time of day", hint)
    hour, minute = int(match[1]), int(match[2] or 0)
    if match[3]:
        hour = hour % 12 + 12 * (match[3] in "pP") if 1 <= hour <= 12 else 24
    if hour > 23 or minute > 59:
        raise AmountError("not-a-time", f"there is no {text}", "00:00 to 23:59")
    return f"{hour:02}:{minute:02}"


def parse_moment(text: str) -> str:
    """Read ``2026-03-14 9:00`` as ``2026-03-14 09:00``; AmountError otherwise."""
    text = text.strip()
    if found := _MOMENT.fullmatch(text):
        day, time = parse_date(found[1]), found[2]
        if time:
            return f"{day} {parse_time(time)}"
        raise AmountError("not-a-time", f"{in_quotes(text)} has no time of day", f"{day} 09:00")
    timed = re.fullmatch(rf"(.+?),? +(?:at )?({TIME})", text, re.IGNORECASE)
    day, time = timed.groups() if timed else (text, "09:00")
    turned = _turned(day)
    days = [f"{one} {time}" for one in turned.split(" or ")] if turned else []
    hint = f"year first: {' or '.join(days)}" if days else "year first, as in 2026-03-14 09:00"
    raise AmountError("not-a-date", f"{in_quotes(day)} is not a date", hint)


_MOMENT = re.compile(r"([0-9]{4}[-/.][0-9]{1,2}[-/.][0-9]{1,2})(?:(?:[Tt]|,? +(?:at )?)(.*))?")


def parse_zone(text: str) -> str:
    """Read a name of the IANA time zone database; AmountError otherwise."""
    name = text.strip()
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        known = available_timezones()
        near = did_you_mean(name, known) or "Europe/London"
        told = f"{in_quotes(name)} is not a time zone"
        if not known:
            told = f"{in_quotes(name)} cannot be looked up: this system has no time zones"
            near = "python -m pip install tzdata, or leave zone out"
        raise AmountError("unknown-zone", told, near) from error
    return name


TimeOfDay = Annotated[str, Reads(parse_time, ("time of day",), examples=["14:20"])]
Moment = Annotated[str, Reads(parse_moment, ("moment",), examples=["2026-03-14 09:00"])]
Zone = Annotated[str, Reads(parse_zone, type="string", examples=["Europe/London"])]


def zone_of(name: str | None) -> tzinfo:
    """Return a plan's zone; without one every day has 24 hours."""
    return ZoneInfo(name) if name else UTC


def moment_of(day: str, time: str, zone: tzinfo) -> datetime:
    """Return a moment on the clock of a zone."""
    return datetime.fromisoformat(f"{day}T{time}").replace(tzinfo=zone)


def is_on_clock(moment: datetime) -> bool:
    """Tell whether the clock shows a moment at all: an hour is left out in spring."""
    return moment.astimezone(UTC).astimezone(moment.tzinfo).replace(tzinfo=None) == moment.replace(
        tzinfo=None
    )


def days_after(day: str, count: int) -> str:
    """Return the day so many days later."""
    return (datetime.fromisoformat(day) + timedelta(days=count)).date().isoformat()


_DIGITS = r"[0-9]+([.,][0-9]+)?"
_FRACTION = rf"([0-9]+ ?)?([{''.join(VULGAR)}]|[1-9][0-9]?[/⁄][1-9][0-9]?)"
_NUMBER = rf"({_FRACTION}|{_DIGITS})"
_SPACE = r"[ \t]*"
_CLOCK = r"[0-9]{1,2}([:.]|[ ]?h)?([0-9]{2})?[ ]?([aApP][.]?[mM][.]?)?"
_DATE = r"[0-9]{4}[-/.][0-9]{1,2}[-/.][0-9]{1,2}"


def _any_case(words: Iterable[str]) -> str:
    """Return a pattern of words in small and capital letters; a space may be any gap."""
    return "|".join("".join(map(_either_case, word)) for word in words)


def _either_case(letter: str) -> str:
    if letter in " -_":
        return "[ _-]+"
    return f"[{letter.lower()}{letter.upper()}]" if letter.isalpha() else re.escape(letter)


def _unit_pattern(dimensions: Iterable[Dimension]) -> str:
    """Return a pattern of the units of some dimensions, however they are spelt."""
    known = [unit for dimension in dimensions for unit in UNITS[dimension]]
    words = [*known, *(word for word, unit in SPELLED_OUT.items() if unit in known)]
    return f"({_any_case(dict.fromkeys(words))})[sS]?[.]?"


def _amount_pattern(*dimensions: Dimension) -> str:
    """Return the pattern of an amount, in one unit or in two."""
    one = f"{_NUMBER}{_SPACE}{_unit_pattern(dimensions)}"
    return f"{one}([ ,]{{0,2}}[0-9]{{1,4}}{_SPACE}{_unit_pattern(dimensions)})?"


def _dose_pattern() -> str:
    """Return the pattern of a dose."""
    per = rf"( ?/ ?| ({_any_case(('per', 'a', 'an', 'each', 'for', 'for each'))}) )"
    amounts = f"{_NUMBER}{_SPACE}{_unit_pattern(('mass', 'volume'))}"
    egg = r"([0-9.]+ ?)?eggs?"
    mix = r"([0-9.,]+ ?)?(kg|kilo|kilogram|lb|pound|g|gram)s? (of )?(dry )?mix"
    egg_amount = f"({_NUMBER}{_SPACE})?{_unit_pattern(('mass', 'volume'))}"
    of_eggs = f"{egg_amount} (of )?(beaten |liquid )?eggs?"
    share = rf"{_NUMBER} ?(%|per ?cent) (of )?(the )?(dry )?mix"
    return f"{_any_case(['none'])}|{share}|{amounts}{per}({egg}|{mix}|{of_eggs})"


_PATTERNS: dict[str, str] = {
    "number": _NUMBER,
    "share": _amount_pattern("share"),
    "date": _DATE,
    "time of day": _CLOCK,
    "moment": rf"{_DATE}([tT]|,? +(at )?){_CLOCK}",
    "hours": rf"(from )?{_CLOCK} ?(-|–|—|to|until|till) ?{_CLOCK}",
    "price": rf"([^\s0-9]{{1,3}} ?)?{_NUMBER}( ?[^\s0-9]{{1,3}})?",
    "pace": rf"{_amount_pattern('mass')}{_SPACE}(per|/|an?) ?(h|hour)",
    "cork pace": rf"{_NUMBER} ?(per|an|/) ?(h|hour)",
    "soak": rf"{_NUMBER}{_SPACE}{_unit_pattern(('mass', 'volume'))} per ({_NUMBER} )?(kg|lb) bait",
    "pieces": rf"[0-9]+ ?({_any_case(['x', 'pc', 'pcs', 'piece', 'egg', 'ball', 'unit'])})?s?",
}


def pattern_of(*alternatives: tuple[str, ...]) -> str:
    """Return the pattern of a text that is written in one of several ways, each a kind and its words."""
    return f"^[ ]*({'|'.join(_pattern(kind, *words) for kind, *words in alternatives)})[ ]*$"


def _pattern(kind: str, *words: Any) -> str:
    if kind == "amount":
        return _amount_pattern(*words)
    if kind == "dose":
        return _dose_pattern()
    if kind == "word":
        return _any_case(words)
    if kind == "whole":
        return rf"[0-9]+ ?({_any_case(words)})s?" if words[0] else "[0-9]+"
    if kind == "eggs":
        return _eggs(*words)
    return _PATTERNS[kind]


def _eggs(numbers: tuple[str, ...], grades: tuple[str, ...], letters: tuple[str, ...]) -> str:
    count = f"([0-9]{{1,6}}|{_any_case(numbers)})?"
    standard = _any_case(("eu", "us", "uk"))
    size = f"({_any_case(grades)}|{_any_case(letters)})?"
    gap = "[ _-]*"
    return f"{count}{gap}[x×]?{gap}({standard})?{gap}{size}{gap}({standard})?{gap}([eE]ggs?)?"
