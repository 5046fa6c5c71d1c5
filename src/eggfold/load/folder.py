"""Which files are meant: kinds by name or keys, folders, and the companions beside a recipe."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from eggfold.errors import FileAccessError, UsageProblemError

KINDS_BY_NAME = ("additives", "ingredients", "bench", "shelf", "notebook")
SUFFIXES = (".yaml", ".yml")
JOURNAL_NAME = ".eggfold-journal"
"""What stands in a folder while a note is being written."""


def kind_by_name(file: str) -> str | None:
    """Return the kind that a file's name states, or None."""
    path = Path(file)
    return path.stem if path.stem in KINDS_BY_NAME and path.suffix in SUFFIXES else None


def kind_by_keys(keys: Iterable[str]) -> str:
    """Return the kind that a file's keys state."""
    keys = set(keys)
    if "bowls" in keys:
        return "rolling plan"
    return "campaign" if "trips" in keys else "recipe"


def expand(arguments: Iterable[str]) -> Iterator[str]:
    """Yield the files that are meant: a folder stands for every YAML file in it, by name.

    A pattern that no shell has expanded stands for the files that match it.
    """
    seen: set[str] = set()
    for argument in arguments:
        for file in _files_of(argument):
            if file not in seen:
                seen.add(file)
                yield file


def _files_of(argument: str) -> Iterable[str]:
    refuse_empty(argument)
    path = Path(argument)
    if argument == "-" or not path.is_dir():
        return _matches(argument) if _is_pattern(path, argument) else (argument,)
    try:
        inside = sorted(p for p in path.iterdir() if p.suffix in SUFFIXES and not p.is_dir())
    except OSError as error:
        raise FileAccessError(argument, error.strerror or str(error)) from error
    return [str(p) for p in inside]


def refuse_empty(name: str) -> None:
    """Raise UsageProblemError for an empty name, which would otherwise mean the working folder."""
    if not name:
        raise UsageProblemError("a file's name is empty; the working folder is written as .")


def _is_pattern(path: Path, argument: str) -> bool:
    """Tell whether a shell would have looked for files: a name that is there is a name."""
    return any(c in argument for c in "*?[") and not path.exists()


def _matches(pattern: str) -> Iterator[str]:
    from glob import glob  # noqa: PLC0415 - the shell has seen to most patterns

    found = sorted(glob(pattern, recursive=True))  # noqa: PTH207 - takes absolute patterns too
    if not found:
        raise FileAccessError(pattern, "no file is named so")
    for match in found:
        yield from _files_of(match)


def files_by_notebook(notebook: str) -> list[str]:
    """Return the YAML files that share a notebook: those in its folder and one folder below."""
    folder = Path(notebook).parent
    found = (path for level in ("*", "*/*") for path in folder.glob(level))
    return sorted(str(p) for p in found if p.suffix in SUFFIXES and p.is_file())


def companion(kind: str, beside: str | None, named: str | None) -> str | None:
    """Return the companion file of a kind: the named one, else beside a recipe, else above.

    Without a recipe, or for standard input, the working folder stands for the recipe's.
    """
    if named is not None:
        return named
    folder = Path() if beside in (None, "-") else Path(str(beside)).parent
    above = folder / ".." if folder.name in ("", "..") else folder.parent
    for place in (folder, above):
        for suffix in SUFFIXES:
            if os.path.isfile(file := place / f"{kind}{suffix}"):  # noqa: PTH113 - raises nothing
                return str(file)
    return None


def shelf_and_recipes(
    arguments: tuple[str, ...], named: str | None
) -> tuple[str | None, tuple[str, ...]]:
    """Return the shelf that is meant, if one is named, and where its recipes are.

    A shelf among the arguments is the one meant; without recipes, those beside the shelf are.
    """
    shelves = [a for a in arguments if kind_by_name(a) == "shelf"]
    recipes = tuple(a for a in arguments if a not in shelves)
    if len(set(shelves) | {named} - {None}) > 1:
        raise UsageProblemError(f"one shelf at a time, not {' and '.join(shelves)}")
    named = named or next(iter(shelves), None)
    if recipes:
        return named, recipes
    found = companion("shelf", None, named)
    return found, (str(Path(found).parent),) if found and found != "-" else ()


def one_companion(kind: str, recipes: Iterable[str], named: str | None) -> str | None:
    """Return the one companion of a kind for all recipes of a run.

    Without a recipe it is the working folder's. Raises UsageProblemError where two recipes have
    different ones.
    """
    if named is not None:
        return named
    by_folder = {str(Path(r).parent) if r != "-" else "-": r for r in recipes} or {"-": "-"}
    found = {c for r in by_folder.values() if (c := companion(kind, r, None))}
    distinct = {Path(c).resolve(): c for c in sorted(found)}
    if len(distinct) > 1:
        raise UsageProblemError(
            f"these recipes have different {kind} files ({', '.join(distinct.values())}); "
            f"name the one to use with --{kind}"
        )
    return next(iter(distinct.values()), None)


def folder_of(file: str) -> str:
    """Return the folder in which a file's text lies, behind any link."""
    return str(Path(os.path.realpath(file)).parent)


def interrupted(folder: str) -> bool:
    """Tell whether a note is being written in a folder, or was stopped."""
    return os.path.lexists(os.path.join(folder, JOURNAL_NAME))  # noqa: PTH118 - batch asks


def places_beside(recipes: Iterable[str], *named: str | None) -> list[str]:
    """Return the folders where the companions of a run can lie; without a recipe, the working one."""
    folders = dict.fromkeys("" if r == "-" else os.path.dirname(r) for r in recipes)  # noqa: PTH120
    beside = [folder or "." for folder in folders or ("",)]
    above = [os.path.join(folder, "..") for folder in beside]  # noqa: PTH118
    return [*beside, *above, *(folder_of(file) for file in named if file)]
