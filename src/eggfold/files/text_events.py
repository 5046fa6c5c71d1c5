"""The steps of a text: line by line where its lines are plain, through YAML's reader where they are not."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.files.events import BEGINNING, Event, Resume
from eggfold.files.whole_lines import HardLineError, LineReader

if TYPE_CHECKING:
    from eggfold.files.source import Source
    from eggfold.files.yaml_events import YamlReader


def text_events(source: Source, text: str | None = None) -> Iterator[Event]:
    """Yield the steps of the one document that a text may hold; raises ProblemsError.

    ``text`` is read instead of the source's own; its places must be the same.
    """
    text = source.text if text is None else text
    lines = LineReader(text)
    reader: YamlReader | None = None
    begin: Resume | None = BEGINNING
    while begin:
        try:
            yield from lines.events(begin)
        except HardLineError as error:
            begin, hard_line_end = error.begin, error.end
        else:
            return
        reader = reader or _yaml_reader(source, text)
        begin = yield from reader.events(begin, hard_line_end)


def _yaml_reader(source: Source, text: str) -> YamlReader:
    from eggfold.files.yaml_events import YamlReader  # noqa: PLC0415 - few texts need it

    return YamlReader(source, text)
