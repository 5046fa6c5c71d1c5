"""One page, four formats: the same cells and figures in all, and each format keeps its own rules."""

from __future__ import annotations

import io
import re
from itertools import pairwise
from typing import Any

import pytest
from pypdf import PdfReader

from eggfold.errors import NoAnswerError
from eggfold.formats.json import data_of
from eggfold.formats.pdf_blocks import NAMED_AT_MOST
from eggfold.formats.plain_text import page_text
from eggfold.formats.registry import FORMATS
from eggfold.pages.page import Block, Bowl, Column, Facts, Lines, Page, Span, Strip, StripRow, Table
from paper.reading import (
    PAGE_FORMATS,
    HtmlReader,
    cells_of,
    missing_cells,
    text_of,
    write,
)
from paper.sample import demo_batches, demo_cards, every_block

CARDS = demo_cards()
SAMPLE = every_block()
EUROPEAN = "Żółć Őrült Þór Ñandú Ærø Ğüneş Škvára Ālūksne Ţăran Ģirts Łódź Straße Ξύλο Борщ ₤ €"


def number_at(cell: str) -> tuple[float, float]:
    """Return the first number of a cell in the unit that JSON has, and half of its last digit."""
    found = re.search(r"(\d+)(?:\.(\d+))? (kg|l|g|ml)\b", cell)
    assert found, cell
    times = 1000 if found[3] in {"kg", "l"} else 1
    value = float(f"{found[1]}.{found[2] or 0}")
    return value * times, 0.5 * 10.0 ** -len(found[2] or "") * times * (1 + 1e-9)


def test_every_format_of_pages_is_tried() -> None:
    assert {*PAGE_FORMATS, "json", "csv"} == set(FORMATS)


@pytest.mark.parametrize("form", PAGE_FORMATS)
def test_every_cell_stands_in_every_format(form: str) -> None:
    for page in CARDS:
        cells = list(cells_of(page))
        assert len(cells) > 20
        assert missing_cells(cells, text_of(form, page)) == []
    assert missing_cells(["a cell that is not there"], text_of(form, CARDS[0])) != []


@pytest.mark.parametrize("form", [form for form in PAGE_FORMATS if form != "text"])
def test_every_block_stands_in_the_formats_that_are_no_terminal(form: str) -> None:
    text = text_of(form, SAMPLE)
    assert missing_cells(list(cells_of(SAMPLE)), text) == []
    assert missing_cells(["takes in 10 rod hours", "boil 1", "centre, °C", "order"], text) == []


def test_the_figures_of_the_cards_are_those_of_the_json() -> None:
    compared = 0
    for page, batch in zip(CARDS, demo_batches(), strict=False):
        data: Any = data_of(batch)
        bowl = next(b for b in page.blocks if isinstance(b, Bowl))
        eggs, *doses = bowl.rows
        pairs = [(eggs.amount, data["eggs"]["shelled_g"])]
        by_name = {dose["name"]: dose for dose in data["doses"]}
        for cell, name, *_ in doses:
            pairs.append((cell, by_name[name]["ml" if cell.endswith("ml") else "g"]))
        makes = next(b for b in page.blocks if b.heading.startswith("MAKES"))
        paste, dried, *_ = re.findall(r"[\d.]+ k?g\b(?!/)", makes.heading)
        pairs += [(paste, data["paste"]["mass_g"]), (dried, data["paste"]["finished_g"])]
        for cell, value in pairs:
            shown, half_a_digit = number_at(cell)
            assert abs(shown - value) <= half_a_digit, (cell, value)
            compared += 1
    assert compared > 15


def test_html_needs_nothing_else() -> None:
    body = write("html", *CARDS, SAMPLE).body
    assert isinstance(body, str)
    elements = HtmlReader(body).elements
    assert [e.attributes for e in elements if e.tag == "script"] == [{}]  # its own, from no network
    assert "default-src 'none'" in body
    assert not {"link", "img", "iframe", "form", "object"} & {e.tag for e in elements}
    links = [e.attributes.get("href") or "" for e in elements if e.tag == "a"]
    assert links
    assert all(link.startswith("#page-") for link in links)
    assert not re.search(r"https?:|url\(|@import", body)
    assert not [e for e in elements for name in e.attributes if name.startswith("on")]
    names = [e.attributes["id"] for e in elements if "id" in e.attributes]
    assert len(names) == len(set(names))
    labelled = " ".join(e.attributes.get("aria-labelledby") or "" for e in elements).split()
    assert set(labelled) <= set(names)


@pytest.mark.parametrize("pages", [CARDS, CARDS[:1]])
def test_html_headings_and_heads_of_tables_have_an_order(pages: list[Page]) -> None:
    reader = HtmlReader(str(write("html", *pages).body))
    levels = [level for level, _ in reader.headings]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(later - earlier <= 1 for earlier, later in pairwise(levels))
    assert all(text.strip() for _, text in reader.headings)
    heads = [e for e in reader.elements if e.tag == "th"]
    assert heads
    assert {e.attributes["scope"] for e in heads} == {"col", "row"}
    assert all(e.attributes["scope"] == ("col" if "thead" in e.inside else "row") for e in heads)
    assert [e.attributes["lang"] for e in reader.elements if e.tag == "html"] == ["en"]


