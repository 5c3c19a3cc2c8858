"""The closed forms of pieces, bodies and drape that can be asked for by name."""

from __future__ import annotations

from samite.kernel.evidence import Grade

_DERIVED = Grade.DERIVED
_PUBLISHED = Grade.PUBLICATION
_MEMORY = Grade.FROM_MEMORY
_GUESS = Grade.GUESS

_CIRCLES = "samite.pieces.forms.circles"
_TUBES = "samite.pieces.forms.tubes"
_GATHERS = "samite.pieces.forms.gathers"
_STRIPS = "samite.pieces.forms.strips"
_LIMBS = "samite.pieces.forms.limbs"
_DRAPE = "samite.pieces.forms.drape"
_AREAS = "samite.pieces.cut_areas"
_BODIES = "samite.tables.bodies"
_BUYING = "samite.lay.buying"

PIECE_FORMULAS: dict[str, tuple[str, Grade]] = {
    "circle-waist-radius": (f"{_CIRCLES}:waist_radius_mm", _DERIVED),
    "circle-waist-length": (f"{_CIRCLES}:waist_length_mm", _DERIVED),
    "circle-hem-radius": (f"{_CIRCLES}:hem_radius_mm", _DERIVED),
    "circle-hem-length": (f"{_CIRCLES}:hem_length_mm", _DERIVED),
    "circle-area": (f"{_CIRCLES}:ring_area_mm2", _DERIVED),
    "sector-radius": (f"{_CIRCLES}:sector_radius_mm", _DERIVED),
    "parallel-excess": (f"{_CIRCLES}:parallel_excess_mm", _DERIVED),
    "train-radius": (f"{_CIRCLES}:train_radius_mm", _DERIVED),
    "wing-radius": (f"{_CIRCLES}:wing_radius_mm", _DERIVED),
    "frustum-slant": (f"{_TUBES}:frustum_slant_mm", _DERIVED),
    "frustum-inner-radius": (f"{_TUBES}:frustum_inner_radius_mm", _DERIVED),
    "frustum-outer-radius": (f"{_TUBES}:frustum_outer_radius_mm", _DERIVED),
    "frustum-angle": (f"{_TUBES}:frustum_angle_deg", _DERIVED),
    "gore-half-width": (f"{_TUBES}:gore_half_width_mm", _DERIVED),
    "gore-hem-radius": (f"{_TUBES}:gore_hem_radius_mm", _DERIVED),
    "gore-hem-dip": (f"{_TUBES}:gore_hem_dip_mm", _DERIVED),
    "globe-half-width": (f"{_TUBES}:globe_half_width_mm", _DERIVED),
    "tail-top": (f"{_TUBES}:tail_top_mm", _DERIVED),
    "tail-bottom": (f"{_TUBES}:tail_bottom_mm", _DERIVED),
    "cone-dart-angle": (f"{_TUBES}:cone_dart_angle_deg", _DERIVED),
    "dart-tip": (f"{_TUBES}:dart_tip_mm", _DERIVED),
    "dart-budget": (f"{_TUBES}:dart_budget_deg", _DERIVED),
    "rim-stretch": (f"{_TUBES}:rim_stretch", _DERIVED),
    "gathered-width": (f"{_GATHERS}:gathered_width_mm", _DERIVED),
    "tier-widths": (f"{_GATHERS}:tier_widths_mm", _DERIVED),
    "seam-bulk": (f"{_GATHERS}:seam_bulk_mm", _DERIVED),
    "gather-widths": (f"{_GATHERS}:gather_widths", _PUBLISHED),
    "pleated-width": (f"{_GATHERS}:pleated_width_mm", _DERIVED),
    "pleats-cut": (f"{_GATHERS}:pleats_cut_mm", _PUBLISHED),
    "flounce-radius": (f"{_GATHERS}:flounce_radius_mm", _DERIVED),
    "flounce-ratio": (f"{_GATHERS}:flounce_ratio", _PUBLISHED),
    "flounce-ring": (f"{_GATHERS}:flounce_ring_mm", _DERIVED),
    "flounce-rings": (f"{_GATHERS}:flounce_rings", _DERIVED),
    "spiral-length": (f"{_GATHERS}:spiral_length_mm", _DERIVED),
    "spiral-turns": (f"{_GATHERS}:spiral_turns", _DERIVED),
    "ruff-strip": (f"{_GATHERS}:ruff_strip_mm", _DERIVED),
    "bias-length": (f"{_STRIPS}:bias_length_mm", _PUBLISHED),
    "bias-square": (f"{_STRIPS}:bias_square_mm", _PUBLISHED),
    "bias-spacing": (f"{_STRIPS}:bias_spacing_mm", _DERIVED),
    "bias-across": (f"{_STRIPS}:bias_across_mm", _DERIVED),
    "binding-length": (f"{_STRIPS}:binding_length_mm", _PUBLISHED),
    "binding-width": (f"{_STRIPS}:binding_width_mm", _PUBLISHED),
    "piping-strip": (f"{_STRIPS}:piping_strip_mm", _DERIVED),
    "pull-on-girth": (f"{_STRIPS}:pull_on_girth_mm", _DERIVED),
    "elastic-length": (f"{_STRIPS}:elastic_length_mm", _PUBLISHED),
    "hood-strip": (f"{_STRIPS}:hood_strip_mm", _DERIVED),
    "hood-neck": (f"{_STRIPS}:hood_neck_mm", _DERIVED),
    "sleeve-cap-height": (f"{_LIMBS}:cap_height_mm", _DERIVED),
    "sleeve-cap-length": (f"{_LIMBS}:cap_length_mm", _DERIVED),
    "sleeve-half-cap-length": (f"{_LIMBS}:half_cap_length_mm", _DERIVED),
    "sleeve-cap-halves": (f"{_LIMBS}:cap_halves_mm", _DERIVED),
    "gusset-side": (f"{_LIMBS}:gusset_side_mm", _DERIVED),
    "quarter-ellipse": (f"{_LIMBS}:quarter_ellipse_mm", _DERIVED),
    "crotch-extension": (f"{_LIMBS}:crotch_extension_mm", _GUESS),
    "crotch-straight": (f"{_LIMBS}:crotch_straight_mm", _GUESS),
    "bending-length": (f"{_DRAPE}:bending_length_mm", _MEMORY),
    "flexural-rigidity": (f"{_DRAPE}:flexural_rigidity_mg_cm", _MEMORY),
    "flexural-rigidity-si": (f"{_DRAPE}:flexural_rigidity_un_m", _MEMORY),
    "shear-rigidity": (f"{_DRAPE}:shear_rigidity_n_m", _DERIVED),
    "modulus-at-angle": (f"{_DRAPE}:modulus_at_angle_n_m", _DERIVED),
    "bias-drop": (f"{_DRAPE}:bias_drop_mm", _DERIVED),
    "drape-coefficient": (f"{_DRAPE}:drape_coefficient_percent", _PUBLISHED),
    "fold-pitch": (f"{_DRAPE}:fold_pitch_mm", _GUESS),
    "band-pressure": (f"{_DRAPE}:band_pressure_kpa", _DERIVED),
    "shrinkage-cut": (f"{_DRAPE}:shrinkage_cut_mm", _DERIVED),
    "stretch-percent": (f"{_DRAPE}:measured_stretch_percent", _DERIVED),
    "stretch-cut": (f"{_DRAPE}:stretch_cut_mm", _DERIVED),
    "worn-strain": (f"{_DRAPE}:worn_strain_percent", _DERIVED),
    "rectangle-cut-area": (f"{_AREAS}:rectangle_cut_area_mm2", _DERIVED),
    "polygon-cut-area": (f"{_AREAS}:polygon_cut_area_mm2", _DERIVED),
    "survey-respondents": (f"{_BODIES}:survey_respondents", _PUBLISHED),
    "size-girth": (f"{_BODIES}:size_girth", _PUBLISHED),
    "bust-class-count": (f"{_BODIES}:bust_class_count", _PUBLISHED),
    "bust-class-edges": (f"{_BODIES}:bust_class_edges_cm", _PUBLISHED),
    "child-measure": (f"{_BODIES}:child_measure", _PUBLISHED),
    "estimated-measure": ("samite.pieces.measures:estimated_measure", _GUESS),
    "buy-rounded": (f"{_BUYING}:rounded_up_mm", _DERIVED),
    "buy-other-width": (f"{_BUYING}:converted_length_mm", _PUBLISHED),
    "buy-width-chart": (f"{_BUYING}:width_chart_agreement", _DERIVED),
    "buy-repeat-cut": (f"{_BUYING}:repeat_cut_mm", _PUBLISHED),
    "buy-repeat-allowance": (f"{_BUYING}:repeat_allowance_percent", _PUBLISHED),
    "buy-with-repeat": (f"{_BUYING}:with_repeat_allowance_mm", _PUBLISHED),
    "buy-laid-width": (f"{_BUYING}:laid_width_mm", _DERIVED),
    "buy-length-needed": (f"{_BUYING}:length_needed_mm", _DERIVED),
}
"""Place and grade by the name that a person types."""
