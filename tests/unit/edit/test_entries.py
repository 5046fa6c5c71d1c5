from __future__ import annotations

import pytest

from eggfold.edit.splice import add_entry, block_entry, drop_last
from eggfold.errors import FileAccessError
from eggfold.load.gate import Source

FIELDS: dict[str, str | dict[str, str]] = {"recipe": "Reed Bed"}
NOTED = "fished:\n  - {recipe: Reed Bed}\n"


@pytest.mark.parametrize("text", [f"{NOTED[:-1]}\r", NOTED.replace("\n", "\r")])
def test_lines_that_end_with_a_lone_carriage_return_are_left_alone(text: str) -> None:
    """A line feed put behind one would become one line break with it, and go with it again."""
    source = Source("notebook.yaml", text)
    for section in ("weighed", "fished"):
        with pytest.raises(FileAccessError, match=r"line [12] ends with a lone carriage return"):
            add_entry(source, section, block_entry(FIELDS), FIELDS)
    with pytest.raises(FileAccessError, match="save it with line feeds"):
        drop_last(source, "fished", None)


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_a_notebook_that_ends_on_any_other_line_break_takes_a_note_and_gives_it_back(
    newline: str,
) -> None:
    text = NOTED.replace("\n", newline)
    new = add_entry(Source("notebook.yaml", text), "weighed", block_entry(FIELDS), FIELDS)
    assert new == f"{text}weighed:{newline}  - recipe: Reed Bed{newline}"
    assert drop_last(Source("notebook.yaml", new), "weighed", None) == text


@pytest.mark.parametrize("entries", [1, 2, 3, 5])
def test_a_list_in_one_line_stays_as_it_is_beside_an_entry(entries: int) -> None:
    listed = f"fished: [{', '.join(['{recipe: Reed Bed}'] * entries)}]  # mine\n"
    text = f"{listed}weighed:\n" + "  - recipe: Weir\n" * entries
    source = Source("notebook.yaml", text)
    with pytest.raises(FileAccessError, match="lines that begin with '- '"):
        add_entry(source, "fished", block_entry(FIELDS), FIELDS)
    new = add_entry(source, "weighed", block_entry(FIELDS), FIELDS)
    assert new == f"{text}  - recipe: Reed Bed\n"
    assert drop_last(Source("notebook.yaml", new), "weighed", None) == text
