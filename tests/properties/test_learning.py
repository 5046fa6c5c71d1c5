"""The notebook against the equations, through the program."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from eggfold.engine import learning
from eggfold.engine.learning import Posterior, SeenBowl, bowl_range, learn
from eggfold.reference.learning import ABSORBENCY, YIELD
from running import run_eggfold

RECIPE = """\
name: Reed Bed
base_mix: {name: Reed bed mix, amount: 130 g}
additives:
  - {name: Reed syrup, form: liquid, density: 1.2 g/ml, hookbait: 4 g per egg, freebie: 20 g per kg mix}
"""


def powder(folder: Path, *args: str) -> dict[str, float]:
    outcome = run_eggfold(["batch", "reeds.yaml", "--format", "json", *args], folder)
    found: dict[str, float] = json.loads(outcome.stdout)["batches"][0]["powder"]
    return found


ONE_GRADED = math.hypot(0.05, 0.042)
"""Doubt about the trial of one egg by its class [-]: one bowl, and an egg anywhere in its class."""


def taught(a0: float, *bowls: tuple[float, float, float], doubt: float = ONE_GRADED) -> Posterior:
    """Return what bowls of so much dry mix and wet [g] on a scale of so many grams teach."""
    seen = [SeenBowl(dry / wet, scale / (6**0.5 * dry)) for dry, wet, scale in bowls]
    return learn(a0, seen, ABSORBENCY._replace(level_sd=doubt)).posterior


def weighed(after: int, **more: str) -> str:
    keys = {"recipe": "Reed Bed", "strength": "hookbait", "eggs": "1", "before": "1000 g", **more}
    body = ", ".join(f"{k}: {v}" for k, v in keys.items())
    return f"  - {{date: 2026-05-02, {body}, after: {after} g}}\n"


def test_weighings_move_the_absorbency_and_its_range(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    notes = "weighed:\n" + weighed(860) + weighed(865, scale="5 g")
    (tmp_path / "notebook.yaml").write_text(notes, "utf-8")
    wet = 60.52 + 4
    known = taught(130 / wet, (140, wet, 1), (135, wet, 5))
    found, a = powder(tmp_path), bowl_range(known)
    assert found["weighings"] == 2
    assert found["absorbency"] == pytest.approx(a.expected, rel=1e-9)
    assert (found["low_g"], found["high_g"]) == pytest.approx((a.low * wet, a.high * wet))


def test_bowls_of_a_batch_share_the_doubt_and_average_the_scatter(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    (tmp_path / "bench.yaml").write_text("bowl: 1.1 kg\n", "utf-8")
    (tmp_path / "notebook.yaml").write_text("weighed:\n" + weighed(860) + weighed(865), "utf-8")
    found = powder(tmp_path, "--as", "hookbait", "--eggs", "20")  # 3.9 kg of paste
    a = bowl_range(taught(130 / 64.52, (140, 64.52, 1), (135, 64.52, 1)), bowls=4)
    assert found["high_g"] / found["expected_g"] == pytest.approx(a.high / a.expected)
    assert found["low_g"] / found["expected_g"] == pytest.approx(a.low / a.expected)


def test_weighed_eggs_leave_less_doubt_than_graded_ones(tmp_path: Path) -> None:
    for eggs, doubt in (("", ONE_GRADED), ("eggs: {liquid: 60.52 g}\n", 0.05)):
        (tmp_path / "reeds.yaml").write_text(eggs + RECIPE, "utf-8")
        high = bowl_range(taught(130 / 64.52, doubt=doubt)).high
        assert powder(tmp_path)["high_g"] == pytest.approx(high * 64.52, rel=1e-9)


def test_notes_count_by_day_whatever_their_list_and_order(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    late = weighed(900).replace("05-02", "05-09")
    notes = f"weighed:\n{late}{weighed(860)}rolled:\n" + weighed(880).replace("05-02", "05-04")
    (tmp_path / "notebook.yaml").write_text(notes, "utf-8")
    wet = 64.52
    known = taught(130 / wet, (140, wet, 1), (120, wet, 1), (100, wet, 1))
    assert powder(tmp_path)["absorbency"] == pytest.approx(known.expected, rel=1e-9)


def test_the_trial_itself_is_not_counted_again(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    (tmp_path / "notebook.yaml").write_text("weighed:\n" + weighed(870), "utf-8")
    assert powder(tmp_path)["weighings"] == 0
    assert powder(tmp_path) == powder(tmp_path, "--without-notes")


def test_a_weighing_counts_for_every_recipe_with_that_mix(tmp_path: Path) -> None:
    other = RECIPE.replace("Reed Bed", "Sedge Bed").replace(", amount: 130 g", "")
    (tmp_path / "reeds.yaml").write_text(other, "utf-8")
    (tmp_path / "beds.yaml").write_text(RECIPE, "utf-8")
    (tmp_path / "notebook.yaml").write_text("weighed:\n" + weighed(840), "utf-8")
    known = taught(130 / 64.52, (160, 64.52, 1), doubt=0.1)
    assert powder(tmp_path)["absorbency"] == pytest.approx(known.expected, rel=1e-4)


def test_what_was_noted_at_the_scale_beats_the_recipe_of_today(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    entry = weighed(860, base_mix="Reed bed mix", wet="70 g", dry="140 g")
    (tmp_path / "notebook.yaml").write_text("weighed:\n" + entry, "utf-8")
    known = taught(130 / 64.52, (140, 70, 1))
    assert powder(tmp_path)["absorbency"] == pytest.approx(known.expected, rel=1e-9)


HALF = """\
name: Reed Bed
assume: {drying_loss: 5 %}
base_mix: {name: Reed bed mix, amount: 130 g}
additives:
  - {name: Reed syrup, form: liquid, density: 1.2 g/ml, wetting: 0.5, hookbait: 20 g per egg, freebie: 20 g per egg}
