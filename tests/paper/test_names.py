"""Whatever someone calls a mix comes out harmless in all six formats, and legible or replaced."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from eggfold.formats.characters import UNSAFE
from eggfold.formats.json import dumps
from eggfold.pages.page import Page
from paper.reading import (
    PAGE_FORMATS,
    HtmlReader,
    cells_of,
    missing_cells,
    text_of,
    write,
)
from paper.sample import card_with, every_block

NASTY = (
    '=cmd|"/C calc"!A0',
    "<script>alert(1)</script>",
    "</style></title><b onclick=x>",
    "a|b`c`*d*_e_[f](javascript:g)![h](i)",
    "שלום דגים",
    "مرحبا \u202eأسماك",
    "Gâteau 🎣🐟 n°1",
    "\u0007bell \u001b[31mred",
    "line\u2028break\u0085next",
    "&amp; &lt;b&gt; &#60;",
    "x" * 200,
    "Karpfen und Wels " * 11,
    "---",
    "1. one",
    "    four spaces",
    "| a | b |",
    "$x$ \\(y\\) {{z}} %s {0}",
    "(unbalanced) \\ ) (",
)
names = st.text(
    st.characters(codec="utf-8", exclude_characters="\r\n"), min_size=1, max_size=60
).filter(lambda name: name.strip(" "))


def check_html(body: str, blocks: int) -> None:
    tags = [element.tag for element in HtmlReader(body).elements]
    page = HtmlReader(body).elements
    assert not {"img", "a"} & set(tags)
    assert all("weight" in (e.attributes.get("class") or "") for e in page if e.tag == "b")
    assert tags.count("script") == ("data-card=" in body)
    assert tags.count("style") == 1
    assert tags.count("section") == blocks
    assert not [e for e in HtmlReader(body).elements if any(a[:2] == "on" for a in e.attributes)]


def check_page(page: Page) -> None:
    for form in PAGE_FORMATS:
        body = write(form, page).body
        if isinstance(body, str):
            assert not UNSAFE.search(re.sub(r"[\r\n]", "", body))
        if form == "html":
            check_html(str(body), len(page.blocks))


@settings(max_examples=60)
@given(names)
def test_a_name_is_harmless_on_every_page(name: str) -> None:
    check_page(every_block(name))


@pytest.mark.parametrize("name", NASTY)
def test_a_nasty_name_is_harmless_on_every_page(name: str) -> None:
    check_page(every_block(name))


@pytest.mark.parametrize("name", NASTY)
@pytest.mark.parametrize("form", ["text", "markdown", "html"])
def test_a_nasty_name_is_legible(name: str, form: str) -> None:
    page = every_block(name)
    assert missing_cells(list(cells_of(page)), text_of(form, page)) == []


@pytest.mark.parametrize("name", NASTY)
def test_a_nasty_name_is_legible_or_replaced_on_paper(name: str) -> None:
    page = every_block(name)
    written = write("pdf", page)
    text = text_of("pdf", page)
    if written.notes:
        assert "\ufffd" in text
        assert "has no U+" in written.notes[0]
    else:
        assert missing_cells(list(cells_of(page)), text) == []


@pytest.mark.parametrize("name", NASTY)
def test_a_nasty_name_goes_through_a_recipe(name: str) -> None:
    page = card_with(name)
    assert page.title == name.strip()
    check_page(page)


@given(names)
@example("\u2028")
def test_json_gives_a_name_back(name: str) -> None:
    text = dumps({"name": name})
    assert json.loads(text) == {"name": name}
    assert text.isascii()
