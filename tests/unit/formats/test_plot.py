"""Plots in plain characters: their size, their axes, and where their points lie."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.formats.plain_text import page_text
from eggfold.formats.text_charts import HEIGHT, plot_lines
from eggfold.pages.page import Page, Plot

LINE = Plot("H", "size, mm", "time, s", ((0.0, 0.0), (10.0, 100.0)), ((5.0, 50.0, "half way"),))
STEPS = Plot("H", "day, d", "stock, kg", ((0.0, 4.0), (5.0, 2.0), (10.0, 0.0)), (), stepped=True)


def drawing(plot: Plot, width: int = 80) -> tuple[str, list[str], list[str]]:
    """Return the title of y, the rows of the drawing without their labels, and what is below."""
    first, *lines = plot_lines(plot, width)
    edge = max(lines[0].find("+"), lines[0].find("|"))
    return first, [line[edge + 1 :] for line in lines[:HEIGHT]], lines[HEIGHT:]


@pytest.mark.parametrize("width", [1, 60, 80, 100, 120, 300])
def test_width_and_characters(width: int) -> None:
    lines = list(plot_lines(LINE, width))
    assert max(map(len, lines)) <= min(max(width, 60), 120)
    assert max(map(len, lines)) >= min(max(width, 60), 120) - 1
    assert all(line.isascii() for line in lines)


def test_axes_are_named_and_ticked() -> None:
    title, _, below = drawing(LINE)
    assert title == "time, s"
    assert below[1].split() == ["0", "2", "4", "6", "8", "10"]
    assert below[2].strip() == "size, mm"
    assert below[3].strip() == "A = half way"
    labels = [
        line.split()[0] for line in list(plot_lines(LINE, 80))[1 : HEIGHT + 1] if line[2] != " "
    ]
    assert labels[0] == "100"


def test_a_straight_line_is_straight() -> None:
    _, rows, _ = drawing(LINE)
    assert rows[0].rstrip().endswith("*")
    assert rows[-1].startswith("*")
    middle = rows[HEIGHT // 2]
    assert middle.index("A") == pytest.approx((len(max(rows, key=len)) - 1) / 2, abs=1)
    starts = [row.index("*") for row in rows if "*" in row]
    assert starts == sorted(starts, reverse=True)


def test_steps_hold_until_the_next_point() -> None:
    _, rows, _ = drawing(STEPS)
    full, half = rows[0], rows[HEIGHT // 2]
    assert full.count("*") == pytest.approx(37, abs=2)
    assert full.startswith("*")
    assert half.count("*") == pytest.approx(37, abs=2)
    assert half.lstrip().startswith("*")


def test_nothing_is_a_line_of_its_own() -> None:
    below_and_above = Plot("H", "x", "y", ((0.0, -1.0), (1.0, 1.0)))
    _, rows, _ = drawing(below_and_above)
    assert rows[HEIGHT // 2].count(".") > 60


def test_signs_outside_ascii_are_written_out() -> None:
    plot = Plot("H", "water, °C", "lift ± 0.1", ((0.0, 0.0), (1.0, 1.0)))
    lines = list(plot_lines(plot, 80))
    assert lines[0] == "lift +/- 0.1"
    assert lines[-1].strip() == "water, deg C"


def test_a_page_shows_its_plot() -> None:
    text = page_text(Page("T", "a", (LINE,)))
    assert "time, s" in text
    assert "A = half way" in text


numbers = st.floats(-1e6, 1e6).map(lambda x: round(x, 3))


@given(st.lists(st.tuples(numbers, numbers), min_size=1, max_size=9), st.booleans())
def test_any_curve_is_drawn(points: list[tuple[float, float]], stepped: bool) -> None:
    ordered = tuple(sorted(points, key=lambda p: p[0]))
    plot = Plot("H", "x", "y", ordered, ((*ordered[0], "first"),), stepped)
    lines = list(plot_lines(plot, 80))
    assert len(lines) == HEIGHT + 5
    assert max(map(len, lines)) <= 80
    assert any("A" in line for line in lines[1 : HEIGHT + 1])


@pytest.mark.parametrize("count", [27, 52])
def test_every_mark_has_a_letter_of_its_own(count: int) -> None:
    marks = tuple((float(i), 1.0, f"T{i}") for i in range(count))
    _, _, below = drawing(Plot("H", "x", "y", ((0.0, 0.0), (60.0, 1.0)), marks))
    letters = [line.split()[0] for line in below if " = T" in line]
    assert len(set(letters)) == count
    assert letters[:2] == ["A", "B"]


def test_marks_after_the_last_letter_share_a_sign_that_is_none() -> None:
    marks = tuple((float(i), 1.0, f"T{i}") for i in range(55))
    _, _, below = drawing(Plot("H", "x", "y", ((0.0, 0.0), (60.0, 1.0)), marks))
    assert [line.strip() for line in below[-4:]] == ["z = T51", "# = T52", "# = T53", "# = T54"]
