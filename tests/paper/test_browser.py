"""The pages in a real browser: on a phone, on paper, and as a screen reader is told them."""

from __future__ import annotations

import io
import os
from itertools import groupby, pairwise
from typing import TYPE_CHECKING, Any

import pytest
from pypdf import PdfReader

from eggfold.formats.registry import Setting, write_pages
from eggfold.pages.card import card_page
from eggfold.stock.shopping import build_shopping
from paper.chromium import DESK, PHONE, Browser, find_chromium
from paper.reading import write
from paper.sample import DAY, batches_of, demo_cards, every_block
from paper.test_labels import LABELS
from paper.test_names import NASTY
from running import RECIPES, copy_recipes, run_eggfold

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from eggfold.pages.page import Page

CONTRAST = 4.5
"""Least contrast of text, WCAG 2.2, success criterion 1.4.3."""

CONTRASTS = """
(() => {
  const light = ([r, g, b]) => {
    const [x, y, z] = [r, g, b].map(c => c / 255).map(
      c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
    return 0.2126 * x + 0.7152 * y + 0.0722 * z;
  };
  const numbers = colour => colour.match(/[\\d.]+/g).map(Number);
  const behind = element => {
    for (let e = element; e; e = e.parentElement) {
      const n = numbers(getComputedStyle(e).backgroundColor);
      if (n.length < 4 || n[3] > 0) return n;
    }
    return [255, 255, 255];
  };
  const found = [];
  for (const element of document.querySelectorAll("body *")) {
    const own = [...element.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    if (!own || element.closest("title, desc")) continue;
    const style = getComputedStyle(element);
    const drawn = element instanceof SVGElement ? style.fill : style.color;
    const ground = element instanceof SVGElement ? [221, 221, 221] : behind(element);
    const pair = [light(numbers(drawn)), light(ground)].sort((a, b) => b - a);
    found.push((pair[0] + 0.05) / (pair[1] + 0.05));
  }
  return found;
})()
"""
OUTSIDE = """
[...document.querySelectorAll("body *")].filter(
  e => e.getBoundingClientRect().right > innerWidth + 0.5 && !e.closest("thead, svg")
).length
"""

OVERFLOWING = """
[...document.querySelectorAll(".label")].filter(e => e.scrollHeight > e.clientHeight + 1).length
"""


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    program = find_chromium()
    if program is None:
        if os.environ.get("CI"):
            pytest.fail("chromium is not installed, and .ci/run installs it")
        pytest.skip("chromium is not installed (Debian: apt install chromium)")
    browser = Browser(program, tmp_path_factory.mktemp("profile"))
    yield browser
    browser.close()


def opened(
    browser: Browser,
    folder: Path,
    *pages: Page,
    size: tuple[int, int] = DESK,
    paper: str | None = None,
) -> None:
    body = write("html", *pages, paper=paper).body
    assert isinstance(body, str)
    file = folder / "page.html"
    file.write_text(body, encoding="utf-8")
    browser.open(file, size)


def every_page() -> list[Page]:
    return [*demo_cards(), every_block(), *map(every_block, NASTY)]


def test_a_phone_shows_it_without_scrolling_sideways(browser: Browser, tmp_path: Path) -> None:
    opened(browser, tmp_path, *every_page(), size=PHONE)
    assert browser.value("innerWidth") == 360
    assert browser.value("document.documentElement.scrollWidth") == 360
    assert browser.value(OUTSIDE) == 0
    assert browser.value("document.querySelectorAll('article').length") == len(every_page())


def test_a_phone_shows_letters_that_can_be_read(browser: Browser, tmp_path: Path) -> None:
    opened(browser, tmp_path, *demo_cards(), size=PHONE)
    sizes = "[...document.querySelectorAll('p, th, td, li')].map(e => parseFloat(getComputedStyle(e).fontSize))"
    assert min(browser.value(sizes)) >= 13


def test_text_stands_out(browser: Browser, tmp_path: Path) -> None:
    for size in (DESK, PHONE):
        opened(browser, tmp_path, *demo_cards(), every_block(), size=size)
        found = browser.value(CONTRASTS)
        assert len(found) > 100
        assert min(found) >= CONTRAST


