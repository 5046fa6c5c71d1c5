"""What moves a card is what the whole program says of the same recipe with that figure changed."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from eggfold.reference.defaults import DEFAULTS
from eggfold.reference.slips import PLAUSIBLE
from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

RECIPE = """\
name: Reed
eggs: {{count: 2, grade: large, standard: eu}}
base_mix: {{name: Reed mix, amount: 268 g}}
additives:
  - {{name: Treacle, form: liquid, hookbait: 4 ml per egg, freebie: 30 ml per kg mix}}
  - {{name: Oil, form: oil, hookbait: 3 ml per egg, freebie: 20 ml per kg mix}}
  - {{name: Salt, form: powder, hookbait: 2 g per egg, freebie: 15 g per kg mix}}
baits: {{hookbait: 14 mm, freebie: 18 mm}}
{more}
"""
ARGS = ["batch", "reed.yaml", "--as", "freebie", "--eggs", "12", "--format", "json"]
UNITS = {"degC": " degC", "%": " %", "W/(m² K)": "", "× 10⁻¹² m²/s": ""}


def batch(folder: Path, more: str = "", *args: str) -> dict[str, Any]:
    (folder / "reed.yaml").write_text(RECIPE.format(more=more), "utf-8")
    outcome = run_eggfold([*ARGS, *args], folder)
    assert outcome.exit == 0, outcome.stderr
    (found,) = json.loads(outcome.stdout)["batches"]
    answer: dict[str, Any] = found
    return answer


def figure(of: dict[str, Any], on: str) -> float:
    (bait,) = of["baits"]
    figures = {
        "powder": of["powder"]["base_mix_g"],
        "finished": of["paste"]["finished_g"],
        # the card's count is whole; the paste in the baits, less what the bowl keeps, is not
        "baits": bait["count"],
        "boil": bait["boil"]["seconds"],
    }
    return float(figures[on])


@pytest.mark.parametrize("name", PLAUSIBLE)
def test_a_default_at_its_ends_gives_what_the_card_then_says(name: str, tmp_path: Path) -> None:
    usual = batch(tmp_path)
    what = DEFAULTS[name].what[0].upper() + DEFAULTS[name].what[1:]
    found = [move for move in usual["moves"] if move["what"] == what]
    if not found:  # too small to be among the ten
        return
    (move,) = found
    for end, change in (("low", "low_pct"), ("high", "high_pct")):
        value = getattr(PLAUSIBLE[name], end)
        changed = batch(tmp_path, f"assume: {{{name}: {value:g}{UNITS[DEFAULTS[name].unit]}}}")
        expected = 100 * (figure(changed, move["on"]) / figure(usual, move["on"]) - 1)
        assert move[change] == pytest.approx(expected, abs=0.3), (end, move)


def test_another_egg_gives_what_the_card_then_says(tmp_path: Path) -> None:
    usual = batch(tmp_path)
    (move,) = (m for m in usual["moves"] if m["what"] == "One egg, shelled")
    # an EU large egg is 63 to 73 g in its shell, of which 11 % is shell
    for egg_g, change in ((63 * 0.89, "low_pct"), (73 * 0.89, "high_pct")):
        changed = batch(tmp_path, "", "--egg", f"{egg_g:.4f}g")
        expected = 100 * (figure(changed, move["on"]) / figure(usual, move["on"]) - 1)
        assert move[change] == pytest.approx(expected, abs=0.3)


def test_the_mix_moves_the_powder_by_its_own_range(tmp_path: Path) -> None:
    usual = batch(tmp_path)
    (move,) = (m for m in usual["moves"] if m["what"] == "How much this mix takes up")
    powder = usual["powder"]
    for key, change in (("base_mix_low_g", "low_pct"), ("base_mix_high_g", "high_pct")):
        expected = 100 * (powder[key] / powder["base_mix_g"] - 1)
        # liquids dosed per kg are measured on the dry mix that is expected: not in the card's range
        assert move[change] == pytest.approx(expected, abs=3)
    assert move["on"] == "powder"


def test_the_largest_come_first_and_at_most_ten(tmp_path: Path) -> None:
    moves = batch(tmp_path)["moves"]
    changes = [move["change_pct"] for move in moves]
    assert changes == sorted(changes, reverse=True)
    assert len(moves) <= 10
    assert all(m["change_pct"] == max(abs(m["low_pct"]), abs(m["high_pct"])) for m in moves)


def test_what_was_stated_moves_nothing(tmp_path: Path) -> None:
    own = "assume: {air: 5 %, start: 20 degC, film: 1200, cooling_film: 150}\nboil: {freebie: 90 s}"
    whats = {move["what"] for move in batch(tmp_path, own)["moves"]}
    stated = {DEFAULTS[name].what for name in ("air", "start", "film", "cooling_film")}
    assert not {what.lower() for what in whats} & {what.lower() for what in stated}
    assert not [m for m in batch(tmp_path, own)["moves"] if m["on"] == "boil"]
