"""A hint with one right answer, taken at its word, removes its problem and never causes another."""

from __future__ import annotations

import json
import re
import shutil
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from eggfold.load.gate import Source, decoded
from eggfold.load.yaml_tree import Mapping, Node, Scalar, Sequence, read_nodes, scalars_in
from eggfold.nearest import meant
from problems.test_problems import CASES, MADE, copy_case
from running import RECIPES, run_eggfold

HIDING = {"not-yaml", "yaml-feature", "control-character", "unknown-key", "duplicate-key"}
HIDING |= {"wrong-shape", "unknown-recipe", "missing-key", "decimal-comma", "not-utf-8"}
"""What is wrong behind one of these comes to light when it is mended."""
OF_SEVERAL = {"back-before-leave", "trips-overlap", "future-date", "pieces-and-amounts"}
OF_SEVERAL |= {"paste-density", "finished-weight", "bag-not-lighter", "blend-not-100", "shares"}
"""What is seen only when all values that belong together can be read."""
NEW_VALUE = re.compile(r"(?:in digits|the number alone|in hours|the amount alone|year first): (.+)")
NEW_NUMBER = re.compile(r"(?:a decimal point|nothing between thousands): ([0-9.]+)")
EXPLAINED = re.compile(r"(.+?)(?:, where .*|, with .*| if .*)?")
VALUE_CODES = {"no-unit", "not-a-pace", "not-a-dose", "not-a-time", "not-an-amount", "no-hours"}
VALUE_CODES |= {"unknown-unit", "wrong-dimension", "out-of-range", "wrong-shape", "missing-key"}
A_VALUE = re.compile(
    r"[0-9][0-9.:-]*(?: [a-z][a-zA-Z/0-9 ]*| %[a-z ]*| [0-9:.]+)?|none|[{\[].*[}\]]"
)
A_KEY = re.compile(r"[a-z_]+: [^…]+")


def problems_in(folder: Path) -> list[dict[str, Any]]:
    outcome = run_eggfold(["check", ".", "--format", "json"], folder)
    found: list[dict[str, Any]] = json.loads(outcome.stdout)["problems"]
    return found


def new_text(text: str, problem: dict[str, Any]) -> str | None:
    """Return a text with a hint's answer in it, None where the hint leaves a choice."""
    source, hint = Source("x.yaml", text), problem["hint"] or ""
    at = source.index(problem["line"], problem["column"])
    if number := NEW_NUMBER.fullmatch(hint):
        old = re.compile(r"['\"]?([0-9][0-9., '’]*[0-9])").match(text, at)
        return old and text[: old.start(1)] + number[1] + text[old.end(1) :]
    if hint == "delete it":
        return text[:at] + text[at + 1 :]
    if hint == "keep one of them" and problem["code"] != "same-name":
        return without_key(source, at)
    if hint.startswith("currency: ") and hint.endswith(" at the top"):
        return f"{hint.removesuffix(' at the top')}\n{text}"
    if problem["code"] == "bare-per-kg":
        return text[:at] + re.sub(r"per (kg|lb)", r"per \1 mix", text[at:], count=1)
    return with_new_value(source, at, problem)


def with_new_value(source: Source, at: int, problem: dict[str, Any]) -> str | None:
    text, hint = source.text, problem["hint"] or ""
    found = [scalar for scalar in scalars_of(source) if scalar.start == at]
    if not found:
        return None
    old = text[at : found[0].end]
    if word := meant(hint):
        wrong = problem["message"].split("'")[1] if "'" in problem["message"] else old
        if problem["code"] in ("unknown-unit", "wrong-dimension"):
            wrong = wrong if wrong != old else problem["message"].split()[0]
            return (
                text[:at]
                + re.sub(rf"(?<![a-z]){re.escape(wrong)}", word, old)
                + text[found[0].end :]
            )
        return text[:at] + word + text[found[0].end :]
    value = NEW_VALUE.fullmatch(hint)
    plain = EXPLAINED.fullmatch(hint)
    new = value[1] if value else plain[1] if plain and problem["code"] in VALUE_CODES else ""
    if " or " in new or " to " in new or not A_VALUE.fullmatch(new):
        return None
    return text[:at] + new + text[found[0].end :]


def without_key(source: Source, at: int) -> str | None:
    """Return a text without the key at a place and its value."""
    for entries in (node.entries for node in nodes_of(source) if isinstance(node, Mapping)):
        for entry in entries.values():
            if at in (entry.key.start, entry.value.start):
                text, end = source.text, entry.value.end
                comma = re.compile(r",? *").match(text, end)
                start = entry.key.start
                if comma and comma[0].startswith(","):
                    return text[:start] + text[comma.end() :]
                before = text[:start].rstrip()
                return (before.removesuffix(",") if before.endswith(",") else text[:start]) + text[
                    end:
                ]
    return None


def nodes_of(source: Source) -> list[Node]:
    try:
        stack: list[Node] = [read_nodes(source, kept=True)[0]]
    except Exception:  # noqa: BLE001 - what cannot be read has no nodes
        return []
    found = []
    while stack:
        node = stack.pop()
        found.append(node)
        if isinstance(node, Sequence):
            stack += node.items
        elif isinstance(node, Mapping):
            stack += [entry.value for entry in node.entries.values()]
    return found


def scalars_of(source: Source) -> list[Scalar]:
    nodes = nodes_of(source)
    return [*scalars_in(nodes[0])] if nodes else []


