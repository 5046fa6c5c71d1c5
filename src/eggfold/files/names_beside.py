"""The names that the recipes and the register beside a file use."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from eggfold.files.folder import companion, expand, kind_by_name
from eggfold.files.names import names_in_recipe, names_in_section


def names_beside(file: str) -> Iterator[str]:
    """Yield every name of a base mix or additive in the folder of a file, each as it is met."""
    if register := companion("additives", file, None):
        yield from names_in_section(register, "additives")
    for other in expand([str(Path(file).parent)]):
        if not kind_by_name(other):
            yield from names_in_recipe(other)
