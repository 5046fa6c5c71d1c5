"""``check --fix``: one right answer is spliced in, and nothing else moves."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from running import copy_recipes, run_eggfold

BAD = """\
# a comment that stays
name: "Reed bed"\t
base_mix: {name: Reed bed mix, amount: 0,13 kg}   # here
aditives:
  - Caraway hony flavour
  - name: Malt
    form: liqud\t# sticky
    density: 1.35 g/mll
    hookbait: 4 gg per egg
    freebie: 38 g per kg mix
bait:\r
  hookbait: 14 mm\r
"""
GOOD = """\
# a comment that stays
name: "Reed bed"\t
base_mix: {name: Reed bed mix, amount: 0.13 kg}   # here
additives:
  - Caraway honey flavour
  - name: Malt
    form: liquid\t# sticky
    density: 1.35 g/ml
    hookbait: 4 g per egg
    freebie: 38 g per kg mix
baits:\r
  hookbait: 14 mm\r
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copy_recipes(tmp_path)
    (tmp_path / "recipes" / "reeds.yaml").write_bytes(BAD.encode())
    return tmp_path


def test_what_has_one_right_answer_is_mended(folder: Path) -> None:
    outcome = run_eggfold(["check", "recipes/reeds.yaml", "--fix"], folder)
    assert (folder / "recipes" / "reeds.yaml").read_bytes() == GOOD.encode()
    assert "0 errors" in outcome.stdout
    assert "-aditives:\n" in outcome.stdout
    assert "+additives:\n" in outcome.stdout
    assert outcome.exit == 0


def test_a_dry_run_shows_the_same_and_writes_nothing(folder: Path) -> None:
    shown = run_eggfold(["check", "recipes/reeds.yaml", "--fix", "--dry-run"], folder)
    assert (folder / "recipes" / "reeds.yaml").read_bytes() == BAD.encode()
    done = run_eggfold(["check", "recipes/reeds.yaml", "--fix"], folder)
    assert shown.stdout.replace("to mend", "mended") == done.stdout


def test_json_tells_what_was_mended(folder: Path) -> None:
    args = ["check", "recipes/reeds.yaml", "--fix", "--format", "json"]
    told = json.loads(run_eggfold(args, folder).stdout)
    assert told["problems"] == []
    assert told["written"] is True
    assert {p["code"] for p in told["mended"]} >= {"decimal-comma", "unknown-key", "unknown-unit"}


@pytest.mark.parametrize(
    "text",
    [
        "name: Reeds\nbase_mix: Reed mix\nzzz: 1\n",
        "name: Reeds\nname: Beds\nbase_mix: Reed mix\n",
        "name: Reeds\nbase_mix: {name: Reed mix, amount: 130}\n",
        "name: Reeds\nbase_mix: Reed mix\nbaits: {}\nbait: 14 mm\n",
        "name: Reeds\nbase_mix: [\n",
        "name: Reeds\nbase_mix: Reed mix\nadditives: [{name: A, form: oil, hookbait: 3 g per kg}]\n",
        "name: Reeds\nbase_mix: \t- x\n",
        "name: Reeds\nbase_mix: {name: Reed mix}\n\teggs: 2\n",
    ],
    ids=[
        "no near key",
        "twice",
        "no unit",
        "would be twice",
        "not yaml",
        "per kg",
        "tab before an item",
        "tab as indent",
    ],
)
def test_what_has_no_one_answer_is_left_alone(text: str, tmp_path: Path) -> None:
    (tmp_path / "reeds.yaml").write_text(text, "utf-8")
    outcome = run_eggfold(["check", "reeds.yaml", "--fix"], tmp_path)
    assert (tmp_path / "reeds.yaml").read_text("utf-8") == text
    assert outcome.exit == 1
    assert "0 mended" in outcome.stdout


def test_a_read_only_file_is_left_alone(folder: Path) -> None:
    path = folder / "recipes" / "reeds.yaml"
    path.chmod(0o444)
    outcome = run_eggfold(["check", "recipes/reeds.yaml", "--fix"], folder)
    assert outcome.exit == 4
    assert "read-only" in outcome.stderr
    assert path.read_bytes() == BAD.encode()


def test_standard_input_cannot_be_mended(folder: Path) -> None:
    outcome = run_eggfold(["check", "-", "--fix"], folder, stdin=BAD.encode())
    assert outcome.exit == 4
    assert "standard input" in outcome.stderr


def test_dry_run_alone_is_wrong_usage(folder: Path) -> None:
    assert run_eggfold(["check", "recipes", "--dry-run"], folder).exit == 2