def errors(problems: list[dict[str, Any]]) -> Counter[tuple[str, ...]]:
    return Counter(
        (p["file"], p["code"], p["message"]) for p in problems if p["severity"] == "error"
    )


def refutation(folder: Path, problem: dict[str, Any], before: list[dict[str, Any]]) -> str | None:
    """Say what is wrong with a hint, None where it keeps its word or leaves a choice."""
    path = folder / problem["file"]
    data = path.read_bytes()
    try:
        answer = new_text(decoded(data), problem)
    except UnicodeDecodeError:
        return None
    if answer is None:
        return None
    path.write_text(answer, encoding="utf-8", newline="")
    after = problems_in(folder)
    path.write_bytes(data)
    told = f"{problem['code']}: {problem['message']} (try: {problem['hint']}) in\n{answer[:600]}\n"
    key = (problem["file"], problem["code"], problem["message"])
    old, new = errors(before), errors(after)
    if problem["severity"] == "error" and new[key] >= old[key]:
        return f"it stays: {told}{after}"
    if problem["code"] in HIDING:
        return None
    fresh = [key for key in new if key not in old and key[1] not in OF_SEVERAL]
    if meant(problem["hint"]) or ": " in (problem["hint"] or ""):
        fresh = [key for key in fresh if key[1] != "out-of-range"]  # the figure is the user's own
    return f"{fresh} came of it: {told}" if fresh else None


@pytest.mark.parametrize("case", [c for c in CASES if c.name not in MADE], ids=lambda c: c.name)
def test_a_hint_of_a_case_keeps_its_word(case: Path, tmp_path: Path) -> None:
    copy_case(case, tmp_path / "case")
    before = problems_in(tmp_path / "case")
    wrong = [refutation(tmp_path / "case", problem, before) for problem in before]
    assert not [text for text in wrong if text]


SLIPS = (
    ("{number}", "no unit"),
    ("about {number} {unit}", "doubt"),
    ("{number},5 {unit}", "comma"),
    ("'{number},500 {unit}'", "thousands"),
    ("1.{number},5 {unit}", "both"),
    ("{number} {unit}{unit}", "unit twice"),
    ("{number} cl", "centilitres"),
    ("{number} hg", "hectograms"),
    ("{number} gr", "grains"),
    ("{number} m", "metres or minutes"),
    ("{number} W", "watts"),
    ("{number} {unit}/kg", "per kilo"),
    ("{number} {unit} per kg", "per kilo of what"),
    ("{number} {unit} for the lot", "for the lot"),
    ("0 {unit}", "nothing"),
    ("-", "a dash"),
    ("{number}:30", "a clock"),
    ("[{number} {unit}]", "a list"),
    ("{{size: {number} {unit}}}", "keys"),
    ("two", "a word"),
    ("27.03.2027", "day first"),
    ("3 March 2027", "a month"),
    ("{number} and 18 {unit}", "two of them"),
    ("9 until 5", "hours"),
)
DEMO = sorted(path.name for path in RECIPES.glob("*.yaml"))


@settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data(), name=st.sampled_from(DEMO), slip=st.sampled_from(SLIPS))
def test_a_hint_on_a_slip_keeps_its_word(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject, name: str, slip: tuple[str, str]
) -> None:
    text = (RECIPES / name).read_text("utf-8")
    found = [s for s in scalars_of(Source(name, text)) if re.match("[0-9]", s.text)]
    scalar = data.draw(st.sampled_from(found))
    number, unit = re.fullmatch(
        r"([0-9]+)[0-9.:-]* ?([a-zA-Z]*).*", scalar.text, re.DOTALL
    ).groups()  # type: ignore[union-attr]
    wrong = slip[0].format(number=number, unit=unit or "g")
    folder = tmp_path_factory.mktemp("slip")
    shutil.copytree(RECIPES, folder, dirs_exist_ok=True)
    changed = text[: scalar.start] + wrong + text[scalar.end :]
    (folder / name).write_text(changed, encoding="utf-8")
    before = problems_in(folder)
    mine = [p for p in before if p["file"] == name]
    wrongs = [refutation(folder, problem, before) for problem in mine]
    assert not [told for told in wrongs if told]


@settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data(), name=st.sampled_from(DEMO))
def test_a_hint_on_a_misspelt_word_keeps_its_word(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject, name: str
) -> None:
    text = (RECIPES / name).read_text("utf-8")
    found = [s for s in scalars_of(Source(name, text)) if re.fullmatch("[a-zA-Z_]{3,}", s.text)]
    scalar = data.draw(st.sampled_from(found))
    at = data.draw(st.integers(scalar.start, scalar.end - 2))
    kind = data.draw(st.sampled_from(["left out", "twice", "swapped", "in capitals"]))
    two = text[at : at + 2]
    new = {
        "left out": two[0],
        "twice": two[0] + two,
        "swapped": two[::-1],
        "in capitals": two.upper(),
    }
    folder = tmp_path_factory.mktemp("word")
    shutil.copytree(RECIPES, folder, dirs_exist_ok=True)
    (folder / name).write_text(text[:at] + new[kind] + text[at + 2 :], encoding="utf-8")
    before = problems_in(folder)
    wrongs = [refutation(folder, p, before) for p in before if p["file"] == name]
    assert not [told for told in wrongs if told]
