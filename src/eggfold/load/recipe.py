"""recipe.yaml: the trial, what is rolled of it, and the house defaults it overrides."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator, Discriminator, Field, Tag, model_validator

from eggfold.amounts import Amount, AmountError, mass_in_words
from eggfold.engine.paste import ball_volume_ml, measured_density_g_ml
from eggfold.errors import in_quotes
from eggfold.load.additives import (
    AdditiveEntry,
    Analysis,
    Blend,
    Contains,
    MeasuresChoice,
    blend_total_problem,
    named_additive,
)
from eggfold.load.eggs import TrialEggs
from eggfold.load.fields import (
    BoilTime,
    Diameter,
    DryingTime,
    Name,
    Reads,
    StrictModel,
    Text,
    a_diameter,
    a_number,
    a_share,
    a_whole,
    a_word,
    an_amount,
    problem,
)
from eggfold.reference.boiling import (
    LEAST_CORE_MM,
    LEAST_SKIN_MM,
    MOST_BAIT_MM,
    MOST_CORE_MM,
    MOST_HOOK_G,
    MOST_SKIN_MM,
)
from eggfold.reference.defaults import (
    DEFAULTS,
    LEAST_FINISHED_SHARE,
    MOST_FINISHED_SHARE,
    OWN_DRYING_LOSS_PERCENT,
    PASTE_DENSITY_RANGE_G_ML,
)
from eggfold.reference.slips import SLIPS
from eggfold.units import amount_in


def finished_fault(finished: Amount, paste_g: float) -> str | None:
    """Say why baits cannot weigh so much dried, None where they can."""
    finished_g = amount_in(finished, "g")
    paste = mass_in_words(paste_g)
    if finished_g > MOST_FINISHED_SHARE * paste_g * (1 + 1e-9):
        return f"{finished} of dried baits is more than the paste they came from, {paste}, gives"
    if finished_g < LEAST_FINISHED_SHARE * paste_g * (1 - 1e-9):
        return f"{finished} of dried baits is too little for the paste they came from, {paste}"
    return None


def refuse_finished(finished: Amount, paste_g: float) -> None:
    """Raise the problem of a finished weight that cannot be."""
    if text := finished_fault(finished, paste_g):
        ends = LEAST_FINISHED_SHARE * paste_g, MOST_FINISHED_SHARE * paste_g
        hint = f"{' to '.join(map(mass_in_words, ends))}, all baits of this bowl"
        raise problem("finished-weight", text, hint, key="finished")


def refuse_density(hundred: Amount, diameter: Amount, key: str) -> None:
    """Raise the problem of a hundred baits that are too heavy or too light for their size."""
    size_mm = amount_in(diameter, "mm")
    density = measured_density_g_ml(amount_in(hundred, "g"), size_mm)
    low, high = PASTE_DENSITY_RANGE_G_ML
    if low * (1 - 1e-9) <= density <= high * (1 + 1e-9):
        return
    text = (
        f"a hundred baits of {diameter} at {hundred} are paste of {density:.2g} g/ml; fresh paste has "
        f"{low:g} to {high:g}"
    )
    bait_g = 100 * ball_volume_ml(size_mm)
    hint = f"{mass_in_words(low * bait_g)} to {mass_in_words(high * bait_g)} at {diameter}"
    raise problem("paste-density", text, hint, key=key)


Strength = Literal["hookbait", "freebie"]
STRENGTHS: tuple[Strength, ...] = get_args(Strength)
StrengthWord = Annotated[Strength, a_word(STRENGTHS, "unknown-strength")]

BagMass = Annotated[Amount, an_amount("mass", unit="g", low=1, high=1_000_000)]


class Mix(StrictModel):
    """A base mix: its name, what the trial's eggs took of it, and what it is made of."""

    name: Name
    """The base mix as you call it; weighings and the shelf go by this name."""
    amount: BagMass | None = None
    """What the trial's eggs took out of the bag, before less after."""
    analysis: Analysis | None = None
    """The label's analysis in % by mass."""
    blend: Blend | None = None
    """What it is blended from: ingredient and share, 100 % in all."""
    contains: Contains | None = None
    """The allergens on its label; an empty list says there are none."""

    @model_validator(mode="after")
    def _made_of(self) -> Mix:
        if self.analysis and self.blend:
            text = "analysis and blend both say what the mix is made of"
            raise problem("two-analyses", text, "keep one of them", key="blend")
        if self.blend is not None and (wrong := blend_total_problem(self.blend)):
            raise problem("blend-not-100", *wrong, key="blend")
        return self


