"""Which question each check row asks of the product: row id to function and inputs.

A question names the function that must answer; it is posed through ``samite calc``, with the inputs
as a person would write them. The expected numbers, their sources and tolerances stand in the rows.
"""

from __future__ import annotations

from tests.published.ask import Ask, ask
from tests.published.asked_minutes import ASKED_MINUTES
from tests.published.asked_pieces import ASKED_PIECES

from samite.cloth.conductivity import (
    geometric_mean_conductivity_w_mk,
    maxwell_eucken_conductivity_w_mk,
    parallel_conductivity_w_mk,
    schuhmeister_conductivity_w_mk,
)
from samite.cloth.regain import (
    blend_at_allowances_percent,
    blend_specific_heat_j_gk,
    commercial_mass_g,
    mass_at_regain_gsm,
    moisture_content_percent,
    specific_heat_at_regain_j_gk,
)
from samite.cloth.structure import (
    bulk_density_kg_m3,
    cloth_cover_factor,
    cover_factor,
    filament_diameter_um,
    porosity,
)
from samite.press.closed_forms import (
    contact_temperature,
    depth_reaching,
    semi_infinite_contact_ratio,
    semi_infinite_flux,
    thermal_diffusivity,
)
from samite.press.steady import (
    insulation_thickness,
    iron_pressure,
    lumped_ball_diameter,
    ripple_attenuation,
    steady_flux,
)
from samite.press.substances import air_conductivity, wood_conductivity, wood_specific_heat
from samite.press.walls import (
    biot_number,
    fourier_number,
    insulated_face_fourier,
    insulated_face_time,
    plane_wall_temperature,
    slab_centre_ratio,
    wall_coefficient,
    wall_root,
)
from samite.press.water import (
    boiling_point,
    drying_time,
    latent_heat,
    saturation_pressure,
    saturation_temperature,
    steam_condensed,
    steam_density,
    steam_temperature,
    steaming_heat,
)
from samite.seam.consumption import (
    measured_thread_ratio,
    needle_thread_share,
    thread_length_m,
    thread_ratio,
    thread_ratio_gain_percent,
)
from samite.seam.needle_size import (
    blade_diameter_mm,
    minimum_size_nm,
    needle_penetrations,
    size_for_thread_nm,
)
from samite.seam.strength import (
    seam_efficiency_percent,
    seam_strength_gain_percent,
    seam_strength_n_per_cm,
)
from samite.seam.stretch import lockstitch_stretch_percent, zigzag_stretch_percent, zigzag_width_mm
from samite.seam.thread_size import (
    tenacity_cn_tex,
    thread_diameter_mm,
    ticket_number,
)
from samite.services.calc_tables import (
    converted,
    fibre_value,
    hot_pressing_test,
    iron_limit,
    needle_us_size,
    pad_conductivity_w_mk,
    steam_at_dots,
)


def unit_of(quantity: str, to: str) -> tuple[Ask, ...]:
    return ask(converted, quantity=quantity, to=to)


def fibre(name: str, *properties: str) -> tuple[Ask, ...]:
    return tuple(Ask(fibre_value, {"fibre": name, "property": one}) for one in properties)


UNITS = {
    "UNIT002": unit_of("2.6 oz/yd2", "g/m2"),
    "UNIT003": unit_of("1 momme", "g/m2"),
    "UNIT005": unit_of("80 g/m2", "momme"),
    "UNIT006": unit_of("150 den", "dtex"),
    "UNIT008": unit_of("Ne 60", "tex"),
    "UNIT009": unit_of("Ne 40/2", "tex"),
    "UNIT011": unit_of("12 spi", "mm"),
    "UNIT012": unit_of("2.5 mm", "1/in"),
    "UNIT014": unit_of("390 F", "C"),
    "UNIT015": unit_of("1 cal/(s cm K)", "W/mK"),
    "UNIT017": unit_of("4.62e-4 cal/(s cm K)", "W/mK"),
    "UNIT018": unit_of("50 gf/cm2", "kPa"),
    "UNIT020": unit_of("54 in", "cm"),
}

