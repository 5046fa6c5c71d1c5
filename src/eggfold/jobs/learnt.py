"""What a bowl rests on after the user's own notes: absorbency, finished share, paste density."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.jobs.assumptions import Assumed
from eggfold.jobs.bowl import Trial
from eggfold.jobs.cautions import Caution
from eggfold.jobs.notes import NO_NOTES, Figure, Notes, absorbency_of, measured_figure, notes_on

if TYPE_CHECKING:
    from eggfold.files.workspace import OpenRecipe


class Learnt(NamedTuple):
    """Dry mix per gram of wet [g/g], the finished share of the paste [-], and the notes behind."""

    absorbency: Figure
    finished: Figure
    notes: Notes = NO_NOTES

    def density(self, before_g_ml: float, assumed: Assumed, *, once: bool) -> Figure:
        """Return the paste density after the noted hundreds; ``once`` if it was measured itself."""
        figure = measured_figure(before_g_ml, self.notes.densities, once=once)
        if not figure.notes:
            return figure
        text = f"{figure.mean:.3f} g/ml, {_from(figure.notes, 'hundred', 'hundreds')}"
        assumed.note("density of the paste, learned", text, "yours")
        return figure


def build_learnt(opened: OpenRecipe, mix: str, trial: Trial, assumed: Assumed) -> Learnt:
    """Return what the notes on a base mix say, on top of the trial and the house defaults."""
    notes = notes_on(opened, mix)
    absorbency = learned_absorbency(opened, notes, trial, assumed)
    kept = (1 - assumed.share("bowl_loss")) * (1 - assumed.share("drying_loss"))
    finished = measured_figure(kept, notes.yields, once=False)
    if finished.notes:
        text = f"{finished.mean * 100:.3g} %, {_from(finished.notes, 'weighing', 'weighings')}"
        assumed.note("finished bait from the paste, learned", text, "yours")
    return Learnt(absorbency, finished, notes)


def learned_absorbency(opened: OpenRecipe, notes: Notes, trial: Trial, assumed: Assumed) -> Figure:
    """Return the absorbency of a mix after the notes on it."""
    figure = absorbency_of(opened, trial, notes, assumed.share("bowl_sd"))
    if figure.notes:
        text = f"{figure.mean:.4g} g/g, {_from(figure.notes, 'weighing', 'weighings')}"
        assumed.note("dry mix per gram of wet, learned", text, "yours")
    return figure


def _from(count: int, one: str, many: str) -> str:
    return f"from {count} {one if count == 1 else many}"


def note_cautions(learnt: Learnt, density: Figure) -> list[Caution]:
    """Return a caution for each note that lies far off the others, or says nothing any more."""
    far = [
        Caution("note-far-off", f"Notebook, {where} {unit}. It counts all the same: check it.")
        for figure, unit in (
            (learnt.absorbency, "g of dry mix per g of wet"),
            (learnt.finished, "of the paste as finished bait"),
            (density, "g/ml of paste"),
        )
        for where in figure.far_off
    ]
    lost = [Caution("note-lost", f"Notebook, {where}; left out.") for where in learnt.notes.lost]
    return far + lost
