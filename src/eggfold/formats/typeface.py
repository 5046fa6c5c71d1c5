"""The typeface of a PDF: how wide a text is, and which letters it does not have."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from eggfold.formats.characters import clean, hold_figures

REGULAR, BOLD = "DejaVuSansCondensed", "DejaVuSansCondensed-Bold"
REPLACEMENT = "\ufffd"
NAMED_AT_MOST = 5


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
    face = _face(bold=bold)
    widths, other = face.charWidths, face.defaultWidth
    total: float = sum(widths.get(ord(letter), other) for letter in text)
    return total / 1000


@cache
def _face(*, bold: bool) -> Any:
    name = BOLD if bold else REGULAR
    font = TTFont(name, Path(__file__).with_name("fonts") / f"{name}.ttf")
    pdfmetrics.registerFont(font)
    return font.face


def _letter_name(letter: str) -> str:
    name = unicodedata.name(letter, "")
    return f"U+{ord(letter):04X} ({name})" if name else f"U+{ord(letter):04X}"