REGAIN = {
    "REGA001": ask(moisture_content_percent, regain="8.5 %"),
    "REGA003": ask(commercial_mass_g, dry_mass="100 g", allowance="8.5 %"),
    "REGA004": ask(commercial_mass_g, dry_mass="100 g", allowance="17.0 %"),
    "REGA006": ask(
        blend_at_allowances_percent,
        dry_shares="10.30 / 50.00 / 39.70 %",
        allowances="17.0; 6.25; 8.5",
        losses="0; 0; 4.0",
    ),
    "REGA007": ask(mass_at_regain_gsm, mass_per_area="80 g/m2", regain="10 %"),
    "REGA009": ask(blend_specific_heat_j_gk, shares="65; 35", specific_heats="1.03; 1.30"),
    "REGA010": ask(specific_heat_at_regain_j_gk, dry_specific_heat="1.30 J/(g K)", regain="8.5 %"),
}

FIBRES = {
    "FIBR001": fibre("cotton", "density_g_cm3"),
    "FIBR002": fibre("viscose", "density_g_cm3"),
    "FIBR004": fibre("wool", "density_g_cm3"),
    "FIBR005": fibre("silk", "density_g_cm3"),
    "FIBR007": fibre("polyester", "density_g_cm3"),
    "FIBR008": fibre("acrylic", "density_g_cm3"),
    "FIBR010": fibre("chlorofibre", "density_g_cm3"),
    "FIBR011": fibre("polylactide", "density_g_cm3"),
    "FIBR013": fibre("glass", "density_g_cm3"),
    "FIBR014": fibre("cotton", "specific_heat_dry_j_gk"),
    "FIBR016": fibre("wool", "specific_heat_dry_j_gk"),
    "FIBR017": fibre("silk", "specific_heat_dry_j_gk"),
    "FIBR019": fibre("polyamide-66", "specific_heat_dry_j_gk"),
    "FIBR020": fibre("polyester", "specific_heat_dry_j_gk"),
    "FIBR022": fibre("linen", "tenacity_cn_tex", "breaking_extension_percent"),
    "FIBR023": fibre("silk", "tenacity_cn_tex", "breaking_extension_percent"),
    "FIBR025": fibre("acetate", "tenacity_cn_tex", "breaking_extension_percent"),
    "FIBR026": fibre("polyamide", "tenacity_cn_tex", "breaking_extension_percent"),
    "FIBR028": fibre("polyamide-6", "oxygen_index_percent"),
    "FIBR029": fibre("polyamide-66", "oxygen_index_percent"),
    "FIBR031": fibre("silk", "oxygen_index_percent"),
    "FIBR032": fibre("wool", "oxygen_index_percent"),
    "FIBR034": fibre("chlorofibre", "oxygen_index_percent"),
    "FIBR035": fibre("polyester", "melting_c"),
    "FIBR037": fibre("polyamide-66", "melting_c"),
    "FIBR038": fibre("polypropylene", "melting_c"),
    "FIBR040": fibre("triacetate", "melting_c"),
    "FIBR041": fibre("acetate", "regain_eu_percent", "regain_astm_percent"),
    "FIBR043": fibre("polyester", "regain_eu_percent", "regain_astm_percent"),
    "FIBR044": fibre("acrylic", "regain_eu_percent", "regain_astm_percent"),
    "FIBR046": fibre("elastane", "regain_eu_percent", "regain_astm_percent"),
}


def cloth_density(mass_per_area: str, thickness: str, fibre_density: str) -> tuple[Ask, ...]:
    bulk = Ask(bulk_density_kg_m3, {"mass_per_area": mass_per_area, "thickness": thickness})
    return (bulk, Ask(porosity, {"bulk_density": bulk, "fibre_density": fibre_density}))


