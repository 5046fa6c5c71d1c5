"""additives.yaml: every additive's doses once, for all recipes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, model_validator

from eggfold.amounts import AmountError, DoseText, Measures, parse_dose
from eggfold.errors import Problem, in_quotes
from eggfold.load.fields import (
    Density,
    Dose,
    DryingTime,
    Name,
    SoakDose,
    StrictModel,
    a_number,
    a_share,
    a_word,
    problem,
)
from eggfold.load.reading import NodePath, Placed, Reading, read_model
from eggfold.load.yaml_tree import scalar_text
from eggfold.nearest import did_you_mean, fold
from eggfold.reference.ingredients import CONTAINS, SHORT_NAMES
from eggfold.reference.measures import KITCHEN_UNITS, kitchen_measure

CARRIERS = ("water", "alcohol", "glycol", "oil")
DoseKey = Literal["hookbait", "freebie", "ceiling", "soak"]
DOSE_KEYS: tuple[DoseKey, ...] = get_args(DoseKey)
Form = Literal["liquid", "oil", "powder"]
MeasuresChoice = Annotated[
    Measures,
    a_word(
        ("metric", "imperial", "us"),
        "unknown-measures",
        {"american": "us", "uk": "imperial", "british": "imperial", "eu": "metric"},
    ),
]


MOST_PERCENT = 100.5
"""A label's parts may round to a little over 100."""
LEAST_PERCENT = 99.5

Share = Annotated[float, a_share(0, 100)]
LabelShare = Annotated[float, a_share(0, 100, bare=True)]

Allergen = Annotated[str, a_word(CONTAINS, "unknown-allergen", SHORT_NAMES)]
Contains = Annotated[tuple[Allergen, ...], Field(strict=False)]


class Analysis(StrictModel):
    """A label's analysis in % by mass; what it leaves out is filled in by rule."""

    protein: LabelShare | None = None
    """Protein, % by mass."""
    fat: LabelShare | None = None
    """Fat or oil, % by mass."""
    carbohydrate: LabelShare | None = None
    """Carbohydrate without the fibre; the rest if it is left out, % by mass."""
    fibre: LabelShare | None = None
    """Fibre, % by mass."""
    ash: LabelShare | None = None
    """Ash, the minerals, % by mass."""
    water: LabelShare | None = None
    """Water or moisture; 9 if it is left out, % by mass."""

    def stated(self) -> dict[str, float]:
        """Return the parts the label states."""
        return {k: v for k, v in self if v is not None}

    def shortfall(self) -> float:
        """Return what is missing to 100 % [%], 0 within the rounding or without carbohydrate."""
        parts = self.stated()
        gap = 100 - sum(parts.values()) - (0 if "water" in parts else 9)
        return gap if self.carbohydrate is not None and gap > 100 - LEAST_PERCENT else 0.0

    @model_validator(mode="after")
    def _adds_up(self) -> Analysis:
        parts = self.stated()
        total = sum(parts.values()) + (0 if "water" in parts else 9)
        if self.carbohydrate is not None and not total:
            message = "the analysis says that there is nothing in it"
            hint = "the parts on the label, or leave the analysis out"
            raise problem("empty-analysis", message, hint, key=next(iter(parts)))
        if total > MOST_PERCENT:
            water = "" if "water" in parts else ", with 9 % water that it does not state"
            message = f"the analysis adds up to {total:g} %{water}"
            raise problem("analysis-over-100", message, "at most 100 %", key=next(iter(parts)))
        return self


class AdditiveKeys(StrictModel):
    """What is known of an additive, in the register or in a recipe."""

    form: Annotated[Form, a_word(get_args(Form), "unknown-form")] | None = None
    """liquid and oil wet the powder, powder takes its place."""
    carrier: Annotated[str, a_word(CARRIERS, "unknown-carrier")] | None = None
    """What a flavour is dissolved in; alcohol brings a caution."""
    density: Density | None = None
    """Grams in a millilitre; it turns spoons and syringes into grams."""
    wetting: Annotated[float, a_number(0, 3, "(1: it wets like egg)")] | None = None
    """How far it counts as wet: 1 like egg."""
    hookbait: Dose | None = None
    """The dose of a small, strong batch."""
    freebie: Dose | None = None
    """The dose of a big batch."""
    ceiling: Dose | None = None
    """Never more than this; the card warns."""
    soak: SoakDose | None = None
    """What finished bait takes up after the boil."""
    soak_time: DryingTime | None = None
    """How long bait takes to take it up."""
    contains: Contains | None = None
    """The allergens on its label; an empty list says there are none."""
    analysis: Analysis | None = None
    """Its label's analysis, where it feeds."""


class AdditiveEntry(AdditiveKeys):
    """An additive in a recipe: a name, and the keys that differ from the register."""

    name: Name
    """The register's name of it, or a name of its own."""


def named_additive(value: Any) -> Any:
    """Read a name alone as a mapping with that name; a name that stands as a key is told how."""
    if isinstance(value, str):
        return {"name": value}
    known = AdditiveEntry.model_fields
    if isinstance(value, dict) and "name" not in value:
        for name in (key for key in value if key not in known):
            if (hint := _beside_its_name(name, value[name])) and not did_you_mean(name, known):
                raise problem("unknown-key", f"{in_quotes(name)} is not a key here", hint, key=name)
    return value


