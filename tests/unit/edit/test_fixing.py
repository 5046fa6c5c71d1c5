"""What ``check --fix`` mends, what it leaves, and that all else stays byte for byte."""

from __future__ import annotations

from pathlib import Path

import pytest

from eggfold.edit.fix import Mended, mend_files, write_mended
from eggfold.edit.writing import Change
from eggfold.errors import Problem
from eggfold.load.gate import read_bytes
from running import Outcome, run_eggfold

NOTHING_ELSE = "name: T\nbase_mix: M\n"
SLIP = f"{NOTHING_ELSE}baits: {{hookbait: 16 mmm}}\n"
REGISTER = "additives:\n  Reed oil: {form: oil, hookbait: 1 ml per egg, freebie: 5 ml per kg mix}\n"


def fix(folder: Path, *args: str) -> Outcome:
    return run_eggfold(["check", ".", "--fix", *args], folder)


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        (
            "baits: {hookbait: 16,5 mm, freebie: 18 mm}",
            "baits: {hookbait: 16.5 mm, freebie: 18 mm}",
        ),
        ("eggs: {coutn: 2}", "eggs: {count: 2}"),
        ("baits: {hookbait: 16 mmm}", "baits: {hookbait: 16 mm}"),
        ("baits: {hookbait: 16\tmmm}\t# own", "baits: {hookbait: 16\tmm}\t# own"),
        ("additives: [Reed oyl]", "additives: [Reed oil]"),
        ('notes: "ünter\\tß"\nmeasures: imprial', 'notes: "ünter\\tß"\nmeasures: imperial'),
    ],
)
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_only_the_slip_is_mended(
    wrong: str, right: str, newline: str, mark: bytes, tmp_path: Path
) -> None:
    def written(line: str) -> bytes:
        return mark + f"# kept\n{NOTHING_ELSE}{line}\n# the end".replace("\n", newline).encode()

    (tmp_path / "additives.yaml").write_text(REGISTER, encoding="utf-8")
    (tmp_path / "t.yaml").write_bytes(written(wrong))
    outcome = fix(tmp_path)
    assert (tmp_path / "t.yaml").read_bytes() == written(right)
    assert outcome.exit == 0
    assert outcome.stdout.startswith("--- t.yaml\n+++ t.yaml\n")
    assert outcome.stdout.endswith("2 files, 0 errors, 0 warnings, 1 mended\n")


@pytest.mark.parametrize(
    "line",
    [
        "baits: {hookbait: 1,6 mm}",  # 1.6 mm would be no bait
        "baits: {hookbait: 16}",  # of which unit?
        "base_mix: {name: M, amount: 1,300 g}",  # 1.3 g or 1300 g?
        "base_mix: {name: M, amount: '1,300 g'}",
        "base_mix: {name: M, amount: 1.300,5 g}",
        "base_mix: {name: M, amount: '1.300,5 g'}",
        "eggs: {standard: ue}",  # neither is near
        "eggs: {liquid: 5 dag}",  # 50 g, not 5 g
        "measured: {hundred_baits: 3 hg, diameter: 18 mm}",
        "eggs: {grade: lar\n    geee, standard: eu}",  # a line would vanish
        "eggs: {count: 2}\n\tnotes: x",  # a tab that may mean anything
        "eggs: {coutn: 2, count: 3}",  # mended, the key would stand twice
        "additives: [Reed oils and others]",
        "base_mix: {name: M, blend: {Semolina: 60 %, Fishmeal: 40 %}}",  # fish oil is near
        "additives: [Reed oil 5 g]",  # the dose would be lost
    ],
)
def test_what_has_no_one_right_answer_is_left(line: str, tmp_path: Path) -> None:
    (tmp_path / "additives.yaml").write_text(REGISTER, encoding="utf-8")
    recipe = tmp_path / "t.yaml"
    recipe.write_text(f"name: T\n{'' if 'base_mix' in line else 'base_mix: M'}\n{line}\n", "utf-8")
    before = recipe.read_bytes()
    outcome = fix(tmp_path)
    assert recipe.read_bytes() == before
    assert outcome.exit == 1
    assert outcome.stdout.endswith(" 0 mended\n")


