"""The compiled heat-and-moisture step: RODAS3 with a step of its own for every few stacks."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from samite.press._moist_scheme import (
    ACTIVITY_EASE,
    AIR_LEFT,
    ATMOSPHERE_PA,
    BOILING_C,
    COLDEST_C,
    DIAGONAL,
    EASE_PA,
    FREE_EASE,
    HOTTEST_C,
    LANES,
    REGAIN_SHAPE,
    SATURATED,
    SATURATION_ROOT,
    SORPTION_FALL,
    SORPTION_J_KG,
    STEAM_AT_BOILING_J_KG,
    STEAM_J_KGK,
    STEFAN_EASE,
    VAPORISATION_J_KG,
    WATER_J_KGK,
    WET_CONTACT_LIMIT,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

FACTOR, DRY_POLE, WET_POLE = REGAIN_SHAPE
FIRST_SLOPE = DRY_POLE * WET_POLE / (FACTOR * (DRY_POLE + WET_POLE))
GAIN = FACTOR * (DRY_POLE + WET_POLE)
R0, R1, R2, R3, R4, R5, R6 = SATURATION_ROOT
LN2 = math.log(2.0)
LEAST_STEP_S = 1.0e-6
LARGEST_STEP_C = 25.0
LARGEST_LACK = 0.05
PER_ATMOSPHERE = 1.0 / ATMOSPHERE_PA
HV0 = STEAM_AT_BOILING_J_KG - STEAM_J_KGK * BOILING_C

FAST = {"contract", "arcp", "reassoc", "nsz", "afn"}
compiled = njit(cache=True, nogil=True, error_model="numpy", fastmath=FAST)


@compiled
def _root(temperature_c: float) -> float:
    x = (min(max(temperature_c, COLDEST_C), HOTTEST_C) - 100.0) * 0.01
    return R0 + x * (R1 + x * (R2 + x * (R3 + x * (R4 + x * (R5 + x * R6)))))


@compiled
def _root_slope(temperature_c: float) -> float:
    x = (min(max(temperature_c, COLDEST_C), HOTTEST_C) - 100.0) * 0.01
    return 0.01 * (R1 + x * (2 * R2 + x * (3 * R3 + x * (4 * R4 + x * (5 * R5 + x * 6 * R6)))))


@compiled
def _ramp(x: float, ease: float) -> float:
    """Return max(x, 0), bent smoothly between -ease and ease."""
    bend = min(max(x + ease, 0.0), 2.0 * ease)
    return bend * bend * (0.25 / ease) + max(x - ease, 0.0)


@compiled
def _ramp_slope(x: float, ease: float) -> float:
    return min(max(x + ease, 0.0), 2.0 * ease) * (0.5 / ease)


@compiled
def _stefan(mean_pa: float) -> float:
    x = mean_pa * PER_ATMOSPHERE
    return 1.0 / (1.0 + AIR_LEFT - x + _ramp(x - 1.0, STEFAN_EASE))


@compiled
def _stefan_bend(mean_pa: float, ease: float) -> float:
    """Return how the factor answers to the mean pressure [1/Pa]."""
    x = mean_pa * PER_ATMOSPHERE
    return PER_ATMOSPHERE * ease * ease * (1.0 - _ramp_slope(x - 1.0, STEFAN_EASE))


@compiled
def _dose_of(temperature_c: float, start_c: float, per_k: float) -> float:
    return math.exp(LN2 * min((temperature_c - start_c) / per_k, 60.0))


@compiled
def _look(
    heat: Real,
    water: Real,
    capacity: Real,
    per_dry: Real,
    per_regain: Real,
    regain: Real,
    temp: Real,
    press: Real,
    held: Real,
    free: Real,
) -> None:
    """Find temperature, vapour pressure, water per dry mass and free water of every node."""
    for i in range(heat.shape[0]):
        for k in range(LANES):
            w = water[i, k] * per_dry[i, k]
            u = w * per_regain[i, k]
            fall = 1.0 + abs(u) * (1.0 / SORPTION_FALL)
            warm = (capacity[i, k] + WATER_J_KGK * water[i, k]) * fall
            t = (heat[i, k] * fall + SORPTION_J_KG * water[i, k]) / warm
            some = max(u, 0.0)
            b = GAIN - (WET_POLE - DRY_POLE) * some
            s = math.sqrt(b * b + 4.0 * DRY_POLE * WET_POLE * some * some)
            phi = 2.0 * DRY_POLE * WET_POLE * some / (b + s) + min(u, 0.0) * FIRST_SLOPE
            q = _root(t)
            q2 = q * q
            q4 = q2 * q2
            temp[i, k] = t
            press[i, k] = (phi - _ramp(phi - 1.0, ACTIVITY_EASE)) * q4 * q4
            held[i, k] = w
            free[i, k] = _ramp(u - SATURATED, FREE_EASE) * regain[i, k]


@compiled
def _look_closely(
    heat: Real,
    water: Real,
    capacity: Real,
    per_dry: Real,
    per_regain: Real,
    regain: Real,
    temp: Real,
    press: Real,
    held: Real,
    free: Real,
    t_h: Real,
    t_w: Real,
    p_h: Real,
    p_w: Real,
    f_w: Real,
) -> None:
    """Find the same, and how temperature, pressure and free water answer to heat and water."""
    for i in range(heat.shape[0]):
        for k in range(LANES):
            w = water[i, k] * per_dry[i, k]
            u = w * per_regain[i, k]
            fall = 1.0 + abs(u) * (1.0 / SORPTION_FALL)
            warm = capacity[i, k] + WATER_J_KGK * water[i, k]
            both = 1.0 / (warm * fall)
            per_warm, per_fall = fall * both, warm * both
            t = (heat[i, k] + SORPTION_J_KG * water[i, k] * per_fall) * per_warm
            some = max(u, 0.0)
            b = GAIN - (WET_POLE - DRY_POLE) * some
            s = math.sqrt(b * b + 4.0 * DRY_POLE * WET_POLE * some * some)
            one = 1.0 / ((b + s) * s)
            inner = 2.0 * DRY_POLE * WET_POLE * some * s * one
            phi = inner + min(u, 0.0) * FIRST_SLOPE
            rise = (DRY_POLE + inner) * (WET_POLE - inner) * (b + s) * one
            active = phi - _ramp(phi - 1.0, ACTIVITY_EASE)
            q = _root(t)
            q2 = q * q
            q4 = q2 * q2
            p_t = 8.0 * active * q4 * q2 * q * _root_slope(t)
            tw = (SORPTION_J_KG * per_fall * per_fall - WATER_J_KGK * t) * per_warm
            bend = 1.0 - _ramp_slope(phi - 1.0, ACTIVITY_EASE)
            temp[i, k] = t
            press[i, k] = active * q4 * q4
            held[i, k] = w
            free[i, k] = _ramp(u - SATURATED, FREE_EASE) * regain[i, k]
            t_h[i, k] = per_warm
            t_w[i, k] = tw
            p_h[i, k] = p_t * per_warm
            p_w[i, k] = p_t * tw + bend * rise * q4 * q4 * per_dry[i, k] * per_regain[i, k]
            f_w[i, k] = _ramp_slope(u - SATURATED, FREE_EASE) * per_dry[i, k]


@compiled
def _rates(
    held: Real,
    temp: Real,
    press: Real,
    free: Real,
    sole: Real,
    link: Real,
    wetting: Real,
    permeance: Real,
    wick: Real,
    escape: Real,
    top: Real,
    bottom: Real,
    d_heat: Real,
    d_water: Real,
    d_sole: Real,
) -> None:
    """Find the rates of heat and water at every node, and of the sole."""
    count = temp.shape[0]
    for i in range(count):
        for k in range(LANES):
            out = escape[i, k] * _ramp(press[i, k] - ATMOSPHERE_PA, EASE_PA)
            d_heat[i, k] = -out * (HV0 + STEAM_J_KGK * temp[i, k])
            d_water[i, k] = -out
    for i in range(count - 1):
        for k in range(LANES):
            wet = min(0.5 * (held[i, k] + held[i + 1, k]), WET_CONTACT_LIMIT)
            lead = link[i, k] + wetting[i, k] * wet
            g = (
                permeance[i, k]
                * _stefan(0.5 * (press[i, k] + press[i + 1, k]))
                * (press[i, k] - press[i + 1, k])
            )
            hv = HV0 + 0.5 * STEAM_J_KGK * (temp[i, k] + temp[i + 1, k])
            soak = wick[i, k] * (free[i, k] - free[i + 1, k])
            q = lead * (temp[i, k] - temp[i + 1, k]) + g * hv
            q += 0.5 * WATER_J_KGK * (temp[i, k] + temp[i + 1, k]) * soak
            d_heat[i, k] -= q
            d_heat[i + 1, k] += q
            d_water[i, k] -= g + soak
            d_water[i + 1, k] += g + soak
    last = count - 1
    for k in range(LANES):
        lead = top[0, k] + top[1, k] * min(held[0, k], WET_CONTACT_LIMIT)
        q = lead * (sole[k] - temp[0, k])
        g = top[5, k] * _stefan(0.5 * (top[6, k] + press[0, k])) * (top[6, k] - press[0, k])
        d_heat[0, k] += q + g * (HV0 + STEAM_J_KGK * temp[0, k])
        d_heat[0, k] += top[7, k] * STEAM_AT_BOILING_J_KG
        d_water[0, k] += g + top[7, k]
        d_sole[k] = -q / top[2, k] + top[4, k] * (top[3, k] - sole[k])
        gb = (
            bottom[2, k]
            * _stefan(0.5 * (bottom[3, k] + press[last, k]))
            * (press[last, k] - bottom[3, k])
        )
        hv = HV0 + STEAM_J_KGK * temp[last, k]
        d_heat[last, k] -= bottom[0, k] * (temp[last, k] - bottom[1, k]) + gb * hv
        d_water[last, k] -= gb


@compiled
def _matrix(
    held: Real,
    per_dry: Real,
    temp: Real,
    press: Real,
    free: Real,
    sole: Real,
    t_h: Real,
    t_w: Real,
    p_h: Real,
    p_w: Real,
    f_w: Real,
    link: Real,
    wetting: Real,
    permeance: Real,
    wick: Real,
    escape: Real,
    top: Real,
    bottom: Real,
    shift: float,
    own: Real,
    lower: Real,
    upper: Real,
    crown: Real,
) -> None:
    """Fill the blocks of shift I - J: rows are heat and water, columns the same."""
    count = temp.shape[0]
    for i in range(count):
        for k in range(LANES):
            over = press[i, k] - ATMOSPHERE_PA
            out = escape[i, k] * _ramp(over, EASE_PA)
            grow = escape[i, k] * _ramp_slope(over, EASE_PA)
            hv = HV0 + STEAM_J_KGK * temp[i, k]
            own[0, i, k] = shift + hv * grow * p_h[i, k] + out * STEAM_J_KGK * t_h[i, k]
            own[1, i, k] = hv * grow * p_w[i, k] + out * STEAM_J_KGK * t_w[i, k]
            own[2, i, k] = grow * p_h[i, k]
            own[3, i, k] = shift + grow * p_w[i, k]
    _links(
        held, per_dry, temp, press, free, t_h, t_w, p_h, p_w, f_w, link, wetting, permeance, wick,
        own, lower, upper,
    )  # fmt: skip
    _ends(held, per_dry, temp, press, sole, t_h, t_w, p_h, p_w, top, bottom, shift, own, crown)


@compiled
def _links(  # noqa: PLR0915 - the derivatives of three flows, one after another
    held: Real,
    per_dry: Real,
    temp: Real,
    press: Real,
    free: Real,
    t_h: Real,
    t_w: Real,
    p_h: Real,
    p_w: Real,
    f_w: Real,
    link: Real,
    wetting: Real,
    permeance: Real,
    wick: Real,
    own: Real,
    lower: Real,
    upper: Real,
) -> None:
    """Add what flows between neighbours: how it answers to the upper one, then to the lower."""
    for i in range(temp.shape[0] - 1):
        j = i + 1
        for k in range(LANES):
            mid = 0.5 * (held[i, k] + held[j, k])
            wet = wetting[i, k] if mid < WET_CONTACT_LIMIT else 0.0
            lead = link[i, k] + wetting[i, k] * min(mid, WET_CONTACT_LIMIT)
            mean = 0.5 * (press[i, k] + press[j, k])
            ease = _stefan(mean)
            drop = permeance[i, k] * (press[i, k] - press[j, k])
            bend = 0.5 * drop * _stefan_bend(mean, ease)
            flow = permeance[i, k] * ease
            soak = wick[i, k] * (free[i, k] - free[j, k])
            carry = 0.5 * (STEAM_J_KGK * drop * ease + WATER_J_KGK * soak)
            both = temp[i, k] + temp[j, k]
            hv, warm = HV0 + 0.5 * STEAM_J_KGK * both, 0.5 * WATER_J_KGK * both
            bent = 0.5 * wet * (temp[i, k] - temp[j, k])
            g_h = (flow + bend) * p_h[i, k]
            g_w = (flow + bend) * p_w[i, k]
            q_h = (lead + carry) * t_h[i, k] + hv * g_h
            q_w = (
                (lead + carry) * t_w[i, k]
                + hv * g_w
                + bent * per_dry[i, k]
                + warm * wick[i, k] * f_w[i, k]
            )
            g_w += wick[i, k] * f_w[i, k]
            own[0, i, k] += q_h
            own[1, i, k] += q_w
            own[2, i, k] += g_h
            own[3, i, k] += g_w
            lower[0, j, k] = -q_h
            lower[1, j, k] = -q_w
            lower[2, j, k] = -g_h
            lower[3, j, k] = -g_w
            g_h = (bend - flow) * p_h[j, k]
            g_w = (bend - flow) * p_w[j, k]
            q_h = (carry - lead) * t_h[j, k] + hv * g_h
            q_w = (
                (carry - lead) * t_w[j, k]
                + hv * g_w
                + bent * per_dry[j, k]
                - warm * wick[i, k] * f_w[j, k]
            )
            g_w -= wick[i, k] * f_w[j, k]
            upper[0, i, k] = q_h
            upper[1, i, k] = q_w
            upper[2, i, k] = g_h
            upper[3, i, k] = g_w
            own[0, j, k] -= q_h
            own[1, j, k] -= q_w
            own[2, j, k] -= g_h
            own[3, j, k] -= g_w


@compiled
def _ends(
    held: Real,
    per_dry: Real,
    temp: Real,
    press: Real,
    sole: Real,
    t_h: Real,
    t_w: Real,
    p_h: Real,
    p_w: Real,
    top: Real,
    bottom: Real,
    shift: float,
    own: Real,
    crown: Real,
) -> None:
    """Add what meets the stack on top and below; the sole is eliminated into the first node."""
    last = temp.shape[0] - 1
    for k in range(LANES):
        lead = top[0, k] + top[1, k] * min(held[0, k], WET_CONTACT_LIMIT)
        wet = top[1, k] if held[0, k] < WET_CONTACT_LIMIT else 0.0
        b_h = -lead * t_h[0, k]
        b_w = -lead * t_w[0, k] + wet * (sole[k] - temp[0, k]) * per_dry[0, k]
        pivot = shift + lead / top[2, k] + top[4, k]
        share = lead / (top[2, k] * pivot)
        crown[0, k] = pivot
        crown[1, k] = lead
        crown[2, k] = b_h
        crown[3, k] = b_w
        mean = 0.5 * (top[6, k] + press[0, k])
        ease = _stefan(mean)
        drop = top[5, k] * (top[6, k] - press[0, k])
        bend = 0.5 * drop * _stefan_bend(mean, ease)
        fall = bend - top[5, k] * ease
        hv = HV0 + STEAM_J_KGK * temp[0, k]
        carry = STEAM_J_KGK * drop * ease
        own[0, 0, k] -= b_h * (1.0 - share) + hv * fall * p_h[0, k] + carry * t_h[0, k]
        own[1, 0, k] -= b_w * (1.0 - share) + hv * fall * p_w[0, k] + carry * t_w[0, k]
        own[2, 0, k] -= fall * p_h[0, k]
        own[3, 0, k] -= fall * p_w[0, k]
        mean = 0.5 * (bottom[3, k] + press[last, k])
        ease = _stefan(mean)
        drop = bottom[2, k] * (press[last, k] - bottom[3, k])
        bend = 0.5 * drop * _stefan_bend(mean, ease)
        rise = bend + bottom[2, k] * ease
        hv = HV0 + STEAM_J_KGK * temp[last, k]
        carry = bottom[0, k] + STEAM_J_KGK * drop * ease
        own[0, last, k] += carry * t_h[last, k] + hv * rise * p_h[last, k]
        own[1, last, k] += carry * t_w[last, k] + hv * rise * p_w[last, k]
        own[2, last, k] += rise * p_h[last, k]
        own[3, last, k] += rise * p_w[last, k]


@compiled
def _factor(own: Real, lower: Real, upper: Real) -> None:
    """Turn the blocks into inverses (own) and what is carried back (upper), in place."""
    count = own.shape[1]
    for i in range(count):
        for k in range(LANES):
            a, b, c, d = own[0, i, k], own[1, i, k], own[2, i, k], own[3, i, k]
            if i > 0:
                l0, l1, l2, l3 = lower[0, i, k], lower[1, i, k], lower[2, i, k], lower[3, i, k]
                e0, e1 = upper[0, i - 1, k], upper[1, i - 1, k]
                e2, e3 = upper[2, i - 1, k], upper[3, i - 1, k]
                a -= l0 * e0 + l1 * e2
                b -= l0 * e1 + l1 * e3
                c -= l2 * e0 + l3 * e2
                d -= l2 * e1 + l3 * e3
            f = 1.0 / (a * d - b * c)
            a, b, c, d = d * f, -b * f, -c * f, a * f
            own[0, i, k], own[1, i, k], own[2, i, k], own[3, i, k] = a, b, c, d
            if i < count - 1:
                u0, u1, u2, u3 = upper[0, i, k], upper[1, i, k], upper[2, i, k], upper[3, i, k]
                upper[0, i, k] = a * u0 + b * u2
                upper[1, i, k] = a * u1 + b * u3
                upper[2, i, k] = c * u0 + d * u2
                upper[3, i, k] = c * u1 + d * u3


@compiled
def _solve(
    own: Real, lower: Real, upper: Real, crown: Real, top: Real, x: Real, y: Real, z: Real
) -> None:
    """Solve in place: heat x, water y, sole z."""
    count = own.shape[1]
    for k in range(LANES):
        x[0, k] += crown[1, k] * z[k] / crown[0, k]
    for i in range(count):
        for k in range(LANES):
            r, s = x[i, k], y[i, k]
            if i > 0:
                r -= lower[0, i, k] * x[i - 1, k] + lower[1, i, k] * y[i - 1, k]
                s -= lower[2, i, k] * x[i - 1, k] + lower[3, i, k] * y[i - 1, k]
            x[i, k] = own[0, i, k] * r + own[1, i, k] * s
            y[i, k] = own[2, i, k] * r + own[3, i, k] * s
    for i in range(count - 2, -1, -1):
        for k in range(LANES):
            x[i, k] -= upper[0, i, k] * x[i + 1, k] + upper[1, i, k] * y[i + 1, k]
            y[i, k] -= upper[2, i, k] * x[i + 1, k] + upper[3, i, k] * y[i + 1, k]
    for k in range(LANES):
        carried = (crown[2, k] * x[0, k] + crown[3, k] * y[0, k]) / top[2, k]
        z[k] = (z[k] - carried) / crown[0, k]


@compiled
def _blend(base: Real, one: Real, one_by: float, other: Real, other_by: float, out: Real) -> None:
    for i in range(base.shape[0]):
        for k in range(LANES):
            out[i, k] = base[i, k] + one_by * one[i, k] + other_by * other[i, k]


@compiled
def _error(dx: Real, dy: Real, t_h: Real, t_w: Real, capacity: Real, tolerance_c: float) -> float:
    """Return the largest root mean square error over the lanes, in tolerances."""
    count = dx.shape[0]
    worst = 0.0
    for k in range(LANES):
        total = 0.0
        for i in range(count):
            warm = (t_h[i, k] * dx[i, k] + t_w[i, k] * dy[i, k]) / tolerance_c
            wet = dy[i, k] * VAPORISATION_J_KG / (3.0 * tolerance_c * capacity[i, k])
            total += warm * warm + wet * wet
        if not total < 1.0e30:
            total = 1.0e30
        worst = max(worst, total / count)
    return math.sqrt(worst)


@compiled
def _stray(temp: Real, start: Real, held: Real, held_0: Real, per_regain: Real) -> float:
    """Return how far the last stage strays from what a step may do, 1 being the most."""
    worst = 0.0
    for i in range(temp.shape[0]):
        for k in range(LANES):
            worst = max(worst, abs(temp[i, k] - start[i, k]) * (1.0 / LARGEST_STEP_C))
            lack = (min(held_0[i, k], 0.0) - held[i, k]) * per_regain[i, k]
            worst = max(worst, lack * (1.0 / LARGEST_LACK))
    return worst


@compiled
def march(  # noqa: C901, PLR0915 - one loop: split up it takes a fifth longer
    heat: Real,
    water: Real,
    sole: Real,
    dry: Real,
    capacity: Real,
    regain: Real,
    link: Real,
    wetting: Real,
    permeance: Real,
    wick: Real,
    escape: Real,
    top: Real,
    bottom: Real,
    times: Real,
    first_s: float,
    tolerance_c: float,
    layer_of: Whole,
    dose_from: Real,
    dose_per: Real,
    peak: Real,
    dose: Real,
    temp_out: Real,
    heat_out: Real,
    water_out: Real,
    sole_out: Real,
    tally: Whole,
) -> None:
    """Step all stacks to each time in turn and keep what is there.

    Parameters
    ----------
    heat, water : ndarray of float, shape (nodes, draws)
        Start state [J/m2], [kg/m2]; the last one on return.
    sole : ndarray of float, shape (draws,)
        Sole or air [C]; the last one on return.
    dry, capacity, regain, escape : ndarray of float, shape (nodes, draws)
        Dry mass [kg/m2], dry heat capacity [J/(m2 K)], regain [kg/kg], escape [kg/(m2 s Pa)].
    link, wetting, permeance, wick : ndarray of float, shape (nodes - 1, draws)
        Conductance [W/(m2 K)], its rise per water [W/(m2 K)], permeance [kg/(m2 s Pa)], flow of
        free water [kg/(m2 s)].
    top : ndarray of float, shape (8, draws)
        Conductance, its rise, heat capacity of the sole, set point, its recovery [1/s], permeance
        to the air, its vapour pressure, steam [kg/(m2 s)].
    bottom : ndarray of float, shape (4, draws)
        Conductance, temperature, permeance, vapour pressure.
    times : ndarray of float, shape (times,)
        Rising times above 0 [s].
    first_s : float
        First step tried [s].
    tolerance_c : float
        Error allowed a step [K].
    layer_of : ndarray of int, shape (nodes,)
        Layer of each node.
    dose_from, dose_per : ndarray of float, shape (layers,)
        Temperature at which a second counts as one, and rise that doubles it [C], [K].
    peak, dose : ndarray of float, shape (times + 1, layers, draws)
        Hottest so far [C] and dose [s]; row 0 holds the start on entry.
    temp_out, heat_out, water_out : ndarray of float, shape (times, nodes, draws)
        States at the times.
    sole_out : ndarray of float, shape (times, draws)
        Sole at the times [C].
    tally : ndarray of int, shape (2,)
        Steps taken and refused, added up.
    """
    count, draws = heat.shape
    shape = (count, LANES)
    t, p, wd, fr = np.empty(shape), np.empty(shape), np.empty(shape), np.empty(shape)
    f_w = np.empty(shape)
    t_h, t_w, p_h, p_w = np.empty(shape), np.empty(shape), np.empty(shape), np.empty(shape)
    f_x, f_y, f_z = np.empty(shape), np.empty(shape), np.empty(LANES)
    g_x, g_y, g_z = np.empty(shape), np.empty(shape), np.empty(LANES)
    u1x, u1y, u1z = np.empty(shape), np.empty(shape), np.empty(LANES)
    u2x, u2y, u2z = np.empty(shape), np.empty(shape), np.empty(LANES)
    u3x, u3y, u3z = np.empty(shape), np.empty(shape), np.empty(LANES)
    n_x, n_y, n_z = np.empty(shape), np.empty(shape), np.empty(LANES)
    own, lower, upper = np.empty((4, *shape)), np.zeros((4, *shape)), np.zeros((4, *shape))
    crown = np.empty((4, LANES))
    t_0, w_0 = np.empty(shape), np.empty(shape)
    before = np.empty((peak.shape[1], LANES))
    dose_node, rate_node = np.zeros(shape), np.empty(shape)
    hottest = np.empty(shape)
    for first in range(0, draws, LANES):
        part = slice(first, first + LANES)
        x, y, z = heat[:, part].copy(), water[:, part].copy(), sole[part].copy()
        c, r = capacity[:, part].copy(), regain[:, part].copy()
        im, ir = 1.0 / dry[:, part], 1.0 / regain[:, part]
        lk, wt, pm = link[:, part].copy(), wetting[:, part].copy(), permeance[:, part].copy()
        wk = wick[:, part].copy()
        es, tp, bt = escape[:, part].copy(), top[:, part].copy(), bottom[:, part].copy()
        before[:] = peak[0, :, part]
        _look_closely(x, y, c, im, ir, r, t, p, wd, fr, t_h, t_w, p_h, p_w, f_w)
        hottest[:] = t
        _start_dose(dose[0, :, part], layer_of, dose_node)
        _dose_rate(t, layer_of, dose_from, dose_per, rate_node)
        now, step, tamed = 0.0, first_s, False
        for row in range(times.size):
            goal = times[row]
            while now < goal * (1.0 - 1.0e-12):
                rest = goal - now
                used = min(step, rest)
                if 0.0 < rest - used < used:
                    used = 0.5 * rest
                shift = 1.0 / (DIAGONAL * used)
                _rates(wd, t, p, fr, z, lk, wt, pm, wk, es, tp, bt, f_x, f_y, f_z)
                _matrix(
                    wd, im, t, p, fr, z, t_h, t_w, p_h, p_w, f_w, lk, wt, pm, wk, es, tp, bt, shift,
                    own, lower, upper, crown,
                )  # fmt: skip
                _factor(own, lower, upper)
                per = 1.0 / used
                t_0[:], w_0[:] = t, wd
                # stage 1
                u1x[:], u1y[:], u1z[:] = f_x, f_y, f_z
                _solve(own, lower, upper, crown, tp, u1x, u1y, u1z)
                # stage 2: the same rates
                _blend(f_x, u1x, 4.0 * per, u1x, 0.0, u2x)
                _blend(f_y, u1y, 4.0 * per, u1y, 0.0, u2y)
                for k in range(LANES):
                    u2z[k] = f_z[k] + 4.0 * per * u1z[k]
                _solve(own, lower, upper, crown, tp, u2x, u2y, u2z)
                # stage 3
                _blend(x, u1x, 2.0, u1x, 0.0, n_x)
                _blend(y, u1y, 2.0, u1y, 0.0, n_y)
                for k in range(LANES):
                    n_z[k] = z[k] + 2.0 * u1z[k]
                _look(n_x, n_y, c, im, ir, r, t, p, wd, fr)
                _rates(wd, t, p, fr, n_z, lk, wt, pm, wk, es, tp, bt, g_x, g_y, g_z)
                _blend(g_x, u1x, per, u2x, -per, u3x)
                _blend(g_y, u1y, per, u2y, -per, u3y)
                for k in range(LANES):
                    u3z[k] = g_z[k] + per * (u1z[k] - u2z[k])
                _solve(own, lower, upper, crown, tp, u3x, u3y, u3z)
                # stage 4
                _blend(n_x, u3x, 1.0, u3x, 0.0, n_x)
                _blend(n_y, u3y, 1.0, u3y, 0.0, n_y)
                for k in range(LANES):
                    n_z[k] += u3z[k]
                _look(n_x, n_y, c, im, ir, r, t, p, wd, fr)
                _rates(wd, t, p, fr, n_z, lk, wt, pm, wk, es, tp, bt, g_x, g_y, g_z)
                _blend(g_x, u1x, per, u2x, -per, g_x)
                _blend(g_x, u3x, -8.0 / 3.0 * per, u3x, 0.0, g_x)
                _blend(g_y, u1y, per, u2y, -per, g_y)
                _blend(g_y, u3y, -8.0 / 3.0 * per, u3y, 0.0, g_y)
                for k in range(LANES):
                    g_z[k] += per * (u1z[k] - u2z[k] - 8.0 / 3.0 * u3z[k])
                _solve(own, lower, upper, crown, tp, g_x, g_y, g_z)
                error = max(_error(g_x, g_y, t_h, t_w, c, tolerance_c), _stray(t, t_0, wd, w_0, ir))
                grow = 4.0 if error < 0.01 else min(4.0, max(0.2, 0.9 * error ** (-1.0 / 3.0)))
                if not error <= 1.0 and used > LEAST_STEP_S:
                    step = max(used * min(grow, 0.8), LEAST_STEP_S)
                    tamed = True
                    tally[1] += 1
                    _look_closely(x, y, c, im, ir, r, t, p, wd, fr, t_h, t_w, p_h, p_w, f_w)
                    continue
                tally[0] += 1
                _blend(n_x, g_x, 1.0, g_x, 0.0, x)
                _blend(n_y, g_y, 1.0, g_y, 0.0, y)
                for k in range(LANES):
                    z[k] = n_z[k] + g_z[k]
                now += used
                if tamed:
                    grow = min(grow, 1.0)
                    tamed = False
                step = max(step, used * grow) if used < step else used * grow
                step = max(step, LEAST_STEP_S)
                _look_closely(x, y, c, im, ir, r, t, p, wd, fr, t_h, t_w, p_h, p_w, f_w)
                _keep(t, used, layer_of, dose_from, dose_per, hottest, dose_node, rate_node)
            _record(
                t, x, y, z, hottest, before, dose_node, layer_of, first, row,
                peak, dose, temp_out, heat_out, water_out, sole_out,
            )  # fmt: skip
        heat[:, part], water[:, part], sole[part] = x, y, z


@compiled
def _start_dose(start: Real, layer_of: Whole, dose_node: Real) -> None:
    for i in range(dose_node.shape[0]):
        for k in range(LANES):
            dose_node[i, k] = start[layer_of[i], k]


@compiled
def _dose_rate(temp: Real, layer_of: Whole, start: Real, per: Real, rate: Real) -> None:
    for i in range(temp.shape[0]):
        layer = layer_of[i]
        for k in range(LANES):
            rate[i, k] = _dose_of(temp[i, k], start[layer], per[layer])


@compiled
def _keep(
    temp: Real,
    used: float,
    layer_of: Whole,
    start: Real,
    per: Real,
    hottest: Real,
    dose_node: Real,
    rate_node: Real,
) -> None:
    """Keep the hottest so far and add to the doses by the trapezoid."""
    for i in range(temp.shape[0]):
        layer = layer_of[i]
        for k in range(LANES):
            hottest[i, k] = max(hottest[i, k], temp[i, k])
            rate = _dose_of(temp[i, k], start[layer], per[layer])
            dose_node[i, k] += 0.5 * used * (rate_node[i, k] + rate)
            rate_node[i, k] = rate


@compiled
def _record(
    temp: Real,
    heat: Real,
    water: Real,
    sole: Real,
    hottest: Real,
    before: Real,
    dose_node: Real,
    layer_of: Whole,
    first: int,
    row: int,
    peak: Real,
    dose: Real,
    temp_out: Real,
    heat_out: Real,
    water_out: Real,
    sole_out: Real,
) -> None:
    for layer in range(before.shape[0]):
        for k in range(LANES):
            peak[row + 1, layer, first + k] = before[layer, k]
            dose[row + 1, layer, first + k] = 0.0
    for i in range(temp.shape[0]):
        layer = layer_of[i]
        for k in range(LANES):
            j = first + k
            peak[row + 1, layer, j] = max(peak[row + 1, layer, j], hottest[i, k])
            dose[row + 1, layer, j] = max(dose[row + 1, layer, j], dose_node[i, k])
            temp_out[row, i, j] = temp[i, k]
            heat_out[row, i, j] = heat[i, k]
            water_out[row, i, j] = water[i, k]
    for k in range(LANES):
        sole_out[row, first + k] = sole[k]