SLIPS = {"additives": "aditives", "base_mix": "base_mx", "name": "nme", "baits": "biats"}


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sets(st.sampled_from(sorted(SLIPS)), min_size=1), st.sampled_from(["\n", "\r\n"]))
def test_slips_in_keys_come_back_byte_for_byte(
    tmp_path_factory: pytest.TempPathFactory, slips: set[str], end: str
) -> None:
    folder = tmp_path_factory.mktemp("slips")
    right = "name: Reeds\nbase_mix: Reed mix  # own\nadditives: []\nbaits: {hookbait: 14 mm}\n"
    wrong = right
    for key in slips:
        wrong = wrong.replace(f"{key}:", f"{SLIPS[key]}:", 1)
    (folder / "reeds.yaml").write_bytes(wrong.replace("\n", end).encode())
    run_eggfold(["check", "reeds.yaml", "--fix"], folder)
    assert (folder / "reeds.yaml").read_bytes() == right.replace("\n", end).encode()


def test_a_file_that_is_not_there_is_not_counted(tmp_path: Path) -> None:
    outcome = run_eggfold(["check", "nowhere.yaml"], tmp_path)
    assert (outcome.exit, outcome.stdout) == (4, "0 files, 0 errors, 0 warnings\n")


def _letter_off(text: str, at: int) -> str:
    return text[:at] + text[at + 1 :]


def _letter_twice(text: str, at: int) -> str:
    return text[: at + 1] + text[at:]


def _comma_for_point(text: str, at: int) -> str:
    point = text.find(".", at)
    return text if point < 0 else f"{text[:point]},{text[point + 1 :]}"


def _day_first(text: str, at: int) -> str:
    days = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
    return text[:at] + days.sub(r"\3.\2.\1", text[at:], count=1)


SLIPPED = [_letter_off, _letter_twice, _comma_for_point, _day_first]
MUTATED = ["additives", "osierfen-caraway", "osierfen-reedmace", "season", "shelf", "weekend"]


def errors_in(folder: Path, *options: str) -> tuple[Counter[tuple[str, str, int]], int]:
    told = json.loads(run_eggfold(["check", ".", "--format", "json", *options], folder).stdout)
    errors = (p for p in told["problems"] if p["severity"] == "error")
    return Counter((p["file"], p["code"], p["line"]) for p in errors), len(told.get("mended", ()))


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(MUTATED),
    st.lists(st.tuples(st.sampled_from(SLIPPED), st.integers(0, 5000)), min_size=1, max_size=4),
)
def test_mending_ends_in_one_run_and_leaves_no_other_errors(
    tmp_path_factory: pytest.TempPathFactory,
    name: str,
    slips: list[tuple[Callable[[str, int], str], int]],
) -> None:
    folder = tmp_path_factory.mktemp("mutated")
    copy_recipes(folder)
    folder /= "recipes"
    file = folder / f"{name}.yaml"
    text = file.read_text("utf-8")
    for slip, at in slips:
        text = slip(text, at % len(text))
    file.write_text(text, "utf-8")
    before, _ = errors_in(folder)
    after, _ = errors_in(folder, "--fix")
    assert not after - before
    assert errors_in(folder, "--fix") == (after, 0)


def test_a_warning_stays_and_is_counted(tmp_path: Path) -> None:
    text = "name: Reeds\nbase_mix: {name: Mix, amount: 13 g}\nbaits: {hookbait: 14 mmm}\n"
    (tmp_path / "reeds.yaml").write_text(text, "utf-8")
    outcome = run_eggfold(["check", ".", "--fix"], tmp_path)
    assert "[trial-powder]" in outcome.stdout
    assert outcome.stdout.endswith("1 file, 0 errors, 1 warning, 1 mended\n")


def test_a_day_that_can_be_one_day_only_is_turned(tmp_path: Path) -> None:
    shelf = "items: {Mix: {left: 1 kg, opened: 27.03.2025, use_by: 03.04.2027}}\n"
    (tmp_path / "shelf.yaml").write_text(shelf, "utf-8")
    run_eggfold(["check", ".", "--fix"], tmp_path)
    assert (tmp_path / "shelf.yaml").read_text("utf-8") == shelf.replace("27.03.2025", "2025-03-27")


def test_a_key_whose_entries_are_wrong_too_keeps_its_errors(tmp_path: Path) -> None:
    text = "name: Reeds\nbase_mix: Mix\nbait: {hookbait: huge, freebie: 900 mm}\n"
    (tmp_path / "reeds.yaml").write_text(text, "utf-8")
    run_eggfold(["check", ".", "--fix"], tmp_path)
    assert (tmp_path / "reeds.yaml").read_text("utf-8") == text
