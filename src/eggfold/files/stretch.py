"""A stretch of a text for YAML's reader: the lines that it gets, and where it can stop again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from eggfold.files.events import Block, Event, Resume


class Stretch:
    """A text from a line on, behind lines that open again what is open there."""

    def __init__(self, text: str, begin: Resume) -> None:
        self._text = text
        self._begin = begin
        head = "".join(_head(begin))
        self._head_size = len(head)
        self._to_read = [head] if head else []
        self._at = begin.at
        self.made_up = sum(1 + (block.kind == "mapping") for block in begin.open)
        """Steps of the lines that are not the text's own."""
        if begin.open and begin.empty is None:
            self.made_up += 1

    def read(self, size: int) -> str:
        """Return the next characters, as a file does."""
        if self._to_read:
            return self._to_read.pop()
        part = self._text[self._at : self._at + size]
        self._at += len(part)
        return part

    def close(self) -> None:
        """Let go of the text: YAML's reader keeps what it reads from for long."""
        self._text = ""

    def place(self, mark: Any) -> int:
        """Return where in the text a place stands that YAML's reader names."""
        at: int = mark.index - self._head_size
        if at >= 0:
            return self._begin.at + at
        return self._begin.at if self._begin.empty is None else self._begin.empty


def _head(begin: Resume) -> list[str]:
    lines = [
        " " * block.column + ("k:" if block.kind == "mapping" else "-") for block in begin.open
    ]
    if lines and begin.empty is None:
        lines[-1] += " v"
    return [f"{line}\n" for line in lines]


class Nesting:
    """What is open while steps follow each other."""

    def __init__(self, text: str, begin: Resume) -> None:
        self._text = text
        self._open = [_Level(block, awaits_value=True) for block in begin.open]
        if self._open:
            self._open[-1].awaits_value = begin.empty is not None

    def follow(self, step: Event, column: int) -> None:
        """Take a step that starts in a column."""
        if step.kind in {"sequence", "mapping"}:
            within = self._open[-1] if self._open else None
            is_key = within is not None and within.awaits_key
            stands_free = not step.flow and not is_key and (within is None or within.stands_free)
            self._open.append(_Level(Block(column, step.kind), stands_free=stands_free))
            return
        if step.kind == "end":
            self._open.pop()
        if self._open:
            self._open[-1].awaits_value = self._open[-1].awaits_key

    def is_plain(self, step: Event, line: int) -> bool:
        """Tell whether a step is the first of a line that can be read without those before it."""
        within = self._open[-1] if self._open else None
        if within is None or not within.stands_free or step.refused or step.kind == "end":
            return False
        first = line + within.block.column
        if self._text[line - 1 : first] != "\n" + " " * within.block.column:
            return False
        if within.block.kind == "mapping":
            return step.kind == "scalar" and step.start == first and not within.awaits_value
        behind = self._text[first + 1 : step.start]
        return self._text.startswith("- ", first) and not behind.strip(" ")

    def resume(self, line: int) -> Resume:
        """Return the start of a plain line as a place to read on from."""
        return Resume(line, tuple(level.block for level in self._open), None)


@dataclass(slots=True)
class _Level:
    """A list or mapping that is open."""

    block: Block
    awaits_value: bool = False
    """Whether a mapping's key has come and its value is to follow."""
    stands_free: bool = True
    """Whether its lines are not in brackets, and in no key."""

    @property
    def awaits_key(self) -> bool:
        """Whether what comes next is the key of a mapping."""
        return self.block.kind == "mapping" and not self.awaits_value
