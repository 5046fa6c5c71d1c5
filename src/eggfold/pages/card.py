"""The card: bowl, what it makes, boil, cautions, buying, what moves it, what was assumed, in that order."""

from __future__ import annotations

from fractions import Fraction
from shlex import quote
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.pages.boil import (
    AFTER_THE_PAN,
    COLD_ROOM,
    COLD_WATER,
    CORKED,
    CUT_FIRST,
    SMALLER_LOADS,
    centre_text,
    customary_text,
)
from eggfold.pages.bowl import based_on, bowl_blocks, dose_remarks, size_of_batch
from eggfold.pages.figures import (
    KIND_WORDS,
    Units,
    added,
    bait_text,
    boil_text,
    got,
    price_text,
    put,
    reading_text,
    seconds_text,
    size_text,
    unit_text,
)
from eggfold.pages.page import (
    BLANK,
    NONE,
    Block,
    Column,
    Facts,
    Lines,
    Loads,
    Page,
    SizeInPan,
    Table,
    basis_blocks,
)
from eggfold.pages.shopping import buy_blocks, past_remarks, shopping_blocks
from eggfold.recipe.moves import Move, build_moves
from eggfold.reference.boiling import CUT_LONGER_S
from eggfold.reference.slips import SHOWN_MOVES, SLIPS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from eggfold.recipe.baits import BaitLine
    from eggfold.recipe.batch import Batch
    from eggfold.recipe.boil_times import Boil
    from eggfold.recipe.buoyancy import Floating
    from eggfold.stock.shopping import BatchCost, ShoppingItem


FIRST = ("hookbait-in-bulk", *SLIPS)
"""Cautions that stand above a card alone."""
USUAL = (
    "gloves",
    "raw-egg",
    "boiling-water",
    "gas",
    "dust",
    "air-gun",
    "spoilt",
    "tools",
    "water-rules",
)
"""Cautions that hold for every bowl."""
USUAL_CARE = "Raw egg, boiling water, gas, strong flavours: the usual care ({})."
MOST_BOXES = 40
"""Loads of one size that get a box each; house limit."""
FAR_OFF = "note-far-off"
MOST_FAR_OFF = 3
"""Notes far off the others that stand above a card; house limit."""


def card_page(
    batch: Batch,
    units: Units,
    buy: tuple[ShoppingItem, ...] | None = None,
    cost: BatchCost | None = None,
    *,
    why: bool = False,
    full: bool = False,
    day: str = "",
) -> Page:
    """Return the card of a batch; ``buy`` is its own shopping list where it stands alone.

    The corner names the recipe as it was: the start of its file's SHA-256, and the day.
    """
    blocks: list[Block] = [*bowl_blocks(batch, units)]
    if remarks := tuple(dose_remarks(batch)):
        blocks.append(Lines("MEASURE WITH CARE", remarks))
    blocks += [_makes(batch, units), _boil(batch), *_after_the_boil(batch, units)]
    blocks += [_care(batch, full=full), *_write_down(batch, units, full=full)]
    front = len(blocks)
    if full:
        usual = tuple(c.text for c in batch.cautions if c.code in USUAL)
        blocks.append(Lines("THE USUAL CARE", usual))
        blocks += [_powder(batch, units), _counts(batch, units), _times(batch), _boiling(batch)]
    if buy:
        blocks += shopping_blocks(buy, units) if full else buy_blocks(buy, units)
    if full and cost:
        blocks.append(_cost_facts(batch, cost, units))
    if why:
        blocks += _why_blocks(batch, cost)
    moves = build_moves(batch)
    shown = _most_moving(moves)
    if moves:
        blocks.append(_what_moves(moves if full else shown, units))
    blocks += units.lines()
    blocks += basis_blocks(batch, why=why) if full or why else _afterwards(batch, units)
    alerts = (
        *(c.text for c in batch.cautions if c.code in FIRST),
        *_far_off(batch),
        *_first_bowl(batch),
        *(remark for item in buy or () for remark in past_remarks(item, units)),
    )
    aside = f"{batch.strength.upper()}, {size_of_batch(batch, units)}"
    corner = f"recipe {batch.sha256[:8]}{', ' if day else ''}{day}"
    if not (full or why):
        more = counted(len(batch.assumptions) - len(shown), "more assumption")
        corner = f"{more}, cost, stock: --full.  {corner}"
    return Page(batch.recipe, aside, tuple(blocks), alerts, corner, front)