def test_a_file_that_cannot_be_written_keeps_its_problems_and_no_other_does(tmp_path: Path) -> None:
    for name in ("a", "b", "c"):
        (tmp_path / f"{name}.yaml").write_text(SLIP.replace("name: T", f"name: {name}"), "utf-8")
    (tmp_path / "b.yaml").chmod(0o444)
    outcome = fix(tmp_path)
    assert outcome.exit == 4
    assert outcome.stderr == "eggfold: b.yaml: is read-only\n"
    assert "+++ b.yaml" not in outcome.stdout
    assert "b.yaml:3:19: 'mmm' is not a unit" in outcome.stdout
    assert outcome.stdout.endswith("3 files, 1 error, 0 warnings, 2 mended\n")
    mended = {p.name for p in tmp_path.glob("*.yaml") if "16 mm}" in p.read_text("utf-8")}
    assert mended == {"a.yaml", "c.yaml"}


def test_a_link_beside_its_file_is_mended_once(tmp_path: Path) -> None:
    (tmp_path / "b.yaml").write_text(SLIP, "utf-8")
    (tmp_path / "a.yaml").symlink_to("b.yaml")
    outcome = fix(tmp_path)
    assert (outcome.exit, outcome.stderr) == (0, "")
    assert (tmp_path / "a.yaml").is_symlink()
    assert (tmp_path / "b.yaml").read_text("utf-8") == SLIP.replace("mmm", "mm")


def test_a_file_that_changed_meanwhile_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "t.yaml"
    file.write_bytes(b"theirs")
    mended = Mended(Change(str(file), b"old", b"new"), ())
    [(one, error)] = write_mended([mended])
    assert one is mended
    assert "changed meanwhile" in str(error)
    assert file.read_bytes() == b"theirs"


def test_a_slip_that_hides_another_error_is_left(tmp_path: Path) -> None:
    recipe = tmp_path / "t.yaml"
    lines = ["name: T", "base_mix:", "  name: M", "  amount: 130 gg", "  blend: {Fishmeal: 100 %}"]
    recipe.write_text("\n".join(lines), encoding="utf-8")
    outcome = fix(tmp_path)
    assert "amount: 130 gg" in recipe.read_text("utf-8")
    assert outcome.stdout.endswith("1 error, 0 warnings, 0 mended\n")


def test_a_slip_that_can_be_mended_is_where_another_cannot(tmp_path: Path) -> None:
    recipe = tmp_path / "t.yaml"
    recipe.write_text(
        "name: T\nbase_mix:\n  name: M\n  amount: 130 gg\n  blend: {Fishmeal: 100 %}\n"
        "baits: {hookbait: 16 mmm}\n",
        encoding="utf-8",
    )
    outcome = fix(tmp_path)
    text = recipe.read_text("utf-8")
    assert "amount: 130 gg" in text
    assert "16 mm}" in text
    assert outcome.stdout.endswith("1 error, 0 warnings, 1 mended\n")


def test_a_correction_after_which_the_problem_still_stands_is_left(tmp_path: Path) -> None:
    """Two slips, of which one is told again once it is mended."""
    file = tmp_path / "t.yaml"
    file.write_text("measures: imprial\neggs: {grade: larg}\n", "utf-8")
    gone, stays = problems = [
        Problem(str(file), line, column, "unknown-word", "error", f"line {line}", hint)
        for line, column, hint in (
            (1, 11, "did you mean imperial?"),
            (2, 15, "did you mean large?"),
        )
    ]

    def check() -> list[Problem]:
        return [stays] if b"imperial" in read_bytes(str(file), 1000) else problems

    [mended], left = mend_files(problems, check)
    assert mended.change.new == b"measures: imperial\neggs: {grade: larg}\n"
    assert mended.problems == (gone,)
    assert left == [stays]
