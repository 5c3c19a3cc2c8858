"""How cloth bends, shears, hangs, stretches and shrinks, as far as pieces need it."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.kernel.ranges import require_between, require_positive
from samite.kernel.unit_table import GRAM_FORCE_N, STANDARD_GRAVITY_M_S2


def bending_length_mm(*, overhang_mm: float, angle_deg: float = 41.5) -> float:
    """Return the bending length of a strip that hangs over an edge.

    Parameters
    ----------
    overhang_mm : float
        Length hanging over the edge [mm].
    angle_deg : float
        Angle of the line from edge to tip below the level [deg].

    Returns
    -------
    float
        Bending length [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    c = L (cos(t/2) / (8 tan t))^(1/3); against the exact curve 1.9 % low at 41.5 degrees and
    4.4 % at 60.

    References
    ----------
    ``peirce-1930``: closed form, from memory.
    """
    require_positive(overhang_mm=overhang_mm, angle_deg=angle_deg)
    require_between(0.0, 89.9, angle_deg=angle_deg)
    angle = math.radians(angle_deg)
    share = math.cos(angle / 2.0) / (8.0 * math.tan(angle))
    return overhang_mm * math.cbrt(share)


def flexural_rigidity_mg_cm(*, mass_per_area_gsm: float, bending_length_mm: float) -> float:
    """Return the flexural rigidity of a cloth.

    Parameters
    ----------
    mass_per_area_gsm : float
        Mass per area [g/m2].
    bending_length_mm : float
        Bending length [mm].

    Returns
    -------
    float
        Rigidity [mg cm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    G = M c3, M in mg/cm2 and c in cm; 1 mg cm is 0.0981 uN m.

    References
    ----------
    ``astm-d1388``: definition of flexural rigidity.
    """
    require_positive(mass_per_area_gsm=mass_per_area_gsm, bending_length_mm=bending_length_mm)
    return mass_per_area_gsm / 10.0 * (bending_length_mm / 10.0) ** 3


def flexural_rigidity_un_m(*, mass_per_area_gsm: float, bending_length_mm: float) -> float:
    """Return the flexural rigidity of a cloth in SI units.

    Parameters
    ----------
    mass_per_area_gsm : float
        Mass per area [g/m2].
    bending_length_mm : float
        Bending length [mm].

    Returns
    -------
    float
        Rigidity [uN m].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    M g c3 in SI, with standard gravity.

    References
    ----------
    ``astm-d1388``: definition of flexural rigidity.
    """
    require_positive(mass_per_area_gsm=mass_per_area_gsm, bending_length_mm=bending_length_mm)
    weight = mass_per_area_gsm / 1000.0 * STANDARD_GRAVITY_M_S2
    return 1e6 * weight * (bending_length_mm / 1000.0) ** 3


def shear_rigidity_n_m(*, bias_extension_percent: float, load_n_m: float = 4.903325) -> float:
    """Return the shear rigidity of a cloth from its extension on the bias.

    Parameters
    ----------
    bias_extension_percent : float
        Extension of a strip at 45 degrees under the load [%].
    load_n_m : float
        Load over the width of the strip; 5 gf/cm by default [N/m].

    Returns
    -------
    float
        Rigidity [N/m].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    load / (4 e): true bias modulus is about four times the shear rigidity where the threads
    themselves hardly stretch. A handbook form is 123 / EB5, from memory.

    References
    ----------
    ``derivation``: modulus at 45 degrees of a cloth with stiff threads.
    """
    require_positive(bias_extension_percent=bias_extension_percent, load_n_m=load_n_m)
    return load_n_m / (4.0 * bias_extension_percent / 100.0)


def modulus_at_angle_n_m(
    *, warp_modulus_n_m: float, weft_modulus_n_m: float, shear_rigidity_n_m: float, angle_deg: float
) -> float:
    """Return the modulus of a woven cloth at an angle to its warp.

    Parameters
    ----------
    warp_modulus_n_m : float
        Modulus along the warp [N/m].
    weft_modulus_n_m : float
        Modulus along the weft [N/m].
    shear_rigidity_n_m : float
        Shear rigidity [N/m].
    angle_deg : float
        Angle to the warp [deg].

    Returns
    -------
    float
        Modulus [N/m].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    1/E = cos4/E1 + sin4/E2 + sin2 cos2/G; small strains, no term for the Poisson effect.

    References
    ----------
    ``derivation``: transformation of the elastic constants of an orthotropic sheet.
    """
    require_positive(warp_modulus_n_m=warp_modulus_n_m, weft_modulus_n_m=weft_modulus_n_m)
    require_positive(shear_rigidity_n_m=shear_rigidity_n_m)
    cos2, sin2 = math.cos(math.radians(angle_deg)) ** 2, math.sin(math.radians(angle_deg)) ** 2
    give = cos2**2 / warp_modulus_n_m + sin2**2 / weft_modulus_n_m
    return 1.0 / (give + sin2 * cos2 / shear_rigidity_n_m)


def bias_drop_mm(
    *,
    waist_radius_mm: float,
    hem_radius_mm: float,
    mass_per_area_gsm: float,
    bias_extension_percent: float,
) -> float:
    """Return how far the bias of a circle skirt drops under its own weight at once.

    Parameters
    ----------
    waist_radius_mm : float
        Radius of the waist [mm].
    hem_radius_mm : float
        Radius of the hem [mm].
    mass_per_area_gsm : float
        Mass per area [g/m2].
    bias_extension_percent : float
        Extension on the bias under 5 gf/cm [%].

    Returns
    -------
    float
        Drop at the hem [mm].

    Raises
    ------
    OutOfRangeError
        If the hem is not outside the waist, or a number is impossible.

    Notes
    -----
    w g / (2 E) (R2 ln(R / r) - (R2 - r2) / 2) with E the modulus on the bias, 4.9 N/m over the
    extension. Elastic only: creep comes on top, so it is a lower bound. Hang it and level it.

    References
    ----------
    ``derivation``: a hanging sector, each ring carrying what is below it.
    """
    require_positive(waist_radius_mm=waist_radius_mm, mass_per_area_gsm=mass_per_area_gsm)
    require_positive(bias_extension_percent=bias_extension_percent)
    if hem_radius_mm <= waist_radius_mm:
        raise OutOfRangeError(
            f"a hem of radius {hem_radius_mm:g} mm is not outside a waist of radius"
            f" {waist_radius_mm:g} mm",
            "hem_radius_mm",
            "give waist and hem in this order",
        )
    modulus = 5.0 * GRAM_FORCE_N * 100.0 / (bias_extension_percent / 100.0)
    load = mass_per_area_gsm / 1000.0 * STANDARD_GRAVITY_M_S2
    inner, outer = waist_radius_mm / 1000.0, hem_radius_mm / 1000.0
    reach = outer**2 * math.log(outer / inner) - (outer**2 - inner**2) / 2.0
    return 1000.0 * load / (2.0 * modulus) * reach


def drape_coefficient_percent(
    *, shadow_radius_mm: float, cloth_radius_mm: float = 150.0, disc_radius_mm: float = 90.0
) -> float:
    """Return the drape coefficient from the mean radius of the shadow.

    Parameters
    ----------
    shadow_radius_mm : float
        Radius of a circle of the shadow's area [mm].
    cloth_radius_mm : float
        Radius of the cloth [mm].
    disc_radius_mm : float
        Radius of the disc that carries it [mm].

    Returns
    -------
    float
        Coefficient [%].

    Raises
    ------
    OutOfRangeError
        If the shadow is not between disc and cloth.

    Notes
    -----
    (S - Sd) / (Sc - Sd) of the areas; exact.

    References
    ----------
    ``cusick-page``: definition of the coefficient.
    """
    require_positive(disc_radius_mm=disc_radius_mm, cloth_radius_mm=cloth_radius_mm)
    require_positive(overhang_mm=cloth_radius_mm - disc_radius_mm)
    require_between(disc_radius_mm, cloth_radius_mm, shadow_radius_mm=shadow_radius_mm)
    disc = disc_radius_mm**2
    return 100.0 * (shadow_radius_mm**2 - disc) / (cloth_radius_mm**2 - disc)


def fold_pitch_mm(
    *, bending_length_mm: float, length_mm: float, distance_mm: float, constant: float = 1.0
) -> float:
    """Return about how far apart the folds of a hanging cloth are.

    Parameters
    ----------
    bending_length_mm : float
        Bending length [mm].
    length_mm : float
        Whole length of the hang [mm].
    distance_mm : float
        From where it hangs [mm].
    constant : float
        Found by counting the folds of a trial [-].

    Returns
    -------
    float
        Distance between folds [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    k c^(3/4) L^(-1/4) x^(1/2): a law of scale, not a length; without a trial k is a guess.

    References
    ----------
    ``vandeparre-2011``: the power of the distance (abstract read); the rest is a guess.
    """
    require_positive(bending_length_mm=bending_length_mm, length_mm=length_mm)
    require_positive(distance_mm=distance_mm, constant=constant)
    scale = math.pow(bending_length_mm, 0.75) * math.pow(length_mm, -0.25)
    return constant * scale * math.sqrt(distance_mm)


def band_pressure_kpa(*, tension_n_m: float, girth_mm: float) -> float:
    """Return the pressure of a stretched band on a round limb or body.

    Parameters
    ----------
    tension_n_m : float
        Tension over the width of the band [N/m].
    girth_mm : float
        Girth under the band [mm].

    Returns
    -------
    float
        Pressure [kPa].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Laplace: T / r. Flat parts of a body feel less and edges more. Discomfort has been
    reported above 4.7 kPa.

    References
    ----------
    ``derivation``: Laplace's law for a cylinder.
    """
    require_positive(tension_n_m=tension_n_m, girth_mm=girth_mm)
    return tension_n_m / (girth_mm / 1000.0 / math.tau) / 1000.0


def shrinkage_cut_mm(*, finished_mm: float, shrinkage_percent: float) -> float:
    """Return the length to cut, or buy, that is left after shrinking.

    Parameters
    ----------
    finished_mm : float
        Length wanted after shrinking [mm].
    shrinkage_percent : float
        Loss of length as a share of the length before [%].

    Returns
    -------
    float
        Length before [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    finished / (1 - s); exact. Adding s instead falls short.

    References
    ----------
    ``definition``: shrinkage as a share of the length before.
    """
    require_positive(finished_mm=finished_mm)
    require_between(-50.0, 90.0, shrinkage_percent=shrinkage_percent)
    return finished_mm / (1.0 - shrinkage_percent / 100.0)


def measured_stretch_percent(*, rest_mm: float, stretched_mm: float) -> float:
    """Return the stretch of a cloth measured on a fold.

    Parameters
    ----------
    rest_mm : float
        Length at rest [mm].
    stretched_mm : float
        Length under a hand's pull [mm].

    Returns
    -------
    float
        Stretch [%].

    Raises
    ------
    OutOfRangeError
        If it became shorter, or a number is impossible.

    Notes
    -----
    (L1 - L0) / L0; measure on a fold, a raw edge stretches more.

    References
    ----------
    ``definition``: extension as a share of the length at rest.
    """
    require_positive(rest_mm=rest_mm)
    require_between(rest_mm, math.inf, stretched_mm=stretched_mm)
    return 100.0 * (stretched_mm - rest_mm) / rest_mm


def stretch_cut_mm(*, girth_mm: float, strain_percent: float) -> float:
    """Return the girth to cut a stretch cloth so that it is strained when worn.

    Parameters
    ----------
    girth_mm : float
        Girth of the body [mm].
    strain_percent : float
        Strain when worn [%].

    Returns
    -------
    float
        Girth at rest [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    G / (1 + e); exact.

    References
    ----------
    ``definition``: strain as a share of the length at rest.
    """
    require_positive(girth_mm=girth_mm)
    require_between(0.0, 400.0, strain_percent=strain_percent)
    return girth_mm / (1.0 + strain_percent / 100.0)


def worn_strain_percent(*, negative_ease_percent: float) -> float:
    """Return the strain of a stretch cloth cut smaller than the body.

    Parameters
    ----------
    negative_ease_percent : float
        How much smaller it is cut, as a share of the body's measure [%].

    Returns
    -------
    float
        Strain when worn [%].

    Raises
    ------
    OutOfRangeError
        If it is not between 0 and 100.

    Notes
    -----
    n / (1 - n): body 90, 10 % less, cut 81, worn at 11.1 %; exact.

    References
    ----------
    ``definition``: strain as a share of the length at rest.
    """
    require_between(0.0, 99.0, negative_ease_percent=negative_ease_percent)
    return 100.0 * negative_ease_percent / (100.0 - negative_ease_percent)