def _care(batch: Batch, *, full: bool) -> Lines:
    """Return the cautions: what is true of this bowl, and one line for the usual care."""
    own = [c.text for c in batch.cautions if c.code not in (*FIRST, *USUAL)]
    return Lines("TAKE CARE", (*own, USUAL_CARE.format("below" if full else "--full")))


def _first_bowl(batch: Batch) -> Iterator[str]:
    """Yield that a mix was never weighed, where nothing is known of it but another one."""
    if not batch.learned.absorbency.bowls and not batch.trial.own:
        yield f"{batch.powder.base_mix} was never weighed: weigh your first bowl."


def _write_down(batch: Batch, units: Units, *, full: bool) -> Iterator[Facts]:
    """Yield room to write by hand, for paper."""
    if not full:
        return
    mass = f"{BLANK} {units.mass_pair.small}"
    sizes = {size_text(bait.diameter_mm) for bait in batch.baits}
    size = sizes.pop() if len(sizes) == 1 else f"{BLANK} mm"
    number = batch.bowls_number
    together = "" if number == 1 else f"of all {number} bowls together, "
    rows = (
        (
            "Beaten egg poured" if batch.poured else "Left in the tub",
            f"{mass}, dried baits {mass}",
        ),
        ("100 baits weigh", f"{mass}, at {size}, boiled {BLANK} s"),
    )
    yield Facts(f"WRITE DOWN  {together}for the notebook", rows)


def _most_moving(moves: tuple[Move, ...]) -> tuple[Move, ...]:
    """Return the few that stand on a short card, each with something else to measure."""
    first: dict[str, Move] = {}
    for move in moves:
        first.setdefault(move.measure, move)
    return tuple(first.values())[:SHOWN_MOVES]


def _what_moves(moves: tuple[Move, ...], units: Units) -> Lines:
    """Return what moves the card's figures most, and what to do about it."""
    return Lines("WHAT MOVES IT", tuple(_moved(move, units) for move in moves))


def _moved(move: Move, units: Units) -> str:
    low, high = sorted((move.low_pct, move.high_pct))
    (start, unit), (end, other) = (one.split(" ", 1) for one in (move.low, move.high))
    ends = f"{start} to {end} {unit}" if unit == other else f"{move.low} to {move.high}"
    if unit == "g" and not units.metric:
        ends = f"{units.mass(float(start))} to {units.mass(float(end))}"
    return f"{move.what}, {ends}: {move.on} {low:+.0f} to {high:+.0f} %; {move.measure}"


def _afterwards(batch: Batch, units: Units) -> Iterator[Lines]:
    """Yield the command that writes the bowl into the notebook; none from standard input."""
    if batch.file == "-":
        return
    command = f"eggfold note rolled {quote(batch.file)}{_eggs_options(batch)}"
    if batch.worth != 1 or batch.egg.liquid or batch.strength == "freebie":
        command += f" --as {batch.strength}"
    if batch.poured:
        bag = units.mass(batch.powder.base_mix_g).replace(" ", "")
        yield Lines("AFTERWARDS", (f'{command} --tub {bag} --left 0g --liquid "?"',))
        return
    tubs = zip(batch.bowls, bowl_blocks(batch, units), strict=True)
    tub = units.mass(sum(share.number * block.tub.whole.grams for share, block in tubs)).replace(
        " ", ""
    )
    yield Lines("AFTERWARDS", (f'{command} --tub {tub} --left "?"',))


