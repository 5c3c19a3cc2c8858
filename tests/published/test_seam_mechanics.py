"""Mechanics of seams against numbers that stand in print; the source is beside each number."""

from __future__ import annotations

import math

import pytest

from samite.kernel.errors import UnknownError, UnknownNameError
from samite.seam.bulk import (
    crossing_plies,
    crossing_thickness_mm,
    foot_margin_mm,
    stack_thickness_mm,
)
from samite.seam.consumption import stitch_geometries, thread_ratio, zigzag_steps
from samite.seam.foundation import (
    band_holding_force_n,
    band_tension_needed_n,
    check_foundation,
    girth_gained_mm,
)
from samite.seam.gathering import gathered_thickness_mm, gathering_ratio
from samite.seam.joint_strength import (
    balanced_thread_n,
    cloth_strength_n_per_cm,
    joint_strength_n_per_cm,
    perforated_strength_share,
)
from samite.seam.minutes import element_minutes_per_m, machine_rate_m_per_min
from samite.seam.needle_fit import (
    eye_width_mm,
    shortest_stitch_mm,
    thread_in_eye_share,
    yarn_diameter_mm,
    yarn_spacing_mm,
    yarns_under_needle,
)
from samite.seam.needle_heat import needle_temperature_c, speed_for_temperature
from samite.seam.needle_size import needle_sizes
from samite.seam.pucker import (
    jamming_percent,
    pucker_height_mm,
    shrinkage_excess_percent,
    yarn_cover,
)
from samite.seam.strength import seam_strength_n_per_cm
from samite.seam.stretch import body_movement, seam_stretch_percent
from samite.seam.thread_amount import (
    bobbin_length_m,
    bobbins_needed,
    flat_thread_ratio,
    thread_with_ends_m,
    within_flat_band,
)

SPI_12_MM = 25.4 / 12

# A thread maker's ratio table and his stitch guide (thread-ratio-table): m of thread per m of seam.
FLAT = {"101": 4.0, "301": 2.5, "401": 5.5, "504": 14.0, "516": 20.0, "602": 25.0, "605": 28.0}


@pytest.mark.parametrize(("stitch", "ratio"), FLAT.items())
def test_flat_ratios_are_those_of_the_thread_maker(stitch: str, ratio: float) -> None:
    assert flat_thread_ratio(stitch_type=stitch).value == pytest.approx(ratio, abs=0.5)


@pytest.mark.parametrize("stitch", FLAT)
def test_formulas_lie_in_the_band_round_the_flat_ratios_at_12_to_the_inch(stitch: str) -> None:
    # Cloth 1 mm thick; width 5 mm overedge, 6.35 mm cover (chosen, so this shows consistency).
    width = {"504": 5.0, "516": 5.0, "602": 6.35, "605": 6.35}.get(stitch, 0.0)
    ratio = thread_ratio(
        stitch_type=stitch, thickness_mm=1.0, stitch_length_mm=SPI_12_MM, width_mm=width
    )
    flat = flat_thread_ratio(stitch_type=stitch).value
    assert within_flat_band(thread_ratio=ratio, flat_ratio=flat)


def test_every_printed_flat_ratio_of_a_formula_has_both() -> None:
    # 406 prints 18 where its formula gives 14 at 12 to the inch: just inside the band.
    ratio = thread_ratio(
        stitch_type="406", thickness_mm=1.0, stitch_length_mm=SPI_12_MM, width_mm=6.35
    )
    assert within_flat_band(
        thread_ratio=ratio, flat_ratio=flat_thread_ratio(stitch_type="406").value
    )
    assert not within_flat_band(thread_ratio=4.0, flat_ratio=12.0)  # a page that prints 503 as 4


def test_no_flat_ratio_is_made_up() -> None:
    with pytest.raises(UnknownError, match="no flat thread ratio"):
        flat_thread_ratio(stitch_type="308")
    with pytest.raises(UnknownNameError):
        flat_thread_ratio(stitch_type="999")


