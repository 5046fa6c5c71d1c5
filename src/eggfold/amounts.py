"""The strict grammar of amounts and doses, as text and nothing more; units.py gives them meaning.

::

    NUMBER  digits, optionally "." digits
    AMOUNT  NUMBER UNIT            the space is optional
    DOSE    AMOUNT per [NUMBER] egg|eggs|kg mix|lb mix, AMOUNT per AMOUNT eggs,
            NUMBER % of mix, or none

Everyday forms that have one meaning are turned into these first: ``130 grams``, ``½ tsp``, ``1,5 g``.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Literal

from eggfold.errors import in_quotes
from eggfold.nearest import did_you_mean, one_of
from eggfold.records import NamedTuple

Dimension = Literal["mass", "volume", "length", "time", "temperature", "density", "power", "share"]

UNITS: dict[Dimension, tuple[str, ...]] = {
    "mass": ("g", "kg", "mg", "oz", "lb"),
    "volume": ("ml", "l", "tsp", "tbsp", "cup", "floz", "pint", "drop"),
    "length": ("mm", "cm", "m", "in", "ft"),
    "time": ("s", "min", "h"),
    "temperature": ("degC", "°C", "degF", "°F"),
    "density": ("g/ml", "g/cm3", "kg/m3"),
    "power": ("kW",),
    "share": ("%",),
}
EXAMPLES: dict[Dimension, str] = {
    "mass": "130 g",
    "volume": "5 ml",
    "length": "16 mm",
    "time": "90 s",
    "temperature": "20 degC",
    "density": "1.35 g/ml",
    "power": "3 kW",
    "share": "11 %",
}
Measures = Literal["metric", "imperial", "us"]

_DIMENSION_OF = {unit: dimension for dimension, units in UNITS.items() for unit in units}
_NUMBER = r"[0-9]{1,15}(?:\.[0-9]{1,15})?"
_AMOUNT = re.compile(rf"({_NUMBER}) ?(.*)", re.DOTALL)
_PER = re.compile(rf"(.+?) per (?:({_NUMBER}) )?(egg|eggs|kg mix|lb mix)", re.DOTALL)
_SHARE = re.compile(rf"({_NUMBER}) ?% of mix")
# These are compiled when a text asks for them: few do, and nobody should wait for the others.
_PER_EGG_AMOUNT = (
    rf"(?s)(.+?) ?(?:\bper\b|/) ?({_NUMBER})? ?([a-zA-Z ]+?) (?:of )?(?:beaten |liquid )?eggs?"
)
_SOAK = rf"(?s)(.+?) ?(?:\bper\b|/) ?(?:({_NUMBER}) ?)?(kg|kilo|lb) (?:of )?baits?"
_BARE_PER = r"(?s).* per (?:[0-9.]+ )?(kg|lb)"
_GROUPED = (
    r"([1-9][0-9]{0,2}(?:(?:\.[0-9]{3})+(?=,[0-9])|(?:,[0-9]{3})+(?=\.[0-9])|(?:\.[0-9]{3}){2,}"
    r"|(?:,[0-9]{3}){2,}|(?:[ '’][0-9]{3})+))(?:[.,]([0-9]+))?(?![0-9])"
)
"""Digits in groups of three, where nothing but thousands can be meant."""
NUMBER_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_LIKE_A_DOSE = (
    rf"({_NUMBER}) ?([a-z]+)(?: ?(?:/|an?\b|each|for|in|to|to the|per|x) ?"
    r"([0-9]{0,6}) ?(egg|kg|lb)s?(?: .*)?)?"
)
_LONGEST = 80
_TOO_MANY_DIGITS = r"\s*(?:[0-9]{16}|[0-9]+\.[0-9]{16})"
_TOO_LARGE = 10.0**15
"""A number that rounds to this would be written with more digits than can be read."""
SPELLED_OUT = {
    **dict.fromkeys(("gram", "gramme"), "g"),
    **dict.fromkeys(("kilo", "kilogram"), "kg"),
    **dict.fromkeys(("milliliter", "millilitre", "cc", "cm3"), "ml"),
    **dict.fromkeys(("liter", "litre"), "l"),
    **dict.fromkeys(("teaspoon",), "tsp"),
    **dict.fromkeys(("tablespoon", "tb", "tbl"), "tbsp"),
    **dict.fromkeys(("fl oz", "fluid ounce"), "floz"),
    **dict.fromkeys(("ounce",), "oz"),
    **dict.fromkeys(("pound",), "lb"),
    **dict.fromkeys(("sec", "second"), "s"),
    **dict.fromkeys(("minute",), "min"),
    **dict.fromkeys(("hour", "hr"), "h"),
    **dict.fromkeys(("c", "celsius", "deg c"), "degC"),
    **dict.fromkeys(("f", "fahrenheit", "deg f"), "degF"),
    **dict.fromkeys(("metre", "meter"), "m"),
    **dict.fromkeys(("inch", "inche"), "in"),
    **dict.fromkeys(("foot", "feet"), "ft"),
    **dict.fromkeys(("millimetre", "millimeter"), "mm"),
    **dict.fromkeys(("percent", "per cent"), "%"),
}
"""What is written for a unit, without the s of many and in small letters."""
_EITHER = {"gr": "g", "t": "tsp"}
"""What may be a unit and may be another: a grain is a gr too, and T a tablespoon."""
_KNOWN_ELSEWHERE: dict[str, tuple[str, float]] = {
    **dict.fromkeys(("w", "watt"), ("kW", 0.001)),
    "cl": ("ml", 10),
    "dl": ("ml", 100),
    "hl": ("l", 100),
    **dict.fromkeys(("dag", "dkg"), ("g", 10)),
    "hg": ("g", 100),
    **dict.fromkeys(("mcg", "ug"), ("mg", 0.001)),
    "dm": ("cm", 10),
    "km": ("m", 1000),
    "g/l": ("g/ml", 0.001),
    "kg/l": ("g/ml", 1),
}
"""Measures that are no unit here: the unit to write instead, and how many of it one of them is."""
_BY_FEEL = (
    r"(?i)\b(?:pinch|dash|smidge|knife|tip of|scoop|handful|splash|glug|sprinkl|few|some|to taste)"
)
"""What a hand takes: to be weighed once, or counted."""


class AmountError(ValueError):
    """A text that is not an amount or a dose, with what to try instead."""

    def __init__(self, code: str, message: str, hint: str | None = None) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.hint = hint


class Amount(NamedTuple):
    """A number and its unit, as written."""

    value: float
    unit: str

    @property
    def dimension(self) -> Dimension:
        """What the unit measures."""
        return _DIMENSION_OF[self.unit]

    def __str__(self) -> str:
        return f"{_plain(self.value)} {self.unit}"


Basis = Literal["egg", "eggs", "kg mix", "lb mix", "share", "kg bait", "lb bait"]


class DoseText(NamedTuple):
    """A dose as written: an amount for so many eggs, so much egg, dry mix or finished bait.

    ``none`` is a dose without an amount; a share is an amount in % of all dry mix.
    """

    amount: Amount | None
    per: float = 1.0
    basis: Basis = "egg"
    unit: str = ""
    """What ``per`` is measured in where eggs are taken by mass or volume."""
    measures: Measures | None = None
    """Whose spoons, cups and pints it means: those of the file that states it."""

    @property
    def by_volume(self) -> bool:
        """Whether it is dosed by volume."""
        return self.amount is not None and self.amount.dimension == "volume"

    @property
    def of_egg(self) -> Amount | None:
        """The shelled egg that it is for, None where that is counted or the dose is of dry mix."""
        return Amount(self.per, self.unit) if self.unit else None

    def __str__(self) -> str:
        if self.amount is None:
            return "none"
        if self.basis == "share":
            return f"{self.amount} of mix"
        if self.unit:
            return f"{self.amount} per {self.of_egg} eggs"
        many = "" if self.per == 1 else f"{_plain(self.per)} "
        word = "eggs" if self.basis == "egg" and self.per != 1 else self.basis
        return f"{self.amount} per {many}{word}"


def mass_in_words(g: float) -> str:
    """Return a mass [g] as a sentence wants it: to three digits, in kg from a kilo."""
    return f"{g / 1000:.3g} kg" if g >= 1000 else f"{g:.3g} g"


def _plain(number: float) -> str:
    """Return a number as the grammar has it: without an exponent, however small or large it is."""
    text = f"{number:.15g}"
    return f"{number:.15f}".rstrip("0").rstrip(".") if "e" in text else text


def parse_number(text: str, *, hours: bool = False) -> float:
    """Read a plain number: digits, optionally a decimal point and digits; of hours, say so."""
    text = _folded(text)
    written = in_our_digits(text)
    if re.fullmatch(_NUMBER, written):
        return _in_digits(written, text)
    hint = _bare_number_hint(text, hours=hours)
    raise AmountError("not-a-number", f"{in_quotes(text)} is not a plain number", hint)


def parse_amount(text: str, *dimensions: Dimension, usual: tuple[str, ...] = ()) -> Amount:
    """Read ``NUMBER UNIT`` where the unit must belong to one of the dimensions.

    A number alone is answered with the ``usual`` units, else with the first of each dimension.
    """
    text = _folded(text)
    match = _AMOUNT.fullmatch(in_our_digits(text))
    if match is None or len(text) > _LONGEST:
        raise _not_an_amount(text, dimensions)
    number, unit = match[1], _our_unit(match[2], dimensions)
    if unit in _DIMENSION_OF and _DIMENSION_OF[unit] in dimensions:
        return Amount(_in_digits(number, text), unit)
    if in_two := _in_two_units(text, dimensions):
        return in_two
    raise _wrong_unit(text, unit, dimensions, usual)


def _dose(text: str) -> DoseText:
    text = _in_our_words(_folded(text))
    if text.casefold() == "none":
        return DoseText(None)
    if len(text) > _LONGEST:
        raise _not_a_dose(text)
    if match := _SHARE.fullmatch(in_our_digits(text)):
        return DoseText(_positive(Amount(_in_digits(match[1], text), "%"), text), basis="share")
    match = _PER.fullmatch(text)
    unit = ""
    if match is None:
        match = re.fullmatch(_PER_EGG_AMOUNT, text)
        unit = _our_unit(match[3].strip(), ("mass", "volume")) if match else ""
        if match is None or unit not in (*UNITS["mass"], *UNITS["volume"]):
            raise _not_a_dose(text)
    amount = parse_amount(match[1], "mass", "volume")
    per = _in_digits(match[2] or "1", text)
    if not per:
        raise AmountError("not-a-dose", f"{in_quotes(text)} divides by nothing", "1 ml per 2 eggs")
    if unit:
        return DoseText(_positive(amount, text), per, "eggs", unit)
    basis: Basis = "egg" if match[3].startswith("egg") else match[3]  # type: ignore[assignment]
    return DoseText(_positive(amount, text), per, basis)


def _unless_by_feel(read: Callable[[str], DoseText], text: str, usual: str) -> DoseText:
    """Read a dose; one that is what a hand takes is refused with what to write instead."""
    try:
        return read(text)
    except AmountError as error:
        if not re.search(_BY_FEEL, text):
            raise
        per = found[0] if (found := re.search(r"\bper .+", _folded(text))) else usual
        hint = f"weigh ten of them once and write a tenth: 0.3 g {per}"
        if "drop" in text.casefold():
            hint = f"count them: 3 drops {per}"
        raise AmountError("by-feel", f"{in_quotes(text)} is taken by feel", hint) from error


def parse_dose(text: str) -> DoseText:
    """Read a dose of the bowl, as in ``4 g per egg``; AmountError otherwise."""
    return _unless_by_feel(_dose, text, "per egg")


def parse_soak(text: str) -> DoseText:
    """Read a dose of finished bait, as in ``30 ml per kg bait``; AmountError otherwise."""
    return _unless_by_feel(_soak, text, "per kg bait")


def _soak(text: str) -> DoseText:
    text = _folded(text)
    match = None if len(text) > _LONGEST else re.fullmatch(_SOAK, text)
    if match is None:
        message = f"{in_quotes(text)} is not a dose of finished bait"
        raise AmountError("not-a-soak", message, "30 ml per kg bait")
    amount = parse_amount(match[1], "mass", "volume")
    per = _in_digits(match[2] or "1", text)
    if not per or not amount.value:
        raise AmountError("not-a-soak", f"{in_quotes(text)} doses nothing", "30 ml per kg bait")
    return DoseText(amount, per, "lb bait" if match[3] == "lb" else "kg bait")


VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8"}
_COMMA = re.compile(r"([0-9]{1,15}),([0-9]{1,15})(?![0-9.,])")
_THOUSAND = r"[1-9][0-9]{0,2},[0-9]{3}"


def in_our_digits(text: str) -> str:
    """Return a text whose fraction or decimal comma at the start, where it has one meaning, is a point's."""
    if text[:1] in VULGAR or text[1:2] in VULGAR or "/" in text or " " in text[:4]:
        text = _without_fraction(text)
    comma = _COMMA.match(text)
    if comma is None or re.fullmatch(_THOUSAND, comma[0]):
        return text
    return f"{comma[1]}.{comma[2]}{text[comma.end() :]}"


