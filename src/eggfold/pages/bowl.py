"""The bowl on a card: every weight to tick, and the powder as a tub with scoops."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.engine.measuring import COUNTED
from eggfold.pages.figures import (
    Units,
    eggs_text,
    graded_eggs_text,
    number_text,
    reading_text,
)
from eggfold.pages.page import NONE, Bowl, Column, Facts, Loads, Scoop, Table, Tub, Weighed
from eggfold.recipe.learning import LEAST_SCATTERED
from eggfold.reference.defaults import DEFAULT_DRY_G
from eggfold.reference.eggs import LIQUID_EGG_G_ML
from eggfold.reference.measures import PREMIX_ROOM, SCOOPS, TUB_STEPS_G, WARN_PERCENT

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from eggfold.recipe.batch import Batch, BowlShare
    from eggfold.recipe.mixing import DoseLine, DryMix, Poured
    from eggfold.recipe.trial import Trial


def bowl_blocks(batch: Batch, units: Units) -> Iterator[Bowl]:
    """Yield what goes into a bowl; where a batch is split, into each kind of bowl."""
    for share in batch.bowls:
        sure = (
            f"Based on: {based_on(batch, units)}.{_enough_for(batch, units)}"
            if share is batch.bowls[0]
            else ""
        )
        rows = tuple(_rows(batch, share, units))
        tub = (
            _egg_tub(batch, share, share.poured, units)
            if share.poured
            else _tub(batch, share, units)
        )
        yield Bowl(
            _heading(batch, share, units), _trial(batch, units), rows, tub._replace(sure=sure)
        )


def _enough_for(batch: Batch, units: Units) -> str:
    """Return how many whole eggs a bag is enough for, where these were asked for."""
    if batch.sure is None:
        return ""
    bag = units.mass(batch.asked.size.value)
    return f" {bag} is enough for {eggs_text(batch.sure)} in 19 cases of 20."


def size_of_batch(batch: Batch, units: Units, eggs: float | None = None) -> str:
    """Return how big a batch is, or its bowl of so many eggs: by what it was sized by."""
    part = 1.0 if eggs is None else eggs / batch.worth
    if batch.poured:
        return f"{units.mass(part * batch.powder.base_mix_g)} of mix"
    if batch.egg.liquid:
        return f"{units.mass(part * batch.shelled_g)} of egg"
    return eggs_text(batch.eggs if eggs is None else eggs)


def _trial_text(trial: Trial, units: Units) -> str:
    """Return how many eggs a trial had, or how much liquid egg."""
    return f"{units.mass(trial.shelled_g)} of egg" if trial.liquid else eggs_text(trial.eggs)


def based_on(batch: Batch, units: Units) -> str:
    """Return what the powder of a batch rests on."""
    figure, trial = batch.learned.absorbency, batch.trial
    bag = "" if trial.amount_g is None else units.mass(trial.amount_g)
    if figure.bowls:
        weighed = f"{counted(figure.bowls, 'bowl')} weighed"
        if figure.bowls >= LEAST_SCATTERED:
            weighed += f", they scatter {100 * figure.ratio.scatter:.0f} %"
        if trial.from_blend:
            return f"{weighed}; before, its blend"
        return f"{weighed}; trial's bag {bag}" if bag and trial.own else weighed
    if trial.predicted and trial.predicted.estimate.learned:
        return f"its blend, from {trial.predicted.source}. Weigh your first bowl"
    if not bag:
        return f"the usual {units.mass(DEFAULT_DRY_G)} for a large egg. Weigh your first bowl"
    if trial.own:
        return f"the trial's bag, {bag}"
    return f"the {trial.strength} mix's trial ({bag}). Weigh your first bowl"


def bowl_table(block: Bowl) -> Table:
    """Return a bowl as a table, for formats without boxes."""
    columns = (
        Column("amount", "right"),
        Column("into the bowl"),
        Column("measure with"),
        Column(block.trial, "right"),
    )
    tub = block.tub
    rows = [tuple(row) for row in block.rows]
    rows.append((tub.whole.text, tub.name, tub.how, ""))
    rows.append((tub.at_once.text, "of it", tub.start, ""))
    rows += [(f"+{s.text}", "scoop", "", "") for s in tub.to_expected]
    rows.append((tub.expected, "expected", "", ""))
    rows += [(f"+{s.text}", "scoop", "", "") for s in tub.to_end]
    rows += [("", remark, "", "") for remark in (tub.stiff, tub.sure) if remark]
    return Table(block.heading, columns, tuple(rows))


def loads_facts(block: Loads) -> Facts:
    """Return what goes into the pan as facts, for formats without boxes."""
    rows = [(row.name, f"{row.time}  {row.loads}".strip()) for row in block.rows]
    if any(row.boxes for row in block.rows):
        rows.append(("first load", f"{block.cut}: {block.until}"))
    return Facts(block.heading, tuple(rows))


def _heading(batch: Batch, share: BowlShare, units: Units) -> str:
    number = batch.bowls_number
    if number == 1:
        if share.poured or batch.egg.liquid:
            return "BOWL  liquids into the egg, powders into the mix"
        return "BOWL  liquids into the eggs, small powders into the mix"
    first = 1 if share is batch.bowls[0] else number
    last = first + share.number - 1
    eggs = size_of_batch(batch, units, share.eggs)
    if first == last:
        return f"BOWL {first} OF {number}  {eggs}"
    return f"BOWLS {first} {'and' if last == first + 1 else 'to'} {last} OF {number}  each {eggs}"


def _trial(batch: Batch, units: Units) -> str:
    trial = batch.trial
    return f"trial: {_trial_text(trial, units)}, {trial.strength}"


def _rows(batch: Batch, share: BowlShare, units: Units) -> Iterator[Weighed]:
    trial = batch.trial
    of_trial = units.mass(trial.shelled_g)
    if share.poured:
        bag = "" if trial.amount_g is None else units.mass(trial.amount_g)
        yield Weighed(
            units.mass(share.powder.base_mix_g),
            share.powder.base_mix,
            "all of it, into the bowl",
            bag,
        )
    elif batch.egg.liquid:
        egg_g = share.eggs * batch.egg.each_g
        yield Weighed(units.mass(egg_g), _liquid(egg_g, units), "beaten, without froth", of_trial)
    else:
        what = _eggs(batch, share)
        yield Weighed(
            units.mass(share.eggs * batch.egg.each_g), what, "shelled and beaten", of_trial
        )
    for line in sorted(share.doses, key=lambda d: d.additive.form == "powder"):
        yield Weighed(
            units.measure(line.amount, by_volume=line.by_volume),
            line.additive.name,
            _how(line),
            NONE if line.trial is None else units.measure(line.trial, by_volume=line.by_volume),
        )


def _liquid(egg_g: float, units: Units) -> str:
    return f"liquid egg, {units.volume(egg_g / LIQUID_EGG_G_ML)}"


def _eggs(batch: Batch, share: BowlShare) -> str:
    """Return a bowl's eggs as they are called; in one bowl, the boxes of mixed ones."""
    if not batch.egg.boxes or share.eggs < batch.worth:
        return graded_eggs_text(int(share.eggs), batch.egg.label)
    return " + ".join(graded_eggs_text(box.number, box.egg.label) for box in batch.egg.boxes)


