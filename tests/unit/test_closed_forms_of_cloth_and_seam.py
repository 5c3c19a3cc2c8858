"""What the closed forms of cloth and seam refuse, and how they hang together."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.cloth.conductivity import (
    geometric_mean_conductivity_w_mk,
    maxwell_eucken_conductivity_w_mk,
    parallel_conductivity_w_mk,
    parallel_share,
    schuhmeister_conductivity_w_mk,
    series_conductivity_w_mk,
)
from samite.cloth.regain import blend_at_allowances_percent, mass_at_regain_gsm
from samite.cloth.structure import bulk_density_kg_m3, cloth_cover_factor, porosity, thickness_mm
from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError
from samite.seam.consumption import needle_thread_share, stitch_geometries, thread_ratio
from samite.seam.needle_size import (
    minimum_size_nm,
    needle_penetrations,
    needle_size,
    needle_sizes,
    needles_used,
    perforation_share,
    size_for_thread_nm,
)
from samite.seam.stretch import (
    lockstitch_stretch_percent,
    stretch_needed_percent,
    zigzag_stretch_percent,
    zigzag_width_mm,
)
from samite.seam.thread_size import resultant_tex, thread_diameter_mm, thread_strength_n

conductivities = st.floats(0.02, 2.0)
shares = st.floats(0.0, 1.0)
lengths = st.floats(0.1, 10.0)


@given(fibre=conductivities, air=conductivities, packing=shares)
def test_every_mixture_lies_between_series_and_parallel(
    fibre: float, air: float, packing: float
) -> None:
    both = {
        "fibre_conductivity_w_mk": fibre,
        "air_conductivity_w_mk": air,
        "packing": packing,
    }
    low = series_conductivity_w_mk(**both) * (1 - 1e-9)
    high = parallel_conductivity_w_mk(**both) * (1 + 1e-9)
    models = (
        geometric_mean_conductivity_w_mk,
        schuhmeister_conductivity_w_mk,
        maxwell_eucken_conductivity_w_mk,
    )
    for model in models:
        assert low <= model(**both) <= high


@given(share=shares, packing=st.floats(0.05, 0.95))
def test_the_parallel_share_is_found_again(share: float, packing: float) -> None:
    both = {
        "fibre_conductivity_w_mk": 0.25,
        "air_conductivity_w_mk": 0.026,
        "packing": packing,
    }
    pad = schuhmeister_conductivity_w_mk(**both, parallel_share=share)
    low, high = series_conductivity_w_mk(**both), parallel_conductivity_w_mk(**both)
    pad = min(max(pad, low), high)
    assert parallel_share(pad_conductivity_w_mk=pad, **both) == pytest.approx(share, abs=1e-6)


def test_a_pad_outside_the_bounds_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="outside"):
        parallel_share(
            pad_conductivity_w_mk=0.5,
            fibre_conductivity_w_mk=0.25,
            air_conductivity_w_mk=0.026,
            packing=0.3,
        )


@given(mass=st.floats(1.0, 900.0), before=st.floats(0.0, 100.0), after=st.floats(0.0, 100.0))
def test_wetting_and_drying_give_the_mass_back(mass: float, before: float, after: float) -> None:
    wet = mass_at_regain_gsm(
        mass_per_area_gsm=mass, regain_percent=before, new_regain_percent=after
    )
    back = mass_at_regain_gsm(
        mass_per_area_gsm=wet, regain_percent=after, new_regain_percent=before
    )
    assert back == pytest.approx(mass)


@given(dry=st.lists(st.floats(0.1, 100.0), min_size=1, max_size=5))
def test_a_composition_adds_to_a_hundred(dry: list[float]) -> None:
    found = blend_at_allowances_percent(dry_shares_percent=dry, allowances_percent=[8.5] * len(dry))
    assert sum(found) == pytest.approx(100.0)


@given(mass=st.floats(1.0, 900.0), density=st.floats(0.9, 3.0), packing=st.floats(0.01, 1.0))
def test_thickness_from_packing_gives_the_porosity_back(
    mass: float, density: float, packing: float
) -> None:
    thickness = thickness_mm(mass_per_area_gsm=mass, fibre_density_g_cm3=density, packing=packing)
    bulk = bulk_density_kg_m3(mass_per_area_gsm=mass, thickness_mm=thickness)
    bulk = min(bulk, 1000.0 * density)
    found = porosity(bulk_density_kg_m3=bulk, fibre_density_g_cm3=density)
    assert found == pytest.approx(1.0 - packing, abs=1e-9)


def test_threads_that_touch_close_the_cloth() -> None:
    assert cloth_cover_factor(warp_cover=28.0, weft_cover=5.0) == pytest.approx(28.0)


def test_cotton_thread_is_as_thick_as_peirce_says() -> None:
    # Peirce 1937, d = 1/(28 sqrt(Ne)) in, from memory; specific volume 1.1 cm3/g.
    peirce_mm = 25.4 / (28.0 * math.sqrt(40.0))
    found = thread_diameter_mm(
        linear_density_tex=590.54 / 40.0, fibre_density_g_cm3=1.52, packing=0.60
    )
    assert found == pytest.approx(peirce_mm, rel=0.01)


def test_plies_add_and_strength_goes_with_the_count() -> None:
    assert resultant_tex(ply_tex=25.0 / 3.0, plies=3) == pytest.approx(25.0)
    assert thread_strength_n(tenacity_cn_tex=36.0, linear_density_tex=27.0) == pytest.approx(9.72)


@given(stretch=st.floats(0.0, 200.0), length=lengths, extension=st.floats(0.0, 30.0))
def test_the_zigzag_that_a_stretch_needs_gives_that_stretch(
    stretch: float, length: float, extension: float
) -> None:
    width = zigzag_width_mm(
        stretch_percent=stretch, stitch_length_mm=length, thread_extension_percent=extension
    )
    found = zigzag_stretch_percent(
        stitch_length_mm=length, stitch_width_mm=width, thread_extension_percent=extension
    )
    assert found == pytest.approx(max(stretch, extension), abs=1e-4)


@given(extra=st.floats(0.0, 0.5))
def test_easing_the_tension_adds_stretch(extra: float) -> None:
    # Reference: a tenth more thread adds about 11 points at 15 % extension.
    base = {"thickness_mm": 1.0, "stitch_length_mm": 2.5, "thread_extension_percent": 15.0}
    tight = lockstitch_stretch_percent(**base)
    eased = lockstitch_stretch_percent(**base, slack=extra)
    assert eased - tight == pytest.approx(115.0 * extra)


def test_ease_and_movement_multiply() -> None:
    found = stretch_needed_percent(negative_ease_percent=10.0, movement_percent=40.0)
    assert found == pytest.approx(54.0)


@given(
    stitch=st.sampled_from(sorted(stitch_geometries())),
    thickness=st.floats(0.0, 5.0),
    length=lengths,
    width=st.floats(0.0, 8.0),
)
def test_a_seam_takes_more_thread_in_thicker_cloth_and_the_needle_takes_its_share(
    stitch: str, thickness: float, length: float, width: float
) -> None:
    seam = {"stitch_type": stitch, "stitch_length_mm": length, "width_mm": width}
    thin = thread_ratio(thickness_mm=thickness, **seam)
    assert thread_ratio(thickness_mm=thickness + 0.1, **seam) > thin >= 1.0
    assert 0.0 < needle_thread_share(thickness_mm=thickness, **seam) <= 1.0


def test_a_zigzag_without_width_is_a_straight_lockstitch() -> None:
    seam = {"thickness_mm": 1.0, "stitch_length_mm": 2.5}
    zigzag = thread_ratio(stitch_type="304", **seam)
    assert zigzag == pytest.approx(thread_ratio(stitch_type="301", **seam))
    assert needle_thread_share(stitch_type="304", **seam) == pytest.approx(0.5)


def test_the_looper_of_the_geometric_chain_stitch_holds_less_than_was_measured() -> None:
    # Apparel Science, measured 401: 62.0 cm of looper thread in 15 cm, 4.13; the geometry gives 3.
    seam = {"stitch_type": "401", "thickness_mm": 1.0, "stitch_length_mm": 2.5}
    looper = thread_ratio(**seam) * (1.0 - needle_thread_share(**seam))
    assert looper == pytest.approx(3.0)
    assert looper < 62.0 / 15.0


def test_an_unknown_stitch_type_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(UnknownNameError) as caught:
        thread_ratio(stitch_type="999", thickness_mm=1.0, stitch_length_mm=2.5)
    assert "301" in caught.value.hint


@pytest.mark.parametrize(
    ("tex", "size"), [(18, 60), (25, 70), (27, 75), (40, 90), (60, 110), (90, 130)]
)
def test_a_polyester_thread_gets_the_needle_that_the_rule_gives(tex: float, size: int) -> None:
    # The eye is 40 % wider than the thread (needle makers); common practice agrees for these.
    diameter = thread_diameter_mm(linear_density_tex=tex, fibre_density_g_cm3=1.383)
    assert size_for_thread_nm(thread_diameter_mm=diameter) == size


def test_a_large_eye_takes_thicker_thread_and_the_thickest_is_refused() -> None:
    assert minimum_size_nm(thread_diameter_mm=0.4, large_eye=True) == pytest.approx(112.0)
    with pytest.raises(OutOfRangeError, match="140") as caught:
        size_for_thread_nm(thread_diameter_mm=0.4)
    assert "large-eye" in caught.value.hint


def test_sizes_rise_together_and_one_that_is_not_sold_is_refused() -> None:
    pairs = [(size.size_nm, size.size_us) for size in needle_sizes()]
    assert pairs == sorted(pairs)
    assert needle_size(size_nm=75).size_us == 11
    with pytest.raises(OutOfRangeError, match="Nm 77"):
        needle_size(size_nm=77)


def test_the_published_short_stitch_in_chiffon_nearly_perforates_it() -> None:
    # Chiffon at 20 stitches an inch with needle 60: 0.47, over the warning at 0.45.
    found = perforation_share(size_nm=60, stitch_length_mm=25.4 / 20.0)
    assert found == pytest.approx(0.472, abs=0.001)


def test_needles_are_counted_up_and_never_none() -> None:
    pierced = needle_penetrations(seam_length_m=10.0, stitch_length_mm=2.5, seam_ends=2)
    assert pierced == 4024
    assert needles_used(penetrations=0) == 1
    assert needles_used(penetrations=50_000) == 1
    assert needles_used(penetrations=50_001) == 2
    assert needles_used(penetrations=8_000, life_factor=0.15) == 2


@pytest.mark.parametrize(
    "refused",
    [
        lambda: bulk_density_kg_m3(mass_per_area_gsm=100.0, thickness_mm=0.0),
        lambda: porosity(bulk_density_kg_m3=1600.0, fibre_density_g_cm3=1.5),
        lambda: thickness_mm(mass_per_area_gsm=100.0, fibre_density_g_cm3=1.5, packing=1.5),
        lambda: thread_ratio(stitch_type="301", thickness_mm=-1.0, stitch_length_mm=2.0),
        lambda: thread_ratio(stitch_type="301", thickness_mm=1.0, stitch_length_mm=math.nan),
        lambda: needles_used(penetrations=10, life_factor=0.0),
        lambda: cloth_cover_factor(warp_cover=29.0, weft_cover=5.0),
    ],
)
def test_impossible_numbers_are_refused(refused: Callable[[], float]) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        refused()
    assert caught.value.where
    assert caught.value.hint


def test_a_list_with_a_missing_number_is_refused() -> None:
    with pytest.raises(InputError, match="do not match"):
        blend_at_allowances_percent(dry_shares_percent=[50.0, 50.0], allowances_percent=[8.5])
