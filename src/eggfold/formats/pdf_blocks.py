"""A page cut into bands, each of which stays whole on paper, and the typeface they are set in."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from eggfold.formats.characters import clean, hold_figures
from eggfold.formats.drawing import TYPE, Drawing, draw, draw_strip, rows_within
from eggfold.pages.page import (
    TICK,
    Block,
    Bowl,
    Facts,
    Lines,
    Loads,
    Page,
    Plot,
    Strip,
    Table,
)
from eggfold.records import NamedTuple

REGULAR, BOLD = "DejaVuSansCondensed", "DejaVuSansCondensed-Bold"
REPLACEMENT = "\ufffd"
NAMED_AT_MOST = 5
BOX = "\u2610"
LEADING = 1.22
GAP = 1.0
PAD = 0.22
"""Air above and below the words of a row."""
DESCENT = 0.3
TITLE = 1.55
SMALL = 0.88
WEIGHT, WEIGHT_ROOM = 1.3, 4.6
"""Type of a weight, the largest of its row, and the room that it takes."""
TICK_BOX = 1.3
"""Side of a box to tick: 5 mm in 11 points."""
BOXES_OF_WORDS = 5
"""Boxes that the words beside the first one take the room of."""
LABEL_SHARE = 0.36
"""Most of the width that the labels of facts take."""
NARROWEST = 7.0
"""A column of words may be folded down to this."""
MOST_SPARE = 3.0
"""What a column before others of a table that ends in words gets beyond its own width."""
CUTS = 24
"""Halvings that find a width: to a millionth of the widest column."""


class Typeface:
    """Regular and bold letters; remembers every letter that was asked for and is not there."""

    def __init__(self) -> None:
        self.missing: dict[str, None] = {}
        self._legible: dict[str, str] = {}
        for bold in (False, True):
            _face(bold=bold)

    def legible(self, text: str) -> str:
        """Return a text as it is set: cleaned, its figures held together, strange letters replaced."""
        if text not in self._legible:
            self._legible[text] = self._set(text)
        return self._legible[text]

    def _set(self, text: str) -> str:
        text = hold_figures(clean(text))
        if text.isascii():
            return text
        text = unicodedata.normalize("NFC", text)
        glyphs = _face(bold=False).charToGlyph
        strange = {letter for letter in text if ord(letter) not in glyphs}
        if not strange:
            return text
        self.missing |= dict.fromkeys(sorted(strange))
        return "".join(REPLACEMENT if letter in strange else letter for letter in text)

    def notes(self) -> Iterator[str]:
        """Yield the sentence about the letters that are not there."""
        if not self.missing:
            return
        letters = list(self.missing)
        named = ", ".join(map(_letter_name, letters[:NAMED_AT_MOST]))
        rest = len(letters) - NAMED_AT_MOST
        more = f" and {rest} more" if rest > 0 else ""
        yield f"the PDF's typeface has no {named}{more}; a replacement character stands there"


@lru_cache(maxsize=50_000)
def width_of(text: str, bold: bool = False) -> float:  # noqa: FBT002 - a second key of the cache
    """Return how wide a text is, in heights of its type."""
    return sum(map(_letter_widths(bold=bold).__getitem__, text)) / 1000


class _Widths(dict[str, float]):
    """How wide letters are, as thousandths of the type's height, each looked up once."""

    def __init__(self, face: Any) -> None:
        super().__init__()
        self._face = face

    def __missing__(self, letter: str) -> float:
        width: float = self._face.charWidths.get(ord(letter), self._face.defaultWidth)
        self[letter] = width
        return width


@cache
def _letter_widths(*, bold: bool) -> _Widths:
    return _Widths(_face(bold=bold))


@cache
def _face(*, bold: bool) -> Any:
    name = BOLD if bold else REGULAR
    font = TTFont(name, Path(__file__).with_name("fonts") / f"{name}.ttf")
    pdfmetrics.registerFont(font)
    return font.face


def _letter_name(letter: str) -> str:
    name = unicodedata.name(letter, "")
    return f"U+{ord(letter):04X} ({name})" if name else f"U+{ord(letter):04X}"


class NarrowError(Exception):
    """The columns of a table do not fit the width."""


class Words(NamedTuple):
    """One line of text; ``foot`` is measured from the band's top."""

    x: float
    foot: float
    text: str
    bold: bool = False
    right: bool = False
    scale: float = 1.0


class Rule(NamedTuple):
    """A line across, or a frame where it has a height."""

    left: float
    right: float
    y: float
    weight: float = 0.5
    height: float = 0.0


