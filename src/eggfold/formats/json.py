"""Results as JSON: plain numbers, units in the keys, never NaN."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from decimal import Decimal

    from eggfold.engine.scaling import Measure
    from eggfold.errors import Problem
    from eggfold.files.fixing import Mended
    from eggfold.jobs.assumptions import Assumption
    from eggfold.jobs.baits import BaitLine
    from eggfold.jobs.batch import Batch, BowlShare, Powder
    from eggfold.jobs.boil import BoilTable
    from eggfold.jobs.clock import Clock
    from eggfold.jobs.cost import BatchCost
    from eggfold.jobs.dose_line import DoseLine
    from eggfold.jobs.doses import DoseSheet
    from eggfold.jobs.kitchen import Boil
    from eggfold.jobs.shelf import ShelfRow, ShelfState
    from eggfold.jobs.shopping import ShoppingItem
    from eggfold.jobs.trials import Trials

Data = dict[str, Any]


def dumps(data: Data) -> str:
    """Return one JSON object as text; characters outside ASCII are escaped, so it prints anywhere."""
    return json.dumps(data, allow_nan=False, indent=2)


def batch_document(batches: Iterable[Data], items: Iterable[ShoppingItem]) -> Data:
    """Return the object of ``batch``."""
    return {
        "kind": "batch",
        "version": 1,
        "batches": list(batches),
        "shopping": [_item(item) for item in items],
    }


def batch_data(batch: Batch) -> Data:
    """Return one batch."""
    paste, egg = batch.paste, batch.egg
    return {
        "recipe": batch.recipe,
        "file": batch.file,
        "strength": batch.strength,
        "eggs": {
            "count": batch.eggs,
            "grade": egg.grade,
            "standard": egg.standard,
            "each_g": egg.each_g,
            "shelled_g": batch.shelled_g,
        },
        "doses": [_dose(line) for line in batch.doses],
        "wet_g": batch.wet_g,
        "powder": _powder(batch.powder),
        "paste": {
            "mass_g": paste.mass_g,
            "density_g_ml": paste.density_g_ml,
            "finished_g": paste.finished_g,
        },
        "baits": [_bait(line) for line in batch.baits],
        "bowls": [_bowl(share) for share in batch.bowls],
        "cautions": [{"code": c.code, "text": c.text} for c in batch.cautions],
        "assumptions": assumptions_data(batch.assumptions),
    }


def _powder(powder: Powder) -> Data:
    return {
        "expected_g": powder.expected_g,
        "low_g": powder.low_g,
        "high_g": powder.high_g,
        "base_mix": powder.base_mix,
        "base_mix_g": powder.base_mix_g,
        "base_mix_low_g": powder.base_mix_low_g,
        "base_mix_high_g": powder.base_mix_high_g,
        "absorbency": powder.absorbency,
        "weighings": powder.weighings,
    }


def _bowl(share: BowlShare) -> Data:
    return {
        "number": share.number,
        "eggs": share.eggs,
        "doses": [_dose(line) for line in share.doses],
        "powder": _powder(share.powder),
        "paste_g": share.paste_g,
    }


def _dose(line: DoseLine) -> Data:
    reading = line.reading
    return {
        "name": line.additive.name,
        "form": line.additive.form,
        "ml": line.amount.ml,
        "g": line.amount.g,
        "trial": _measure(line.trial),
        "tool": reading.in_words,
        "reading": {"amount": reading.amount, "unit": reading.tool.unit},
        "error_pct": reading.error_pct,
        "over_ceiling": line.over_ceiling,
    }


def _measure(measure: Measure | None) -> Data | None:
    return None if measure is None else {"ml": measure.ml, "g": measure.g}


def _bait(line: BaitLine) -> Data:
    return {
        "kind": line.kind,
        "diameter_mm": line.diameter_mm,
        "core_mm": line.core_mm,
        "skin_mm": line.skin_mm,
        "count": line.count,
        "low": line.low,
        "high": line.high,
        "each_g": line.each_g,
        "lift_g": line.lift_g,
        "boil": {
            "until": line.boil.until,
            "centre_c": line.boil.centre_c,
            "water_c": line.boil.water_c,
            "seconds": line.boil.seconds,
            "customary_s": line.boil.customary_s,
            "loads": line.loads,
            "load_g": line.boil.load_g,
        },
    }


def assumptions_data(assumptions: Iterable[Assumption]) -> list[Data]:
    """Return assumptions."""
    return [
        {"what": a.what, "value": a.value, "origin": a.origin, "source": a.source}
        for a in assumptions
    ]


def _item(item: ShoppingItem) -> Data:
    return {
        "name": item.name,
        "need": item.need,
        "unit": item.unit,
        "in_hand": item.in_hand,
        "buy": [
            {"pack": line.pack, "count": line.packs, "price": _money(line.price)}
            for line in item.buy
        ],
        "cost": _money(item.cost),
        "left": item.left,
        "past_date": item.past,
        "lacks": item.lacks,
    }


def _money(amount: Decimal | None) -> int | float | None:
    """Return money as the number that prints its own digits: prices stay below 15 of them."""
    if amount is None:
        return None
    return int(amount) if amount == int(amount) else float(amount)


def cost_data(cost: BatchCost | None) -> Data | None:
    """Return what a batch's material costs."""
    if cost is None:
        return None
    return {
        "currency": cost.currency,
        "material": float(cost.material),
        "per_kg": float(cost.per_kg),
        "per_bait": [float(one) for one in cost.per_bait],
        "unpriced": list(cost.unpriced),
    }


