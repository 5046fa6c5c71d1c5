"""Defaults that nobody published: what the pages tell of them, and the spread that the trade knows.

No source outside the project states a house default, so the page that promises it holds it. Common
practice is told by people who roll, without a source; where a row says memory, nobody told it to us.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

import pytest
from scipy.stats import norm

from eggfold.reference import (
    boiling,
    customary,
    defaults,
    learning,
    measures,
    paper,
    session,
    slips,
)
from eggfold.reference.boiling import TYPICAL_MIX
from eggfold.reference.eggs import EU_GRADE_MID_WEIGHT_G, LIQUID_EGG_G
from eggfold.reference.paper import PAPERS
from running import ROOT

if TYPE_CHECKING:
    from collections.abc import Sequence


def page(name: str) -> str:
    return " ".join((ROOT / "docs" / f"{name}.md").read_text("utf-8").split())


def minutes(*seconds: float) -> str:
    return ", ".join(f"{s / 60:g}" for s in seconds)


WORDS: dict[float, str] = {
    0.1: "a tenth",
    0.25: "a quarter",
    0.3: "three tenths",
    3: "three",
    4: "four",
    5: "five",
    10: "ten",
    50: "half",
}

PHYSICS = {
    "fillings": f"within {WORDS.get(round(measures.BLIND_PERCENT, 9))} in "
    f"{WORDS.get(measures.MOST_FILLINGS)} fillings",
    "premix": f"of at least {WORDS.get(measures.PREMIX_DIVISIONS)} divisions of the additive",
    "eggs": "small, medium, large and extra large weigh "
    + "{:g}, {:g}, {:g} and {:g} g".format(*EU_GRADE_MID_WEIGHT_G.values()),
    "dry mix": f"{defaults.DEFAULT_DRY_G:g} g for one EU large egg and "
    f"{defaults.DEFAULT_LIQUIDS_G:g} g of liquids (common practice, "
    f"{defaults.USUAL_DRY_G[0]:g} to {defaults.USUAL_DRY_G[1]:g} g)",
    "slip": "Where `a` is below {:g} or above {:g}".format(*slips.SLIPS["trial-powder"][:2]),
    "doubt": f"`√({100 * learning.TRIAL_SD:g} %² + {100 * learning.GRADED_EGG_SD:g} %²/n)`",
    "scatter": f"s^-{learning.ABSORBENCY.freedom:g} × exp(-{learning.ABSORBENCY.freedom:g} s_0² / (2 s²)), "
    f"s_0 = {100 * learning.ABSORBENCY.bowl_sd:g} %",
    "drift": f"P becomes P (1 - K) + {learning.ABSORBENCY.drift_sd:g}²",
    "scatters": f"{learning.SCATTERS} values from {100 * learning.ABSORBENCY.least_bowl_sd:g} to "
    f"{100 * learning.ABSORBENCY.most_bowl_sd:g} %",
    "yield": f"`p_0` {100 * learning.YIELD.level_sd:g} and {100 * learning.DENSITY.level_sd:g} %, "
    f"`s_0` {100 * learning.YIELD.bowl_sd:g} %, scatters from {100 * learning.YIELD.least_bowl_sd:g} to "
    f"{100 * learning.YIELD.most_bowl_sd:g} %, drift {100 * learning.YIELD.drift_sd:g} %",
    "furthest": f"Each of the {WORDS.get(learning.MOST_FAR)} furthest notes is left out",
    "far": f"outside the {100 * (1 - 2 * learning.FAR_TAIL):g} %",
    "mix": f"protein {TYPICAL_MIX.protein:g}, fat {TYPICAL_MIX.fat:g}, carbohydrate "
    f"{TYPICAL_MIX.carbohydrate:g}, fibre {TYPICAL_MIX.fibre:g}, ash {TYPICAL_MIX.ash:g} and water "
    f"{TYPICAL_MIX.water:g} %",
    "pan": f"A load may cool the pan by {defaults.PAN_FALL_K:g} K",
    "wait": f"wait {defaults.WAIT_WITHOUT_BURNER_S:g} s, or with a `burner`",
    "least wait": f"wait = max({defaults.SHORTEST_WAIT_S:g} s,",
    "steel": f"as steel of {boiling.STEEL_DENSITY_G_ML:g} g/ml",
    "drops": f"Drops are counted, up to {measures.MOST_DROPS} for a dose",
    "room": f"{measures.PREMIX_ROOM:g} g or ml of water or oil",
    "warning": f"Of the tools within {measures.WARN_PERCENT:g} % the one with the fewest fillings",
    "spoon": f"A level spoon and a drop are right within {100 * measures.SPOON_DIVISION / 2:g} %",
    "table": f"| one table rolls | {measures.PACE_KG_H:g} kg/h, {{:g}} to {{:g}}".format(
        *(measures.PACE_KG_H * share for share in session.PACE_RANGE)
    ),
    "stages": "| " + minutes(session.REST_S, session.COOL_S, session.CLEANING_S) + " min |",
    "mixing": f"| {minutes(session.MIX_ANY_S, session.MIX_FULL_S)} min × paste/bowl |",
    "stand": f"| {minutes(session.STAND_S, session.RAW_S)} min | house default",
    "tap": f"by the burner from {session.TAP_C:g} °C",
    "cork": f"| {session.CORK_PACE_PER_H:g} an hour | common practice",
    "water": f"| {session.WATER_EVERY_G / 1000:g} kg; {session.WATER_S / 60:g} min",
    "cut": f"| {session.CUT_S / 60:g} min | house default",
    "long": f"| {session.SETTLE_S / 3600:g} h; {session.LONGEST_DAY_S / 3600:g} h | house default",
    "drying": f"| {session.DRYING_S / 3600:g} h | common practice, 24 to 72",
    "tray": f"the {session.TRAY_AREA_FACTOR:g} a house default",
    "freezer": f"| 1 / (ρ × {session.LOOSE_PACKING:.2f})",
    "frozen": f"| {session.FREEZER_LIFE_DAYS} days; {session.THAW_S / 3600:g} h |",
    "egg life": f"| {session.EGG_LIFE_DAYS} days of buying |",
    "ingredients": f"normal about the usual `κ_0` = 1/2.015 with {100 * learning.INGREDIENT_SD:g} %",
    "blend": f"+ ({learning.BLEND_SD:.2f} κ_0)²",
    "mixes": f"at least {100 * learning.LEAST_MIX_SD:g} % of its κ",
    "blend within": "kept within {:g} and {:g} `κ_0`".format(*learning.WET_LIMITS)
    + ", its doubt within {:g} and {:g} %".format(*(100 * x for x in learning.BLEND_SD_LIMITS)),
    "lone blend": "Σ share²)`, from {:g} to {:g} %:".format(
        *(100 * x for x in learning.LONE_BLEND_SD_LIMITS)
    ),
    "neighbours": f"those of the first {learning.MOST_NEIGHBOURS} recipe files beside it",
    "cooked": f"| `cooked`, if asked for | {boiling.TARGETS['cooked'].centre_c:g} °C |",
    "kitchen air": f"a sphere that cools in air of {boiling.ROOM_C:g} °C",
    "conducts": f"a paste that conducts {100 * boiling.CONDUCTIVITY_DOUBT_SHARE:g} % better",
    "before a cut": f"a standard deviation of {boiling.CONDUCTIVITY_DOUBT_SHARE:.2f} before",
    "factors": f"on {boiling.FACTOR_POINTS} points from −{boiling.FACTOR_REACH:g} to "
    f"{boiling.FACTOR_REACH:g}",
    "set through": f"a peak of {boiling.SET_THROUGH_C:g} ± {boiling.SET_THROUGH_SD_K:g} °C",
    "own drying": "`drying_loss`, {:g} to {:g} %,".format(*defaults.OWN_DRYING_LOSS_PERCENT),
    "water left": f"{defaults.REST_WATER_PER_DRY:.2f} g of water per g of dry stays",
    "dries": f"{WORDS.get(100 * defaults.DRYING_LOSS_RANGE[0])} as much to "
    f"{WORDS.get(100 * (defaults.DRYING_LOSS_RANGE[1] - 1))} as much again (house default)",
    "liquid egg": f"{LIQUID_EGG_G:g} g of it count as one egg (house defaults)",
}
TUBS = measures.TUB_STEPS_G
OTHERS = {
    "files": [
        f"liquid {defaults.DENSITY_G_ML['liquid']:g}, oil {defaults.DENSITY_G_ML['oil']:g} g/ml",
        "{hookbait:g} mm, freebies {freebie:g} mm".format(**defaults.DEFAULT_SIZE_MM),
        f"A label without `water` is taken at {defaults.DEFAULT_WATER_PERCENT:g} %",
        f"| `altitude` | {defaults.DEFAULT_ALTITUDE_M:g} m |",
        f"| `soak_time` | {defaults.SOAK_H:g} h |",
        f"a pop-up or wafter, {boiling.LEAST_CORE_MM:g} to {boiling.MOST_CORE_MM:g} mm,",
        f"the paste around it, {boiling.LEAST_SKIN_MM:g} to {boiling.MOST_SKIN_MM:g} mm:",
        f"a bottom bait, {boiling.LEAST_BAIT_MM:g} to {boiling.MOST_BAIT_MM:g} mm",
        f"its size is core + 2 × skin, at most {boiling.MOST_BAIT_MM:g} mm",
        f"the hook it is fished with, up to {boiling.MOST_HOOK_G:g} g",
        f"| `bowl` | {measures.BOWL_G / 1000:g} kg |",
        f"| `pan` | {measures.PAN_L:g} l |",
        f"| `pace` | {measures.PACE_KG_H:g} kg per hour |",
        f"| `drops_per_ml` | {1 / measures.DROP_ML:g}, as for water |",
    ],
    "buoyancy": [
        f"Within {boiling.BALANCED_G:g} g of nothing",
        f"faster than {boiling.SINKS_FAST_G:.2f} g",
        "from {:.2f} to {:g} g/ml".format(*boiling.CORK_RANGE_G_ML),
        f"none may be over {boiling.MOST_LIFT_G:g} g",
    ],
    "../README": [f"no raw, shiny core, else {boiling.CUT_LONGER_S:g} s more"],
    "cards": [
        f"a rest of under {WORDS.get(paper.LEAST_REST)} of a bag is shared out",
        f"More than {paper.MOST_LABELS} bags of one batch are refused, and so are more than "
        f"{paper.MOST_MONTHS} `--months` or {paper.MOST_DAYS} `--days`",
        f"{measures.SCOOPS} scoops to what is expected, {measures.SCOOPS} more to the end",
        "A tub under {:g} g is told in steps of {:g} g".format(*TUBS[0])
        + f" and paste that is too stiff loosened with egg {TUBS[0][2]:g} g at a time, "
        + f"{TUBS[1][1]:g} g and {TUBS[1][2]:g} g under {TUBS[1][0]:g} g, "
        + f"{TUBS[2][1]:g} g and {TUBS[2][2]:g} g under {TUBS[2][0] / 1000:g} kg, "
        + f"{TUBS[3][1]:g} g and {TUBS[3][2]:g} g above",
    ],
    "trials": [
        f"Each mix begins with {WORDS.get(learning.PRIOR_TAKES)} takes",
        f"({learning.PRIOR_OUTINGS:g} × {learning.PRIOR_DISPERSION:g} + Σ (y − r e)²",
        f"δ from −{learning.RATIO_REACH:g} to {learning.RATIO_REACH:g}, "
        f"w ∝ exp(−½ (δ/{learning.RATIO_SD:g})²)",
        f"{learning.TOLD_APART:g} and more: told apart. "
        f"{learning.LEANING:g} to {learning.TOLD_APART:g}: leaning. "
        f"Under {learning.LEANING:g}: not told apart",
        f"Over {learning.MOST_MORE_ROD_HOURS:g} is no plan",
        f"at most {learning.MOST_MIXES} mixes",
        f"(√r₁ − √r₂) / {learning.POWER_Z:g})²",
    ],
    "paper": [
        f"{paper.front_pt('a4'):g} points or more on A4 and letter, {paper.front_pt('a5'):g} or more on A5",
        f"{paper.LABEL_EDGE_MM:g} mm along the edges of each label",
    ],
    "notebook": [
        f"less than {WORDS.get(defaults.LEAST_FINISHED_SHARE)} of it",
        "{:g} to {:g} g/ml".format(*defaults.PASTE_DENSITY_RANGE_G_ML),
    ],
    "errors": [f"{WORDS.get(defaults.MOST_FINISHED_SHARE - 1)} more is accepted"],
    "shelf": [f"Soon due is within {measures.SOON_DAYS} days"],
    "rolling": sorted(
        {f"{100 * abs(end - 1):.0f} % either way of your" for end in session.OWN_PACE_RANGE}
    ),
    "campaign": [
        f"| `egg_life` | {session.EGG_LIFE_DAYS} |",
        f"| `freezer_life` | {session.FREEZER_LIFE_DAYS} |",
        f"| `thaw` | {session.THAW_S / 3600:g} h |",
        f"stand there for {session.SHORT_JOB_S / 60:g} min, bagging for {session.BAGGING_S / 60:g} min",
        f"bait that no trip takes counts as {session.ANY_BAIT_G_ML:g} g/ml",
    ],
}


@pytest.mark.parametrize("what", PHYSICS)
def test_the_page_on_physics_tells_the_figure(what: str) -> None:
    assert PHYSICS[what] in page("physics")


@pytest.mark.parametrize(("name", "told"), [(n, text) for n in OTHERS for text in OTHERS[n]])
def test_another_page_tells_the_figure(name: str, told: str) -> None:
    assert told in page(name)


def row_of(name: str) -> Sequence[str]:
    text = (ROOT / "docs" / "physics.md").read_text("utf-8")
    [row] = re.findall(rf"^\| `{name}` \|(.*)\|(.*)\|(.*)\|$", text, re.MULTILINE)
    return [cell.strip() for cell in row]


@pytest.mark.parametrize("name", defaults.DEFAULTS)
def test_the_table_of_what_is_assumed_tells_each_default(name: str) -> None:
    default = defaults.DEFAULTS[name]
    figure, may_be, origin = row_of(name)
    assert re.search(rf"(?<![\d.]){default.value:g}(?![\d.])", figure)
    assert re.match(rf"{default.low:g} to {default.high:g}(?![\d.])", may_be)
    assert origin.startswith(default.origin)


# Common practice: least and most.
SPREADS = {
    "dry mix for a large egg [g]": (defaults.DEFAULT_DRY_G, 110, 150),
    "rest of the paste [min]": (session.REST_S / 60, 5, 15),
    "drying [h]": (session.DRYING_S / 3600, 24, 72),
    "pan [l]": (measures.PAN_L, 5, 10),
    "rolling alone [kg/h], memory": (measures.PACE_KG_H, 1, 2),
    "baits on cork by hand [1/h], memory": (session.CORK_PACE_PER_H, 40, 100),
    "loose baits in a bag, about 1.5 l/kg": (1 / (1.15 * session.LOOSE_PACKING), 1.35, 1.65),
    "solid cork, suppliers [g/ml]": (defaults.DEFAULTS["cork_density"].value, 0.12, 0.24),
}


@pytest.mark.parametrize("what", SPREADS)
def test_a_default_lies_within_common_practice(what: str) -> None:
    value, least, most = SPREADS[what]
    assert least <= value <= most


def test_weight_and_density_are_learned_alike() -> None:
    # the page on physics tells one scatter, one spread of scatters and one drift for both
    assert learning.DENSITY[1:] == learning.YIELD[1:]
    assert learning.YIELD.freedom == learning.ABSORBENCY.freedom


def test_what_tells_two_mixes_apart() -> None:
    # the ratios tried end at three standard deviations
    assert pytest.approx(3 * learning.RATIO_SD) == learning.RATIO_REACH
    assert 1 / learning.TOLD_APART == 0.05  # common practice: one in twenty
    assert math.log(2) == pytest.approx(learning.RATIO_SD, abs=0.01)  # a factor of two


def test_liquid_egg_counts_as_a_large_one_without_its_shell() -> None:
    # Delegated Regulation (EU) 2023/2465: large is 63 to 73 g in the shell
    shelled_g = (63 + 73) / 2 * (1 - defaults.DEFAULTS["shell"].value / 100)
    assert round(shelled_g, 1) == LIQUID_EGG_G


def test_what_the_trade_tells_without_a_spread() -> None:
    # common practice: frozen for about 6 months, thawed about 10 h ahead, bought by six eggs and more
    assert paper.FROZEN_MONTHS == 6
    assert round(session.FREEZER_LIFE_DAYS / 30) == paper.FROZEN_MONTHS
    assert session.THAW_S / 3600 == paper.THAW_H == 10
    assert defaults.HOOKBAIT_EGGS_LIMIT == 6
    assert defaults.USUAL_DRY_G == (110, 150)


def test_the_tools_are_those_that_rollers_have() -> None:
    # common practice: capacity and division of each
    syringes = [(tool.capacity, tool.division) for tool in measures.SYRINGES]
    assert syringes == [(1, 0.01), (2.5, 0.1), (5, 0.2), (10, 0.5), (20, 1)]
    assert [(tool.capacity, tool.division) for tool in measures.SCALES] == [(200, 0.1), (2000, 1)]
    assert [tool.capacity for tool in measures.SPOONS] == [1.25, 2.5, 5, 15]
    # from memory: what finer scales tell apart, and how much the finest take, 20 to 100 g
    assert measures.FINER_DIVISIONS_G == (0.1, 0.01, 0.001)
    assert measures.FINER_UP_TO_G == 50
    assert measures.PEOPLE == 1  # who plans alone rolls alone
    # USP 32, general chapter 1101: 0.05 ml, within 10 %
    assert measures.DROPPER.capacity == 0.05
    assert measures.DROPPER.division / 2 == pytest.approx(0.1 * 0.05)


# Common practice: parts of a mix, and salt 5 to 30 g per kg; memory: the rest.
CUSTOMS = {
    "protein": (30, 38),
    "fat": (5, 15),
    "carbohydrate": (30, 50),
    "Salt": (0.5, 3),
    "Egg albumin": (3, 10),
    "Wheat gluten": (2, 7),
    "Krill meal": (5, 15),
    "Betaine": (0.3, 1),
}


def test_customary_shares_are_those_of_the_trade() -> None:
    rows = (*customary.PART_CUSTOMS, *customary.INGREDIENT_CUSTOMS)
    spread = {row.name: (row.low, row.high) for row in rows}
    assert spread == CUSTOMS


def test_an_inch_has_72_points() -> None:
    assert pytest.approx(72) == paper.MM * 25.4  # PDF, ISO 32000-1:2008, 8.3.2.3


def test_papers_have_their_standard_sizes() -> None:
    # ISO 216: A0 has one square metre, sides in the ratio of the root of two, each next size half of it,
    # whole millimetres; ANSI Y14.1 size A: 8.5 by 11 in
    for number in (4, 5, 6):
        sides = tuple(int(1000 * 2 ** (power / 4 - number / 2) + 0.2) for power in (-1, 1))
        assert PAPERS[f"a{number}"] == sides
    assert PAPERS["letter"] == pytest.approx((8.5 * 25.4, 11 * 25.4), abs=1e-9)


def test_80_percent_power_at_5_percent_two_sided() -> None:
    assert pytest.approx(norm.ppf(0.975) + norm.ppf(0.8), abs=0.0005) == learning.POWER_Z


def test_money_has_the_digits_of_its_currency() -> None:
    # ISO 4217, minor units, from memory; the page on the shelf tells these three
    assert [measures.minor_digits(code) for code in ("JPY", "EUR", "KWD")] == [0, 2, 3]


def test_a_sheet_of_labels_holds_no_more_than_65() -> None:
    # from memory: the smallest that are commonly sold for A4 are 38 by 21 mm, 65 to the sheet
    assert paper.MOST_COLUMNS * paper.MOST_ROWS == 65
    assert PAPERS["a4"][0] > paper.MOST_COLUMNS * 38
    assert PAPERS["a4"][1] > paper.MOST_ROWS * 21
