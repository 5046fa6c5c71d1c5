"""The names in files, for TAB and for what is nearly meant: a file that cannot be read has none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from collections.abc import Mapping as Named
from pathlib import Path

from eggfold.errors import EggfoldError
from eggfold.load.folder import companion, expand, kind_by_keys, kind_by_name
from eggfold.load.gate import read_source
from eggfold.load.yaml_tree import Mapping, Node, Scalar, Sequence, read_nodes
from eggfold.nearest import fold

_STRENGTHS = ("hookbait", "freebie")
_NO_KEYS = Mapping(0, 0, flow=False)


def read_keys(file: str, *, kept: bool = False) -> Mapping:
    """Return what a file says, nothing where it cannot be read; ``kept`` is a shelf."""
    try:
        return read_nodes(read_source(file, kept=kept), kept=kept)[0]
    except EggfoldError:
        return _NO_KEYS


def own_name(root: Mapping) -> str | None:
    """Return the name that a file gives what is in it, or None."""
    return next(_names_of(root), None)


def recipe_names(files: Iterable[str], only: str | None = None) -> dict[str, str]:
    """Return the names of those files that are recipes, by file; of all, or of those of ``only`` one name."""
    wanted = None if only is None else fold(only)
    names = {}
    for file in files:
        try:
            source = None if kind_by_name(file) else read_source(file)
            if source is None or (wanted is not None and not _may_say(source.text, wanted)):
                continue
            root = read_nodes(source)[0]
        except EggfoldError:
            continue
        name = own_name(root)
        if name and wanted in (None, fold(name)) and kind_by_keys(root.entries) == "recipe":
            names[file] = name
    return names


def _may_say(text: str, name: str) -> bool:
    """Tell whether a folded name can stand in a text, as it is or escaped inside quotes.

    A text is read much faster than its keys.
    """
    return name in fold(text) or "\\" in text or ("'" in name and "''" in text)


def files_called(part: str, names: Named[str, str]) -> list[str]:
    """Return the files that are called so, or whose recipe is: by the whole of a name, else by a part."""
    wanted = fold(part)
    called = {file: (fold(name), fold(Path(file).stem)) for file, name in names.items()}
    whole = [file for file, texts in called.items() if wanted in texts]
    return whole or [file for file, texts in called.items() if any(wanted in t for t in texts)]


def names_in_recipe(root: Mapping) -> Iterator[str]:
    """Yield the base mixes and additives that a recipe names."""
    mix = _value(root, "base_mix")
    yield from _names_of(mix)
    for strength in _STRENGTHS:
        yield from _names_of(_value(mix, strength))
    additives = _value(root, "additives")
    for additive in additives.items if isinstance(additives, Sequence) else ():
        yield from _names_of(additive)


def names_in_section(root: Mapping, section: str) -> Iterator[str]:
    """Yield the keys inside a section of a file."""
    value = _value(root, section)
    yield from (key for key in (value.entries if isinstance(value, Mapping) else ()) if key)


def names_beside(file: str) -> Iterator[str]:
    """Yield every name of a base mix or additive in the folder of a file, each as it is met."""
    if register := companion("additives", file, None):
        yield from names_in_section(read_keys(register), "additives")
    for other in expand([str(Path(file).parent)]):
        if not kind_by_name(other):
            yield from names_in_recipe(read_keys(other))


def _value(node: Node | None, key: str) -> Node | None:
    return node.entries[key].value if isinstance(node, Mapping) and key in node.entries else None


def _names_of(node: Node | None) -> Iterator[str]:
    """Yield the one name of a text, or of keys among which there is a name."""
    value = _value(node, "name") if isinstance(node, Mapping) else node
    if isinstance(value, Scalar) and (name := value.text.strip()):
        yield name
