"""A note as JSON, and as the difference it makes to the files."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from eggfold.files.writing import Change
    from eggfold.jobs.drawing import Drawn
    from eggfold.jobs.noting import Note


def note_document(note: Note, *, written: bool) -> dict[str, Any]:
    """Return the object of ``note``."""
    name = "item" if note.what == "bought" else "recipe"
    return {
        "kind": "note",
        "version": 1,
        "what": note.what,
        "date": note.date,
        name: note.title,
        **note.figures,
        "notebook": note.notebook,
        "shelf": note.shelf,
        "written": written,
        "drawn": [_drawn(d) for d in note.drawing.drawn],
        "not_drawn": [{"name": p.name, "reason": p.reason} for p in note.drawing.passed],
        "remarks": list(note.remarks),
        "diff": None if written else diff_text(note),
    }


def _drawn(drawn: Drawn) -> dict[str, Any]:
    return {
        "name": drawn.name,
        "amount": float(drawn.drew.number),
        "unit": drawn.drew.unit,
        "left": float(drawn.left_now),
        "missing": float(drawn.missing.number) if drawn.missing else None,
    }


def diff_text(note: Note) -> str:
    """Return what a note changes as a unified diff."""
    return "".join(_diff(change) for change in note.changes)


def _diff(change: Change) -> str:
    import difflib  # noqa: PLC0415 - only a dry run needs it

    old, new = _lines(change.old), _lines(change.new)
    before = change.file if change.old is not None else "/dev/null"
    after = change.file if change.new is not None else "/dev/null"
    lines = difflib.unified_diff(old, new, before, after)
    return "".join(_whole_line(line) for line in lines)


def _lines(data: bytes | None) -> list[str]:
    """Split at line feeds alone, so that a carriage return stays where it is."""
    text = (data or b"").decode()
    parts = text.split("\n")
    return [f"{part}\n" for part in parts[:-1]] + ([parts[-1]] if parts[-1] else [])


def _whole_line(line: str) -> str:
    return line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n"
