"""Gored skirts, fitted from waist to hip and flared to the hem."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.pieces.curves import Arc, Line, eased
from samite.pieces.edge import Edge
from samite.pieces.outline import Piece, Rule
from samite.pieces.plane import Move, unit_vector
from samite.pieces.roots import solve_between
from samite.pieces.shape import Made, Shape, Values, mm, number, reason
from samite.pieces.shapes._sides import are_alike, in_front_and_back, share_of
from samite.pieces.walk import Smooth

STEEPEST_RAD = math.radians(75.0)
"""Steepest lean of the seam of a gore."""


def _gored_skirt(v: Values) -> Made:
    gores = v.count("gores")
    girths = (v["waist"] + v["ease"], v["hip"] + v["hip_ease"], v["hem"])
    halves = tuple(girth / (2 * gores) for girth in girths)
    shares = v["front_waist_share"], v["front_hip_share"]
    if min(halves) <= 5.0:
        raise OutOfRangeError("nothing is left of a gore", "ease", "give more girth or fewer gores")
    if v["waist_to_hip"] >= v["length"]:
        raise OutOfRangeError("the hip lies below the hem", "length", "give a longer skirt")
    seam = _side_of_gores(halves, shares, v) if not are_alike(*shares) else None

    def gore(wide: tuple[float, ...]) -> Piece:
        return _gore_as_long(_widened(halves, wide), v, seam)

    pieces, mates, told = in_front_and_back("gore", gores, shares, gore)
    found = _level(halves[2], halves[1], v["length"] - v["waist_to_hip"], up=False)
    values = {
        "hem_radius_mm": abs(found[2]),
        "hem_dip_mm": found[2] * (1.0 - math.cos(found[0])),
        "waist_length_mm": sum(p.copies * p.edge("waist").length_mm for p in pieces),
        "hem_length_mm": sum(p.copies * p.edge("hem").length_mm for p in pieces),
    }
    names = [piece.name for piece in pieces]
    smooths = [
        smooth
        for one in names
        for other in names
        for smooth in (
            Smooth((one, "hem", "right"), (other, "left", "hem")),
            Smooth((one, "right", "waist"), (other, "waist", "left")),
        )
    ]
    why = (
        reason("hem and waist are arcs square to the side seams, of exactly the girths asked for"),
        *told,
    )
    return Made(tuple(pieces), tuple(mates), tuple(smooths), values, why)


def _widened(halves: tuple[float, ...], wide: tuple[float, ...]) -> tuple[float, float, float]:
    """Return half widths at waist, hip and hem of a gore; it flares as much as an equal one."""
    waist, hip, hem = halves
    return waist * wide[0], hip * wide[1], max(hem - hip + hip * wide[1], 6.0)


def _side_of_gores(halves: tuple[float, ...], shares: tuple[float, float], v: Values) -> float:
    """Return the length of the side seam that front and back gores are both given."""
    drop, lengths = v["waist_to_hip"], []
    for times in ((1.0, 1.0), (2.0 * shares[0], 2.0 * shares[1]),
                  (2.0 - 2.0 * shares[0], 2.0 - 2.0 * shares[1])):  # fmt: skip
        gore = _gore(_widened(halves, times), drop, v["length"] - drop)
        lengths.append(gore.edge("right").length_mm)
    return max(lengths)


def _gore_as_long(halves: tuple[float, float, float], v: Values, seam: float | None) -> Piece:
    """Return a gore, its waist raised or lowered in the middle until its side seam has a length."""
    drop, below = v["waist_to_hip"], v["length"] - v["waist_to_hip"]
    if seam is None:
        return _gore(halves, drop, below)

    def off(tried: float) -> float:
        return _gore(halves, tried, below).edge("right").length_mm - seam

    return _gore(
        halves, solve_between(off, 0.5 * drop, 2.0 * drop, what="height above the hip"), below
    )


def _gore(halves: tuple[float, float, float], drop: float, below: float) -> Piece:
    """Return one gore of half widths at waist, hip and hem, its waist's middle at the origin."""
    waist, hip, hem = halves
    length = drop + below
    top, bottom = _level(waist, hip, drop, up=True), _level(hem, hip, below, up=False)
    for angle, where in ((top[0], "waist"), (bottom[0], "hem")):
        if abs(angle) > STEEPEST_RAD:
            raise OutOfRangeError(
                f"gores cannot widen that much between hip and {where}", where,
                "take more gores, more length between them, or less difference of girths",
            )  # fmt: skip
    lift = bottom[2] * (1.0 - math.cos(bottom[0]))
    corner_w = (top[1], top[2] * (1.0 - math.cos(top[0])))
    corner_h = (bottom[1], lift - length)
    hip_point = (hip, -drop)
    hem_curve = _square_arc(-length, bottom, rightwards=True) or Line(
        (-corner_h[0], corner_h[1]), corner_h
    )
    waist_curve = _square_arc(0.0, top, rightwards=False) or Line(
        corner_w, (-corner_w[0], corner_w[1])
    )
    up = unit_vector(hip_point, corner_w)
    hip_curve = eased(hip_point, unit_vector(corner_h, hip_point), corner_w, up)
    right = (Line(corner_h, hip_point), hip_curve)
    left = tuple(curve.moved(Move(mirror=True)).turned_round() for curve in right[::-1])
    edges = (
        Edge("hem", (hem_curve,), "hem", corner="mirror"),
        Edge("right", right),
        Edge("waist", (waist_curve,), "waist"),
        Edge("left", left),
    )
    return Piece("gore", edges, rules=(Rule("hip line", ((-hip, -drop), hip_point)),))