class Band(NamedTuple):
    """A strip of the page that stays whole."""

    height: float
    words: tuple[Words, ...] = ()
    rules: tuple[Rule, ...] = ()
    figure: Drawing | None = None
    glued: bool = False
    """Whether the next band must stand on the same sheet."""
    head: tuple[Band, ...] = ()
    """What is repeated above it where a sheet begins with it."""
    mark: str = ""
    """The heading that a bookmark of it has."""
    strip: Strip | None = None
    """What the figure shows, where it can be parted between its rows."""


class BlockFrame(NamedTuple):
    """The typeface and the width that a page is laid out for."""

    face: Typeface
    width: float


def title_bands(page: Page, frame: BlockFrame) -> Iterator[Band]:
    """Yield the title and what stands beside it, then the alerts."""
    title, aside = frame.face.legible(page.title), frame.face.legible(page.aside)
    room = frame.width - width_of(aside, bold=True) - GAP
    beside = width_of(title, bold=True) * TITLE <= room
    titles = wrap(title, (room if beside else frame.width) / TITLE, bold=True)
    words = [
        Words(0, TITLE * (1 + i * LEADING), line, bold=True, scale=TITLE)
        for i, line in enumerate(titles)
    ]
    foot = TITLE * (1 + (len(titles) - 1) * LEADING)
    for line in [aside] if beside else wrap(aside, frame.width, bold=True):
        foot += 0 if beside else LEADING
        words.append(Words(frame.width, foot, line, bold=True, right=True))
    height = foot + DESCENT + PAD
    yield Band(height, tuple(words), (Rule(0, frame.width, height, 1.2),), glued=True)
    for alert in page.alerts:
        yield _alert(alert, frame)


def block_bands(block: Block, frame: BlockFrame) -> Iterator[Band]:
    """Yield the bands of a block, its heading first."""
    heading = _heading(block.heading, frame)
    if isinstance(block, Table):
        yield from _table(block, heading, frame)
        return
    yield heading
    if isinstance(block, Bowl):
        yield from _bowl(block, frame)
    elif isinstance(block, Facts):
        yield from _facts(block, frame)
    elif isinstance(block, Loads):
        yield from _loads(block, frame)
    elif isinstance(block, Lines):
        yield from _lines(block, frame)
    elif isinstance(block, Plot | Strip):
        band = _figure(draw(block, frame.width * TYPE / SMALL))
        yield band._replace(strip=block, head=(heading,)) if isinstance(block, Strip) else band


def strip_parts(strip: Strip, width: float, room: float, most: float) -> Iterator[Band]:
    """Yield a strip's rows as several figures: the first within the room left, others within most."""
    start = 0
    while start < len(strip.rows):
        end = start + rows_within((room - PAD) * TYPE / SMALL)
        drawing = draw_strip(strip, width, slice(start, end))
        yield _figure(drawing)
        start, room = end, most


def _figure(drawing: Drawing) -> Band:
    return Band(drawing.height * SMALL / TYPE + PAD, figure=drawing)


def continued_band(page: Page, frame: BlockFrame) -> Band:
    """Return the line on top of a page's further sheets."""
    title = wrap(frame.face.legible(page.title), frame.width * 0.6, bold=True)[0]
    words = (
        Words(0, 1, title, bold=True),
        Words(frame.width, 1, "continued", right=True),
    )
    return Band(1 + DESCENT + PAD, words, (Rule(0, frame.width, 1 + DESCENT + PAD, 1.2),))


def wrap(text: str, width: float, *, bold: bool = False) -> list[str]:
    """Return the lines of a text; a word that is too long for a line is broken."""
    if width_of(text, bold) <= width:
        return [text]
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if width_of(longer, bold) <= width:
            lines[-1] = longer
            continue
        if lines[-1]:
            lines.append("")
        *whole, lines[-1] = _pieces(word, width, bold=bold)
        lines[-1:-1] = whole
    return lines


def _pieces(word: str, width: float, *, bold: bool) -> Iterator[str]:
    piece, used = "", 0.0
    for letter in word:
        wide = width_of(letter, bold)
        if piece and used + wide > width:
            yield piece
            piece, used = "", 0.0
        piece, used = piece + letter, used + wide
    yield piece


def _heading(text: str, frame: BlockFrame) -> Band:
    lines = wrap(frame.face.legible(text), frame.width, bold=True)
    top = 0.75
    words = tuple(Words(0, top + 1 + i * LEADING, line, bold=True) for i, line in enumerate(lines))
    height = top + 1 + (len(lines) - 1) * LEADING + DESCENT
    return Band(height, words, glued=True, mark=" ".join(frame.face.legible(text).split()))