def _beside_its_name(name: str, behind: Any) -> str | None:
    """Return how an additive is written whose name has its dose or its keys behind a colon."""
    shown = scalar_text(name)
    if isinstance(behind, dict):
        return f"name: {shown}, with its other keys beside it"
    if not isinstance(behind, str) or not behind[:1].isdecimal():
        return None
    try:
        form = "liquid" if parse_dose(behind).by_volume else "powder"
    except AmountError:
        return f"name: {shown}, with its form and its doses beside it"
    return f"{{name: {shown}, form: {form}, hookbait: {behind}}}"


class Register(StrictModel):
    """The register of additives."""

    additives: dict[str, AdditiveKeys] = Field(strict=False)
    """Every additive by name."""
    measures: MeasuresChoice | None = None
    """Whose spoons, cups and pints the doses here mean."""


def read_register(placed: Placed) -> Reading[Register]:
    """Read additives.yaml, with every problem in it."""
    reading = read_model(Register, placed, {"additives": {}})
    problems = reading.problems + same_names(placed, reading.model.additives)
    for name, entry in reading.model.additives.items():
        path: NodePath = ("additives", name)
        problems += measure_problems(placed, path, entry, reading.model.measures)
        if entry.form is None:
            hint = "form: liquid, oil or powder"
            problems.append(placed.problem(path, "missing-key", "form is missing", hint, key=True))
        elif needs_density(entry):
            problems.append(density_problem(placed, path, entry))
        if entry.form == "powder" and entry.wetting is not None:
            problems.append(wetting_problem(placed, path, entry))
    return Reading(reading.model, problems, reading.broken)


def same_names(placed: Placed, names: Iterable[str]) -> list[Problem]:
    """Return a problem for each register name that another one folds to."""
    seen: dict[str, str] = {}
    problems = []
    for name in names:
        first = seen.setdefault(fold(name), name)
        if first != name:
            message = f"'{name}' is '{first}' with other case or spaces"
            path: NodePath = ("additives", name)
            problems.append(placed.problem(path, "same-name", message, "keep one", key=True))
    return problems


def needs_density(entry: AdditiveKeys) -> bool:
    """Tell whether a powder is dosed by volume without the density that makes it grams."""
    return entry.form == "powder" and entry.density is None and _volume_key(entry) is not None


def density_problem(placed: Placed, path: NodePath, entry: AdditiveKeys) -> Problem:
    """Return the problem of a powder dosed by volume, at that dose."""
    key = _volume_key(entry) or "form"
    message = "a powder dosed by volume needs its density"
    return placed.problem((*path, key), "powder-by-volume", message, _WEIGH_IT)


_WEIGH_IT = (
    "weigh a level spoonful and write that in g; or the g that 1 ml of it weighs, as density"
)


def wetting_problem(placed: Placed, path: NodePath, entry: AdditiveKeys) -> Problem:
    """Return the warning of a powder's wetting, at it or at the form that made it one."""
    key = "form" if entry.wetting is None else "wetting"
    message = "a powder is dry mix; its wetting counts for nothing"
    hint = "leave wetting out, or form: liquid for what is wet"
    return placed.problem(
        (*path, key), "powder-wetting", message, hint, key=True, severity="warning"
    )


def _volume_key(entry: AdditiveKeys) -> str | None:
    for key in DOSE_KEYS:
        dose: DoseText | None = getattr(entry, key)
        if dose and dose.by_volume:
            return key
    return None


def measure_problems(
    placed: Placed, path: NodePath, entry: AdditiveKeys, measures: Measures | None
) -> list[Problem]:
    """Return a problem for each dose in a kitchen measure whose size nobody stated."""
    problems = []
    for key in DOSE_KEYS:
        dose: DoseText | None = getattr(entry, key)
        for unit in (dose.amount.unit, dose.unit) if dose and dose.amount else ():
            if wrong := unknown_measure(unit, measures):
                problems.append(placed.problem((*path, key), "unknown-measure", *wrong))
                break
    return problems


def unknown_measure(unit: str, measures: Measures | None) -> tuple[str, str] | None:
    """Return what is wrong with a kitchen measure whose size nobody stated, and what to try."""
    if unit not in KITCHEN_UNITS or kitchen_measure(unit, measures) is not None:
        return None
    whose = "differs by country" if measures is None else f"has no {measures} size"
    own = "imperial or us, or metric" if unit == "cup" else "imperial or us"
    return f"{unit} {whose}", f"measures: {own} at the top"


Blend = Annotated[dict[str, Share], Field(strict=False)]


def blend_total_problem(blend: dict[str, float]) -> tuple[str, str] | None:
    """Return the sentence and hint for a blend that does not add up to 100 %, or None."""
    total = sum(blend.values())
    if LEAST_PERCENT <= total <= MOST_PERCENT:
        return None
    gap = 100 - total
    hint = f"{abs(gap):g} % {'is missing' if gap > 0 else 'is too much'}"
    return f"the blend adds up to {total:g} %", hint


class OwnPowder(StrictModel):
    """A powder's label."""

    analysis: Analysis
    """Its label's analysis in % by mass."""
    contains: Contains | None = None
    """The allergens on its label."""


class Ingredients(StrictModel):
    """The user's own powders by name."""

    ingredients: Annotated[dict[str, OwnPowder], Field(strict=False)]
    """Your own powders by name; they beat the built-in ones."""
