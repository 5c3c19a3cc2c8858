"""Which question each check row of pieces, circles, bias and gathers asks of the product."""

from __future__ import annotations

from tests.published.ask import ask

from samite.lay.buying import (
    converted_length_mm,
    repeat_cut_mm,
    width_chart_agreement,
    with_repeat_allowance_mm,
)
from samite.pieces.cut_areas import polygon_cut_area_mm2, rectangle_cut_area_mm2
from samite.pieces.forms.circles import (
    hem_length_mm,
    parallel_excess_mm,
    ring_area_mm2,
    waist_radius_mm,
)
from samite.pieces.forms.drape import (
    band_pressure_kpa,
    bending_length_mm,
    drape_coefficient_percent,
    flexural_rigidity_mg_cm,
    measured_stretch_percent,
    shear_rigidity_n_m,
    shrinkage_cut_mm,
)
from samite.pieces.forms.gathers import (
    flounce_ratio,
    flounce_rings,
    gather_widths,
    pleated_width_mm,
    pleats_cut_mm,
)
from samite.pieces.forms.limbs import cap_height_mm
from samite.pieces.forms.strips import (
    bias_across_mm,
    bias_length_mm,
    bias_square_mm,
    binding_length_mm,
    binding_width_mm,
    hood_strip_mm,
)
from samite.pieces.forms.tubes import (
    cone_dart_angle_deg,
    frustum_inner_radius_mm,
    globe_half_width_mm,
    rim_stretch,
    tail_top_mm,
)
from samite.tables.bodies import bust_class_count, child_measure, size_girth, survey_respondents

PIECES = {
    "P01": ask(waist_radius_mm, unit="cm", waist="70 cm"),
    "P02": ask(waist_radius_mm, unit="cm", waist="70 cm", fraction="1/2"),
    "P04": ask(waist_radius_mm, unit="cm", waist="70 cm", fraction="0.25"),
    "P05": ask(hem_length_mm, unit="cm", waist="70 cm", length="60 cm"),
    "P06": ask(ring_area_mm2, unit="cm2", waist="70 cm", length="60 cm"),
    "P07": ask(waist_radius_mm, unit="cm", waist="70 cm", panels="2", seam_allowance="1.5 cm"),
    "P09": ask(waist_radius_mm, unit="in", waist="26 in"),
    "P10": ask(parallel_excess_mm, unit="cm", distance="2 cm"),
    "P11": ask(
        frustum_inner_radius_mm,
        unit="cm",
        small_girth="74 cm",
        large_girth="200 cm",
        height="70 cm",
    ),
    "P15": ask(flounce_rings, seam_length="48 in", width="3 in", fullness="3"),
    "P16": ask(flounce_ratio, inner_diameter="1 in", width="1 in"),
    "P19": ask(bias_length_mm, unit="in", side="36 in", width="2 in"),
    "P20": ask(bias_length_mm, unit="in", side="12 in", width="2 in"),
    "P22": ask(cap_height_mm, unit="cm", upper_arm="36 cm", armhole="43 cm"),
    "P25": ask(cone_dart_angle_deg, radius="7 cm", height="3.5 cm"),
    "P27": ask(globe_half_width_mm, unit="cm", radius="10 cm", gores="6", distance="5 cm"),
    "P29": ask(tail_top_mm, unit="cm", radius="40 cm", height="8 cm", angle="90"),
    "P30": ask(hood_strip_mm, unit="cm", opening="36 cm", depth="26 cm", radius="14 cm"),
    "P32": ask(bending_length_mm, unit="cm", overhang="10 cm", angle="41.5"),
    "P34": ask(flexural_rigidity_mg_cm, mass_per_area="200 g/m2", bending_length="2 cm"),
    "P36": ask(shear_rigidity_n_m, bias_extension="5 %", load="5 gf/cm"),
    "P38": ask(
        drape_coefficient_percent,
        shadow_radius="12 cm",
        cloth_radius="15 cm",
        disc_radius="9 cm",
    ),
    "P40": ask(parallel_excess_mm, unit="cm", distance="3 mm"),
    "P42": ask(band_pressure_kpa, tension="100 N/m", girth="60 cm"),
    "P44": ask(shrinkage_cut_mm, unit="cm", finished="100 cm", shrinkage="4 %"),
    "P45": ask(
        rectangle_cut_area_mm2,
        unit="cm2",
        width="30 cm",
        height="50 cm",
        seam_allowance="1.5 cm",
        hem_allowance="4 cm",
    ),
    "P47": ask(polygon_cut_area_mm2, unit="cm2", side="20 cm", sides="3", seam_allowance="1 cm"),
    "P49": ask(pleated_width_mm, unit="cm", finished="70 cm", pleats="10", depth="3 cm"),
    "P51": ask(survey_respondents, population_name="women"),
    "P55": ask(size_girth, unit="cm", measure="bust_girth", size="8"),
    "P56": ask(child_measure, measure="stature", group="girls", age="6"),
    "P57": ask(bust_class_count, low="74", high="131"),
    "P60": ask(rim_stretch, angle="30"),
}

YARDAGE = {
    "Y01": ask(converted_length_mm, unit="yd", length="2 yd", width="60 in", new_width="45 in"),
    "Y05": ask(
        converted_length_mm, unit="yd", length="3 3/8 yd", width="35.5 in", new_width="44.5 in"
    ),
    "Y06": ask(width_chart_agreement, tolerance="1/4 yd"),
    "Y14": ask(repeat_cut_mm, unit="in", length="96 in", repeat_along="27 in"),
    "Y18": ask(
        with_repeat_allowance_mm,
        unit="yd",
        length="7 yd",
        repeat_along="18 in",
        repeat_across="13.5 in",
    ),
    "Y07": ask(bias_length_mm, unit="in", side="12 in", width="2 in"),
    "Y09": ask(bias_square_mm, unit="in", length="250 in", width="2 in", step="1 in"),
    "Y10": ask(bias_square_mm, unit="in", length="100 in", width="3.5 in", step="1 in"),
    "Y12": ask(binding_length_mm, unit="in", perimeter="60 in", count="8", lap="2 in"),
    "Y13": ask(binding_width_mm, unit="in", finished="0.5 in"),
    "Y19": ask(gather_widths, finished="70 in", fullness="2", width="54 in"),
    "Y20": ask(pleats_cut_mm, unit="cm", pleats="18", visible="4 cm", depth="4 cm"),
    "Y22": ask(waist_radius_mm, unit="cm", waist="70 cm"),
    "Y23": ask(waist_radius_mm, unit="cm", waist="70 cm", fraction="0.5"),
    "Y26": ask(shrinkage_cut_mm, unit="yd", finished="3 yd", shrinkage="5 %"),
    "Y27": ask(measured_stretch_percent, rest="10 cm", stretched="14 cm"),
    "Y29": ask(bias_across_mm, unit="cm", cloth_width="150 cm"),
}

ASKED_PIECES = {**PIECES, **YARDAGE}
"""Row id to questions, one for each value that the row expects."""
