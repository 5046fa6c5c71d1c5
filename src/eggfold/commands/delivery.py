"""Where an answer goes and in which format: the terminal, a pipe, one document, a folder."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from eggfold.commands.display import Look, current_look
from eggfold.commands.run import say
from eggfold.plural import counted

if TYPE_CHECKING:
    from eggfold.errors import EggfoldError
    from eggfold.formats.registry import Setting
    from eggfold.pages.page import Page


class Destination(NamedTuple):
    """What the options of delivery ask for."""

    form: str
    output: Path | None
    folder: bool
    force: bool
    setting: Setting


class Part(NamedTuple):
    """What can stand in a file of its own: its name, its pages, its JSON object."""

    stem: str
    pages: Callable[[], tuple[Page, ...]]
    data: Callable[[], dict[str, Any]]


def destination_of(given: dict[str, Any], *, others: tuple[str, ...] = ()) -> Destination:
    """Return what the options ask for; raises where it cannot be done, before any work.

    ``others`` are the endings of files that the command writes in its own way.
    """
    from eggfold.formats.registry import FORMATS, Setting  # noqa: PLC0415

    output = None if given["output"] in (None, "-") else str(given["output"])
    folder = output is not None and is_folder(output)
    form = given["form"] or (_form_of(Path(output), others) if output and not folder else "text")
    if FORMATS[form].binary:
        _need_library()
        if output is None and sys.stdout.isatty():
            raise click.UsageError(
                "a PDF is not for the terminal; name a file with --output card.pdf, or a pipe"
            )
    setting = Setting(given["date"], given["paper"])
    if output is None and form == "text":
        setting = setting._replace(**current_look()._asdict())
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
        say(note)
    if to.output is None:
        click.echo(content, nl=False, color=to.setting.color)
        return []
    from eggfold.files.writing import write_file  # noqa: PLC0415

    write_file(to.output, _bytes(content), force=to.force)
    say(f"wrote {_name(to.output)}{_as_text(to)}")
    return []


def deliver_page(
    to: Destination, stem: str, page: Callable[[], Page], data: Callable[[], dict[str, Any]]
) -> None:
    """Write an answer of one page; raises what failed."""
    for failure in deliver(to, Part(stem, lambda: (page(),), data)):
        raise failure


def print_json(data: dict[str, Any]) -> None:
    """Write one JSON object to standard output."""
    from eggfold.formats.json import dumps  # noqa: PLC0415

    click.echo(dumps(data))


def print_page(page: Page, look: Look) -> None:
    """Write one page to standard output as text."""
    from eggfold.formats.plain_text import page_text  # noqa: PLC0415

    click.echo(page_text(page, look.width, color=look.color), nl=False, color=look.color)


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
    from eggfold.commands.progress import shown  # noqa: PLC0415
    from eggfold.errors import EggfoldError  # noqa: PLC0415
    from eggfold.files.writing import make_folder, write_file  # noqa: PLC0415
    from eggfold.formats.registry import ending_of  # noqa: PLC0415

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
    for part, name in shown(named, lambda: len(named), "writing"):
        try:
            content, told = _content(to, part)
            write_file(folder / name, _bytes(content), force=to.force)
        except EggfoldError as error:
            failures.append(error)
        else:
            notes |= dict.fromkeys(told)
    for note in notes:
        say(note)
    done = len(named) - len(failures)
    count = f"{done} of {len(named)} files" if failures else counted(done, "file")
    say(f"wrote {count} into {_name(folder)}")
    return failures


def _content(to: Destination, part: Part) -> tuple[str | bytes, tuple[str, ...]]:
    if to.form == "json":
        from eggfold.formats.json import dumps  # noqa: PLC0415

        return dumps(part.data()) + "\n", ()
    from eggfold.formats.registry import write_pages  # noqa: PLC0415

    written = write_pages(to.form, part.pages(), to.setting)
    if isinstance(written.body, str) and to.form != "text":
        return written.body.encode(), written.notes  # UTF-8 whatever the terminal speaks
    return written


def _form_of(path: Path, others: tuple[str, ...]) -> str:
    from eggfold.formats.registry import FORMATS, form_of_ending  # noqa: PLC0415
    from eggfold.nearest import did_you_mean  # noqa: PLC0415

    if form := form_of_ending(path.suffix):
        return form
    endings = [*others, *(ending for f in FORMATS.values() for ending in f.endings)]
    if near := did_you_mean(path.suffix, endings):
        raise click.UsageError(
            f"--output: files of no format end in {path.suffix[:20]}; {near} "
            "Or say which with --format"
        )
    return "text"


def _as_text(to: Destination) -> str:
    """Return a remark where text went into a file whose ending promises something else."""
    from eggfold.formats.registry import form_of_ending  # noqa: PLC0415

    ending = to.output.suffix if to.output else ""
    known = not ending or form_of_ending(ending)
    return "" if known or to.form != "text" else " as text; --format takes the others"


def _need_library() -> None:
    from importlib.util import find_spec  # noqa: PLC0415

    if find_spec("reportlab") is None:
        from eggfold.errors import MissingExtraError  # noqa: PLC0415

        raise MissingExtraError("a PDF", "pdf")


def _bytes(content: str | bytes) -> bytes:
    return content.encode() if isinstance(content, str) else content


def _name(path: Path) -> str:
    from eggfold.formats.characters import clean  # noqa: PLC0415

    return clean(str(path))
