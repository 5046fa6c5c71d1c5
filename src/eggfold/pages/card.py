"""The card: bowl, powder, what it makes, boil, buy, cautions, assumptions, in that order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.bowls import bowls_tables
from eggfold.pages.cost import cost_facts, cost_lines
from eggfold.pages.figures import (
    eggs_text,
    mass_text,
    measure_text,
    number_text,
    percent_text,
    reading_text,
    seconds_text,
    size_text,
)
from eggfold.pages.page import Block, Column, Facts, Lines, Page, Table
from eggfold.pages.shopping import shopping_blocks
from eggfold.pages.why import why_lines
from eggfold.reference.bench import WARN_PERCENT

if TYPE_CHECKING:
    from collections.abc import Iterable

    from eggfold.jobs.assumptions import Assumption
    from eggfold.jobs.baits import BaitLine
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.cost import BatchCost
    from eggfold.jobs.dose_line import DoseLine
    from eggfold.jobs.shopping import ShoppingItem

IN_BULK = "hookbait-in-bulk"


def card_page(
    batch: Batch,
    buy: tuple[ShoppingItem, ...] | None = None,
    cost: BatchCost | None = None,
    *,
    why: bool = False,
) -> Page:
    """Return the card of a batch; ``buy`` is its own shopping list where it stands alone."""
    blocks: list[Block] = [_bowl(batch), *_remarks(batch), _powder(batch)]
    blocks += [*bowls_tables(batch), _makes(batch)]
    blocks.append(_boil(batch))
    if buy:
        blocks += shopping_blocks(buy)
    if cost:
        blocks.append(cost_facts(batch, cost))
    cautions = tuple(c.text for c in batch.cautions if c.code != IN_BULK)
    blocks.append(Lines("TAKE CARE", cautions))
    if why:
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(why_lines(batch))))
        if cost:
            blocks.append(cost_lines(cost))
    blocks.append(assumption_table(batch.assumptions))
    if why:
        blocks.append(source_lines(batch.assumptions))
    alerts = tuple(c.text for c in batch.cautions if c.code == IN_BULK)
    aside = f"{batch.strength.upper()}, {eggs_text(batch.eggs)}"
    return Page(batch.recipe, aside, tuple(blocks), alerts)


def _bowl(batch: Batch) -> Table:
    trial = batch.trial
    one_bowl = sum(share.number for share in batch.bowls) == 1
    columns = (
        Column("In the bowl" if one_bowl else "In all bowls"),
        Column(f"trial: {eggs_text(trial.eggs)}, {trial.strength}", "right"),
        Column("times", "right"),
        Column("this bowl" if one_bowl else "in all", "right"),
        Column("measure with"),
        Column("out by", "right"),
    )
    times = batch.shelled_g / (trial.eggs * trial.egg_g)
    eggs = (
        f"{batch.eggs} {_egg_words(batch)}",
        mass_text(trial.eggs * trial.egg_g),
        f"×{number_text(times)}",
        mass_text(batch.shelled_g),
        "shelled",
        "",
    )
    return Table("BOWL", columns, (eggs, *(_dose_row(line) for line in batch.doses)))


def _egg_words(batch: Batch) -> str:
    label = batch.egg.label
    return label.replace("eggs", "egg", 1) if batch.eggs == 1 else label


def _dose_row(line: DoseLine) -> tuple[str, ...]:
    factor = line.factor
    return (
        line.additive.name,
        "–" if line.trial is None else measure_text(line.trial, by_volume=line.by_volume),
        "" if factor is None else f"×{number_text(factor)}",
        measure_text(line.amount, by_volume=line.by_volume),
        reading_text(line.reading),
        percent_text(line.reading.error_pct),
    )


def _remarks(batch: Batch) -> list[Lines]:
    remarks = [r for line in batch.doses for r in _dose_remarks(line)]
    return [Lines("MEASURE WITH CARE", tuple(remarks))] if remarks else []


def _dose_remarks(line: DoseLine) -> Iterable[str]:
    reading, name = line.reading, line.additive.name
    if reading.premix > 1:
        into = "base mix" if line.additive.form == "powder" else "water"
        unit = reading.tool.unit
        parts = reading.premix - 1
        yield (
            f"{name}: no tool here shows so little. Stir 1 {unit} of it into {parts} {unit} of {into} "
            f"and take {reading.amount:g} {unit} of that."
        )
    elif reading.error_pct > WARN_PERCENT:
        yield (
            f"{name}: the best tool here is out by {reading.error_pct:.0f} %. "
            "A finer scale or syringe, or a bigger bowl, mends that."
        )


def _powder(batch: Batch) -> Facts:
    p = batch.powder
    rows = [
        (
            p.base_mix,
            f"about {mass_text(p.base_mix_g)}: add {mass_text(p.base_mix_low_g)} at once, the rest "
            f"by feel, have {mass_text(p.base_mix_high_g)} ready",
        ),
        (
            "All dry mix",
            f"{mass_text(p.expected_g)} ({mass_text(p.low_g)} to {mass_text(p.high_g)})",
        ),
        ("How sure", _how_sure(batch)),
        ("Powder used", "__________ g"),
    ]
    return Facts("POWDER", tuple(rows))


def _how_sure(batch: Batch) -> str:
    weighings = batch.powder.weighings
    if weighings:
        words = "1 weighing" if weighings == 1 else f"{weighings} weighings"
        bag = batch.trial.amount_g
        trial = f" and the trial's bag, {mass_text(bag)}" if bag and batch.trial.own else ""
        return f"from {words}{trial}"
    if batch.trial.amount_g is None:
        return "from the usual 130 g for a large egg: weigh the first bowl"
    first = " of another mix: weigh the first bowl" if not batch.trial.own else ""
    return f"from the trial's bag, {mass_text(batch.trial.amount_g)}{first}"


def _makes(batch: Batch) -> Table:
    columns = (
        Column("Baits"),
        Column("about", "right"),
        Column("at least", "right"),
        Column("at most", "right"),
        Column("each, fresh", "right"),
    )
    rows = [
        (
            f"{size_text(b.diameter_mm)} {b.kind}",
            f"{b.count}",
            f"{b.low}",
            f"{b.high}",
            mass_text(b.each_g),
        )
        for b in batch.baits
    ]
    paste = batch.paste
    heading = (
        f"MAKES  {mass_text(paste.mass_g)} of paste at {paste.density_g_ml:.2f} g/ml, "
        f"{mass_text(paste.finished_g)} dried"
    )
    if batch.unrolled_g >= 1:
        rows.append(("paste left over", mass_text(batch.unrolled_g), "", "", ""))
    return Table(heading, columns, tuple(rows))


def _boil(batch: Batch) -> Table:
    columns = (
        Column("Size"),
        Column("boil", "right"),
        Column("centre", "right"),
        Column("worked out", "right"),
        Column("customary", "right"),
        Column("loads of", "right"),
    )
    wait = f"wait {seconds_text(batch.wait_s)} or more between loads"
    return Table(
        f"BOIL  from the load going in; {wait}", columns, tuple(_boil_row(b) for b in batch.baits)
    )


def _boil_row(line: BaitLine) -> tuple[str, ...]:
    boil = line.boil
    own = boil.until is None
    loads = f"{line.loads} × {mass_text(boil.load_g)}" if line.loads > 1 else "one load"
    return (
        size_text(line.diameter_mm),
        seconds_text(boil.follow_s or 0),
        f"{boil.centre_c:.0f} °C",
        "your time" if own else seconds_text(boil.seconds or 0),
        "–" if boil.customary_s is None else seconds_text(boil.customary_s),
        loads,
    )


def source_lines(assumptions: tuple[Assumption, ...]) -> Lines:
    """Return where the published figures come from."""
    items = tuple(f"{a.what}: {a.source}" for a in assumptions if a.source)
    return Lines("SOURCES", items)


def assumption_table(assumptions: tuple[Assumption, ...]) -> Table:
    """Return the table of what was assumed, with its origin."""
    columns = (Column("What"), Column("value"), Column("origin"))
    rows = tuple((a.what, a.value.replace("degC", "°C"), a.origin) for a in assumptions)
    return Table("ASSUMED", columns, rows)
