"""Answers as CSV (RFC 4180): one figure a row, made from the same object that JSON is."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any
from unicodedata import category, normalize

from eggfold.formats.characters import clean
from eggfold.records import NamedTuple
from eggfold.reference.properties import PART_NAMES

COLUMNS = ("page", "section", "item", "figure", "value", "unit")
SUFFIXES = {
    "_g_ml": "g/ml",
    "_g": "g",
    "_ml": "ml",
    "_mm": "mm",
    "_m2": "m2",
    "_s": "s",
    "_h": "h",
    "_c": "degC",
    "_l": "l",
    "_pct": "%",
}
"""Ends of keys that name a unit."""
UNITS = {
    "seconds": "s",
    **dict.fromkeys(("hours", "rod_hours"), "h"),
    **dict.fromkeys(("percent", *PART_NAMES), "%"),
    **dict.fromkeys(("g", "g_per_egg"), "g"),
    "ml": "ml",
    "kg_dry": "kg",
    "wet_per_dry": "g/g",
}
"""Whole keys that name one."""
BESIDE = ("unit", "currency")
"""What stands in the column of units."""
BY_MEASURE = ("need", "in_hand", "left", "amount", "pack", "past_date", "drawn")
"""Figures whose unit stands beside them."""
STATED = ("value", "low", "high", "label")
"""Texts that may be a number and its unit."""
MONEY = ("cost", "price", "material", "per_kg", "per_bait")
NAMES = (
    "number",
    "name",
    "recipe",
    "what",
    "code",
    "trip",
    "station",
    "kind",
    "moment",
    "date",
    "day",
)
"""Keys that name an item, the first that it has."""
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")
_MEASURED = re.compile(r"([0-9]+(?:\.[0-9]+)?) (%|[a-zA-Z°][a-zA-Z0-9°/²³]{0,7})")
_SPLIT = re.compile(r"([,;\t])")
_FILLERS = "\u115f\u1160\u2800\u3164\uffa0"
"""Letters and signs that show nothing."""


class FigurePlace(NamedTuple):
    """Where a figure stands, and the units that its neighbours name."""

    page: str
    section: str = ""
    item: str = ""
    figure: str = ""
    measure: str = ""
    currency: str = ""

    def at(self, key: str) -> FigurePlace:
        """Return the place of a key inside this one."""
        if not self.section:
            return self._replace(section=key)
        return self._replace(figure=f"{self.figure} {key}".strip())

    def beside(self, data: Mapping[str, Any]) -> FigurePlace:
        """Return the place with the unit and the currency that an object states for its figures."""
        measure, currency = data.get("unit") or self.measure, data.get("currency") or self.currency
        return self._replace(measure=measure, currency=currency)


Row = tuple[str, str, str, str, str, str]


def csv_text(data: Mapping[str, Any]) -> str:
    """Return an answer's object as records with CRLF."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in _rows_of(data):
        writer.writerow(map(cell_text, row))
    return stream.getvalue()


def _rows_of(data: Mapping[str, Any]) -> Iterator[Row]:
    """Yield a row for each figure of an answer; what is null has none."""
    batches = data.get("batches", ())
    rest = {key: value for key, value in data.items() if key not in {"kind", "version", "batches"}}
    for batch in batches:
        yield from _rows(batch, FigurePlace(str(batch["recipe"])))
    name = rest.get("name")
    place = FigurePlace(name if isinstance(name, str) else str(data["kind"]))
    costs = [batch["cost"] for batch in batches if batch["cost"]]
    yield from _rows(rest, place.beside(costs[0]) if costs else place)


def _rows(data: Mapping[str, Any], place: FigurePlace) -> Iterator[Row]:
    place = place.beside(data)
    for key, value in data.items():
        names_it = not place.figure and key in NAMES and str(value) == place.item
        if key in BESIDE or names_it:
            continue
        if isinstance(value, dict):
            yield from _rows(value, place.at(key))
        elif isinstance(value, list | tuple):
            yield from _listed(key, value, place)
        elif value is not None:
            yield _row(key, value, place, data)


def _listed(key: str, values: list[Any] | tuple[Any, ...], place: FigurePlace) -> Iterator[Row]:
    """Yield the rows of a list: its objects are items of a section, or parts of an item."""
    inside = place.at(key)
    for i, (name, value) in enumerate(zip(_named(values), values, strict=True), 1):
        if not isinstance(value, dict):
            yield _row(f"{key} {i}" if len(values) > 1 else key, value, place, {})
        elif inside.item or place.section:
            yield from _rows(value, inside._replace(figure=f"{inside.figure} {i}"))
        else:
            page = value["recipe"] if value.get("recipe") and "name" in value else place.page
            yield from _rows(value, inside._replace(page=str(page), item=name))


def _named(values: list[Any] | tuple[Any, ...]) -> Iterator[str]:
    """Yield a name for each object of a list, numbered where it was met before."""
    met: dict[str, int] = {}
    for i, value in enumerate(values, 1):
        name = _name(value, i) if isinstance(value, dict) else str(i)
        met[name] = met.get(name, 0) + 1
        yield name if met[name] == 1 else f"{name} ({met[name]})"


def _name(data: Mapping[str, Any], number: int) -> str:
    named = next((str(data[key]) for key in NAMES if data.get(key) is not None), "")
    if (size := data.get("diameter_mm")) is not None:
        return f"{named} {size:g} mm".strip()
    return named or str(number)


def _row(key: str, value: Any, place: FigurePlace, beside: Mapping[str, Any]) -> Row:
    figure, unit = _unit_of(key, place)
    figure = key if figure in beside else figure
    text = _value(value)
    if key in STATED and isinstance(value, str) and (found := _MEASURED.fullmatch(value)):
        text, unit = found.groups()
    figure = f"{place.figure} {figure}".strip()
    return place.page, place.section, place.item, figure, text, unit


def _unit_of(key: str, place: FigurePlace) -> tuple[str, str]:
    """Return a key without the unit that it ends in, and that unit."""
    bare = key.partition(" ")[0]
    if bare in MONEY:
        return key, place.currency
    if bare in UNITS:
        return key, UNITS[bare]
    if bare in BY_MEASURE:
        return key, place.measure
    for suffix, unit in SUFFIXES.items():
        if key.endswith(suffix):
            return key.removesuffix(suffix), unit
    return key, ""


def _value(value: Any) -> str:
    """Return a bare number, or a word."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return format(Decimal(repr(value)), "f").removesuffix(".0")  # never with an exponent
    return str(value)


def cell_text(text: str) -> str:
    """Return a cell that no spreadsheet takes for a formula, also where it splits it once more."""
    # before the cleaning, so that a tab is still seen, and after it, as what was parted stands joined
    return _defused(clean(_defused(text)))


def _defused(text: str) -> str:
    return "".join(f"'{part}" if _is_formula(part) else part for part in _SPLIT.split(text))


def _is_formula(text: str) -> bool:
    """Tell whether text begins like a formula, its sign in any form and behind what is not seen."""
    first = next((c for c in text if category(c)[0] not in "CZM" and c not in _FILLERS), "")
    sign = normalize("NFKC", first) in {"=", "+", "-", "@"}
    return sign and not _NUMBER.fullmatch(text.strip(" "))
