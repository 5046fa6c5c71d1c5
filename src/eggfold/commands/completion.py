"""What the shell offers at TAB: files, and the names in them; what cannot be read offers nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import click
    from click.shell_completion import CompletionItem

VARIABLE = "_EGGFOLD_COMPLETE"

_BASH = """\
%(complete_func)s() {
    local type value words
    COMPREPLY=()
    words=$(printf '%%s\\n' "${COMP_WORDS[@]}")
    while IFS=, read -r type value; do
        case $type in
            dir) compopt -o plusdirs ;;
            plain) COMPREPLY+=("$value") ;;
        esac
    done < <(env COMP_WORDS="$words" COMP_CWORD="$COMP_CWORD" \\
        %(complete_var)s=bash_complete "$1" 2>/dev/null)
}
complete -o nosort -o filenames -F %(complete_func)s %(prog_name)s
"""


def answer_shell(root: click.Group, instruction: str) -> int:
    """Print a shell's set-up, or what it can offer now; a question without an answer is silent."""
    from click import shell_completion

    class Bash(shell_completion.BashComplete):
        """Click's own, with names and paths quoted by bash itself."""

        source_template = _BASH

    class Fish(shell_completion.FishComplete):
        """Click's own, for names that hold a comma."""

        source_template = shell_completion.FishComplete.source_template.replace(
            'string split ","', 'string split -m 1 ","'
        )

    shell_completion.add_completion_class(Bash)
    shell_completion.add_completion_class(Fish)
    try:
        return shell_completion.shell_complete(root, {}, "eggfold", VARIABLE, instruction)
    except (KeyError, ValueError):  # the shell's question is not whole
        return 1


def _named(
    kinds: tuple[str, ...],
    ctx: click.Context,  # noqa: ARG001 - click hands all three over
    param: click.Parameter,  # noqa: ARG001
    incomplete: str,
) -> list[CompletionItem[str]]:
    """Offer the recipes and plans of some kinds, with their names; and folders."""
    from eggfold.load.folder import kind_by_keys, kind_by_name
    from eggfold.load.names import own_name, read_keys

    read = ((f, read_keys(f)) for f in _yaml_files(incomplete) if not kind_by_name(f))
    named = ((file, own_name(root)) for file, root in read if kind_by_keys(root.entries) in kinds)
    return _items(named, incomplete)


complete_recipes = partial(_named, ("recipe",))
complete_recipes_and_plans = partial(_named, ("recipe", "rolling plan", "campaign"))
complete_rolling = partial(_named, ("rolling plan",))
complete_campaigns = partial(_named, ("campaign",))


def complete_eggs(
    ctx: click.Context,  # noqa: ARG001 - click hands all three over
    param: click.Parameter,  # noqa: ARG001
    incomplete: str,
) -> list[CompletionItem[str]]:
    """Offer every grade with its standard."""
    from click.shell_completion import CompletionItem

    from eggfold.reference.eggs import GRADES_OF

    eggs = (f"{s}-{g.replace(' ', '-')}" for s, grades in GRADES_OF.items() for g in grades)
    return [CompletionItem(egg) for egg in eggs if egg.startswith(incomplete.casefold())]


def complete_files(
    ctx: click.Context,  # noqa: ARG001 - click hands all three over
    param: click.Parameter,  # noqa: ARG001
    incomplete: str,
) -> list[CompletionItem[str]]:
    """Offer YAML files and folders."""
    return _items(((file, None) for file in _yaml_files(incomplete)), incomplete)


def complete_words(
    ctx: click.Context,  # noqa: ARG001
    param: click.Parameter,
    incomplete: str,
) -> list[CompletionItem[str]]:
    """Offer the words that an option's help names between bars."""
    from click.shell_completion import CompletionItem

    words = (param.metavar or "").strip("[]").split("|")
    return [CompletionItem(word) for word in words if word.startswith(incomplete)]


def complete_items(
    ctx: click.Context,
    param: click.Parameter,  # noqa: ARG001
    incomplete: str,
) -> list[CompletionItem[str]]:
    """Offer what is on the shelf, in the register and in the recipes of the working folder."""
    from click.shell_completion import CompletionItem

    from eggfold.nearest import fold

    names: dict[str, str] = {}
    for name in _item_names(ctx.params.get("shelf"), ctx.params.get("additives")):
        if name.isprintable():
            names.setdefault(fold(name), name)
    begun = incomplete.casefold()
    return [CompletionItem(n) for n in names.values() if n.casefold().startswith(begun)]


def _item_names(shelf: str | None, additives: str | None) -> Iterator[str]:
    from eggfold.load.folder import companion, kind_by_name
    from eggfold.load.names import (
        names_in_recipe,
        names_in_section,
        read_keys,
    )

    if file := companion("shelf", None, shelf):
        yield from names_in_section(read_keys(file, kept=True), "items")
    if file := companion("additives", None, additives):
        yield from names_in_section(read_keys(file), "additives")
    for file in _yaml_files(""):
        if not kind_by_name(file):
            yield from names_in_recipe(read_keys(file))


def _yaml_files(incomplete: str) -> list[str]:
    """Return the YAML files whose path begins so, hidden ones where a dot is typed."""
    from pathlib import Path

    from eggfold.load.folder import SUFFIXES

    folder, slash, begun = incomplete.rpartition("/")
    try:
        names = sorted(p.name for p in Path(folder + slash).iterdir() if p.name.isprintable())
    except OSError:
        return []
    return [
        f"{folder}{slash}{name}"
        for name in names
        if name.endswith(SUFFIXES) and name.startswith(begun) and (begun or name[0] != ".")
    ]


def _items(files: Iterable[tuple[str, str | None]], incomplete: str) -> list[CompletionItem[str]]:
    from click.shell_completion import CompletionItem

    offered = [CompletionItem(f, help=n if n and n.isprintable() else None) for f, n in files]
    return [*offered, CompletionItem(incomplete, type="dir")]
