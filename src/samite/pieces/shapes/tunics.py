"""Tunics with gussets and side gores, gussets alone, tabards."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.pieces.curves import Arc, Line
from samite.pieces.edge import Edge
from samite.pieces.outline import Mark, Piece, Rule, polygon
from samite.pieces.shape import Made, Shape, Values, mm, number, reason
from samite.pieces.shapes._ring import around, box, ring_part
from samite.pieces.shapes._sides import share_of
from samite.pieces.walk import Mate, Smooth


def _half(
    name: str, widths: tuple[float, float], length: float, neck: tuple[float, float],
    armhole: float, gusset: float, waist: float,
) -> Piece:  # fmt: skip
    """Return half a body on the fold: neck square at shoulder and centre, armhole straight.

    It is as wide as the first width below the arm and as the second at the shoulder; where they
    differ the armhole leans, as long as before.
    """
    half, shoulder = widths
    width, depth = neck
    top = length
    if abs(half - shoulder) >= 0.8 * armhole:
        raise OutOfRangeError(
            f"{name}: {half:.0f} mm below the arm and {shoulder:.0f} at the shoulder cannot be drawn",
            "front_bust_share", "give a share nearer to one half",
        )  # fmt: skip
    curve = _neck_curve(width, depth, top)
    under = top - math.sqrt(armhole**2 - (half - shoulder) ** 2)
    corners = [(half, 0.0), (half, under - gusset), (half, under), (shoulder, top)]
    edges = [
        Edge("hem", (Line((0.0, 0.0), corners[0]),), "hem", corner="mirror"),
        Edge("side", (Line(corners[0], corners[1]),)),
    ]
    if gusset > 0.0:
        edges.append(Edge("gusset", (Line(corners[1], corners[2]),)))
    edges += [
        Edge("armhole", (Line(corners[2], corners[3]),)),
        Edge("shoulder", (Line(corners[3], curve[0].start),)),
        Edge("neck", curve, "neck"),
        Edge("centre", (Line(curve[-1].end, (0.0, 0.0)),), "fold"),
    ]
    marks = (Mark("gusset begins", corners[1]),) if gusset > 0.0 else ()
    drawn = 0.0 < top - waist < corners[1][1]
    rules = (Rule("waist line", ((0.0, top - waist), (half, top - waist))),) if drawn else ()
    return Piece(name, tuple(edges), marks=marks, rules=rules, note="centre on the fold")


def _neck_curve(width: float, depth: float, top: float) -> tuple[Line | Arc, ...]:
    """Return the neck from the shoulder to the centre, which it meets squarely.

    An arc; where the neck is deeper than half its width, an upright line and a quarter circle.
    """
    if depth > width * (1.0 + 1e-9):
        corner = (width, top - depth + width)
        return (Line((width, top), corner), Arc((0.0, corner[1]), width, 0.0, -math.pi / 2.0))
    radius = (width * width + depth * depth) / (2.0 * depth)
    angle = math.asin(min(width / radius, 1.0))
    return (Arc((0.0, top - depth + radius), radius, -math.pi / 2 + angle, -angle),)


def _check_neck(wide: float, deep: float, half: float, length: float) -> None:
    """Refuse a neck that leaves no shoulder or no body."""
    if wide >= half - 5.0 or deep >= length - 20.0:
        raise OutOfRangeError(
            "the neck leaves no shoulder or no body", "neck_width", "give a smaller neck"
        )


def _tunic(v: Values) -> Made:
    half = (v["bust"] + v["ease"]) / 4.0
    sleeve = v["upper_arm"] + v["arm_ease"]
    armhole, gusset = sleeve / 2.0, v["gusset"]
    if armhole + gusset >= v["length"] or v["neck_width"] / 2 >= half:
        raise OutOfRangeError(
            "armhole and gusset, or the neck, are larger than the body", "length", "change them"
        )
    for part in ("front", "back"):
        _check_neck(v["neck_width"] / 2.0, v[f"{part}_neck_depth"], half, v["length"])
    share = v["front_bust_share"]
    halves = [
        _half(
            part, (2.0 * half * wide, half), v["length"],
            (v["neck_width"] / 2, v[f"{part}_neck_depth"]), armhole, gusset, v["waist_level"],
        )
        for part, wide in (("front", share), ("back", 1.0 - share))
    ]  # fmt: skip
    arm = _tunic_sleeve(sleeve, v["sleeve_length"], v["sleeve_hem"], gusset)
    pieces = [*halves, arm]
    mates = [
        Mate(("front", "side"), ("back", "side")),
        Mate(("front", "shoulder"), ("back", "shoulder")),
        Mate(("front", "armhole"), ("sleeve", "front-cap")),
        Mate(("back", "armhole"), ("sleeve", "back-cap")),
        Mate(("sleeve", "front-underarm"), ("sleeve", "back-underarm")),
    ]
    if gusset > 0.0:
        pieces.append(_diamond(gusset, v["lift"]))
        mates += [
            Mate(("front", "gusset"), ("gusset", "side 1")),
            Mate(("back", "gusset"), ("gusset", "side 2")),
            Mate(("sleeve", "front-gusset"), ("gusset", "side 3")),
            Mate(("sleeve", "back-gusset"), ("gusset", "side 4")),
        ]
    if v["gore"] > 0.0:
        side = halves[0].edge("side").length_mm
        angle = 2.0 * math.asin(min(v["gore"] / 2.0 / side, 1.0))
        pieces.append(ring_part("side gore", 0.0, side, angle, kinds=("neck", "hem"), copies=2))
        mates += [
            Mate(("front", "side"), ("side gore", "right")),
            Mate(("back", "side"), ("side gore", "left")),
        ]
    why = (
        reason("rectangles from bust, arm and length; the armhole is half the sleeve's width"),
        reason(f"gusset with sides of {gusset:.0f} mm, as long as the slits it is set in"),
    )
    values = {"half_width_mm": 2 * half, "armhole_mm": armhole}
    hem = () if v["gore"] > 0.0 else (Smooth(("front", "hem", "side"), ("back", "hem", "side")),)
    return Made(tuple(pieces), tuple(mates), hem, values, why)


def _tunic_sleeve(top: float, length: float, hem: float, gusset: float) -> Piece:
    """Return a straight or tapering sleeve; its cap is straight, in two halves."""
    low = hem / 2.0
    run = math.hypot(top / 2 - low, length)
    if gusset >= run - 10.0:
        raise OutOfRangeError(
            f"a gusset of {gusset:.0f} mm leaves no underarm seam of this sleeve", "gusset",
            "give a smaller gusset or a longer sleeve",
        )  # fmt: skip
    along = ((top / 2 - low) / run, length / run)
    cut = (top / 2 - along[0] * gusset, -along[1] * gusset)
    right = [Edge("front-underarm", (Line((low, -length), cut),))]
    left = [Edge("back-underarm", (Line((-cut[0], cut[1]), (-low, -length)),))]
    if gusset > 0.0:
        right.append(Edge("front-gusset", (Line(cut, (top / 2, 0.0)),)))
        left.insert(0, Edge("back-gusset", (Line((-top / 2, 0.0), (-cut[0], cut[1])),)))
    edges = (
        Edge("hem", (Line((-low, -length), (low, -length)),), "hem", corner="mirror"),
        *right,
        Edge("front-cap", (Line((top / 2, 0.0), (0.0, 0.0)),)),
        Edge("back-cap", (Line((0.0, 0.0), (-top / 2, 0.0)),)),
        *left,
    )
    return Piece("sleeve", edges, copies=2)


def _diamond(side: float, lift: float) -> Piece:
    """Return a gusset with four equal sides whose diagonal spans the lifted arm's opening."""
    half = math.radians(lift) / 2.0
    x, y = side * math.sin(half), side * math.cos(half)
    corners = ((0.0, -y), (x, 0.0), (0.0, y), (-x, 0.0))
    made = polygon("gusset", corners, tuple((f"side {k}", "seam") for k in range(1, 5)))
    return Piece(made.name, made.edges, copies=2, grain_deg=90.0)