"""


def finished_of_paste(folder: Path, *args: str) -> float:
    outcome = run_eggfold(["batch", "reeds.yaml", "--format", "json", *args], folder)
    paste = json.loads(outcome.stdout)["batches"][0]["paste"]
    return float(paste["finished_g"] / paste["mass_g"])


@pytest.mark.parametrize("by_hand", [True, False])
def test_a_bowl_as_it_was_expected_leaves_the_finished_share(
    tmp_path: Path, *, by_hand: bool
) -> None:
    """Of 60.52 g of egg, 20 g of syrup and 130 g of mix, 3 % stay in the bowl and 5 % dry away."""
    (tmp_path / "reeds.yaml").write_text(HALF, "utf-8")
    finished = (60.52 + 20 + 130) * 0.97 * 0.95
    if by_hand:
        entry = weighed(870, finished=f"{finished:.6f} g")
        (tmp_path / "notebook.yaml").write_text(f"rolled:\n{entry}", "utf-8")
    else:
        size = ["--as", "hookbait", "--eggs", "1", "--before", "1kg", "--after", "870g"]
        args = ["note", "rolled", "reeds.yaml", *size, "--finished", f"{finished:.6f}g"]
        assert run_eggfold(args, tmp_path).exit == 0
    assert powder(tmp_path)["expected_g"] == pytest.approx(130, rel=1e-4)
    assert finished_of_paste(tmp_path) == pytest.approx(0.97 * 0.95, rel=1e-6)


def test_an_entry_without_its_paste_takes_wet_and_dry_for_it(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(f"{RECIPE}assume: {{drying_loss: 5 %}}\n", "utf-8")
    entry = weighed(870, base_mix="Reed bed mix", wet="70 g", dry="130 g", finished="190 g")
    (tmp_path / "notebook.yaml").write_text("rolled:\n" + entry, "utf-8")
    before = 0.97 * 0.95
    known = learn(1.0, [SeenBowl(190 / 200 / before)], YIELD).posterior
    assert finished_of_paste(tmp_path) == pytest.approx(before * known.expected, rel=1e-9)


def test_a_bowl_is_judged_by_its_own_sizes(tmp_path: Path) -> None:
    small, large = (f"{RECIPE}baits: {{hookbait: {size} mm}}\n" for size in (10, 30))
    (tmp_path / "reeds.yaml").write_text(large.replace("Reed Bed", "Sedge Bed"), "utf-8")
    as_expected = finished_of_paste(tmp_path)
    (tmp_path / "sedge.yaml").write_text(large.replace("Reed Bed", "Sedge Bed"), "utf-8")
    (tmp_path / "reeds.yaml").write_text(small, "utf-8")
    before = finished_of_paste(tmp_path)
    assert before < 0.98 * as_expected  # small baits dry further
    paste = {"base_mix": "Reed bed mix", "wet": "64.52 g", "dry": "130 g"}
    entry = weighed(870, recipe="Sedge Bed", finished=f"{194.52 * as_expected:.6f} g", **paste)
    (tmp_path / "notebook.yaml").write_text(f"rolled:\n{entry}", "utf-8")
    assert finished_of_paste(tmp_path) == pytest.approx(before, rel=1e-3)


def test_no_more_is_finished_than_the_bowl_gives_up(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    entry = weighed(870, base_mix="Reed bed mix", wet="70 g", dry="130 g", finished="220 g")
    (tmp_path / "notebook.yaml").write_text("rolled:\n" + entry * 9, "utf-8")
    assert finished_of_paste(tmp_path) == pytest.approx(0.97, rel=1e-12)


KILO = """\
name: Reed Bed
base_mix: {name: Reed bed mix, amount: 130 g}
additives:
  - {name: Reed syrup, form: liquid, wetting: 0.5, hookbait: 4 g per egg, freebie: 90 g per kg mix}
  - {name: Reed salt, form: powder, hookbait: 3 g per egg, freebie: 40 g per kg mix}