def test_markdown_escapes_what_is_markup() -> None:
    nasty = "# a | b `c` *d* _e_ <b>f</b> [g](h) ~~i~~ & 1. j"
    page = Page(nasty, "", (Lines("X", (nasty, "- k", "1. l", "+ m", "---")),))
    assert missing_cells([nasty, "- k", "1. l", "+ m", "---"], text_of("markdown", page)) == []


def test_pdf_has_bookmarks_numbers_and_real_text() -> None:
    written = write("pdf", *CARDS)
    assert written.notes == ()
    assert isinstance(written.body, bytes)
    reader = PdfReader(io.BytesIO(written.body))
    sheets = len(reader.pages)
    for number, sheet in enumerate(reader.pages, 1):
        assert f" page {number} of {sheets}" in " ".join(sheet.extract_text().split())
    assert f"2026-01-01 page {sheets} of {sheets}" in " ".join(
        reader.pages[-1].extract_text().split()
    )
    tops = [entry for entry in reader.outline if not isinstance(entry, list)]
    assert [entry.title.partition(",")[0] for entry in tops if entry.title] == [
        page.title for page in CARDS
    ]
    below = next(entry for entry in reader.outline if isinstance(entry, list))
    headings = [str(entry.title) for entry in below if not isinstance(entry, list)]
    assert headings[0].startswith("BOWL")
    assert any(heading.startswith("ASSUMED") for heading in headings)
    assert reader.metadata
    assert reader.metadata.creation_date
    assert reader.metadata.creation_date.date().isoformat() == "2026-01-01"
    fonts: set[str] = set()
    for sheet in reader.pages:
        resources: Any = sheet["/Resources"]
        used = [font.get_object() for font in resources["/Font"].values()]
        fonts |= {f["/BaseFont"].partition("+")[2] for f in used if "/FontDescriptor" in f}
    assert fonts == {"DejaVuSansCondensed", "DejaVuSansCondensed-Bold"}


def test_pdf_is_the_same_for_the_same_day(monkeypatch: pytest.MonkeyPatch) -> None:
    first = write("pdf", CARDS[0]).body
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "5")
    assert write("pdf", CARDS[0]).body == first


def test_pdf_has_the_letters_of_europe() -> None:
    page = Page(EUROPEAN, "", (Lines(EUROPEAN, (EUROPEAN,)),))
    assert write("pdf", page).notes == ()
    assert missing_cells([EUROPEAN], text_of("pdf", page)) == []


def test_pdf_names_the_letters_that_it_has_not() -> None:
    written = write("pdf", Page("דג 🐟", "", (Lines("X", ("חלב",)),)))
    (note,) = written.notes
    assert "U+05D3 (HEBREW LETTER DALET)" in note
    assert "U+1F41F (FISH)" in note
    assert isinstance(written.body, bytes)
    # three in the title, three in its foot, three in the line
    assert PdfReader(io.BytesIO(written.body)).pages[0].extract_text().count("\ufffd") == 9


def card_of(items: int) -> Page:
    return Page("Reed bed", "", (Lines("X", ("Stir once more.",) * items),), front=1)


def sheet_sizes(page: Page, paper: str | None) -> list[tuple[int, int]]:
    body = write("pdf", page, paper=paper).body
    assert isinstance(body, bytes)
    boxes = [sheet.mediabox for sheet in PdfReader(io.BytesIO(body)).pages]
    return [(round(box.width / 72 * 25.4), round(box.height / 72 * 25.4)) for box in boxes]


def test_a_card_takes_half_a_sheet_where_it_fits() -> None:
    assert sheet_sizes(card_of(20), None) == [(148, 210)]
    assert sheet_sizes(card_of(36), None) == [(210, 297)]
    assert sheet_sizes(card_of(20), "letter") == [(216, 279)]
    assert sheet_sizes(card_of(20), "a4") == [(210, 297)]


def test_a_long_front_goes_on_a_second_sheet_and_not_in_smaller_type() -> None:
    assert len(sheet_sizes(card_of(70), "a4")) == 2
    assert min(type_sizes(card_of(70), "a4")) >= 14
    assert min(type_sizes(card_of(70), "a5")) >= 11


def type_sizes(page: Page, paper: str) -> list[float]:
    """Return the size of every text on the sheets of a page's front but the foot's."""
    body = write("pdf", page, paper=paper).body
    assert isinstance(body, bytes)
    sizes: list[float] = []

    def visit(text: str, _cm: Any, matrix: Any, _font: Any, size: float) -> None:
        if text.strip() and matrix[5] > 9 / 25.4 * 72 + 12:  # above the foot's line
            sizes.append(size * abs(matrix[3]))

    for sheet in PdfReader(io.BytesIO(body)).pages:
        sheet.extract_text(visitor_text=visit)
    assert sizes
    return sizes


