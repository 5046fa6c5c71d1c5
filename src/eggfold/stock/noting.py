"""Notes for the notebook: what is to be written, what there is to say of it, and taking it back."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from eggfold.amounts import Amount, AmountError
from eggfold.edit.splice import (
    Fields,
    Splice,
    add_entry,
    began_as,
    block_entry,
    drop_last,
    flow_entry,
    last_entry,
    left_as_written,
    left_splice,
    patch_back,
    refuse_harm,
    spliced,
)
from eggfold.errors import NoAnswerError, ProblemsError, UsageProblemError
from eggfold.load.notebook import (
    DEFAULT_SCALE,
    MODELS,
    BaggedEntry,
    BoughtEntry,
    BowlEntry,
    CountEntry,
    CutEntry,
    Dated,
    Fished,
    Looks,
    Noted,
    RolledEntry,
    SectionName,
    TripEntry,
    entry_fault,
    read_entries,
)
from eggfold.load.shelf import OpenShelf, Stock, parse_stock
from eggfold.recipe.asked import Asked, AskedEgg, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.recipe.boil_times import cut_peak_c, noted_cut, paste_heat
from eggfold.recipe.trial import build_egg
from eggfold.records import NamedTuple
from eggfold.stock.baits import LotChange, LotsAfter, lots_after, with_rolled
from eggfold.stock.withdraw import (
    Passed,
    Withdrawal,
    WithdrawnItem,
    build_withdrawal,
    left_after,
    shortage_text,
)
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.edit.writing import Change, Draft
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.recipe import Strength


What = SectionName | Literal["undone"]

GRAM_DIGITS = 6
"""Digits behind the point of a computed mass in an entry: enough to compute with it again."""

ODD = 2.0
"""Times the expected powder, or its part, from which a weighing is remarked on: far outside the 90 %
range of any mix."""


Figures: TypeAlias = "dict[str, float | int | str | None]"


class AskedBowl(NamedTuple):
    """One bowl as the command line describes it."""

    date: str
    strength: Strength
    eggs: int | None
    kinds: tuple[AskedEgg, ...] = ()
    before: Amount | None = None
    after: Amount | None = None
    scale: Amount | None = None
    finished: Amount | None = None
    hundred: Amount | None = None
    diameter: Amount | None = None
    liquid_g: float | None = None
    """Beaten egg that went in, where it was not counted [g]."""
    sizes: tuple[Amount, ...] | None = None
    """What it was rolled to, where that is not the recipe's."""

    @property
    def taken_g(self) -> float | None:
        """Base mix that left the bag, where that was weighed [g]."""
        if self.before is None or self.after is None:
            return None
        return amount_in(self.before, "g") - amount_in(self.after, "g")


class AskedOuting(NamedTuple):
    """One session as the command line describes it, its numbers as they were typed."""

    date: str
    rods: str
    hours: str
    takes: str
    water: Amount | None = None
    swim: str | None = None
    remark: str | None = None


class AskedCut(NamedTuple):
    """Baits cut open as the command line describes it."""

    date: str
    size: Amount
    boiled: Amount
    looked: Looks
    start: Amount | None = None
    altitude: Amount | None = None


class Note(NamedTuple):
    """What is written, into which files, and the figures that go with it."""

    what: What
    title: str
    date: str
    figures: Figures
    changes: tuple[Change, ...]
    notebook: str | None = None
    shelf: str | None = None
    withdrawal: Withdrawal = Withdrawal()
    remarks: tuple[str, ...] = ()
    lots: tuple[LotChange, ...] = ()
    bought: tuple[tuple[str, Stock, Stock], ...] = ()
    """Each thing that was bought: how much, and what is left of it now."""


def build_bowl(opened: OpenRecipe, asked: AskedBowl) -> Batch:
    """Return the batch that a noted bowl was; the recipe must be answerable for the strength."""
    batch = build_batch(opened, Asked(asked.strength, _size(opened, asked), asked.kinds))
    if batch.poured is None or asked.liquid_g is None:
        return batch
    return batch._replace(eggs=math.ceil(asked.liquid_g / batch.egg.each_g - 1e-9))


