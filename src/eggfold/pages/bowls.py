"""What goes into each bowl of a batch that one bowl does not hold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.figures import eggs_text, mass_text, measure_text, reading_text
from eggfold.pages.page import Column, Table

if TYPE_CHECKING:
    from eggfold.jobs.batch import Batch, BowlShare


def bowls_tables(batch: Batch) -> tuple[Table, ...]:
    """Return a table for each size of bowl; none where one bowl holds the batch."""
    number = batch.bowls_number
    if number == 1:
        return ()
    return tuple(_bowl(batch, share, number) for share in batch.bowls)


def _bowl(batch: Batch, share: BowlShare, number: int) -> Table:
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
