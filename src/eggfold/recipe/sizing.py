"""How big a batch is: its eggs from whatever was asked for, and the bowls they are split into."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from eggfold.engine.bowls import equal_bowls, split_eggs
from eggfold.errors import NoAnswerError
from eggfold.load.eggs import MOST_EGGS
from eggfold.recipe.baits import count_of_all, finished_of, refuse_more_than_counted
from eggfold.recipe.trial import trial_eggs
from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable

    from eggfold.recipe.asked import BatchSize
    from eggfold.recipe.baits import Roll
    from eggfold.recipe.learning import Figure
    from eggfold.recipe.mixing import Mixing, Paste, Poured, Powder


class EggsAsked(NamedTuple):
    """The eggs that doses go by, which liquid egg or a whole bag need not make whole."""

    worth: float
    whole: bool
    """Whether they are counted, so that a bowl holds whole ones."""


def eggs_asked(mixing: Mixing, roll: Roll, paste_of_one: Paste, dried: Figure) -> EggsAsked:
    """Return the eggs of the size that is asked for; raises NoAnswerError where there are none."""
    size, egg = mixing.asked.size, mixing.egg
    if size.by == "trial":
        found = trial_eggs(mixing.opened.recipe) if egg.liquid else 1
        return EggsAsked(found, whole=not egg.liquid)
    if size.by == "liquid":
        return EggsAsked(_not_too_many(size.value / egg.each_g), whole=False)
    if size.by == "powder":
        one_g = mixing.bowlful(1).base_g
        eggs = size.value / one_g if size.is_bag else _whole_by_powder(size.value, one_g)
        return EggsAsked(_not_too_many(eggs), whole=not size.is_bag)
    return EggsAsked(_not_too_many(_counted(size, roll, paste_of_one, dried)), whole=not egg.liquid)


def _counted(size: BatchSize, roll: Roll, paste_of_one: Paste, dried: Figure) -> int:
    """Return whole eggs: as many as are asked for, or the fewest that make what is."""
    if size.by == "eggs":
        return int(size.value)
    wanted = size.value * size.enough * (1 - 1e-9)
    if size.by == "count":
        refuse_more_than_counted(roll, int(size.value))
        return _smallest(lambda n: count_of_all(roll, paste_of_one, n) >= wanted)
    one_g = paste_of_one.mass_g

    def enough(n: int) -> bool:
        return finished_of(roll, paste_of_one._replace(mass_g=one_g * n), dried).mass_g >= wanted

    return _smallest(enough)


def _not_too_many(eggs: float) -> float:
    if eggs > MOST_EGGS:
        raise NoAnswerError(f"that takes more than {MOST_EGGS:,} eggs; ask for a smaller batch")
    return eggs


def _whole_by_powder(bag_g: float, one_g: float) -> int:
    eggs = math.floor(bag_g / one_g + 1e-9)
    if eggs < 1:
        raise NoAnswerError(
            f"{bag_g:g} g of base mix is not enough for one egg, which takes {one_g:.0f} g; "
            f"a bag of {math.ceil(one_g)} g is"
        )
    return eggs


def _smallest(enough: Callable[[int], bool]) -> int:
    """Return the least whole number of eggs that is enough, or MOST_EGGS + 1."""
    low, high = 1, 1
    while high <= MOST_EGGS and not enough(high):
        low, high = high + 1, high * 2
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle + 1, high)
    return low


def bowls_of(
    asked: EggsAsked, paste_of_one_g: float, bowl_g: float
) -> tuple[tuple[int, float], ...]:
    """Return how many bowls of how many eggs a batch is stirred in."""
    if asked.whole:
        return split_eggs(int(asked.worth), paste_of_one_g, bowl_g)
    number = equal_bowls(asked.worth * paste_of_one_g, bowl_g)
    return ((number, asked.worth / number),)


def eggs_to_beat(asked: EggsAsked, mixing: Mixing, poured: Poured | None) -> int:
    """Return the whole eggs to have: of a bag those for its high end."""
    most = poured.high_g / mixing.egg.each_g if poured else asked.worth
    return max(1, math.ceil(most - 1e-9))


def eggs_sure(mixing: Mixing, powder: Powder, eggs: int) -> int:
    """Return the most whole eggs that a bag is enough for in 19 cases of 20: at their high end."""
    most_g = (
        powder.base_mix_high_g / eggs
    )  # a bowl's range is as wide in per cent, whatever its eggs
    return math.floor(mixing.asked.size.value / most_g + 1e-9)