def _how(line: DoseLine) -> str:
    reading = line.reading
    text = reading_text(reading)
    if reading.amount and reading.error_pct > WARN_PERCENT:
        text += f", ±{number_text(reading.error_pct, 2)} %"
    return f"{text}, to the mix" if line.additive.form == "powder" else text


def _tub(batch: Batch, share: BowlShare, units: Units) -> Tub:
    """Return base mix as what varies: to its high end, or to the end of the bag that was asked for."""
    powder, size = share.powder, batch.asked.size
    step, egg_g = _steps(powder.base_mix_high_g, units)
    low = math.floor(powder.base_mix_low_g / step) * step
    middle = max(low, round(powder.base_mix_g / step) * step)
    high = max(middle, math.ceil(powder.base_mix_high_g / step) * step)
    if size.whole_eggs:
        high = max(
            middle, min(high, math.floor(size.value * share.eggs / batch.worth / step) * step)
        )
    return Tub(
        powder.base_mix,
        Scoop(units.mass(high), high),
        Scoop(units.mass(low), low),
        _scoops(low, middle, step, units),
        f"about {units.mass(middle)}",
        _scoops(middle, high, step, units),
        _stiff(egg_g, powder, units),
    )


def _egg_tub(batch: Batch, share: BowlShare, poured: Poured, units: Units) -> Tub:
    """Return beaten egg as what varies: the whole bag is in, and egg is poured until it holds."""
    step, egg_g = _steps(poured.high_g, units)
    low = math.floor(poured.low_g / step) * step
    middle = max(low, round(poured.expected_g / step) * step)
    beaten = math.ceil(poured.high_g / batch.egg.each_g - 1e-9)
    high_g = max(middle, math.ceil(poured.high_g / step) * step)
    name, how = "liquid egg", "beaten; pour from it"
    if not batch.egg.liquid:
        name = f"from {graded_eggs_text(beaten, batch.egg.label)}"
        how = "shelled, beaten; pour from it"
    mix = units.mass(round(egg_g * share.powder.absorbency))
    rest = (
        " Egg left over goes into the next bowl."
        if sum(one.number for one in batch.bowls) > 1
        else ""
    )
    return Tub(
        name,
        Scoop(units.mass(high_g), high_g),
        Scoop(units.mass(low), low),
        _scoops(low, middle, step, units),
        f"about {units.mass(middle)}",
        _scoops(middle, high_g, step, units),
        f"Too soft? Rest it 10 min more; {mix} of mix takes up {units.mass(egg_g)} of egg.{rest}",
        how,
        empty="the most it should ask for",
    )


