"""A pocket calculator for printed sums: it redoes each from what is printed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from eggfold.pages.figures import NO_SUM

NUMBER = r"[0-9]+(?:\.[0-9]+)?"
TOKEN = re.compile(rf"\s*({NUMBER}|e\^|[-−+×/^²³√()])")
TAIL = re.compile(rf"(?:{NUMBER}|e\^|[-−+×/^²³√()\s])+$")
RESULT = re.compile(rf"\s*([-−]?)({NUMBER})(?![0-9.])(?!\s*[-−+×/^²³])")
WHOLE = re.compile(r", (so|rounded up to) ([0-9]+)")
SIGNS = {"−": "-", "²": "^2", "³": "^3"}


class NotASumError(Exception):
    """The text is no arithmetic."""


class Calculator:
    """A pocket calculator: numbers, + − × /, powers as printed, roots, parentheses, e^."""

    def __init__(self, text: str) -> None:
        self._tokens = list(tokens_of(text))
        self._at = 0

    def result(self) -> float:
        """Return what the whole text gives."""
        value = self._sum()
        if self._at != len(self._tokens):
            raise NotASumError
        return value

    def _next(self) -> str:
        return self._tokens[self._at] if self._at < len(self._tokens) else ""

    def _take(self) -> str:
        token = self._next()
        self._at += 1
        return token

    def _sum(self) -> float:
        value = self._product()
        while self._next() in ("+", "-"):
            value = value + self._product() if self._take() == "+" else value - self._product()
        return value

    def _product(self) -> float:
        value = self._power()
        while self._next() in ("×", "/"):
            value = value * self._power() if self._take() == "×" else value / self._power()
        return value

    def _power(self) -> float:
        value = self._atom()
        while self._next() == "^":
            self._take()
            value **= self._atom()
        return value

    def _atom(self) -> float:
        sign = self._take()
        if sign == "(":
            value = self._sum()
            if self._take() != ")":
                raise NotASumError
            return value
        if sign == "-":
            return -self._power()
        if sign == "√":
            return math.sqrt(self._atom())
        if sign == "e^":
            return math.exp(self._atom())
        if not re.fullmatch(NUMBER, sign):
            raise NotASumError
        return float(sign)


def tokens_of(text: str) -> Iterator[str]:
    at, text = 0, text.strip()
    while at < len(text):
        match = TOKEN.match(text, at)
        if match is None:
            raise NotASumError
        sign = SIGNS.get(match[1], match[1])
        yield from (("^", sign[1:]) if sign in ("^2", "^3") else (sign,))
        at = match.end()


class Sum(NamedTuple):
    """An expression, the printed result with its last digit's worth, and what is whole behind it."""

    text: str
    result: float
    last_digit: float
    rounding: tuple[str, int] | None


def sums_of(line: str) -> Iterator[Sum]:
    """Yield every sum of a line: arithmetic before an equals sign, a number behind it."""
    for before, after in pairwise(line.split(" = ")):
        tail = TAIL.search(before)
        shown = RESULT.match(after)
        if tail is None or shown is None or not re.search(r"[-−+×/^²³√]", tail[0].strip()):
            continue
        decimals = len(shown[2].partition(".")[2])
        whole = WHOLE.search(after)
        value = float(shown[2]) * (-1 if shown[1] else 1)
        rounding = (whole[1], int(whole[2])) if whole else None
        yield Sum(tail[0].strip(), value, 10.0**-decimals, rounding)


def faults_of(line: str) -> Iterator[str]:
    """Yield what is wrong with a line: a sum that does not come out, or nothing to check."""
    found = list(sums_of(line))
    if not found and NO_SUM not in line:
        yield f"no sum: {line}"
    for one in found:
        try:
            value = Calculator(one.text).result()
        except NotASumError:
            yield f"cannot be typed: {one.text}: {line}"
            continue
        if not abs(value - one.result) <= one.last_digit * 1.001:
            yield f"{one.text} gives {value}, not {one.result}: {line}"
        if one.rounding:
            way, whole = one.rounding
            least, most = value * (1 - 1e-5), value * (1 + 1e-5)
            most_whole = range(math.floor(least), math.floor(most) + 1)
            full_loads = range(max(1, math.ceil(least)), max(1, math.ceil(most)) + 1)
            if whole not in (most_whole if way == "so" else full_loads):
                yield f"{value} does not give {whole}: {line}"
