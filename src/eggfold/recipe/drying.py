"""How baits dry: the hours, what steams off, how fast water moves, or a loss of the user's own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.engine.drying import DryingLoss, drying_loss
from eggfold.recipe.assumptions import Assumption, Defaults
from eggfold.records import NamedTuple
from eggfold.reference.defaults import DRYING_LOSS_RANGE, REST_WATER_PER_DRY

if TYPE_CHECKING:
    from eggfold.recipe.bench import Bench


class Drying(NamedTuple):
    """How baits dry where they are laid out; a stated share of weight lost beats the rest."""

    hours: float
    steam_share: float
    diffusivity_m2_s: float
    stated_share: float | None = None
    assumptions: tuple[Assumption, ...] = ()

    def loss(
        self, diameter_mm: float, water_share: float, own_h: float | None = None
    ) -> DryingLoss:
        """Return what a size loses of its paste's weight, after hours of its own or those of all."""
        if self.stated_share is not None:
            return DryingLoss(self.stated_share, self.stated_share, self.stated_share)
        return drying_loss(
            diameter_mm,
            self.hours if own_h is None else own_h,
            water_share,
            steam_share=self.steam_share,
            diffusivity_m2_s=self.diffusivity_m2_s,
        )


def drying_of(defaults: Defaults, bench: Bench, hours: float | None = None) -> Drying:
    """Return how baits dry: for the hours of a plan or a noted bowl, else the bench's."""
    stated = defaults.own.drying_loss if defaults.own else None
    steam, diffusivity = defaults.value("steam_loss"), defaults.value("drying_diffusivity")
    dried_h = bench.drying_h if hours is None else hours
    origin = bench.origin("drying") if hours is None else "yours"
    told = Assumption("drying in one layer", f"{dried_h:g} h", origin)
    if stated is not None:
        own = Assumption("weight lost in drying", f"{stated:g} %", "yours")
        return Drying(dried_h, steam.share, diffusivity.value * 1e-12, stated / 100, (told, own))
    low, high = DRYING_LOSS_RANGE
    rest = f"{REST_WATER_PER_DRY:g} g per g dry"
    return Drying(
        dried_h,
        steam.share,
        diffusivity.value * 1e-12,
        None,
        (
            told,
            steam.assumption,
            diffusivity.assumption,
            Assumption("water that stays in a dried bait", rest, "house default"),
            Assumption("a drying loss may be, times", f"{low:g} to {high:g}", "house default"),
        ),
    )