def _steps(high_g: float, units: Units) -> tuple[float, float]:
    """Return what a tub and its scoops are rounded to, and the egg added at a time [g].

    Where the page shows ounces, half of one stands for 10 g.
    """
    ten_g = 10.0 if units.metric else units.mass_pair.small_size / 2
    step, egg = next((step, egg) for up_to, step, egg in TUB_STEPS_G if high_g < up_to)
    return step * ten_g / 10, egg * ten_g / 10


def _scoops(start_g: float, end_g: float, step_g: float, units: Units) -> tuple[Scoop, ...]:
    """Return equal scoops from one weight to another, the last with what is left."""
    steps = round((end_g - start_g) / step_g)
    number = min(SCOOPS, steps)
    each = [steps * (i + 1) // number - steps * i // number for i in range(number)]
    return tuple(Scoop(units.mass(n * step_g), n * step_g) for n in sorted(each))


def _stiff(egg_g: float, powder: DryMix, units: Units) -> str:
    """Return what to do where it is too stiff: egg by the spoon, and the mix that asks for."""
    egg = units.mass(egg_g)
    mix = units.mass(round(egg_g * powder.absorbency))
    return f"Too stiff? Beaten egg, {egg} at a time ({egg} takes back {mix} of mix)."


def dose_remarks(batch: Batch) -> Iterator[str]:
    """Yield what to mind where no tool here shows a dose within 5 %, each once."""
    lines = [line for share in batch.bowls for line in share.doses]
    lines += (line.dose for line in batch.soak)
    yield from dict.fromkeys(text for line in lines for text in _remarks(line))


def _remarks(line: DoseLine) -> Iterable[str]:
    reading, name = line.reading, line.additive.name
    out = f"out by {number_text(reading.error_pct, 2)} %, more than {WARN_PERCENT:g} %"
    if not reading.amount:
        yield f"{name}: {_too_little(line)}"
    elif reading.premix > 1:
        yield f"{name}: {_premix(line)}"
    elif reading.error_pct > WARN_PERCENT and reading.tool.kind in COUNTED:
        what = f"{reading.tool.kind}s"
        yield f"{name}: {what} are {out}. Take the {reading.tool.kind} that the trial was made with."
    elif reading.error_pct > WARN_PERCENT:
        finer = "scale" if line.additive.form == "powder" else "scale or syringe"
        yield (
            f"{name}: the best tool here is {out}. A finer {finer}, or a bigger bowl, mends that."
        )


def _premix(line: DoseLine) -> str:
    reading, unit = line.reading, line.reading.tool.unit
    taken = f"{reading.amount:g} {unit}"
    if reading.tool.kind == "dropper":
        taken = counted(reading.fillings, "drop")
    return (
        f"no tool here shows so little. Stir {reading.stirred} {unit} of it into "
        f"{reading.stirred_into} {unit} of {_stirred_into(line)} and take {taken} of that."
    )


def _too_little(line: DoseLine) -> str:
    into = f"{PREMIX_ROOM:g} ml of {_stirred_into(line)}"
    if line.additive.form == "powder":
        into = "all base mix of this bowl"
    mend = "A bigger bowl takes more of it."
    if line.finer_g is not None:
        mend = f"A scale that tells {line.finer_g:g} g apart would do."
    return f"no tool here shows so little, not even stirred into {into}. {mend}"


def _stirred_into(line: DoseLine) -> str:
    return {"powder": "base mix", "oil": "plain oil"}.get(line.additive.form, "water")
