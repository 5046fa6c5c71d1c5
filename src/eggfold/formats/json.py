"""Results as JSON: one object, plain numbers, units in the keys, never NaN."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

Data = dict[str, Any]

KEYS = {
    "Against": """
        recipe=mix.recipe ratio=found.ratio evidence=found.evidence ratio_shrunk=found.ratio_shrunk
        days_together=found.days_together more_rod_hours=found.more_rod_hours""",
    "BaitLine": """
        kind diameter_mm core_mm skin_mm count low high each_g sausage_mm lift_g
        lift_low_g=floating.lift_range.low_g lift_high_g=floating.lift_range.high_g
        lift_soaked_low_g=soaked.low_g lift_soaked_high_g=soaked.high_g drying_h mass_g=baits_g
        boil.until boil.lifted_c boil.peak_c boil.water_c boil.seconds boil.worked_s boil.low_s
        boil.high_s boil.customary_s boil.loads=loads boil.load_g=load_g boil.load_count=load_count""",
    "BaitRow": """
        recipe=lot.recipe strength=lot.strength left_g=lot.left_g left_baits=lot.left_baits
        about=lot.left.rough made=lot.made state=lot.state since=lot.since counted=lot.counted
        weighed=lot.is_weighed age_days""",
    "Batch": """
        recipe file strength
        eggs.count=counted eggs.grade=egg.grade eggs.standard=egg.standard eggs.each_g=egg.each_g
        eggs.shelled_g=shelled_g eggs.boxes=boxes eggs.expected_g=poured.expected_g
        eggs.low_g=poured.low_g eggs.high_g=poured.high_g eggs.eggs_sure=sure
        trial.eggs=trial.eggs trial.shelled_g=trial.shelled_g trial.base_mix_g=trial.amount_g
        doses wet_g powder paste baits=served soak bowls cautions assumptions companions""",
    "BatchCost": "currency material per_kg per_bait unpriced",
    "Boil": """
        diameter_mm until lifted_c peak_c seconds low_s high_s customary_s biot fourier""",
    "BoilTable": "water_c=kitchen.water_c load_g rows assumptions companions",
    "PasteLine": """
        kind diameter_mm=absent core_mm=absent skin_mm=absent count=absent low=absent high=absent
        each_g=absent sausage_mm=absent lift_g=absent lift_low_g=absent lift_high_g=absent
        lift_soaked_low_g=absent lift_soaked_high_g=absent drying_h=absent mass_g boil=absent""",
    "PlanBowl": "number tray_m2=area_m2 freezer_l loads=baskets",
    "Buoyancy": """
        core_mm=bait.core_mm diameter_mm=bait.diameter_mm skin_mm=bait.skin_mm lift_g=bait.lift_g
        lift_low_g=bait.lift_range.low_g lift_high_g=bait.lift_range.high_g
        hook_g=bait.hook_g paste_density_g_ml=bait.densities.paste_g_ml
        cork_density_g_ml=bait.densities.cork_g_ml water_density_g_ml=bait.densities.water_g_ml
        neutral_skin_mm behaviour around assumptions companions""",
    "ClockLoad": """
        load=number kind=bait.kind diameter_mm=bait.diameter_mm core_mm=bait.core_mm
        load_g=bait.load_g in_s out_s wait_s""",
    "Companion": "kind file",
    "DoseLine": """
        name=additive.name form=additive.form ml=amount.ml g=amount.g trial tool=reading.in_words
        reading.amount reading.unit=reading.tool.unit error_pct=reading.error_pct over_ceiling""",
    "DoseRow": "recipe name ceiling soak",
    "DoseSheet": "rows assumptions companions",
    "EggBox": "count=number grade=egg.grade standard=egg.standard each_g=egg.each_g",
    "Finish": "expected early late",
    "Fished": "date recipe rods hours takes water_c swim remark",
    "Floating": "skin_mm diameter_mm lift_g",
    "HeldLot": """
        recipe=lot.recipe strength=lot.strength finished_g made=lot.made state=lot.state assumed
        for=goes left_g until""",
    "IngredientLine": "name percent g_per_egg wet_per_dry sd_pct note",
    "Label": """
        recipe=batch.recipe file=batch.file strength=batch.strength base_mix=batch.powder.base_mix
        sizes_mm=diameters_mm made=keeping.made
        frozen=keeping.frozen use_by=keeping.use_by use_by_origin=keeping.origin weight_g bag bags unboiled soak
        contains=declared.contains not_declared=declared.silent""",
    "Level": "moment freezer_l=litres",
    "PackLine": "pack=plain_size label=pack count=packs price",
    "Measure": "ml g",
    "Move": "what value low high on low_pct high_pct change_pct measure",
    "Outings": "recipe takes rod_hours",
    "Paste": """
        mass_g density_g_ml finished_g finished_low_g=finished.low_g finished_high_g=finished.high_g
        soaked_g""",
    "PowderResult": """
        name recipe strength analysis
        paste.protein paste.fat paste.carbohydrate paste.fibre paste.ash paste.water
        paste.density_g_ml=mixed.density_g_ml paste.salt_in_water_pct=salt_in_water_pct
        paste.sugar_in_water_pct=sugar_in_water_pct
        one_egg.base_mix_g=powder.base_mix_g one_egg.low_g=powder.base_mix_low_g
        one_egg.high_g=powder.base_mix_high_g
        cost_per_kg=price.per_kg currency=price.currency unpriced=price.unpriced
        ingredients contains not_declared notes cautions assumptions companions swapped""",
    "Problem": "file line column code severity message hint",
    "Rolling": """
        name file zone people fits bowls=made left_out eggs_short changes steps finish checks bottleneck
        bounds savings trays.needed_m2=trays_m2.needed trays.have_m2=trays_m2.have
        trays.free=trays_free freezer.needed_l=freezer_l.needed freezer.have_l=freezer_l.have
        shopping cautions assumptions companions""",
    "Remedy": "what seconds days trays area_m2",
    "RollingDay": "day start end bagged soaked bowls",
    "SeasonCard": """
        recipe=one.recipe strength=one.strength bowl_eggs=bowl.eggs season_eggs=season.eggs doses=one.doses
        base_mix=one.powder.base_mix base_mix_g.one_egg=one.powder.base_mix_g
        base_mix_g.bowl=bowl.powder.base_mix_g base_mix_g.season=season.powder.base_mix_g""",
    "SoakLine": """
        name=dose.additive.name form=dose.additive.form ml=dose.amount.ml g=dose.amount.g
        tool=dose.reading.in_words reading.amount=dose.reading.amount
        reading.unit=dose.reading.tool.unit error_pct=dose.reading.error_pct time_h=hours""",
    "Saving": "what saves_s=seconds",
    "SeasonPlan": """
        name file zone people in_hand=hand.lots over=hand.over rolling_days=days fewest trips levels
        freezer.needed_l=freezer_l.needed freezer.have_l=freezer_l.have
        trays.needed_m2=trays_m2.needed trays.have_m2=trays_m2.have
        purchases=buying.purchases shelf=buying.levels currency=total.currency cost=total.cost
        cards cautions assumptions companions""",
    "ShelfRow": "name left unit status opened use_by days_left lasts_eggs recipe",
    "ShelfState": """
        file date=day items=rows first_out.name first_out.lasts_eggs missing unused
        baits""",
    "ShoppingItem": "name need unit in_hand buy cost left past_date=past lacks",
    "SwapHint": """
        recipe strength missing need_g in_hand_g instead instead_in_hand brings""",
    "TrialMix": """
        recipe file outings=outings.entries takes=outings.takes rod_hours=outings.rod_hours
        rate=rated.rate low=rated.low high=rated.high probability_best=rated.probability_best""",
    "Trials": "dispersion mixes against_best fished=sessions left_out companions",
    "TripPlan": "trip=number name=trip.name leave back=trip.back thaw",
    "WithdrawnItem": "name amount=drew.number unit=drew.unit left=left_now missing=missing.number",
}
"""What stands of a result under which keys, by its class; of one not named here all fields.

