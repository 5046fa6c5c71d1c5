"""Plans as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.engine.session import STATIONS
from eggfold.formats.batch_json import batch_data
from eggfold.formats.json import (
    Data,
    assumptions_data,
    cautions_data,
    companions_data,
    money_data,
)
from eggfold.formats.shopping_json import item_data
from eggfold.plan.remedies import Remedy
from eggfold.plan.timetable import isoformat

if TYPE_CHECKING:
    from datetime import datetime

    from eggfold.plan.campaign import Piece, RollingDay, SeasonPlan, TripPlan
    from eggfold.plan.plan_bowls import Bowl
    from eggfold.plan.rolling import Rolling, Room
    from eggfold.plan.season_card import SeasonCard
    from eggfold.plan.steps import Step
    from eggfold.plan.trip_demand import Portion
    from eggfold.stock.cost import BatchCost


def rolling_document(rolling: Rolling) -> Data:
    """Return the object of ``rolling``."""
    zone = rolling.zone

    def at(moment: datetime | None) -> str | None:
        return None if moment is None else isoformat(moment, zone)

    days = {
        rolling.bowls[i].number: rolling.session.clock.moment(day.run.starts[0])
        for day in rolling.days
        for i in day.bowls
    }
    return {
        "kind": "rolling",
        "version": 1,
        "name": rolling.name,
        "file": rolling.file,
        "zone": zone,
        "people": list(rolling.people),
        "fits": rolling.fits,
        "bowls": [{**_bowl(b), "day": days[b.number].date().isoformat()} for b in rolling.made],
        "left_out": [_bowl(b) for b in rolling.left_out],
        "eggs_short": rolling.eggs_short,
        "changes": [*(_change(c) for c in rolling.changes), *_freezer_change(rolling)],
        "steps": [_step(s, rolling) for s in rolling.steps],
        "finish": [
            {"expected": at(f.expected), "early": at(f.early), "late": at(f.late)}
            for f in rolling.finish
            if f
        ],
        "bottleneck": (*STATIONS, "people")[rolling.bottleneck] if rolling.made else None,
        "bounds": [
            {"what": what, "work_s": b.work_s, "earliest_s": b.earliest_s}
            for what, b in zip((*STATIONS, "people"), rolling.bounds, strict=True)
        ],
        "savings": [{"what": s.what, "saves_s": s.seconds} for s in rolling.savings],
        "trays": {**_room(rolling.trays_m2, "m2"), "free": at(rolling.trays_free)},
        "freezer": _room(rolling.freezer_l, "l"),
        "shopping": [item_data(item) for item in rolling.shopping],
        "cautions": cautions_data(rolling.cautions),
        "assumptions": assumptions_data(rolling.assumptions),
        "companions": companions_data(rolling.companions),
    }


def _step(step: Step, rolling: Rolling) -> Data:
    return {
        "what": step.what,
        "who": None if step.who is None else rolling.people[step.who],
        "bowls": list(step.bowls),
        "load": step.load,
        "start": isoformat(step.start, rolling.zone),
        "end": isoformat(step.end, rolling.zone),
    }


def _room(room: Room, unit: str) -> Data:
    return {f"needed_{unit}": room.needed, f"have_{unit}": room.have}


def _freezer_change(rolling: Rolling) -> list[Data]:
    """Return how much more freezer holds everything, where it is short."""
    litres = rolling.freezer_l.short
    return [{**_change(Remedy("freezer")), "freezer_l": litres}] if litres else []


def _change(change: Remedy) -> Data:
    return {
        "what": change.what,
        "seconds": change.seconds or None,
        "days": change.days or None,
        "trays": change.trays or None,
        "area_m2": change.area_m2 or None,
        "freezer_l": None,
    }


def _bowl(bowl: Bowl) -> Data:
    batch = batch_data(bowl.batch)
    keys = ("recipe", "file", "strength", "eggs", "doses", "powder", "paste", "baits")
    return {
        "number": bowl.number,
        **{key: batch[key] for key in keys},
        "tray_m2": bowl.area_m2,
        "freezer_l": bowl.freezer_l,
        "loads": [
            {
                "number": b.number,
                "kind": b.kind,
                "diameter_mm": b.diameter_mm,
                "paste_g": b.paste_g,
                "baits": b.baits,
                "boil_s": b.boil_s,
                "wait_s": b.wait_s,
            }
            for b in bowl.baskets
        ],
    }


def campaign_document(season: SeasonPlan) -> Data:
    """Return the object of ``campaign``."""
    return {
        "kind": "campaign",
        "version": 1,
        "name": season.name,
        "file": season.file,
        "zone": season.zone,
        "people": list(season.people),
        "rolling_days": [_day(day, season) for day in season.days],
        "trips": [_trip(trip, season) for trip in season.trips],
        "levels": [
            {"moment": isoformat(v.moment, season.zone), "freezer_l": v.litres}
            for v in season.levels
        ],
        "freezer": _room(season.freezer_l, "l"),
        "trays": _room(season.trays_m2, "m2"),
        "purchases": [
            {"day": p.day, "upto": p.upto, "items": [item_data(item) for item in p.items]}
            for p in season.buying.purchases
        ],
        "shelf": [
            {
                "day": level.day,
                "left": [{"name": n, "left": a, "unit": unit} for n, a, unit in level.left],
            }
            for level in season.buying.levels
        ],
        "currency": season.total.currency,
        "cost": money_data(season.total.cost),
        "cards": [_card(card) for card in season.cards],
        "cautions": cautions_data(season.cautions),
        "assumptions": assumptions_data(season.assumptions),
        "companions": companions_data(season.companions),
    }


def _day(day: RollingDay, season: SeasonPlan) -> Data:
    return {
        "day": day.day,
        "start": isoformat(day.start, season.zone),
        "end": isoformat(day.end, season.zone),
        "bagged": isoformat(day.bagged, season.zone),
        "bowls": [_bowl(b) for b in day.bowls],
        "for": [_piece(p, season.portions[p.portion]) for p in day.pieces],
    }


def _piece(piece: Piece, portion: Portion) -> Data:
    return {
        "trip": portion.trip,
        "recipe": portion.whole.recipe,
        "strength": portion.kind.strength,
        "eggs": piece.eggs,
        "frozen": piece.frozen,
    }


def _trip(trip: TripPlan, season: SeasonPlan) -> Data:
    return {
        "trip": season.portions[trip.portions[0]].trip,
        "name": trip.trip.name,
        "leave": isoformat(trip.leave, season.zone),
        "back": trip.trip.back,
        "thaw": isoformat(trip.thaw, season.zone),
        "takes": [_taken(season.portions[j], season.costs[j]) for j in trip.portions],
        "cost": _trip_cost([season.costs[j] for j in trip.portions]),
    }


def _trip_cost(costs: list[BatchCost | None]) -> float | None:
    """Return what the material of a trip costs, None where no price is known."""
    known = [cost.material for cost in costs if cost]
    return float(sum(known)) if known else None


def _taken(portion: Portion, cost: BatchCost | None) -> Data:
    whole = portion.whole
    return {
        "recipe": whole.recipe,
        "strength": portion.kind.strength,
        "eggs": portion.eggs,
        "finished_g": whole.paste.finished_g,
        "baits": sum(line.count for line in whole.baits),
        "cost": None if cost is None else float(cost.material),
    }


def _card(card: SeasonCard) -> Data:
    doses = []
    for one, bowl, season in zip(card.one.doses, card.bowl.doses, card.season.doses, strict=True):
        ml, g = card.per_kg_dry(season)
        doses.append(
            {
                "name": one.additive.name,
                "one_egg": {"ml": one.amount.ml, "g": one.amount.g},
                "bowl": {"ml": bowl.amount.ml, "g": bowl.amount.g},
                "season": {"ml": season.amount.ml, "g": season.amount.g},
                "per_kg_dry": {"ml": ml, "g": g},
            }
        )
    return {
        "recipe": card.one.recipe,
        "strength": card.one.strength,
        "bowl_eggs": card.bowl.eggs,
        "season_eggs": card.season.eggs,
        "doses": doses,
        "base_mix": card.one.powder.base_mix,
        "base_mix_g": {
            "one_egg": card.one.powder.base_mix_g,
            "bowl": card.bowl.powder.base_mix_g,
            "season": card.season.powder.base_mix_g,
        },
    }