def _without_fraction(text: str) -> str:
    plain = re.sub("[½¼¾⅓⅔⅛⅜]", lambda found: f" {VULGAR[found[0]]}", text[:12]).strip() + text[12:]
    found = re.match(r"(?:([0-9]{1,6}) )?([1-9][0-9]?)[/⁄]([1-9][0-9]?)(?![0-9/.,])", plain)
    if found is None:
        return text
    number = int(found[1] or 0) + int(found[2]) / int(found[3])
    return f"{_plain(float(f'{number:.12g}'))}{plain[found.end() :]}"


def _our_unit(unit: str, dimensions: tuple[Dimension, ...]) -> str:
    """Return a unit as it is written here: ``grams``, ``Kg`` and ``drops`` have one meaning."""
    if unit in _DIMENSION_OF or unit == "T":
        return unit
    low = unit.casefold().removesuffix(".")
    one = low.removesuffix("s")
    for word in (low, one):
        for known in (word, SPELLED_OUT.get(word, "")):
            for ours in (u for d in dimensions for u in UNITS[d]):
                if known.casefold() == ours.casefold():
                    return ours
    return unit


_IN_TWO = r"([0-9]{1,15}) ?([a-z]+)[ ,]{0,2}([0-9]{1,4}) ?([a-z]+)"
_TIMES_LESS: dict[tuple[str, str], int] = {
    ("lb", "oz"): 16,
    ("kg", "g"): 1000,
    ("l", "ml"): 1000,
    ("h", "min"): 60,
    ("min", "s"): 60,
    ("m", "cm"): 100,
    ("ft", "in"): 12,
}
"""How many of the smaller unit make the larger, of two that are said in one breath."""


