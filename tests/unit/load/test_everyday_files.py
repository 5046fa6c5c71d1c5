"""Files as an editor or a word processor leaves them: other dashes, quotes and encodings."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.errors import ProblemsError
from eggfold.load.gate import Source, decoded
from eggfold.load.yaml_tree import plain_data, read_nodes

if TYPE_CHECKING:
    from typing import Any


def read(text: str) -> Any:
    return plain_data(read_nodes(Source("reed.yaml", text))[0])


@pytest.mark.parametrize("mark", ["-", "–", "– ", "• ", "— "])
def test_items_glued_to_another_mark_are_a_list(mark: str) -> None:
    text = f"additives:\n  {mark}Reed oil\n  {mark}Table salt\nname: Reed\n"
    assert read(text) == {"additives": ("Reed oil", "Table salt"), "name": "Reed"}


@pytest.mark.parametrize(
    "text", ["notes: -5 is cold", "notes: – as I said", "notes:\n  -one\n  two"]
)
def test_a_dash_that_begins_a_text_stays_one(text: str) -> None:
    assert isinstance(read(text)["notes"], str)


@pytest.mark.parametrize("quoted", ["“Reed”", "„Reed“", "‘Reed’", "«Reed»"])
def test_curly_quotes_are_quotes(quoted: str) -> None:
    assert read(f"name: {quoted}\n") == {"name": "Reed"}


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be", "utf-16", "utf-8-sig"])
def test_utf_16_is_read_with_and_without_its_mark(encoding: str) -> None:
    assert decoded("name: Reed – ½\n".encode(encoding)) == "name: Reed – ½\n"


@pytest.mark.parametrize(
    ("text", "line", "hint"),
    [
        ("additives:\n-Reed oil\n-Salt\n", 2, "- Reed oil"),
        ("additives:\n  -name: Reed oil\n   form: oil\n", 2, "- name: Reed oil"),
        ("additives:\n  – name: Reed oil\n    form: oil\n", 2, "- name: Reed oil"),
    ],
)
def test_a_dash_that_leads_reading_astray_is_named(text: str, line: int, hint: str) -> None:
    with pytest.raises(ProblemsError) as caught:
        read(text)
    [problem] = caught.value.problems
    assert (problem.line, problem.hint) == (line, hint)