def _eggs_options(batch: Batch) -> str:
    """Return the options that say which eggs went in, and how many where that is known before."""
    kinds = "".join(f" --egg {egg.in_words}" for egg in batch.asked.eggs)
    if batch.poured or any(egg.number for egg in batch.asked.eggs):
        return kinds
    if batch.egg.liquid:
        return f"{kinds} --liquid {f'{batch.shelled_g:.1f}'.removesuffix('.0')}g"
    return f" --eggs {batch.eggs}{kinds}"


def _far_off(batch: Batch) -> Iterator[str]:
    """Yield the notes far off the others, which stand under TAKE CARE too; of many the first."""
    found = [c.text for c in batch.cautions if c.code == FAR_OFF]
    yield from found[:MOST_FAR_OFF]
    if (more := len(found) - MOST_FAR_OFF) > 0:
        yield f"{counted(more, 'more note')} far off the others: see TAKE CARE."


def _why_blocks(batch: Batch, cost: BatchCost | None) -> Iterator[Lines]:
    from eggfold.pages.why_card import why_lines  # noqa: PLC0415 - few ask for the sums

    yield Lines("HOW EACH FIGURE CAME ABOUT", tuple(dict.fromkeys(why_lines(batch))))
    if cost:
        yield _cost_lines(batch, cost)


def _makes(batch: Batch, units: Units) -> Facts:
    paste = batch.paste
    heading = f"MAKES  {units.mass(paste.mass_g)} of paste, {_finished_text(batch, units)}"
    rows = [(_bait(b), _made(b, units)) for b in batch.baits]
    rows += [
        ("paste, not boiled", f"{units.mass(line.mass_g)}: bag it at once, fridge or freezer")
        for line in batch.pastes
    ]
    rows += _of_asked(batch, units)
    if batch.unrolled_g >= 1:
        rows.append(("left over", f"{units.mass(batch.unrolled_g)} of paste"))
    return Facts(heading, tuple(rows))


def _of_asked(batch: Batch, units: Units) -> Iterator[tuple[str, str]]:
    """Yield how near a batch comes to the bait or the baits that were asked for."""
    size = batch.asked.size
    if size.by == "count":
        count = sum(b.count for b in batch.baits)
        yield "that is", f"{count} of {size.value:.0f} baits asked for"
    elif size.by == "bait":
        yield (
            "that is",
            f"{units.mass(batch.paste.finished_g)} of {units.mass(size.value)} asked for, dried",
        )


def _finished_text(batch: Batch, units: Units) -> str:
    """Return what the baits weigh once they are dried, with the range of what dries away."""
    finished, hours = batch.paste.finished, sorted({bait.drying_h for bait in batch.baits})
    around = ""
    if finished.low_g < finished.high_g:
        around = f" ({units.mass(finished.low_g)} to {units.mass(finished.high_g)})"
    dried = f"{hours[0]:g} h" if len(hours) == 1 else f"{hours[0]:g} to {hours[-1]:g} h"
    return f"{units.mass(finished.mass_g)} dried {dried}{around}"


def _bait(line: BaitLine) -> str:
    return bait_text(line.kind, line.diameter_mm, line.core_mm)


def _made(line: BaitLine, units: Units) -> str:
    number = f"{line.count}"
    if line.low != line.high:
        number = f"about {line.count} ({line.low} to {line.high})"
    made = f"{number}, {units.mass(line.each_g)} each rolled"
    if line.floating is None:
        return made
    return (
        f"{number}, {units.mass(line.each_g)} each, lifts {_lift_range_text(line.floating, units)}"
    )


def _powder(batch: Batch, units: Units) -> Facts:
    p = batch.powder
    rows = (
        (p.base_mix, _around(p.base_mix_g, p.base_mix_low_g, p.base_mix_high_g, units)),
        ("All dry mix", _around(p.expected_g, p.low_g, p.high_g, units)),
        ("Based on", based_on(batch, units)),
    )
    return Facts("POWDER", rows)