STRUCTURE = {
    "STRU002": ask(cover_factor, threads_per_in="60 epi", yarn_ne="Ne 30"),
    "STRU003": ask(cloth_cover_factor, warp_cover="12", weft_cover="10"),
    "STRU005": cloth_density("150.3 g/m2", "0.318 mm", "1.52"),
    "STRU006": cloth_density("234.8 g/m2", "0.568 mm", "1.31"),
    "STRU008": ask(filament_diameter_um, linear_density="1 den", fibre_density="1.39 g/cm3"),
    "STRU009": ask(filament_diameter_um, linear_density="2.2 dtex", fibre_density="1.14 g/cm3"),
}

IRONING = {
    "IRON001": ask(iron_limit, dots="1"),
    "IRON003": ask(iron_limit, dots="3"),
    "IRON004": ask(steam_at_dots, dots="1 dot"),
    "IRON006": ask(hot_pressing_test, test="iso-105-x11"),
    "IRON007": ask(hot_pressing_test, test="aatcc-92"),
    "IRON009": ask(iron_pressure, mass="1.3 kg", sole_area="210 cm2"),
    "IRON010": ask(iron_pressure, mass="1.3 kg", sole_area="210 cm2", hand_force="40 N"),
}

STEAM = {
    "STEA001": ask(saturation_temperature, pressure="101.325 kPa"),
    "STEA002": ask(saturation_pressure, water="100 C"),
    "STEA004": ask(latent_heat, water=Ask(saturation_temperature, {"pressure": "1 atm"})),
    "STEA005": ask(steam_density, water="100 C"),
    "STEA007": ask(steam_temperature, gauge_bar="3 bar", atmosphere="101.325 kPa"),
    "STEA008": ask(steam_temperature, gauge_bar="4 bar", atmosphere="101.325 kPa"),
    "STEA010": ask(boiling_point, altitude="1500 m"),
    "STEA011": ask(steaming_heat, water="20 C", steam="100 C"),
    "STEA013": ask(drying_time, water_gsm="100 g/m2", water_c="20 C", flux="20 kW/m2"),
    "STEA014": ask(
        steam_condensed, mass_per_area="100 g/m2", specific_heat="1.30 J/(g K)", start="20 C"
    ),
}

CLOTH = {"conductivity": "0.06", "density": "400", "specific_heat": "1400 J/(kg K)"}
CLOTH_DIFFUSIVITY = Ask(thermal_diffusivity, CLOTH)
SOIL = Ask(
    thermal_diffusivity, {"conductivity": "0.52", "density": "2050", "specific_heat": "1840"}
)
STEEL = {"conductivity": "63.9", "density": "7832", "specific_heat": "434"}
PIPE = {"conductance": "500", "thickness": "40 mm"}


def suit(outer_conductance: str) -> tuple[Ask, ...]:
    return ask(
        insulation_thickness,
        area="1.8 m2",
        heat_loss="100 W",
        inside="35 C",
        surrounding="10 C",
        inner_thickness="3 mm",
        inner_conductivity="0.3 W/mK",
        insulation_conductivity="0.014 W/mK",
        outer_conductance=outer_conductance,
    )


def wall(biot: str) -> tuple[Ask, ...]:
    root = Ask(wall_root, {"biot": biot})
    return (root, Ask(wall_coefficient, {"root": root}))


def pipe(depth_share: str) -> Ask:
    inputs = {"start": "-20 C", "source": "60 C", "time": "8 min", "depth_share": depth_share}
    return Ask(plane_wall_temperature, {**inputs, **PIPE, **STEEL})


