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
from eggfold.pages.figures import METRIC
from eggfold.pages.page import Loads
from paper.chromium import DESK, PHONE, Browser, find_chromium
from paper.reading import write
from paper.sample import DAY, batches_of, demo_cards, every_block
from paper.test_labels import LABELS
from paper.test_names import NASTY
from running import RECIPES

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from eggfold.load.recipe import Strength
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


@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
def test_a_card_prints_its_front_in_large_type(
    browser: Browser, tmp_path: Path, paper: str
) -> None:
    cards = demo_cards()[:-1]
    opened(browser, tmp_path, *cards, paper=paper)
    sheets = printed(browser)
    fronts = [sheet for sheet in sheets if any(sheet.startswith(c.title) for c in cards)]
    assert len(fronts) == len(cards)
    backs = [sheet for sheet in sheets if sheet.startswith("THE USUAL CARE")]
    assert len(backs) == len(cards)
    browser.call("Emulation.setEmulatedMedia", media="print")
    sizes = browser.value(
        "[...document.querySelectorAll('.block:not(.back) :is(li, td, th, p)')]"
        ".filter(e => !e.matches('.trial')).map(e => parseFloat(getComputedStyle(e).fontSize))"
    )
    weights = browser.value(
        "[...document.querySelectorAll('.ticks .weight')]"
        ".map(e => [parseFloat(getComputedStyle(e).fontSize),"
        " Math.max(...[...e.closest('li').querySelectorAll('.name, .how')]"
        ".map(o => parseFloat(getComputedStyle(o).fontSize)))])"
    )
    boxes = browser.value(
        "[...document.querySelectorAll('.ticks input, .tub input')]"
        ".map(e => e.getBoundingClientRect().width)"
    )
    browser.call("Emulation.setEmulatedMedia", media="")
    # 96 CSS pixels are an inch, 72 points or 25.4 mm
    assert min(sizes) * 72 / 96 >= (11 if paper == "a5" else 14) - 0.01
    assert weights
    assert all(weight > others for weight, others in weights)
    assert min(boxes) / 96 * 25.4 >= 5


def tick(browser: Browser, number: int) -> None:
    browser.value(f"document.querySelectorAll('input')[{number}].click()")


TICKED = (
    "[...document.querySelectorAll('input')].map((e, i) => e.checked ? i : -1).filter(i => i >= 0)"
)


def test_ticks_stay_on_reload_and_belong_to_a_bowl(browser: Browser, tmp_path: Path) -> None:
    card = demo_cards()[0]
    opened(browser, tmp_path, card, size=(390, 800))
    file = tmp_path / "page.html"
    assert browser.value("document.querySelector('.bar').hidden") is False
    tick(browser, 0)
    at_once = "[...document.querySelectorAll('input')].findIndex(e => e.dataset.g)"
    first = browser.value(at_once)
    tick(browser, first)
    tick(browser, first + 1)
    grams = browser.value(
        "[...document.querySelectorAll('input:checked')].map(e => +(e.dataset.g || 0))"
    )
    shown = browser.value("document.querySelector('.sum .weight').textContent")
    assert shown == f"{sum(grams):.0f} g"
    browser.open(file, (390, 800))
    assert browser.value(TICKED) == [0, first, first + 1]
    assert "started" in browser.value("document.querySelector('.began').textContent")
    browser.value("document.querySelector('.anew').click()")
    assert browser.value(TICKED) == []
    assert browser.value("document.querySelector('.number').textContent") == "2"
    tick(browser, 1)
    browser.value(
        "(() => { const key = Object.keys(localStorage).find(k => k.startsWith('eggfold'));"
        " const kept = JSON.parse(localStorage[key]); kept.began -= 13 * 3600e3;"
        " localStorage[key] = JSON.stringify(kept); })()"
    )
    browser.open(file, (390, 800))
    assert browser.value(TICKED) == []
    assert "12 hours" in browser.value("document.querySelector('.told').textContent")


def test_ticks_of_one_card_do_not_mix_with_those_of_another(
    browser: Browser, tmp_path: Path
) -> None:
    file = RECIPES / "osierfen-caraway.yaml"
    kinds: list[tuple[Strength, int]] = [("freebie", 6), ("freebie", 12), ("hookbait", 2)]
    cards = [
        card_page(batch, METRIC, full=True, day=DAY)
        for strength, eggs in kinds
        for batch in batches_of(file, strength=strength, eggs=eggs)
    ]
    opened(browser, tmp_path, *cards)
    browser.value("localStorage.clear()")
    browser.open(tmp_path / "page.html")
    ticked = (
        "[...document.querySelectorAll('article[data-card]')].map(card => "
        "[...card.querySelectorAll('input')].map((e, i) => e.checked ? i : -1).filter(i => i >= 0))"
    )
    boil = (
        "[...document.querySelectorAll('article[data-card]')[1].querySelectorAll('.loads input')]"
    )
    assert browser.value(f"{boil}.length") == cards_loads(cards[1])
    tick(browser, 0)
    browser.value(f"{boil}[0].click()")
    first, second, third = browser.value(ticked)
    assert (first, third) == ([0], [])
    assert len(second) == 1
    browser.open(tmp_path / "page.html")
    assert browser.value(ticked) == [first, second, []]
    began = "[...document.querySelectorAll('.began')].map(e => e.textContent.startsWith('started'))"
    assert browser.value(began) == [True, True, False]
    browser.value("document.querySelectorAll('.anew')[1].click()")
    assert browser.value(ticked) == [first, [], []]
    numbers = "[...document.querySelectorAll('.number')].map(e => e.textContent)"
    assert browser.value(numbers) == ["1", "2", "1"]
    browser.value("document.querySelectorAll('article')[2].querySelector('input[data-g]').click()")
    sums = "[...document.querySelectorAll('.sum .weight')].map(e => e.textContent !== '0 g')"
    assert browser.value(sums) == [False, False, True]


def cards_loads(card: Page) -> int:
    """Return how many loads a card has."""
    return sum(row.boxes for block in card.blocks if isinstance(block, Loads) for row in block.rows)


def test_on_a_phone_a_row_is_one_line(browser: Browser, tmp_path: Path) -> None:
    opened(browser, tmp_path, demo_cards()[0], size=(390, 800))
    heights = browser.value(
        "[...document.querySelectorAll('.ticks li')].map(e => e.getBoundingClientRect().height)"
    )
    assert heights
    assert max(heights) < 45
    assert max(heights) - min(heights) < 6


def test_without_script_the_boxes_still_tick(browser: Browser, tmp_path: Path) -> None:
    browser.call("Emulation.setScriptExecutionDisabled", value=True)
    try:
        opened(browser, tmp_path, demo_cards()[0])
        assert browser.value("document.querySelector('.bar').hidden") is True
        tick(browser, 0)
        assert browser.value(TICKED) == [0]
    finally:
        browser.call("Emulation.setScriptExecutionDisabled", value=False)


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
