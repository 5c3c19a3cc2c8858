"""Trousers, bloomers and leggings."""

from __future__ import annotations

import math
from collections.abc import Sequence

from samite.kernel.errors import OutOfRangeError
from samite.kernel.reasons import Reason
from samite.pieces.curves import Cubic, Line, Trace, eased
from samite.pieces.edge import Edge
from samite.pieces.forms.drape import stretch_cut_mm
from samite.pieces.forms.limbs import crotch_extension_mm, crotch_straight_mm, quarter_ellipse_mm
from samite.pieces.outline import Piece, Rule
from samite.pieces.plane import Point, unit_vector
from samite.pieces.roots import solve_between
from samite.pieces.shape import GUESSED, PRACTICE, Made, Shape, Values, mm, number, reason
from samite.pieces.shapes._darts import (
    TELLING_MM,
    Split,
    Waist,
    draw_waist,
    fitted_waist,
    split_waist,
)
from samite.pieces.shapes._sides import share_of
from samite.pieces.walk import Mate, Smooth

_STEPS = 48
_DART_SHARES = {"front": 0.5, "back": 0.65}
"""Length of darts, share of the height from the hip line to the waist."""


def _crotch(extension: float, curve: float, top: float) -> tuple[tuple[Trace | Line, ...], float]:
    """Return a centre seam from the inside leg at (extension, 0) up to the waist at x = 0.

    A quarter ellipse, square to both the crotch line and the centre line, and a straight part.
    """
    points = []
    for k in range(_STEPS + 1):
        angle = math.pi / 2 * k / _STEPS
        points.append((extension * (1 - math.sin(angle)), curve * (1 - math.cos(angle))))
    length = quarter_ellipse_mm(width_mm=extension, height_mm=curve)
    ends = ((-1.0, 0.0), (0.0, 1.0))
    return (Trace(tuple(points), length, ends), Line((0.0, curve), (0.0, top))), length


def _trousers(v: Values) -> Made:
    depth, curve = v["hip_depth"], v["curve_height"]
    straight = crotch_straight_mm(
        total_crotch_mm=v["total_crotch"],
        hip_depth_mm=depth,
        curve_height_mm=curve,
        ease_mm=v["crotch_ease"],
    )
    hips = _quarters(v["hip"] + v["hip_ease"], v["front_hip_share"])
    waists = _quarters(v["waist"] + v["ease"], v["front_waist_share"])
    if min(*waists, *hips) <= 20.0:
        raise OutOfRangeError("nothing is left of the waist or the hip", "ease", "take less off")
    inset = (depth + sum(hips) - v["hem"]) / 2.0
    centre = v["centre_limit"]
    splits = split_waist(
        (hips[0] - waists[0], hips[1] - waists[1]),
        side_limit_mm=v["side_limit"],
        centre_limits_mm=(centre / 2.0, centre),
        dart_limit_mm=v["dart_limit"],
        most_darts=(v.count("front_darts"), v.count("back_darts")),
    )
    made = [
        _leg(
            part,
            crotch_extension_mm(hip_depth_mm=depth, part=part),
            (curve, straight, v["inside_leg"]),
            (hip, waist),
            inset,
            split,
        )
        for part, hip, waist, split in zip(("front", "back"), hips, waists, splits, strict=True)
    ]
    pieces = tuple(piece for piece, _ in made)
    seams = sum(p.edge("crotch").length_mm for p in pieces)
    values = {"crotch_straight_mm": straight, "crotch_seam_mm": seams, "rise_mm": straight + curve}
    values["sewn_waist_mm"] = 2.0 * sum(drawn.sewn_mm for _, drawn in made)
    values |= {f"{piece.name}_dart_mm": drawn.dart for piece, drawn in made if drawn.rules}
    mates = (
        Mate(("front", "inside-leg"), ("back", "inside-leg")),
        Mate(("front", "side"), ("back", "side")),
    )
    last = [drawn.edges[-1].name for _, drawn in made]
    smooths = (
        Smooth(("front", last[0], "side"), ("back", last[1], "side")),
        *(
            Smooth((part, "crotch", "waist"), (part, "crotch", "waist"))
            for part in ("front", "back")
        ),
    )
    why = (
        reason(
            f"straight parts of {straight:.1f} mm and quarter ellipses make up the crotch length"
        ),
        *_told_split(splits, v["side_limit"]),
        reason("35 % of the body's depth in front, 65 % behind", GUESSED),
        reason("make it in a trial cloth first: bodies differ most here", PRACTICE),
    )
    return Made(pieces, mates, smooths, values, why)


