"""Figures, sums, times and durations as a page shows them."""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING

from eggfold.amounts import Amount, Measures
from eggfold.pages.page import Lines
from eggfold.records import NamedTuple
from eggfold.units import amount_in  # pint before pydantic: behind it, it takes 10 ms longer

if TYPE_CHECKING:
    from decimal import Decimal
    from fractions import Fraction

    from eggfold.engine.measuring import ToolReading
    from eggfold.engine.scaling import Measure
    from eggfold.recipe.boil_times import Boil


SQUARE_FOOT_M2 = 0.3048**2
"""A square foot [m²]; exact, by the international yard of 1959."""


def number_text(value: float, digits: int = 3) -> str:
    """Return a number to so many significant digits, never in powers of ten."""
    if value == 0:
        return "0"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


class Pair(NamedTuple):
    """A small and a large unit of one dimension, and how much of g or ml each is."""

    small: str
    small_size: float
    large: str
    large_size: float

    def text(self, value: float) -> str:
        """Return three digits of the small unit, or hundredths of the large one from one of it."""
        if value >= self.large_size * 0.9995:
            return f"{value / self.large_size:.2f} {self.large}"
        return f"{number_text(value / self.small_size)} {self.small}"


class Units(NamedTuple):
    """The units that a page shows, and amounts as they are written in them."""

    measures: Measures
    mass_pair: Pair
    volume_pair: Pair

    @property
    def metric(self) -> bool:
        """Whether these are g, kg, ml and l."""
        return self.measures == "metric"

    @property
    def quart_ml(self) -> float:
        """A quart, of 32 fl oz in the US and 40 in the UK [ml]."""
        return (32 if self.measures == "us" else 40) * self.volume_pair.large_size

    def mass(self, g: float) -> str:
        """Return a mass in g, from a kilo in kg; or in oz and lb."""
        return self.mass_pair.text(g)

    def volume(self, ml: float) -> str:
        """Return a volume in ml, from a litre in l; or in tsp and fl oz."""
        return self.volume_pair.text(ml)

    def amount(self, value: float, unit: str) -> str:
        """Return grams, millilitres or pieces."""
        if unit == "piece":
            return f"{value:g}"
        return self.mass(value) if unit == "g" else self.volume(value)

    def measure(self, measure: Measure, *, by_volume: bool) -> str:
        """Return an additive's amount the way its dose is written: by volume or by mass."""
        by_volume = by_volume and measure.ml is not None
        return self.volume(measure.ml or 0) if by_volume else self.mass(measure.g)

    def litres(self, litres: float) -> str:
        """Return the size of a vessel, as it was stated; or in quarts."""
        return (
            f"{litres:g} l" if self.metric else f"{number_text(litres * 1000 / self.quart_ml)} qt"
        )

    def room(self, litres: float) -> str:
        """Return room in a freezer, rounded up; or in quarts, as its curve is drawn."""
        room = litres if self.metric else litres * 1000 / self.quart_ml
        part = 1 if room >= 10 else 10
        return f"{math.ceil(room * part - 1e-9) / part:g} {'l' if self.metric else 'qt'}"

    def area(self, m2: float) -> str:
        """Return a tray area; or in square feet."""
        if self.metric:
            return f"{number_text(m2)} m²"
        return f"{number_text(m2 / SQUARE_FOOT_M2)} sq ft"

    def lift(self, g: float) -> str:
        """Return a lift with its sign, to a hundredth of a gram or a ten-thousandth of an ounce."""
        signed = f"{g / self.mass_pair.small_size:+.{2 if self.metric else 4}f}"
        return f"{signed if float(signed) else signed[1:]} {self.mass_pair.small}"

    def lines(self) -> tuple[Lines, ...]:
        """Return the line that says whose spoons and ounces these are; none for metric."""
        if self.metric:
            return ()
        tsp, fl_oz = self.volume_pair.small_size, self.volume_pair.large_size
        sizes = f"1 tsp is {tsp:.4g} ml, 1 fl oz {fl_oz:.4g} ml, 1 qt {self.quart_ml:.4g} ml"
        name = "US customary" if self.measures == "us" else "imperial (UK)"
        return (Lines(f"UNITS  {name}", (f"{sizes}. Sums stay metric.",)),)


METRIC = Units("metric", Pair("g", 1, "kg", 1000), Pair("ml", 1, "l", 1000))


@lru_cache
def units_in(measures: Measures) -> Units:
    """Return the units of a country."""
    if measures == "metric":
        return METRIC

    def size(name: str, unit: str) -> float:
        return amount_in(Amount(1.0, name), unit, measures)

    return Units(
        measures,
        Pair("oz", size("oz", "g"), "lb", size("lb", "g")),
        Pair("tsp", size("tsp", "ml"), "fl oz", size("floz", "ml")),
    )


def unit_text(unit: str) -> str:
    """Return the unit of an amount as a sum names it."""
    return "pieces" if unit == "piece" else unit


def money_text(amount: Decimal, currency: str) -> str:
    """Return money as it is counted, every coin of it."""
    return f"{amount:f} {currency}"


def price_text(per_unit: Fraction, currency: str) -> str:
    """Return a price worked out for one kilo or one bait, which no coin need fit."""
    value = float(per_unit)
    if value >= 1:
        return f"{value:.2f} {currency}"
    whole, _, decimals = number_text(value).partition(".")
    return f"{whole}.{decimals:0<2} {currency}"