def _named(value: Any) -> Any:
    """Read a name alone as a mapping with that name."""
    return {"name": value} if isinstance(value, str) else value


NamedMix = Annotated[Mix, BeforeValidator(_named, json_schema_input_type=Name | Mix)]


class MixPair(StrictModel):
    """A base mix by strength."""

    hookbait: NamedMix | None = None
    """The base mix of the hookbaits."""
    freebie: NamedMix | None = None
    """The base mix of the freebies."""


def _sized(value: Any) -> Any:
    """Read a size alone as a list of one bottom bait."""
    if isinstance(value, tuple) and any(isinstance(bait, str) for bait in value):
        text = "a bait in a list has keys and values"
        raise problem("wrong-shape", text, list_of(value))
    if not isinstance(value, str):
        return value
    if sizes := sizes_in(value):
        raise problem("not-an-amount", f"{in_quotes(value)} is more than one size", list_of(sizes))
    return ({"size": value},)


def _mix_shape(value: Any) -> str:
    keys = value if isinstance(value, dict) else {}
    return "<pair>" if "hookbait" in keys or "freebie" in keys else "<one>"


BaseMix = Annotated[
    Annotated[MixPair, Tag("<pair>")] | Annotated[NamedMix, Tag("<one>")],
    Discriminator(_mix_shape),
]

CoreSize = Annotated[Amount, an_amount("length", unit="mm", low=LEAST_CORE_MM, high=MOST_CORE_MM)]
SkinSize = Annotated[Amount, an_amount("length", unit="mm", low=LEAST_SKIN_MM, high=MOST_SKIN_MM)]
HookMass = Annotated[Amount, an_amount("mass", unit="g", low=0, high=MOST_HOOK_G)]
SAME_SIZE_MM = 0.05
"""A cored bait's size may be written beside core and skin if it agrees within this."""


class Bait(StrictModel):
    """One kind and size of bait rolled from the paste."""

    kind: Annotated[str, a_word(("bottom", "popup", "wafter", "paste"), "unknown-kind")] = "bottom"
    """bottom sinks, popup floats, wafter just sinks, paste is neither rolled nor boiled."""
    size: Diameter | None = None
    """The diameter as rolled."""
    core: CoreSize | None = None
    """The cork ball inside a pop-up or a wafter."""
    skin: SkinSize | None = None
    """The paste around the core, from cork to surface."""
    hook: HookMass | None = None
    """The hook it carries, by its mass; 0 without one."""
    count: Annotated[int, a_whole(1, 1_000_000)] | None = None
    """So many in all, whatever the batch."""
    share: Annotated[float, a_share(0, 100)] | None = None
    """This share of the paste that is left to roll."""
    boil: BoilTime | None = None
    """Its own time in the pan, or none where it is cured and not boiled."""
    drying: DryingTime | None = None
    """How long it dries in one layer, where that is not as long as the others."""

    @model_validator(mode="after")
    def _fits_its_kind(self) -> Bait:
        if self.kind == "paste":
            self._is_a_share()
        elif self.kind == "bottom":
            self._is_solid()
        else:
            self._is_cored()
        if self.count is not None and self.share is not None:
            text = "count and share both say how much of the paste this takes"
            raise problem("count-and-share", text, "keep one of them", key="share")
        return self

    def _is_a_share(self) -> None:
        for key in ("size", "core", "skin", "hook", "count", "boil", "drying"):
            if getattr(self, key) is not None:
                text = f"paste that is not rolled, boiled or dried has no {key}"
                raise problem("bait-kind", text, "its share alone", key=key)
        if self.share is None:
            raise problem("missing-key", "paste needs its share", "share: 20 %")

    def _is_solid(self) -> None:
        if self.size is None:
            raise problem("missing-key", "size is missing", "size: 16 mm")
        if self.core or self.skin:
            key = "core" if self.core else "skin"
            hint = "leave it out, or kind: popup or wafter"
            raise problem("bait-kind", f"a bottom bait has no {key}", hint, key=key)

    def _is_cored(self) -> None:
        if self.core is None or self.skin is None:
            key, hint = ("core", "core: 12 mm") if self.core is None else ("skin", "skin: 2 mm")
            raise problem("missing-key", f"a {self.kind} needs a {key}", hint)
        whole_mm = amount_in(self.core, "mm") + 2 * amount_in(self.skin, "mm")
        if whole_mm > MOST_BAIT_MM:
            text = f"core and skin make a bait of {whole_mm:g} mm"
            raise problem("out-of-range", text, f"at most {MOST_BAIT_MM:g} mm", key="skin")
        if self.size and abs(amount_in(self.size, "mm") - whole_mm) > SAME_SIZE_MM:
            text = f"core and skin make {whole_mm:g} mm, not {self.size}"
            raise problem("two-sizes", text, "leave size out", key="size")


