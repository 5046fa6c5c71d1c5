"""The system of equations that predicts a blend, for ``--why``."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.sums import added, fine, got, put, without_sum
from eggfold.reference.learning import BLEND_SD, INGREDIENT_SD, LEAST_MIX_SD

if TYPE_CHECKING:
    from eggfold.engine.powder import BlendEstimate, Neighbour

MOST_ROWS = 6
"""Mixes up to which every row of the system is shown; of more only what they do; house limit."""


def blend_lines(estimate: BlendEstimate) -> Iterator[str]:
    """Yield what each mix takes, what it shares, how far it pulls, and what follows."""
    k0 = put(estimate.default)
    yield (
        f"Usual wet for a gram of dry, κ0 = 1 / usual absorbency = 1 / {put(1 / estimate.default)} = "
        f"{got(estimate.default)}"
    )
    for one in estimate.neighbours:
        yield from _mix_lines(one)
    if len(estimate.neighbours) <= MOST_ROWS:
        yield from _system(estimate)
    moved = added(f"{put(n.pull)} × ({put(n.mix.wet_per_dry)} − {k0})" for n in estimate.neighbours)
    yield f"Wet of the blend = κ0 + Σ pull × (wet − κ0) = {k0} + {moved} = {got(estimate.mean)}"
    taken = estimate.taken
    if taken.cut:
        yield without_sum(
            "Wet of the blend, kept within bounds",
            got(taken.wet_per_dry),
            f"no blend is taken to ask under half or over twice κ0; its doubt is {taken.sd:.0%}",
        )
    yield (
        f"Absorbency = 1 / wet of the blend = 1 / {put(taken.wet_per_dry)} = "
        f"{got(estimate.absorbency)} g of dry mix per g of wet"
    )
    yield without_sum(
        "Doubt about it, 1 sd",
        f"{100 * taken.sd:.3g} %",
        f"the variance is (0.25 κ0)² × Σ share² − Σ pull × k + ({BLEND_SD:g} κ0)², "
        "and its root over the wet is kept within 5 and 25 %",
    )


def _mix_lines(one: Neighbour) -> Iterator[str]:
    name, mix = one.mix.name, one.mix
    yield (
        f"{name}: wet = 1 / its absorbency = 1 / {put(1 / mix.wet_per_dry)} = {got(mix.wet_per_dry)}"
    )
    sd = max(LEAST_MIX_SD, mix.sd)
    yield f"{name}: σ = its doubt × wet = {put(sd)} × {put(mix.wet_per_dry)} = {got(one.sigma)}"


def _system(estimate: BlendEstimate) -> Iterator[str]:
    """Yield K, k and the pulls, each row to be checked."""
    tau2 = f"({INGREDIENT_SD:g} κ0)²"
    for row, one in zip(estimate.matrix, estimate.neighbours, strict=True):
        yield without_sum(
            f"{one.mix.name}: its row of K and its k",
            f"{', '.join(fine(value, 6) for value in row)} and {fine(one.shared, 6)}",
            f"{tau2} × Σ share × share of each two mixes, σ² more with itself; k likewise with the "
            "blend",
        )
    for row, one in zip(estimate.matrix, estimate.neighbours, strict=True):
        terms = added(
            f"{put(value)} × {put(other.pull)}"
            for value, other in zip(row, estimate.neighbours, strict=True)
        )
        yield f"{one.mix.name}: its row × the pulls gives its k = {terms} = {got(one.shared)}"
