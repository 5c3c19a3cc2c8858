"""Flared tubes, cuffs, collars, bands, cones, balls, crowns and tails."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.pieces.curves import Arc, Line, Trace
from samite.pieces.edge import Edge
from samite.pieces.forms.tubes import tail_bottom_mm, tail_top_mm
from samite.pieces.outline import Piece
from samite.pieces.shape import Made, Shape, Values, mm, number, reason
from samite.pieces.shapes._hood import hood_of_two, hood_parameters, hood_pieces
from samite.pieces.shapes._ring import around, box, flared_tube, ring_part
from samite.pieces.shapes._sides import in_front_and_back, share_of
from samite.pieces.walk import Mate


def _frustum(v: Values) -> Made:
    panels = v.count("panels")

    def panel(wide: tuple[float, ...]) -> Piece:
        return flared_tube(
            "tube", wide[0] * v["top"], wide[1] * v["bottom"], v["length"], panels=panels,
            kinds=("seam", "hem"),
        )  # fmt: skip

    shares = v["front_waist_share"], v["front_hip_share"]
    pieces, mates, told = in_front_and_back("tube", panels, shares, panel)
    why = (reason("a cone unrolled: radii in the ratio of the girths, slant as given"), *told)
    return Made(tuple(pieces), tuple(mates), (), _radii(pieces[0]), why)


def _radii(piece: Piece) -> dict[str, float]:
    found = {
        f"{edge.name}_radius_mm": edge.curves[0].radius_mm
        for edge in piece.edges
        if isinstance(edge.curves[0], Arc)
    }
    arcs = [e.curves[0] for e in piece.edges if isinstance(e.curves[0], Arc)]
    if arcs:
        found["angle_deg"] = math.degrees(abs(arcs[0].sweep_rad))
    return found


def _cuff(v: Values) -> Made:
    girth = v["wrist"] + v["ease"] + v["overlap"]
    piece = flared_tube("cuff", girth, girth + v["flare"], v["length"], sides="opening")
    piece = Piece(piece.name, piece.edges, copies=4, mirrored=False, note="two outside, two inside")
    return Made((piece,), (), (), _radii(piece), (reason("wrist, ease and overlap"),))


def _standing_collar(v: Values) -> Made:
    neck = v["neck"] + v["ease"] + v["overlap"]
    lean = v["lean"]
    piece = flared_tube(
        "collar", neck - lean, neck, v["height"], kinds=("edge", "neck"), sides="opening"
    )
    piece = Piece(piece.name, piece.edges, copies=2, note="one outside, one inside")
    why = (reason("neck base and ease; leaning in by the girth that its upper edge is shorter"),)
    return Made((piece,), (), (), _radii(piece), why)


def _shaped_band(v: Values) -> Made:
    low = v["lower"] + v["ease"]
    piece = flared_tube("band", v["upper"] + v["ease"], low, v["height"], kinds=("seam", "waist"))
    piece = Piece(piece.name, piece.edges, copies=2, note="one outside, one inside")
    return Made((piece,), (), (), _radii(piece), (reason("a flared tube between two girths"),))


def _cone(v: Values) -> Made:
    radius = v["girth"] / math.tau
    slant = math.hypot(radius, v["height"])
    piece = ring_part(
        "cone", 0.0, slant, math.tau * radius / slant, kinds=("tip", "seam"), sides="seam"
    )
    values = {
        "slant_mm": slant,
        "angle_deg": math.degrees(math.tau * radius / slant),
        "dart_angle_deg": 360.0 * (1 - radius / slant),
    }
    return Made((piece,), (around("cone"),), (), values, (reason("a cone unrolled into a sector"),))


def _gore_edges(radius: float, gores: int, lowest: float) -> tuple[Edge, ...]:
    """Return the two edges of a gore of a ball from a distance of the equator to the pole."""
    steps = 64
    top = math.pi / 2.0 * radius
    along = [lowest + (top - lowest) * k / steps for k in range(steps + 1)]
    half = [math.pi * radius / gores * math.cos(s / radius) for s in along]
    half[-1] = 0.0
    if lowest < 0.0:
        half[0] = 0.0
    right = tuple(zip(half, along, strict=True))
    left = tuple((-x, y) for x, y in right[::-1])
    return Edge("right", (Trace(right),)), Edge("left", (Trace(left),))


def _globe(v: Values) -> Made:
    gores = v.count("gores")
    radius = v["girth"] / math.tau
    piece = Piece("gore", _gore_edges(radius, gores, -math.pi / 2 * radius), copies=gores)
    values = {"radius_mm": radius, "half_width_mm": math.pi * radius / gores}
    why = (reason("half width pi r / n cos(s / r) at a distance s from the equator"),)
    return Made((piece,), (around("gore", gores),), (), values, why)


def _bonnet_crown(v: Values) -> Made:
    gores = v.count("gores")
    radius = (v["head"] + v["ease"]) / math.tau
    right, left = _gore_edges(radius, gores, 0.0)
    edge = Edge("edge", (Line(left.end, right.start),), "seam")
    piece = Piece("crown gore", (edge, right, left), copies=gores)
    why = (reason("half a ball of the head's girth; half width pi r / n cos(s / r)"),)
    return Made((piece,), (around("crown gore", gores),), (), {"radius_mm": radius}, why)


def _box_tail(v: Values) -> Made:
    angle, height = math.radians(v["angle"]), v["height"]
    radius = v["radius"]
    if height >= 2 * radius:
        raise OutOfRangeError(
            "the box is too high for its curl", "height", "give a wider curl or a lower box"
        )
    side = ring_part(
        "tail side", radius - height / 2, radius + height / 2, angle, kinds=("inner", "outer")
    )
    side = Piece(
        side.name,
        tuple(Edge(e.name, e.curves, "seam") for e in side.edges),
        copies=2,
        mirrored=True,
    )
    strips = {
        "tail top": tail_top_mm(radius_mm=radius, height_mm=height, angle_deg=v["angle"]),
        "tail bottom": tail_bottom_mm(radius_mm=radius, height_mm=height, angle_deg=v["angle"]),
    }
    boxes = tuple(box(name, v["width"], length) for name, length in strips.items())
    mates = (
        Mate(("tail side", "outer"), ("tail top", "left"), run="along"),
        Mate(("tail side", "inner"), ("tail bottom", "left"), run="along"),
    )
    values = {f"{name.replace(' ', '_')}_mm": length for name, length in strips.items()}
    return Made(
        (side, *boxes), mates, (), values, (reason("strips as long as the arcs they meet"),)
    )


def _godet(v: Values) -> Made:
    piece = ring_part("godet", 0.0, v["length"], math.radians(v["angle"]), copies=v.count("copies"))
    values = {"hem_length_mm": piece.edge("hem").length_mm}
    return Made((piece,), (), (), values, (reason("a sector set into a slit of its length"),))


SHAPES = (
    Shape(
        "frustum",
        "flared tube between two girths: yoke, sleeve flounce, crown, gaiter",
        (
            mm("top", "girth of the upper edge", low=10, high=30000, waist_girth=1.0),
            mm("bottom", "girth of the lower edge", low=10, high=30000, hip_girth=1.0),
            mm("length", "length of cloth between them", 200, low=5, high=3000),
            number("panels", "panels around", 1, 1, 60, "count"),
            share_of("waist"),
            share_of("hip"),
        ),
        _frustum,
        ("frustum", "flared tube", "yoke"),
    ),
    Shape(
        "cuff",
        "cuff, straight or flared",
        (
            mm("wrist", "wrist girth", low=20, high=2000, wrist_girth=1.0),
            mm("ease", "ease", 30, low=-100, high=1000),
            mm("overlap", "overlap for the closing", 20, high=200),
            mm("length", "depth of the cuff", 70, low=5, high=1000),
            mm("flare", "how much wider its other edge is", 0, high=3000),
        ),
        _cuff,
        ("cuff", "cuffs"),
    ),
    Shape(
        "standing-collar",
        "standing collar, straight or leaning in",
        (
            mm("neck", "neck base girth", low=50, high=2000, neck_base_girth=1.0),
            mm("ease", "ease", 15, low=-100, high=500),
            mm("overlap", "overlap for the closing", 20, high=200),
            mm("height", "height of the collar", 45, low=5, high=400),
            mm("lean", "how much shorter its upper edge is", 15, low=-1000, high=300),
        ),
        _standing_collar,
        ("standing collar", "collar", "stand collar"),
    ),
    Shape(
        "shaped-band",
        "band shaped to two girths: contour waistband, corselet, flared cummerbund",
        (
            mm("upper", "girth at its upper edge", low=50, waist_girth=1.0),
            mm("lower", "girth at its lower edge", 40, low=50, waist_girth=1.0),
            mm("ease", "ease", 10, low=-300, high=500),
            mm("height", "height", 80, low=5, high=600),
        ),
        _shaped_band,
        ("shaped band", "contour waistband", "corselet"),
    ),
    Shape(
        "cone",
        "cone: hat, horn, beak",
        (
            mm("girth", "girth of the base", low=10, high=5000, head_girth=1.0),
            mm("height", "height", 300, low=1, high=3000),
        ),
        _cone,
        ("cone", "horn", "pointed hat"),
    ),
    Shape(
        "globe",
        "ball of gores",
        (
            mm("girth", "girth of the ball", 600, low=20, high=20000),
            number("gores", "number of gores", 6, 3, 60, "count"),
        ),
        _globe,
        ("globe", "ball"),
    ),
    Shape(
        "bonnet-crown",
        "crown of a bonnet, cap or mask of gores, half a ball",
        (
            mm("head", "head girth", low=100, high=2000, head_girth=1.0),
            mm("ease", "ease", 20, low=-50, high=300),
            number("gores", "number of gores", 6, 3, 24, "count"),
        ),
        _bonnet_crown,
        ("bonnet crown", "bonnet", "cap"),
    ),
    Shape(
        "hood-three-piece",
        "hood of two sides and a strip",
        hood_parameters(),
        hood_pieces,
        ("hood", "three-piece hood"),
    ),
    Shape(
        "hood-two-piece",
        "hood of two sides",
        hood_parameters(strip=False),
        hood_of_two,
        ("two-piece hood",),
    ),
    Shape(
        "box-tail",
        "curled tail or horn of box section",
        (
            mm("radius", "radius of its middle line", 400, low=10, high=5000),
            mm("height", "height of the box", 80, low=5, high=1000),
            mm("width", "width of the box", 80, low=5, high=1000),
            number("angle", "angle that it curls by", 90.0, 1.0, 355.0, "deg"),
        ),
        _box_tail,
        ("tail", "box tail"),
    ),
    Shape(
        "godet",
        "godet, a sector set into a slit",
        (
            mm("length", "length of the slit", 300, low=10, high=3000),
            number("angle", "angle of the godet", 60.0, 2.0, 180.0, "deg"),
            number("copies", "how many", 6, 1, 200, "count"),
        ),
        _godet,
        ("godet", "godets"),
    ),
)