def shopping_document(items: Iterable[ShoppingItem]) -> Data:
    """Return the object of ``shopping``."""
    from eggfold.jobs.shopping import total_of  # noqa: PLC0415 - other documents need no job

    items = tuple(items)
    total = total_of(items)
    return {
        "kind": "shopping",
        "version": 1,
        "currency": total.currency,
        "items": [{**_item(item), "lasts_eggs": item.lasts_eggs} for item in items],
        "cost": _money(total.cost),
        "unpriced": list(total.unpriced) if total.currency else [],
    }


def shelf_document(state: ShelfState) -> Data:
    """Return the object of ``shelf``."""
    first = state.first_out
    return {
        "kind": "shelf",
        "version": 1,
        "file": state.file,
        "date": str(state.day),
        "items": [_shelf_row(row) for row in state.rows],
        "first_out": first and {"name": first.name, "lasts_eggs": first.lasts_eggs},
        "missing": list(state.missing),
        "unused": list(state.unused),
    }


def _shelf_row(row: ShelfRow) -> Data:
    return {
        "name": row.name,
        "left": row.left,
        "unit": row.unit,
        "status": row.status,
        "opened": row.opened and str(row.opened),
        "use_by": row.use_by and str(row.use_by),
        "days_left": row.days_left,
        "lasts_eggs": row.lasts_eggs,
        "recipe": row.recipe,
    }


def doses_document(sheet: DoseSheet) -> Data:
    """Return the object of ``doses``."""
    rows = [
        {
            "recipe": row.recipe,
            "name": row.name,
            "ceiling": row.ceiling,
            "amounts": [
                {
                    "strength": column.strength,
                    "eggs": column.eggs,
                    "kg_dry": column.kg_dry,
                    "amount": cell.amount if cell else None,
                    "unit": row.unit,
                    "tool": cell.tool if cell else None,
                }
                for column, cell in zip(sheet.columns, row.cells, strict=True)
            ],
        }
        for row in sheet.rows
    ]
    assumptions = assumptions_data(sheet.assumptions)
    return {"kind": "doses", "version": 1, "rows": rows, "assumptions": assumptions}


def boil_document(table: BoilTable) -> Data:
    """Return the object of ``boil``."""
    return {
        "kind": "boil",
        "version": 1,
        "water_c": table.kitchen.water_c,
        "load_g": table.load_g,
        "rows": [_boil_row(row) for row in table.rows],
        "assumptions": assumptions_data(table.assumptions),
    }


def _boil_row(row: Boil) -> Data:
    return {
        "diameter_mm": row.diameter_mm,
        "core_mm": row.core_mm,
        "until": row.until,
        "centre_c": row.centre_c,
        "seconds": row.seconds,
        "customary_s": row.customary_s,
        "biot": row.biot,
        "fourier": row.fourier,
    }


def trials_document(trials: Trials) -> Data:
    """Return the object of ``trials``."""
    mixes = [
        {
            "recipe": mix.recipe,
            "file": mix.file,
            "outings": mix.outings.entries,
            "takes": mix.outings.takes,
            "rod_hours": mix.outings.rod_hours,
            "rate": mix.rate,
            "low": mix.low,
            "high": mix.high,
            "probability_best": mix.probability_best,
        }
        for mix in trials.mixes
    ]
    against = [
        {
            "recipe": a.mix.recipe,
            "ratio": a.ratio,
            "p_value": a.p_value,
            "more_rod_hours": a.more_rod_hours,
        }
        for a in trials.against_best
    ]
    left_out = [
        {"recipe": o.recipe, "takes": o.takes, "rod_hours": o.rod_hours} for o in trials.left_out
    ]
    return {
        "kind": "trials",
        "version": 1,
        "mixes": mixes,
        "against_best": against,
        "left_out": left_out,
    }


def clock_document(clock: Clock) -> Data:
    """Return the object of ``boil --clock``."""
    loads = [
        {
            "load": load.number,
            "kind": load.bait.kind,
            "diameter_mm": load.bait.diameter_mm,
            "core_mm": load.bait.core_mm,
            "load_g": load.bait.load_g,
            "in_s": load.in_s,
            "out_s": load.out_s,
            "wait_s": load.wait_s,
        }
        for load in clock.loads
    ]
    assumptions = assumptions_data(clock.assumptions)
    head = {"kind": "clock", "version": 1, "what": clock.what}
    return {**head, "loads": loads, "assumptions": assumptions}


def check_document(
    problems: Iterable[Problem], mended: Iterable[Mended] | None = None, *, written: bool = True
) -> Data:
    """Return the object of ``check``; ``mended`` and ``written`` where it was to mend."""
    keys = ("file", "line", "column", "code", "severity", "message", "hint")
    listed = [{key: getattr(problem, key) for key in keys} for problem in problems]
    document: Data = {"kind": "check", "version": 1, "problems": listed}
    if mended is not None:
        gone = [problem for one in mended for problem in one.problems]
        document["mended"] = [{key: getattr(problem, key) for key in keys} for problem in gone]
        document["written"] = written
    return document
