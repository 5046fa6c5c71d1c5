"""How pages look: the units, and what the stream they go to can show."""

from __future__ import annotations

import codecs
import os
import sys
from typing import TYPE_CHECKING, Any, NamedTuple, TextIO

import click

from eggfold.commands.option_types import OneOf
from eggfold.commands.options import several

if TYPE_CHECKING:
    from collections.abc import Mapping

    from eggfold.amounts import Measures

PIPED_WIDTH = 80
NARROWEST, WIDEST = 60, 120

_COLOR = "eggfold.color"
_PLAIN = "eggfold_ascii"
_STAND_INS = {"×": "x", "±": "+-", "°": "deg ", "–": "-", "−": "-", "…": "...", "²": "2", "³": "3"}


class Look(NamedTuple):
    """What a stream can show: so many columns, with or without colour."""

    width: int
    color: bool


PLAIN = Look(PIPED_WIDTH, color=False)
"""How a page looks to a stream of which nothing is known."""


def _use_units(_context: click.Context, _option: click.Parameter, value: Measures) -> None:
    from eggfold.pages.display import show_units  # noqa: PLC0415

    show_units(value)


def _use_color(context: click.Context, _option: click.Parameter, value: str) -> None:
    context.meta[_COLOR] = value


display_options = several(
    click.option(
        "--units",
        type=OneOf(["metric", "imperial", "us"]),
        default="metric",
        show_default=True,
        expose_value=False,
        callback=_use_units,
        help="Whose weights and volumes pages show.",
    ),
    click.option(
        "--color",
        type=OneOf(["auto", "always", "never"]),
        default="auto",
        show_default=True,
        expose_value=False,
        callback=_use_color,
        help="Bold headings; auto: on a terminal.",
    ),
)


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


def current_look() -> Look:
    """Return what standard output can show, with the --color of the running command."""
    chosen: str = click.get_current_context().meta.get(_COLOR, "auto")
    return look_of(sys.stdout, os.environ, chosen)


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