def _level(half: float, hip: float, reach: float, *, up: bool) -> tuple[float, float, float]:
    """Return angle, half chord and radius of the arc at one end of a gore.

    The arc has the length wanted and meets the side seam squarely; found by fixed point.
    """
    angle, chord, radius = 0.0, half, 0.0
    for _ in range(200):
        side = reach + (radius * (1 - math.cos(angle)) if up else -radius * (1 - math.cos(angle)))
        new = math.atan2(hip - chord if up else chord - hip, side)
        if abs(new) <= 1e-9:
            return 0.0, half, 0.0
        if abs(new) > STEEPEST_RAD:
            return new, half, 0.0
        chord = half * math.sin(new) / new
        radius = half / new
        if abs(new - angle) < 1e-15:
            break
        angle = new
    return angle, chord, radius


def _square_arc(level: float, found: tuple[float, float, float], *, rightwards: bool) -> Arc | None:
    """Return the arc through a level in the middle of a gore; None where it is straight.

    A negative radius has its centre below.
    """
    angle, _, radius = found
    if radius == 0.0:
        return None
    reach = abs(angle) if rightwards else -abs(angle)
    centre = (0.0, level + radius)
    if radius > 0.0:
        return Arc(centre, radius, -math.pi / 2.0 - reach, 2.0 * reach)
    return Arc(centre, -radius, math.pi / 2.0 + reach, -2.0 * reach)


SHAPES = (
    Shape(
        "gored-skirt",
        "skirt of equal gores, fitted from waist to hip and flared to the hem",
        (
            mm("waist", "girth of the body at the waist", low=50, waist_girth=1.0),
            mm("ease", "ease at the waist", 15, low=-300, high=1000),
            mm("hip", "girth of the body at the hip", low=50, hip_girth=1.0),
            mm("hip_ease", "ease at the hip", 60, low=-300, high=2000),
            mm("waist_to_hip", "from waist to hip", low=20, high=600, waist_to_hip=1.0),
            mm("hem", "girth of the hem", 0, low=50, high=30000, hip_girth=2.2),
            mm("length", "from waist to hem", -40, low=60, high=3000, waist_height=1.0),
            number("gores", "number of gores", 6, 2, 60, "count"),
            share_of("waist"),
            share_of("hip"),
        ),
        _gored_skirt,
        ("gored skirt", "gores"),
    ),
)
