"""Every egg of every trip is rolled once and in time, and nothing is ever too full."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from eggfold.errors import NoAnswerError, ProblemsError, UsageProblemError
from eggfold.load.load_plan import open_campaign, open_rolling
from eggfold.load.workspace import Chosen
from eggfold.plan.campaign import SeasonPlan, build_season
from eggfold.plan.rolling import build_rolling
from eggfold.reference.session import ENOUGH
from plan_files import MIXES, NAMES, campaign_plan, stocked_plan

TODAY = "2027-03-01"


@st.composite
def campaigns(draw: st.DrawFn) -> str:
    weekdays = draw(st.sampled_from(["[saturday, sunday]", "[wednesday, saturday]", "sunday"]))
    lines = [
        f"hours: {draw(st.integers(5, 12))} h",
        "people: 2",
        "tables: 2",
        "zone: Europe/London",
        f"roll_on: {weekdays}",
        f"drying: {draw(st.sampled_from([24, 48, 72]))} h",
        "trips:",
    ]
    day = 12
    for _ in range(draw(st.integers(1, 4))):
        kilos = draw(st.integers(1, 12))
        recipe = draw(st.sampled_from(MIXES))
        lines.append(f"  - leave: 2027-{3 + day // 30:02}-{1 + day % 30:02}")
        lines.append(f"    freebies: {{recipe: {recipe}, bait: {kilos} kg}}")
        if draw(st.booleans()):
            lines.append(
                f"    hookbaits: {{recipe: {MIXES[0]}, count: {draw(st.integers(20, 200))}}}"
            )
        day += draw(st.integers(6, 21))
    return "\n".join(lines) + "\n"


benches = st.sampled_from(
    ["", "freezer: 30 l\n", "trays: {count: 8, length: 80 cm, width: 60 cm}\nfreezer: 60 l\n"]
)


def check(season: SeasonPlan) -> None:
    for i, portion in enumerate(season.portions):
        pieces = [(d, p) for d in season.days for p in d.pieces if p.portion == i]
        assert sum(p.eggs for _, p in pieces) == portion.eggs
        trip = next(t for t in season.trips if i in t.portions)
        for day, piece in pieces:
            assert day.bagged <= trip.leave
            assert piece.frozen == (day.bagged < trip.thaw)
    for day in season.days:
        assert sum(p.eggs for p in day.pieces) == sum(b.batch.eggs for b in day.bowls)
        assert [bowl.number for bowl in day.bowls] == list(range(1, len(day.bowls) + 1))
        assert not day.run.broken
        assert day.bagged - day.end >= timedelta(hours=23)
    most = season.freezer_l.have
    assert all(0 <= level.litres <= (most or 1e9) + 1e-6 for level in season.levels)
    assert season.trays_m2.needed <= (season.trays_m2.have or 1e9)
    if season.levels:
        assert season.levels[-1].litres == 0


@settings(max_examples=20)
@given(plan=campaigns(), bench=benches)
def test_every_egg_is_rolled_in_time(folder: Path, plan: str, bench: str) -> None:
    opened = campaign_plan(folder, plan, TODAY, bench)
    try:
        season = build_season(opened, TODAY)
    except NoAnswerError as error:
        assert "make" in str(error) or "rolling day" in str(error)
        return
    check(season)


@st.composite
def shelves(draw: st.DrawFn) -> str:
    lines = ["items: {}", "baits:"]
    for _ in range(draw(st.integers(0, 6))):
        recipe = draw(st.sampled_from(NAMES))
        strength = draw(st.sampled_from(["freebie", "hookbait"]))
        left = draw(st.sampled_from(["1.2 kg", "about 3 kg", "6 kg", "240"]))
        state = draw(st.sampled_from(["frozen", "thawed", "drying", "dried"]))
        made = f"2027-0{draw(st.integers(1, 2))}-{draw(st.integers(10, 28))}"
        lines.append(
            f"- {{recipe: {recipe}, strength: {strength}, left: {left}, made: {made}, state: {state}}}"
        )
    return "\n".join(lines) + "\n"


@settings(max_examples=10)
@given(plan=campaigns(), shelf=shelves(), bench=benches)
def test_bait_in_hand_is_used_once_and_in_time(
    folder: Path, plan: str, shelf: str, bench: str
) -> None:
    (folder / "shelf.yaml").write_text(shelf, encoding="utf-8")
    try:
        season = build_season(stocked_plan(folder, plan, TODAY, bench), TODAY)
    except NoAnswerError as error:
        assert str(error)
        return
    finally:
        (folder / "shelf.yaml").unlink()
    for held in season.hand.lots:
        given_g = sum(g for _, g in held.gives)
        assert held.finished_g is None or abs(given_g + (held.left_g or 0) - held.finished_g) < 1e-6
    rolled = [season.portions[j].whole.paste.finished_g for j in range(len(season.portions))]
    for trip in season.trips:
        for bring in trip.brings:
            made_g = 0.0 if bring.portion is None else rolled[bring.portion]
            assert bring.in_hand_g + made_g + bring.missing_g >= ENOUGH * bring.want.need_g - 1e-6
            assert bring.in_hand_g <= bring.want.need_g + 1e-6
    most = season.freezer_l.have or 1e9
    assert (
        season.freezer_l.needed <= max(most, season.levels[0].litres if season.levels else 0) + 1e-6
    )
    assert season.trays_m2.needed <= (season.trays_m2.have or 1e9)


PLANS = (
    "start: 2027-03-27 09:00\nhours: 8 h\npeople: 2\nzone: Europe/London\nbreaks: {at: 12:30, lasts: 30 min}\n"
    "bowls:\n  - {recipe: osierfen-millet, bait: 2 kg, sizes: 16 mm, strength: freebie}\n",
    "hours: 8 h\nroll_on: [saturday]\nnot_on: 2027-03-20\ntrips:\n"
    "  - {leave: 2027-04-02, back: 2027-04-04, at: 06:00, freebies: {recipe: osierfen-millet, eggs: 4}}\n",
)


@settings(max_examples=150)
@given(
    st.sampled_from(PLANS),
    st.lists(
        st.tuples(
            st.integers(0, 300),
            st.integers(0, 6),
            st.sampled_from(["", "0", "-", ":", " ", "\n", "[", "{", ",", "9999", "h", "é", "\t"]),
        ),
        min_size=1,
        max_size=3,
    ),
)
def test_a_damaged_plan_gives_problems_or_an_answer(
    folder: Path, text: str, cuts: list[tuple[int, int, str]]
) -> None:
    for at, length, instead in cuts:
        text = text[:at] + instead + text[at + length :]
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    try:
        if "trips" in text:
            season = open_campaign(str(folder / "plan.yaml"), Chosen(), TODAY)
            if not season.problems and season.recipes:
                build_season(season, TODAY)
        else:
            rolling = open_rolling(str(folder / "plan.yaml"), Chosen())
            if not rolling.problems and rolling.recipes:
                build_rolling(rolling)
    except (NoAnswerError, ProblemsError, UsageProblemError) as error:
        assert str(error)


def test_a_recipe_by_file_and_by_name_shares_its_bowls(folder: Path) -> None:
    text = (
        "hours: 8 h\ntrips:\n  - leave: 2027-04-02\n    freebies:\n"
        "      - {recipe: osierfen-caraway, eggs: 6, sizes: [{size: 14 mm, share: 40 %}, {size: 18 mm}]}\n"
        "      - {recipe: Osierfen Caraway, eggs: 4, sizes: [{size: 14 mm, share: 40 %}, {size: 18 mm}]}\n"
    )
    season = build_season(campaign_plan(folder, text, TODAY), TODAY)
    assert [b.batch.eggs for b in season.bowls] == [10]
    assert [line.diameter_mm for line in season.bowls[0].batch.baits] == [14, 18]
    assert [card.season.eggs for card in season.cards] == [10]