def _size(opened: OpenRecipe, asked: AskedBowl) -> BatchSize:
    """Return what a bowl was sized by: egg that was poured until it held goes by its bag."""
    if asked.liquid_g is None:
        return BatchSize("eggs", asked.eggs or 1)
    if asked.taken_g and not build_egg(opened.recipe).liquid:
        return BatchSize("powder", asked.taken_g)
    return BatchSize("liquid", asked.liquid_g)


def note_weighed(batch: Batch, asked: AskedBowl, draft: Draft) -> Note:
    """Return the note of a weighing: the bag before and after one bowl."""
    change = entry_change(draft, "weighed", _bowl_fields("weighed", batch, asked))
    return Note(
        "weighed",
        batch.recipe,
        asked.date,
        _bowl_figures(batch, asked),
        (change,),
        draft.file,
        remarks=tuple(_bowl_remarks(batch, asked)),
    )


def note_rolled(
    batch: Batch,
    asked: AskedBowl,
    draft: Draft,
    stock: tuple[Draft, OpenShelf] | None,
    *,
    force: bool,
) -> Note:
    """Return the note of a rolled bowl, and of what it takes off the shelf.

    Raises NoAnswerError where the shelf does not hold that much, unless ``force`` corrects it.
    """
    asked = asked._replace(diameter=_rolled_size(batch, asked))
    fields = _bowl_fields("rolled", batch, asked)
    withdrawal = build_withdrawal(batch, asked.taken_g, stock[1]) if stock else Withdrawal()
    if not force:
        _refuse_shortage(withdrawal)
    changes: tuple[Change, ...] = ()
    lots: tuple[LotChange, ...] = ()
    if stock:
        fields |= _drawn_fields(withdrawal, stock[1])
        made = _shelf_after(batch, asked, withdrawal, stock[1])
        changes, lots = (stock[0].change(made.text),), made.changes
        fields |= made.patch
    return Note(
        "rolled",
        batch.recipe,
        asked.date,
        _bowl_figures(batch, asked),
        (*changes, entry_change(draft, "rolled", fields)),
        draft.file,
        stock[0].file if stock else None,
        withdrawal,
        (
            *_rolled_remarks(batch, asked, stock[1] if stock else None),
            *(_past_remarks(withdrawal, stock[1], asked.date) if stock else ()),
        ),
        lots,
    )


def _rolled_remarks(batch: Batch, asked: AskedBowl, shelf: OpenShelf | None) -> Iterator[str]:
    yield from _bowl_remarks(batch, asked)
    if shelf is None:
        yield "There is no shelf.yaml here, so nothing was taken off it and no bait is kept in hand."
        return
    found = shelf.find(batch.powder.base_mix)
    left = found[1].left if found else None
    if asked.before and left and left.kind == "g":
        held_g = amount_in(asked.before, "g")
        if held_g > float(shelf.exact(left)) + amount_in(asked.scale or DEFAULT_SCALE, "g"):
            yield f"The bag held {asked.before}, and the shelf said {left}: see which is right."


def _past_remarks(withdrawal: Withdrawal, shelf: OpenShelf, day: str) -> Iterator[str]:
    """Name what is drawn though its date is past."""
    for drawn in withdrawal.drawn:
        use_by = shelf.shelf.items[drawn.name].use_by
        if use_by and use_by.isoformat() < day:
            yield (
                f"{drawn.name} was past its date ({use_by}), so lists do not count it in hand: if you "
                "opened a new pack, write its use_by date into the shelf."
            )


