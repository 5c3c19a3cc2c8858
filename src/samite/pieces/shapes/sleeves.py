"""Sleeves: set-in, bishop, bell, trumpet and poet."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.pieces.curves import Arc, Cubic, Line, Trace
from samite.pieces.edge import Edge
from samite.pieces.forms.limbs import cap_halves_mm, half_cap_length_mm
from samite.pieces.outline import Notch, Piece
from samite.pieces.plane import Point
from samite.pieces.shape import PRACTICE, Made, Shape, Values, mm, number, reason
from samite.pieces.shapes._ring import around, box, flared_tube
from samite.pieces.walk import Mate, Smooth

_STEPS = 160
STEEPEST_RAD = math.radians(75.0)
"""Steepest lean of an underarm seam."""

_LEVEL = ((-1.0, 0.0), (-1.0, 0.0))


def _half_cap(width: float, height: float, way: float) -> list[Point]:
    """Return half a cap from the underarm to the top, `way` -1 for the back."""
    points = []
    for k in range(_STEPS + 1):
        share = k / _STEPS
        points.append((way * width * (1 - share), height / 2 * (1 - math.cos(math.pi * share))))
    return points


def _sleeve(
    v: Values, *, hem: float, length: float, spread: float = 1.0, kind: str = "hem"
) -> tuple[Piece, dict[str, float]]:
    """Return a sleeve from cap to hem and what was solved."""
    front, back = v["front_armhole"], v["back_armhole"]
    ease = v["cap_ease"]
    share = front / (front + back)
    height, wide_f, wide_b = cap_halves_mm(
        upper_arm_mm=v["upper_arm"],
        front_armhole_mm=front + ease * share,
        back_armhole_mm=back + ease * (1 - share),
    )
    lengths = (
        half_cap_length_mm(half_width_mm=wide_f, cap_height_mm=height),
        half_cap_length_mm(half_width_mm=wide_b, cap_height_mm=height),
    )
    below = length - height
    if below <= 10.0:
        raise OutOfRangeError(
            f"a cap {height:.0f} mm high leaves no sleeve of {length:.0f} mm", "length",
            "give a longer sleeve, a wider upper arm or a shorter armhole",
        )  # fmt: skip
    front_cap = _half_cap(wide_f * spread, height, 1.0)
    back_cap = _half_cap(wide_b * spread, height, -1.0)[::-1]
    inset = (spread * (wide_f + wide_b) - hem) / 2.0
    low_f, low_b = (wide_f * spread - inset, -below), (-wide_b * spread + inset, -below)
    hem_curve, flare = _level_hem(low_f, low_b, front_cap[0], hem)
    low_f, low_b = hem_curve.end, hem_curve.start
    if flare > STEEPEST_RAD or low_f[0] - low_b[0] < 10.0:
        raise OutOfRangeError(
            f"a hem of {hem:.0f} mm cannot be drawn {below:.0f} mm below the cap", "hem",
            "give a longer sleeve, or a hem nearer to the upper arm",
        )  # fmt: skip
    true = lengths if spread == 1.0 else (None, None)
    edges = (
        Edge("hem", (hem_curve,), kind, corner="mirror" if kind == "hem" else "mitre"),
        Edge("front-underarm", (_underarm(low_f, front_cap[0], flare),)),
        Edge("front-cap", (Trace(tuple(front_cap), true[0], _LEVEL),)),
        Edge("back-cap", (Trace(tuple(back_cap), true[1], _LEVEL),)),
        Edge("back-underarm", (_underarm(low_b, back_cap[-1], -flare).turned_round(),)),
    )
    notches = (
        Notch("front-cap", lengths[0] * 0.45, 1, "front armhole"),
        Notch("back-cap", lengths[1] * 0.55, 2, "back armhole"),
        Notch("front-cap", edges[2].length_mm, 1, "shoulder"),
    )
    piece = Piece("sleeve", edges, copies=2, mirrored=True, notches=notches)
    values = {
        "cap_height_mm": height,
        "front_width_mm": wide_f,
        "back_width_mm": wide_b,
        "front_cap_mm": lengths[0],
        "back_cap_mm": lengths[1],
        "cap_ease_mm": sum(lengths) - front - back,
    }
    return piece, values


def _underarm(low: Point, top: Point, flare: float) -> Cubic:
    """Return an underarm seam: upright at the cap, square to the hem."""
    third = math.dist(low, top) / 3.0
    first = (low[0] - third * math.sin(flare), low[1] + third * math.cos(flare))
    return Cubic(low, first, (top[0], top[1] - third), top)


def _level_hem(low_f: Point, low_b: Point, top_f: Point, hem: float) -> tuple[Line | Arc, float]:
    """Return the hem and its flare: straight where the sleeve narrows, else an arc."""
    flare = math.atan2(low_f[0] - top_f[0], top_f[1] - low_f[1])
    if flare <= math.radians(2.0):
        return Line(low_b, low_f), 0.0
    reach, middle = top_f[1] - low_f[1], (low_f[0] + low_b[0]) / 2
    angle, radius = flare, hem / 2 / flare
    for _ in range(100):
        if not 0.0 < angle < STEEPEST_RAD:
            return Line(low_b, low_f), math.pi
        chord = radius * math.sin(angle)
        side = reach - radius * (1 - math.cos(angle))
        angle = math.atan2(middle + chord - top_f[0], side)
        radius = hem / 2 / angle
    centre = (middle, low_f[1] + radius)
    return Arc(centre, radius, -math.pi / 2 - angle, 2 * angle), angle


def _made(
    piece: Piece, values: dict[str, float], *more: Piece, mates: tuple[Mate, ...] = ()
) -> Made:
    underarm = Mate(("sleeve", "front-underarm"), ("sleeve", "back-underarm"))
    smooths = (
        Smooth(("sleeve", "front-underarm", "front-cap"), ("sleeve", "back-cap", "back-underarm")),
        Smooth(("sleeve", "hem", "front-underarm"), ("sleeve", "back-underarm", "hem")),
    )
    why = (
        reason(
            f"cap {values['cap_height_mm']:.1f} mm high: halves of a tube cut by a slanting plane,"
            " each as long as its armhole and ease"
        ),
        reason("arms are not round: sew it in a trial cloth first", PRACTICE),
    )
    return Made((piece, *more), (underarm, *mates), smooths, values, why)


def _set_in(v: Values) -> Made:
    return _made(*_sleeve(v, hem=v["hem"], length=v["length"]))


def _gathered_to_cuff(v: Values, spread: float) -> Made:
    cuff_girth = v["wrist"] + v["wrist_ease"]
    piece, values = _sleeve(
        v, hem=cuff_girth * v["fullness"], length=v["length"] + v["blouse"] - v["cuff"],
        spread=spread, kind="gathered",
    )  # fmt: skip
    cuff = box(
        "cuff", cuff_girth, 2 * v["cuff"], ("seam", "seam"), "opening", copies=2, fold_line=True
    )
    mate = Mate(("cuff", "top"), ("sleeve", "hem"), piece.edge("hem").length_mm - cuff_girth)
    return _made(piece, values, cuff, mates=(mate,))


def _bishop(v: Values) -> Made:
    return _gathered_to_cuff(v, 1.0)


def _poet(v: Values) -> Made:
    made = _gathered_to_cuff(v, v["cap_fullness"])
    frill = box(
        "frill", (v["wrist"] + v["wrist_ease"]) * v["frill_fullness"], v["frill"],
        ("gathered", "hem"), copies=2,
    )  # fmt: skip
    return Made(
        (*made.pieces, frill), (*made.mates, around("frill")), (), made.values, made.reasons
    )


def _bell(v: Values) -> Made:
    return _made(*_sleeve(v, hem=v["hem"], length=v["length"]))


def _trumpet(v: Values) -> Made:
    piece, values = _sleeve(
        v, hem=v["elbow"] + v["elbow_ease"], length=v["elbow_length"], kind="seam"
    )
    flare = flared_tube(
        "trumpet", v["elbow"] + v["elbow_ease"], v["hem"], v["flare_length"], kinds=("seam", "hem")
    )
    flare = Piece(flare.name, flare.edges, copies=2)
    mates = (Mate(("sleeve", "hem"), ("trumpet", "top")), around("trumpet"))
    return _made(piece, values, flare, mates=mates)


_ARM = (
    mm(
        "upper_arm",
        "girth of the sleeve under the arm, ease included",
        50,
        low=100,
        high=2000,
        upper_arm_girth=1.0,
    ),
    mm("front_armhole", "length of the front armhole", 15, low=50, high=1000, armscye_girth=0.49),
    mm("back_armhole", "length of the back armhole", 15, low=50, high=1000, armscye_girth=0.51),
    mm("cap_ease", "length eased into the armhole", 20, low=-50, high=300),
)
_LENGTH = mm("length", "from the top of the cap to the hem", low=50, high=1500, arm_length=1.0)
_CUFFED = (
    mm("wrist", "wrist girth", low=50, high=1000, wrist_girth=1.0),
    mm("wrist_ease", "ease at the wrist", 40, low=-50, high=500),
    mm("blouse", "extra length to blouse over the cuff", 60, high=500),
    mm("cuff", "depth of the cuff", 50, low=5, high=400),
)

SHAPES = (
    Shape(
        "sleeve",
        "set-in sleeve, its cap solved to front and back armhole",
        (*_ARM, _LENGTH, mm("hem", "girth of the hem", 70, low=50, high=3000, wrist_girth=1.0)),
        _set_in,
        ("sleeve", "set-in sleeve"),
    ),
    Shape(
        "bishop-sleeve",
        "sleeve widened to the wrist and gathered into a cuff",
        (*_ARM, _LENGTH, *_CUFFED, number("fullness", "hem over cuff", 2.2, 1.0, 8.0)),
        _bishop,
        ("bishop sleeve",),
    ),
    Shape(
        "poet-sleeve",
        "sleeve gathered at cap and cuff, with a frill",
        (
            *_ARM,
            _LENGTH,
            *_CUFFED,
            number("fullness", "hem over cuff", 2.5, 1.0, 8.0),
            number("cap_fullness", "cap over armhole, about", 1.4, 1.0, 4.0),
            mm("frill", "depth of the frill", 70, low=10, high=500),
            number("frill_fullness", "frill over cuff", 2.5, 1.0, 8.0),
        ),
        _poet,
        ("poet sleeve", "pirate sleeve"),
    ),
    Shape(
        "bell-sleeve",
        "sleeve flared from the underarm to the hem",
        (
            *_ARM,
            _LENGTH,
            mm("hem", "girth of the hem", 150, low=100, high=5000, upper_arm_girth=1.5),
        ),
        _bell,
        ("bell sleeve",),
    ),
    Shape(
        "trumpet-sleeve",
        "close sleeve to the elbow with a flared tube below",
        (
            *_ARM,
            mm("elbow", "elbow girth", low=80, high=1500, elbow_girth=1.0),
            mm("elbow_ease", "ease at the elbow", 40, low=-50, high=500),
            mm(
                "elbow_length",
                "from the top of the cap to the elbow",
                low=100,
                high=1000,
                upper_arm_length=1.0,
            ),
            mm("flare_length", "length of the flared part", 300, low=20, high=1500),
            mm("hem", "girth of the hem", 900, low=100, high=8000),
        ),
        _trumpet,
        ("trumpet sleeve", "pagoda sleeve"),
    ),
)