def _alert(text: str, frame: BlockFrame) -> Band:
    lines = wrap(frame.face.legible(text), frame.width - 1.6, bold=True)
    height = len(lines) * LEADING + 0.6
    words = tuple(Words(0.8, 1.25 + i * LEADING, line, bold=True) for i, line in enumerate(lines))
    return Band(height + 0.5, words, (Rule(0, frame.width, 0, 1.2, height + 0.15),), glued=True)


def _bowl(block: Bowl, frame: BlockFrame) -> Iterator[Band]:
    """Yield a box, a large weight and a name for each row, then the tub and its scoops."""
    tub = block.tub
    yield _ticked([("", f"the small figure is of the {block.trial}")], frame, boxed=False)
    for row in block.rows:
        small = f"{row.how}; {row.trial}" if row.how else row.trial
        yield _ticked([(row.amount, row.name)], frame, small)
    yield _ticked([(tub.whole.text, tub.name)], frame, tub.how)
    yield _ticked([(tub.at_once.text, tub.start)], frame)
    for scoops, end in ((tub.to_expected, tub.expected), (tub.to_end, f"{tub.whole.text}, all")):
        yield _ticked([(f"+{scoop.text}", "") for scoop in scoops], frame, end)
    yield from _lines(Lines("", tuple(filter(None, (tub.stiff, tub.sure)))), frame)


def _loads(block: Loads, frame: BlockFrame) -> Iterator[Band]:
    """Yield each size with its time, then a box for each of its loads."""
    each = max(1, math.floor(frame.width / (TICK_BOX + 0.5)) - BOXES_OF_WORDS)
    for row in block.rows:
        yield _ticked([(row.time, row.name)], frame, row.loads, boxed=False)
        things = [("", block.cut), *[("", "")] * (row.boxes - 1)] if row.boxes else []
        for start in range(0, len(things), each):
            yield _ticked(things[start : start + each], frame)
    if any(row.boxes for row in block.rows):
        words = f"{block.cut[0].upper()}{block.cut[1:]}: {block.until}."
        yield from _lines(Lines("", (words,)), frame)


def _ticked(
    things: list[tuple[str, str]], frame: BlockFrame, small: str = "", *, boxed: bool = True
) -> Band:
    """Return a row of boxes, each with its weight and its name, and what stands small at its end."""
    words, rules, x, foot = [], [], 0.0, 0.35 + WEIGHT
    widest = [width_of(frame.face.legible(weight), bold=True) * WEIGHT for weight, _ in things]
    lines = 1
    for (weight, name), wide in zip(things, widest, strict=True):
        if boxed:
            rules.append(Rule(x, x + TICK_BOX, 0.25, 0.9, TICK_BOX))
            x += TICK_BOX + 0.5
        if weight:
            room = max(wide, WEIGHT_ROOM) if name else wide
            words.append(
                Words(
                    x + room, foot, frame.face.legible(weight), bold=True, right=True, scale=WEIGHT
                )
            )
            x += room + 0.8
        names = wrap(frame.face.legible(name), frame.width - x) if name else []
        words += [Words(x, foot + i * LEADING, line) for i, line in enumerate(names)]
        x += max(map(width_of, names), default=0.0)
        x += 0.8 if name and not weight else 0.0
        lines = max(lines, len(names))
    if small:
        text = frame.face.legible(small)
        if x + 1 + width_of(text) <= frame.width and lines == 1:
            words.append(Words(frame.width, foot, text, right=True))
        else:
            for line in wrap(text, frame.width - TICK_BOX):
                words.append(Words(frame.width, foot + lines * LEADING, line, right=True))
                lines += 1
    height = foot + (lines - 1) * LEADING + DESCENT + 0.15
    return Band(height, tuple(words), (*rules, Rule(0, frame.width, height)))


def _lines(block: Lines, frame: BlockFrame) -> Iterator[Band]:
    for item in block.items:
        lines = wrap(frame.face.legible(item), frame.width - 0.9)
        words = [Words(0.9, 1 + i * LEADING, line) for i, line in enumerate(lines)]
        yield Band(len(lines) * LEADING + 0.08, (Words(0.1, 1, "•"), *words))


def _facts(block: Facts, frame: BlockFrame) -> Iterator[Band]:
    """Yield rows of a label and a value."""
    rows = [tuple(map(frame.face.legible, row)) for row in block.rows]
    longest = max((width_of(label) for label, _ in rows), default=0.0)
    label_width = min(longest, frame.width * LABEL_SHARE)
    x = label_width + GAP
    for label, value in rows:
        columns = (
            (0.0, label_width, False, wrap(label, label_width)),
            (x, frame.width - x, False, wrap(value, frame.width - x)),
        )
        yield _row(columns, frame)


PlacedCell = tuple[float, float, bool, list[str]]
"""Where a cell begins, how wide it is, whether it stands right, its lines."""