def _quarters(girth: float, front_share: float) -> tuple[float, float]:
    """Return a quarter of a girth in front and behind."""
    return girth * front_share / 2.0, girth * (1.0 - front_share) / 2.0


def _told_split(splits: tuple[Split, Split], limit: float) -> list[Reason]:
    front, back = splits
    if front.side <= 0.0:
        return [reason("the waist is not smaller than the hip: no darts", PRACTICE)]
    told = [
        f"{part} {split.darts} of about {split.dart:.0f} mm" if split.darts else f"{part} none"
        for part, split in (("front", front), ("back", back))
    ]
    beyond = f", more than its limit of {limit:.0f}" if front.side > limit + TELLING_MM else ""
    return [
        reason(
            f"taken in at the waist: side seam {front.side:.0f} mm a side{beyond}, centre seams"
            f" {front.centre:.0f} and {back.centre:.0f}; darts a quarter: {', '.join(told)}",
            PRACTICE,
        )
    ]


def _leg(
    part: str,
    extension: float,
    heights: tuple[float, float, float],
    widths: tuple[float, float],
    inset: float,
    split: Split,
) -> tuple[Piece, Waist]:
    """Return half a trouser leg, centre seam on the right, and its waist."""
    (curve, straight, leg), (hip, waist) = heights, widths
    inner = (extension - 0.55 * inset, -leg)
    outer = (-hip + 0.45 * inset, -leg)
    if inner[0] - outer[0] < 20.0:
        raise OutOfRangeError(
            f"{part}: the hem is too narrow for this leg", "hem", "give a wider hem"
        )
    hip_line, low = (-hip, curve), (0.0, curve)
    side_top = (split.side - hip, curve + straight)
    side = _hip_curve(side_top, hip_line, outer)
    turned = side.directions[0]
    reach = (turned[1], -turned[0])
    depth = straight * _DART_SHARES[part]

    def drawn(centre: float) -> tuple[Cubic, Waist]:
        seam = _centre_seam(low, centre, straight)
        up = seam.directions[1]
        ends, ways = (seam.end, side_top), ((-up[1], up[0]), reach)
        if split.darts:
            return seam, fitted_waist(ends, ways, split, waist_mm=waist, depth_mm=depth)
        return seam, draw_waist(ends, ways, darts=0, dart_mm=0.0, depth_mm=depth)

    centre = split.centre
    if not split.darts:
        most = 0.9 * straight
        centre = solve_between(
            lambda tried: drawn(tried)[1].sewn_mm - waist,
            max(-most, centre - 60.0), min(most, centre + 60.0), what="centre seam",
        )  # fmt: skip
    seam, top = drawn(centre)
    ellipse, _ = _crotch(extension, curve, curve + 1.0)
    edges = (
        Edge("hem", (Line(outer, inner),), "hem", corner="mirror"),
        Edge("inside-leg", (Line(inner, (extension, 0.0)),)),
        Edge("crotch", (ellipse[0], seam)),
        *top.edges,
        Edge("side", (side, Line(hip_line, outer))),
    )
    rules = (*top.rules, Rule("hip line", (hip_line, low)))
    made = Piece(
        part, edges, copies=2, mirrored=True, notches=top.notches, marks=top.marks, rules=rules
    )
    return made, top


def _centre_seam(low: Point, taken: float, length: float) -> Cubic:
    """Return the upper part of a centre seam of a length, taken in at the waist, smooth below."""
    if abs(taken) < 1e-9:
        return _centre(low, (low[0], low[1] + length))

    def seam(rise: float) -> Cubic:
        return _centre(low, (low[0] - taken, low[1] + rise))

    rise = solve_between(
        lambda tried: seam(tried).length_mm - length, 0.05 * length, length, what="rise"
    )
    return seam(rise)


def _hip_curve(waist: Point, hip: Point, hem: Point) -> Cubic:
    """Return the side seam from waist to hip, smooth where it goes on to the hem."""
    return eased(waist, unit_vector(waist, hip), hip, unit_vector(hip, hem))


