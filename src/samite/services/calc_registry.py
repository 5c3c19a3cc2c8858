"""The closed-form functions that can be asked for by name."""

from __future__ import annotations

from dataclasses import dataclass

from samite.kernel.evidence import Grade
from samite.services.calc_law import CALC_RULES
from samite.services.calc_pieces import PIECE_FORMULAS


@dataclass(frozen=True, slots=True)
class Formula:
    """Where a named function lives and how well it is known.

    Its arguments, units, summary and source stand in its docstring.

    Parameters
    ----------
    place : str
        Module and function, ``"samite.cloth.regain:commercial_mass_g"``.
    grade : Grade
        How well the formula is known; a value with evidence of its own overrides it.
    """

    place: str
    grade: Grade


_DERIVED = Grade.DERIVED
_PUBLISHED = Grade.PUBLICATION
_MEMORY = Grade.FROM_MEMORY
_PRACTICE = Grade.COMMON_PRACTICE
_GUESS = Grade.GUESS

_TABLES = "samite.services.calc_tables"
_REGAIN = "samite.cloth.regain"
_STRUCTURE = "samite.cloth.structure"
_CONDUCTIVITY = "samite.cloth.conductivity"
_NEEDLE = "samite.seam.needle_size"
_THREAD = "samite.seam.thread_size"
_CONSUMPTION = "samite.seam.consumption"
_STRENGTH = "samite.seam.strength"
_STRETCH = "samite.seam.stretch"
_AMOUNT = "samite.seam.thread_amount"
_BULK = "samite.seam.bulk"
_PUCKER = "samite.seam.pucker"
_FIT = "samite.seam.needle_fit"
_NEEDLE_HEAT = "samite.seam.needle_heat"
_JOINT = "samite.seam.joint_strength"
_FOUNDATION = "samite.seam.foundation"
_MINUTES = "samite.seam.minutes"
_WORK_MINUTES = "samite.work.minutes"
_GATHERING = "samite.seam.gathering"

_CLOSED = "samite.press.closed_forms"
_WALLS = "samite.press.walls"
_STEADY = "samite.press.steady"
_WATER = "samite.press.water"
_SUBSTANCES = "samite.press.substances"