def _gusset(v: Values) -> Made:
    piece = _diamond(v["arm"], v["lift"])
    wide = 2 * v["arm"] * math.sin(math.radians(v["lift"]) / 2)
    values = {"opening_mm": wide, "side_mm": v["arm"], "square_side_mm": wide / math.sqrt(2)}
    return Made((piece,), (), (), values, (reason("the diagonal spans the opening of the arm"),))


def _tabard(v: Values) -> Made:
    width, length = v["width"] / 2.0, v["length"]
    _check_neck(v["neck_width"] / 2.0, v["neck_depth"], width, length)
    neck = _neck_curve(v["neck_width"] / 2.0, v["neck_depth"], length)
    edges = (
        Edge("hem", (Line((0.0, 0.0), (width, 0.0)),), "hem", corner="mirror"),
        Edge("side", (Line((width, 0.0), (width, length)),), "hem", 15.0, corner="mirror"),
        Edge("shoulder", (Line((width, length), neck[0].start),)),
        Edge("neck", neck, "neck"),
        Edge("centre", (Line(neck[-1].end, (0.0, 0.0)),), "fold"),
    )
    piece = Piece("tabard half", edges, copies=2, note="centre on the fold; front and back alike")
    mates = (Mate(("tabard half", "shoulder"), ("tabard half", "shoulder"), run="along"),)
    return Made((piece,), mates, (), {}, (reason("rectangle of shoulder width with a round neck"),))


