"""What must hold for every bait on a cork ball."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from eggfold.engine.buoyancy import Densities, lift_g, skin_for_lift_mm

cores_mm = st.floats(3.0, 60.0)
skins_mm = st.floats(0.05, 30.0)
hooks_g = st.floats(0.0, 5.0)
waters = st.floats(0.992, 1.0)
corks = st.floats(0.05, 0.5)
heavy_pastes = st.floats(1.01, 1.4)
light_pastes = st.floats(0.6, 0.985)
heavy = st.builds(Densities, waters, corks, heavy_pastes)
any_paste = st.builds(Densities, waters, corks, heavy_pastes | light_pastes)


@given(cores_mm, skins_mm, any_paste, hooks_g)
def test_the_skin_found_gives_the_lift(
    core_mm: float, skin_mm: float, densities: Densities, hook_g: float
) -> None:
    wanted_g = lift_g(core_mm, skin_mm, densities, hook_g=hook_g)
    found_mm = skin_for_lift_mm(core_mm, wanted_g, densities, hook_g=hook_g)
    assert found_mm is not None
    assert found_mm == pytest.approx(skin_mm, rel=1e-6, abs=1e-6)
    again_g = lift_g(core_mm, found_mm, densities, hook_g=hook_g)
    assert again_g == pytest.approx(wanted_g, abs=1e-7)


@given(cores_mm, skins_mm, skins_mm, heavy, hooks_g)
def test_more_skin_of_heavy_paste_never_floats_more(
    core_mm: float, one_mm: float, other_mm: float, densities: Densities, hook_g: float
) -> None:
    thin, thick = sorted((one_mm, other_mm))
    lifts = [lift_g(core_mm, skin, densities, hook_g=hook_g) for skin in (thin, thick)]
    assert lifts[1] <= lifts[0] + 1e-9


@given(cores_mm, skins_mm, any_paste, hooks_g, hooks_g)
def test_a_heavier_hook_never_floats_more(
    core_mm: float, skin_mm: float, densities: Densities, one_g: float, other_g: float
) -> None:
    light, heavier = sorted((one_g, other_g))
    one = lift_g(core_mm, skin_mm, densities, hook_g=light)
    assert lift_g(core_mm, skin_mm, densities, hook_g=heavier) <= one + 1e-12


@given(cores_mm, st.floats(-50.0, 50.0), any_paste, hooks_g)
def test_a_skin_is_found_or_there_is_none(
    core_mm: float, wanted_g: float, densities: Densities, hook_g: float
) -> None:
    found_mm = skin_for_lift_mm(core_mm, wanted_g, densities, hook_g=hook_g)
    bare_g = lift_g(core_mm, 0.0, densities, hook_g=hook_g)
    assume(abs(bare_g - wanted_g) > 1e-9)
    sinks_more = densities.paste_g_ml > densities.water_g_ml
    assert (found_mm is not None) == (wanted_g < bare_g if sinks_more else wanted_g > bare_g)