CONDUCTION = {
    "COND002": ask(
        depth_reaching,
        unit="m",
        start="20 C",
        surface="-15 C",
        reached="0 C",
        time="60 days",
        diffusivity=SOIL,
    ),
    "COND003": ask(
        lumped_ball_diameter,
        time_constant="1 s",
        conductance="400",
        density="8500",
        specific_heat="400",
    ),
    "COND005": suit("7.9"),
    "COND006": suit("200"),
    "COND008": wall("0.2"),
    "COND009": wall("1.0"),
    "COND011": (
        Ask(biot_number, {**PIPE, "conductivity": "63.9"}),
        Ask(
            fourier_number,
            {
                "diffusivity": Ask(thermal_diffusivity, STEEL),
                "time": "8 min",
                "thickness": "40 mm",
            },
        ),
        pipe("1"),
        pipe("0"),
    ),
    "COND012": ask(slab_centre_ratio, fourier="0.2"),
    "COND014": ask(insulated_face_fourier, share="95 %"),
    "COND015": ask(insulated_face_time, share="0.95", thickness="0.30 mm", **CLOTH),
    "COND017": ask(
        plane_wall_temperature,
        start="20 C",
        source="150 C",
        conductance="500",
        thickness="0.30 mm",
        depth_share="1",
        time="1.0 s",
        **CLOTH,
    ),
    "COND018": ask(semi_infinite_flux, temperature_step="130 K", time="0.5 s", **CLOTH),
    "COND020": ask(
        semi_infinite_contact_ratio, conductance="500", depth="0 mm", time="1.0 s", **CLOTH
    ),
    "COND021": ask(
        contact_temperature,
        body_a_c="150 C",
        body_a_conductivity="237",
        body_a_density="2700",
        body_a_specific_heat="900",
        body_b_c="20 C",
        body_b_conductivity="0.17",
        body_b_density="700",
        body_b_specific_heat="1660",
    ),
    "COND027": ask(
        steady_flux, thickness="0.4 mm", conductivity="0.05", temperature_difference="50 K"
    ),
    "COND029": ask(ripple_attenuation, period="60 s", diffusivity="1e-7 m2/s", depth="1.0 mm"),
}

MIXTURE = {"fibre_conductivity": ".25", "air_conductivity": ".026", "packing": ".30"}


def pads(*names: str) -> tuple[Ask, ...]:
    return tuple(
        Ask(pad_conductivity_w_mk, {"fibre": name, "bulk_density": "0.5 g/cm3"}) for name in names
    )


MIXTURES = {
    "KMOD001": ask(parallel_conductivity_w_mk, **MIXTURE),
    "KMOD003": ask(geometric_mean_conductivity_w_mk, **MIXTURE),
    "KMOD004": ask(schuhmeister_conductivity_w_mk, **MIXTURE),
    "KMOD006": ask(maxwell_eucken_conductivity_w_mk, **MIXTURE),
    "KMOD007": pads("cotton", "wool", "silk"),
    "KMOD009": ask(wood_conductivity, specific_gravity="0.63", moisture="12 %"),
    "KMOD010": ask(wood_conductivity, specific_gravity="0.56", moisture="12 %"),
    "KMOD012": ask(wood_specific_heat, unit="J/gK", wood="300 K", moisture="12 %"),
    "KMOD013": tuple(Ask(air_conductivity, {"air": text}) for text in ("20 C", "100 C", "150 C")),
}


def ratio(
    stitch_type: str, thickness: str, stitch_length: str, width: str = "0"
) -> tuple[Ask, ...]:
    return ask(
        thread_ratio,
        stitch_type=stitch_type,
        thickness=thickness,
        stitch_length=stitch_length,
        width=width,
    )


THREAD = {
    "T01": ratio("101", "0.005 in", "9 spi"),
    "T03": ratio("301", "1.0 mm", "2.5 mm"),
    "T04": ratio("401", "1.0 mm", "7 st/cm"),
    "T06": ask(measured_thread_ratio, thread_length="62.0 cm", seam_length="15 cm"),
    "T10": ratio("504", "0.04 in", "12 spi", "0.2 in"),
    "T11": ratio("504", "1 mm", "12 spi", "5 mm"),
    "T13": ratio("516", "0.04 in", "12 spi", "0.2 in"),
    "T14": ratio("602", "1 mm", "12 spi", "0.25 in"),
    "T16": ratio("406", "0.06 in", "12 spi", "0.25 in"),
    "T17": ask(thread_length_m, unit="cm", thread_ratio="2.5", seam_length="220 cm"),
    "T18": ratio("304", "1 mm", "2 mm", "4 mm"),
    "T19": ratio("304", "1 mm", "7 st/cm", "4 mm"),
    "T20": ask(needle_thread_share, stitch_type="401", thickness="2 mm", stitch_length="2 mm"),
}