def printed(browser: Browser) -> list[str]:
    sheets = PdfReader(io.BytesIO(browser.pdf())).pages
    return [" ".join(sheet.extract_text().split()) for sheet in sheets]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_card_prints_on_one_sheet(browser: Browser, tmp_path: Path, paper: str) -> None:
    cards = demo_cards()
    opened(browser, tmp_path, *cards, paper=paper)
    sheets = printed(browser)
    assert len(sheets) == len(cards)
    for sheet, card in zip(sheets, cards, strict=True):
        assert sheet.startswith(card.title)


def test_a_card_alone_prints_on_one_sheet(browser: Browser, tmp_path: Path) -> None:
    for file in RECIPES.glob("osierfen-*.yaml"):
        (batch,) = batches_of(file)
        opened(browser, tmp_path, card_page(batch, build_shopping([batch])))
        assert len(printed(browser)) == 1


def test_a_card_with_the_shelf_prints_on_one_sheet(browser: Browser, tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    for recipe in RECIPES.glob("osierfen-*.yaml"):
        args = ("batch", f"recipes/{recipe.name}", "--as", "freebie", "--eggs", "6")
        file = tmp_path / f"{recipe.stem}.html"
        assert run_eggfold((*args, "--output", file.name), tmp_path).exit == 0
        browser.open(file, DESK)
        assert len(printed(browser)) == 1, recipe.stem


def test_on_half_a_sheet_the_back_is_at_the_foot_or_overleaf(
    browser: Browser, tmp_path: Path
) -> None:
    cards = demo_cards()[:-1]
    opened(browser, tmp_path, *cards, paper="a5")
    sheets = printed(browser)
    backs = [sheet for sheet in sheets if sheet.startswith("FILES READ")]
    fronts = [sheet for sheet in sheets if sheet not in backs]
    assert backs
    for front, card in zip(fronts, cards, strict=True):
        assert front.startswith(card.title)


def test_labels_print_sheet_by_sheet_and_fit_their_cells(browser: Browser, tmp_path: Path) -> None:
    for grid in ((2, 4), (3, 8)):
        body = write_pages("html", LABELS, Setting(DAY, grid=grid)).body
        assert isinstance(body, str)
        file = tmp_path / "labels.html"
        file.write_text(body, encoding="utf-8")
        browser.open(file)
        assert len(printed(browser)) == -(-len(LABELS) // (grid[0] * grid[1]))
        browser.call("Emulation.setEmulatedMedia", media="print")
        assert browser.value("document.querySelectorAll('.label').length") == len(LABELS)
        assert browser.value(OVERFLOWING) == 0
        browser.call("Emulation.setEmulatedMedia", media="")
        browser.open(file, PHONE)
        assert browser.value("document.documentElement.scrollWidth") == 360


def test_a_screen_reader_is_told_tables_and_headings(browser: Browser, tmp_path: Path) -> None:
    for size in (DESK, PHONE):
        opened(browser, tmp_path, demo_cards()[0], every_block(), size=size)
        tree = browser.tree()
        by_role = group_by_role(tree)
        assert named(by_role["table"])
        assert named(by_role["columnheader"])
        assert named(by_role["rowheader"])
        assert named(by_role["image"])
        levels = [level_of(node) for node in by_role["heading"]]
        assert levels[0] == 1
        assert all(later - earlier <= 1 for earlier, later in pairwise(levels))
        assert len(by_role["main"]) == 1
        assert named(by_role["article"])


def group_by_role(tree: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    ordered = sorted(tree, key=lambda node: str(node["role"]["value"]))
    return {role: list(nodes) for role, nodes in groupby(ordered, lambda n: n["role"]["value"])}


def named(nodes: list[dict[str, Any]]) -> bool:
    return all(node["name"]["value"].strip() for node in nodes)


def level_of(node: dict[str, Any]) -> int:
    return next(int(p["value"]["value"]) for p in node["properties"] if p["name"] == "level")
