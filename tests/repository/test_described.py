"""The pages describe the keys of the files, the defaults, the keys of the JSON and the words of headings."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator
from typing import Any

import pytest

from eggfold.load.schemas import KINDS, build_schema
from eggfold.reference.defaults import DEFAULTS
from eggfold.reference.ingredients import INGREDIENTS
from running import ROOT, TESTS

DOCS = ROOT / "docs"

PAGES_OF_FILE = {
    "recipe": ("files", "physics"),
    "additives": ("files",),
    "ingredients": ("files",),
    "bench": ("files",),
    "shelf": ("shelf",),
    "notebook": ("notebook",),
    "rolling": ("rolling", "files"),
    "campaign": ("campaign", "rolling", "files"),
}

PAGES_OF_JSON = {
    "batch": ("json",),
    "shopping": ("json",),
    "doses": ("json",),
    "check": ("json",),
    "boil": ("boil",),
    "clock": ("boil",),
    "buoyancy": ("buoyancy",),
    "powder": ("powder",),
    "labels": ("cards",),
    "shelf": ("shelf",),
    "note": ("notebook",),
    "trials": ("trials",),
    "rolling": ("rolling",),
    "campaign": ("campaign", "rolling"),
}

HEADED = ("Bowl", "Column", "Facts", "Lines", "Loads", "Plot", "Strip", "Table")
"""What begins with a heading on a page."""
WORD = re.compile(r"[a-z]+(?:-[a-z]+)*")
PLAIN = """
    a about after afterwards against age all allergens amount assumed back bag before boil bought bring busy
    buy by c came care change changed clean clock comes cost day days does done down drying each egg eggs figure
    figures files first fishing for freezer fresh from g goes going half hand hint hottest hours how if in
    ingredient instead into is it item its kg know known layer least leave left less made marked mass material
    measure millimetre mind minutes mixes more most moves need next no not now of off on one only or outings
    outside over packs per powder price put read remark rods roll rolling same season seconds seen show shows
    side size sources starts state swapped taken thaw the there tick time to together trip trips turned units up
    use used usual value weighs what when where who whole whose with without write
    """
"""Words of headings that nobody looks up."""


def text_of(page: str) -> str:
    return (DOCS / f"{page}.md").read_text("utf-8")


def keys_of_schema(schema: Any) -> Iterator[str]:
    """Yield the keys that a JSON Schema allows, at any depth."""
    if isinstance(schema, dict):
        yield from schema.get("properties", {})
        for part in schema.values():
            yield from keys_of_schema(part)
    elif isinstance(schema, list):
        for part in schema:
            yield from keys_of_schema(part)


def keys_of_object(data: Any) -> Iterator[str]:
    """Yield the keys of an object, at any depth."""
    if isinstance(data, dict):
        yield from data
        for part in data.values():
            yield from keys_of_object(part)
    elif isinstance(data, list):
        for part in data:
            yield from keys_of_object(part)


def answers() -> Iterator[dict[str, Any]]:
    """Yield the objects among the expected outputs."""
    for path in sorted(TESTS.glob("golden/*/stdout")):
        text = path.read_text("utf-8")
        if re.match(r'\{\s*"kind"', text):
            yield json.loads(text)


ANSWERS = list(answers())


@pytest.mark.parametrize("kind", KINDS)
def test_each_key_of_a_file_is_described(kind: str) -> None:
    words = {
        word
        for page in PAGES_OF_FILE[kind]
        for code in re.findall(r"`([^`\n]+)`", text_of(page))
        for word in re.findall(r"\w+", code)
    }
    assert set(keys_of_schema(build_schema(kind))) <= words


def test_each_default_is_described_with_its_value() -> None:
    rows = dict(re.findall(r"^\| `(\w+)` \| (.*) \|$", text_of("physics"), re.MULTILINE))
    assert rows.keys() == DEFAULTS.keys()
    for key, default in DEFAULTS.items():
        figure, limits, origin = rows[key].split(" | ")
        assert f"{default.value:g}" in re.findall(r"[\d.]*\d", figure), key
        assert re.findall(r"[\d.]*\d", limits) == [f"{default.low:g}", f"{default.high:g}"], key
        assert origin.startswith(default.origin), key


def test_each_built_in_powder_is_named() -> None:
    _, _, table = text_of("powder").partition("## Built-in powders")
    rows = re.findall(r"^\| [a-z ]+ \| ([A-Z].*) \|$", table, re.MULTILINE)
    assert [name for row in rows for name in row.split(", ")] == [one.name for one in INGREDIENTS]


def test_each_kind_of_answer_has_an_example() -> None:
    assert {answer["kind"] for answer in ANSWERS} == PAGES_OF_JSON.keys()


@pytest.mark.parametrize("kind", PAGES_OF_JSON)
def test_each_key_of_an_answer_is_described(kind: str) -> None:
    text = "".join(text_of(page) for page in ("json", *PAGES_OF_JSON[kind]))
    shown = set(re.findall(r"[\"`](\w+)[\"`]", text))
    for answer in ANSWERS:
        if answer["kind"] == kind:
            assert set(keys_of_object(answer)) <= shown


def words_of_headings() -> set[str]:
    """Return the words that stand in the headings and columns of pages."""
    pages = [
        ast.parse(path.read_text("utf-8"))
        for path in (ROOT / "src" / "eggfold" / "pages").glob("*.py")
    ]
    calls = [node for page in pages for node in ast.walk(page) if isinstance(node, ast.Call)]
    headings = [
        call.args[0]
        for call in calls
        if isinstance(call.func, ast.Name) and call.func.id in HEADED and call.args
    ]
    parts = [
        part.value for one in headings for part in ast.walk(one) if isinstance(part, ast.Constant)
    ]
    return {word for part in parts for word in WORD.findall(str(part).lower())}


def test_a_word_of_a_heading_is_plain_or_in_the_glossary() -> None:
    terms = re.findall(r"^(?![:#] | )(.+)$", text_of("glossary"), re.MULTILINE)
    known = {word.removesuffix("s") for word in WORD.findall(" ".join(terms).lower())}
    unknown = {
        word
        for word in words_of_headings().difference(PLAIN.split())
        if word.removesuffix("s") not in known
    }
    assert not unknown
