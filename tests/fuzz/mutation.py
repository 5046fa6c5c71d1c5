"""Changes that leave a file nearly YAML: lines moved, doubled, indented, and their values exchanged."""

from __future__ import annotations

import re
from random import Random

VALUE = re.compile(rb"(?<=[:-] )[^\n]*|(?<=: )[^,}\n]*")
ODD = (b"", b"~", b"0", b"1e9", b"none", b"{}", b"[]", b"''", b'"\\u0000"', b"|\n  x", b"9" * 15)


def change_lines(data: bytes, words: list[bytes], random: Random) -> bytes:
    """Return a text with one to four changes that a hand could have made."""
    lines = data.splitlines(keepends=True) or [b"\n"]
    for _ in range(random.randint(1, 4)):
        random.choice((_move, _double, _drop, _indent, _exchange, _replace, _respell))(
            lines, words, random
        )
        lines = lines or [b"\n"]
    return b"".join(lines)


def _move(lines: list[bytes], _: list[bytes], random: Random) -> None:
    line = lines.pop(random.randrange(len(lines)))
    lines.insert(random.randint(0, len(lines)), line)


def _double(lines: list[bytes], _: list[bytes], random: Random) -> None:
    lines.insert(random.randint(0, len(lines)), random.choice(lines))


def _drop(lines: list[bytes], _: list[bytes], random: Random) -> None:
    del lines[random.randrange(len(lines))]


def _indent(lines: list[bytes], _: list[bytes], random: Random) -> None:
    """Shift a few lines together, so that what they hold belongs to something else."""
    start, by = random.randrange(len(lines)), random.choice((-2, -1, 1, 2, 4))
    for i in range(start, min(len(lines), start + random.randint(1, 5))):
        lines[i] = b" " * by + lines[i] if by > 0 else lines[i].removeprefix(b" " * -by)


def _exchange(lines: list[bytes], _: list[bytes], random: Random) -> None:
    """Put one line's value behind another's key."""
    if values := VALUE.findall(b"".join(lines)):
        _put(lines, random.choice(values), random)


def _replace(lines: list[bytes], words: list[bytes], random: Random) -> None:
    _put(lines, random.choice((*ODD, random.choice(words))), random)


def _put(lines: list[bytes], value: bytes, random: Random) -> None:
    i = random.randrange(len(lines))
    if found := list(VALUE.finditer(lines[i])):
        start, end = random.choice(found).span()
        lines[i] = lines[i][:start] + value + lines[i][end:]


def _respell(lines: list[bytes], words: list[bytes], random: Random) -> None:
    """Spell a line otherwise: a comma for a point, a tab for a space, another line break, a comment."""
    i = random.randrange(len(lines))
    old, new = random.choice(
        (
            (b".", b","),
            (b"- ", b"-\t"),
            (b"\n", b"\r\n"),
            (b"\n", b"\t\n"),
            (b"\n", b" # " + random.choice(words) + b"\n"),
            (b": ", b": '"),
            (b": ", b" : "),
            (b"e", b"ee"),
            (b"l", b""),
        )
    )
    lines[i] = lines[i].replace(old, new, 1)
