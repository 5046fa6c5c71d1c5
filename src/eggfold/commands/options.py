"""Options: those that several commands share, and how their words are read."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import partial
from typing import Any, TypeVar

import click

from eggfold.commands.completion import (
    complete_eggs,
    complete_files,
    complete_recipes,
    complete_recipes_and_plans,
    complete_words,
)
from eggfold.errors import OptionError, in_quotes
from eggfold.tasks.surroundings import keep_quiet, today

F = TypeVar("F", bound=Callable[..., Any])


FORMAT_WORDS = ("text", "json", "csv", "markdown", "html", "pdf", "ics")
INSTEAD = {
    **{f"--{word}": f"--format {word}" for word in FORMAT_WORDS},
    "--size": "--diameter",
    "--strength": "--as",
    "--freebie": "--as freebie",
    "--hookbait": "--as hookbait",
    "--mix": "--powder",
    "--day": "--date",
    "--silent": "--quiet",
}
"""What others call an option, and what it is here."""


class Command(click.Command):
    """A command that shows its usage beside what a task says of the options; each can be quiet."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        quiet = click.Option(
            ["-q", "--quiet"],
            is_flag=True,
            expose_value=False,
            callback=_be_quiet,
            help="Print the answer and problems, nothing else.",
        )
        self.params.append(quiet)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the options."""
        with _usage_shown(ctx):
            try:
                return super().parse_args(ctx, args)
            except click.NoSuchOption as error:
                raise self._meant(error, ctx) from error

    def _meant(self, error: click.NoSuchOption, ctx: click.Context) -> click.UsageError:
        """Return the error with the option that this command has for it."""
        instead = INSTEAD.get(error.option_name, "")
        known = {name for param in self.params for name in param.opts}
        if instead.partition(" ")[0] not in known:
            return error
        return click.UsageError(f"No such option: {error.option_name}. It is {instead} here.", ctx)

    def invoke(self, ctx: click.Context) -> Any:
        """Run the task."""
        with _usage_shown(ctx):
            return super().invoke(ctx)


def _be_quiet(_context: click.Context, _option: click.Parameter, value: bool) -> None:
    keep_quiet(quiet=value)


@contextmanager
def _usage_shown(context: click.Context) -> Iterator[None]:
    try:
        yield
    except OptionError as error:
        raise click.UsageError(str(error), context) from error


command = partial(click.command, cls=Command)


def several(*options: Callable[[F], F]) -> Callable[[F], F]:
    """Join options into one decorator, shown in the order given."""

    def decorate(function: F) -> F:
        for option in reversed(options):
            function = option(function)
        return function

    return decorate


def read_format(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the format of an option."""
    from eggfold.formats.registry import FORMATS

    return _one_of(FORMATS, "format", value, ctx, param)


