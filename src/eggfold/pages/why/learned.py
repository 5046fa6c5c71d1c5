"""How a figure came about that the user's own notes have moved."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.why.sums import added, got, put

if TYPE_CHECKING:
    from eggfold.jobs.bowl.learnt import Figure


def learned_lines(what: str, figure: Figure) -> Iterator[str]:
    """Yield how the user's own notes moved a figure; nothing where there are none."""
    if figure.prior is None or not figure.prior[1]:
        return
    for bowl, seen in zip(figure.weighed, figure.seen, strict=False):
        yield (
            f"{what} of {bowl.where} = dry mix / wet = {put(bowl.dry_g)} / {put(bowl.wet_g)} = "
            f"{got(seen.value)}; its sd = √(bowl to bowl² + (scale / (√6 × wet))²) = "
            f"√({put(figure.bowl_sd)}^2 + ({put(bowl.scale_g)} / (√6 × {put(bowl.wet_g)}))^2) = "
            f"{got(seen.sd)}"
        )
    everything = (figure.prior, *figure.seen)
    tops = added(f"{put(value)} / {put(sd)}^2" for value, sd in everything)
    bottoms = added(f"1 / {put(sd)}^2" for _, sd in everything)
    sd = figure.sd / figure.widened
    yield (
        f"{what} after the notes, each counted by 1 / sd² = ({tops}) / ({bottoms}) = "
        f"{got(figure.mean)}; its sd = √(1 / ({bottoms})) = {got(sd)}"
    )
    if figure.widened > 1:
        squares = added(
            f"(({put(max(value, figure.mean))} − {put(min(value, figure.mean))}) / {put(sd_)})^2"
            for value, sd_ in everything
        )
        yield (
            f"{what}: the notes disagree by more than their sds allow, spread = √(({squares}) / "
            f"{len(figure.seen)}) = {got(figure.widened)}; sd × spread (Birge ratio) = {put(sd)} × "
            f"{put(figure.widened)} = {got(figure.sd)}"
        )