def _bowl_remarks(batch: Batch, asked: AskedBowl) -> Iterator[str]:
    """Say so where the bag cannot have fed this bowl alone."""
    if batch.poured and asked.liquid_g:
        times = asked.liquid_g / batch.poured.expected_g
        if not 1 / ODD < times < ODD:
            yield f"That is {times:.2g} times the egg that was expected: see whether egg and bag are right."
        return
    expected_g, taken_g = batch.powder.base_mix_g, asked.taken_g
    if taken_g is not None and not expected_g / ODD < taken_g < expected_g * ODD:
        yield (
            f"That is {taken_g / expected_g:.2g} times the powder that was expected: see whether "
            "eggs, doses and bag are right."
        )


def note_fished(recipe: str, asked: AskedOuting, draft: Draft) -> Note:
    """Return the note of a session."""
    fields: Fields = {
        "date": asked.date,
        "recipe": recipe,
        "rods": asked.rods.strip(),
        "hours": asked.hours.strip(),
        "takes": asked.takes.strip(),
    }
    if asked.water:
        fields["water"] = str(asked.water)
    words = {"swim": asked.swim, "remark": asked.remark}
    fields |= {key: text for key, text in words.items() if text}
    change = entry_change(draft, "fished", fields)
    rods, hours, takes = (float(text) for text in (asked.rods, asked.hours, asked.takes))
    figures: Figures = {
        "rods": int(rods),
        "hours": hours,
        "rod_hours": rods * hours,
        "takes": int(takes),
        "water_c": amount_in(asked.water, "degC") if asked.water else None,
        "swim": asked.swim,
        "remark": asked.remark,
    }
    return Note("fished", recipe, asked.date, figures, (change,), draft.file)


def note_cut(batch: Batch, asked: AskedCut, draft: Draft) -> Note:
    """Return the note of two baits cut open, with what was expected of them and what they teach."""
    fields: Fields = {
        "date": asked.date,
        "recipe": batch.recipe,
        "base_mix": batch.powder.base_mix,
        "size": str(asked.size),
        "boiled": str(asked.boiled),
        "looked": asked.looked,
    }
    fields |= _typed(asked, "start", "altitude")
    change = entry_change(draft, "cut", fields)
    roll, parts = batch.roll, batch.paste.parts
    cut = noted_cut(asked.size, asked.boiled, asked.looked, asked.start, asked.altitude)
    before = roll.heat(batch.paste)
    after = paste_heat(parts, roll.kitchen, (*roll.cuts, cut))
    figures: Figures = {
        "base_mix": batch.powder.base_mix,
        "diameter_mm": cut.diameter_mm,
        "after_s": cut.time_s,
        "looked": asked.looked,
        "expected_peak_c": cut_peak_c(cut, before, roll.kitchen),
        "cuts": len(roll.cuts) + 1,
        "conducts": after.factor,
        "doubt": after.doubt_share,
    }
    return Note("cut", batch.recipe, asked.date, figures, (change,), draft.file)


OPTION_OF = {"size": "diameter", "boiled": "after", "looked": "raw"}
"""Options by the keys of an entry that are named otherwise."""


def _bowl_fields(name: SectionName, batch: Batch, asked: AskedBowl) -> Fields:
    """Return a bowl's entry; what was computed is written too, so that it outlives the recipe."""
    fields: Fields = {
        "date": asked.date,
        "recipe": batch.recipe,
        "strength": asked.strength,
        **({"eggs": str(asked.eggs)} if asked.eggs else {"liquid": _grams(asked.liquid_g or 0.0)}),
        "egg": _grams(batch.egg.each_g),
    }
    fields |= _typed(asked, "before", "after", "scale", "finished", "hundred", "diameter")
    _refuse_fault(name, fields)
    computed: Fields = {
        "base_mix": batch.powder.base_mix,
        "wet": _grams(_wet_g(batch, asked)),
        "dry": _grams(_dry_g(batch, asked)),
    }
    if name == "rolled":
        computed["paste"] = _grams(batch.paste.mass_g + _unexpected_g(batch, asked))
    return fields | computed


