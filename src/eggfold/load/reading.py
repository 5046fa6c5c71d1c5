"""A tree of nodes to a model: every problem at its place, and as much of the model as can be read."""

from __future__ import annotations

import types
from collections.abc import Iterable, Iterator
from typing import (
    TYPE_CHECKING,
    Annotated,
    Any,
    Generic,
    NamedTuple,
    TypeAlias,
    TypeVar,
    Union,
    get_args,
    get_origin,
)

from pydantic import BaseModel, ValidationError

from eggfold.errors import Problem, Severity, in_quotes
from eggfold.load.fields import StrictModel
from eggfold.load.gate import MOST_TOLD, Source
from eggfold.load.yaml_tree import Mapping, Node, Scalar, Sequence, plain_data
from eggfold.nearest import did_you_mean, meant, one_of

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

NodePath = tuple[str | int, ...]
M = TypeVar("M", bound=StrictModel)

ENTRY_LISTS = ("additives", "soak", "ingredients", "items")
"""The keys whose entries are read one by one: a bad one leaves the others standing."""

MOST_GUESSES = 200
"""Unknown words of a file for which the nearest known one is sought; of more, many are no slips."""


Guesses: TypeAlias = dict[tuple[str, ...], str | None]
"""What an unknown key is near to, by the key and all that are known in its place."""


class Placed:
    """A tree with its source: finds the place of a path and makes problems there."""

    def __init__(self, source: Source, root: Mapping) -> None:
        self.source = source
        self.root = root

    def index(self, path: NodePath, *, key: bool = False) -> int:
        """Return where the value at a path starts; its key with ``key``, or where it is empty.

        Steps that the tree does not have (a union's tag, a shorthand's inner key) are passed over.
        """
        node: Node = self.root
        at = node.start
        for step in path:
            found = _step(node, step)
            if found is None:
                continue
            key_start, node = found
            is_last = step == path[-1]
            empty = isinstance(node, Scalar) and node.is_empty
            at = key_start if (key and is_last) or empty else node.start
        return at

    def node(self, path: NodePath) -> Node | None:
        """Return the value at a path, None where the tree has none."""
        node: Node | None = self.root
        for step in path:
            found = _step(node, step) if node else None
            node = found[1] if found else None
        return node

    def problem(
        self,
        path: NodePath,
        code: str,
        message: str,
        hint: str | None = None,
        *,
        key: bool = False,
        severity: Severity = "error",
    ) -> Problem:
        """Return a problem at a path's value, or at its key."""
        index = self.index(path, key=key)
        return self.source.problem(index, code, message, hint, severity=severity)


def _step(node: Node, step: str | int) -> tuple[int, Node] | None:
    if isinstance(node, Mapping) and isinstance(step, str) and step in node.entries:
        entry = node.entries[step]
        return entry.key.start, entry.value
    if isinstance(node, Sequence) and isinstance(step, int) and step < len(node.items):
        return node.items[step].start, node.items[step]
    return None


class Reading(NamedTuple, Generic[M]):
    """What could be read of a file: the model, its problems, and the paths left out of it."""

    model: M
    problems: list[Problem]
    broken: tuple[NodePath, ...] = ()


def read_model(
    model: type[M],
    placed: Placed,
    spare: dict[str, Any],
    *,
    spare_item: Any = None,
    near: Guesses | None = None,
) -> Reading[M]:
    """Validate a tree against a model.

    Where parts have problems, the rest is read without them, so that later checks see everything
    that can be seen: ``spare`` stands in for required keys, ``spare_item`` for an entry of
    ``additives`` in a list. ``near`` is what was guessed in the same file before.
    """
    data = plain_data(placed.root)
    try:
        return Reading(model.model_validate(data), [])
    except ValidationError as error:
        errors = error.errors(include_url=False, include_input=False)
    paths = (_data_path(placed.root, e["loc"]) for e in errors)
    broken = tuple({p[:2] if len(p) > 1 and p[0] in ENTRY_LISTS else p[:1] for p in paths})
    problems = list(_problems(model, placed, errors, {} if near is None else near))
    data = _without(data, broken, spare_item)
    known = {k: v for k, v in data.items() if k in model.model_fields}
    try:
        return Reading(model.model_validate(spare | known), problems, broken)
    except ValidationError:
        return Reading(model.model_validate(spare), problems, broken)


def read_list(
    model: type[M], placed: Placed, name: str, spare: dict[str, str]
) -> tuple[list[tuple[M, int]], list[Problem]]:
    """Return the entries of a list that can be read, with where each starts, and all problems.

    ``spare`` stands in for required keys. Nothing is read behind more problems than are told.
    """
    value = placed.root.entries[name].value
    if isinstance(value, Scalar) and value.is_empty:
        return [], []
    if not isinstance(value, Sequence):
        return [], [placed.problem((name,), "wrong-shape", "a list is wanted here")]
    entries: list[tuple[M, int]] = []
    problems: list[Problem] = []
    for i, item in enumerate(value.items):
        if len(problems) > MOST_TOLD:
            break
        if not isinstance(item, Mapping):
            text, (key, example) = "keys and values are wanted here", next(iter(spare.items()))
            problems.append(placed.problem((name, i), "wrong-shape", text, f"{key}: {example}"))
            continue
        reading = read_model(model, Placed(placed.source, item), spare)
        problems += reading.problems
        if not reading.problems:
            entries.append((reading.model, item.start))
    return entries, problems