def _around(expected_g: float, low_g: float, high_g: float, units: Units) -> str:
    around = f" ({units.mass(low_g)} to {units.mass(high_g)})" if low_g < high_g else ""
    return f"{units.mass(expected_g)}{around}"


def _counts(batch: Batch, units: Units) -> Table:
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
    rows = tuple(_bait_row(b, units, cut=cut, cored=cored) for b in batch.baits)
    heading = f"BAITS  of paste at {batch.paste.density_g_ml:.2f} g/ml"
    return Table(heading, columns, rows)


def _bait_row(bait: BaitLine, units: Units, *, cut: bool, cored: bool) -> tuple[str, ...]:
    lift = NONE if bait.floating is None else _lift_range_text(bait.floating, units)
    sausage = NONE if bait.sausage_mm is None else f"{bait.sausage_mm:.1f} mm"
    return (
        bait_text(bait.kind, bait.diameter_mm, bait.core_mm),
        f"{bait.count}",
        f"{bait.low}",
        f"{bait.high}",
        units.mass(bait.each_g),
        *((sausage,) if cut else ()),
        *((lift,) if cored else ()),
    )


def _lift_range_text(bait: Floating, units: Units) -> str:
    """Return a lift, and from what to what it goes where nobody weighed the cork."""
    if bait.weighed:
        return units.lift(bait.lift_g)
    low, high = bait.lift_range
    return f"{units.lift(bait.lift_g)} ({units.lift(low)} to {units.lift(high)})"


def _boil(batch: Batch) -> Loads:
    rows = tuple(_in_the_pan(line) for line in batch.baits)
    heading = (
        "the clock starts when the load goes in" if any(r.boxes for r in rows) else "not boiled"
    )
    until = f"no raw, shiny core, else {seconds_text(CUT_LONGER_S)} more"
    return Loads(f"BOIL  {heading}", rows, "cut two open", until)


def _after_the_boil(batch: Batch, units: Units) -> Iterator[Facts]:
    """Yield what the finished bait is soaked in, and what its pop-ups lift then."""
    if not batch.soak or batch.paste.soaked_g is None:
        return
    rows = [
        (
            units.measure(line.dose.amount, by_volume=line.dose.by_volume),
            f"{line.dose.additive.name}, {reading_text(line.dose.reading)}; {line.written}",
        )
        for line in batch.soak
    ]
    hours = max(line.hours for line in batch.soak)
    rows.append(
        ("taken up", f"in a tub or bag, turned now and then, about {hours:g} h; then air dry")
    )
    rows += [
        (
            "lifts",
            f"{_bait(b)}: {units.lift(b.soaked.low_g)} to {units.lift(b.soaked.high_g)}, all of it in",
        )
        for b in batch.baits
        if b.soaked
    ]
    dried, soaked = units.mass(batch.paste.finished_g), units.mass(batch.paste.soaked_g)
    yield Facts(f"AFTER THE BOIL  {dried} dried, {soaked} with its soak", tuple(rows))


def _in_the_pan(line: BaitLine) -> SizeInPan:
    boil = line.boil
    if boil is None:
        return SizeInPan(_bait(line), "not boiled", "", 0)
    wait = f"; {seconds_text(line.wait_s)} or more between" if line.loads > 1 else ""
    return SizeInPan(
        _bait(line), _time_in_pan(boil), f"{_loads_text(line)}{wait}", min(line.loads, MOST_BOXES)
    )


def _time_in_pan(boil: Boil) -> str:
    return f"{boil_text(boil)}, yours" if boil.own else boil_text(boil)


def _times(batch: Batch) -> Table:
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
    return Table(f"IN THE PAN  from the load going in; {wait}", columns, rows)


def _boil_row(line: BaitLine) -> tuple[str, ...]:
    boil, size = line.boil, size_text(line.diameter_mm)
    if line.core_mm is not None:
        size = _bait(line)
    if boil is None:
        return size, "not boiled", NONE, NONE, NONE, ""
    return (
        size,
        _time_in_pan(boil),
        centre_text(boil.lifted_c),
        centre_text(boil.peak_c),
        customary_text(boil),
        _loads_text(line),
    )