@pytest.mark.parametrize(("paper", "least"), [("a4", 14.0), ("letter", 14.0), ("a5", 11.0)])
def test_a_front_on_paper_is_legible_at_arms_length(paper: str, least: float) -> None:
    for card in CARDS[:-1]:
        front = card._replace(blocks=card.blocks[: card.front])
        sizes = type_sizes(front, paper)
        assert min(sizes) >= least - 0.01
        # weights and the title are larger than the rest
        assert max(sizes) >= 1.3 * min(sizes) - 0.01


def test_a_table_that_is_too_wide_says_which_paper_fits() -> None:
    columns = tuple(Column(f"{n} eggs", "right") for n in range(14))
    page = Page("Doses", "", (Table("X", columns, (("123.45 ml",) * 14,)),))
    with pytest.raises(NoAnswerError, match=r"too large for A6 .* fits on A4 or letter"):
        write("pdf", page, paper="a6")
    wide = Page("Doses", "", (Table("X", columns * 6, (("123.45 ml",) * 84,)),))
    with pytest.raises(NoAnswerError, match="choose fewer columns"):
        write("pdf", wide)


def test_a_long_table_repeats_its_head_on_every_sheet() -> None:
    columns = (Column("Additive"), Column("hookbait, 1 egg", "right"))
    rows = tuple((f"Flavour {n}", f"{n} ml") for n in range(300))
    body = write("pdf", Page("Dose sheet", "", (Table("DOSES", columns, rows),))).body
    assert isinstance(body, bytes)
    sheets = [sheet.extract_text() for sheet in PdfReader(io.BytesIO(body)).pages]
    assert len(sheets) > 2
    assert all("Additive" in sheet and "DOSES" in sheet for sheet in sheets)
    assert all("continued" in sheet for sheet in sheets[1:])
    numbers = [int(n) for sheet in sheets for n in re.findall(r"Flavour (\d+)", sheet)]
    assert numbers == list(range(300))


@pytest.mark.parametrize("place", ["title", "cell", "line", "fact"])
def test_what_is_taller_than_a_sheet_goes_on_the_next(place: str) -> None:
    words = " ".join(f"w{n}" for n in range(6000))
    blocks: dict[str, Block] = {
        "title": Lines("X", ("short",)),
        "cell": Table("X", (Column("a"), Column("b", "right")), ((words, "1 g"), ("y", "2 g"))),
        "line": Lines("X", (words, "short")),
        "fact": Facts("X", ((words, "1 g"), ("y", words))),
    }
    page = Page(words if place == "title" else "Reed bed", "", (blocks[place],))
    for one in (page, page._replace(front=1)):
        text = text_of("pdf", one)
        assert set(words.split()) <= set(re.findall(r"w\d+", text))


@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
@pytest.mark.parametrize("count", [20, 25, 200])
def test_a_strip_taller_than_a_sheet_is_parted_between_its_rows(paper: str, count: int) -> None:
    rows = tuple(StripRow(f"Mix {n}", (Span(n, n + 9.0),)) for n in range(count))
    strip = Strip("RANGES", "takes", ((0.0, "start"), (count + 9.0, "end")), rows)
    body = write("pdf", Page("Trials", "", (strip,)), paper=paper).body
    assert isinstance(body, bytes)
    sheets = [sheet.extract_text() for sheet in PdfReader(io.BytesIO(body)).pages]
    assert (len(sheets) > 1) == (count == 200)
    assert all({"RANGES", "takes", "start", "end"} <= set(sheet.split()) for sheet in sheets)
    numbers = [int(n) for sheet in sheets for n in re.findall(r"Mix (\d+)", sheet)]
    assert numbers == list(range(count))


def test_a_figure_that_names_its_row_stands_under_its_head() -> None:
    columns = (Column("Bowl", "right"), Column("what"))
    body = write("html", Page("Bowls", "", (Table("BOWLS", columns, (("1", "mix"),)),))).body
    assert '<th role="columnheader" scope="col" class="right">Bowl</th>' in body
    assert '<th role="rowheader" scope="row" class="right">1</th>' in body


@pytest.mark.parametrize(
    ("letters", "more"), [(1, ""), (NAMED_AT_MOST, ""), (NAMED_AT_MOST + 1, " and 1 more")]
)
def test_a_note_names_some_missing_letters_and_counts_the_rest(letters: int, more: str) -> None:
    name = "".join(chr(0x4E00 + n) for n in range(letters))
    (note,) = write("pdf", Page(name, "", ())).notes
    assert f"{more}; a replacement" in note
    assert note.count("U+4E0") == min(letters, NAMED_AT_MOST)


@pytest.mark.parametrize("more", [0, 1])
def test_a_command_leaves_its_sentence_only_where_both_do_not_fit(more: int) -> None:
    words = "Then: eggfold batch recipes/reed.yaml"
    said = f"{'x' * (78 - len(words) - 1 + more)} {words}"
    shown = page_text(Page("Reed", "", (Lines("NEXT", (said,)),)))
    assert ("\n  eggfold batch" in shown) is bool(more)
