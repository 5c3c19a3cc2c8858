"""Press cloths, supports, holds and irons."""

from __future__ import annotations

import pytest

from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import Grade
from samite.tables.press_tools import (
    household_iron,
    iron_setting,
    iron_settings,
    press_cloth,
    press_cloths,
    press_tool,
    press_tools,
)


@pytest.mark.parametrize(
    ("key", "dots", "limit"), [("low", 1, 110), ("medium", 2, 150), ("high", 3, 200)]
)
def test_sole_limits_by_dots(key: str, dots: int, limit: float):
    # ISO 3758:2012 as printed on a care-symbol page: 110, 150, 200 C
    setting = iron_setting(key)
    assert setting.dots == dots
    assert setting.sole_limit_c.value == limit
    assert setting.sole_limit_c.evidence.grade is Grade.PUBLICATION


def test_dial_words_overlap_so_that_they_are_not_to_be_trusted():
    low, medium, high = iron_settings().values()
    assert low.dial_c.high > medium.dial_c.low
    assert medium.dial_c.high > high.dial_c.low


def test_weight_of_the_iron_alone_presses_0_6_kpa():
    # 1.3 kg on 210 cm2 is 0.61 kPa; with 40 N of hand 2.5 kPa: arithmetic
    iron = household_iron()
    own = iron.mass_kg.value * 9.80665 / (iron.sole_area_cm2.value * 1e-4) / 1e3
    assert own == pytest.approx(0.61, abs=0.005)
    pressed = own + iron.hand_force_n.value / (iron.sole_area_cm2.value * 1e-4) / 1e3
    assert pressed == pytest.approx(2.5, abs=0.05)


def test_contact_gains_by_water_and_steam_by_the_setting():
    iron = household_iron()
    assert 0 < iron.conductance_per_water_w_m2k.low < iron.conductance_per_water_w_m2k.high
    assert iron.steam_light_g_min.value < iron.steam_full_g_min.value


def test_the_household_iron_steams_from_two_dots_and_nothing_of_it_is_measured():
    # common practice, no source: at one dot most irons spit
    iron = household_iron()
    assert [iron.steams_at(key) for key in ("low", "medium", "high")] == [False, True, True]
    assert not iron.measured
    assert [item.sole_c for item in iron.settings] == [x.dial_c for x in iron_settings().values()]


def test_pressure_is_weight_and_hand_over_the_sole():
    # 1.3 kg and 40 N on 210 cm2 are 2.5 kPa: arithmetic
    pressure = household_iron().pressure_kpa
    assert pressure.value == pytest.approx((1.3 * 9.80665 + 40.0) / 0.021 / 1000.0)
    assert pressure.low < 1.0 < pressure.high


def test_a_position_that_is_not_there_is_refused():
    with pytest.raises(UnknownNameError):
        household_iron().dial_c("hot")


def test_clapper_conductivity_is_the_wood_handbook_formula():
    # Wood Handbook, from memory: k = G(0.1941 + 0.004064 M) + 0.01864, G 0.63, M 12 %
    expected = 0.63 * (0.1941 + 0.004064 * 12) + 0.01864
    assert press_tool("clapper").conductivity_w_mk.value == pytest.approx(expected, abs=0.001)


def test_holds_press_and_supports_do_not():
    for tool in press_tools().values():
        assert (tool.pressure_kpa is None) == (tool.role == "support")
    assert {"clapper", "weight", "hand"} <= set(press_tools())
    assert {"board", "needle-board", "towel", "self", "ham", "seam-roll"} <= set(press_tools())


def test_press_cloths_pack_like_cloth():
    # volume share of fibre 0.05 to 0.6: facts of cloth, common practice, no source
    for cloth in press_cloths().values():
        solid_mm = cloth.mass_per_area_gsm.value / cloth.fibre.quantity("density_g_cm3").value / 1e3
        assert 0.05 < solid_mm / cloth.thickness_mm.value < 0.6


def test_velvet_is_never_a_damp_press_cloth():
    # common practice, no source: water and pressure flatten the pile
    assert press_cloth("self-velvet").damp_water_percent.high == 0
    assert press_cloth("cotton-lawn").damp_water_percent.value > 0


def test_unknown_tools_are_refused_with_close_names():
    with pytest.raises(UnknownNameError, match="no press cloth"):
        press_cloth("silk-organsa")
    with pytest.raises(UnknownNameError) as caught:
        press_tool("claper")
    assert "clapper" in caught.value.hint
    with pytest.raises(UnknownNameError, match="no iron setting"):
        iron_setting("four")
