"""Where an answer goes and in which format: the terminal, a pipe, one document, a folder."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import Generic, NamedTuple, Protocol, TypeVar

from eggfold.amounts import counted
from eggfold.edit.writing import make_folder, write_file
from eggfold.errors import EggfoldError, MissingExtraError, OptionError
from eggfold.formats.characters import clean
from eggfold.formats.json import Data, document, dumps
from eggfold.formats.plain_text import page_text
from eggfold.formats.registry import FORMATS, Setting, ending_of, form_of_ending, write_pages
from eggfold.nearest import did_you_mean
from eggfold.pages.page import Page
from eggfold.tasks.asked import Given
from eggfold.tasks.surroundings import Look, current_look, remark, show, with_progress

R = TypeVar("R")


class Destination(NamedTuple):
    """What the options of delivery ask for."""

    form: str
    output: Path | None
    folder: bool
    force: bool
    setting: Setting


class Part(Protocol):
    """What can stand in a file of its own: its name, its pages, its JSON object."""

    @property
    def stem(self) -> str:
        """The file's name without its ending."""

    def pages(self) -> tuple[Page, ...]:
        """Return what a reader sees."""

    def data(self) -> Data:
        """Return what a script reads."""


class Answer(NamedTuple, Generic[R]):
    """A result that is one page, and what makes page and object of it."""

    stem: str
    result: R
    page: Callable[..., Page]
    why: bool = False
    document: Callable[[R], Data] | None = None

    def pages(self) -> tuple[Page, ...]:
        """Return its page, with the sums where they are asked for."""
        return (self.page(self.result, why=True) if self.why else self.page(self.result),)

    def data(self) -> Data:
        """Return its object, of the kind that its stem names unless it has its own."""
        return self.document(self.result) if self.document else document(self.stem, self.result)


def destination_of(given: Given, *, others: tuple[str, ...] = ()) -> Destination:
    """Return what the options ask for; raises where it cannot be done, before any work.

    ``others`` are the endings of files that the command writes in its own way.
    """
    output = None if given["output"] in (None, "-") else str(given["output"])
    folder = output is not None and is_folder(output)
    form = given["form"] or (_form_of(Path(output), others) if output and not folder else "text")
    if FORMATS[form].binary:
        _need_library()
        if output is None and sys.stdout.isatty():
            raise OptionError(
                "a PDF is not for the terminal; name a file with --output card.pdf, or a pipe"
            )
    setting = Setting(given["date"], given["paper"])
    if output is None and form == "text":
        setting = setting._replace(**current_look(given["color"])._asdict())
    return Destination(form, Path(output) if output else None, folder, given["force"], setting)


def is_folder(output: str) -> bool:
    """Tell whether a path means a folder: one that is there, a separator at its end, no extension."""
    path = Path(output)
    if path.exists():
        return path.is_dir() or (path.is_file() and not path.suffix)
    return output.endswith(("/", "\\")) or not path.suffix


def deliver(to: Destination, whole: Part, parts: Sequence[Part] = ()) -> list[EggfoldError]:
    """Write an answer where it belongs: ``whole`` as one document, ``parts`` into a folder.

    Returns what failed, file by file.
    """
    if to.folder:
        return _into_folder(to, parts or (whole,))
    content, notes = _content(to, whole)
    for note in notes:
        remark(note)
    if to.output is None:
        show(content, color=to.setting.color)
        return []
    write_file(to.output, _bytes(content), force=to.force)
    remark(f"wrote {_name(to.output)}{_as_text(to)}")
    return []


def deliver_alone(to: Destination, whole: Part) -> None:
    """Write an answer of one part; raises what failed."""
    for failure in deliver(to, whole):
        raise failure


def print_json(data: Data) -> None:
    """Write one JSON object to standard output."""
    show(dumps(data) + "\n")


def print_page(page: Page, look: Look) -> None:
    """Write one page to standard output as text."""
    show(page_text(page, look.width, color=look.color), color=look.color)


def file_names(parts: Sequence[Part], ending: str) -> Iterator[tuple[Part, str]]:
    """Yield each part with its file's name; a name met before gets a number behind it."""
    taken: set[str] = set()
    for part in parts:
        stem, number = part.stem, 1
        while stem.casefold() in taken:
            number += 1
            stem = f"{part.stem}-{number}"
        taken.add(stem.casefold())
        yield part, f"{stem}{ending}"


def file_stem(file: str) -> str:
    """Return the name that a recipe's own files begin with."""
    return "stdin" if file == "-" else Path(file).stem


def _into_folder(to: Destination, parts: Sequence[Part]) -> list[EggfoldError]:
    folder = to.output or Path()
    make_folder(folder)
    failures: list[EggfoldError] = []
    ending = ending_of(to.form)
    named = list(file_names(parts, ending))
    notes = {
        f"{_name(folder / name)}: numbered, another recipe's file has the same name": None
        for part, name in named
        if name != f"{part.stem}{ending}"
    }
    for part, name in with_progress(named, len(named), "writing"):
        try:
            content, told = _content(to, part)
            write_file(folder / name, _bytes(content), force=to.force)
        except EggfoldError as error:
            failures.append(error)
        else:
            notes |= dict.fromkeys(told)
    for note in notes:
        remark(note)
    done = len(named) - len(failures)
    count = f"{done} of {len(named)} files" if failures else counted(done, "file")
    remark(f"wrote {count} into {_name(folder)}")
    return failures


def _content(to: Destination, part: Part) -> tuple[str | bytes, tuple[str, ...]]:
    if to.form == "json":
        return dumps(part.data()) + "\n", ()
    if to.form == "csv":
        from eggfold.formats.csv import csv_text  # noqa: PLC0415 - a format is loaded when asked for

        return csv_text(part.data()).encode(), ()
    written = write_pages(to.form, part.pages(), to.setting)
    if isinstance(written.body, str) and to.form != "text":
        return written.body.encode(), written.notes  # UTF-8 whatever the terminal speaks
    return written


def _form_of(path: Path, others: tuple[str, ...]) -> str:
    if form := form_of_ending(path.suffix):
        return form
    endings = [*others, *(ending for f in FORMATS.values() for ending in f.endings)]
    if near := did_you_mean(path.suffix, endings):
        raise OptionError(
            f"--output: files of no format end in {path.suffix[:20]}; {near} "
            "Or say which with --format"
        )
    return "text"


def _as_text(to: Destination) -> str:
    """Return a remark where text went into a file whose ending promises something else."""
    ending = to.output.suffix if to.output else ""
    known = not ending or form_of_ending(ending)
    return "" if known or to.form != "text" else " as text; --format takes the others"


def _need_library() -> None:
    if find_spec("reportlab") is None:
        raise MissingExtraError("a PDF", "pdf")


def _bytes(content: str | bytes) -> bytes:
    return content.encode() if isinstance(content, str) else content


def _name(path: Path) -> str:
    return clean(str(path))