def _in_two_units(text: str, dimensions: tuple[Dimension, ...]) -> Amount | None:
    """Return ``1 lb 4 oz`` and ``2 h 30 min`` in their smaller unit."""
    found = re.fullmatch(_IN_TWO, text.casefold())
    if found is None:
        return None
    large, small = (_our_unit(unit, dimensions) for unit in found.group(2, 4))
    times = _TIMES_LESS.get((large, small), 0)
    if _DIMENSION_OF.get(large) not in dimensions or int(found[3]) >= times:
        return None
    return Amount(_in_digits(found[1], text) * times + int(found[3]), small)


_PER_EGG = r"(?s)(.*[a-zA-Z]) ?(?:/|\b(?:an?|each|for|for each|per)\b) ?([0-9]{1,6} ?)?(eggs?)"
_PER_MIX = (
    r"(?s)(.+?) ?(?:\bper\b|/) ?(?:([0-9.,]+) ?)?(g|grams?|kg|kilo|kilogram|lb|pound)s? ?"
    "(?:of )?(?:dry )?mix"
)
_PERCENT = r"([0-9.,]+) ?(?:%|per ?cent) (?:of )?(?:the )?(?:dry )?mix"


def _in_our_words(text: str) -> str:
    """Return a dose in the words of the grammar, where it has one meaning in other words."""
    if _PER.fullmatch(text):
        return text
    if found := re.fullmatch(_PER_EGG, text):
        many = f"{found[2].strip()} " if found[2] else ""
        return f"{found[1].strip()} per {many}egg{'s' if many else ''}"
    if found := re.fullmatch(_PERCENT, text):
        return f"{found[1]} % of mix"
    if found := re.fullmatch(_PER_MIX, text):
        return _per_mix(found[1], found[2], found[3])
    return text


