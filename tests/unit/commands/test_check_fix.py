"""``check --fix``: one right answer is spliced in, and nothing else moves."""

from __future__ import annotations

import json
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
        "name: Reeds\nbase_mix: Reed mix\nadditives:\n  -\tname: A\n\t form: oil\n",
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
