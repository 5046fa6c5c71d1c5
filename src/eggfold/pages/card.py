"""The card: bowl, powder, what it makes, boil, buy, cautions, assumptions, in that order."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from eggfold.pages.basis import basis_blocks
from eggfold.pages.boil import AFTER_THE_PAN, COLD_WATER, CORKED, SMALLER_LOADS, centre_text
from eggfold.pages.display import shown_pair, shows_metric, units_lines
from eggfold.pages.figures import (
    KIND_WORDS,
    bait_text,
    eggs_text,
    graded_eggs_text,
    lift_text,
    mass_text,
    measure_text,
    number_text,
    percent_text,
    price_text,
    reading_text,
    said_range_text,
    seconds_text,
    size_text,
)
from eggfold.pages.page import BLANK, TICK, Block, Column, Facts, Lines, Page, Table
from eggfold.pages.shopping import shopping_blocks
from eggfold.pages.sums import added, got, put
from eggfold.plural import counted
from eggfold.recipe.cautions import IN_BULK
from eggfold.recipe.learning import LEAST_SCATTERED
from eggfold.reference.bench import PREMIX_ROOM, WARN_PERCENT
from eggfold.reference.defaults import DEFAULT_DRY_G

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from eggfold.recipe.baits import BaitLine
    from eggfold.recipe.batch import Batch, BowlShare
    from eggfold.recipe.buoyancy import Floating
    from eggfold.recipe.dose import DoseLine
    from eggfold.stock.cost import BatchCost
    from eggfold.stock.shopping import ShoppingItem


FIRST = (IN_BULK, "odd-trial", "odd-doses")
"""Cautions that stand above a card alone."""
FAR_OFF = "note-far-off"
MOST_FAR_OFF = 3
"""Notes far off the others that stand above a card; house limit."""


def card_page(
    batch: Batch,
    buy: tuple[ShoppingItem, ...] | None = None,
    cost: BatchCost | None = None,
    *,
    why: bool = False,
    day: str = "",
) -> Page:
    """Return the card of a batch; ``buy`` is its own shopping list where it stands alone.

    The corner names the recipe as it was: the start of its file's SHA-256, and the day.
    """
    blocks: list[Block] = [*units_lines(), _bowl(batch), _remarks(batch), _powder(batch)]
    blocks += [*bowls_tables(batch), _makes(batch), _boil(batch)]
    blocks += [_boiling(batch), _write_down(batch)]
    if buy:
        blocks += shopping_blocks(buy)
    if cost:
        blocks.append(cost_facts(batch, cost))
    cautions = tuple(c.text for c in batch.cautions if c.code not in FIRST)
    blocks.append(Lines("TAKE CARE", cautions))
    front = len(blocks)
    if why:
        blocks += _why_blocks(batch, cost)
    blocks += basis_blocks(batch, why=why)
    alerts = (*(c.text for c in batch.cautions if c.code in FIRST), *_far_off(batch))
    aside = f"{batch.strength.upper()}, {eggs_text(batch.eggs)}"
    corner = f"recipe {batch.sha256[:8]}{', ' if day else ''}{day}"
    return Page(batch.recipe, aside, tuple(blocks), alerts, corner, front)


def _far_off(batch: Batch) -> Iterator[str]:
    """Yield the notes far off the others, which stand under TAKE CARE too; of many the first."""
    found = [c.text for c in batch.cautions if c.code == FAR_OFF]
    yield from found[:MOST_FAR_OFF]
    if (more := len(found) - MOST_FAR_OFF) > 0:
        yield f"{counted(more, 'more note')} far off the others: see TAKE CARE."


def _why_blocks(batch: Batch, cost: BatchCost | None) -> Iterator[Lines]:
    from eggfold.pages.why_card import why_lines  # noqa: PLC0415 - few ask for the sums

    yield Lines("HOW EACH FIGURE CAME ABOUT", tuple(why_lines(batch)))
    if cost:
        yield cost_lines(batch, cost)


def _bowl(batch: Batch) -> Table:
    """Return the whole batch beside the trial; where it is split, each bowl has tools of its own."""
    trial = batch.trial
    one_bowl = batch.bowls_number == 1
    columns = (
        Column("done"),
        Column("In the bowl" if one_bowl else "In the whole batch"),
        Column(f"trial: {eggs_text(trial.eggs)}, {trial.strength}", "right"),
        Column("times", "right"),
        Column("this bowl" if one_bowl else "this batch", "right"),
        Column("measure with"),
        Column("out by", "right"),
    )
    times = batch.shelled_g / (trial.eggs * trial.egg_g)
    eggs = (
        TICK,
        graded_eggs_text(batch.eggs, batch.egg.label),
        mass_text(trial.eggs * trial.egg_g),
        f"×{number_text(times)}",
        mass_text(batch.shelled_g),
        "shelled",
        "",
    )
    rows = (eggs, *(_dose_row(line) for line in batch.doses))
    if one_bowl:
        return Table("BOWL", columns, rows)
    heading = f"BOWL  the whole batch; measure it in {batch.bowls_number} bowls, as below"
    return Table(heading, columns[1:-2], tuple(row[1:-2] for row in rows))


def _dose_row(line: DoseLine) -> tuple[str, ...]:
    factor = line.factor
    return (
        TICK,
        line.additive.name,
        "–" if line.trial is None else measure_text(line.trial, by_volume=line.by_volume),
        "" if factor is None else f"×{number_text(factor)}",
        measure_text(line.amount, by_volume=line.by_volume),
        reading_text(line.reading),
        percent_text(line.reading.error_pct),
    )


def _remarks(batch: Batch) -> Lines:
    """Return what to mind in measuring; the block stands on every card, so all look alike."""
    lines = [line for share in batch.bowls for line in share.doses]
    remarks = dict.fromkeys(r for line in lines for r in _dose_remarks(line))
    where = "above" if batch.bowls_number == 1 else "below"
    fine = f"Every tool named {where} is within {WARN_PERCENT:g} %."
    return Lines("MEASURE WITH CARE", tuple(remarks) or (fine,))


def _dose_remarks(line: DoseLine) -> Iterable[str]:
    reading, name = line.reading, line.additive.name
    out = f"out by {number_text(reading.error_pct, 2)} %, more than {WARN_PERCENT:g} %"
    if not reading.amount:
        yield f"{name}: {_too_little(line)}"
    elif reading.premix > 1:
        yield f"{name}: {_premix(line)}"
    elif reading.error_pct > WARN_PERCENT and reading.tool.kind == "dropper":
        yield (
            f"{name}: counted drops are {out}. Drops differ: take the dropper that the trial was "
            "made with."
        )
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


def _powder(batch: Batch) -> Facts:
    p, bowls = batch.powder, batch.bowls_number
    adding = f"add {mass_text(p.base_mix_low_g)} at once, the rest by feel"
    if bowls > 1:
        adding = f"for all {bowls} bowls, bowl by bowl as below"
    rows = [
        (
            p.base_mix,
            f"about {mass_text(p.base_mix_g)}: {adding}, have {mass_text(p.base_mix_high_g)} ready",
        ),
        (
            "All dry mix",
            f"{mass_text(p.expected_g)} ({mass_text(p.low_g)} to {mass_text(p.high_g)})",
        ),
        ("How sure", _how_sure(batch)),
    ]
    return Facts("POWDER", tuple(rows))


def _how_sure(batch: Batch) -> str:
    figure = batch.learned.absorbency
    if figure.notes:
        scatter = ""
        if figure.notes >= LEAST_SCATTERED:
            scatter = f", they scatter {100 * figure.ratio.scatter:.0f} %"
        bag = batch.trial.amount_g
        if batch.trial.from_blend:
            return f"{counted(figure.notes, 'bowl')} weighed{scatter}; before, by its blend"
        trial = f"; trial's bag {mass_text(bag)}" if bag and batch.trial.own else ""
        return f"{counted(figure.notes, 'bowl')} weighed{scatter}{trial}"
    predicted = batch.trial.predicted
    if predicted and predicted.estimate.learned:
        return f"by its blend, from {predicted.source}: weigh the first bowl"
    if batch.trial.amount_g is None:
        return f"from the usual {mass_text(DEFAULT_DRY_G)} for a large egg: weigh the first bowl"
    first = " of another mix: weigh the first bowl" if not batch.trial.own else ""
    return f"from the trial's bag, {mass_text(batch.trial.amount_g)}{first}"


def _makes(batch: Batch) -> Table:
    cored = any(b.lift_g is not None for b in batch.baits)
    cut = any(b.sausage_mm is not None for b in batch.baits)
    columns = (
        Column("Baits"),
        Column("about", "right"),
        Column("at least", "right"),
        Column("at most", "right"),
        Column("each, fresh", "right"),
        *((Column("sausage", "right"),) if cut else ()),
        *((Column("lift with its hook", "right"),) if cored else ()),
    )
    rows = [_bait_row(b, cut=cut, cored=cored) for b in batch.baits]
    paste = batch.paste
    heading = (
        f"MAKES  {mass_text(paste.mass_g)} of paste at {paste.density_g_ml:.2f} g/ml, "
        f"{finished_text(batch)}"
    )
    if batch.unrolled_g >= 1:
        blank = ("",) * (len(columns) - 2)
        rows.append(("paste left over", mass_text(batch.unrolled_g), *blank))
    return Table(heading, columns, tuple(rows))


def finished_text(batch: Batch) -> str:
    """Return what the baits weigh once they are dried, with the range of what dries away."""
    finished, hours = batch.paste.finished, batch.roll.drying.hours
    around = ""
    if finished.low_g < finished.high_g:
        around = f" ({mass_text(finished.low_g)} to {mass_text(finished.high_g)})"
    return f"{mass_text(finished.mass_g)} dried {hours:g} h{around}"


def _bait_row(bait: BaitLine, *, cut: bool, cored: bool) -> tuple[str, ...]:
    lift = "–" if bait.floating is None else lift_range_text(bait.floating)
    sausage = "–" if bait.sausage_mm is None else f"{bait.sausage_mm:.1f} mm"
    return (
        bait_text(bait.kind, bait.diameter_mm, bait.core_mm),
        f"{bait.count}",
        f"{bait.low}",
        f"{bait.high}",
        mass_text(bait.each_g),
        *((sausage,) if cut else ()),
        *((lift,) if cored else ()),
    )


def lift_range_text(bait: Floating) -> str:
    """Return a lift, and from what to what it goes where nobody weighed the cork."""
    if bait.weighed:
        return lift_text(bait.lift_g)
    low, high = bait.lift_range
    return f"{lift_text(bait.lift_g)} ({lift_text(low)} to {lift_text(high)})"


def _boil(batch: Batch) -> Table:
    columns = (
        Column("Size"),
        Column("boil", "right"),
        Column("at lifting", "right"),
        Column("hottest", "right"),
        Column("customary", "right"),
        Column("loads"),
    )
    rows = tuple(_boil_row(b) for b in batch.baits)
    wait = f"wait {seconds_text(batch.wait_s)} or more between loads"
    return Table(f"BOIL  from the load going in; {wait}", columns, rows)


def _boil_row(line: BaitLine) -> tuple[str, ...]:
    boil, size = line.boil, size_text(line.diameter_mm)
    if line.core_mm is not None:
        size = bait_text(line.kind, line.diameter_mm, line.core_mm)
    if boil is None:
        return size, "not boiled", "–", "–", "–", ""
    time = f"{seconds_text(boil.said_s)}{said_range_text(boil)}"
    return (
        size,
        f"{time}, yours" if boil.own else time,
        centre_text(boil.lifted_c),
        centre_text(boil.peak_c),
        "–" if boil.customary_s is None else seconds_text(boil.customary_s),
        loads_text(line),
    )


def loads_text(line: BaitLine) -> str:
    """Return how many loads a size makes, and how many baits are in each."""
    if line.loads <= 1:
        return "one load"
    return f"{line.loads} loads of about {line.count / line.loads:.0f}"


def _boiling(batch: Batch) -> Lines:
    """Return what there is to know at the pan."""
    corked = (CORKED,) if any(b.core_mm is not None for b in batch.baits) else ()
    smaller = (SMALLER_LOADS,) if any(b.loads > 1 for b in batch.baits) else ()
    return Lines("AT THE PAN", (AFTER_THE_PAN, COLD_WATER, *corked, *smaller))


def _write_down(batch: Batch) -> Facts:
    sizes = {size_text(bait.diameter_mm) for bait in batch.baits}
    size = sizes.pop() if len(sizes) == 1 else f"{BLANK} mm"
    mass = f"{BLANK} {shown_pair('mass').small}"
    rows = (
        ("Bag before", mass),
        ("Bag after", mass),
        ("Powder used", mass),
        ("Finished weight", mass),
        ("100 baits weigh", f"{mass}, at {size}"),
    )
    number = batch.bowls_number
    together = "" if number == 1 else f"of all {number} bowls together, "
    return Facts(f"WRITE DOWN  {together}for: eggfold note rolled", rows)


def bowls_tables(batch: Batch) -> tuple[Table, ...]:
    """Return a table for each size of bowl; none where one bowl holds the batch."""
    number = batch.bowls_number
    if number == 1:
        return ()
    return tuple(_bowl_row(batch, share, number) for share in batch.bowls)


def _bowl_row(batch: Batch, share: BowlShare, number: int) -> Table:
    columns = (Column("In one bowl"), Column("amount", "right"), Column("measure with"))
    powder = share.powder
    rows = (
        (eggs_text(share.eggs), mass_text(share.eggs * batch.egg.each_g), "shelled"),
        *(
            (
                line.additive.name,
                measure_text(line.amount, by_volume=line.by_volume),
                reading_text(line.reading),
            )
            for line in share.doses
        ),
        (
            powder.base_mix,
            mass_text(powder.base_mix_g),
            f"{mass_text(powder.base_mix_low_g)} at once, up to {mass_text(powder.base_mix_high_g)}",
        ),
        ("paste", mass_text(share.paste_g), ""),
    )
    alone = "THE FIRST BOWL" if share is batch.bowls[0] else "THE LAST BOWL"
    which = alone if share.number == 1 else f"EACH OF {share.number} BOWLS"
    return Table(f"{which}  {eggs_text(share.eggs)}, {_place(batch, share, number)}", columns, rows)


def _place(batch: Batch, share: BowlShare, number: int) -> str:
    first = 1 if share is batch.bowls[0] else number
    last = first + share.number - 1
    return f"bowl {first} of {number}" if first == last else f"bowls {first} to {last} of {number}"


def used_words(batch: Batch) -> str:
    """Return what the material is used in."""
    number = batch.bowls_number
    return "Used in this bowl" if number == 1 else f"Used in these {number} bowls"


def cost_facts(batch: Batch, cost: BatchCost) -> Facts:
    """Return the cost of a batch: its material, a kilo dried, one bait of each size."""
    heavy = cost.per_kg * Fraction(shown_pair("mass").large_size) / 1000
    rows = [
        (used_words(batch), price_text(cost.material, cost.currency)),
        (f"Each {'kilo' if shows_metric() else 'pound'}, dried", price_text(heavy, cost.currency)),
    ]
    for line, each in zip(batch.baits, cost.per_bait, strict=True):
        label = f"One {size_text(line.diameter_mm)} {KIND_WORDS.get(line.kind, line.kind)}"
        rows.append((label, price_text(each, cost.currency)))
    if not cost.unpriced:
        return Facts("COST  of the material used, at the price of the packs", tuple(rows))
    rows.append(("Not in it", f"{', '.join(cost.unpriced)}: no price known"))
    return Facts("COST  at least, of the material whose price is known", tuple(rows))


UNITS = {"g": "g", "ml": "ml", "piece": "pieces"}


def cost_lines(batch: Batch, cost: BatchCost) -> Lines:
    """Return how the cost came about: thing by thing, in all, for a kilo and for one bait."""
    items, parts = [], []
    for part in cost.parts:
        whole = float(part.unit_price) * part.amount
        parts.append(put(whole))
        items.append(
            f"{part.name} = {UNITS[part.unit]} × price of one = {put(part.amount)} × "
            f"{put(float(part.unit_price))} = {got(whole)} {cost.currency}"
        )
    material = float(cost.material)
    if len(parts) > 1:
        items.append(f"{used_words(batch)} = {added(parts)} = {got(material)} {cost.currency}")
    items.append(
        f"Each kilo, dried = used / dried in kg = {put(material)} / "
        f"{put(batch.paste.finished_g / 1000)} = {got(float(cost.per_kg))} {cost.currency}"
    )
    rolled = added([*(f"{b.count} × {put(b.each_g)}" for b in batch.baits), put(batch.unrolled_g)])
    for bait, each in zip(batch.baits, cost.per_bait, strict=True):
        items.append(
            f"One {size_text(bait.diameter_mm)} {KIND_WORDS.get(bait.kind, bait.kind)} = used × one bait / all that is rolled = "
            f"{put(material)} × {put(bait.each_g)} / ({rolled}) = {got(float(each))} {cost.currency}"
        )
    return Lines("HOW THE COST CAME ABOUT", tuple(items))
