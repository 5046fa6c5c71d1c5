"""A strip in plain characters: nothing lost, nothing over the edge, bars where their values are."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from eggfold.formats.plain_text import page_text
from eggfold.formats.text_charts import timeline_lines
from eggfold.pages.page import Page, Span, Strip, StripRow


def drawn(strip: Strip, width: int = 60) -> list[str]:
    return list(timeline_lines(strip, width))


def test_intervals_stand_over_their_ticks_with_the_point_marked() -> None:
    ticks = ((0.0, "0"), (5.0, "5"), (10.0, "10"))
    rows = (
        StripRow("Reed", (Span(2, 7, "", 4),)),
        StripRow("Alder", (Span(0, 10, "", 0),)),
    )
    assert drawn(Strip("RANGES", "takes", ticks, rows)) == [
        "Reed              [---------o--------------]",
        "Alder  o---------------------------------------------------]",
        "       +-------------------------+-------------------------+",
        "       0                         5                        10",
        "       takes",
    ]


def test_a_row_holds_several_labelled_spans() -> None:
    # 60 columns less the labels leave 54, five minutes each
    ticks = ((0.0, "0 h"), (90.0, "1.5"), (180.0, "3.0"), (270.0, "4.5"))
    rows = (
        StripRow("Mix", (Span(0, 60, "bowl 1"), Span(60, 120, "bowl 2"))),
        StripRow("Boil", (Span(60, 75, "load 1"), Span(75, 90, "load 2"), Span(210, 270, "last"))),
    )
    assert drawn(Strip("WHO", "from the first egg", ticks, rows)) == [
        "Mix   [bowl 1----][bowl 2----]",
        f"Boil  {12 * ' '}[-][-]{24 * ' '}[last------]",
        f"      {12 * ' '}load 1",
        f"      {15 * ' '}load 2",
        f"      +{17 * '-'}+{17 * '-'}+{16 * '-'}+",
        f"      0 h{14 * ' '}1.5{15 * ' '}3.0{13 * ' '}4.5",
        "      from the first egg",
    ]


def test_spans_at_the_same_time_stand_under_one_another() -> None:
    rows = (StripRow("Help", (Span(0, 60, "Ann"), Span(30, 90, "Bob"))),)
    first, second, *_ = drawn(Strip("WHO", "minutes", ((0.0, "0"), (90.0, "90")), rows))
    assert first.startswith("Help  [Ann")
    assert second.strip().startswith("[Bob")


def test_a_label_too_long_for_the_axis_is_wrapped_and_whole() -> None:
    label = (
        "the second half of the third bowl, rolled by whoever is awake at that hour of the night"
    )
    lines = drawn(
        Strip("WHO", "", ((0.0, "0"), (9.0, "9")), (StripRow("Roll", (Span(8, 9, label),)),))
    )
    assert " ".join(" ".join(lines[1:-2]).split()) == label


def test_a_strip_of_nothing_and_of_one_value_is_drawn() -> None:
    assert drawn(Strip("", "x", (), ())) == [f"  {'-' * 58}", "", "  x"]
    [bar, *_] = drawn(Strip("", "", ((3.0, "3"),), (StripRow("a", (Span(3, 3, "", 3),)),)))
    assert bar == "a  o"


def test_a_page_shows_its_strip_under_the_heading() -> None:
    strip = Strip("RANGES", "takes", ((0.0, "0"), (1.0, "1")), (StripRow("Reed", (Span(0, 1),)),))
    lines = page_text(Page("Trial", "", (strip,)), 80).splitlines()
    assert lines[3:] == ["RANGES", *drawn(strip, 80)]


numbers = st.floats(-1e6, 1e6)
labels = st.lists(st.text("abcdéf", max_size=9), max_size=5).map(" ".join)
spans = st.builds(lambda a, b, text: Span(min(a, b), max(a, b), text), numbers, numbers, labels)
rows_of_spans = st.lists(
    st.builds(StripRow, labels, st.lists(spans, max_size=6).map(tuple)), max_size=4
)


@given(rows_of_spans, st.lists(numbers, max_size=8), st.integers(20, 200))
def test_any_strip_keeps_to_its_width_and_shows_every_label(
    rows: list[StripRow], ticks: list[float], width: int
) -> None:
    marks = tuple((tick, f"{tick:.0f}") for tick in sorted(ticks))
    lines = drawn(Strip("S", "unit", marks, tuple(rows)), width)
    assert all(len(line) <= min(max(width, 60), 120) for line in lines)
    shown = "".join(lines)
    for row in rows:
        for word in " ".join([row.label, *(span.label for span in row.spans)]).split():
            assert word in shown
