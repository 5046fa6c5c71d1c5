"""Files as an editor or a word processor leaves them: other dashes, quotes and encodings."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.errors import ProblemsError
from eggfold.load.gate import Source, decoded
from eggfold.load.yaml_tree import plain_data, read_nodes, scalars_in

if TYPE_CHECKING:
    from typing import Any


def read(text: str) -> Any:
    return plain_data(read_nodes(Source("reed.yaml", text))[0])


@pytest.mark.parametrize("indent", ["  ", ""])
@pytest.mark.parametrize("mark", ["-", "–", "– ", "• ", "— "])
def test_items_glued_to_another_mark_are_a_list(mark: str, indent: str) -> None:
    text = f"additives:\n{indent}{mark}Reed oil\n{indent}{mark}Table salt\nname: Reed\n"
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


ITEM = {"name": "Reed oil", "form": "oil"}


@pytest.mark.parametrize(
    "text",
    [
        "additives:\n\t- name: Reed oil\n\t  form: oil\n",
        "additives:\n  - name: Reed oil\n\tform: oil\n",  # a tab of four lines up with it
        "additives:\n\t-\tname: Reed oil\n\t\tform: oil\n",
        "additives:\n-name: Reed oil\n form: oil\n",
        "additives:\n  -name: Reed oil\n   form: oil\n",
        "additives:\n  -name: Reed oil\n    form: oil\n",
        "additives:\n  -{name: Reed oil, form: oil}\n",
        "additives:\n  – name: Reed oil\n    form: oil\n",
        "additives:\n  –name: Reed oil\n   form: oil\n",
        "additives:\n  • name: Reed oil\n    form: oil\n",
        "additives:\n  * name: Reed oil\n    form: oil\n",
        "additives:\n  — {name: Reed oil, form: oil}\n",
        "additives:\n\xa0\xa0- name: Reed oil\n\xa0\xa0\xa0\xa0form: oil\n",
        "additives:\n  - name:Reed oil\n    form: oil\n",
    ],
)
@pytest.mark.parametrize("line_break", ["\n", "\r\n", "\r"])
def test_the_head_of_a_line_with_one_meaning_is_read(text: str, line_break: str) -> None:
    text = f"name: Reed\n{text}base_mix: M\n".replace("\n", line_break)
    assert read(text) == {"name": "Reed", "additives": (ITEM,), "base_mix": "M"}


@pytest.mark.parametrize(
    "text",
    [
        "a:\n\tb:\n  c: 1\n",  # c in b, or beside it
        "eggs: {count: 2}\n\tnotes: x\n",
        "additives:\n  -name: Reed oil\n form: oil\n",
        "notes: |\n  – as I said\neggs:\n\tcount: 2\n",  # a block text is as it was written
    ],
)
def test_the_head_of_a_line_with_no_meaning_or_two_is_refused(text: str) -> None:
    with pytest.raises(ProblemsError):
        read(text)


@pytest.mark.parametrize("name", ["-5 flavour", "– the old one", "-Reed", "• Reed oil"])
def test_a_name_may_begin_with_a_dash(name: str) -> None:
    assert read(f"items:\n  {name}:\n    left: 2 kg\n") == {"items": {name: {"left": "2 kg"}}}


def test_what_is_wrong_in_a_line_with_a_tab_is_told_at_its_place() -> None:
    source = Source("reed.yaml", "name: Reed\nadditives:\n\t–name: Reed oil\n\t form:\toul\n")
    root = read_nodes(source)[0]
    places = [source.place(scalar.start) for scalar in scalars_in(root)]
    assert places == [(1, 1), (1, 7), (2, 1), (3, 3), (3, 9), (4, 3), (4, 9)]


@pytest.mark.parametrize(
    ("text", "line", "hint"),
    [
        ("additives:\n  -name: Reed oil\n form: oil\n", 2, "- name: Reed oil"),
        ("additives:\n  – name: Reed oil\n   form: oil\n", 2, "- name: Reed oil"),
    ],
)
def test_a_dash_that_leads_reading_astray_is_named(text: str, line: int, hint: str) -> None:
    with pytest.raises(ProblemsError) as caught:
        read(text)
    [problem] = caught.value.problems
    assert (problem.line, problem.hint) == (line, hint)
