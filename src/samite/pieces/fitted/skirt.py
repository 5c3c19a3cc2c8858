"""A fitted skirt: darts or seams from the waist, straight or widening below the hip."""

from __future__ import annotations

from types import MappingProxyType

import numpy as np

from samite.pieces.fitted.choose import fewest_panels
from samite.pieces.fitted.cut import cut_pieces
from samite.pieces.fitted.measures import CLOTH, eases, limits_of
from samite.pieces.fitted.plan import Plan
from samite.pieces.fitted.strips import Dart, Strips, strips_plan
from samite.pieces.fitted.style import front_names
from samite.pieces.fitted.tell import made_of, trunk_girths
from samite.pieces.shape import Made, Shape, Values, choice, mm, number
from samite.pieces.surface.loft import Surface
from samite.pieces.surface.sections import Section
from samite.pieces.surface.torso import Level, lofted

DARTS = ((1, 1), (1, 2), (2, 2), (3, 3))
"""Darts of one half in front and behind."""

SEAMS = ((2, 2), (3, 3), (4, 4), (5, 5))
"""Panels of one half in front and behind."""

_TIPS = (0.45, 0.65)
"""How far darts reach from waist to hip, in front and behind; common practice."""


def skirt_surface(v: Values) -> Surface:
    """Return the surface of a skirt from hem to waist.

    Parameters
    ----------
    v : Values
        Girths, eases, length, hem.

    Returns
    -------
    Surface
        One half.

    Raises
    ------
    OutOfRangeError
        If the measures make no body.

    Notes
    -----
    High hip half way, its girth between waist and hip unless it was measured; below the hip the
    depth follows the hip.

    References
    ----------
    ``guess``: shape between measured levels.
    """
    waist, hip = v["waist"] + v["waist_ease"], v["hip"] + v["hip_ease"]
    high = v["high_hip"] + 0.5 * (v["waist_ease"] + v["hip_ease"])
    waist_depth = v["waist_depth"] / v["waist_breadth"]
    hip_depth = v["hip_depth"] / v["hip_breadth"]
    hem = hip + v["hem_wider"]
    levels = [
        Level("hem", -v["length"], Section(hem, hip_depth, 0.44)),
        Level("hip", -v["hip_drop"], Section(hip, hip_depth, 0.42)),
        Level("high hip", -0.5 * v["hip_drop"], Section(high, (waist_depth + hip_depth) / 2, 0.47)),
        Level("waist", 0.0, Section(waist, waist_depth, 0.52)),
    ]
    if v["length"] < v["hip_drop"] + 30.0:
        levels = levels[1:]
    return lofted(levels)


def skirt_plan(surface: Surface, v: Values, front: int, back: int, *, darts: bool) -> Plan:
    """Return the plan of a skirt.

    Parameters
    ----------
    surface : Surface
        The surface.
    v : Values
        Settings.
    front : int
        Darts, or panels, of one half in front [-].
    back : int
        The same behind [-].
    darts : bool
        Whether they are darts.

    Returns
    -------
    Plan
        The plan.

    Raises
    ------
    InfeasibleError
        If the style lines leave a panel empty.

    References
    ----------
    ``common-practice``: darts of the back reach lower than those of the front.
    """
    levels, top = surface.levels, float(surface.rows)
    hip = levels["hip"]
    panels = (1, 1) if darts else (front, back)
    columns = [0.5 * k / panels[0] for k in range(panels[0])]
    columns += [0.5 + 0.5 * k / panels[1] for k in range(panels[1] + 1)]
    seams = tuple(((c, c), (0.0, top)) for c in columns)
    pinned: dict[str, tuple[Dart, ...]] = {}
    if darts:
        counts = {"front": (front, 0.0), "back": (back, 0.5)}
        for (name, (count, start)), reach in zip(counts.items(), _TIPS, strict=True):
            tip = top - reach * (top - hip)
            pinned[name] = tuple(
                Dart(c, (c, tip), upper=True)
                for k in range(count)
                for c in [start + 0.5 * (k + 1) / (count + 1)]
            )
    bands = (("below the hip", 0.0, hip), ("hip to high hip", hip, levels["high hip"]),
             ("high hip to waist", levels["high hip"], 1e9))  # fmt: skip
    rows = {name: levels[name] for name in ("hip", "high hip") if 0.6 < levels[name] < top - 0.6}
    cut = Strips(
        seams, front_names(*panels), np.zeros_like, lambda u: np.full(np.shape(u), top),
        (("hem", "hem"), ("waist", "waist")), MappingProxyType(rows), MappingProxyType(pinned),
        v.word("opening"),
    )  # fmt: skip
    return strips_plan(surface, cut, mesh_mm=v["mesh"], bands=bands)


def _build(v: Values) -> Made:
    surface, limits = skirt_surface(v), limits_of(v)
    ways = [
        (f"{f} + {b} darts", lambda f=f, b=b: skirt_plan(surface, v, f, b, darts=True))
        for f, b in DARTS
    ]
    ways += [
        (f"{f} + {b} panels", lambda f=f, b=b: skirt_plan(surface, v, f, b, darts=False))
        for f, b in SEAMS
    ]
    if v.word("shaped_by") != "either":
        ways = [way for way in ways if way[0].endswith(v.word("shaped_by"))]
    asked = v.count("panels")
    wanted = next(
        (
            name
            for name, _ in ways
            if asked and name.startswith(f"{asked // 2} + {asked - asked // 2} ")
        ),
        "",
    )
    laid, options, chosen = fewest_panels(ways, limits, asked=wanted)
    cut = cut_pieces(laid, limits, hatched=v.word("hatching") == "yes")
    girths = trunk_girths(v, laid, ("waist", "hip"))
    return made_of(cut, laid, limits, options, chosen, girths)


SHAPE = Shape(
    "fitted-skirt",
    "fitted skirt computed from body and cloth, shaped by darts or by seams",
    (
        mm("waist", "waist girth of the body", low=250, high=2200, waist_girth=1.0),
        mm("hip", "hip girth of the body", low=300, high=2400, hip_girth=1.0),
        mm("high_hip", "girth half way from waist to hip", low=300, high=2400, waist_girth=0.42,
           hip_girth=0.58),
        mm("hip_drop", "from waist to hip", low=40, high=500, waist_to_hip=1.0),
        mm("waist_depth", "front to back at the waist", low=60, high=900, waist_depth=1.0),
        mm("waist_breadth", "side to side at the waist", low=100, high=900, waist_breadth=1.0),
        mm("hip_depth", "front to back at the hip", low=60, high=900, hip_depth=1.0),
        mm("hip_breadth", "side to side at the hip", low=100, high=900, hip_breadth=1.0),
        *eases(waist=15.0, hip=55.0),
        mm("length", "from the waist to the hem", low=100, high=1500, waist_height=1.0, knee_height=-1.0),
        mm("hem_wider", "hem girth beyond that of the hip", 0, low=-250, high=1500),
        number("panels", "darts or panels of one half, 0 for the fewest that the cloth takes", 0, 0, 10,
               "count"),
        choice("shaped_by", "what shapes it", "either", "darts", "panels"),
        choice("opening", "where it opens", "back", "front", "side"),
        *CLOTH,
    ),
    _build,
    ("fitted skirt", "straight skirt", "pencil skirt"),
)  # fmt: skip
