"""A day of rolling as tasks: mix, rest, roll in loads, boil in loads, lay out to dry."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from eggfold.engine.schedule import Task
from eggfold.engine.workplace import rolling_s

MIX, REST, TABLE, PAN = range(4)
STATIONS = ("mix", "rest", "roll", "boil")
ANY_NUMBER = 1_000_000
"""Bowls that may rest side by side."""


class Load(NamedTuple):
    """One basket: paste in it [g], time the pan is taken [s], tray it needs [m²]."""

    paste_g: float
    pan_s: float
    area_m2: float


class Work(NamedTuple):
    """One bowl: its loads, and the want it belongs to."""

    loads: tuple[Load, ...]
    want: int = 0


class Stages(NamedTuple):
    """How long each stage takes [s], and how fast one table rolls [kg/h]."""

    mix_s: float
    rest_s: float
    cool_s: float
    drying_s: float
    pace_kg_h: float


def session_tasks(works: Sequence[Work], stages: Stages) -> tuple[Task, ...]:
    """Return the tasks of bowls in the order in which they are made.

    A bowl is mixed, rests, is rolled load by load, each load is boiled, cools and dries. Its trays
    are laid out when the load goes into the pan.

    Parameters
    ----------
    works : sequence of Work
        Bowls in order.
    stages : Stages
        Times and pace.

    Returns
    -------
    tuple of Task
        Stations are mix, rest, roll, boil.

    Notes
    -----
    The steps of a bowl one by one; no source.

    Examples
    --------
    >>> stages = Stages(1200.0, 600.0, 600.0, 172800.0, 1.5)
    >>> [t.station for t in session_tasks([Work((Load(500.0, 210.0, 0.06),))], stages)]
    [0, 1, 2, 3]
    """
    tasks: list[Task] = []
    for queue, work in enumerate(works):
        tasks.append(Task(queue, MIX, stages.mix_s, 1))
        tasks.append(Task(queue, REST, stages.rest_s, 0, (len(tasks) - 1,)))
        rest = len(tasks) - 1
        for load in work.loads:
            seconds = rolling_s(load.paste_g, stages.pace_kg_h)
            tasks.append(Task(queue, TABLE, seconds, 1, (rest,)))
            after = (len(tasks) - 1,)
            lies_s = load.pan_s + stages.cool_s + stages.drying_s
            tasks.append(Task(queue, PAN, load.pan_s, 1, after, load.area_m2, lies_s))
    return tuple(tasks)
