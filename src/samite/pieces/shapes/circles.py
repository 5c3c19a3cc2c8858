"""Circle skirts, peplums, capes, cloaks, trains, wings and discs."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.pieces.curves import Arc, Line, Trace
from samite.pieces.edge import Edge
from samite.pieces.forms.circles import waist_radius_mm
from samite.pieces.outline import Piece
from samite.pieces.shape import PRACTICE, Made, Shape, Values, choice, mm, number, reason
from samite.pieces.shapes._hood import hood_parameters, hood_pieces
from samite.pieces.shapes._ring import ring_part
from samite.pieces.shapes._sides import EVEN, in_front_and_back, share_of
from samite.pieces.walk import Mate, Smooth

_FRACTION = number("fraction", "share of a full circle, over all panels", 1.0, 0.02, 6.0)
_PANELS = number("panels", "panels around", 2, 1, 60, "count")
_ALLOWANCE = mm("seam_allowance", "allowance at panel edges cut on the radius", 15, high=60)
_GROWTH = number("growth", "how much the raw waist edge grows when handled", 0.0, -20.0, 40.0, "%")
_STRETCH = number("stretch", "how far the waist is stretched when worn", 0.0, 0.0, 150.0, "%")
_GATHER = number("gather", "waist edge over the girth that it is gathered to", 1.0, 1.0, 6.0)
_CUT = choice(
    "cut_on",
    "edges on the radius lose their allowance, edges beside it do not",
    "seam",
    "radius",
)


def _skirt(v: Values, name: str, girth: float, kinds: tuple[str, str], sides: str = "seam") -> Made:
    panels, fraction, allowance = v.count("panels"), v["fraction"], v["seam_allowance"]
    share = fraction / panels
    if share > 1.0 + 1e-9:
        raise OutOfRangeError(
            f"{fraction:g} circles cannot be cut as {panels} panels", "panels", "take more panels"
        )
    on_radius = v.word("cut_on") == "radius" or share > 1.0 - 1e-6
    lost = allowance if on_radius else 0.0
    radius = waist_radius_mm(
        waist_mm=girth,
        fraction=fraction,
        panels=panels if on_radius else 0,
        seam_allowance_mm=lost,
        growth_percent=v["growth"],
        stretch_percent=v["stretch"],
        gather=v["gather"],
    )
    outer = radius + v["length"]
    slit = 2.0 * math.asin(min(lost / radius, 1.0))

    def panel(wide: tuple[float, ...]) -> Piece:
        angle = (math.tau * share - slit) * wide[0] + slit
        return ring_part(name, radius, outer, angle, kinds=kinds, sides=sides, lost_mm=lost)

    front = (v.get("front_waist_share", EVEN),)
    pieces, seams, told = in_front_and_back(name, panels, front, panel)
    values = {
        "waist_radius_mm": radius,
        "hem_radius_mm": outer,
        "hem_length_mm": sum(p.copies * p.edge(kinds[1]).length_mm for p in pieces),
        "waist_length_mm": sum(p.copies * p.edge(kinds[0]).length_mm for p in pieces),
        "total_area_mm2": sum(p.copies * p.area_mm2 for p in pieces),
    }
    why = [
        reason(
            f"waist radius {radius:.1f} mm: {girth:.0f} mm of stitch line from {fraction:g} of a"
            " circle"
        )
    ]
    if lost:
        why.append(
            reason(
                f"{2 * panels} edges cut on the radius take {lost:.0f} mm each from the waist, so"
                " the radius is solved larger"
            )
        )
    why.append(reason("hang it a day or more, then level the hem: the bias drops", PRACTICE))
    mates = () if sides == "opening" and panels == 1 else tuple(seams)
    smooths = () if lost else _level_ends(pieces, kinds[1])
    return Made(tuple(pieces), mates, smooths, values, (*why, *told))


def _level_ends(pieces: list[Piece], hem: str) -> tuple[Smooth, ...]:
    """Return the corners at which a hem runs on over the seams between panels."""
    names = [piece.name for piece in pieces]
    return tuple(
        Smooth((one, hem, "right"), (after, "left", hem))
        for one, after in zip(names, [*names[1:], names[0]], strict=True)
    )


def _circle_skirt(v: Values) -> Made:
    return _skirt(v, "skirt panel", v["waist"] + v["ease"], ("waist", "hem"))


def _cape(v: Values) -> Made:
    sides = "opening" if v.count("panels") == 1 else "seam"
    return _skirt(v, "cape", v["neck"] + v["ease"], ("neck", "hem"), sides)


def _hooded_cloak(v: Values) -> Made:
    cape = _cape(v)
    hood = hood_pieces(v)
    neck = cape.values["waist_length_mm"]
    hood_neck = hood.values["neck_length_mm"]
    values = {**cape.values, **hood.values, "hood_fullness": hood_neck / neck}
    why = (*cape.reasons, *hood.reasons, reason(
        f"the hood's neck edge, {hood_neck:.0f} mm, is gathered or eased to {neck:.0f} mm"
    ))  # fmt: skip
    panel = cape.pieces[0]
    necks = float(panel.copies * (2 if panel.on_fold else 1))
    joined = Mate(
        (panel.name, "neck"), ("hood side", "neck"), hood_neck - neck, (necks, 2.0), stops=(),
        also=(("hood strip", "bottom", 1.0),),
    )  # fmt: skip
    return Made((*cape.pieces, *hood.pieces), (*cape.mates, *hood.mates, joined), (), values, why)


def _train(v: Values) -> Made:
    girth = v["waist"] + v["ease"]
    radius = waist_radius_mm(waist_mm=girth, fraction=v["fraction"])
    half = math.pi * v["fraction"]
    if v["fraction"] > 1.0:
        raise OutOfRangeError("a train is at most a full circle", "fraction", "give 1 or less")
    steps = max(96, int(half * 60))
    hem = []
    for step in range(steps + 1):
        share = step / steps
        reach = radius + v["length"] + v["train"] * (1.0 - math.cos(math.pi * share)) / 2.0
        angle = -math.pi / 2.0 - half + half * share
        hem.append((reach * math.cos(angle), reach * math.sin(angle)))
    front = (radius * math.cos(-math.pi / 2 - half), radius * math.sin(-math.pi / 2 - half))
    waist = Arc((0.0, 0.0), radius, -math.pi / 2.0, -half)
    edges = (
        Edge("hem", (Trace(tuple(hem)),), "hem", corner="mitre"),
        Edge("centre-back", (Line(hem[-1], (0.0, -radius)),), "fold"),
        Edge("waist", (waist,), "waist"),
        Edge("centre-front", (Line(front, hem[0]),)),
    )
    piece = Piece("trained skirt, half", edges, note="centre back on the fold")
    values = {
        "waist_radius_mm": radius,
        "waist_length_mm": 2 * piece.edge("waist").length_mm,
        "hem_length_mm": 2 * piece.edge("hem").length_mm,
    }
    why = (
        reason("hem radius r + l + t (1 - cos phi) / 2: level at centre front and centre back"),
        reason("hang it a day or more, then level the hem: the bias drops", PRACTICE),
    )
    return Made((piece,), (), (), values, why)


def _wings(v: Values) -> Made:
    piece = ring_part(
        "wing", 0.0, v["span"] / 2.0, math.radians(v["angle"]), kinds=("neck", "hem"), copies=2
    )
    return Made(
        (piece,),
        (),
        (),
        {"radius_mm": v["span"] / 2.0},
        (reason("from the spine to the finger tips: half of the arm span"),),
    )


def _disc(v: Values) -> Made:
    radius = v["girth"] / math.tau
    half = [Arc((0.0, 0.0), radius, begin, math.pi) for begin in (0.0, math.pi)]
    edges = (Edge("front", (half[1],)), Edge("back", (half[0],)))
    piece = Piece("disc", edges, copies=v.count("copies"))
    return Made((piece,), (), (), {"radius_mm": radius}, (reason("girth over 2 pi"),))


_RING = (_FRACTION, _PANELS, _CUT, _ALLOWANCE, _GROWTH, _STRETCH, _GATHER)

_NECK = mm("neck", "neck girth that it is set on", neck_base_girth=1.0, low=50)
_CAPE_LENGTH = mm("length", "from neck to hem", -80.0, low=50, high=3000, cervicale_height=1.0)

SHAPES = (
    Shape(
        "circle-skirt",
        "circle skirt of any fraction and any number of panels",
        (
            mm("waist", "girth of the body at the waist", low=50, waist_girth=1.0),
            mm("ease", "ease at the waist", 0, low=-500, high=1000),
            mm(
                "length", "from waist to hem", low=10, high=3000, waist_height=1.0, knee_height=-1.0
            ),
            *_RING,
            share_of("waist"),
        ),
        _circle_skirt,
        ("circle skirt", "half circle skirt", "full circle skirt", "circular skirt", "skirt"),
    ),
    Shape(
        "peplum",
        "peplum, a short circle skirt on a bodice",
        (
            mm("waist", "girth of the body at the waist", low=50, waist_girth=1.0),
            mm("ease", "ease at the waist", 0, low=-500, high=1000),
            mm("length", "from waist to hem", 180, low=10, high=1000),
            *_RING,
            share_of("waist"),
        ),
        _circle_skirt,
        ("peplum",),
    ),
    Shape(
        "cape",
        "cape, a part of a circle hung from the neck",
        (
            _NECK,
            mm("ease", "ease at the neck", 0, low=-200, high=500),
            _CAPE_LENGTH,
            number("fraction", "share of a full circle, over all panels", 0.5, 0.02, 6.0),
            number("panels", "panels around", 1, 1, 60, "count"),
            *_RING[2:],
        ),
        _cape,
        ("cape", "cloak", "mantle"),
    ),
    Shape(
        "hooded-cloak",
        "cloak, a part of a circle, with a hood of three pieces",
        (
            _NECK,
            mm("ease", "ease at the neck", 0, low=-200, high=500),
            _CAPE_LENGTH,
            number("fraction", "share of a full circle, over all panels", 0.75, 0.02, 6.0),
            number("panels", "panels around", 3, 1, 60, "count"),
            *_RING[2:],
            *hood_parameters(),
        ),
        _hooded_cloak,
        ("hooded cloak", "cloak with hood", "hooded cape"),
    ),
    Shape(
        "train",
        "skirt with a train, a part of a circle whose hem sweeps back",
        (
            mm("waist", "girth of the body at the waist", low=50, waist_girth=1.0),
            mm("ease", "ease at the waist", 10, low=-500, high=1000),
            mm("length", "from waist to floor in front", low=50, high=3000, waist_height=1.0),
            mm("train", "how much longer at the centre back", 600, high=6000),
            number("fraction", "share of a full circle", 0.5, 0.05, 1.0),
        ),
        _train,
        ("train", "trained skirt", "skirt with train"),
    ),
    Shape(
        "wings",
        "pair of wings, sectors from spine to finger tips",
        (
            mm("span", "arm span", low=100, arm_span=1.0),
            number("angle", "angle of a wing", 90.0, 5.0, 180.0, "deg"),
        ),
        _wings,
        ("wings", "wing"),
    ),
    Shape(
        "disc",
        "disc: top of a crown, end of a tube",
        (
            mm("girth", "way around", low=10, head_girth=1.0),
            number("copies", "how many", 1, 1, 200, "count"),
        ),
        _disc,
        ("disc", "circle"),
    ),
)