BaitList = Annotated[
    tuple[Bait, ...],
    Field(strict=False),
    BeforeValidator(_sized, json_schema_input_type=Diameter | tuple[Bait, ...]),
]


class Baits(StrictModel):
    """The baits of each strength."""

    hookbait: BaitList | None = None
    """The hookbaits: a size, or a list of kinds and sizes."""
    freebie: BaitList | None = None
    """The freebies: a size, or a list of kinds and sizes."""

    @model_validator(mode="after")
    def _shares_add_up(self) -> Baits:
        for strength in STRENGTHS:
            baits = getattr(self, strength)
            if baits is not None and (wrong := _share_problem(baits)):
                raise problem("shares", *wrong, key=strength)
        return self


def _share_problem(baits: tuple[Bait, ...]) -> tuple[str, str] | None:
    if not baits:
        return "the list of baits is empty", "a size, as in 16 mm"
    if all(b.kind == "paste" for b in baits):
        return "paste alone leaves nothing to roll", "a size beside it, as in {size: 16 mm}"
    resting = [b for b in baits if b.count is None and b.share is None]
    shares = [b.share for b in baits if b.share is not None]
    if len(resting) > 1:
        return "more than one bait takes the rest of the paste", "give all but one a share"
    total = sum(shares)
    if shares and (total > 100.5 or (not resting and total < 99.5)):
        return f"the shares add up to {total:g} %", "100 %, or one bait that takes the rest"
    if resting and shares and total >= 100:
        return "the shares leave nothing for the bait that takes the rest", "less than 100 %"
    return None


class OwnBoil(StrictModel):
    """The user's own time in the pan."""

    hookbait: BoilTime | None = None
    """Your own time in the pan for hookbaits, or none."""
    freebie: BoilTime | None = None
    """Your own time in the pan for freebies, or none."""


class Measured(StrictModel):
    """What a hundred freshly rolled baits weighed."""

    hundred_baits: Annotated[Amount, an_amount("mass", unit="g", low=1, high=20_000)]
    """What a hundred freshly rolled baits weighed."""
    diameter: Diameter
    """Their diameter as rolled."""

    @model_validator(mode="after")
    def _possible_density(self) -> Measured:
        refuse_density(self.hundred_baits, self.diameter, key="hundred_baits")
        return self


def _assumed(name: str) -> Reads:
    default = DEFAULTS[name]
    low, high = default.low, default.high
    if default.unit == "%":
        return a_share(low, high)
    if default.unit in {"W/(m² K)", "× 10⁻¹² m²/s"}:
        return a_number(low, high, default.unit)
    if default.unit == "mm":
        return an_amount("length", unit="mm", low=low, high=high)
    if default.unit == "degC":
        return an_amount("temperature", unit="degC", low=low, high=high)
    return an_amount("density", unit="g/ml", low=low, high=high)


class Assume(StrictModel):
    """Overrides of named house defaults."""

    shell: Annotated[float, _assumed("shell")] | None = None
    """The shell's share of an egg."""
    air: Annotated[float, _assumed("air")] | None = None
    """Air in the paste, by volume."""
    bowl_loss: Annotated[float, _assumed("bowl_loss")] | None = None
    """Paste that stays in bowl and gun."""
    drying_loss: Annotated[float, a_share(*OWN_DRYING_LOSS_PERCENT)] | None = None
    """Weight that baits lose in drying."""
    diameter_spread: Annotated[Amount, _assumed("diameter_spread")] | None = None
    """How far the rolled size strays either way."""
    start: Annotated[Amount, _assumed("start")] | None = None
    """The paste before the boil."""
    film: Annotated[float, _assumed("film")] | None = None
    """How readily heat passes from the water, in W/(m² K)."""
    cooling_film: Annotated[float, _assumed("cooling_film")] | None = None
    """How readily heat passes from a wet bait to the air, in W/(m² K)."""
    steam_loss: Annotated[float, _assumed("steam_loss")] | None = None
    """Weight that steams off while baits cool."""
    drying_diffusivity: Annotated[float, _assumed("drying_diffusivity")] | None = None
    """How fast water moves through a drying bait, in 1e-12 m²/s."""
    absorbency_sd: Annotated[float, _assumed("absorbency_sd")] | None = None
    """How uncertain the powder uptake is, one standard deviation."""
    bowl_sd: Annotated[float, _assumed("bowl_sd")] | None = None
    """How far one bowl differs from the next, one standard deviation."""
    cork_density: Annotated[Amount, _assumed("cork_density")] | None = None
    """The density of your cork."""
    water_temperature: Annotated[Amount, _assumed("water_temperature")] | None = None
    """The water you fish."""
    burner_efficiency: Annotated[float, _assumed("burner_efficiency")] | None = None
    """The burner's heat that reaches the pan."""