def read_plan_format(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the format of a plan, which can be a calendar too."""
    from eggfold.formats.registry import CALENDAR, FORMATS

    return _one_of([*FORMATS, CALENDAR], "format", value, ctx, param)


def read_paper(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the paper of an option."""
    from eggfold.reference.paper import PAPERS

    return _one_of(PAPERS, "paper", value, ctx, param)


def read_output(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the path of an option; an empty one would mean the working folder."""
    if value == "":
        raise click.BadParameter("the path is empty; the working folder is .", ctx, param)
    return value


def _one_of(
    known: Iterable[str], noun: str, value: str | None, ctx: click.Context, param: click.Parameter
) -> str | None:
    """Return the word in small letters; an unknown one fails with the nearest."""
    known = list(known)
    if value is None or value.lower() in known:
        return value and value.lower()
    from eggfold.nearest import did_you_mean, one_of

    hint = did_you_mean(value, known) or f"it is one of {one_of(known)}"
    raise click.BadParameter(f"{in_quotes(value)} is no {noun}; {hint}", ctx, param)


class OneOf(click.Choice[str]):
    """One word out of several."""

    def get_invalid_choice_message(self, value: Any, ctx: click.Context | None) -> str:
        """Return what is wrong, with the nearest word."""
        from eggfold.nearest import did_you_mean

        hint = did_you_mean(str(value), self.choices)
        message = super().get_invalid_choice_message(value, ctx)
        return f"{message} {hint[0].upper()}{hint[1:]}" if hint else message


def read_date(context: click.Context, option: click.Parameter, value: str | None) -> str:
    """Return the day of an option, else of SOURCE_DATE_EPOCH, else today, as YYYY-MM-DD."""
    return today() if value is None else _day(context, option, value)


def read_day(context: click.Context, option: click.Parameter, value: str | None) -> str | None:
    """Return the day of an option that may be left out, as YYYY-MM-DD."""
    return None if value is None else _day(context, option, value)


def read_days(
    context: click.Context, option: click.Parameter, values: tuple[str, ...]
) -> tuple[str, ...]:
    """Return days that may be given again and again, as YYYY-MM-DD."""
    return tuple(_day(context, option, value) for value in values)


def _day(context: click.Context, option: click.Parameter, value: str) -> str:
    from eggfold.amounts import AmountError
    from eggfold.load.fields import parse_date

    try:
        return parse_date(value)
    except AmountError as error:
        text = f"{error.message}; try: {error.hint}"
        raise click.BadParameter(text, context, option) from error


display_options = several(
    click.option("--full", is_flag=True, help="Show everything, not just the short page."),
    click.option(
        "--units",
        type=OneOf(["metric", "imperial", "us"]),
        default="metric",
        show_default=True,
        help="The units that pages show.",
    ),
    click.option(
        "--color",
        type=OneOf(["auto", "always", "never"]),
        default="auto",
        show_default=True,
        help="Bold headings; auto: on a terminal.",
    ),
)
format_option = click.option(
    "--format",
    "form",
    type=OneOf(["text", "json"]),
    default="text",
    show_default=True,
    help="How the answer is written.",
)
why_option = click.option("--why", is_flag=True, help="Show how each figure came about.")
date_option = click.option(
    "--date", callback=read_date, metavar="DATE", help="Take this day as today, as in 2026-01-31."
)
output_option = click.option(
    "-o",
    "--output",
    callback=read_output,
    metavar="PATH",
    help="A file (cards.pdf), or a folder (cards/) for one file per recipe.",
)
writing_options = several(
    click.option("--force", is_flag=True, help="Overwrite existing files."),
    click.option(
        "--paper",
        callback=read_paper,
        metavar="[a6|a5|a4|letter]",
        shell_complete=complete_words,
        help="For HTML and PDF; a card takes A5 where it fits, a sheet A4.",
    ),
    date_option,
)
delivery_options = several(
    click.option(
        "--format",
        "form",
        callback=read_format,
        metavar="[text|json|csv|markdown|html|pdf]",
        shell_complete=complete_words,
        help="The format; text, or what the ending of --output says.",
    ),
    output_option,
    writing_options,
)
additives_option = click.option(
    "--additives",
    metavar="FILE",
    help="The register of additives to use.",
    shell_complete=complete_files,
)
bench_option = click.option(
    "--bench", metavar="FILE", help="The bench file to use.", shell_complete=complete_files
)
shelf_option = click.option(
    "--shelf", metavar="FILE", help="The shelf to use.", shell_complete=complete_files
)
recipe_option = click.option(
    "--recipe", metavar="FILE", help="Use this recipe's paste.", shell_complete=complete_recipes
)
notes_options = several(
    click.option(
        "--notebook",
        metavar="FILE",
        help="The notebook to learn from.",
        shell_complete=complete_files,
    ),
    click.option("--without-notes", is_flag=True, help="Ignore the notebook."),
)
strength_option = click.option(
    "--as",
    "strength",
    type=OneOf(["hookbait", "freebie"]),
    help="Hookbait or freebie doses; hookbait if left out.",
)
sized_strength_option = click.option(
    "--as",
    "strength",
    type=OneOf(["hookbait", "freebie"]),
    help="Hookbait or freebie doses; needed for more than one egg.",
)
until_option = click.option(
    "--until",
    type=OneOf(["just-set", "set", "cooked"]),
    help="How hot the centre gets: 62, 73 or 90 degC.",
)
altitude_option = click.option(
    "--altitude", metavar="HEIGHT", help="Height above the sea, as in 800m."
)
pan_option = click.option("--pan", metavar="VOLUME", help="Water in the pan, as in 5l.")
egg_option = click.option(
    "--egg",
    metavar="EGG",
    multiple=True,
    shell_complete=complete_eggs,
    help="The eggs: eu-medium, us-large or 52g; boxes as 12xeu-large, again for more.",
)
size_options = several(
    click.option("--eggs", metavar="N", help="Size by eggs (1 if no size is given)."),
    click.option(
        "--powder", metavar="AMOUNT", help="Size by a bag of base mix: all of it goes in."
    ),
    click.option(
        "--whole-eggs", is_flag=True, help="With --powder: the most whole eggs it is enough for."
    ),
    click.option("--liquid", metavar="AMOUNT", help="Size by liquid egg, as in 600g or 500ml."),
    click.option("--bait", metavar="AMOUNT", help="Size by finished bait, in whole eggs."),
    click.option("--count", metavar="N", help="Size by the number of baits, in whole eggs."),
    egg_option,
    click.option("--diameter", metavar="SIZE", help="One bottom bait of this size instead."),
    until_option,
    altitude_option,
    pan_option,
)

batch_options = several(
    sized_strength_option,
    size_options,
    additives_option,
    bench_option,
    notes_options,
    shelf_option,
)

recipes_or_here = click.argument(
    "recipes", nargs=-1, metavar="[RECIPE...]", shell_complete=complete_recipes
)
"""Recipes; without any, those in the working folder."""

recipes_and_plans = click.argument(
    "recipes",
    nargs=-1,
    required=True,
    metavar="RECIPE|PLAN...",
    shell_complete=complete_recipes_and_plans,
)
plan_options = several(
    additives_option,
    bench_option,
    notes_options,
    shelf_option,
    click.option(
        "--format",
        "form",
        callback=read_plan_format,
        metavar="[text|json|csv|markdown|html|pdf|ics]",
        shell_complete=complete_words,
        help="How the answer is written; ics is a calendar.",
    ),
    click.option(
        "-o",
        "--output",
        callback=read_output,
        metavar="PATH",
        help="A file, or a folder to put one into (a/ or a).",
    ),
    writing_options,
    why_option,
    display_options,
)
