"""How many eggs a batch takes: by eggs, powder in the bag, finished bait or baits."""

from __future__ import annotations

import math
from collections.abc import Callable

from eggfold.errors import NoAnswerError
from eggfold.files.eggs import MOST_EGGS
from eggfold.jobs.bowl.baits import Roll, count_of_all, refuse_more_than_counted
from eggfold.jobs.bowl.mixing import Mixing, Paste


def whole_eggs(mixing: Mixing, roll: Roll, paste_of_one: Paste) -> int:
    """Return the eggs of the size that is asked for; raises NoAnswerError where there are none."""
    size = mixing.asked.size
    if size.by == "eggs":
        return int(size.value)
    if size.by == "powder":
        eggs = _eggs_by_powder(size.value, mixing.base_g(1))
    elif size.by == "bait":
        eggs = max(1, math.ceil(size.value / paste_of_one.finished_g - 1e-9))
    else:
        wanted = int(size.value)
        refuse_more_than_counted(roll, wanted)
        eggs = _smallest(lambda n: count_of_all(roll, paste_of_one, n) >= wanted)
    if eggs > MOST_EGGS:
        raise NoAnswerError(f"that takes more than {MOST_EGGS:,} eggs; ask for a smaller batch")
    return eggs


def _eggs_by_powder(bag_g: float, one_g: float) -> int:
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
