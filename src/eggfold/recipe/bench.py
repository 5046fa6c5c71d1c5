"""The kitchen a batch is made in: the user's bench file, and the built-in bench for the rest."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.recipe.asked import Assumption
from eggfold.records import NamedTuple
from eggfold.reference.defaults import DEFAULT_ALTITUDE_M, Origin
from eggfold.reference.measures import (
    BOWL_G,
    BUILT_IN,
    DROP_DIVISION,
    DROPPER,
    PACE_KG_H,
    PAN_L,
    PEOPLE,
    SCALES,
    SPOON_DIVISION,
    SPOONS,
    SYRINGES,
    Tool,
)
from eggfold.reference.session import CORK_PACE_PER_H, DRYING_S
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.load.bench import BenchFile, Scale

KINDS = {
    "scales": "scale",
    "syringes": "syringe",
    "jug": "jug",
    "spoons": "spoon",
    "drops_per_ml": "dropper",
}
"""The kind of tool of each key of a bench file."""
MAIN_KINDS = ("scales", "syringes")
"""Kinds that are told where they are built in."""


class Trays(NamedTuple):
    """Drying trays: how many, and the area of each [m²]."""

    number: int
    each_m2: float


class Bench(NamedTuple):
    """Tools for doses, and what bowl, pan, burner, trays and freezer can do.

    ``own`` names the keys that the user's file states; the rest is built in.
    """

    tools: tuple[Tool, ...] = BUILT_IN
    bowl_g: float = BOWL_G
    pans_l: tuple[float, ...] = (PAN_L,)
    burner_w: float | None = None
    trays: Trays | None = None
    freezer_l: float | None = None
    altitude_m: float = DEFAULT_ALTITUDE_M
    drying_h: float = DRYING_S / 3600
    pace_kg_h: float = PACE_KG_H
    cork_pace_h: float = CORK_PACE_PER_H
    people: int = PEOPLE
    own: frozenset[str] = frozenset()

    @property
    def pan_l(self) -> float:
        """The smallest pan: what a load must fit."""
        return min(self.pans_l)

    def origin(self, key: str) -> Origin:
        """Return whose figure a key is."""
        return "yours" if key in self.own else "house default"

    def in_words(self, key: str) -> str:
        """Return the tools of a kind by its key in the bench file, for what was assumed."""
        tools = [t for t in self.tools if t.kind == KINDS[key]]
        if key == "drops_per_ml":
            return f"{1 / self.drop_ml:g}"
        if key == "scales":
            return " and ".join(f"{t.division:g} g to {_kilos(t.capacity)}" for t in tools)
        return f"{', '.join(f'{t.capacity:g}' for t in tools)} ml" if tools else "none"

    @property
    def bowl_assumption(self) -> Assumption:
        """What one bowl holds."""
        return Assumption("bowl", f"{self.bowl_g / 1000:.4g} kg of paste", self.origin("bowl"))

    @property
    def drop_ml(self) -> float:
        """One drop of the user's dropper, or of water [ml]."""
        return next(t.capacity for t in self.tools if t.kind == "dropper")

    @property
    def tool_assumptions(self) -> tuple[Assumption, ...]:
        """Which tools the doses are measured with."""
        own = [key for key in KINDS if key in self.own]
        mine = [Assumption(key.replace("_", " "), self.in_words(key), "yours") for key in own]
        told = [f"{key} {self.in_words(key)}" for key in MAIN_KINDS if key not in own]
        built_in = [Assumption("tools", "; ".join(told), "house default")] if told else []
        return (*mine, *built_in)


BUILT_IN_BENCH = Bench()


def build_bench(file: BenchFile | None) -> Bench:
    """Return the bench of a file; what it does not state is built in."""
    if file is None or not file.model_fields_set:
        return BUILT_IN_BENCH
    return Bench(
        tools=_tools(file),
        bowl_g=amount_in(file.bowl, "g") if file.bowl else BOWL_G,
        pans_l=tuple(amount_in(pan, "l") for pan in file.pan) if file.pan else (PAN_L,),
        burner_w=amount_in(file.burner, "kW") * 1000 if file.burner else None,
        trays=_trays(file),
        freezer_l=amount_in(file.freezer, "l") if file.freezer else None,
        drying_h=amount_in(file.drying, "h") if file.drying else DRYING_S / 3600,
        altitude_m=amount_in(file.altitude, "m") if file.altitude else DEFAULT_ALTITUDE_M,
        pace_kg_h=amount_in(file.pace, "kg") if file.pace else PACE_KG_H,
        cork_pace_h=file.cork_pace or CORK_PACE_PER_H,
        people=file.people or PEOPLE,
        own=frozenset(
            key
            for key in file.model_fields_set
            if getattr(file, key) is not None and (key != "scales" or file.scales)
        ),
    )


def _trays(file: BenchFile) -> Trays | None:
    if file.trays is None:
        return None
    area = amount_in(file.trays.length, "m") * amount_in(file.trays.width, "m")
    return Trays(file.trays.count, area)


def _tools(file: BenchFile) -> tuple[Tool, ...]:
    """Return the tools; a kind that the file lists replaces the built-in ones of that kind."""
    scales = SCALES if file.scales is None else tuple(_scale(s) for s in file.scales)
    syringes = SYRINGES
    if file.syringes is not None:
        pairs = [(amount_in(s.size, "ml"), amount_in(s.division, "ml")) for s in file.syringes]
        syringes = tuple(Tool(f"{c:g} ml syringe", "syringe", "ml", c, d) for c, d in pairs)
    spoons = SPOONS
    if file.spoons is not None:
        sizes = [amount_in(s, "ml") for s in file.spoons]
        spoons = tuple(
            Tool(f"{ml:g} ml spoon", "spoon", "ml", ml, ml * SPOON_DIVISION) for ml in sizes
        )
    dropper = DROPPER
    if file.drops_per_ml:
        drop = 1 / file.drops_per_ml
        dropper = Tool("dropper", "dropper", "ml", drop, drop * DROP_DIVISION)
    return (*syringes, *_jugs(file), *(scales or SCALES), *spoons, dropper)


def _jugs(file: BenchFile) -> tuple[Tool, ...]:
    if file.jug is None:
        return ()
    size, division = amount_in(file.jug.size, "ml"), amount_in(file.jug.division, "ml")
    return (Tool(f"{size:g} ml jug", "jug", "ml", size, division),)


def _scale(scale: Scale) -> Tool:
    division, up_to = amount_in(scale.division, "g"), amount_in(scale.up_to, "g")
    return Tool(scale.name or f"{division:g} g scale", "scale", "g", up_to, division)


def _kilos(g: float) -> str:
    return f"{g / 1000:g} kg" if g >= 1000 else f"{g:g} g"
