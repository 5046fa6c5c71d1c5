"""Names are seen in every usual way of writing them, and broken files give what can be seen."""

from __future__ import annotations

import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.load.folder import kind_by_keys
from eggfold.load.names import names_in_recipe, names_in_section, own_name, read_keys
from eggfold.load.yaml_tree import Mapping
from recipe_files import recipes_of
from running import RECIPES


def written(folder: Path, text: str) -> Mapping:
    file = folder / "file.yaml"
    file.write_text(text, encoding="utf-8", newline="")
    return read_keys(str(file))


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("name: Osierfen Reed", "Osierfen Reed"),
        ("name :   Osierfen Reed  # the second", "Osierfen Reed"),
        ("name: 'Reed: the miller''s #2'", "Reed: the miller's #2"),
        ('name: "Reed #2" # quoted', "Reed #2"),
        ("name: Reed#2, coarse", "Reed#2, coarse"),
        ("eggs: 1\r\nname: Reed\r\nbase_mix: X\r", "Reed"),
        ("eggs:\n  name: not at the top", None),
        ("name:", None),
        ('name: "Reed', None),
        ("name: 'Reed's", None),
        ("eggs: {name: no}", None),
        ("", None),
    ],
)
def test_the_name_of_a_recipe(line: str, name: str | None, tmp_path: Path) -> None:
    assert own_name(written(tmp_path, f"# a recipe\n{line}\n")) == name


def test_the_names_that_reading_finds_are_seen_in_the_demo_recipes(tmp_path: Path) -> None:
    shutil.copytree(RECIPES, tmp_path / "recipes")
    opened = recipes_of(tmp_path / "recipes")
    assert opened
    for one in opened:
        root = read_keys(one.file)
        assert own_name(root) == one.recipe.name
        named = {additive.name for additive in one.additives}
        named |= {mix.name for s in ("hookbait", "freebie") if (mix := one.recipe.mix(s))}
        assert set(names_in_recipe(root)) == named
    register = opened[0].companions.register
    assert register.file
    assert register.entries
    listed = list(names_in_section(read_keys(register.file), "additives"))
    assert listed == [name for name, _ in register.entries.values()]


def test_mixes_and_additives_in_block_and_flow(tmp_path: Path) -> None:
    text = """\
name: Reed
base_mix:
  hookbait: {name: 'Fine, mix', amount: 130 g}
  freebie: Coarse mix   # from the mill
additives:
- Malt syrup
- name: Salt
  hookbait: 2 g per egg
- {name: Oil, form: oil}
"""
    seen = set(names_in_recipe(written(tmp_path, text)))
    assert seen == {"Fine, mix", "Coarse mix", "Malt syrup", "Salt", "Oil"}
    flow = "base_mix: Fine mix\nadditives: [Malt syrup, 'Salt, coarse']\nbaits: 16 mm\n"
    assert set(names_in_recipe(written(tmp_path, flow))) == {
        "Fine mix",
        "Malt syrup",
        "Salt, coarse",
    }


def test_a_file_that_cannot_be_read_gives_no_names(tmp_path: Path) -> None:
    root = written(tmp_path, "name: Reed\nadditives:\n  - Malt syrup\n  - [}\n")
    assert own_name(root) is None
    assert not [*names_in_recipe(root)]
    assert own_name(read_keys(str(tmp_path / "not-there.yaml"))) is None
    assert list(names_in_section(read_keys(str(tmp_path)), "items")) == []


def test_items_are_the_keys_of_the_first_level(tmp_path: Path) -> None:
    text = """\
currency: EUR
items:
  # eggs come in trays
  EU large eggs: {left: 12}
  'Salt: coarse':
    left: 1 kg
    sold_in:
      - {size: 1 kg, price: 2}
  "Malt # syrup":
    left: 300 ml

other:
  Nothing: 1
"""
    assert list(names_in_section(written(tmp_path, text), "items")) == [
        "EU large eggs",
        "Salt: coarse",
        "Malt # syrup",
    ]


def test_a_plan_is_known_by_its_keys(tmp_path: Path) -> None:
    for text, kind in (
        ("name: Saturday\nbowls:\n  - x\n", "rolling plan"),
        ("trips: []\n", "campaign"),
        ("name: Reed\nnotes: |\n  bowls: two\n", "recipe"),
    ):
        assert kind_by_keys(written(tmp_path, text).entries) == kind


@given(st.binary(max_size=300))
def test_any_bytes_give_names_or_nothing(data: bytes) -> None:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "any.yaml"
        file.write_bytes(b"additives:\n" + data)
        root = read_keys(str(file))
        assert all([*names_in_recipe(root), *names_in_section(root, "additives")])