def _per_mix(amount: str, many: str | None, unit: str) -> str:
    if unit[0] == "g" and many:  # so many grams are part of a kilo
        return f"{amount} per {_plain(float(in_our_digits(many)) / 1000)} kg mix"
    if unit[0] == "g":
        return f"{amount} per {unit} mix"
    number = f"{many} " if many else ""
    return f"{amount} per {number}{'lb' if unit in ('lb', 'pound') else 'kg'} mix"


def _in_digits(digits: str, text: str) -> float:
    number = float(digits)
    if number < _TOO_LARGE:
        return number
    raise AmountError(
        "out-of-range", f"{in_quotes(text)} is too large a number", "at most 999999999999999"
    )


def _folded(text: str) -> str:
    return " ".join(text.split())


def _positive(amount: Amount, text: str) -> Amount:
    if amount.value > 0:
        return amount
    raise AmountError("out-of-range", f"{in_quotes(text)} doses nothing", "none")


def _not_an_amount(text: str, dimensions: tuple[Dimension, ...]) -> AmountError:
    example = " or ".join(EXAMPLES[d] for d in dimensions)
    hint = _number_hint(text) or _bare_amount_hint(text, dimensions)
    own = "your own figure for the ?" if text.strip() == "?" else "a number and a unit"
    hint = hint or f"{own}, as in {example}"
    return AmountError("not-an-amount", f"{in_quotes(text)} is not an amount", hint)


