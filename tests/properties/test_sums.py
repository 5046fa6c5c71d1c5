"""Every printed sum can be typed into a pocket calculator and gives what is printed behind it."""

from __future__ import annotations

import math
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from click.testing import CliRunner
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from eggfold.commands.root import root
from eggfold.errors import NoAnswerError
from eggfold.pages.why_card import why_lines
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import build_batch
from printed_sums import Calculator, faults_of, sums_of
from recipe_files import recipes_of
from running import RECIPES, copy_recipes


def lines_of(args: list[str]) -> list[str]:
    """Return the lines of sums that a command prints."""
    done = CliRunner().invoke(root, [*args, "--why", "--format", "markdown"], standalone_mode=False)
    assert done.exception is None, done.output
    return sum_lines(done.stdout)


def wrapped_lines_of(args: list[str]) -> list[str]:
    """Return the same of a command that has no markdown."""
    done = CliRunner().invoke(root, [*args, "--why"], standalone_mode=False)
    assert done.exception is None, done.output
    text = done.stdout.replace("\n  ", " ").replace("\n\n", "\n# ")
    return sum_lines(text.replace("HOW EACH", "# HOW EACH"))


def sum_lines(text: str) -> list[str]:
    lines, inside = [], False
    for line in text.splitlines():
        if line.startswith("#"):
            inside = "CAME ABOUT" in line
        elif inside and line.startswith("- "):
            lines.append(line.removeprefix("- ").replace("\\", ""))
    return lines


COMMANDS = (
    "batch {r} --as hookbait",
    "batch {r} --as freebie --eggs 30",
    "batch {r} --as freebie --eggs 7 --egg us-large --units us",
    "batch {r} --as freebie --powder 1kg",
    "batch {r} --as freebie --powder 12kg --egg us-large",
    "batch {r} --as freebie --powder 3kg --whole-eggs",
    "batch {r} --as freebie --liquid 1200ml",
    "batch {r} --as freebie --egg 12xeu-large --egg 6xus-medium",
    "shopping {r} --as freebie --eggs 24",
    "shopping {r}/weekend.yaml",
    "doses {r}",
    "doses {r} --columns 1,2,6h,12,2.5kg",
    "boil",
    "boil 16mm --until set",
    "boil --recipe {r}/osierfen-millet.yaml --for 80s --altitude 1500m",
    "buoyancy --core 10mm --skin 2mm --hook 0.2g",
    "buoyancy --core 12mm --lift 0.3g --hook 0.2g --water 4degC",
    "buoyancy --core 8mm --lift -0.1g --recipe {r}/osierfen-reedmace.yaml",
    "powder {r}/osierfen-millet.yaml",
    "powder {r}/osierfen-stillwater-fish.yaml --as freebie",
    "labels {r} --as freebie --eggs 12 --bag 500g",
    "rolling {r}/weekend.yaml",
    "campaign {r}/season.yaml --date 2027-01-05",
)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_printed_sum_of_the_demo_comes_out(command: str) -> None:
    lines = lines_of(command.format(r=RECIPES).split())
    assert any(list(sums_of(line)) for line in lines)
    assert [fault for line in lines for fault in faults_of(line)] == []


@pytest.mark.parametrize(
    ("line", "gives"),
    [
        ("Eggs = 30 × 60.52 = 1815.6 g", 1815.6),
        ("Doubt = √(sd² + bowl²) = √(3^2 + 4^2) = 5", 5.0),
        ("Left = 2 × e^(−0.5 × 2) − 0.1 = 0.636", 2 / math.e - 0.1),
        ("One = 3.14159 × 2³ / 6 = 4.1888 g", 4.1888),
    ],
)
def test_the_calculator_calculates(line: str, gives: float) -> None:
    (one,) = sums_of(line)
    assert math.isclose(Calculator(one.text).result(), gives, abs_tol=1e-4)
    assert list(faults_of(line)) == []


@pytest.mark.parametrize(
    "line",
    [
        "Eggs = 30 × 60.52 = 1815.8 g",
        "One bait = density × 3.14159 × 2³ / 6 = 4.84664 g",
        "Dried = paste × kept",
        "Baits = 100 / 7 = 14.286, so 15 whole",
    ],
)
def test_a_wrong_or_missing_sum_is_found(line: str) -> None:
    assert len(list(faults_of(line))) == 1


def test_every_printed_sum_of_a_shelf_comes_out() -> None:
    lines = wrapped_lines_of(["shelf", str(RECIPES)])
    assert any(list(sums_of(line)) for line in lines)
    assert [fault for line in lines for fault in faults_of(line)] == []