def _panel_robe(v: Values) -> Made:
    piece = box("panel", v["width"], v["length"], ("seam", "hem"), copies=v.count("panels"))
    return Made(
        (piece,), (around("panel", v.count("panels")),), (), {}, (reason("straight panels"),)
    )


_NECK = (
    mm("neck_width", "width of the neck opening", 40, low=50, high=800, neck_base_girth=0.36),
    mm("front_neck_depth", "depth of the front neck", low=5, high=400, neck_base_girth=0.2),
    mm("back_neck_depth", "depth of the back neck", low=5, high=400, neck_base_girth=0.05),
)

SHAPES = (
    Shape(
        "tunic",
        "tunic of rectangles with underarm gussets and side gores",
        (
            mm("bust", "bust or chest girth", low=200, high=4000, bust_girth=1.0),
            mm("ease", "ease at the bust", 160, low=0, high=3000),
            mm(
                "length",
                "from shoulder to hem",
                -60,
                low=200,
                high=2500,
                cervicale_height=1.0,
                knee_height=-1.0,
            ),
            mm("waist_level", "from shoulder to waist", 20, low=0, high=900, back_waist_length=1.0),
            *_NECK,
            mm("upper_arm", "upper arm girth", low=80, high=1500, upper_arm_girth=1.0),
            mm("arm_ease", "ease of the sleeve", 140, low=0, high=2000),
            mm("sleeve_length", "length of the sleeve", low=50, high=1200, arm_length=0.85),
            mm("sleeve_hem", "girth of the sleeve's hem", 120, low=60, high=2500, wrist_girth=1.0),
            mm("gusset", "side of the gusset; 0 for none", 100, high=500),
            number("lift", "how far the arm is lifted", 90.0, 10.0, 170.0, "deg"),
            mm("gore", "hem width of a side gore; 0 for none", 300, high=2500),
            share_of("bust"),
        ),
        _tunic,
        ("tunic", "robe", "chemise", "shirt"),
    ),
    Shape(
        "gusset",
        "underarm gusset",
        (
            mm("arm", "length of the slit that it is set in", 120, low=10, high=600),
            number("lift", "how far the arm is lifted", 90.0, 5.0, 175.0, "deg"),
        ),
        _gusset,
        ("gusset",),
    ),
    Shape(
        "tabard",
        "tabard of two rectangles",
        (
            mm("width", "width", 40, low=100, high=2000, shoulder_length=2.0, neck_base_girth=0.36),
            mm(
                "length",
                "from shoulder to hem",
                -40,
                low=100,
                high=2500,
                cervicale_height=1.0,
                knee_height=-1.0,
            ),
            mm(
                "neck_width",
                "width of the neck opening",
                40,
                low=50,
                high=800,
                neck_base_girth=0.36,
            ),
            mm("neck_depth", "depth of the neck", low=5, high=400, neck_base_girth=0.19),
        ),
        _tabard,
        ("tabard", "surcoat"),
    ),
    Shape(
        "panels",
        "straight panels seamed into a tube or a hanging",
        (
            mm("width", "width of a panel", 700, low=10, high=5000),
            mm("length", "length of a panel", 1500, low=10, high=20000),
            number("panels", "number of panels", 4, 1, 100, "count"),
        ),
        _panel_robe,
        ("panels", "hanging"),
    ),
)
