"""The library's pure reader, which decides where its C reader refuses or is not installed.

It takes tabs as the C one does: as spaces, between the words of a line. It does not look at what is
refused anyway, which hostile text makes long.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any, NoReturn

from ruamel.yaml import YAML
from ruamel.yaml.events import ScalarEvent
from ruamel.yaml.reader import Reader
from ruamel.yaml.scanner import Scanner, ScannerError


def slow_events(text: str) -> Iterator[Any]:
    """Yield the events of a text."""
    yaml = YAML(typ="safe", pure=True)
    yaml.Scanner = _Scanner
    if "\t" in text:
        yaml.Reader, yaml.Scanner = _TabReader, _TabScanner
    for event in yaml.parse(text):
        if isinstance(event, ScalarEvent) and _SURROGATE.search(event.value):
            problem = "found invalid Unicode character escape code"
            raise ScannerError(None, None, problem, event.start_mark)
        yield event


_SURROGATE = re.compile("[\ud800-\udfff]")


class _Scanner(Scanner):
    """The pure scanner, which stops at what is refused."""

    def fetch_tag(self) -> NoReturn:
        """Refuse a tag."""
        raise self._refused("tag")

    def fetch_anchor(self) -> NoReturn:
        """Refuse an anchor."""
        raise self._refused("anchor")

    def fetch_alias(self) -> NoReturn:
        """Refuse an alias."""
        raise self._refused("alias")

    def _refused(self, what: str) -> ScannerError:
        return ScannerError(None, None, what, self.reader.get_mark())


class _TabReader(Reader):
    """The pure reader, for which a tab can be a space."""

    tabs_are_spaces = False

    def peek(self, index: int = 0) -> str:
        """Return a character further on."""
        found: str = super().peek(index)
        return " " if found == "\t" and self.tabs_are_spaces else found


class _TabScanner(_Scanner):
    """The pure scanner for a text with tabs."""

    reader: _TabReader

    def scan_to_next_token(self) -> None:
        """Pass over tabs too, but where a key or an item may begin."""
        super().scan_to_next_token()
        while self.reader.peek() == "\t" and not self.allow_simple_key:
            self.reader.forward()
            super().scan_to_next_token()

    def scan_plain(self) -> Any:
        """Read a text without quotes, whose lines are indented by spaces."""
        mark = self.reader.get_mark()
        token = self._with_tabs_as_spaces(super().scan_plain)
        least = 0 if self.flow_level else self.indent + 1
        indent = re.compile(rf"[\r\n] {{0,{least - 1}}}(\t)") if least else None
        if indent and (tab := indent.search(self.reader.buffer, mark.index, self.reader.index)):
            mark.index = tab.start(1)
            raise ScannerError(None, None, "found a tab character in an indent", mark)
        return token

    def scan_block_scalar_indicators(self, start_mark: Any) -> Any:
        """Read the mark of a block text."""
        return self._with_tabs_as_spaces(super().scan_block_scalar_indicators, start_mark)

    def scan_block_scalar_ignored_line(self, start_mark: Any) -> Any:
        """Pass over what stands behind the mark of a block text."""
        return self._with_tabs_as_spaces(super().scan_block_scalar_ignored_line, start_mark)

    def _with_tabs_as_spaces(self, scan: Callable[..., Any], *arguments: Any) -> Any:
        self.reader.tabs_are_spaces = True
        found = scan(*arguments)
        self.reader.tabs_are_spaces = False
        return found