def test_stitch_geometries_and_zigzags_are_apart() -> None:
    # ISO 4915: 304 is the plain zigzag, 308 and 321 have two and three stitches a leg (memory).
    assert dict(zigzag_steps()) == {"304": 1, "308": 2, "321": 3}
    assert not set(zigzag_steps()) & set(stitch_geometries())


def test_needle_sizes_are_those_of_the_charts() -> None:
    # needle-size-charts: 60/8 to 120/19.
    pairs = {size.size_nm: size.size_us for size in needle_sizes()}
    assert {60: 8, 70: 10, 80: 12, 90: 14, 100: 16, 110: 18, 120: 19}.items() <= pairs.items()


def test_thread_with_ends_on_a_household_machine() -> None:
    # Common practice: two ends of 12 cm each thread, and 10 mm sewn three times at either end.
    bare = 2.5 * 1.0
    found = thread_with_ends_m(thread_ratio=2.5, seam_length_m=1.0)
    assert found == pytest.approx(bare + 2.5 * 0.04 + 0.48)


def test_a_household_bobbin_holds_40_to_70_m_of_tex_27() -> None:
    # Common practice; tex 27 polyester is 0.203 mm thick.
    held = bobbin_length_m(thread_diameter_mm=0.203)
    assert 40.0 <= held <= 70.0
    assert bobbins_needed(bobbin_thread_m=100.0, bobbin_length_m=held) == 3
    assert bobbins_needed(bobbin_thread_m=2 * held, bobbin_length_m=held) == 2


def test_crossings_of_open_closed_and_french_seams() -> None:
    # Plies by counting: open 2, to one side 3, French 5.
    assert crossing_plies(plies=2, other_plies=2) == 4
    assert crossing_plies(plies=3, other_plies=3) == 9
    assert crossing_plies(plies=5, other_plies=5) == 25
    # Two closed seams of a cloth of 0.8 mm, pressed: more than the 5 mm at which one hammers.
    thick = crossing_thickness_mm(ply_thickness_mm=0.8, plies=3, other_plies=3)
    assert thick == pytest.approx(5.76)
    assert foot_margin_mm(thickness_mm=thick) == pytest.approx(0.24)
    assert stack_thickness_mm(thicknesses_mm=(0.5, 1.0), pressed_share=0.8) == pytest.approx(1.2)


def test_strength_of_a_joint_is_that_of_its_weakest() -> None:
    # thread-bulletin-spi: 301, 12 to the inch, 2.6 lbf, factor 1.5: 46.8 lbf/in = 82.0 N/cm; the
    # weaker thread governs.
    weaker = balanced_thread_n(needle_thread_n=11.57, other_thread_n=9.79)
    assert weaker == 9.79
    stitching = seam_strength_n_per_cm(
        stitch_length_mm=SPI_12_MM, thread_strength_n=11.57, loop_factor=1.5
    )
    assert stitching == pytest.approx(82.0, abs=0.1)
    found = joint_strength_n_per_cm(
        stitching_n_per_cm=stitching, cloth_n_per_cm=60.0, other_cloth_n_per_cm=200.0
    )
    assert found == 60.0


def test_a_dress_cloth_of_polyester_breaks_where_buyers_expect() -> None:
    # Buyers' targets for light shirts and dresses: 250 to 350 N in a 25 mm grab (a weak page).
    force = cloth_strength_n_per_cm(mass_per_area_gsm=120.0, tenacity_cn_tex=40.0)
    assert 250.0 <= 2.5 * force <= 350.0


def test_perforation_of_the_published_chiffon_stitch() -> None:
    # A sewing magazine: chiffon 12 to 20 stitches to the inch with needle 60 to 70.
    assert shortest_stitch_mm(size_nm=60) == pytest.approx(25.4 / 20, abs=0.07)
    left = perforated_strength_share(perforation_share=0.36, cut_share=1.0)
    assert left == pytest.approx(0.64)