"""


def test_doses_of_a_weighing_were_measured_on_the_expected_dry_mix(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(KILO, "utf-8")
    entry = weighed(100, strength="freebie", eggs="6")
    (tmp_path / "notebook.yaml").write_text("weighed:\n" + entry, "utf-8")
    a0 = (130 + 3) / (60.52 + 0.5 * 4)
    eggs = 6 * 60.52
    expected = a0 * eggs / (1 - a0 * 0.5 * 0.090)
    wet, dry = eggs + 0.5 * 0.090 * expected, 900 + 0.040 * expected
    known = taught(a0, (dry, wet, 1))
    assert powder(tmp_path)["absorbency"] == pytest.approx(known.expected, rel=1e-9)


BOWLS = (
    ("rolled", "2026-05-02", "freebie", 6, 930),
    ("weighed", "2026-05-03", "hookbait", 2, 240),
    ("weighed", "2026-05-04", "freebie", 12, 1500),
    ("rolled", "2026-05-05", "freebie", 8, None),
    ("weighed", "2026-05-06", "freebie", 6, 700),
)
"""Section, day, strength, eggs, and the base mix that left the bag [g]."""


def test_bowls_noted_by_hand_teach_what_the_program_would_have_noted(tmp_path: Path) -> None:
    by_hand: dict[str, str] = {"weighed": "", "rolled": ""}
    written = tmp_path / "written"
    written.mkdir()
    for folder in (tmp_path, written):
        (folder / "reeds.yaml").write_text(KILO, "utf-8")
    for section, day, strength, eggs, taken in BOWLS:
        args = ["note", section, "reeds.yaml", "--date", day, "--as", strength, "--eggs", f"{eggs}"]
        keys = f"date: {day}, recipe: Reed Bed, strength: {strength}, eggs: {eggs}"
        if taken:
            args += ["--before", "2kg", "--after", f"{2000 - taken}g"]
            keys += f", before: 2 kg, after: {2000 - taken} g"
        if section == "rolled":
            args += ["--finished", f"{eggs * 190}g"]
            keys += f", finished: {eggs * 190} g"
        assert run_eggfold(args, written).exit == 0
        by_hand[section] += f"  - {{{keys}}}\n"
    text = "".join(f"{section}:\n{entries}" for section, entries in by_hand.items())
    (tmp_path / "notebook.yaml").write_text(text, "utf-8")
    for options in ([], ["--as", "freebie", "--eggs", "6"]):
        mine, its = powder(tmp_path, *options), powder(written, *options)
        assert mine["weighings"] == its["weighings"] == 4
        assert mine["absorbency"] == pytest.approx(its["absorbency"], rel=1e-8)
        shares = [finished_of_paste(folder, *options) for folder in (tmp_path, written)]
        assert shares[0] == pytest.approx(shares[1], rel=1e-8)


def test_each_weighing_is_learned_from_twice_at_the_most(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    learned_from: list[int] = []

    def counted(known: Posterior, bowls: list[SeenBowl]) -> object:
        learned_from.append(len(bowls))
        return filtered(known, bowls)

    filtered = learning._filtered  # noqa: SLF001 - the one place where a bowl goes in
    monkeypatch.setattr(learning, "_filtered", counted)
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    notes = "weighed:\n" + "".join(weighed(850 + i % 9) for i in range(60))
    (tmp_path / "notebook.yaml").write_text(notes, "utf-8")
    assert powder(tmp_path)["weighings"] == 60
    assert 60 <= sum(learned_from) <= 2 * 60
