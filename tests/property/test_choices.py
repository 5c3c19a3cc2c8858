"""Laws that the choices obey on any cloth."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st

from samite.cloth.build import build_cloth
from samite.cloth.model import Cloth
from samite.cloth.reading import Component, FibreShare, LabelReading, PartKind
from samite.garment.use import Use
from samite.kernel.evidence import GIVEN
from samite.kernel.quantity import exact
from samite.press.ceiling import find_ceiling
from samite.press.recipe import choose_recipe
from samite.seam.choose import choose_sewing
from samite.seam.needle_size import size_for_thread_nm
from samite.seam.thread_size import thread_diameter_mm

FIBRES = ("polyester", "polyamide", "cotton", "wool", "silk", "viscose", "acetate", "acrylic")
SURFACES = (PartKind.PILE, PartKind.GLITTER, PartKind.DOTS, PartKind.FILM, PartKind.FLOCK)


@st.composite
def readings(draw: st.DrawFn) -> LabelReading:
    elastane = draw(st.sampled_from((0.0, 3.0, 12.0)))
    fibres = [FibreShare(draw(st.sampled_from(FIBRES)), 100.0 - elastane)]
    if elastane:
        fibres.append(FibreShare("elastane", elastane))
    surfaces = draw(st.sets(st.sampled_from(SURFACES), max_size=2))
    mass = draw(st.floats(20.0, 700.0))
    thick = mass / (1000.0 * draw(st.floats(0.08, 0.6)))
    return LabelReading(
        text="any cloth",
        components=(
            *(Component(kind) for kind in sorted(surfaces)),
            Component(PartKind.BASE, tuple(fibres)),
        ),
        mass_per_area_gsm=exact(mass, "g/m2", GIVEN, given=True),
        thickness_mm=exact(thick, "mm", GIVEN, given=True),
        stretch_cross_percent=exact(draw(st.sampled_from((0.0, 8.0, 40.0))), "%", GIVEN),
    )


def cloth_of(reading: LabelReading) -> Cloth:
    return build_cloth(reading)


@given(readings())
def test_parts_share_out_the_whole_mass_and_packing_is_a_share(reading: LabelReading) -> None:
    cloth = cloth_of(reading)
    assert abs(sum(part.mass_share for part in cloth.parts) - 1.0) < 1e-9
    assert 0.0 < cloth.packing.low <= cloth.packing.high < 1.0
    assert cloth.conductivity_w_mk.low > 0.0


@given(readings())
def test_the_thread_passes_the_eye_one_size_down_at_most(reading: LabelReading) -> None:
    sewing = choose_sewing(cloth_of(reading), Use())
    diameter = thread_diameter_mm(
        linear_density_tex=float(sewing.thread.value.tex), fibre_density_g_cm3=1.38
    )
    needed = size_for_thread_nm(thread_diameter_mm=diameter)
    sizes = (55, 60, 65, 70, 75, 80, 85, 90, 100, 110, 120, 130)
    assert sizes.index(sewing.needle.value.size_nm) >= sizes.index(needed) - 1


@given(readings())
def test_a_stretch_seam_gets_a_stitch_with_width(reading: LabelReading) -> None:
    cloth = cloth_of(reading)
    stitch = choose_sewing(cloth, Use()).stitch.value
    knit = cloth.construction == "knit" and cloth.stretch_cross_percent.value >= 15
    assert (stitch.width_mm > 0.0) or not knit
    assert (stitch.type == "301") == (stitch.width_mm == 0.0)


@given(readings())
def test_the_iron_never_passes_the_ceiling_nor_steams_at_one_dot(reading: LabelReading) -> None:
    cloth = cloth_of(reading)
    ceiling = find_ceiling(cloth).value
    recipe = choose_recipe(cloth, Use()).value
    assert recipe.iron.dots <= ceiling.wrong_side.dots
    assert recipe.iron.value != "low" or recipe.steam in ("none", "hover")


@given(readings(), st.integers(0, 3))
def test_a_care_symbol_rules(reading: LabelReading, dots: int) -> None:
    recipe = choose_recipe(cloth_of(replace(reading, care_dots=dots)), Use()).value
    assert recipe.iron.dots <= dots


@given(readings())
def test_heavier_cloth_never_gets_a_finer_needle(reading: LabelReading) -> None:
    heavy = replace(
        reading,
        mass_per_area_gsm=reading.mass_per_area_gsm.scaled(1.6, "g/m2"),  # type: ignore[union-attr]
        thickness_mm=reading.thickness_mm.scaled(1.6, "mm"),  # type: ignore[union-attr]
    )
    light_cloth, heavy_cloth = cloth_of(reading), cloth_of(heavy)
    first, second = (choose_sewing(c, Use()).needle.value for c in (light_cloth, heavy_cloth))
    assume(first.point == second.point and light_cloth.construction == heavy_cloth.construction)
    assert second.size_nm >= first.size_nm


@given(readings())
def test_saying_that_it_does_not_ravel_takes_the_finish_away(reading: LabelReading) -> None:
    cloth = cloth_of(replace(reading, ravels=False))
    assert cloth.frays == 0
    assert choose_sewing(cloth, Use()).seam.value.finish == "none"