def _typed(asked: AskedBowl | AskedCut, *keys: str) -> Fields:
    amounts = {key: getattr(asked, key) for key in keys}
    return {key: str(amount) for key, amount in amounts.items() if amount is not None}


def _dry_g(batch: Batch, asked: AskedBowl) -> float:
    """Return the dry mix that went in: powders are measured on the expected mix, only the bag varies."""
    powder = batch.powder
    taken_g = powder.base_mix_g if asked.taken_g is None else asked.taken_g
    return taken_g + powder.expected_g - powder.base_mix_g


def _wet_g(batch: Batch, asked: AskedBowl) -> float:
    """Return the wet mass that went in: liquids are measured on the expected egg, only egg varies."""
    if batch.poured is None or asked.liquid_g is None:
        return batch.wet_g
    return batch.wet_g - batch.poured.expected_g + asked.liquid_g


def _unexpected_g(batch: Batch, asked: AskedBowl) -> float:
    """Return how much more went in than was expected."""
    return _dry_g(batch, asked) - batch.powder.expected_g + _wet_g(batch, asked) - batch.wet_g


def _finished_g(batch: Batch, asked: AskedBowl) -> float:
    """Return what the baits of all that went in are expected to weigh dried."""
    expected_g = batch.paste.finished_g
    return expected_g + _unexpected_g(batch, asked) * expected_g / batch.paste.mass_g


def _grams(g: float) -> str:
    digits = f"{g:.{GRAM_DIGITS}f}".rstrip("0").rstrip(".")
    return f"{digits} g"


def _bowl_figures(batch: Batch, asked: AskedBowl) -> Figures:
    powder, dry_g, wet_g = batch.powder, _dry_g(batch, asked), _wet_g(batch, asked)
    weighed = asked.taken_g is not None

    def grams(amount: Amount | None) -> float | None:
        return None if amount is None else amount_in(amount, "g")

    return {
        "strength": asked.strength,
        "eggs": asked.eggs,
        "liquid_g": asked.liquid_g,
        "egg_g": batch.egg.each_g,
        "base_mix": powder.base_mix,
        "taken_g": asked.taken_g,
        "egg_expected_g": batch.poured.expected_g if batch.poured else None,
        "egg_low_g": batch.poured.low_g if batch.poured else None,
        "egg_high_g": batch.poured.high_g if batch.poured else None,
        "expected_g": powder.base_mix_g,
        "low_g": powder.base_mix_low_g,
        "high_g": powder.base_mix_high_g,
        "wet_g": wet_g,
        "dry_g": dry_g,
        "absorbency": dry_g / wet_g if weighed else None,
        "finished_g": grams(asked.finished),
        "expected_finished_g": _finished_g(batch, asked),
        "hundred_g": grams(asked.hundred),
        "diameter_mm": amount_in(asked.diameter, "mm") if asked.diameter else None,
    }


def _rolled_size(batch: Batch, asked: AskedBowl) -> Amount | None:
    """Return the size of the hundred baits: the one given, else the only one of the batch."""
    if asked.hundred is None or asked.diameter is not None:
        return asked.diameter
    sizes = {line.diameter_mm for line in batch.baits}
    if len(sizes) != 1:
        listed = ", ".join(f"{size:g} mm" for size in sorted(sizes))
        raise UsageProblemError(f"--hundred: baits of which size ({listed})? Say --diameter too")
    return Amount(sizes.pop(), "mm")


def entry_change(draft: Draft, name: SectionName, fields: Fields) -> Change:
    """Return the change of a notebook by an entry more."""
    _refuse_fault(name, fields)
    if (began := began_as(draft.source, name)) is not None:
        fields = fields | {"began": began}
    lines = flow_entry(fields) if name in ("cut", "fished") else block_entry(fields)
    return draft.change(add_entry(draft.source, name, lines, fields))


def _refuse_fault(name: SectionName, fields: Fields) -> None:
    if fault := entry_fault(name, fields):
        hint = f"; try: {fault.hint}" if fault.hint else ""
        key = OPTION_OF.get(fault.key, fault.key)
        raise UsageProblemError(f"--{key}: {fault.message}{hint}")


