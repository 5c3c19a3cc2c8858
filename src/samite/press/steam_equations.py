"""Water and steam after the industrial formulation IAPWS-IF97: regions 1, 2 and 4.

Coefficients are those of the release; see the equations named in each function.
"""

from __future__ import annotations

import math

GAS_CONSTANT_KJ_KGK = 0.461526
"""Specific gas constant of water [kJ/(kg K)]."""

LIQUID_TERMS = (
    (0, -2, 0.14632971213167),
    (0, -1, -0.84548187169114),
    (0, 0, -3.756360367204),
    (0, 1, 3.3855169168385),
    (0, 2, -0.95791963387872),
    (0, 3, 0.15772038513228),
    (0, 4, -0.016616417199501),
    (0, 5, 0.00081214629983568),
    (1, -9, 0.00028319080123804),
    (1, -7, -0.00060706301565874),
    (1, -1, -0.018990068218419),
    (1, 0, -0.032529748770505),
    (1, 1, -0.021841717175414),
    (1, 3, -5.283835796993e-05),
    (2, -3, -0.00047184321073267),
    (2, 0, -0.00030001780793026),
    (2, 1, 4.7661393906987e-05),
    (2, 3, -4.4141845330846e-06),
    (2, 17, -7.2694996297594e-16),
    (3, -4, -3.1679644845054e-05),
    (3, 0, -2.8270797985312e-06),
    (3, 6, -8.5205128120103e-10),
    (4, -5, -2.2425281908e-06),
    (4, -2, -6.5171222895601e-07),
    (4, 10, -1.4341729937924e-13),
    (5, -8, -4.0516996860117e-07),
    (8, -11, -1.2734301741641e-09),
    (8, -6, -1.7424871230634e-10),
    (21, -29, -6.8762131295531e-19),
    (23, -31, 1.4478307828521e-20),
    (29, -38, 2.6335781662795e-23),
    (30, -39, -1.1947622640071e-23),
    (31, -40, 1.8228094581404e-24),
    (32, -41, -9.3537087292458e-26),
)
"""Exponents I and J and coefficient n of the liquid (table 2)."""

STEAM_IDEAL_TERMS = (
    (0, -9.6927686500217),
    (1, 10.086655968018),
    (-5, -0.005608791128302),
    (-4, 0.071452738081455),
    (-3, -0.40710498223928),
    (-2, 1.4240819171444),
    (-1, -4.383951131945),
    (2, -0.28408632460772),
    (3, 0.021268463753307),
)
"""Exponent J and coefficient n of the ideal part of steam (table 10)."""

STEAM_REAL_TERMS = (
    (1, 0, -0.0017731742473213),
    (1, 1, -0.017834862292358),
    (1, 2, -0.045996013696365),
    (1, 3, -0.057581259083432),
    (1, 6, -0.05032527872793),
    (2, 1, -3.3032641670203e-05),
    (2, 2, -0.00018948987516315),
    (2, 4, -0.0039392777243355),
    (2, 7, -0.043797295650573),
    (2, 36, -2.6674547914087e-05),
    (3, 0, 2.0481737692309e-08),
    (3, 1, 4.3870667284435e-07),
    (3, 3, -3.227767723857e-05),
    (3, 6, -0.0015033924542148),
    (3, 35, -0.040668253562649),
    (4, 1, -7.8847309559367e-10),
    (4, 2, 1.2790717852285e-08),
    (4, 3, 4.8225372718507e-07),
    (5, 7, 2.2922076337661e-06),
    (6, 3, -1.6714766451061e-11),
    (6, 16, -0.0021171472321355),
    (6, 35, -23.895741934104),
    (7, 0, -5.905956432427e-18),
    (7, 11, -1.2621808899101e-06),
    (7, 25, -0.038946842435739),
    (8, 8, 1.1256211360459e-11),
    (8, 36, -8.2311340897998),
    (9, 13, 1.9809712802088e-08),
    (10, 4, 1.0406965210174e-19),
    (10, 10, -1.0234747095929e-13),
    (10, 14, -1.0018179379511e-09),
    (16, 29, -8.0882908646985e-11),
    (16, 50, 0.10693031879409),
    (18, 57, -0.33662250574171),
    (20, 20, 8.9185845355421e-25),
    (20, 35, 3.0629316876232e-13),
    (20, 48, -4.2002467698208e-06),
    (21, 21, -5.9056029685639e-26),
    (22, 53, 3.7826947613457e-06),
    (23, 39, -1.2768608934681e-15),
    (24, 26, 7.3087610595061e-29),
    (24, 40, 5.5414715350778e-17),
    (24, 58, -9.436970724121e-07),
)
"""Exponents I and J and coefficient n of the real part of steam (table 11)."""