``key``, or ``key=attribute``; ``group.key`` stands in an object of its own, which is null where the
result's own attribute of that name is.
"""


def dumps(data: Data) -> str:
    """Return one JSON object as text; characters outside ASCII are escaped, so it prints anywhere."""
    return json.dumps(data, allow_nan=False, indent=2)


def document(kind: str, result: object) -> Data:
    """Return the object of a kind of answer."""
    return {"kind": kind, "version": 1, **data_of(result)}


def data_of(value: Any) -> Any:
    """Return a result, or any value in one, as JSON has it."""
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, dict):
        return {key: data_of(one) for key, one in value.items()}
    if type(value) in (tuple, list):
        return [data_of(one) for one in value]
    return _scalar(value) if isinstance(value, Decimal | Fraction | date) else _object(value)


def _scalar(value: Decimal | Fraction | date) -> float | str:
    if isinstance(value, Decimal):  # the number that prints its own digits: prices have few
        return int(value) if value == int(value) else float(value)
    if isinstance(value, Fraction):
        return float(value)
    if isinstance(value, datetime):
        shown = value.replace(tzinfo=None) if value.tzinfo is UTC else value
        return shown.isoformat(timespec="seconds")
    return value.isoformat()


def _object(result: Any) -> Data:
    data: Data = {}
    for group, key, path in _entries(KEYS.get(type(result).__name__) or " ".join(result._fields)):
        if not group:
            data[key] = data_of(_at(result, path))
        elif getattr(result, group, group) is None:
            data[group] = None
        else:
            data.setdefault(group, {})[key] = data_of(_at(result, path))
    return data


def _at(value: Any, path: list[str]) -> Any:
    """Return what a path of attributes leads to, None where one on the way is."""
    for name in path:
        value = None if value is None else getattr(value, name)
    return value


@cache
def _entries(words: str) -> list[tuple[str, str, list[str]]]:
    """Return each key with its group and the path to its value."""
    entries = []
    for word in words.split():
        place, _, path = word.partition("=")
        group, _, key = place.rpartition(".")
        entries.append((group, key, (path or place).split(".")))
    return entries
