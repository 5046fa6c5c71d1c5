"""bench.yaml: the kitchen's tools, and what they hold."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import Field, model_validator

from eggfold.amounts import Amount, AmountError, parse_amount
from eggfold.files.model import (
    Name,
    Reads,
    StrictModel,
    a_number,
    a_whole,
    an_amount,
    in_range,
    problem,
)
from eggfold.files.reading import Placed, Reading, read_model
from eggfold.units import NoSuchMeasureError, amount_in

_PACE = re.compile(r"(.+?) per h(?:our)?")


def _pace(text: str) -> Amount:
    """Read kilos an hour, as in ``1.5 kg per hour``."""
    match = _PACE.fullmatch(" ".join(text.split()))
    if match is None:
        raise AmountError("not-a-pace", f"'{text[:40]}' is not a pace", "1.5 kg per hour")
    return in_range(parse_amount(match[1], "mass"), "kg", 0.1, 50)


Pace = Annotated[Amount, Reads(_pace, type="string", examples=["1.5 kg per hour"])]
ScaleMass = Annotated[Amount, an_amount("mass", unit="g", low=0.001, high=100_000)]
SyringeVolume = Annotated[Amount, an_amount("volume", unit="ml", low=0.001, high=1000)]
SpoonVolume = Annotated[Amount, an_amount("volume", unit="ml", low=0.1, high=500)]
TrayLength = Annotated[Amount, an_amount("length", unit="mm", low=50, high=5000)]


class Scale(StrictModel):
    """A scale: what it can tell apart, and the most it takes."""

    division: ScaleMass
    up_to: ScaleMass
    name: Name | None = None

    @model_validator(mode="after")
    def _takes_its_division(self) -> Scale:
        if not _less(self.division, self.up_to):
            raise problem("tool-marks", "the scale takes less than it tells apart", key="up_to")
        return self


class Syringe(StrictModel):
    """A syringe: its size, and from mark to mark."""

    size: SyringeVolume
    division: SyringeVolume

    @model_validator(mode="after")
    def _holds_its_division(self) -> Syringe:
        if not _less(self.division, self.size):
            raise problem(
                "tool-marks", "the syringe holds less than one of its marks", key="division"
            )
        return self


def _less(small: Amount, big: Amount) -> bool:
    unit = "g" if small.dimension == "mass" else "ml"
    try:
        return amount_in(small, unit) <= amount_in(big, unit)
    except NoSuchMeasureError:
        return True


class Trays(StrictModel):
    """Drying trays of one size."""

    count: Annotated[int, a_whole(1, 1000)]
    length: TrayLength
    width: TrayLength


class BenchFile(StrictModel):
    """The kitchen: what doses are measured with, and what bowl, pan, trays and freezer hold."""

    scales: Annotated[tuple[Scale, ...], Field(strict=False)] | None = None
    syringes: Annotated[tuple[Syringe, ...], Field(strict=False)] | None = None
    spoons: Annotated[tuple[SpoonVolume, ...], Field(strict=False)] | None = None
    drops_per_ml: Annotated[float, a_number(5, 100, "drops")] | None = None
    bowl: Annotated[Amount, an_amount("mass", unit="g", low=50, high=100_000)] | None = None
    pan: Annotated[Amount, an_amount("volume", unit="l", low=0.5, high=500)] | None = None
    burner: Annotated[Amount, an_amount("power", unit="kW", low=0.2, high=60)] | None = None
    trays: Trays | None = None
    freezer: Annotated[Amount, an_amount("volume", unit="l", low=1, high=10_000)] | None = None
    altitude: Annotated[Amount, an_amount("length", unit="m", low=0, high=5000)] | None = None
    pace: Pace | None = None
    people: Annotated[int, a_whole(1, 50)] | None = None


def read_bench(placed: Placed) -> Reading[BenchFile]:
    """Read bench.yaml, with every problem in it."""
    return read_model(BenchFile, placed, {}, None)
