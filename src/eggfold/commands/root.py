"""The group of all commands; a command's module is imported when the command is asked for."""

from __future__ import annotations

from importlib import import_module

import click

from eggfold import __version__

SUMMARIES = {
    "batch": "Turn a trial into a batch: doses, powder, baits, boil, shopping.",
    "shopping": "List what all batches need, what the shelf has of it, and the packs to buy.",
    "doses": "Show every additive's dose for its trial, a full bowl and a kilo of dry mix.",
    "boil": "Show how long each size boils, or what a given time reaches.",
    "buoyancy": "Show what a bait on a cork ball lifts, or the skin for a lift.",
    "powder": "Show what is in the powder and the paste, and what one egg takes.",
    "labels": "Make freezer-bag labels for a batch; --date is the day it was made.",
    "shelf": "Show what is there, what is past its date, and what runs out first.",
    "note": "Write into the notebook and the shelf.",
    "trials": "Compare the takes noted on each mix, and say how sure that is.",
    "rolling": "Plan a weekend's rolling: who does what when, and what does not fit.",
    "campaign": "Plan a season: when to roll, buy and thaw, and how full the freezer gets.",
    "check": "Show every problem in every file, each with its place.",
    "new": "Make a starter folder: a commented trial, register, bench, shelf, notebook and plans.",
    "schema": "Print the JSON Schema of a kind of file, for your editor.",
}
"""Every command, in the order of the work, with the first sentence of its help."""

_NOT_LOADED = click.Command(None)


INSTEAD = {
    "init": "new",
    "start": "new",
    "card": "batch",
    "scale": "batch",
    "buy": "shopping",
    "list": "shopping",
    "stock": "shelf",
    "weekend": "rolling",
    "day": "rolling",
    "season": "campaign",
    "lint": "check",
    "validate": "check",
    "fix": "check --fix",
    "log": "note",
    "version": "--version",
}
"""What others call a command, and what to type here."""


class Commands(click.Group):
    """A group that knows its commands by name, and imports the one that is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click hands it over
        """Return the names in the order of the work."""
        return list(SUMMARIES)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return a command, imported by now."""
        if self.commands.get(cmd_name) is _NOT_LOADED:
            module = import_module(f"eggfold.commands.{cmd_name}")
            self.commands[cmd_name] = getattr(module, cmd_name)
        return super().get_command(ctx, cmd_name)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the command; one of another name is answered with ours."""
        if args and (ours := INSTEAD.get(args[0].casefold())):
            raise click.UsageError(f"No such command '{args[0]}'. Type: eggfold {ours}", ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the commands without importing any."""
        with formatter.section("Commands"):
            formatter.write_dl(list(SUMMARIES.items()))


@click.group(
    cls=Commands,
    commands=dict.fromkeys(SUMMARIES, _NOT_LOADED),
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.version_option(
    __version__, "-V", "--version", prog_name="eggfold", message="%(prog)s %(version)s"
)
def root() -> None:
    """Turn a one-egg trial of home-made fishing bait into a batch.

    \b
    eggfold new my-bait
    eggfold batch recipes/osierfen-caraway.yaml --as freebie --eggs 6
    eggfold check recipes

    Each command has examples of its own: eggfold help COMMAND.

    To have the TAB key finish what you type, put a line at the end of the file that your shell
    reads when it starts:

    \b
    bash  ~/.bashrc                   eval "$(_EGGFOLD_COMPLETE=bash_source eggfold)"
    zsh   ~/.zshrc                    eval "$(_EGGFOLD_COMPLETE=zsh_source eggfold)"
    fish  ~/.config/fish/config.fish  _EGGFOLD_COMPLETE=fish_source eggfold | source
    """


@root.command("help")
@click.argument("names", metavar="[COMMAND]...", nargs=-1)
@click.pass_context
def show_help(context: click.Context, names: tuple[str, ...]) -> None:
    """Show the help of a command, or of all."""
    shown = context.parent or context
    for name in names:
        if isinstance(shown.command, click.Group):
            _, command, _ = shown.command.resolve_command(shown, [name])
            shown = click.Context(command, info_name=name, parent=shown) if command else shown
    click.echo(shown.get_help())
