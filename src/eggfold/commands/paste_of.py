"""The paste of a recipe and the bench, for commands that work on paste alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from eggfold.commands.run import answers, finish, open_workspace

if TYPE_CHECKING:
    from eggfold.jobs.assumptions import Assumed
    from eggfold.jobs.bench import Bench
    from eggfold.reference.parts import Parts


class PasteFound(NamedTuple):
    """A recipe's paste and its name (None and typical without a recipe), the bench, the exit code."""

    parts: Parts | None
    name: str
    bench: Bench
    code: int = 0


def paste_of(
    recipe: str | None, strength: str, given: Mapping[str, Any], assumed: Assumed
) -> PasteFound:
    """Return the paste of a recipe, and the bench beside it or in the working folder."""
    from eggfold.jobs.asked import Asked  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415
    from eggfold.jobs.bench import build_bench  # noqa: PLC0415

    if recipe is None:
        workspace = open_workspace((), None, given)
        tools = build_bench(workspace.open_bench())
        return PasteFound(None, "typical paste", tools, finish(workspace))
    asked = Asked("freebie" if strength == "freebie" else "hookbait")
    workspace = open_workspace((recipe,), given["additives"], given)
    batches = list(answers(workspace, asked.strength, lambda opened: build_batch(opened, asked)))
    code = finish(workspace)
    tools = build_bench(workspace.companions.bench)
    if not batches:
        return PasteFound(None, "", tools, code or 1)
    for a in batches[0].assumptions:
        if a.what.startswith(("analysis", "one ")):
            assumed.note(a.what, a.value, a.origin, a.source)
    return PasteFound(batches[0].paste.parts, batches[0].recipe, tools)