FORMULAS: dict[str, Formula] = {
    **{name: Formula(*entry) for name, entry in CALC_RULES.items()},
    **{name: Formula(*entry) for name, entry in PIECE_FORMULAS.items()},
    "convert": Formula(f"{_TABLES}:converted", _DERIVED),
    "running-mass-to-area": Formula("samite.kernel.units:running_mass_to_area", _DERIVED),
    "fibre-value": Formula(f"{_TABLES}:fibre_value", _PUBLISHED),
    "moisture-content": Formula(f"{_REGAIN}:moisture_content_percent", _DERIVED),
    "commercial-mass": Formula(f"{_REGAIN}:commercial_mass_g", _PUBLISHED),
    "blend-at-allowances": Formula(f"{_REGAIN}:blend_at_allowances_percent", _MEMORY),
    "mass-at-regain": Formula(f"{_REGAIN}:mass_at_regain_gsm", _DERIVED),
    "blend-specific-heat": Formula(f"{_REGAIN}:blend_specific_heat_j_gk", _DERIVED),
    "specific-heat-at-regain": Formula(f"{_REGAIN}:specific_heat_at_regain_j_gk", _DERIVED),
    "cover-factor": Formula(f"{_STRUCTURE}:cover_factor", _MEMORY),
    "cloth-cover-factor": Formula(f"{_STRUCTURE}:cloth_cover_factor", _MEMORY),
    "bulk-density": Formula(f"{_STRUCTURE}:bulk_density_kg_m3", _DERIVED),
    "porosity": Formula(f"{_STRUCTURE}:porosity", _DERIVED),
    "filament-diameter": Formula(f"{_STRUCTURE}:filament_diameter_um", _DERIVED),
    "cloth-thickness": Formula(f"{_STRUCTURE}:thickness_mm", _DERIVED),
    "conductivity-parallel": Formula(f"{_CONDUCTIVITY}:parallel_conductivity_w_mk", _DERIVED),
    "conductivity-series": Formula(f"{_CONDUCTIVITY}:series_conductivity_w_mk", _DERIVED),
    "conductivity-geometric-mean": Formula(
        f"{_CONDUCTIVITY}:geometric_mean_conductivity_w_mk", _DERIVED
    ),
    "conductivity-schuhmeister": Formula(
        f"{_CONDUCTIVITY}:schuhmeister_conductivity_w_mk", _MEMORY
    ),
    "conductivity-maxwell-eucken": Formula(
        f"{_CONDUCTIVITY}:maxwell_eucken_conductivity_w_mk", _MEMORY
    ),
    "parallel-share": Formula(f"{_CONDUCTIVITY}:parallel_share", _MEMORY),
    "pad-conductivity": Formula(f"{_TABLES}:pad_conductivity_w_mk", _DERIVED),
    "iron-limit": Formula(f"{_TABLES}:iron_limit", _PUBLISHED),
    "steam-at-dots": Formula(f"{_TABLES}:steam_at_dots", _PUBLISHED),
    "hot-pressing-test": Formula(f"{_TABLES}:hot_pressing_test", _MEMORY),
    "needle-us-size": Formula(f"{_TABLES}:needle_us_size", _PUBLISHED),
    "needle-metric-size": Formula(f"{_TABLES}:needle_metric_size", _PUBLISHED),
    "needle-blade-diameter": Formula(f"{_NEEDLE}:blade_diameter_mm", _DERIVED),
    "needle-minimum-size": Formula(f"{_NEEDLE}:minimum_size_nm", _PRACTICE),
    "needle-size-for-thread": Formula(f"{_NEEDLE}:size_for_thread_nm", _PRACTICE),
    "needle-penetrations": Formula(f"{_NEEDLE}:needle_penetrations", _DERIVED),
    "needles-used": Formula(f"{_NEEDLE}:needles_used", _GUESS),
    "perforation-share": Formula(f"{_NEEDLE}:perforation_share", _DERIVED),
    "thread-ticket": Formula(f"{_THREAD}:ticket_number", _PUBLISHED),
    "thread-resultant": Formula(f"{_THREAD}:resultant_tex", _DERIVED),
    "thread-diameter": Formula(f"{_THREAD}:thread_diameter_mm", _DERIVED),
    "thread-strength": Formula(f"{_THREAD}:thread_strength_n", _DERIVED),
    "thread-tenacity": Formula(f"{_THREAD}:tenacity_cn_tex", _DERIVED),
    "thread-ratio": Formula(f"{_CONSUMPTION}:thread_ratio", _PUBLISHED),
    "thread-ratio-gain": Formula(f"{_CONSUMPTION}:thread_ratio_gain_percent", _PUBLISHED),
    "thread-ratio-measured": Formula(f"{_CONSUMPTION}:measured_thread_ratio", _DERIVED),
    "thread-needle-share": Formula(f"{_CONSUMPTION}:needle_thread_share", _DERIVED),
    "thread-length": Formula(f"{_CONSUMPTION}:thread_length_m", _DERIVED),
    "seam-strength": Formula(f"{_STRENGTH}:seam_strength_n_per_cm", _PUBLISHED),
    "seam-strength-gain": Formula(f"{_STRENGTH}:seam_strength_gain_percent", _PUBLISHED),
    "seam-efficiency": Formula(f"{_STRENGTH}:seam_efficiency_percent", _MEMORY),
    "zigzag-stretch": Formula(f"{_STRETCH}:zigzag_stretch_percent", _DERIVED),
    "zigzag-width": Formula(f"{_STRETCH}:zigzag_width_mm", _DERIVED),
    "lockstitch-stretch": Formula(f"{_STRETCH}:lockstitch_stretch_percent", _DERIVED),
    "stretch-needed": Formula(f"{_STRETCH}:stretch_needed_percent", _MEMORY),
    "seam-stretch": Formula(f"{_STRETCH}:seam_stretch_percent", _DERIVED),
    "body-movement": Formula(f"{_STRETCH}:body_movement", _MEMORY),
    "thread-flat-ratio": Formula(f"{_AMOUNT}:flat_thread_ratio", _PUBLISHED),
    "thread-within-band": Formula(f"{_AMOUNT}:within_flat_band", _GUESS),
    "thread-with-ends": Formula(f"{_AMOUNT}:thread_with_ends_m", _PRACTICE),
    "bobbin-length": Formula(f"{_AMOUNT}:bobbin_length_m", _DERIVED),
    "bobbins-needed": Formula(f"{_AMOUNT}:bobbins_needed", _DERIVED),
    "stack-thickness": Formula(f"{_BULK}:stack_thickness_mm", _DERIVED),
    "crossing-plies": Formula(f"{_BULK}:crossing_plies", _DERIVED),
    "crossing-thickness": Formula(f"{_BULK}:crossing_thickness_mm", _DERIVED),
    "foot-margin": Formula(f"{_BULK}:foot_margin_mm", _PRACTICE),
    "yarn-cover": Formula(f"{_PUCKER}:yarn_cover", _DERIVED),
    "seam-jamming": Formula(f"{_PUCKER}:jamming_percent", _GUESS),
    "pucker-height": Formula(f"{_PUCKER}:pucker_height_mm", _DERIVED),
    "shrinkage-excess": Formula(f"{_PUCKER}:shrinkage_excess_percent", _DERIVED),
    "needle-eye-width": Formula(f"{_FIT}:eye_width_mm", _PRACTICE),
    "thread-in-eye": Formula(f"{_FIT}:thread_in_eye_share", _PRACTICE),
    "cloth-yarn-diameter": Formula(f"{_FIT}:yarn_diameter_mm", _DERIVED),
    "cloth-yarn-spacing": Formula(f"{_FIT}:yarn_spacing_mm", _DERIVED),
    "yarns-under-needle": Formula(f"{_FIT}:yarns_under_needle", _DERIVED),
    "shortest-stitch": Formula(f"{_FIT}:shortest_stitch_mm", _GUESS),
    "needle-temperature": Formula(f"{_NEEDLE_HEAT}:needle_temperature_c", _MEMORY),
    "needle-speed-limit": Formula(f"{_NEEDLE_HEAT}:speed_for_temperature", _MEMORY),
    "cloth-strength": Formula(f"{_JOINT}:cloth_strength_n_per_cm", _GUESS),
    "perforated-strength": Formula(f"{_JOINT}:perforated_strength_share", _DERIVED),
    "joint-strength": Formula(f"{_JOINT}:joint_strength_n_per_cm", _PUBLISHED),
    "weaker-thread": Formula(f"{_JOINT}:balanced_thread_n", _PUBLISHED),
    "band-holding-force": Formula(f"{_FOUNDATION}:band_holding_force_n", _DERIVED),
    "band-tension": Formula(f"{_FOUNDATION}:band_tension_needed_n", _DERIVED),
    "foundation-check": Formula(f"{_FOUNDATION}:check_foundation", _GUESS),
    "girth-gained": Formula(f"{_FOUNDATION}:girth_gained_mm", _DERIVED),
    "machine-rate": Formula(f"{_MINUTES}:machine_rate_m_per_min", _DERIVED),
    "sewing-minutes": Formula(f"{_MINUTES}:element_minutes_per_m", _GUESS),
    "operation-minutes": Formula(f"{_WORK_MINUTES}:operation_minutes", _GUESS),
    "standard-minutes": Formula(f"{_WORK_MINUTES}:standard_minutes", _PUBLISHED),
    "tmu-minutes": Formula(f"{_WORK_MINUTES}:minutes_of_tmu", _PUBLISHED),
    "machine-minutes": Formula(f"{_WORK_MINUTES}:machine_minutes", _PUBLISHED),
    "work-rate": Formula(f"{_WORK_MINUTES}:work_rate_m_per_h", _DERIVED),
    "hand-rate": Formula(f"{_WORK_MINUTES}:hand_rate_m_per_h", _DERIVED),
    "hand-over-machine": Formula(f"{_WORK_MINUTES}:hand_over_machine", _PUBLISHED),
    "seconds-per-stitch": Formula(f"{_WORK_MINUTES}:seconds_per_stitch", _DERIVED),
    "gathering-ratio": Formula(f"{_GATHERING}:gathering_ratio", _PRACTICE),
    "gathered-thickness": Formula(f"{_GATHERING}:gathered_thickness_mm", _DERIVED),
    "thermal-diffusivity": Formula(f"{_CLOSED}:thermal_diffusivity", _DERIVED),
    "thermal-effusivity": Formula(f"{_CLOSED}:thermal_effusivity", _DERIVED),
    "semi-infinite-temperature": Formula(f"{_CLOSED}:semi_infinite_temperature", _DERIVED),
    "semi-infinite-flux": Formula(f"{_CLOSED}:semi_infinite_flux", _DERIVED),
    "semi-infinite-contact-ratio": Formula(f"{_CLOSED}:semi_infinite_contact_ratio", _DERIVED),
    "semi-infinite-contact-temperature": Formula(
        f"{_CLOSED}:semi_infinite_contact_temperature", _DERIVED
    ),
    "contact-temperature": Formula(f"{_CLOSED}:contact_temperature", _DERIVED),
    "depth-reaching": Formula(f"{_CLOSED}:depth_reaching", _DERIVED),
    "fourier-number": Formula(f"{_WALLS}:fourier_number", _DERIVED),
    "biot-number": Formula(f"{_WALLS}:biot_number", _DERIVED),
    "slab-centre-ratio": Formula(f"{_WALLS}:slab_centre_ratio", _DERIVED),
    "slab-ratio": Formula(f"{_WALLS}:slab_ratio", _DERIVED),
    "insulated-face-fourier": Formula(f"{_WALLS}:insulated_face_fourier", _DERIVED),
    "insulated-face-time": Formula(f"{_WALLS}:insulated_face_time", _DERIVED),
    "wall-root": Formula(f"{_WALLS}:wall_root", _DERIVED),
    "wall-coefficient": Formula(f"{_WALLS}:wall_coefficient", _DERIVED),
    "plane-wall-ratio": Formula(f"{_WALLS}:plane_wall_ratio", _DERIVED),
    "plane-wall-temperature": Formula(f"{_WALLS}:plane_wall_temperature", _DERIVED),
    "layer-resistance": Formula(f"{_STEADY}:layer_resistance", _DERIVED),
    "steady-flux": Formula(f"{_STEADY}:steady_flux", _DERIVED),
    "steady-temperatures": Formula(f"{_STEADY}:steady_temperatures", _DERIVED),
    "insulation-thickness": Formula(f"{_STEADY}:insulation_thickness", _DERIVED),
    "lumped-time-constant": Formula(f"{_STEADY}:lumped_time_constant", _DERIVED),
    "lumped-ball-diameter": Formula(f"{_STEADY}:lumped_ball_diameter", _DERIVED),
    "lumped-time": Formula(f"{_STEADY}:lumped_time", _DERIVED),
    "ripple-depth": Formula(f"{_STEADY}:ripple_depth", _DERIVED),
    "ripple-attenuation": Formula(f"{_STEADY}:ripple_attenuation", _DERIVED),
    "iron-pressure": Formula(f"{_STEADY}:iron_pressure", _DERIVED),
    "saturation-pressure": Formula(f"{_WATER}:saturation_pressure", _DERIVED),
    "saturation-temperature": Formula(f"{_WATER}:saturation_temperature", _DERIVED),
    "steam-temperature": Formula(f"{_WATER}:steam_temperature", _DERIVED),
    "latent-heat": Formula(f"{_WATER}:latent_heat", _DERIVED),
    "steam-density": Formula(f"{_WATER}:steam_density", _DERIVED),
    "liquid-density": Formula(f"{_WATER}:liquid_density", _DERIVED),
    "liquid-enthalpy": Formula(f"{_WATER}:liquid_enthalpy", _DERIVED),
    "steaming-heat": Formula(f"{_WATER}:steaming_heat", _DERIVED),
    "air-pressure": Formula(f"{_WATER}:air_pressure", _DERIVED),
    "boiling-point": Formula(f"{_WATER}:boiling_point", _DERIVED),
    "drying-heat": Formula(f"{_WATER}:drying_heat", _DERIVED),
    "drying-time": Formula(f"{_WATER}:drying_time", _DERIVED),
    "steam-condensed": Formula(f"{_WATER}:steam_condensed", _DERIVED),
    "air-conductivity": Formula(f"{_SUBSTANCES}:air_conductivity", _DERIVED),
    "wood-conductivity": Formula(f"{_SUBSTANCES}:wood_conductivity", _MEMORY),
    "wood-specific-heat": Formula(f"{_SUBSTANCES}:wood_specific_heat", _MEMORY),
}
"""By the name that a person types."""