_ABOUT = r"(?i)(?:about|around|approx\.?|ca\.?|circa|roughly|[~≈<>]) *(.*)"


def _bare_amount_hint(text: str, dimensions: tuple[Dimension, ...]) -> str | None:
    """Return the amount that stands behind a word of doubt."""
    about = re.fullmatch(_ABOUT, text)
    try:
        return f"the amount alone: {parse_amount(about[1], *dimensions)}" if about else None
    except AmountError:
        return None


def _wrong_unit(
    text: str, unit: str, dimensions: tuple[Dimension, ...], usual: tuple[str, ...]
) -> AmountError:
    wanted = [u for d in dimensions for u in UNITS[d]]
    if not unit:
        meant = [[u for u in usual if u in UNITS[d]] or UNITS[d][:1] for d in dimensions]
        example = " or ".join(f"{text.strip()} {u}" for units in meant for u in units)
        return AmountError("no-unit", f"{in_quotes(text)} has no unit", example)
    if clock := re.fullmatch(r"([0-9]{1,3}):([0-5][0-9])", text):
        hint = f"{int(clock[1])} min {int(clock[2])} s, or {int(clock[1])} h {int(clock[2])} min"
        if "time" in dimensions:
            return AmountError("not-an-amount", f"{in_quotes(text)} is not an amount", hint)
    if not unit[0].isascii() or unit[0] in ",'./eE+-" or unit[0].isdigit() or len(unit) > 20:
        return _not_an_amount(text, dimensions)
    if unit in _DIMENSION_OF:
        message = f"{unit} measures {_DIMENSION_OF[unit]}, not {one_of(dimensions)}"
        minutes = unit == "m" and dimensions == ("time",)
        hint = "did you mean min?" if minutes else f"one of {' '.join(wanted)}"
        return AmountError("wrong-dimension", message, hint)
    hint = _unit_hint(text, unit, wanted) or f"one of {' '.join(wanted)}"
    return AmountError("unknown-unit", f"{in_quotes(unit)} is not a unit known here", hint)


def _unit_hint(text: str, unit: str, wanted: list[str]) -> str | None:
    """Say which unit to write; a slip has the same letters and begins alike, for ``cl`` is no slip of ``l``.

    ``T`` is a tablespoon to some.
    """
    if unit == "T" and "tbsp" in wanted:
        return "did you mean tbsp or tsp?"
    folded = unit.casefold().removesuffix("s")
    other, times = _KNOWN_ELSEWHERE.get(folded, ("", 1))
    if other in wanted:
        number = in_our_digits(text).removesuffix(unit)
        return f"{_plain(float(f'{float(number) * times:.12g}'))} {other}"
    if re.search(_BY_FEEL, folded):
        return "weigh it once, and write it in g"
    spelled = _EITHER.get(folded, folded)
    if spelled in wanted:
        return f"did you mean {spelled}?"
    low = unit.casefold()
    alike = [u for u in wanted if u[0] == low[0] and set(u.casefold()) == set(low)]
    return did_you_mean(unit, alike)


def _not_a_dose(text: str) -> AmountError:
    bare = re.fullmatch(_BARE_PER, text)
    if bare and not _dose_of_nothing(text):
        whole = f"per {bare[1]} mix, where mix is all dry powder"
        return AmountError("bare-per-kg", f"per {bare[1]} of what?", whole)
    number = None if in_our_digits(text) != text else _number_hint(text)
    hint = _dose_of_nothing(text) or number or _dose_hint(text)
    if re.fullmatch(_SOAK, text):
        hint = f"soak: {text}, for finished bait, under soak in the recipe or in additives.yaml"
    return AmountError("not-a-dose", f"{in_quotes(text)} is not a dose", hint)