def strength(stitch_length: str, thread: str, loop_factor: str, unit: str) -> tuple[Ask, ...]:
    return ask(
        seam_strength_n_per_cm,
        unit=unit,
        stitch_length=stitch_length,
        thread_strength=thread,
        loop_factor=loop_factor,
    )


DENSER = {"stitch_length": "3 st/cm", "new_stitch_length": "4.5 st/cm"}

STRENGTH = {
    "S01": strength("6 spi", "2.6 lbf", "1.5", "lbf/in"),
    "S03": strength("10 spi", "2.6 lbf", "1.5", "lbf/in"),
    "S04": strength("12 spi", "2.6 lbf", "1.5", "lbf/in"),
    "S05": strength("10 spi", "4.0 lbf", "1.5", "lbf/in"),
    "S07": strength("8 spi", "2.2 lbf", "1.5", "lbf/in"),
    "S09": strength("5 spi", "35 lbf", "1.7", "lbf/in"),
    "S10": strength("12 spi", "2.6 lbf", "1.5", "N/cm"),
    "S12": ask(seam_strength_gain_percent, **DENSER),
    "S13": ask(thread_ratio_gain_percent, stitch_type="301", thickness="0.083 cm", **DENSER),
    "S14": ask(tenacity_cn_tex, thread_strength="2.2 lbf", linear_density="Tex 27"),
    "S15": ask(seam_efficiency_percent, seam_strength="150 N", cloth_strength="250 N"),
    "S16": ask(zigzag_stretch_percent, stitch_length="2.5 mm", stitch_width="2.5 mm"),
    "S18": ask(zigzag_width_mm, stretch="50 %", stitch_length="2.0 mm", thread_extension="10 %"),
    "S19": ask(
        lockstitch_stretch_percent,
        thickness="1 mm",
        stitch_length="2.5 mm",
        thread_extension="15 %",
        thickness_left="0.8",
    ),
    "S20": unit_of("4.7 st/cm", "1/in"),
}


def polyester(tex: str) -> Ask:
    """Ask for the diameter of polyester thread; density times packing is 0.83."""
    inputs = {"linear_density": tex, "fibre_density": "1.383333", "packing": "0.60"}
    return Ask(thread_diameter_mm, inputs)


NEEDLES = {
    "N01": ask(blade_diameter_mm, unit="in", size="Nm 90"),
    "N02": ask(needle_us_size, size="Nm 80"),
    "N04": ask(ticket_number, linear_density="Tex 25"),
    "N05": unit_of("Nm 120/3", "Nm"),
    "N07": unit_of("Ne 40/2", "tex"),
    "N08": unit_of("30 wt", "tex"),
    "N10": (polyester("Tex 27"),),
    "N12": ask(size_for_thread_nm, thread_diameter=polyester("Tex 40")),
    "N14": ask(minimum_size_nm, thread_diameter=polyester("Tex 90")),
    "N15": ask(needle_penetrations, seam_length="10 m", stitch_length="2.5 mm"),
    "N17": unit_of("8 momme", "g/m2"),
}

ASKED: dict[str, tuple[Ask, ...]] = {
    **UNITS,
    **REGAIN,
    **FIBRES,
    **STRUCTURE,
    **IRONING,
    **STEAM,
    **CONDUCTION,
    **MIXTURES,
    **THREAD,
    **STRENGTH,
    **NEEDLES,
    **ASKED_PIECES,
    **ASKED_MINUTES,
}
"""Row id to questions, one for each value that the row expects."""

STACKS = ("COND023", "COND024", "COND026")
"""Rows that are posed to the bare solver as stacks."""

NOT_YET_POSED: dict[str, str] = {}
"""Reason by the row or by the letters at the start of its id."""