def test_eye_and_thread_by_the_makers_rule() -> None:
    # needle-trade-rule: eye 40 % larger than the thread; tex 27 is 0.203 mm: needle 75.
    assert eye_width_mm(size_nm=75) == pytest.approx(0.30)
    assert eye_width_mm(size_nm=75, large_eye=True) == pytest.approx(0.375)
    assert thread_in_eye_share(thread_diameter_mm=0.203, size_nm=75) < 1 / 1.4
    assert thread_in_eye_share(thread_diameter_mm=0.203, size_nm=70) > 1 / 1.4


def test_a_needle_against_the_yarns_of_a_lawn() -> None:
    # A plain weave of 40 threads to the centimetre in Ne 80 (0.10 mm by Peirce, from memory).
    spacing = yarn_spacing_mm(yarn_diameter_mm=0.10, cover=0.40)
    assert spacing == pytest.approx(0.25)
    assert yarns_under_needle(size_nm=75, yarn_spacing_mm=spacing) == pytest.approx(3.0)
    assert yarn_diameter_mm(ground_thickness_mm=0.2) == pytest.approx(0.10)


def test_needle_heat_follows_the_measured_orders_of_size() -> None:
    # Mazari and others: linear in speed; about 100 C near 1000, 200 to 300 C at 3000 to 4700
    # stitches a minute (temperatures from memory).
    assert 70.0 <= needle_temperature_c(stitches_per_min=1000) <= 130.0
    assert 180.0 <= needle_temperature_c(stitches_per_min=3000) <= 260.0
    assert 230.0 <= needle_temperature_c(stitches_per_min=4700) <= 320.0
    speed = speed_for_temperature(limit_c=110.0)
    assert needle_temperature_c(stitches_per_min=speed, time_s=1e4) == pytest.approx(110.0)


def test_jamming_goes_with_a_finer_thread_and_a_longer_stitch() -> None:
    # Common practice: both are the first cures of structural pucker in close weaves.
    close = jamming_percent(cover=0.98, thread_diameter_mm=0.203, stitch_length_mm=2.0)
    finer = jamming_percent(cover=0.98, thread_diameter_mm=0.166, stitch_length_mm=2.0)
    longer = jamming_percent(cover=0.98, thread_diameter_mm=0.203, stitch_length_mm=3.0)
    assert close > finer > 0.0
    assert close > longer > 0.0
    assert jamming_percent(cover=0.5, thread_diameter_mm=0.203, stitch_length_mm=2.0) == 0.0
    assert yarn_cover(packing=0.47) == pytest.approx(1.0)


def test_pucker_height_is_that_of_a_sine_of_the_same_length() -> None:
    # Reference: the arc length of a sine, by quadrature.
    height = pucker_height_mm(excess_percent=1.0, wave_length_mm=10.0)
    steps = 20_000
    slope = math.pi * height / 10.0
    arc = sum(
        math.sqrt(1.0 + (slope * math.cos(2.0 * math.pi * (i + 0.5) / steps)) ** 2)
        for i in range(steps)
    )
    assert arc / steps == pytest.approx(1.01, abs=2e-4)


def test_shrinkage_of_unlike_plies() -> None:
    # 100 that shrinks 5 % beside 100 that stays: 100/95.
    found = shrinkage_excess_percent(ply_shrinkage_percent=0.0, other_shrinkage_percent=5.0)
    assert found == pytest.approx(5.263, abs=0.001)
    swapped = shrinkage_excess_percent(ply_shrinkage_percent=5.0, other_shrinkage_percent=0.0)
    assert swapped == pytest.approx(found)


def test_skin_strain_of_the_knee() -> None:
    # Kirk and Ibrahim 1966: knee lengthwise 35 to 45 % (from memory).
    found = body_movement(place="knee-lengthwise")
    assert (found.low, found.high) == (35.0, 45.0)


