"""The tool for a dose, at the edge of what a tool can show."""

from __future__ import annotations

import pytest

from eggfold.engine.measuring import best_reading, reading_as_written, scale_for
from eggfold.reference.measures import BUILT_IN, DROPPER, SCALES, SPOONS, SYRINGES, Tool, ToolKind

COARSE = [SCALES[1]]
TEASPOON = [tool for tool in SPOONS if tool.capacity == 5]


@pytest.mark.parametrize("tools", [SCALES, COARSE], ids=["built in", "1 g scale"])
def test_no_dose_by_weight_is_out_by_more_than_half(tools: list[Tool]) -> None:
    doses = [tools[0].division / 100 * 1.03**step for step in range(400)]
    readings = [best_reading(tools, dose, None, room=1e5) for dose in doses]
    assert all(reading.amount for reading in readings)
    assert max(reading.error_pct for reading in readings) <= 50 + 1e-9


@pytest.mark.parametrize("dose_g", [0.05, 0.09, 0.1, 0.15, 0.2])
def test_a_premix_begins_where_half_a_division_is_half_the_dose(dose_g: float) -> None:
    is_premix = best_reading(BUILT_IN, dose_g, None).premix > 1
    assert is_premix == (dose_g in {0.05, 0.09, 0.15})


@pytest.mark.parametrize("dose", [0.1, 0.3, 0.7, 1.4, 2.5])
@pytest.mark.parametrize("tools", [BUILT_IN, COARSE, TEASPOON], ids=["built in", "1 g", "teaspoon"])
def test_a_premix_holds_the_dose_and_is_enough(tools: list[Tool], dose: float) -> None:
    reading = best_reading(tools, dose, dose)
    if reading.premix > 1:
        assert reading.amount / reading.premix == pytest.approx(dose, rel=0.5)
        assert reading.stirred * reading.premix >= reading.amount
        assert reading.tool.division / 2 <= 0.05 * reading.stirred
        assert reading.fillings <= 5


SYRINGE_5 = Tool("5 ml syringe", "syringe", "ml", 5.0, 0.2)
SYRINGE_10 = Tool("10 ml syringe", "syringe", "ml", 10.0, 0.5)


@pytest.mark.parametrize(
    ("tools", "dose", "said", "error"),
    [
        (SYRINGES, 5.12, "5 ml syringe", 4.30),
        ((SYRINGE_10,), 20.25, "2 × 10 ml syringe", 3.70),
        ((SYRINGE_5,), 5.12, "5 ml syringe", 4.30),
        ((DROPPER,), 0.125, "2 drops", 28.0),
        ((DROPPER,), 0.05, "1 drop", 10.0),
    ],
)
def test_both_marks_beside_a_dose_and_full_fillings_are_tried(
    tools: tuple[Tool, ...], dose: float, said: str, error: float
) -> None:
    reading = best_reading(tools, dose, dose)
    assert reading.in_words == said
    assert reading.error_pct == pytest.approx(error, abs=0.005)


def test_of_the_marks_beside_a_dose_the_nearest_is_read() -> None:
    assert best_reading(SCALES, 31.76, None).amount == pytest.approx(31.8)


def test_drops_are_counted_before_a_tool_that_is_out_by_half() -> None:
    drop = Tool("dropper", "dropper", "ml", 0.025, 0.005)
    coarse = Tool("20 ml syringe", "syringe", "ml", 20.0, 1.0)
    spoon = Tool("2.5 ml spoon", "spoon", "ml", 2.5, 0.5)
    scale = Tool("2 g scale", "scale", "g", 2000.0, 2.0)
    reading = best_reading((SYRINGE_5, coarse, scale, spoon, drop), 0.158 * 0.74, 0.158)
    assert (reading.in_words, round(reading.error_pct, 1)) == ("6 drops", 14.6)


@pytest.mark.parametrize(("dose", "fillings"), [(100, 5), (102, 5), (150, 8), (200, 10)])
def test_a_large_dose_takes_the_fewest_fillings_that_show_it(dose: float, fillings: int) -> None:
    reading = best_reading(SYRINGES, dose, dose)
    assert reading.in_words == f"{fillings} × 20 ml syringe"
    assert reading.error_pct <= 5


@pytest.mark.parametrize(("room", "premix", "error"), [(100, 20, 3.4), (60, 10, 8.7), (400, 50, 1)])
def test_the_premix_with_the_least_error_that_has_room_is_taken(
    room: float, premix: int, error: float
) -> None:
    scale = Tool("0.5 g scale", "scale", "g", 250.0, 0.5)
    reading = best_reading([scale], 0.52, None, room=room)
    if reading.premix > 1:
        assert reading.stirred_into <= room
    assert (reading.premix, round(reading.error_pct, 1)) == (premix, error)


def test_a_dose_for_which_no_premix_has_room_is_not_read_at_all() -> None:
    scales = [Tool("a", "scale", "g", 250.0, 0.5), Tool("b", "scale", "g", 5000.0, 5.0)]
    reading = best_reading(scales, 0.011, None, room=128)
    assert (reading.in_words, reading.amount, reading.error_pct) == ("no tool here", 0.0, 100.0)
    assert scale_for(0.011, room=128) == 0.1


@pytest.mark.parametrize(("ml", "said"), [(0.35, "7 drops"), (1, "20 drops"), (1.05, None)])
def test_a_dose_in_drops_is_counted_up_to_twenty(ml: float, said: str | None) -> None:
    reading = reading_as_written(BUILT_IN, ml, "dropper")
    assert (reading and reading.in_words) == said


def test_a_dose_between_two_drops_is_not_counted() -> None:
    assert reading_as_written(BUILT_IN, 0.08, "dropper") is None


@pytest.mark.parametrize(
    ("dose_g", "dose_ml", "written", "said"),
    [
        (3.9, 3.76, "syringe", "5 ml syringe"),
        (31.76, 23.5, "scale", "pocket scale"),
        (17.0, 17.0, "syringe", "20 ml syringe"),
        (17.0, 17.0, None, "pocket scale"),
        (4.0, 3.0, "scale", "pocket scale"),
        (900.0, None, "scale", "scale"),
        (0.42, 0.4, "syringe", "1 ml syringe"),
    ],
)
def test_a_person_fills_once_with_the_kind_the_dose_was_written_for(
    dose_g: float, dose_ml: float | None, written: ToolKind | None, said: str
) -> None:
    assert best_reading(BUILT_IN, dose_g, dose_ml, written=written).in_words == said


@pytest.mark.parametrize(
    ("ml", "said"),
    [(2.5, "1/2 tsp"), (5, "1 tsp"), (10, "2 × 1 tsp"), (45, "3 × 1 tbsp"), (3, None)],
)
def test_a_dose_in_spoons_is_taken_in_level_spoons(ml: float, said: str | None) -> None:
    reading = reading_as_written(BUILT_IN, ml, "spoon")
    assert (reading and reading.in_words) == said


def test_a_jug_on_the_bench_takes_what_no_syringe_holds_at_once() -> None:
    jug = Tool("500 ml jug", "jug", "ml", 500.0, 10.0)
    assert best_reading((*SYRINGES, jug), 410.0, 410.0, written="syringe").in_words == "500 ml jug"
    assert best_reading((*SYRINGES, jug), 18.0, 18.0, written="syringe").in_words == "20 ml syringe"
