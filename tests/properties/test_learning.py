"""The notebook against the equations, through the program."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from eggfold.engine import calibration
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


def weighed(after: int, **more: str) -> str:
    keys = {"recipe": "Reed Bed", "strength": "hookbait", "eggs": "1", "before": "1000 g", **more}
    body = ", ".join(f"{k}: {v}" for k, v in keys.items())
    return f"  - {{date: 2026-05-02, {body}, after: {after} g}}\n"


def test_weighings_move_the_absorbency_by_the_equation(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    notes = "weighed:\n" + weighed(860) + weighed(865, scale="5 g")
    (tmp_path / "notebook.yaml").write_text(notes, "utf-8")
    wet = 60.52 + 4
    a0 = 130 / wet
    s0, sb = 0.05 * a0, 0.05 * a0
    seen = [(140 / wet, sb**2 + (1 / (6**0.5 * wet)) ** 2)]
    seen.append((135 / wet, sb**2 + (5 / (6**0.5 * wet)) ** 2))
    precision = 1 / s0**2 + sum(1 / v for _, v in seen)
    mean = (a0 / s0**2 + sum(a / v for a, v in seen)) / precision
    sd = math.sqrt(1 / precision + sb**2)
    found = powder(tmp_path)
    assert found["weighings"] == 2
    assert found["absorbency"] == pytest.approx(mean, rel=1e-9)
    assert found["low_g"] == pytest.approx((mean - 1.645 * sd) * wet, rel=1e-4)
    assert found["high_g"] == pytest.approx((mean + 1.645 * sd) * wet, rel=1e-4)


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
    wet = 60.52 + 4
    a0 = 130 / 64.52
    v = (0.05 * a0) ** 2 + (1 / (6**0.5 * wet)) ** 2
    mean = (a0 / (0.1 * a0) ** 2 + 160 / wet / v) / (1 / (0.1 * a0) ** 2 + 1 / v)
    assert powder(tmp_path)["absorbency"] == pytest.approx(mean, rel=1e-4)


def test_what_was_noted_at_the_scale_beats_the_recipe_of_today(tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    entry = weighed(860, base_mix="Reed bed mix", wet="70 g", dry="140 g")
    (tmp_path / "notebook.yaml").write_text("weighed:\n" + entry, "utf-8")
    a0 = 130 / 64.52
    s0, v = 0.05 * a0, (0.05 * a0) ** 2 + (1 / (6**0.5 * 70)) ** 2
    mean = (a0 / s0**2 + 2.0 / v) / (1 / s0**2 + 1 / v)
    assert powder(tmp_path)["absorbency"] == pytest.approx(mean, rel=1e-9)


HALF = """\
name: Reed Bed
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
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    entry = weighed(870, base_mix="Reed bed mix", wet="70 g", dry="130 g", finished="190 g")
    (tmp_path / "notebook.yaml").write_text("rolled:\n" + entry, "utf-8")
    before, doubt, bowl = 0.97 * 0.95, (0.03 * 0.97 * 0.95) ** -2, (0.02 * 0.97 * 0.95) ** -2
    mean = (before * doubt + 190 / 200 * bowl) / (doubt + bowl)
    assert finished_of_paste(tmp_path) == pytest.approx(mean, rel=1e-9)


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
    s0, v = 0.05 * a0, (0.05 * a0) ** 2 + (1 / (6**0.5 * wet)) ** 2
    mean = (a0 / s0**2 + dry / wet / v) / (1 / s0**2 + 1 / v)
    assert powder(tmp_path)["absorbency"] == pytest.approx(mean, rel=1e-9)


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


def test_each_weighing_is_weighed_up_twice_at_the_most(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken: list[float] = []

    def counted(bowl_sd: float, resolution_g: float, wet_mass_g: float) -> float:
        taken.append(wet_mass_g)
        return weighed_sd(bowl_sd, resolution_g, wet_mass_g)

    weighed_sd = calibration.weighed_sd
    monkeypatch.setattr(calibration, "weighed_sd", counted)
    (tmp_path / "reeds.yaml").write_text(RECIPE, "utf-8")
    notes = "weighed:\n" + "".join(weighed(850 + i % 9) for i in range(60))
    (tmp_path / "notebook.yaml").write_text(notes, "utf-8")
    assert powder(tmp_path)["weighings"] == 60
    assert 60 <= len(taken) <= 2 * 60
