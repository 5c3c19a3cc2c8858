"""Laws that joints obey whatever the cloths, stitches and numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.practice.pairs import ROWS, cloth

from samite.garment.use import Use
from samite.garment.workroom import usual_workroom
from samite.seam.consumption import stitch_geometries, thread_ratio, zigzag_steps
from samite.seam.joint_strength import (
    cloth_strength_n_per_cm,
    joint_strength_n_per_cm,
    perforated_strength_share,
)
from samite.seam.needle_size import perforation_share
from samite.seam.strength import seam_strength_n_per_cm
from samite.seam.stretch import zigzag_stretch_percent, zigzag_width_mm
from samite.seam.thread_size import resultant_tex, thread_strength_n, ticket_number
from samite.seam.together import choose_joint
from samite.services.calc import calculate

STITCHES = sorted({*stitch_geometries(), *zigzag_steps()})
lengths = st.floats(0.5, 6.0)
cloths = st.sampled_from(sorted(ROWS))


@given(
    stitch=st.sampled_from(STITCHES),
    thickness=st.floats(0.05, 8.0),
    length=lengths,
    longer=st.floats(0.01, 4.0),
    width=st.floats(0.0, 8.0),
)
def test_a_longer_stitch_never_takes_more_thread(
    stitch: str, thickness: float, length: float, longer: float, width: float
) -> None:
    seam = {"stitch_type": stitch, "thickness_mm": thickness, "width_mm": width}
    short = thread_ratio(stitch_length_mm=length, **seam)
    assert thread_ratio(stitch_length_mm=length + longer, **seam) <= short + 1e-9


@given(
    length=st.floats(0.6, 5.0),
    shorter=st.floats(0.5, 1.0),
    size=st.sampled_from([60, 75, 90, 110]),
    cut=st.floats(0.0, 1.0),
    tenacity=st.floats(10.0, 60.0),
    mass=st.floats(20.0, 500.0),
)
def test_more_stitches_never_weaken_until_the_holes_do(
    length: float, shorter: float, size: int, cut: float, tenacity: float, mass: float
) -> None:
    def strength(stitch_length: float) -> tuple[float, bool]:
        stitching = seam_strength_n_per_cm(
            stitch_length_mm=stitch_length, thread_strength_n=9.8, loop_factor=1.4
        )
        whole = cloth_strength_n_per_cm(mass_per_area_gsm=mass, tenacity_cn_tex=tenacity)
        holes = perforation_share(size_nm=size, stitch_length_mm=stitch_length)
        left = max(whole * perforated_strength_share(perforation_share=holes, cut_share=cut), 1e-3)
        joint = joint_strength_n_per_cm(
            stitching_n_per_cm=stitching, cloth_n_per_cm=left, other_cloth_n_per_cm=left
        )
        return joint, stitching <= left

    now, _ = strength(length)
    more, stitching_governs = strength(length * shorter)
    assert more >= now - 1e-9 or not stitching_governs


@given(a=st.floats(0.1, 500.0), b=st.floats(0.1, 500.0), stitching=st.floats(0.1, 500.0))
def test_strength_is_the_same_whichever_cloth_is_named_first(
    a: float, b: float, stitching: float
) -> None:
    one = joint_strength_n_per_cm(
        stitching_n_per_cm=stitching, cloth_n_per_cm=a, other_cloth_n_per_cm=b
    )
    other = joint_strength_n_per_cm(
        stitching_n_per_cm=stitching, cloth_n_per_cm=b, other_cloth_n_per_cm=a
    )
    assert one == other


@given(length=lengths, width=st.floats(0.0, 8.0), extension=st.floats(0.0, 30.0))
def test_a_zigzag_comes_back_from_its_stretch(
    length: float, width: float, extension: float
) -> None:
    stretch = zigzag_stretch_percent(
        stitch_length_mm=length, stitch_width_mm=width, thread_extension_percent=extension
    )
    back = zigzag_width_mm(
        stretch_percent=stretch, stitch_length_mm=length, thread_extension_percent=extension
    )
    assert back == pytest.approx(width, abs=1e-5)


@given(one=cloths, other=cloths)
def test_a_pair_is_answered_alike_in_either_order(one: str, other: str) -> None:
    first = choose_joint((cloth(one), cloth(other)), Use(), usual_workroom())
    second = choose_joint((cloth(other), cloth(one)), Use(), usual_workroom())
    assert first.status == second.status
    assert first.settled.point.point == second.settled.point.point
    assert first.settled.needle.size_nm == second.settled.needle.size_nm
    assert first.settled.tex.value == second.settled.tex.value
    if first.ways:
        ours, theirs = first.ways[0].numbers, second.ways[0].numbers
        assert ours.strength_n_per_cm == pytest.approx(theirs.strength_n_per_cm)
        assert ours.thickness_mm == pytest.approx(theirs.thickness_mm)


@given(one=cloths, other=cloths, strain=st.booleans())
def test_every_way_that_is_shown_obeys_its_constraints(one: str, other: str, strain: bool) -> None:
    answer = choose_joint((cloth(one), cloth(other)), Use(strain=strain), usual_workroom())
    assert 1 <= len(answer.ways) <= 3 or answer.status == "cannot"
    totals = [way.total for way in answer.ways]
    assert totals == sorted(totals, reverse=True)
    for way in answer.ways:
        numbers = way.numbers
        assert numbers.stretch_percent >= numbers.needed_stretch_percent
        assert 0.0 < numbers.needle_thread_ratio <= numbers.thread_ratio
        assert numbers.strength_n_per_cm <= numbers.stitching_n_per_cm + 1e-9
        assert way.candidate.stitch.type in way.candidate.machine.stitches
        assert all(0.0 <= score.share <= 1.0 for score in way.scores)
    low, high = answer.settled.needle.range_nm
    assert low <= answer.settled.needle.size_nm <= high


@pytest.fixture(scope="module")
def pint_units() -> object:
    return pytest.importorskip("pint").UnitRegistry()


@given(newtons=st.floats(0.01, 1e4))
def test_force_per_length_converts_as_pint_does(pint_units: object, newtons: float) -> None:
    wanted = (newtons * pint_units("N/cm")).to("lbf/in").magnitude
    found = calculate("convert", {"quantity": f"{newtons!r} N/cm", "to": "lbf/in"}).value
    assert found == pytest.approx(wanted, rel=1e-9)


@given(tex=st.floats(0.5, 500.0), plies=st.integers(1, 6))
def test_counts_of_thread_convert_as_pint_does(pint_units: object, tex: float, plies: int) -> None:
    # tex is g/km by definition; the metric ticket is three times the metric count.
    grams_per_m = (tex * pint_units("g/km")).to("g/m").magnitude
    assert ticket_number(linear_density_tex=tex) == pytest.approx(3.0 / grams_per_m)
    whole = resultant_tex(ply_tex=tex, plies=plies)
    assert whole == pytest.approx(plies * grams_per_m * 1000.0)
    force = thread_strength_n(tenacity_cn_tex=36.0, linear_density_tex=tex)
    wanted = (36.0 * tex * pint_units("cN")).to("N").magnitude
    assert force == pytest.approx(wanted)