def test_stretch_by_stitch_type() -> None:
    # A catalogue and a textbook: a lockstitch seam gives about 30 %; a two-thread chain about
    # twice that; overedge 100 % and more (common practice).
    lock = {"thickness_mm": 1.0, "stitch_length_mm": 2.5, "thread_extension_percent": 15.0}
    straight = seam_stretch_percent(stitch_type="301", thickness_left=0.8, **lock)
    assert 15.0 <= straight <= 41.0
    chain = seam_stretch_percent(stitch_type="401", thickness_left=0.8, **lock)
    assert chain == pytest.approx(2 * straight)
    assert seam_stretch_percent(stitch_type="504", **lock) >= 100.0
    # p 2.5, w 2.5, e 0: 41.4 % by the diagonal.
    zigzag = seam_stretch_percent(
        stitch_type="304",
        thickness_mm=0.0,
        stitch_length_mm=2.5,
        stitch_width_mm=2.5,
        thread_extension_percent=0.0,
    )
    assert zigzag == pytest.approx(41.4, abs=0.05)


def test_a_home_machine_feeds_three_quarters_of_a_metre_a_minute() -> None:
    # 300 stitches a minute of 2.5 mm; 5000 at 8 to the inch is 17.4 yd (thread-bulletin-spi).
    rate = machine_rate_m_per_min(stitches_per_min=300, stitch_length_mm=2.5)
    assert rate == pytest.approx(0.75)
    yards = machine_rate_m_per_min(stitches_per_min=5000, stitch_length_mm=25.4 / 8) / 0.9144
    assert yards == pytest.approx(17.4, abs=0.05)


def test_minutes_are_longer_on_pile_than_on_plain_cloth() -> None:
    plain = element_minutes_per_m(element="sew", cloth_class="plain").value
    assert element_minutes_per_m(element="sew", cloth_class="pile").value > plain
    with pytest.raises(UnknownNameError, match="no minutes for knit"):
        element_minutes_per_m(element="knit", cloth_class="plain")


def test_a_band_holds_what_capstan_and_laplace_say() -> None:
    # Laplace: pressure T / (r h), over 2 pi r h, times friction; the girth falls out.
    held = band_holding_force_n(band_tension_n=15.0, friction=0.3)
    girth_m, height_m = 0.70, 0.025
    radius = girth_m / (2 * math.pi)
    pressure = 15.0 / (radius * height_m)
    assert held == pytest.approx(pressure * girth_m * height_m * 0.3)
    assert band_tension_needed_n(mass_kg=held / 9.81, friction=0.3) == pytest.approx(15.0)


def test_a_heavy_beaded_skirt_drags_a_strapless_top_down() -> None:
    # Common practice: a beaded skirt of several kilograms needs straps or the hips; chiffon does not.
    assert check_foundation(skirt_mass_kg=0.5) == ()
    dragged = check_foundation(skirt_mass_kg=8.0, hip_share=0.2)
    assert "slides down" in dragged[0]
    creeping = check_foundation(skirt_mass_kg=5.0, hip_share=0.5)
    assert "creeps" in creeping[0]


def test_letting_out_two_side_seams_of_40_mm_gains_12_cm() -> None:
    # Common practice leaves 25 to 40 mm at fitted sides; 10 mm have to stay.
    assert girth_gained_mm(allowance_mm=40.0, seams=2) == pytest.approx(120.0)
    assert girth_gained_mm(allowance_mm=8.0, seams=2) == 0.0


def test_gathering_ratios_fall_with_weight() -> None:
    # Common practice: three to one in chiffon, two in dress weights, one and a half in heavy cloth.
    sheer, medium, heavy = (
        gathering_ratio(cloth_class=name) for name in ("sheer", "medium", "heavy")
    )
    assert sheer.low > medium.low > heavy.low
    assert gathered_thickness_mm(thickness_mm=0.2, gathering_ratio=3.0) == pytest.approx(0.6)
