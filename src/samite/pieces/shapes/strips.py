"""Flounces, bands, sashes, veils, bias strips, plain rectangles and polygons."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.pieces.curves import Arc, Line, Trace
from samite.pieces.edge import Edge
from samite.pieces.forms.gathers import (
    flounce_radius_mm,
    flounce_ring_mm,
    flounce_rings,
    pleated_width_mm,
    spiral_length_mm,
    spiral_turns,
)
from samite.pieces.forms.strips import bias_length_mm, bias_spacing_mm
from samite.pieces.outline import Piece, Rule, polygon
from samite.pieces.shape import Made, Shape, Values, mm, number, reason
from samite.pieces.shapes._ring import around, box, ring_part
from samite.pieces.shapes._waists import EASE, WAIST, at_level


def _flounce(v: Values) -> Made:
    allowance = v["seam_allowance"]
    radius = flounce_radius_mm(width_mm=v["width"], fullness=v["fullness"])
    rings = flounce_rings(
        seam_length_mm=v["seam_length"],
        width_mm=v["width"],
        fullness=v["fullness"],
        seam_allowance_mm=allowance,
    )
    ring = flounce_ring_mm(radius_mm=radius, seam_allowance_mm=allowance)
    last = v["seam_length"] - (rings - 1) * ring
    pieces = []
    if rings > 1:
        pieces.append(
            ring_part("flounce ring", radius, radius + v["width"], math.tau, kinds=("seam", "hem"),
                      lost_mm=allowance, copies=rings - 1)
        )  # fmt: skip
    lost = 2.0 * math.asin(allowance / radius)
    pieces.append(
        ring_part("flounce last ring", radius, radius + v["width"], last / radius + lost,
                  kinds=("seam", "hem"), lost_mm=allowance)
    )  # fmt: skip
    values = {"radius_mm": radius, "rings": float(rings), "ring_length_mm": ring}
    why = (
        reason(f"inner radius {radius:.1f} mm: width over fullness less one"),
        reason(
            f"a ring slit and seamed gives {ring:.1f} mm, so {rings} rings; the last is shorter"
        ),
    )
    mates = tuple(around(piece.name) for piece in pieces)
    return Made(tuple(pieces), mates, (), values, why)


def _spiral_flounce(v: Values) -> Made:
    pitch = v["width"] + v["between"]
    start = v["start_radius"]
    turns = spiral_turns(start_radius_mm=start, width_mm=pitch, length_mm=v["seam_length"])
    steps = max(48, math.ceil(turns * 120))
    inner, outer = [], []
    for k in range(steps + 1):
        turned = turns * k / steps
        angle, radius = math.tau * turned, start + pitch * turned
        inner.append((radius * math.cos(angle), radius * math.sin(angle)))
        outer.append(
            ((radius + v["width"]) * math.cos(angle), (radius + v["width"]) * math.sin(angle))
        )
    made = spiral_length_mm(start_radius_mm=start, width_mm=pitch, turns=turns)
    edges = (
        Edge("hem", (Trace(tuple(outer)),), "hem", 0.0),
        Edge("end", (Line(outer[-1], inner[-1]),), "edge"),
        Edge("seam", (Trace(tuple(inner[::-1]), made),), "seam", 0.98 * v["between"]),
        Edge("beginning", (Line(inner[0], outer[0]),), "edge"),
    )
    piece = Piece("spiral flounce", edges, note="no allowance at the hem: roll or overedge it")
    return Made((piece,), (), (), {"turns": turns}, (reason("Archimedean spiral, length solved"),))


def _band(v: Values) -> Made:
    length = v["waist"] + v["ease"] + v["overlap"]
    piece = box("waistband", length, 2 * v["height"], ("waist", "waist"), "opening", fold_line=True)
    why = (reason("waist, ease and overlap; twice the height, folded along its middle"),)
    return Made((piece,), (), (), {"length_mm": length}, why)


def _sash(v: Values) -> Made:
    depth = pleated_width_mm(
        finished_mm=v["height"], pleats=v.count("pleats"), depth_mm=v["pleat_depth"]
    )
    length = v["waist"] * v["turns"] + v["tails"]
    parts = v.count("parts")
    piece = box("sash", length / parts, depth, ("hem", "hem"), "seam", copies=parts)
    lines = []
    for k in range(1, v.count("pleats") + 1):
        y = depth * k / (v.count("pleats") + 1)
        lines.append(Rule(f"pleat {k}", ((0.0, y), (length / parts, y))))
    piece = Piece(piece.name, piece.edges, copies=parts, rules=tuple(lines))
    values = {"length_mm": length, "cut_height_mm": depth}
    why = (reason(f"height and {v.count('pleats')} pleats that take twice their depth each"),)
    return Made((piece,), (), (), values, why)


def _cummerbund(v: Values) -> Made:
    depth = pleated_width_mm(
        finished_mm=v["height"], pleats=v.count("pleats"), depth_mm=v["pleat_depth"]
    )
    front = v["waist"] * v["front_share"]
    piece = box("cummerbund", front, depth, ("seam", "seam"), "seam")
    band = box("cummerbund back band", v["waist"] * (1 - v["front_share"]) + v["overlap"], 2 * v["band_height"],
               ("seam", "seam"), "opening", fold_line=True)  # fmt: skip
    band = at_level(band, "waist", "top", "bottom")
    why = (reason("finished height and twice the depth of every pleat"),)
    return Made((piece, band), (), (), {"cut_height_mm": depth}, why)


def _veil(v: Values) -> Made:
    width, drop = v["comb"] * v["fullness"], v["drop"]
    corner = v["corner"]
    if 2 * corner > width or corner > drop:
        raise OutOfRangeError(
            "the rounded corners are larger than the veil", "corner", "give a smaller radius"
        )
    right = Arc((width - corner, corner), corner, -math.pi / 2, math.pi / 2)
    left = Arc((corner, corner), corner, math.pi, math.pi / 2)
    parts: list[Line | Arc] = [Line((0.0, drop), (0.0, corner)), left]
    parts += [
        Line((corner, 0.0), (width - corner, 0.0)),
        right,
        Line((width, corner), (width, drop)),
    ]
    curves = tuple(part for part in parts if part.length_mm > 1e-9)
    edges = (
        Edge("edge", curves, "edge", level="hem"),
        Edge(
            "gathered",
            (Line((width, drop), (0.0, drop)),),
            "gathered",
            10.0,
            gathered_to_mm=v["comb"],
        ),
    )
    piece = Piece("veil", edges, note="raw edge, rolled edge or narrow hem")
    return Made((piece,), (), (), {"width_mm": width}, (reason("comb times fullness"),))


def _bias_strip(v: Values) -> Made:
    width, length = v["width"], v["length"]
    corners = ((0.0, 0.0), (length, 0.0), (length + width, width), (width, width))
    names = (("bottom", "edge"), ("right", "edge"), ("top", "edge"), ("left", "edge"))
    made = polygon("bias strip", corners, names)
    piece = Piece(made.name, made.edges, grain_deg=45.0, grain_tolerance_deg=2.0)
    values = {"spacing_mm": bias_spacing_mm(width_mm=width), "area_mm2": piece.area_mm2}
    why = (reason("at 45 degrees to both grains; ends cut along a grain, so that joins lie flat"),)
    return Made((piece,), (), (), values, why)


def _continuous_bias(v: Values) -> Made:
    side, width = v["side"], v["width"]
    lines = []
    spacing = bias_spacing_mm(width_mm=width)
    for k in range(1, int(2 * side / spacing) + 1):
        reach = k * spacing
        a = (reach, 0.0) if reach <= side else (side, reach - side)
        b = (0.0, reach) if reach <= side else (reach - side, side)
        if math.dist(a, b) > 1.0:
            lines.append(Rule(f"cut {k}", (a, b)))
    piece = box("bias square", side, side, ("seam", "seam"), "seam")
    piece = Piece(
        piece.name,
        tuple(Edge(e.name, e.curves, "edge") for e in piece.edges),
        rules=tuple(lines),
        note="halve along the diagonal, join the straight grains, offset by one strip, cut round",
    )
    values = {"length_mm": bias_length_mm(side_mm=side, width_mm=width), "spacing_mm": spacing}
    return Made((piece,), (), (), values, (reason("area over width of the strip"),))


def _rectangle(v: Values) -> Made:
    piece = box("rectangle", v["width"], v["height"], ("seam", "hem"), copies=v.count("copies"))
    return Made((piece,), (), (), {}, (reason("as given"),))


def _regular_polygon(v: Values) -> Made:
    sides, side = v.count("sides"), v["side"]
    radius = side / (2.0 * math.sin(math.pi / sides))
    start = -math.pi / 2.0 - math.pi / sides
    corners = tuple(
        (
            radius * math.cos(start + math.tau * k / sides),
            radius * math.sin(start + math.tau * k / sides),
        )
        for k in range(sides)
    )
    piece = polygon("polygon", corners, tuple((f"side {k + 1}", "seam") for k in range(sides)))
    values = {"inner_radius_mm": radius * math.cos(math.pi / sides)}
    return Made((piece,), (), (), values, (reason("equal sides and angles"),))


SHAPES = (
    Shape(
        "flounce",
        "circular flounce of slit rings",
        (
            mm("seam_length", "length of the seam that it is set on", 1500, low=20, high=100000),
            mm("width", "width of the flounce", 150, low=5, high=1500),
            number("fullness", "outer edge over inner edge", 2.5, 1.05, 40.0),
            mm("seam_allowance", "allowance at each side of a slit", 10, high=40),
        ),
        _flounce,
        ("flounce", "circular flounce"),
    ),
    Shape(
        "spiral-flounce",
        "flounce cut as a spiral, fuller at its beginning",
        (
            mm("seam_length", "length of the seam that it is set on", 1500, low=50, high=30000),
            mm("width", "width of the flounce", 80, low=5, high=800),
            mm("start_radius", "radius where it begins", 50, low=15, high=1000),
            mm("between", "seam allowance left between turns", 8, low=1, high=40),
        ),
        _spiral_flounce,
        ("spiral flounce",),
    ),
    Shape(
        "waistband",
        "straight waistband, folded",
        (
            WAIST,
            EASE,
            mm("overlap", "overlap for the closing", 30, high=300),
            mm("height", "finished height", 35, low=5, high=300),
        ),
        _band,
        ("waistband", "band"),
    ),
    Shape(
        "sash",
        "sash or obi, pleated across its height",
        (
            WAIST,
            number("turns", "times around the waist", 2.0, 0.5, 6.0),
            mm("tails", "length of both tails", 1200, high=8000),
            mm("height", "finished height", 150, low=5, high=800),
            number("pleats", "number of pleats", 0, 0, 40, "count"),
            mm("pleat_depth", "depth of a pleat", 20, high=300),
            number("parts", "parts joined", 1, 1, 20, "count"),
        ),
        _sash,
        ("sash", "obi"),
    ),
    Shape(
        "cummerbund",
        "pleated cummerbund with a plain back band",
        (
            WAIST,
            number("front_share", "share of the waist that is pleated", 0.55, 0.2, 1.0),
            mm("overlap", "overlap for the closing", 60, high=300),
            mm("height", "finished height", 120, low=20, high=500),
            number("pleats", "number of pleats", 5, 0, 40, "count"),
            mm("pleat_depth", "depth of a pleat", 12, high=200),
            mm("band_height", "height of the back band", 40, low=10, high=300),
        ),
        _cummerbund,
        ("cummerbund",),
    ),
    Shape(
        "veil",
        "veil, a rectangle with rounded corners gathered on a comb",
        (
            mm("comb", "width of the comb", 100, low=10, high=3000),
            number("fullness", "width over comb", 14.0, 1.0, 60.0),
            mm("drop", "length", 900, low=50, high=8000),
            mm("corner", "radius of the lower corners", 400, high=4000),
        ),
        _veil,
        ("veil",),
    ),
    Shape(
        "bias-strip",
        "straight bias strip",
        (
            mm("length", "length", 1000, low=10, high=100000),
            mm("width", "cut width", 40, low=3, high=1000),
        ),
        _bias_strip,
        ("bias strip", "bias binding", "binding"),
    ),
    Shape(
        "continuous-bias",
        "square marked for a continuous bias strip",
        (
            mm("side", "side of the square", 600, low=30, high=5000),
            mm("width", "cut width of the strip", 40, low=3, high=1000),
        ),
        _continuous_bias,
        ("continuous bias",),
    ),
    Shape(
        "rectangle",
        "rectangle with a hem at its lower edge",
        (
            mm("width", "width", 300, low=1, high=20000),
            mm("height", "height", 500, low=1, high=20000),
            number("copies", "how many", 1, 1, 500, "count"),
        ),
        _rectangle,
        ("rectangle", "panel"),
    ),
    Shape(
        "regular-polygon",
        "polygon of equal sides: triangle, square, hexagon",
        (
            mm("side", "length of a side", 200, low=1, high=5000),
            number("sides", "number of sides", 3, 3, 60, "count"),
        ),
        _regular_polygon,
        ("polygon", "triangle", "hexagon"),
    ),
)
