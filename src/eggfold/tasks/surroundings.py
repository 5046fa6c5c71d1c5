"""What surrounds a run: its streams and what they can show, and the day."""

from __future__ import annotations

import codecs
import os
import sys
import time
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any, TextIO, TypeVar

import click

from eggfold.errors import OptionError
from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

T = TypeVar("T")

PIPED_WIDTH = 80
NARROWEST, WIDEST = 60, 120

_YEAR_3000_S = 32_503_680_000
"""Seconds from 1970 to the first day that no file may name."""
_PLAIN = "eggfold_ascii"
_STAND_INS = {"×": "x", "±": "+-", "°": "deg ", "–": "-", "−": "-", "…": "...", "²": "2", "³": "3"}


class Look(NamedTuple):
    """What a stream can show: so many columns, with or without colour."""

    width: int
    color: bool


PLAIN = Look(PIPED_WIDTH, color=False)
"""How a page looks to a stream of which nothing is known."""


def look_of(stream: TextIO, environ: Mapping[str, str], color: str = "auto") -> Look:
    """Return what a stream can show: anything but a terminal is plain and 80 columns wide."""
    terminal = stream.isatty()
    width = _terminal_width(stream, environ) if terminal else PIPED_WIDTH
    if color != "auto":
        return Look(width, color == "always")
    if environ.get("NO_COLOR"):
        return Look(width, color=False)
    if environ.get("FORCE_COLOR"):
        return Look(width, color=True)
    return Look(width, terminal and environ.get("TERM") != "dumb")


def _terminal_width(stream: TextIO, environ: Mapping[str, str]) -> int:
    stated = environ.get("COLUMNS", "")
    try:
        columns = int(stated) if stated.isdecimal() else os.get_terminal_size(stream.fileno())[0]
    except (ValueError, OSError):
        columns = 0
    return min(max(columns or PIPED_WIDTH, NARROWEST), WIDEST)


def current_look(color: str) -> Look:
    """Return what standard output can show, with the --color that was asked for."""
    return look_of(sys.stdout, os.environ, color)


def say(text: str) -> None:
    """Write to standard error."""
    click.echo(text, err=True)


class _Quiet:
    """Whether remarks are left out."""

    wanted = False


def keep_quiet(*, quiet: bool) -> None:
    """Leave out from now on what is no problem, or say it again."""
    _Quiet.wanted = quiet


def remark(text: str) -> None:
    """Write to standard error what is no problem, unless quiet is wanted."""
    if not _Quiet.wanted:
        say(text)


def show(content: str | bytes, *, color: bool | None = None) -> None:
    """Write to standard output."""
    click.echo(content, nl=False, color=color)


def silence_stdout() -> None:
    """Keep the interpreter's own flush at exit from failing once more."""
    devnull = os.open(os.devnull, os.O_WRONLY)
    os.dup2(devnull, sys.stdout.fileno())


def soften(stream: Any) -> None:
    """Let a stream of a narrow encoding show stand-ins for the characters it lacks."""
    encoding = getattr(stream, "encoding", None) or "utf-8"
    if encoding.lower().replace("-", "") == "utf8" or not hasattr(stream, "reconfigure"):
        return
    codecs.register_error("stand-in", _stand_in)
    ascii_codec = codecs.lookup("ascii")
    if codecs.lookup(encoding).name == ascii_codec.name:  # click takes such a stream for UTF-8
        codecs.register(lambda name: _renamed(ascii_codec) if name == _PLAIN else None)
        encoding = _PLAIN
    stream.reconfigure(encoding=encoding, errors="stand-in")


def _renamed(codec: codecs.CodecInfo) -> codecs.CodecInfo:
    """Return a codec under the name by which only this program knows it."""
    return codecs.CodecInfo(
        codec.encode,
        codec.decode,
        codec.streamreader,
        codec.streamwriter,
        codec.incrementalencoder,
        codec.incrementaldecoder,
        _PLAIN,
    )


def _stand_in(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lost = error.object[error.start : error.end]
    return "".join(_STAND_INS.get(character, "?") for character in lost), error.end


PATIENCE_S = 1.0
EVERY_S = 0.1
BAR_WIDTH = 30


def with_progress(items: Iterable[T], total: int, verb: str) -> Iterator[T]:
    """Yield the items, showing how many of the ``total`` are done."""
    if not sys.stderr.isatty():
        yield from items
        return
    due = time.monotonic() + PATIENCE_S
    drawn = False
    try:
        for done, item in enumerate(items):
            if time.monotonic() >= due:
                _draw(f"\r{bar_text(done, total, verb)}")
                drawn, due = True, time.monotonic() + EVERY_S
            yield item
    finally:
        if drawn:
            _draw("\r" + " " * len(bar_text(total, total, verb)) + "\r")


def bar_text(done: int, total: int, verb: str) -> str:
    """Return the bar: a verb, what is filled, and the count in words."""
    filled = min(BAR_WIDTH, BAR_WIDTH * done // total)
    return (
        f"{verb} [{'#' * filled}{'.' * (BAR_WIDTH - filled)}] {done:>{len(str(total))}} of {total}"
    )


def _draw(text: str) -> None:
    sys.stderr.write(text)
    sys.stderr.flush()


def today() -> str:
    """Return the day that SOURCE_DATE_EPOCH names in universal time, else the clock's."""
    return _pinned() or _clock()


def past_day(day: str) -> str:
    """Return the day of something that has happened; a day that has not come yet is refused."""
    last = last_past_day()
    if day > last:
        raise OptionError(f"--date: {day} is in the future; try: {last} or a day before it")
    return day


def last_past_day() -> str:
    """Return the last day that can have happened, by the clock or as it is pinned."""
    return max(_clock(), _pinned() or "")


def _clock() -> str:
    return time.strftime("%Y-%m-%d")


def _pinned() -> str | None:
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not epoch:
        return None
    if not (epoch.isascii() and epoch.isdecimal() and len(epoch) <= 11):
        raise OptionError("SOURCE_DATE_EPOCH is not a whole number of seconds")
    if int(epoch) >= _YEAR_3000_S:
        raise OptionError("SOURCE_DATE_EPOCH is after the year 2999")
    return time.strftime("%Y-%m-%d", time.gmtime(int(epoch)))