def _data_path(root: Node, loc: NodePath) -> NodePath:
    path: NodePath = ()
    node = root
    for step in loc:
        if found := _step(node, step):
            path += (step,)
            node = found[1]
    return path


def _without(data: dict[str, Any], paths: Iterable[NodePath], spare_item: Any) -> dict[str, Any]:
    """Return data without the parts at some paths; a list keeps its length, so places stay right."""
    whole = {path[0] for path in paths if len(path) == 1}
    inner: dict[str | int, set[str | int]] = {}
    for head, *rest in (path for path in paths if len(path) > 1):
        inner.setdefault(head, set()).add(rest[0])
    left = {key: value for key, value in data.items() if key not in whole}
    for key in inner.keys() & left.keys():
        left[str(key)] = _without_entries(left[str(key)], inner[key], spare_item)
    return left


def _without_entries(value: Any, broken: set[str | int], spare_item: Any) -> Any:
    if isinstance(value, tuple):
        return tuple(spare_item if i in broken else v for i, v in enumerate(value))
    return {key: v for key, v in value.items() if key not in broken}


def _problems(
    model: type[BaseModel], placed: Placed, errors: Iterable[ErrorDetails], near: Guesses
) -> Iterator[Problem]:
    misspelt: set[NodePath] = set()
    for e in sorted(errors, key=lambda e: e["type"] == "missing"):
        loc = _data_path(placed.root, e["loc"])
        kind, context = e["type"], e.get("ctx", {})
        key = str(e["loc"][-1]) if e["loc"] else ""
        if kind == "extra_forbidden":
            hint = _key_hint(key, sorted(_known_keys(model, e["loc"][:-1])), near)
            misspelt.add((*e["loc"][:-1], meant(hint) or key))
            yield placed.problem(
                loc, "unknown-key", f"{in_quotes(key)} is not a key here", hint, key=True
            )
        elif kind == "missing":
            if e["loc"] not in misspelt:
                yield placed.problem(loc, "missing-key", f"{key} is missing", f"{key}: …")
        elif "text" in context:
            path = (*loc, context["key"]) if "key" in context else loc
            at_key = kind == "unknown-key"
            yield placed.problem(path, kind, context["text"], context["hint"], key=at_key)
        else:
            wants_list = kind.startswith("tuple")
            text = "a list is" if wants_list else "keys and values are"
            hint = _shape_hint(model, e["loc"], placed.node(loc), wants_list=wants_list)
            yield placed.problem(loc, "wrong-shape", f"{text} wanted here", hint)


def _key_hint(key: str, known: list[str], near: Guesses) -> str:
    """Return the key that an unknown one may mean, else all that are known."""
    slip = (key, *known)
    if slip not in near and len(near) < MOST_GUESSES:
        near[slip] = did_you_mean(key, known)
    return near.get(slip) or one_of(known)


_NAMES = ("name", "recipe")
"""Keys that come before others, and for which an amount is no value."""


def _shape_hint(
    model: type[BaseModel], loc: NodePath, node: Node | None, *, wants_list: bool
) -> str:
    """Show how a value would stand where a list, or keys and values, are wanted."""
    text = node.text[:40] if isinstance(node, Scalar) and node.text else "…"
    keys = _known_keys(model, (*loc, 0) if wants_list else loc)
    key = next((k for k in (*_NAMES, *keys) if k in keys), None)
    if key is None:
        return f"[{text}]" if wants_list else f"{text}: …"
    if isinstance(node, Mapping) and node.entries:
        key, text = next(iter(node.entries))[:40], "…"
    elif key in _NAMES and text[0].isdigit():
        text = "…"
    return f"- {key}: {text}" if wants_list else f"{key}: {text}"


def _known_keys(annotation: Any, loc: NodePath) -> dict[str, None]:
    """Return the keys that models have at a location, looking through unions and containers."""
    origin = get_origin(annotation)
    if origin is Annotated:
        return _known_keys(get_args(annotation)[0], loc)
    if origin in (Union, types.UnionType):
        return {key: None for a in _meant(annotation, loc) for key in _known_keys(a, loc)}
    if origin is tuple:
        return _known_keys(get_args(annotation)[0], loc[1:] if loc else loc)
    if origin is dict:
        return _known_keys(get_args(annotation)[1], loc[1:] if loc else loc)
    if not (isinstance(annotation, type) and issubclass(annotation, BaseModel)):
        return {}
    if not loc:
        return dict.fromkeys(annotation.model_fields)
    field = annotation.model_fields.get(str(loc[0]))
    if field is None:  # a union's tag
        return _known_keys(annotation, loc[1:])
    return _known_keys(field.annotation, loc[1:])


def _meant(union: Any, loc: NodePath) -> tuple[Any, ...]:
    """Return those of a union that have a location's key, which may stand behind a tag; else all."""
    members = get_args(union)
    for step in loc[:2]:
        if known := tuple(a for a in members if step in getattr(a, "model_fields", ())):
            return known
    return members