def _refuse_shortage(withdrawal: Withdrawal) -> None:
    short = [shortage_text(d) for d in withdrawal.drawn if d.missing]
    if short:
        raise NoAnswerError(
            f"the shelf does not hold that much ({'; '.join(short)}): note what you bought "
            "first, or take all that is left with --force"
        )


def _drawn_fields(withdrawal: Withdrawal, shelf: OpenShelf) -> Fields:
    if not withdrawal.drawn:
        return {}
    fields: Fields = {
        "drew": {d.name: str(d.drew) for d in withdrawal.drawn},
        "had": {d.name: left_as_written(shelf, d.name) or "" for d in withdrawal.drawn},
    }
    corrected = {d.name: str(d.missing) for d in withdrawal.drawn if d.missing}
    return fields | {"corrected": corrected} if corrected else fields


def _shelf_after(
    batch: Batch, asked: AskedBowl, withdrawal: Withdrawal, shelf: OpenShelf
) -> LotsAfter:
    """Return the shelf without what the bowl drew, and with its bait."""
    weighed = asked.finished is not None
    g = amount_in(asked.finished, "g") if asked.finished else _finished_g(batch, asked)
    kind = batch.recipe, batch.strength
    splices = [left_splice(shelf, d.name, str(d.left)) for d in withdrawal.drawn]
    touched = frozenset(d.name for d in withdrawal.drawn)
    lots = with_rolled(shelf, kind, asked.date, g, asked.sizes, weighed=weighed)
    return lots_after(shelf, *lots, splices, touched)


class _Return(NamedTuple):
    """What goes back to one item, and the text that its ``left`` gets."""

    drawn: WithdrawnItem
    text: str


def undo_last(name: SectionName, draft: Draft, stock: tuple[Draft, OpenShelf] | None) -> Note:
    """Return the note that takes a section's last entry back, with what it changed on the shelf.

    What the shelf held before stands there again as it was written; where an item was changed since,
    what was drawn is added to what is left now. Raises NoAnswerError where other lines were.
    """
    entry = _last(name, draft)
    text = drop_last(draft.source, name, entry.began)
    changes: tuple[Change, ...] = (draft.change(text),)
    withdrawal = Withdrawal()
    drew = entry.drew if isinstance(entry, RolledEntry) else {}
    if drew or entry.now:
        if stock is None:
            what = f"drew {', '.join(drew)}" if drew else "changed the shelf"
            raise UsageProblemError(f"that note {what}; name the shelf with --shelf")
        withdrawal, shelf_change = _give_back(entry, *stock)
        changes = (shelf_change, *changes)
    return Note(
        "undone",
        _title(entry),
        entry.date,
        _figures(entry),
        changes,
        draft.file,
        stock[0].file if stock and (drew or entry.now) else None,
        withdrawal,
        () if text else (f"{draft.file} held nothing else and is gone.",),
    )


def _title(entry: Dated) -> str:
    if isinstance(entry, Noted):
        return entry.recipe
    if isinstance(entry, TripEntry):
        return entry.name or f"Trip of {entry.leave}"
    if isinstance(entry, BoughtEntry):
        return next(iter(entry.bought)) if len(entry.bought) == 1 else f"{len(entry.bought)} things"
    return "Bait in hand"


def _figures(entry: Dated) -> Figures:
    if isinstance(entry, BowlEntry):
        liquid_g = amount_in(entry.liquid, "g") if entry.liquid else None
        return {"strength": entry.strength, "eggs": entry.eggs, "liquid_g": liquid_g}
    if isinstance(entry, CutEntry):
        size_mm, time_s = amount_in(entry.size, "mm"), amount_in(entry.boiled, "s")
        return {"diameter_mm": size_mm, "after_s": time_s, "looked": entry.looked}
    if isinstance(entry, Fished):
        return {"rods": entry.rods, "hours": entry.hours, "takes": entry.takes}
    return {"took_back": _noted(entry)}


