"""Every figure that is called published: what its source states, and which test holds it to that."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, NamedTuple

import pytest

from running import TESTS, copy_recipes, run_eggfold

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


class Published(NamedTuple):
    """The source as a page names it, from its beginning, and the test of what it states."""

    source: str
    test: str


SOURCES = [
    Published("USDA SR28 record 01123", "test_us_edible_mass_is_the_published_one"),
    Published("USDA SR28 record 01123", "test_the_egg_is_the_published_one"),
    Published("US Department of Agriculture", "test_figures_are_the_published_ones"),
    Published("Choi & Okos 1986", "test_pure_parts_at_20_c"),
    Published("Choi & Okos 1986", "test_ashrae_lamb_example"),
    Published("ISO 2533 pressure, IAPWS-IF97", "test_pressure_and_boiling_point_by_height"),
    Published("Tanaka, Girard, Davis, Peuto & Bignell 2001", "test_water_density_agrees_with_crc"),
    Published("a textbook's exercise", "test_the_film_is_that_of_eggs_in_boiling_water"),
    Published("H. This; Belitz", "test_a_set_centre_is_where_egg_sets"),
    Published("H. McGee", "test_a_set_centre_is_where_egg_sets"),
    Published("USP 32", "test_spoons_and_drops"),
    Published("UCUM [tsp_us]", "test_spoons_and_drops"),
    Published("UCUM [tbs_us]", "test_spoons_and_drops"),
    Published("UCUM [foz_us]", "test_spoons_and_drops"),
    Published("UCUM [cup_us]", "test_spoons_and_drops"),
    Published("UCUM [pt_us]", "test_spoons_and_drops"),
    Published("UCUM [foz_br]", "test_spoons_and_drops"),
    Published("UCUM [pt_br]", "test_spoons_and_drops"),
    Published("NIST SP 430, 2004: teaspoon", "test_spoons_and_drops"),
    Published("NIST SP 430, 2004: tablespoon", "test_spoons_and_drops"),
    Published("Standards Association of Australia", "test_spoons_and_drops"),
]

ANSWERS = [
    "batch recipes/osierfen-caraway.yaml --as freebie",
    "batch recipes/osierfen-reedmace.yaml --as hookbait",
    "batch us.yaml --as hookbait",
    "batch imperial.yaml --as hookbait",
    "batch metric.yaml --as hookbait",
    "powder us.yaml",
    "boil",
    "buoyancy --core 10mm --skin 2mm",
    "doses recipes/osierfen-caraway.yaml",
    "labels recipes/osierfen-caraway.yaml --as freebie",
    "rolling recipes/weekend.yaml",
    "campaign recipes/season.yaml --date 2027-01-01",
    "trials recipes",
]

MEASURED = """\
name: {country}
measures: {country}
base_mix: {{name: M, blend: {{Semolina: 50 %, Soya flour: 50 %}}}}
eggs: {{grade: large, standard: us}}
additives:
{additives}
baits: {{hookbait: [{{kind: popup, core: 8 mm, skin: 2 mm}}]}}
"""
UNITS = {
    "us": ("tsp", "tbsp", "floz", "cup", "pint", "drop"),
    "imperial": ("tsp", "tbsp", "floz", "cup", "pint"),
    "metric": ("tsp", "tbsp", "cup"),
}


def lay_out(folder: Path) -> None:
    copy_recipes(folder, outings=True)
    for country, units in UNITS.items():
        additives = "\n".join(
            f"  - {{name: {unit}, form: liquid, hookbait: 0.01 {unit} per kg mix}}"
            for unit in units
        )
        text = MEASURED.format(country=country, additives=additives)
        (folder / f"{country}.yaml").write_text(text, encoding="utf-8")


def assumptions(data: object) -> Iterator[dict[str, str | None]]:
    """Yield everything in an answer that has an origin."""
    if isinstance(data, dict):
        if "origin" in data and "source" in data:
            yield data
        data = list(data.values())
    if isinstance(data, list):
        for one in data:
            yield from assumptions(one)


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> set[tuple[str, str | None]]:
    """Return what the program calls published, and the source that it names."""
    folder = tmp_path_factory.mktemp("published")
    lay_out(folder)
    found: set[tuple[str, str | None]] = set()
    for command in ANSWERS:
        outcome = run_eggfold([*command.split(), "--format", "json"], folder)
        assert outcome.exit == 0, (command, outcome.stderr)
        for one in assumptions(json.loads(outcome.stdout)):
            if one["origin"] == "published":
                found.add((str(one["what"]), one["source"]))
    return found


def test_whatever_is_called_published_names_a_source_of_the_list(
    published: set[tuple[str, str | None]],
) -> None:
    for what, source in published:
        assert any((source or "").startswith(one.source) for one in SOURCES), (what, source)


@pytest.mark.parametrize("one", SOURCES, ids=lambda one: f"{one.source}-{one.test}")
def test_every_source_of_the_list_is_named(
    one: Published, published: set[tuple[str, str | None]]
) -> None:
    assert any((source or "").startswith(one.source) for _, source in published)


def test_every_source_is_checked() -> None:
    tests = "\n".join(
        file.read_text(encoding="utf-8") for file in (TESTS / "reference").glob("test_*.py")
    )
    missing = [one.test for one in SOURCES if f"\ndef {one.test}(" not in tests]
    assert not missing