NamedAdditive = Annotated[
    AdditiveEntry, BeforeValidator(named_additive, json_schema_input_type=Name | AdditiveEntry)
]


Silenced = Annotated[str, a_word(tuple(SLIPS), "unknown-code")]


class Recipe(StrictModel):
    """The trial as it was made, and how it is to become a batch."""

    name: Name
    """What you call the bait; the notebook goes by this name."""
    base_mix: BaseMix
    """The powder: a name, one mix, or one for each strength."""
    eggs: TrialEggs | None = None
    """The trial's eggs; one EU large egg if it does not say."""
    additives: Annotated[tuple[NamedAdditive, ...], Field(strict=False)] = ()
    """What else goes in: names from the register, or additives of this recipe alone."""
    soak: Annotated[tuple[NamedAdditive, ...], Field(strict=False)] = ()
    """What finished bait is soaked in: names from the register, or additives of this recipe alone."""
    freebie_strength: Annotated[float, a_share(1, 500)] | None = None
    """The freebie dose as a share of the hookbait dose, for additives that state none."""
    baits: Baits | None = None
    """What is rolled of it, for each strength."""
    boil: OwnBoil | None = None
    """Your own times in the pan; otherwise they are worked out."""
    measured: Measured | None = None
    """What your own baits weighed; it beats the computed density."""
    measures: MeasuresChoice | None = None
    """Whose spoons, cups and pints the doses mean."""
    assume: Assume | None = None
    """Your own figures instead of the house defaults."""
    ok: Annotated[tuple[Silenced, ...], Field(strict=False)] = ()
    """Codes of warnings about doubtful figures that are meant as they stand."""
    notes: Text | None = None
    """Anything you want to remember."""

    def mix(self, strength: Strength) -> Mix | None:
        """Return the base mix of a strength, or None where the recipe gives it none."""
        if isinstance(self.base_mix, Mix):
            return self.base_mix
        mix: Mix | None = getattr(self.base_mix, strength)
        return mix

    def baits_of(self, strength: Strength) -> tuple[Bait, ...]:
        """Return the baits of a strength, none where the recipe states none."""
        return getattr(self.baits, strength, None) or ()

    def own_boil(self, strength: Strength) -> Amount | None:
        """Return the user's own time in the pan for a strength, None where it is worked out."""
        time: Amount | None = getattr(self.boil, strength, None)
        return time

    @property
    def one_mix(self) -> bool:
        """Whether one mix serves both strengths."""
        return isinstance(self.base_mix, Mix)


_BETWEEN = r"(?<=[a-z]),\s*|,\s+|\s*[;+&]\s*|\s+and\s+|(?<=[0-9]) ?[/–-] ?(?=[0-9]+ ?(?:mm|cm)\b)"
MOST_SHOWN = 6
"""More sizes than this are not spelled out."""


def sizes_in(text: str) -> list[str]:
    """Return the sizes that a text names, each with its unit; none where it is not several sizes."""
    parts = re.split(_BETWEEN, text.strip())
    if len(parts) < 2:
        return []
    unit = re.sub(r"[0-9. ]", "", parts[-1])
    sizes = [f"{part} {unit}" if re.fullmatch(r"[0-9.]+", part) else part for part in parts]
    return sizes if all(map(_is_size, sizes)) else []


def _is_size(text: str) -> bool:
    try:
        a_diameter.read(text)
    except AmountError:
        return False
    return True


def list_of(sizes: Sequence[object]) -> str:
    """Return how several sizes are written: each takes its share of the paste, the last the rest."""
    shown = [s for s in sizes if isinstance(s, str) and _is_size(s)]
    if len(shown) != len(sizes) or len(shown) > MOST_SHOWN:
        shown = ["18 mm", "20 mm"]
    share = f", share: {100 // len(shown)} %"
    *heads, last = shown
    return f"[{''.join(f'{{size: {size}{share}}}, ' for size in heads)}{{size: {last}}}]"
