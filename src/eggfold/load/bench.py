"""bench.yaml: the kitchen's tools, and what they hold."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import Field, model_validator

from eggfold.amounts import Amount, AmountError, parse_amount, parse_number
from eggfold.errors import in_quotes
from eggfold.load.fields import (
    DryingTime,
    Name,
    OneOrMany,
    Reads,
    StrictModel,
    a_number,
    a_whole,
    an_amount,
    in_range,
    problem,
)
from eggfold.units import amount_in

_PACE = re.compile(r"(.+?) ?(?:per|/|an?) ?h(?:our)?")
_CORK_PACE = re.compile(r"([0-9][0-9.,]*)(?: ?(?:per|an|/) ?h(?:our)?)?")
_NUMBER = re.compile(r"[0-9]{1,4}(?:\.[0-9]{1,4})?(?![0-9.,])")


def _pace(text: str) -> Amount:
    """Read kilos an hour, as in ``1.5 kg per hour``."""
    return in_range(parse_amount(_an_hour(text, _PACE, "1.5", "kg"), "mass"), "kg", 0.1, 50)


def _cork_pace(text: str) -> float:
    """Read baits an hour, as in ``60 per hour``."""
    pace = parse_number(_an_hour(text, _CORK_PACE, "60", ""))
    if not 5 <= pace <= 1000:
        raise AmountError("out-of-range", f"{text} is outside what is possible here", "5 to 1000")
    return pace


def _an_hour(text: str, written: re.Pattern[str], usual: str, unit: str) -> str:
    """Return what is done in an hour, as it is written before ``per hour``."""
    if match := written.fullmatch(" ".join(text.split())):
        return match[1]
    number = _NUMBER.match(text.strip())
    hint = " ".join((number[0] if number else usual, *unit.split(), "per hour"))
    raise AmountError("not-a-pace", f"{in_quotes(text)} is not a pace", hint)


CorkPace = Annotated[
    float, Reads(_cork_pace, ("number",), ("cork pace",), type="number", examples=["60 per hour"])
]
Pace = Annotated[Amount, Reads(_pace, ("pace",), examples=["1.5 kg per hour"])]
ScaleMass = Annotated[Amount, an_amount("mass", unit="g", low=0.001, high=100_000)]
MarkedSize = Annotated[Amount, an_amount("volume", unit="ml", low=0.001, high=5000)]
SpoonVolume = Annotated[Amount, an_amount("volume", unit="ml", low=0.1, high=500)]
TrayLength = Annotated[Amount, an_amount("length", unit="mm", low=50, high=5000)]


class Scale(StrictModel):
    """A scale: what it can tell apart, and the most it takes."""

    division: ScaleMass
    """What it can tell apart."""
    up_to: ScaleMass
    """The most it takes."""
    name: Name | None = None
    """What you call it."""

    @model_validator(mode="after")
    def _takes_its_division(self) -> Scale:
        if not _at_most(self.division, self.up_to):
            raise problem("tool-marks", "the scale takes less than it tells apart", key="up_to")
        return self


class MarkedVolume(StrictModel):
    """A syringe or a jug: its size, and from mark to mark."""

    size: MarkedSize
    """What it holds."""
    division: MarkedSize
    """From one mark to the next."""

    @model_validator(mode="after")
    def _holds_its_division(self) -> MarkedVolume:
        if not _at_most(self.division, self.size):
            raise problem("tool-marks", "it holds less than one of its marks", key="division")
        return self


PanSize = Annotated[Amount, an_amount("volume", unit="l", low=0.5, high=500)]


Pans = Annotated[tuple[PanSize, ...], Field(strict=False, max_length=20), OneOrMany(object)]


def _at_most(small: Amount, big: Amount) -> bool:
    unit = "g" if small.dimension == "mass" else "ml"
    return amount_in(small, unit) <= amount_in(big, unit)


class TraySet(StrictModel):
    """Drying trays of one size."""

    count: Annotated[int, a_whole(1, 1000)]
    """How many."""
    length: TrayLength
    """The length of one."""
    width: TrayLength
    """The width of one."""


class BenchFile(StrictModel):
    """The kitchen: what doses are measured with, and what bowl, pan, trays and freezer hold."""

    scales: Annotated[tuple[Scale, ...], Field(strict=False)] | None = None
    """Your scales; they replace the built-in ones."""
    syringes: Annotated[tuple[MarkedVolume, ...], Field(strict=False)] | None = None
    """Your syringes; they replace the built-in ones."""
    jug: MarkedVolume | None = None
    """Your measuring jug."""
    spoons: Annotated[tuple[SpoonVolume, ...], Field(strict=False)] | None = None
    """What your spoons hold; they replace the built-in ones."""
    drops_per_ml: Annotated[float, a_number(5, 100, "drops")] | None = None
    """What your dropper gives to a millilitre."""
    bowl: Annotated[Amount, an_amount("mass", unit="g", low=50, high=100_000)] | None = None
    """The paste your bowl takes."""
    pan: Pans | None = None
    """The water in your pan; of several, listed, a load fits the smallest."""
    burner: Annotated[Amount, an_amount("power", unit="kW", low=0.2, high=60)] | None = None
    """The burner under the pan; with it the wait between loads is worked out."""
    trays: TraySet | None = None
    """The trays baits dry on."""
    freezer: Annotated[Amount, an_amount("volume", unit="l", low=1, high=10_000)] | None = None
    """The room in your freezer."""
    drying: DryingTime | None = None
    """How long baits dry in one layer."""
    altitude: Annotated[Amount, an_amount("length", unit="m", low=0, high=5000)] | None = None
    """Your kitchen above the sea; water boils cooler up there."""
    pace: Pace | None = None
    """What one person rolls, as in 1.5 kg per hour."""
    cork_pace: CorkPace | None = None
    """Baits on cork that one person moulds by hand, as in 60 per hour."""
    people: Annotated[int, a_whole(1, 50)] | None = None
    """How many roll."""