def _bloomers(v: Values) -> Made:
    depth, curve = v["hip_depth"], v["curve_height"]
    straight = crotch_straight_mm(
        total_crotch_mm=v["total_crotch"],
        hip_depth_mm=depth,
        curve_height_mm=curve,
        ease_mm=v["crotch_ease"],
    )
    top, width = straight + curve, v["hip"] * v["fullness"] / 2.0
    front = crotch_extension_mm(hip_depth_mm=depth, part="front")
    back = crotch_extension_mm(hip_depth_mm=depth, part="back")
    right, _ = _crotch(front, curve, top)
    left, _ = _crotch(back, curve, top)
    low = -v["inside_leg"]
    edges = (
        Edge("hem", (Line((-width - back, low), (front, low)),), "gathered", v["casing"]),
        Edge("front-inside-leg", (Line((front, low), (front, 0.0)),)),
        Edge("front-crotch", right),
        Edge("waist", (Line((0.0, top), (-width, top)),), "gathered", v["casing"], level="waist"),
        Edge("back-crotch", tuple(_across(c, -width) for c in reversed(left))),
        Edge("back-inside-leg", (Line((-width - back, 0.0), (-width - back, low)),)),
    )
    piece = Piece("leg", edges, copies=2, mirrored=True)
    seam = piece.edge("front-crotch").length_mm + piece.edge("back-crotch").length_mm
    values = {"crotch_seam_mm": seam, "leg_width_mm": width + front + back, "rise_mm": top}
    mates = (Mate(("leg", "front-inside-leg"), ("leg", "back-inside-leg")),)
    why = (reason(f"hip times {v['fullness']:g}, in two legs without side seam"),)
    return Made((piece,), mates, (), values, why)


def _across(curve: Trace | Line, shift: float) -> Trace | Line:
    """Return a curve mirrored left to right about x = shift / 2, run the other way."""
    if isinstance(curve, Line):
        return Line((shift - curve.end[0], curve.end[1]), (shift - curve.start[0], curve.start[1]))
    points = tuple((shift - x, y) for x, y in reversed(curve.points))
    (ax, ay), (bx, by) = curve.directions
    return Trace(points, curve.true_length_mm, ((bx, -by), (ax, -ay)))


def _through(points: Sequence[Point]) -> tuple[Cubic, ...]:
    """Return a smooth line through points, straight at its ends."""
    count = len(points)
    along = [
        unit_vector(points[max(k - 1, 0)], points[min(k + 1, count - 1)]) for k in range(count)
    ]
    return tuple(eased(points[k], along[k], points[k + 1], along[k + 1]) for k in range(count - 1))


def _centre(low: Point, top: Point) -> Cubic:
    """Return the upper part of a centre seam, smooth where the crotch curve ends."""
    return eased(low, (0.0, 1.0), top, unit_vector(low, top))


def _leggings(v: Values) -> Made:
    strain = v["strain"]
    depth = stretch_cut_mm(girth_mm=v["hip_depth"], strain_percent=strain)
    curve = v["curve_height"]
    lengthwise = 1.0 + v["length_strain"] / 100.0
    straight = crotch_straight_mm(
        total_crotch_mm=v["total_crotch"] / lengthwise, hip_depth_mm=depth, curve_height_mm=curve
    )
    top, leg = straight + curve, v["inside_leg"] / lengthwise
    girths = {
        name: stretch_cut_mm(girth_mm=v[name], strain_percent=strain)
        for name in ("waist", "hip", "thigh", "knee", "calf", "ankle")
    }
    width = girths["hip"] / 2.0
    front = crotch_extension_mm(hip_depth_mm=depth, part="front")
    back = crotch_extension_mm(hip_depth_mm=depth, part="back")
    middle = (front - width - back) / 2.0
    levels = [(-0.06, "thigh"), (-0.42, "knee"), (-0.58, "calf"), (-1.0, "ankle")]
    inner: list[Point] = [(front, 0.0)]
    for level, name in levels:
        inner.append((min(middle + girths[name] / 2.0, inner[-1][0]), level * leg))
    outer = [(2 * middle - x, y) for x, y in inner]
    right, _ = _crotch(front, curve, top)
    left, _ = _crotch(back, curve, top)
    slack, behind = (
        hip - waist
        for hip, waist in zip(
            _quarters(girths["hip"], v["front_hip_share"]),
            _quarters(girths["waist"], v["front_waist_share"]), strict=True,
        )
    )  # fmt: skip
    back_centre = _centre((-width, curve), (-width + behind, top)).turned_round()
    edges = (
        Edge("hem", (Line(outer[-1], inner[-1]),), "hem", corner="mirror"),
        Edge("front-inside-leg", _through(inner[::-1])),
        Edge("front-crotch", (right[0], _centre((0.0, curve), (-slack, top)))),
        Edge("waist", (Line((-slack, top), (-width + behind, top)),), "waist"),
        Edge("back-crotch", (back_centre, _across(left[0], -width))),
        Edge("back-inside-leg", _through(outer)),
    )
    hip_line = Rule("hip line", ((-width, curve), (0.0, curve)))
    piece = Piece("leg", edges, copies=2, mirrored=True, rules=(hip_line,))
    values = {"cut_hip_mm": girths["hip"], "cut_ankle_mm": girths["ankle"], "rise_mm": top}
    mates = (Mate(("leg", "front-inside-leg"), ("leg", "back-inside-leg")),)
    why = (
        reason(f"girths divided by {1 + strain / 100:.2f}: worn at a strain of {strain:g} %"),
        reason("lengths are reduced hardly at all", PRACTICE),
    )
    return Made((piece,), mates, (), values, why)


