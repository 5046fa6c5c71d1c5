"""The schemas, by a validator that others wrote."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML

from eggfold.commands.schema import KINDS as OFFERED
from eggfold.load.folder import kind_by_keys, kind_by_name
from eggfold.load.schemas import KINDS, build_schema
from running import ROOT, run_eggfold

DEMO = sorted((ROOT / "recipes").rglob("*.yaml"))
KIND_OF_PLAN = {"rolling plan": "rolling"}


def load(path: Path) -> Any:
    return json.loads(
        json.dumps(YAML(typ="safe", pure=True).load(path.read_text("utf-8")), default=str)
    )


def kind_of(path: Path) -> str:
    kind = kind_by_name(str(path)) or kind_by_keys(load(path))
    return KIND_OF_PLAN.get(kind, kind)


@pytest.mark.parametrize("kind", KINDS)
def test_a_schema_is_a_schema(kind: str) -> None:
    jsonschema.Draft202012Validator.check_schema(build_schema(kind))


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.name)
def test_demo_files_pass_a_public_validator(path: Path) -> None:
    jsonschema.Draft202012Validator(build_schema(kind_of(path))).validate(load(path))


@pytest.mark.parametrize(
    ("kind", "file"),
    [
        ("recipe", {"name": "Reeds", "base_mix": "Reed mix", "egs": 1}),
        ("recipe", {"name": "Reeds", "base_mix": {"name": "Reed mix", "amount": "130"}}),
        ("recipe", {"base_mix": "Reed mix"}),
        ("additives", {"additives": {"Salt": {"form": "gas"}}}),
        ("additives", {"additives": {"Salt": {"form": "powder", "hookbait": "3 g per kg"}}}),
        ("bench", {"pan": "5 kg"}),
    ],
)
def test_what_check_refuses_an_editor_marks_too(kind: str, file: Any) -> None:
    assert not jsonschema.Draft202012Validator(build_schema(kind)).is_valid(file)


def test_every_key_says_what_it_is() -> None:
    bare = [
        f"{kind}: {name}.{key}"
        for kind in KINDS
        for name, part in {"": build_schema(kind), **build_schema(kind).get("$defs", {})}.items()
        for key, field in part.get("properties", {}).items()
        if "description" not in field
    ]
    assert bare == []


def test_an_unknown_kind_names_the_nearest(tmp_path: Path) -> None:
    outcome = run_eggfold(["schema", "reciep"], tmp_path)
    assert outcome.exit == 2
    assert "Did you mean recipe?" in outcome.stderr


def test_the_command_prints_the_schema(tmp_path: Path) -> None:
    assert json.loads(run_eggfold(["schema", "bench"], tmp_path).stdout) == build_schema("bench")


def test_the_command_takes_every_kind() -> None:
    assert OFFERED == KINDS
