"""Labels on sheets: each in its own cell, in type that can be read, or a sentence about the grid."""

from __future__ import annotations

import io
import json
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from eggfold.errors import NoAnswerError
from eggfold.formats.registry import Setting, write_pages
from eggfold.pages.page import Facts, Page
from paper.reading import HtmlReader, cells_of, html_text, missing_cells
from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

LABELS = tuple(
    Page(
        f"Reed bed mix {n}",
        "FREEBIE",
        (Facts("FISHING BAIT, NOT FOOD", (("Weight", f"{n} g"), ("Contains", "eggs, milk"))),),
    )
    for n in range(1, 31)
)
BAG = ("--as", "freebie", "--eggs", "6", "--bag", "500g", "--grid", "3x8")


def written(form: str, grid: tuple[int, int], pages: tuple[Page, ...] = LABELS) -> str | bytes:
    return write_pages(form, pages, Setting("2026-01-01", grid=grid)).body


def test_pdf_fills_sheets_label_by_label() -> None:
    body = written("pdf", (3, 8))
    assert isinstance(body, bytes)
    sheets = [sheet.extract_text() for sheet in PdfReader(io.BytesIO(body)).pages]
    assert [sheet.count("FISHING BAIT") for sheet in sheets] == [24, 6]
    for page in LABELS:
        assert missing_cells(list(cells_of(page)), "".join(sheets)) == []


def test_pdf_keeps_each_label_in_its_cell() -> None:
    body = written("pdf", (3, 8))
    assert isinstance(body, bytes)
    sheet = PdfReader(io.BytesIO(body)).pages[0]
    width, height = float(sheet.mediabox.width), float(sheet.mediabox.height)
    places: dict[str, tuple[int, int]] = {}

    def visit(text: str, _cm: object, tm: list[float], _font: object, _size: object) -> None:
        if text.strip().startswith("Reed bed mix"):
            column, row = tm[4] / (width / 3), (height - tm[5]) / (height / 8)
            places[text.strip().splitlines()[0]] = int(column), int(row)

    sheet.extract_text(visitor_text=visit)
    assert len(places) >= 20
    for name, (column, row) in places.items():
        number = int(name.removeprefix("Reed bed mix").split()[0]) - 1
        assert (column, row) == (number % 3, number // 3)


def test_html_has_each_label_once() -> None:
    body = written("html", (3, 8))
    assert isinstance(body, str)
    tags = [element.tag for element in HtmlReader(body).elements]
    assert tags.count("article") == 30
    assert [level for level, _ in HtmlReader(body).headings] == [1, *[2] * 30]
    text = html_text(body)
    assert all(missing_cells(list(cells_of(page)), text) == [] for page in LABELS)


@pytest.mark.parametrize("form", ["pdf", "html"])
def test_labels_that_are_too_small_are_refused(form: str) -> None:
    long = (LABELS[0]._replace(title="Reed bed mix of a very long name " * 6),)
    with pytest.raises(NoAnswerError, match="too small for their text"):
        written(form, (5, 13), long)
    assert written(form, (2, 4), long)


def test_html_names_the_grid_that_is_too_fine() -> None:
    with pytest.raises(NoAnswerError, match="labels 5 by 60 on A4 are too small"):
        written("html", (5, 60))


def test_the_sentence_names_a_grid_that_fits() -> None:
    long = (LABELS[0]._replace(title="Reed bed mix of a very long name " * 4),)
    with pytest.raises(NoAnswerError) as refused:
        written("pdf", (5, 13), long)
    columns, rows = str(refused.value).split("--grid ")[1].split()[0].split("x")
    assert written("pdf", (int(columns), int(rows)), long)


@pytest.mark.parametrize("form", ["text", "csv", "markdown", "html", "pdf", "json"])
def test_the_command_writes_every_format(tmp_path: Path, form: str) -> None:
    copy_recipes(tmp_path)
    args = ["labels", "recipes/osierfen-caraway.yaml", *BAG, "--format", form]
    printed = run_eggfold(args, tmp_path)
    assert printed.exit == 0, printed.stderr
    assert "FISHING BAIT, NOT FOOD" in printed.stdout or form in {"csv", "json"}
    folder = run_eggfold([*args, "--output", "labels/"], tmp_path)
    assert folder.stderr == "wrote 1 file into labels\n"
    (file,) = (tmp_path / "labels").iterdir()
    assert file.stem == "osierfen-caraway-freebie-labels"


def test_shelf_speaks_for_the_mix_as_on_the_card(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ("recipes/osierfen-caraway.yaml", "--as", "freebie", "--format", "json")
    label = json.loads(run_eggfold(("labels", *args), tmp_path).stdout)["labels"][0]
    assert label["contains"] == ["eggs", "fish", "milk"]
    assert "Osierfen bulk mix" not in label["not_declared"]
    cautions = json.loads(run_eggfold(("batch", *args), tmp_path).stdout)["batches"][0]["cautions"]
    allergens = next(c["text"] for c in cautions if c["code"] == "allergens")
    assert allergens.startswith(f"Contains {', '.join(label['contains'])}.")