_CROTCH = (
    mm(
        "total_crotch",
        "from waist in front between the legs to waist behind",
        low=200,
        high=2000,
        total_crotch_length=1.0,
    ),
    mm("hip_depth", "depth of the body at the hip", low=60, high=800, hip_depth=1.0),
    mm("curve_height", "height of the crotch curves", 0, low=20, high=400, hip_depth=0.45),
    mm("inside_leg", "inside leg to the hem", low=10, high=1500, inside_leg_length=1.0),
)
_HIP = mm("hip", "girth of the body at the hip", low=100, high=4000, hip_girth=1.0)
_WAIST = mm("waist", "girth of the body at the waist", low=100, high=4000, waist_girth=1.0)

SHAPES = (
    Shape(
        "trousers",
        "trousers, crotch seam solved from the total crotch length",
        (
            *_CROTCH,
            mm("crotch_ease", "ease in the crotch length", 20, low=-200, high=400),
            _HIP,
            mm("hip_ease", "ease at the hip", 60, low=-300, high=2000),
            _WAIST,
            mm("ease", "ease at the waist", 15, low=-300, high=2000),
            mm("hem", "girth of one hem", 440, low=150, high=3000),
            share_of("hip"),
            share_of("waist"),
            mm("side_limit", "most that a side seam takes in at the waist, a side", 30, high=150),
            mm(
                "centre_limit",
                "most that the centre back takes in; half of it in front",
                15,
                high=80,
            ),
            mm("dart_limit", "most that one dart takes in", 30, low=8, high=80),
            number("front_darts", "most darts in a front", 2, 0, 4, "count"),
            number("back_darts", "most darts in a back", 3, 0, 4, "count"),
        ),
        _trousers,
        ("trousers", "breeches", "pants"),
    ),
    Shape(
        "bloomers",
        "bloomers, gathered at waist and leg",
        (
            *_CROTCH[:3],
            mm("inside_leg", "inside leg to the casing", low=5, high=1500, inside_leg_length=0.5),
            mm("crotch_ease", "ease in the crotch length", 80, low=-200, high=600),
            _HIP,
            number("fullness", "width over hip", 1.6, 1.0, 6.0),
            mm("casing", "allowance for casings", 30, low=5, high=120),
        ),
        _bloomers,
        ("bloomers", "harem trousers", "knickers"),
    ),
    Shape(
        "leggings",
        "leggings for stretch cloth",
        (
            *_CROTCH,
            _HIP,
            _WAIST,
            mm("thigh", "thigh girth", low=100, high=2000, thigh_girth=1.0),
            mm("knee", "knee girth", low=80, high=1500, knee_girth=1.0),
            mm("calf", "calf girth", low=80, high=1500, calf_girth=1.0),
            mm("ankle", "ankle girth", 10, low=60, high=1000, ankle_girth=1.0),
            number("strain", "strain around when worn", 12.0, 0.0, 100.0, "%"),
            number("length_strain", "strain along when worn", 3.0, 0.0, 60.0, "%"),
            share_of("hip"),
            share_of("waist"),
        ),
        _leggings,
        ("leggings", "tights"),
    ),
)
