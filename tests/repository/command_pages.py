"""A page for each command, made from what the command tells of itself."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from typing import NamedTuple

import click

from eggfold.commands.root import SUMMARIES, root
from eggfold.errors import EggfoldError
from running import ROOT

GUIDES = {
    "batch": "cards",
    "shopping": "shelf",
    "doses": "cards",
    "boil": "boil",
    "buoyancy": "buoyancy",
    "powder": "powder",
    "labels": "cards",
    "shelf": "shelf",
    "note": "notebook",
    "trials": "trials",
    "rolling": "rolling",
    "campaign": "campaign",
    "check": "errors",
    "new": "files",
    "schema": "files",
}
"""The page of ``docs/`` that explains what a command answers."""

MEANINGS = {
    "RECIPE": "a recipe's file, or `-` for standard input",
    "RECIPE...": "recipes' files, folders of recipes, patterns in quotes, or `-`",
    "RECIPE|PLAN...": "recipes' files, folders of recipes, patterns in quotes, or `-`; plans of a weekend or a season",
    "[RECIPE|FOLDER]...": "recipes' files, or folders of them",
    "[SIZE]...": "sizes of baits, as in 14mm",
    "PLAN": "a plan's file, or `-` for standard input",
    "FILE...": "files, folders for every YAML file in them, or `-` for standard input",
    "ITEM": "what was bought, by its name on the shelf",
    "AMOUNT": "how much of it: an amount such as `450g`, or whole pieces",
    "TRIP": "a trip: the day it leaves, or any part of its name that no other has",
    "[BAIT=AMOUNT]...": "what is there, as in `caraway=3kg`, `'caraway hookbait=240'` or `caraway=none`",
    "DIR": "the folder to make: `bait`, if you name none",
    "KIND": "the kind of file, as above",
}
"""What stands behind the name of an argument."""


class Example(NamedTuple):
    """A command line that a help shows, without what a shell does with it."""

    typed: str
    arguments: str


def command_of(name: str) -> click.Command:
    """Return a command by its name."""
    command = root.get_command(click.Context(root), name)
    assert command is not None
    return command


def help_of(command: click.Command) -> str:
    """Return a command's help, its paragraphs as they were written."""
    return inspect.cleandoc(command.help or "")


def examples_of(command: click.Command) -> list[Example]:
    """Return the examples in a command's help, those of the commands in a group behind them."""
    own = [Example(t, t.removeprefix("eggfold ").partition(" > ")[0]) for t in _typed(command)]
    return own + [e for inner in _inner(command).values() for e in examples_of(inner)]


def build_pages() -> dict[str, str]:
    """Return the text of every page in ``docs/commands/`` by its file's name."""
    pages = {f"{name}.md": _page(name) for name in SUMMARIES}
    return {"index.md": _index(), **pages}


def _index() -> str:
    rows = [
        f"| [`{name}`]({name}.md) | {_escaped(summary)} |" for name, summary in SUMMARIES.items()
    ]
    parts = [
        "# The commands",
        "One page each, made from the program's own help. `eggfold COMMAND --help` shows the same.",
        "\n".join(["| command | does |", "|---|---|", *rows]),
        "```{toctree}\n:hidden:\n" + "\n".join(SUMMARIES) + "\n```",
    ]
    return "\n\n".join(parts) + "\n"


def _page(name: str) -> str:
    parts = [
        f"# eggfold {name}",
        *_described(f"eggfold {name}", command_of(name), "##"),
        f"## Exit codes\n\n{_exit_codes()}",
        f"What it answers, and how it is worked out: {_link(GUIDES[name])}.",
    ]
    return "\n\n".join(parts) + "\n"


def _link(page: str) -> str:
    """Return a link to a page of ``docs/`` by its heading."""
    heading = (ROOT / "docs" / f"{page}.md").read_text("utf-8").partition("\n")[0]
    return f"[{heading.removeprefix('# ')}](../{page}.md)"


def _described(path: str, command: click.Command, level: str) -> Iterator[str]:
    """Yield what a command is for, how it is typed, examples, arguments and options."""
    context = click.Context(command, click.Context(root, **root.context_settings), path)
    yield from _prose(command)
    yield _text([" ".join([path, *command.collect_usage_pieces(context)])])
    yield f"{level} Examples\n\n{_text(_typed(command))}"
    parameters = command.get_params(context)
    if arguments := [_argument(p, context) for p in parameters if isinstance(p, click.Argument)]:
        yield f"{level} Arguments\n\n" + _table("argument | what it is", arguments)
    options = [_option(p, context) for p in parameters if isinstance(p, click.Option)]
    yield f"{level} Options\n\n" + _table("option | values | what it does", options)
    for name, one in _inner(command).items():
        yield f"{level} {path} {name}"
        yield from _described(f"{path} {name}", one, f"{level}#")


def _prose(command: click.Command) -> Iterator[str]:
    for paragraph in help_of(command).split("\n\n"):
        if not paragraph.startswith("\b"):
            yield _escaped(" ".join(paragraph.split()))


def _typed(command: click.Command) -> list[str]:
    """Return the command lines in a command's own help."""
    lines = [line.strip() for line in help_of(command).splitlines()]
    return [line for line in lines if line.startswith("eggfold ")]


def _argument(argument: click.Argument, context: click.Context) -> str:
    shown = argument.make_metavar(context)
    outside = re.fullmatch(r"\[([^\]]*)\]", shown)
    told = MEANINGS[outside[1] if outside else shown]
    need = "" if argument.required else "; may be left out"
    return f"`{_piped(shown)}` | {told}{need}"


def _option(option: click.Option, context: click.Context) -> str:
    names = ", ".join(f"`{name}`" for name in (*option.opts, *option.secondary_opts))
    shown = "" if option.is_flag else option.make_metavar(context)
    values = ", ".join(f"`{value}`" for value in shown.strip("[]").split("|") if value)
    extra = option.get_help_extra(context)
    told = _escaped(option.help or "")
    told += f" Default: `{extra['default']}`." if "default" in extra else ""
    told += " Must be given." if "required" in extra else ""
    return f"{names} | {values} | {told}"


def _exit_codes() -> str:
    told = {kind.exit_code: inspect.getdoc(kind) for kind in EggfoldError.__subclasses__()}
    rows = {0: "Done.", **dict(sorted(told.items())), 130: "Interrupted."}
    return _table("code | says", [f"{code} | {text}" for code, text in rows.items()])


def _inner(command: click.Command) -> dict[str, click.Command]:
    """Return the commands of a group in the order of its help."""
    return dict(sorted(command.commands.items())) if isinstance(command, click.Group) else {}


def _table(head: str, rows: list[str]) -> str:
    rule = "|".join("---" for _ in head.split(" | "))
    return "\n".join([f"| {head} |", f"|{rule}|", *(f"| {row} |" for row in rows)])


def _text(lines: list[str]) -> str:
    return "\n".join(["```text", *lines, "```"])


def _piped(code: str) -> str:
    """Return code for a cell of a table."""
    return code.replace("|", r"\|")


def _escaped(text: str) -> str:
    """Return a sentence as Markdown, with its options as code."""
    safe = re.sub(r"([\\*_<>|\[\]])", r"\\\1", text)
    return re.sub(r"(?<![\w`-])(--[a-z-]+)", r"`\1`", safe)
