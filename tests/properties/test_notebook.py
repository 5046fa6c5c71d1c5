"""Splicing the notebook and the shelf: only what is meant changes, and a bowl taken back never was."""

from __future__ import annotations

import io
from contextlib import redirect_stdout
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from eggfold.__main__ import run
from eggfold.edit.splice import add_entry, began_as, block_entry, drop_last, flow_entry
from eggfold.errors import FileAccessError, ProblemsError
from eggfold.load.gate import Source
from eggfold.load.yaml_tree import plain_data, read_nodes, scalar_text

# Pieces that YAML reads in surprising ways, put together at random.
LINES = st.sampled_from(
    [
        "weighed:",
        "rolled:",
        "rolled: []",
        "fished:  # so far",
        "  - {date: 2025-05-01, recipe: Reeds, takes: 0}",
        "  - {date: 2025-05-01, drew: {EU large eggs: 6}}  # late",
        "  - date: 2025-05-02",
        "    recipe: Old man's mix",
        '    notes: "a: b # c"',
        "    notes: 'it''s {x}'",
        "    drew:",
        "      EU large eggs: 6",
        "- date: 2025-05-03",
        "  recipe: at the margin",
        "    # deep",
        "  # shallow",
        "# at the margin",
        "",
        "    notes: |",
        "      fished:",
        '    open: "unclosed',
        '    closed: now"',
        "    flow: [a,",
        "    b]",
        "    odd: {a: x 'y, b: 'z}",
        "---",
        "\tno: tabs",
        "    key: value: twice",
        "  plain",
        "    anchor: &a b",
    ]
)
ENTRY = st.sampled_from(
    [
        "  - {date: 2025-05-01, recipe: Reeds, takes: 0}",
        "  - {date: 2025-05-01, drew: {EU large eggs: 6}}  # late",
        "  - date: 2025-05-02\n    recipe: Old man's mix\n    # deep",
        "  - notes: 'it''s {x}'\n\n    drew:\n      EU large eggs: 6",
        "  # shallow",
        "# at the margin",
        "",
        "  - notes: |\n      fished:\n    recipe: Reeds",
        '  - notes: "unclosed\n     - closed: now"',
        "  - odd: x 'y\n    z: 'z'",
    ]
)
SECTION = st.builds(
    lambda head, entries: [head, *entries] if entries else [head],
    st.sampled_from(["weighed:", "rolled:", "fished:  # so far"]),
    st.lists(ENTRY, max_size=4),
)
ORDERLY = st.lists(SECTION, max_size=3, unique_by=lambda lines: lines[0]).map(
    lambda sections: "\n".join(line for lines in sections for line in lines).split("\n")
)


def texts(lines: st.SearchStrategy[list[str]]) -> st.SearchStrategy[str]:
    return st.builds(
        lambda lines, newline, last: newline.join(lines) + (newline if last else ""),
        lines,
        st.sampled_from(["\n", "\r\n"]),
        st.booleans(),
    )


TEXTS = texts(st.one_of(ORDERLY, ORDERLY, st.lists(LINES, max_size=12)))
NAMES = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=20)
ENTRIES = st.builds(
    lambda recipe, drew: (
        {"date": "2025-06-01", "recipe": recipe} | ({"drew": drew} if drew else {})
    ),
    NAMES,
    st.dictionaries(NAMES, NAMES, max_size=3),
)


def data_of(text: str) -> dict[str, object]:
    root, problems = read_nodes(Source("notebook.yaml", text))
    assert not problems
    data: dict[str, object] = plain_data(root)
    return data


def readable(text: str) -> bool:
    try:
        data_of(text)
    except (ProblemsError, AssertionError):
        return False
    return True


@given(NAMES)
@example("\ufeff")
@example("a\u2028b\x85c\x07")
@example("\U0001f95a: egg")
def test_a_name_reads_as_it_was(name: str) -> None:
    assert data_of(f"{scalar_text(name)}: {scalar_text(name)}\n") == {name: name}
    assert data_of(f"x: {{{scalar_text(name)}: {scalar_text(name)}}}\n") == {"x": {name: name}}


