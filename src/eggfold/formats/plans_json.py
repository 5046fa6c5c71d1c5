"""Plans as JSON: what the encoder alone cannot name, as people, portions and stations stand by number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.formats.json import Data, data_of, document
from eggfold.plan.remedies import Remedy
from eggfold.recipe.batch import tally
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.plan.campaign import Compared, Piece, RollingDay, SeasonCard, SeasonPlan, TripPlan
    from eggfold.plan.plan_bowls import PlanBowl
    from eggfold.plan.rolling import BowlDay, Rolling, Step
    from eggfold.plan.trip_demand import Bring, Portion


def rolling_document(rolling: Rolling) -> Data:
    """Return the object of ``rolling``."""
    times = rolling.times
    return document("rolling", rolling) | {
        "bowls": [_made(b, times[b.number], rolling) for b in rolling.made],
        "left_out": [_bowl(b) for b in rolling.left_out],
        "changes": [*(_change(c) for c in rolling.changes), *_freezer_change(rolling)],
        "steps": [_step(s, rolling) for s in rolling.steps],
        "finish": [data_of(finish) for finish in rolling.finish if finish],
        "checks": [data_of(check) for check in rolling.checks if check],
        "bottleneck": rolling.bottleneck.what if rolling.made else None,
    }


def _made(bowl: PlanBowl, times: BowlDay, rolling: Rolling) -> Data:
    """Return a bowl that is made, with its day, who has the pan and its longest waits."""
    person = times.pan_person
    return {
        **_bowl(bowl),
        "day": times.mix_start.date().isoformat(),
        "pan_person": None if person is None else rolling.people[person],
        "stands_s": times.stands_s,
        "raw_s": times.raw_s,
    }


def _step(step: Step, rolling: Rolling) -> Data:
    who = None if step.who is None else rolling.people[step.who]
    return {**data_of(step), "who": who}


def _freezer_change(rolling: Rolling) -> list[Data]:
    """Return how much more freezer holds everything, where it is short."""
    litres = rolling.freezer_l.short
    return [{**_change(Remedy("freezer")), "freezer_l": litres}] if litres else []


def _change(change: Remedy) -> Data:
    amounts = {key: value or None for key, value in data_of(change).items()}
    return {**amounts, "freezer_l": None}


def _bowl(bowl: PlanBowl) -> Data:
    batch = data_of(bowl.batch)
    keys = ("recipe", "file", "strength", "eggs", "doses", "powder", "paste", "baits", "soak")
    return {"number": bowl.number, **{key: batch[key] for key in keys}, **data_of(bowl)}


def campaign_document(season: SeasonPlan) -> Data:
    """Return the object of ``campaign``."""
    return document("campaign", season) | {
        "rolling_days": [_day(day, season) for day in season.days],
        "trips": [_trip(trip, season) for trip in season.trips],
        "shelf": [
            {
                "day": level.day,
                "left": [{"name": n, "left": a, "unit": unit} for n, a, unit in level.left],
            }
            for level in season.buying.levels
        ],
        "cards": [_card(card) for card in season.cards],
        "what_if": _what_if(season.compared),
    }


def _day(day: RollingDay, season: SeasonPlan) -> Data:
    return {
        **data_of(day),
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
    costs = [season.costs[j] for j in trip.portions]
    known = [cost.material for cost in costs if cost]
    return {
        **data_of(trip),
        "brings": [_brought(bring, season) for bring in trip.brings],
        "cost": float(sum(known)) if known else None,
    }


def _brought(bring: Bring, season: SeasonPlan) -> Data:
    """Return one thing that a trip takes: in all, and what of it is in hand."""
    cost = None if bring.portion is None else season.costs[bring.portion]
    portion = None if bring.portion is None else season.portions[bring.portion]
    rolled_g = portion.whole.paste.finished_g if portion else 0.0
    made = tally([portion.whole] if portion else [])
    in_hand = bring.in_hand_g / bring.want.each_g
    return {
        "recipe": bring.whole.recipe,
        "strength": bring.kind.strength,
        "eggs": portion.eggs if portion else 0,
        "finished_g": rolled_g + bring.in_hand_g,
        "from_shelf_g": bring.in_hand_g,
        "missing_g": bring.missing_g,
        "baits": round(made.expected + in_hand),
        "baits_low": round(made.low + in_hand),
        "baits_high": round(made.high + in_hand),
        "cost": None if cost is None else float(cost.material),
    }


def _what_if(compared: Compared | None) -> Data | None:
    if compared is None:
        return None
    asked = compared.asked
    return {
        "skip": list(asked.skip),
        "more": [{"trip": trip, "bait_g": amount_in(amount, "g")} for trip, amount in asked.more],
        "without": list(asked.without),
        "plain": data_of(compared.plain),
    }


def _card(card: SeasonCard) -> Data:
    doses = []
    for one, bowl, season in zip(card.one.doses, card.bowl.doses, card.season.doses, strict=True):
        ml, g = card.per_kg_dry(season)
        doses.append(
            {
                "name": one.additive.name,
                "one_egg": data_of(one.amount),
                "bowl": data_of(bowl.amount),
                "season": data_of(season.amount),
                "per_kg_dry": {"ml": ml, "g": g},
            }
        )
    return {**data_of(card), "doses": doses}