NOTEBOOK = """\
weighed:
  - {date: 2026-01-02, recipe: Osierfen Caraway, strength: hookbait, eggs: 2, before: 1000 g, after: 718 g, scale: 1 g}
  - {date: 2026-01-03, recipe: Osierfen Caraway, strength: hookbait, eggs: 1, before: 1000 g, after: 861 g, scale: 2 g}
rolled:
  - {date: 2026-01-04, recipe: Osierfen Caraway, strength: hookbait, eggs: 2, before: 718 g, after: 449 g,
     scale: 1 g, finished: 380 g, hundred: 168 g, diameter: 14 mm}
fished:
  - {date: 2026-04-18, recipe: Osierfen Caraway, rods: 2, hours: 24, takes: 3}
  - {date: 2026-05-16, recipe: Osierfen Reedmace, rods: 3, hours: 24, takes: 5}
  - {date: 2026-05-17, recipe: Osierfen Millet, rods: 1, hours: 12.5, takes: 0}
"""
BENCH = """\
burner: 3.5 kW
pan: 7 l
altitude: 800 m
"""


@pytest.fixture
def noted(tmp_path: Path) -> Path:
    """Give the demo with a notebook and a bench of its own."""
    copy_recipes(tmp_path)
    (tmp_path / "recipes" / "notebook.yaml").write_text(NOTEBOOK, encoding="utf-8")
    (tmp_path / "recipes" / "bench.yaml").write_text(BENCH, encoding="utf-8")
    return tmp_path / "recipes"


@pytest.mark.parametrize(
    ("command", "shows"),
    [
        ("batch {r}/osierfen-caraway.yaml", "Density after the notes"),
        (
            "batch {r}/osierfen-caraway.yaml --as hookbait --eggs 3 --egg 52g",
            "Absorbency of line 2",
        ),
        ("powder {r}/osierfen-caraway.yaml", "Density after the notes"),
        ("trials {r}", "chi-square"),
        ("boil --diameter 20mm --until set --bench {r}/bench.yaml", "burner"),
    ],
)
def test_every_printed_sum_from_notes_and_bench_comes_out(
    noted: Path, command: str, shows: str
) -> None:
    lines = lines_of(command.format(r=noted).split())
    assert shows in "\n".join(lines)
    assert [fault for line in lines for fault in faults_of(line)] == []


tenths = st.integers(1, 99).map(lambda n: f"{n / 10:g}")


@st.composite
def recipes(draw: st.DrawFn) -> str:
    """Draw a recipe with doses of every kind, any egg, sizes with and without cork."""
    additives = []
    for i in range(draw(st.integers(0, 3))):
        form, unit = draw(st.sampled_from([("liquid", "ml"), ("oil", "g"), ("powder", "g")]))
        per = draw(
            st.sampled_from(["egg", "2 eggs", "568 ml eggs", "500 g eggs", "kg mix", "lb mix"])
        )
        keys = f"form: {form}, freebie: {draw(tenths)} {unit} per {per}"
        if form == "liquid" and draw(st.booleans()):
            keys += f", density: {draw(st.integers(80, 140)) / 100:g} g/ml, wetting: 0.7"
        additives.append(f"  - {{name: Additive {i}, {keys}}}")
    eggs = draw(
        st.sampled_from(
            [
                "count: 2, grade: medium, standard: eu",
                "count: 2, liquid: 51.3 g",
                "count: 2, in_shell: 64 g",
                "liquid_egg: 125 ml",
            ]
        )
    )
    amount = draw(st.sampled_from(["", ", amount: 262.5 g"]))
    share = draw(st.integers(1, 99))
    baits = draw(
        st.sampled_from(
            [
                "18 mm",
                f"[{{size: 14 mm, share: {share} %}}, {{size: 22 mm}}]",
                "[{kind: popup, core: 10 mm, skin: 2 mm, hook: 0.2 g, count: 9}, {size: 16 mm}]",
                f"[{{kind: wafter, core: 8 mm, skin: 3 mm, share: {share} %}}, {{size: 15 mm}}]",
            ]
        )
    )
    listed = "additives:\n" + "\n".join(additives) if additives else ""
    return (
        f"name: Drawn\neggs: {{{eggs}}}\nbase_mix: {{name: Drawn mix{amount}}}\n{listed}\n"
        f"baits: {{freebie: {baits}}}\n"
    )


drawn_sizes = st.one_of(
    st.just(BatchSize("trial")),
    st.integers(1, 400).map(lambda n: BatchSize("eggs", n)),
    st.integers(1, 400).map(lambda n: BatchSize("liquid", 53.7 * n)),
    st.builds(
        lambda n, whole: BatchSize("powder", 97.3 * n, whole), st.integers(1, 400), st.booleans()
    ),
)


@settings(deadline=None)
@given(recipes(), drawn_sizes)
def test_every_printed_sum_of_a_drawn_recipe_comes_out(recipe: str, size: BatchSize) -> None:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "drawn.yaml"
        file.write_text(recipe, encoding="utf-8")
        (opened,) = recipes_of(file)
    assert not [p for p in opened.problems if p.severity == "error"]
    try:
        batch = build_batch(opened, Asked("freebie", size))
    except NoAnswerError:
        reject()
    assert [fault for line in why_lines(batch) for fault in faults_of(line)] == []