@given(TEXTS, ENTRIES, st.sampled_from([block_entry, flow_entry]))
@example(
    'weighed:\n  - notes: "unclosed\n     - closed: now"\n',
    {"date": "2025-06-01", "recipe": "0", "drew": {"\xa0": "0"}},
    block_entry,
)
def test_an_entry_is_added_and_nothing_else_changes(
    text: str, fields: dict[str, str | dict[str, str]], style: type
) -> None:
    assume(not text.strip() or readable(text))
    before = data_of(text) if text.strip() else {}
    assume(isinstance(before.get("rolled") or (), tuple))
    source = Source("notebook.yaml", text)
    began = began_as(source, "rolled")
    try:
        new = add_entry(source, "rolled", style(fields), fields)
    except FileAccessError:  # refused, where the section is not written as lines
        return
    after = data_of(new)
    assert after == before | {"rolled": (*(before.get("rolled") or ()), fields)}  # type: ignore[misc]
    assert drop_last(Source("notebook.yaml", new), "rolled", began) == text


@given(texts(ORDERLY), st.sampled_from([block_entry, flow_entry]))
def test_a_text_in_lines_takes_an_entry(text: str, style: type) -> None:
    assume(readable(text))
    fields: dict[str, str | dict[str, str]] = {"recipe": "Reeds"}
    source = Source("notebook.yaml", text)
    new = add_entry(source, "rolled", style(fields), fields)
    assert drop_last(Source("notebook.yaml", new), "rolled", began_as(source, "rolled")) == text


RECIPE = """\
name: Reed bed
base_mix: Reed mix
additives:
  - {name: Malt syrup, form: liquid, density: 1.35 g/ml, hookbait: 4 g per egg}
  - {name: Salt, form: powder, hookbait: 1.5 % of mix}
"""
LEFTS = st.sampled_from(["5 kg", '"5000 g"', "'11 lb'", "176.37 oz", "5.000 kg"])
COMMENTS = st.sampled_from(["", "  # counted", "  # 5 kg: more or less"])
ITEMS = st.builds(
    lambda mix, syrup, eggs, comment, salt: (
        f"items:\n  reed  MIX:\n    left: {mix}{comment}\n  Malt syrup: {{left: {syrup}}}\n"
        f"  EU large eggs:\n    left: {eggs}{comment}\n{salt}"
    ),
    LEFTS,
    st.sampled_from(["500 ml", "0.5 l", "500 g", '"20 tbsp"']),
    st.integers(30, 90),
    COMMENTS,
    st.sampled_from(["  Salt:\n", "  Salt: {left: 1 kg, density: 1.2 g/ml}", "# no salt\n"]),
)
NOTEBOOKS = st.one_of(
    st.none(),
    st.sampled_from(
        [
            "# mine\n",
            "rolled:\n",
            "rolled: []  # none yet",
            "rolled:\n  - {date: 2025-05-01, recipe: Reed bed, strength: hookbait, eggs: 2}\n",
            "rolled:\n- date: 2025-05-01\n  recipe: Reed bed\n  strength: hookbait\n  eggs: 2",
            "fished:\n  - {date: 2025-05-01, recipe: Reed bed, rods: 2, hours: 5, takes: 0}\n# end",
        ]
    ),
)


def note(*args: str) -> int:
    with redirect_stdout(io.StringIO()):
        return run(["note", "rolled", *args])


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@settings(max_examples=40)
@given(ITEMS, NOTEBOOKS, st.sampled_from(["\n", "\r\n"]), st.lists(st.integers(1, 6), max_size=3))
def test_draw_then_undo_is_the_identity(
    shelf: str, notebook: str | None, newline: str, bowls: list[int]
) -> None:
    with TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "reed.yaml").write_text(RECIPE, encoding="utf-8")
        (folder / "shelf.yaml").write_text(shelf, encoding="utf-8", newline=newline)
        file = str(folder / "notebook.yaml")
        if notebook is not None:
            Path(file).write_text(notebook, encoding="utf-8", newline=newline)
        states = [contents(folder)]
        for eggs in bowls:
            recipe = str(folder / "reed.yaml")
            assert note(recipe, "--eggs", str(eggs), "--as", "hookbait") == 0
            states.append(contents(folder))
            assert states[-1]["shelf.yaml"] != states[-2]["shelf.yaml"]
        for before in reversed(states[:-1]):
            assert note("--undo", "--notebook", file) == 0
            assert contents(folder) == before