SATURATION_TERMS = (
    1167.0521452767,
    -724213.16703206,
    -17.073846940092,
    12020.82470247,
    -3232555.0322333,
    14.91510861353,
    -4823.2657361591,
    405113.40542057,
    -0.23855557567849,
    650.17534844798,
)
"""Coefficients n1 to n10 of the saturation line (table 34)."""


def saturation_line_mpa(kelvin: float) -> float:
    """Return the saturation pressure.

    Parameters
    ----------
    kelvin : float
        Temperature [K], 273.15 to 647.096.

    Returns
    -------
    float
        Pressure [MPa].

    Notes
    -----
    Equation 30.

    References
    ----------
    iapws-if97, equation 30 and table 34.
    """
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = SATURATION_TERMS
    theta = kelvin + n9 / (kelvin - n10)
    a = theta * theta + n1 * theta + n2
    b = n3 * theta * theta + n4 * theta + n5
    c = n6 * theta * theta + n7 * theta + n8
    root = 2.0 * c / (-b + math.sqrt(b * b - 4.0 * a * c))
    return root**4


def saturation_line_k(pressure_mpa: float) -> float:
    """Return the saturation temperature.

    Parameters
    ----------
    pressure_mpa : float
        Pressure [MPa], 0.000611213 to 22.064.

    Returns
    -------
    float
        Temperature [K].

    Notes
    -----
    Equation 31, the exact inverse of equation 30.

    References
    ----------
    iapws-if97, equation 31 and table 34.
    """
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = SATURATION_TERMS
    beta = math.sqrt(math.sqrt(pressure_mpa))
    e = beta * beta + n3 * beta + n6
    f = n1 * beta * beta + n4 * beta + n7
    g = n2 * beta * beta + n5 * beta + n8
    d = 2.0 * g / (-f - math.sqrt(f * f - 4.0 * e * g))
    return 0.5 * (n10 + d - math.sqrt((n10 + d) ** 2 - 4.0 * (n9 + n10 * d)))


def liquid_volume_enthalpy(kelvin: float, pressure_mpa: float) -> tuple[float, float]:
    """Return specific volume and enthalpy of liquid water.

    Parameters
    ----------
    kelvin : float
        Temperature [K], 273.15 to 623.15.
    pressure_mpa : float
        Pressure [MPa], from saturation to 100.

    Returns
    -------
    tuple of float
        Volume [m3/kg] and enthalpy [kJ/kg].

    Notes
    -----
    Region 1, derivatives of the Gibbs energy.

    References
    ----------
    iapws-if97, equation 7 and tables 2 and 3.
    """
    pi, tau = pressure_mpa / 16.53, 1386.0 / kelvin
    x, y = 7.1 - pi, tau - 1.222
    by_pressure = -sum(n * i * x ** (i - 1) * y**j for i, j, n in LIQUID_TERMS)
    by_temperature = sum(n * x**i * j * y ** (j - 1) for i, j, n in LIQUID_TERMS)
    return _volume_enthalpy(kelvin, pressure_mpa, pi * by_pressure, tau * by_temperature)


def steam_volume_enthalpy(kelvin: float, pressure_mpa: float) -> tuple[float, float]:
    """Return specific volume and enthalpy of steam.

    Parameters
    ----------
    kelvin : float
        Temperature [K], 273.15 to 1073.15.
    pressure_mpa : float
        Pressure [MPa], up to saturation.

    Returns
    -------
    tuple of float
        Volume [m3/kg] and enthalpy [kJ/kg].

    Notes
    -----
    Region 2, ideal and real part of the Gibbs energy.

    References
    ----------
    iapws-if97, equations 15 to 17 and tables 10 to 13.
    """
    pi, tau = pressure_mpa, 540.0 / kelvin
    y = tau - 0.5
    by_pressure = 1.0 / pi + sum(n * i * pi ** (i - 1) * y**j for i, j, n in STEAM_REAL_TERMS)
    ideal = sum(n * j * tau ** (j - 1) for j, n in STEAM_IDEAL_TERMS)
    real = sum(n * pi**i * j * y ** (j - 1) for i, j, n in STEAM_REAL_TERMS)
    return _volume_enthalpy(kelvin, pressure_mpa, pi * by_pressure, tau * (ideal + real))


def _volume_enthalpy(
    kelvin: float, pressure_mpa: float, by_pressure: float, by_temperature: float
) -> tuple[float, float]:
    energy = GAS_CONSTANT_KJ_KGK * kelvin
    return energy * by_pressure / (1000.0 * pressure_mpa), energy * by_temperature