def _row(
    cells: Iterable[PlacedCell], frame: BlockFrame, *, bold: bool = False, scale: float = 1.0
) -> Band:
    cells = list(cells)
    tallest = max(len(lines) for *_, lines in cells)
    words = []
    for x, width, right, lines in cells:
        # heads stand at the foot of their row, cells at the top of theirs
        first = tallest - len(lines) if bold else 0
        words += [
            Words(
                x + width if right else x,
                PAD + scale + (first + i) * LEADING * scale,
                line,
                bold=bold,
                right=right,
                scale=scale,
            )
            for i, line in enumerate(lines)
            if line
        ]
    height = PAD * 2 + (1 + (tallest - 1) * LEADING) * scale + 0.12
    return Band(height, tuple(words), (Rule(0, frame.width, height, 0.9 if bold else 0.25),))


class _Measured(NamedTuple):
    """A table's texts, and how wide its columns would be and can be, whatever the paper."""

    titles: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wide: tuple[float, ...]
    """Nothing folds."""
    middle: tuple[float, ...]
    """Headings fold."""
    least: tuple[float, ...]
    """Words fold too, figures never."""
    words_last: bool
    """The last column begins at its left."""


@lru_cache(maxsize=1000)  # a card is laid out in several sizes before one is chosen
def _measure(table: Table, face: Typeface) -> _Measured:
    titles = tuple(face.legible(column.title) for column in table.columns)
    rows = tuple(
        tuple(BOX if cell == TICK else face.legible(cell) for cell in row) for row in table.rows
    )
    body = [max((width_of(row[i]) for row in rows), default=0.0) for i in range(len(table.columns))]
    folded = [_longest_word(title) * SMALL for title in titles]
    wide = tuple(map(max, body, (width_of(title, bold=True) * SMALL for title in titles)))
    middle = tuple(map(max, body, folded))
    least = tuple(
        m if column.align == "right" else min(m, max(NARROWEST, f))
        for m, f, column in zip(middle, folded, table.columns, strict=True)
    )
    return _Measured(titles, rows, wide, middle, least, table.columns[-1].align != "right")


def _table(table: Table, heading: Band, frame: BlockFrame) -> Iterator[Band]:
    measured = _measure(table, frame.face)
    widths = _column_widths(measured, frame.width)
    lefts = [sum(widths[:i]) + GAP * i for i in range(len(widths))]
    rights = [column.align == "right" for column in table.columns]

    def cells(
        texts: Iterable[str], scale: float = 1.0, *, bold: bool = False
    ) -> Iterator[PlacedCell]:
        for text, x, width, right in zip(texts, lefts, widths, rights, strict=True):
            yield x, width, right, wrap(text, width / scale, bold=bold)

    head = _row(cells(measured.titles, SMALL, bold=True), frame, bold=True, scale=SMALL)
    head = head._replace(glued=True)
    yield heading
    yield head
    for row in measured.rows:
        yield _row(cells(row), frame)._replace(head=(heading, head))


def _column_widths(table: _Measured, width: float) -> list[float]:
    """Return the widths of columns: headings fold first, then words; figures keep theirs."""
    gaps = len(table.titles) - 1
    room = width - GAP * gaps
    if sum(table.wide) <= room:
        spare = (room - sum(table.wide)) / max(gaps, 1)
        if table.words_last:
            spare = min(spare, MOST_SPARE)  # the eye finds the words beside what they belong to
        return [*(w + spare for w in table.wide[:-1]), table.wide[-1]]
    if sum(table.middle) <= room:
        return _between(table.middle, table.wide, room)
    if sum(table.least) > room + 1e-9:
        raise NarrowError
    return _capped(table.least, table.middle, room)


def _capped(low: tuple[float, ...], high: tuple[float, ...], room: float) -> list[float]:
    """Return widths that fill the room: only the widest columns fold, down to one width."""
    shut, open_ = 0.0, max(high)
    for _ in range(CUTS):
        cap = (shut + open_) / 2
        if sum(max(a, min(b, cap)) for a, b in zip(low, high, strict=True)) > room:
            open_ = cap
        else:
            shut = cap
    return [max(a, min(b, shut)) for a, b in zip(low, high, strict=True)]


def _between(low: tuple[float, ...], high: tuple[float, ...], room: float) -> list[float]:
    """Return widths that fill the room, each as far from its least as the others."""
    span = sum(high) - sum(low)
    share = (room - sum(low)) / span if span else 0.0
    return [a + (b - a) * share for a, b in zip(low, high, strict=True)]


def _longest_word(text: str) -> float:
    return max((width_of(word, bold=True) for word in text.split(" ")), default=0.0)
