"""The paste of a recipe, for commands that work on paste alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.commands.run import answers, finish, open_workspace

if TYPE_CHECKING:
    from eggfold.jobs.assumptions import Assumed
    from eggfold.reference.parts import Parts


def paste_of(
    recipe: str | None, strength: str, additives: str | None, assumed: Assumed
) -> tuple[Parts | None, str, int]:
    """Return a recipe's paste, its name, and the exit code where there is none."""
    from eggfold.jobs.asked import Asked  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415

    if recipe is None:
        return None, "typical paste", 0
    asked = Asked("freebie" if strength == "freebie" else "hookbait")
    workspace = open_workspace((recipe,), additives)
    batches = list(answers(workspace, asked.strength, lambda opened: build_batch(opened, asked)))
    code = finish(workspace)
    if not batches:
        return None, "", code or 1
    for a in batches[0].assumptions:
        if a.what.startswith(("analysis", "one ")):
            assumed.note(a.what, a.value, a.origin, a.source)
    return batches[0].paste.parts, batches[0].recipe, 0