def _loads_text(line: BaitLine) -> str:
    """Return how many loads a size makes, and how many baits are in each."""
    if line.loads <= 1:
        return "one load"
    return f"{line.loads} loads of about {line.load_count:.0f}"


def _boiling(batch: Batch) -> Lines:
    """Return what there is to know at the pan."""
    corked = (CORKED,) if any(b.core_mm is not None for b in batch.baits) else ()
    smaller = (SMALLER_LOADS,) if any(b.loads > 1 for b in batch.baits) else ()
    hours = ", ".join(f"{_bait(b)} {b.drying_h:g} h" for b in batch.baits)
    own = (f"Dry them in one layer, turned twice a day: {hours}. {COLD_ROOM}",)
    return Lines("AT THE PAN", (CUT_FIRST, AFTER_THE_PAN, COLD_WATER, *corked, *smaller, *own))


def _used_words(batch: Batch) -> str:
    """Return what the material is used in."""
    number = batch.bowls_number
    return "Used in this bowl" if number == 1 else f"Used in these {number} bowls"


def _cost_facts(batch: Batch, cost: BatchCost, units: Units) -> Facts:
    """Return the cost of a batch: its material, a kilo dried, one bait of each size."""
    heavy = cost.per_kg * Fraction(units.mass_pair.large_size) / 1000
    rows = [(_used_words(batch), price_text(cost.material, cost.currency))]
    if batch.powder.base_mix not in cost.unpriced:
        each = "kilo" if units.metric else "pound"
        rows.append((f"Each {each}, dried", price_text(heavy, cost.currency)))
        rows += (
            (
                f"One {size_text(line.diameter_mm)} {KIND_WORDS.get(line.kind, line.kind)}",
                price_text(one, cost.currency),
            )
            for line, one in zip(batch.baits, cost.per_bait, strict=True)
        )
    if not cost.unpriced:
        return Facts("COST  of the material used, at the price of the packs", tuple(rows))
    rows.append(("Not in it", f"{', '.join(cost.unpriced)}: no price known"))
    return Facts("COST  at least, of the material whose price is known", tuple(rows))


def _cost_lines(batch: Batch, cost: BatchCost) -> Lines:
    """Return how the cost came about: thing by thing, in all, for a kilo and for one bait."""
    items, parts = [], []
    for part in cost.parts:
        whole = float(part.unit_price) * part.amount
        parts.append(put(whole))
        items.append(
            f"{part.name} = {unit_text(part.unit)} × price of one = {put(part.amount)} × "
            f"{put(float(part.unit_price))} = {got(whole)} {cost.currency}"
        )
    material = float(cost.material)
    if len(parts) > 1:
        items.append(f"{_used_words(batch)} = {added(parts)} = {got(material)} {cost.currency}")
    if batch.powder.base_mix in cost.unpriced:
        return Lines("HOW THE COST CAME ABOUT", tuple(items))
    left_g = put(batch.unrolled_g + batch.paste_g)
    rolled = added([*(f"{b.count} × {put(b.each_g)}" for b in batch.baits), left_g])
    used, words = put(material), "used"
    if batch.paste_g:
        used = f"{put(material)} × (1 − {put(batch.paste_g)} / ({rolled}))"
        words = "used × (1 − paste not boiled / all that is rolled)"
    items.append(
        f"Each kilo, dried = {words} / dried in kg = {used} / "
        f"{put(batch.paste.finished_g / 1000)} = {got(float(cost.per_kg))} {cost.currency}"
    )
    for bait, each in zip(batch.baits, cost.per_bait, strict=True):
        items.append(
            f"One {size_text(bait.diameter_mm)} {KIND_WORDS.get(bait.kind, bait.kind)} = used × one bait / all that is rolled = "
            f"{put(material)} × {put(bait.each_g)} / ({rolled}) = {got(float(each))} {cost.currency}"
        )
    return Lines("HOW THE COST CAME ABOUT", tuple(items))