def _dose_of_nothing(text: str) -> str | None:
    """Return how it is said that nothing is dosed."""
    nothing = re.fullmatch(r"[-–—]|0(?:\.0+)?(?: ?[a-z].*)?|no|nothing|nil|n/a", text.casefold())
    return "none" if nothing else None


def _dose_hint(text: str) -> str:
    """Say how a dose is written that has a slash for ``per``, or does not say of what it is."""
    mix = ", where mix is all dry powder"
    text = in_our_digits(text).removesuffix(" each")
    if share := re.fullmatch(rf"({_NUMBER}) ?%.*", text):
        return f"{share[1]} % of mix{mix}"
    match = re.fullmatch(_LIKE_A_DOSE, text)
    unit = _our_unit(match[2], ("mass", "volume")) if match else ""
    if match and _DIMENSION_OF.get(unit) in ("mass", "volume"):
        amount, many, what = f"{match[1]} {unit}", match[3], match[4]
        if what is None:
            return f"{amount} per egg, or {amount} per kg mix"
        per = f"{amount} per {many} " if many not in ("", "1") else f"{amount} per "
        if what == "egg":
            return f"{per}egg{'s' if many not in ('', '1') else ''}"
        return (
            f"{per}{what} mix if that means dry mix; what finished bait takes up stands under soak"
        )
    return "4 g per egg, 5 ml per kg mix, 2 % of mix or none"


def _number_hint(text: str) -> str | None:
    """Say what to write instead of a comma, a sign, a fraction, an exponent or a string of digits."""
    if grouped := re.match(_GROUPED, text):
        return f"nothing between thousands: {_plain_digits(*grouped.groups())}"
    if comma := re.match(r"\s*([0-9]{1,15}),([0-9]{1,15})(?![0-9,])", text):
        return comma_hint(comma[1], comma[2])
    if re.match(r"\s*[0-9 ]*[0-9]/[0-9]", text):
        return "a decimal number, as in 0.5"
    if re.match(r"\s*[+-]", text):
        return "a number without a sign"
    if re.match(r"\s*\.[0-9]", text):
        return "a digit before the point, as in 0.5"
    if re.match(_TOO_MANY_DIGITS, text):
        return "at most 15 digits on each side of the decimal point"
    if re.match(r"\s*[0-9.]+[eE][+-]?[0-9]", text):
        return "the number written out, as in 1500"
    return None


def _plain_digits(whole: str, rest: str | None) -> str:
    digits = re.sub("[^0-9]", "", whole)
    return f"{digits}.{rest}" if rest else digits


_HOURS = r"(?:([0-9]{1,5}) ?h(?:ours?)? ?)?([0-9]{1,5}) ?(?:(?<=h[0-9]{2})|m|mins?|minutes?)"
"""Hours and minutes, or minutes alone."""


def _bare_number_hint(text: str, *, hours: bool) -> str | None:
    """Say which number is meant where a word stands for it or behind it."""
    if text.casefold() in NUMBER_WORDS:
        return f"in digits: {NUMBER_WORDS.index(text.casefold()) + 1}"
    if hours and (time := re.fullmatch(_HOURS, text)):
        return f"in hours: {float(time[1] or 0) + float(time[2] or 0) / 60:.4g}"
    match = re.fullmatch(rf"({_NUMBER}) ?(h|hours?|hrs?|eggs?|x|pcs?|pieces?|rods?)", text)
    if match:
        return f"the number alone: {match[1]}"
    return "a number without a unit" if text[-1:].isalpha() else _number_hint(text)


def comma_hint(whole: str, rest: str) -> str:
    """Say what to write instead of a comma; before three digits it may part thousands."""
    if "." in whole:
        return f"nothing between thousands: {whole.replace('.', '')}.{rest}"
    if re.match(r"[1-9][0-9]{0,2},[0-9]{3}(?![0-9])", f"{whole},{rest}"):
        return f"{whole}.{rest} with a decimal point, or {whole}{rest} without the comma"
    return f"a decimal point: {whole}.{rest}"


def counted(number: float | str, noun: str) -> str:
    """Return a number, or its text as shown, with a noun that takes an s beside all but 1.

    >>> counted(1, "rod-hour"), counted("0.5", "rod-hour"), counted(2, "rod-hour")
    ('1 rod-hour', '0.5 rod-hours', '2 rod-hours')
    """
    return f"{number} {noun}{'' if str(number) == '1' else 's'}"
