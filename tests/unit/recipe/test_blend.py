"""A blend before its first bowl: whose scale is asked, in which order, and what the pages say."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from eggfold.__main__ import run
from eggfold.engine.learning import SeenBowl, learn
from eggfold.engine.powder import BlendEstimate, KnownMix, predict_blend
from eggfold.reference.learning import ABSORBENCY

if TYPE_CHECKING:
    from pathlib import Path

USUAL = 130 / 64.52
SEMOLINA_MILLET = "{Semolina: 50 %, Millet: 50 %}"
EGGS = "eggs: {liquid: 60 g}\n"

Capture = pytest.CaptureFixture[str]


def write(folder: Path, name: str, blend: str, amount: str = "") -> None:
    amount = f", amount: {amount}" if amount else ""
    text = f"name: {name}\n{EGGS}base_mix: {{name: {name} mix, blend: {blend}{amount}}}\n"
    (folder / f"{name.lower()}.yaml").write_text(text, encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    write(tmp_path, "Reed", SEMOLINA_MILLET)
    return tmp_path


def answer(capsys: Capture, *args: str) -> dict[str, Any]:
    assert run([*args, "--format", "json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def card(capsys: Capture, *args: str) -> dict[str, Any]:
    batch: dict[str, Any] = answer(capsys, "batch", "reed.yaml", *args)["batches"][0]
    return batch


def page(capsys: Capture, *args: str) -> str:
    assert run(["batch", "reed.yaml", *args]) == 0
    return " ".join(capsys.readouterr().out.split())


def predicted(*known: KnownMix) -> BlendEstimate:
    return predict_blend({"semolina": 50, "millet": 50}, known, 1 / USUAL)


def test_a_weighed_mix_beside_it_speaks_for_a_blend(folder: Path, capsys: Capture) -> None:
    write(folder, "Sedge", "{Semolina: 80 %, Soya flour: 20 %}", "150 g")
    sedge = KnownMix("", {"semolina": 80, "soya flour": 20}, 60 / 150, 0.05)
    batch = card(capsys)
    assert batch["powder"]["absorbency"] == pytest.approx(predicted(sedge).absorbency, rel=1e-9)
    assert {"kind": "recipe", "file": "sedge.yaml"} in batch["companions"]
    assert "its blend, from 1 mix that shares Semolina" in page(capsys)


def test_a_bowl_of_the_mix_is_learned_on_top_of_the_prediction(
    folder: Path, capsys: Capture
) -> None:
    write(folder, "Sedge", "{Semolina: 80 %, Soya flour: 20 %}", "150 g")
    keys = "strength: hookbait, eggs: 1, before: 1 kg, after: 850 g"
    note = f"weighed:\n  - {{date: 2026-05-02, recipe: Reed, {keys}}}\n"
    (folder / "notebook.yaml").write_text(note, encoding="utf-8")
    before = predicted(KnownMix("", {"semolina": 80, "soya flour": 20}, 60 / 150, 0.05))
    setting = ABSORBENCY._replace(level_sd=before.taken.sd)
    bowl = SeenBowl(150 / 60, 1 / (6**0.5 * 150))
    after = learn(before.absorbency, [bowl], setting).posterior
    assert card(capsys)["powder"]["absorbency"] == pytest.approx(after.expected, rel=1e-9)


def test_weighings_alone_make_a_neighbour_from_the_usual_figure(
    folder: Path, capsys: Capture
) -> None:
    write(folder, "Sedge", "{millet: 100 %}")
    keys = "strength: hookbait, eggs: 1, before: 1 kg, after: 880 g"
    notes = "".join(f"  - {{date: 2026-05-0{d}, recipe: Sedge, {keys}}}\n" for d in (1, 2))
    (folder / "notebook.yaml").write_text(f"weighed:\n{notes}", encoding="utf-8")
    bowl = SeenBowl(120 / 60, 1 / (6**0.5 * 120))
    sedge = learn(USUAL, [bowl, bowl], ABSORBENCY).posterior
    known = KnownMix("", {"millet": 1}, 1 / sedge.expected, sedge.level_sd)
    found = card(capsys)["powder"]["absorbency"]
    assert found == pytest.approx(predicted(known).absorbency, rel=1e-9)


def test_a_blend_that_shares_nothing_keeps_the_usual_figure_and_its_own_doubt(
    folder: Path, capsys: Capture
) -> None:
    write(folder, "Sedge", "{Soya flour: 100 %}", "150 g")
    batch = card(capsys)
    assert batch["powder"]["absorbency"] == pytest.approx(USUAL)
    doubts = [a["value"] for a in batch["assumptions"] if "blend never weighed" in a["what"]]
    assert doubts == ["18.4 %"]  # the root of 0.05² + 0.25²/2
    assert "Based on: the usual 130 g for a large egg" in page(capsys)


def test_its_own_amount_beats_all_and_nothing_is_read_then(folder: Path, capsys: Capture) -> None:
    write(folder, "Reed", SEMOLINA_MILLET, "120 g")
    write(folder, "Sedge", "{Semolina: 100 %}", "150 g")
    batch = card(capsys)
    assert batch["powder"]["absorbency"] == pytest.approx(2)
    assert batch["companions"] == []


def test_mixes_that_share_beat_the_other_mix_of_the_recipe(folder: Path, capsys: Capture) -> None:
    both = "{hookbait: {name: Label mix, amount: 180 g}, freebie: {name: Reed mix, blend: %s}}"
    (folder / "reed.yaml").write_text(
        f"name: Reed\n{EGGS}base_mix: {both % SEMOLINA_MILLET}\n", encoding="utf-8"
    )
    args = "--as", "freebie"
    assert card(capsys, *args)["powder"]["absorbency"] == pytest.approx(3)
    write(folder, "Sedge", "{Semolina: 100 %}", "120 g")
    sedge = KnownMix("", {"semolina": 1}, 0.5, 0.05)
    found = card(capsys, *args)["powder"]["absorbency"]
    assert found == pytest.approx(predicted(sedge).absorbency, rel=1e-9)


def test_a_broken_recipe_beside_it_is_passed_over_and_named(folder: Path, capsys: Capture) -> None:
    (folder / "broken.yaml").write_text("name: Broken\nbase_mx: x\n", encoding="utf-8")
    write(folder, "Sedge", "{Semolina: 100 %}", "120 g")
    batch = card(capsys)
    assert "recipe-passed-over" in {caution["code"] for caution in batch["cautions"]}
    assert "broken.yaml: skipped for its errors" in page(capsys)


def test_no_more_files_are_read_than_the_limit(folder: Path, capsys: Capture) -> None:
    for i in range(60):
        write(folder, f"A{i:02}", "{Soya flour: 100 %}", "120 g")
    write(folder, "Sedge", "{Semolina: 100 %}", "120 g")
    batch = card(capsys)
    assert len(batch["companions"]) == 50
    assert batch["powder"]["absorbency"] == pytest.approx(USUAL)


def test_a_slip_in_one_neighbour_moves_it_within_the_limits(folder: Path, capsys: Capture) -> None:
    write(folder, "Sedge", "{Semolina: 50 %, Millet: 50 %}", "1300 g")
    powder = card(capsys)["powder"]
    assert USUAL / 2 <= powder["absorbency"] <= 2 * USUAL
    assert powder["low_g"] > 0


def test_the_powder_page_tells_what_ingredients_take(folder: Path, capsys: Capture) -> None:
    write(folder, "Reed", SEMOLINA_MILLET, "120 g")
    lines = answer(capsys, "powder", "reed.yaml")["ingredients"]
    of_one = predicted(KnownMix("", {"semolina": 1, "millet": 1}, 0.5, 0.05)).ingredients["millet"]
    for line in lines:
        assert line["wet_per_dry"] == pytest.approx(of_one.wet_per_dry)
        assert line["sd_pct"] == pytest.approx(100 * of_one.sd)
    write(folder, "Reed", SEMOLINA_MILLET)
    lines = answer(capsys, "powder", "reed.yaml")["ingredients"]
    assert [line["wet_per_dry"] for line in lines] == [None, None]
    write(folder, "Sedge", "{Semolina: 100 %}", "120 g")
    assert run(["powder", "reed.yaml", "--why"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "50.0 % 0.5 g ±5 % USDA 20466" in text
    assert "50.0 % – USDA 20031" in text
    assert "Wet for 1 g: Semolina" in text


def test_why_shows_the_system_and_its_check(folder: Path, capsys: Capture) -> None:
    write(folder, "Sedge", "{Semolina: 80 %, Soya flour: 20 %}", "150 g")
    write(folder, "Weir", "{Millet: 100 %}", "110 g")
    text = page(capsys, "--why")
    assert "Sedge mix: its row × the pulls gives its k" in text
    assert "Wet of the blend = κ0 + Σ pull × (wet − κ0)" in text
