"""Tabs in a text: between the words of a line they are spaces, at its start they may mean anything."""

from __future__ import annotations

import re

_TABS = re.compile(r"\t+")
_INDENT = re.compile(r"[ \t]*(?:[-?][ \t]+)*")
_LIST_ITEM = re.compile(r"[ \t]*[-?](?:[ \t\r\n]|\Z)")
_END_OF_LINE = re.compile(r"[ \t]*(?:[\r\n]|\Z)")


def parts_words(text: str, at: int) -> bool:
    """Tell whether the tab at a place stands behind a word of its line, and before no list item."""
    start = max(text.rfind("\n", 0, at), text.rfind("\r", 0, at)) + 1
    indent = _INDENT.match(text, start)
    return bool(indent and indent.end() < at) and not _LIST_ITEM.match(text, end_of_tabs(text, at))


def end_of_tabs(text: str, at: int) -> int:
    """Return the place behind the tabs that begin at a place."""
    tabs = _TABS.match(text, at)
    return tabs.end() if tabs else at


def spaced(text: str, at: int) -> str:
    """Return the text with as many spaces for the tabs at a place, so that all else stays put."""
    end = end_of_tabs(text, at)
    return f"{text[:at]}{' ' * (end - at)}{text[end:]}"


def written_for_tabs(text: str, at: int) -> str:
    """Return what is to be written for the tabs at a place: one space, none where it would be idle."""
    end = end_of_tabs(text, at)
    idle = _END_OF_LINE.match(text, end) or text[at - 1] == " " or text[end : end + 1] == " "
    return "" if idle else " "