def reading_text(reading: ToolReading) -> str:
    """Return what to read on a tool, to the tool's own division; drops are counted."""
    if not reading.amount or reading.tool.kind == "dropper":
        return reading.in_words
    decimals = max(0, len(f"{reading.tool.division:g}".partition(".")[2]))
    return f"{reading.in_words}: {reading.amount:.{decimals}f} {reading.tool.unit}"


def seconds_text(seconds: float) -> str:
    """Return a time in the pan."""
    return f"{seconds:.0f} s"


def boil_text(boil: Boil) -> str:
    """Return a time in the pan as it is said, a worked out one with from when to when it may lie."""
    around = boil.said_range_s
    return seconds_text(boil.said_s) + (f" ({around[0]:.0f} to {around[1]:.0f})" if around else "")


def size_text(diameter_mm: float) -> str:
    """Return a bait's size."""
    return f"{diameter_mm:.4g} mm"


def eggs_text(count: float) -> str:
    """Return a number of eggs."""
    return "1 egg" if count == 1 else f"{count:g} eggs"


def graded_eggs_text(count: int, label: str) -> str:
    """Return a number of eggs as the shelf names them."""
    return f"{count} {label.replace('eggs', 'egg', 1) if count == 1 else label}"


def rate_text(per_rod_hour: float) -> str:
    """Return takes per 100 rod-hours."""
    return number_text(per_rod_hour * 100, 2)


def rod_hours_text(rod_hours: float) -> str:
    """Return rods times hours."""
    return number_text(rod_hours, 4)


def more_rod_hours_text(rod_hours: float) -> str:
    """Return what is still to be fished, to two digits: it is no better known."""
    if rod_hours >= 100_000:
        return "over 100,000"
    digits = 1 - math.floor(math.log10(max(rod_hours, 1)))
    return f"{round(max(rod_hours, 1), digits):g}"


def chance_text(probability: float) -> str:
    """Return a probability in per cent, never a round 0 or 100."""
    percent = probability * 100
    if percent < 1:
        return "below 1 %"
    return "above 99 %" if percent > 99 else f"{percent:.0f} %"


def evidence_text(evidence: float) -> str:
    """Return evidence to two digits; beyond a thousand it is no better known."""
    return "over 1000" if evidence > 1000 else number_text(evidence, 2)


def skin_text(mm: float) -> str:
    """Return a thickness of paste."""
    return f"{number_text(mm)} mm"


def density_text(g_ml: float) -> str:
    """Return a density as a kitchen knows it."""
    return f"{number_text(g_ml)} g/ml"


def temperature_text(c: float, decimals: int = 0) -> str:
    """Return a temperature."""
    return f"{c:.{decimals}f} °C"


KIND_WORDS = {"popup": "pop-up"}


def bait_text(kind: str, diameter_mm: float, core_mm: float | None) -> str:
    """Return a bait's size and kind, with its cork ball if it has one."""
    cork = "" if core_mm is None else f" on {size_text(core_mm)} cork"
    return f"{size_text(diameter_mm)} {KIND_WORDS.get(kind, kind)}{cork}"


def clock_text(seconds: float) -> str:
    """Return minutes and seconds."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02}"


PUT_DIGITS = 7
GOT_DIGITS = 5

NO_SUM = "not from a sum"


def put(value: float) -> str:
    """Return a number that goes into a sum."""
    return number_text(value, PUT_DIGITS)


def got(value: float) -> str:
    """Return what a sum gives, with as many digits as the numbers put in bear."""
    return number_text(value, GOT_DIGITS)


def fine(value: float, decimals: int = 4) -> str:
    """Return what a difference of near numbers gives, to so many decimals."""
    text = f"{value:.{decimals}f}"
    return text if float(text) else "0"


def added(terms: Iterable[str]) -> str:
    """Return terms with plus signs between."""
    return " + ".join(terms)


def without_sum(what: str, value: str, how: str) -> str:
    """Return the line of a figure that comes from a table, a search or a series."""
    return f"{what}: {value}, {NO_SUM}: {how}"


_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def time_text(moment: datetime) -> str:
    """Return the time of day to the minute."""
    shown = _to_minute(moment)
    return f"{shown.hour:02}:{shown.minute:02}"


def day_text(day: date) -> str:
    """Return a day without its year, a moment's as its time is shown."""
    day = _day_shown(day)
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def weekday_text(day: date) -> str:
    """Return the short name of a day of the week."""
    return _DAYS[_day_shown(day).weekday()]


def quarter_before(moment: datetime) -> datetime:
    """Return the last full quarter of an hour up to a moment."""
    return moment.replace(minute=moment.minute // 15 * 15, second=0, microsecond=0)


def full_day_text(day: date) -> str:
    """Return a day with its year."""
    return f"{day_text(day)} {_day_shown(day).year}"


def _to_minute(moment: datetime) -> datetime:
    return moment + timedelta(seconds=30)


def _day_shown(day: date) -> date:
    """Return the day of a moment that is shown to the minute, half a minute to midnight the next."""
    return _to_minute(day).date() if isinstance(day, datetime) else day


def moment_text(moment: datetime) -> str:
    """Return day and time."""
    return f"{day_text(moment)} {time_text(moment)}"


def time_on_text(moment: datetime, day: date) -> str:
    """Return the time of day of a moment, with its own day where that is another."""
    return time_text(moment) if _day_shown(moment) == day else moment_text(moment)


def duration_text(seconds: float) -> str:
    """Return a duration in hours and minutes."""
    minutes = round(seconds / 60)
    hours, minutes = divmod(minutes, 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def up_to_quarter_text(seconds: float) -> str:
    """Return a duration rounded up to the quarter of an hour: what to add so that it is enough."""
    return duration_text(-(-seconds // 900) * 900)