def _noted(entry: Dated) -> str:
    """Return what a note of the shelf said."""
    if isinstance(entry, BaggedEntry):
        return f"{entry.amount} {entry.strength}, {entry.state}"
    if isinstance(entry, BoughtEntry):
        return (
            next(iter(entry.bought.values())) if len(entry.bought) == 1 else _listed(entry.bought)
        )
    if isinstance(entry, CountEntry):
        return ", ".join(filter(None, (_listed(entry.counted), entry.rest and "the rest none")))
    if isinstance(entry, TripEntry):
        home = f"; came home: {_listed(entry.home)}" if entry.home else ""
        return f"took {_listed(entry.took) or 'nothing'}{home}"
    return ""


def _listed(amounts: Mapping[str, str]) -> str:
    return ", ".join(f"{amount} {name}" for name, amount in amounts.items())


def _last(name: SectionName, draft: Draft) -> Dated:
    placed = last_entry(draft.source, name)
    if placed is None:
        raise NoAnswerError(f"{draft.file} holds no note {name}, so nothing can be taken back")
    entries, problems = read_entries(MODELS[name], placed, name)
    if problems:
        raise ProblemsError(problems)
    return entries[0]


def _give_back(entry: Dated, draft: Draft, shelf: OpenShelf) -> tuple[Withdrawal, Change]:
    returns: list[_Return] = []
    passed: list[Passed] = []
    if isinstance(entry, RolledEntry):
        outcomes = [_return(entry, name, shelf) for name in entry.drew]
        passed += [one for one in outcomes if isinstance(one, Passed)]
        returns += [one for one in outcomes if isinstance(one, _Return)]
    splices: list[Splice] = [left_splice(shelf, r.drawn.name, r.text) for r in returns]
    try:
        splices += patch_back(draft.source.text, entry.was, entry.now)
    except LookupError as error:
        raise NoAnswerError(
            f"line {error} of {draft.file} was changed since, so this cannot be taken back alone: take "
            "back what was noted after it first, or mend the file yourself"
        ) from error
    text = spliced(draft.source.text, splices)
    bought = entry.bought if isinstance(entry, BoughtEntry) else ()
    touched = {r.drawn.name for r in returns}.union(bought)
    if text:
        refuse_harm(draft.file, text, shelf, touched, baits=True)
    return Withdrawal(tuple(r.drawn for r in returns), tuple(passed)), draft.change(text)


def _return(entry: RolledEntry, name: str, shelf: OpenShelf) -> _Return | Passed:
    found = shelf.find(name)
    if found is None:
        return Passed(name, "no longer on the shelf")
    own, item = found
    try:
        drew = parse_stock(entry.drew[name])
        corrected = parse_stock(entry.corrected[name]) if name in entry.corrected else None
    except AmountError as error:
        return Passed(name, error.message)
    if item.left is None or item.left.kind != drew.kind:
        return Passed(own, f"{drew} was drawn, and the shelf now counts it another way")
    amount = shelf.exact(drew)
    had = entry.had.get(name)
    if had is not None and _unchanged_since(shelf, had, amount, item.left):
        before = parse_stock(_bare(had))
        return _Return(WithdrawnItem(own, drew, item.left, before, shelf.exact(before)), had)
    back = amount - (shelf.exact(corrected) if corrected else 0)
    left = left_after(shelf, item.left, back)
    return _Return(WithdrawnItem(own, drew, item.left, left, shelf.exact(left)), str(left))


def _unchanged_since(shelf: OpenShelf, had: str, drew: Fraction, now: Stock) -> bool:
    """Tell whether an item still holds what the draw left in it."""
    try:
        return left_after(shelf, parse_stock(_bare(had)), -drew) == now
    except AmountError:
        return False


def _bare(text: str) -> str:
    return text.strip("\"'")
