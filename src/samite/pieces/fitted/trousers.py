"""Fitted trousers: front and back with darts, the crotch seam solved to its length."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.choose import fewest_panels
from samite.pieces.fitted.cut import cut_pieces
from samite.pieces.fitted.legs import LegCut, leg_plan
from samite.pieces.fitted.measures import CLOTH, eases, limits_of
from samite.pieces.fitted.plan import Laid, Plan
from samite.pieces.fitted.report import Girth
from samite.pieces.fitted.strips import Dart
from samite.pieces.fitted.tell import flat_girth_mm, made_of, trunk_girths
from samite.pieces.fitted.tops import PathPart
from samite.pieces.shape import Made, Parameter, Shape, Values, mm, number
from samite.pieces.surface.loft import Surface, run_mm
from samite.pieces.surface.lower import LegLevel, Legs, Lower, with_legs
from samite.pieces.surface.sections import Section
from samite.pieces.surface.torso import Level, lofted

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

WAYS = ((1, 1), (1, 2), (2, 2), (2, 3))
"""Darts of one half in front and behind."""

HIP: tuple[Parameter, ...] = (
    mm("waist", "waist girth of the body", low=250, high=2200, waist_girth=1.0),
    mm("hip", "hip girth of the body", low=300, high=2400, hip_girth=1.0),
    mm("hip_drop", "from waist to hip", low=40, high=500, waist_to_hip=1.0),
    mm("waist_depth", "front to back at the waist", low=60, high=900, waist_depth=1.0),
    mm("waist_breadth", "side to side at the waist", low=100, high=900, waist_breadth=1.0),
    mm("hip_depth", "front to back at the hip", low=60, high=900, hip_depth=1.0),
    mm("hip_breadth", "side to side at the hip", low=100, high=900, hip_breadth=1.0),
)

LEGS: tuple[Parameter, ...] = (
    mm("body_rise", "from the waist down to the crotch", low=100, high=600, body_rise=1.0),
    mm("crotch", "total crotch length of the body", low=300, high=1500, total_crotch_length=1.0),
    mm("thigh", "thigh girth of the body", low=150, high=1300, thigh_girth=1.0),
    mm("knee", "knee girth of the body", low=120, high=900, knee_girth=1.0),
    mm("calf", "calf girth of the body", low=100, high=900, calf_girth=1.0),
    mm("ankle", "ankle girth of the body", low=80, high=600, ankle_girth=1.0),
    mm("knee_height", "height of the knee above the floor", low=100, high=900, knee_height=1.0),
    mm("waist_height", "height of the waist above the floor", low=300, high=1700, waist_height=1.0),
)


def hip_surface(v: Values) -> Surface:
    """Return the trunk from hip to waist.

    Parameters
    ----------
    v : Values
        Girths and eases.

    Returns
    -------
    Surface
        One half.

    Raises
    ------
    OutOfRangeError
        If the measures make no body.

    References
    ----------
    ``guess``: shape between measured levels.
    """
    waist, hip = v["waist"] + v.get("waist_ease", 0.0), v["hip"] + v.get("hip_ease", 0.0)
    waist_depth = v["waist_depth"] / v["waist_breadth"]
    hip_depth = v["hip_depth"] / v["hip_breadth"]
    middle = (waist_depth + hip_depth) / 2
    return lofted(
        [
            Level("hip", -v["hip_drop"], Section(hip, hip_depth, 0.42)),
            Level(
                "high hip", -0.5 * v["hip_drop"], Section(0.42 * waist + 0.58 * hip, middle, 0.47)
            ),
            Level("waist", 0.0, Section(waist, waist_depth, 0.52)),
        ]
    )


def legs_of(v: Values, *, hem_mm: float | None = None) -> Legs:
    """Return the measures of the legs of a garment.

    Parameters
    ----------
    v : Values
        Measures and eases.
    hem_mm : float or None
        Girth of the hem; None follows the body [mm].

    Returns
    -------
    Legs
        From crotch to floor.

    References
    ----------
    ``guess``: the calf is fullest a third of the way from the knee down.
    """
    waist, knee = v["waist_height"], v["knee_height"]
    calf = v["calf"] + v.get("calf_ease", 0.0)
    knee_girth = v["knee"] + v.get("knee_ease", 0.0)
    low = v["ankle"] + v.get("ankle_ease", 0.0) if hem_mm is None else hem_mm
    if hem_mm is not None:
        calf = max(calf, knee_girth + (hem_mm - knee_girth) * 0.4)
    ankle_height = min(75.0, 0.2 * knee)
    levels = (
        LegLevel("knee", knee - waist, knee_girth, 14.0),
        LegLevel("calf", 0.70 * knee - waist, calf, 16.0),
        LegLevel("ankle", ankle_height - waist, low, 26.0),
    )
    return Legs(
        -v["body_rise"] - v.get("rise_ease", 0.0), v["crotch"] + v.get("crotch_ease", 0.0),
        v["thigh"] + v.get("thigh_ease", 0.0), levels,
    )  # fmt: skip


def row_of_height(surface: Surface, height_mm: float) -> float:
    """Return the row of a leg at a height.

    Parameters
    ----------
    surface : Surface
        A surface with legs.
    height_mm : float
        Above the waist, so negative [mm].

    Returns
    -------
    float
        Row [-].

    References
    ----------
    ``definition``: rows of a leg are level.
    """
    top = surface.levels["thigh"]
    rows = np.linspace(0.0, top, int(4 * top) + 1)
    heights = surface.at(np.full(rows.shape, 0.5), rows)[:, 2]
    return float(np.interp(height_mm, heights, rows))


def trousers_plan(lower: Lower, v: Values, front: int, back: int) -> Plan:
    """Return the plan of trousers.

    Parameters
    ----------
    lower : Lower
        The surface.
    v : Values
        Settings.
    front : int
        Darts of one half in front [-].
    back : int
        The same behind [-].

    Returns
    -------
    Plan
        The plan.

    Raises
    ------
    InfeasibleError
        If a panel is empty.

    References
    ----------
    ``common-practice``: darts of the back reach lower than those of the front.
    """
    surface, levels = lower.surface, lower.surface.levels
    top, hip = float(surface.rows), levels["hip"]
    hem = row_of_height(surface, v["hem_height"] - v["waist_height"])
    u = np.linspace(0.0, 0.5, 120)
    flat = np.full(120, top)
    path = (
        PathPart("waist", "waist", np.stack([u, flat], axis=1)),
        PathPart("waist", "waist", np.stack([u + 0.5, flat], axis=1)),
    )
    darts = {}
    for name, count, start, reach in (("front", front, 0.0, 0.45), ("back", back, 0.5, 0.7)):
        tip = top - reach * (top - hip)
        darts[name] = tuple(
            Dart(c, (c, tip), upper=True)
            for k in range(count) for c in [start + 0.5 * (k + 1) / (count + 1)]
        )  # fmt: skip
    rows = {
        name: levels[name]
        for name in ("knee", "thigh", "hip", "high hip")
        if levels[name] > hem + 0.6
    }
    bands = (("leg", 0.0, levels["thigh"]), ("crotch to hip", levels["thigh"], hip),
             ("hip to waist", hip, 1e9))  # fmt: skip
    cut = LegCut(
        (0.0, 0.5, 1.0), ("front", "back"), lambda c: np.full(np.shape(c), hem), levels["thigh"],
        path, (0, 1, 2), darts, rows,
    )  # fmt: skip
    return leg_plan(surface, cut, mesh_mm=v["mesh"], bands=bands)


def _build(v: Values) -> Made:
    lower = with_legs(hip_surface(v), legs_of(v, hem_mm=v["hem"]))
    limits = limits_of(v)
    ways = [(f"{f} + {b} darts", lambda f=f, b=b: trousers_plan(lower, v, f, b)) for f, b in WAYS]
    asked = v.count("panels")
    wanted = next((f"{f} + {b} darts" for f, b in WAYS if f + b == asked), "")
    laid, options, chosen = fewest_panels(ways, limits, asked=wanted)
    cut = cut_pieces(laid, limits, hatched=v.word("hatching") == "yes")
    girths = [*trunk_girths(v, laid, ("waist", "hip")), *leg_girths(v, laid)]
    asked_crotch = v["crotch"] + v["crotch_ease"]
    girths.append(Girth("total crotch", v["crotch"], asked_crotch, flat_crotch_mm(laid)))
    return made_of(
        v, cut, laid, limits, options, chosen, tuple(girths),
        values=lower_values(v, lower), guesses=LEG_GUESSES,
    )  # fmt: skip


LEG_GUESSES = (
    "the crotch point lies at 42 % of the depth of the hip from the front",
    "legs hang straight down; seat and thigh are blended between hip, thigh and crotch seam",
)


def leg_girths(v: Values, laid: Laid) -> list[Girth]:
    """Return the girths of one leg: body, asked, flat.

    Parameters
    ----------
    v : Values
        Settings.
    laid : Laid
        The garment laid flat.

    Returns
    -------
    list of Girth
        Those that the garment has.

    References
    ----------
    ``definition``: girths of one leg.
    """
    found = []
    for name in ("knee", "calf", "thigh"):
        flat = flat_girth_mm(laid, name)
        if flat is not None:
            asked = (v[name] + v.get(f"{name}_ease", 0.0)) * laid.plan.shrink[0]
            found.append(Girth(name, v[name], asked, flat / 2.0))
    return found


def flat_crotch_mm(laid: Laid) -> float:
    """Return the whole crotch seam as the flat pieces have it.

    Parameters
    ----------
    laid : Laid
        The garment laid flat.

    Returns
    -------
    float
        Length [mm].

    References
    ----------
    ``definition``: both edges together.
    """
    return sum(
        float(run_mm(panel.flat.drawn(side.name))[-1])
        for panel in laid.panels for side in panel.spec.sides if side.name.endswith("crotch")
    )  # fmt: skip


def lower_values(v: Values, lower: Lower) -> dict[str, float]:
    """Return what was solved of crotch and leg.

    Parameters
    ----------
    v : Values
        Settings.
    lower : Lower
        The surface.

    Returns
    -------
    dict of str to float
        By name.

    References
    ----------
    ``definition``: solved numbers.
    """
    return {
        "crotch_length_mm": lower.crotch_length_mm,
        "crotch_depth_mm": -lower.crotch_height_mm,
        "crotch_moved_mm": -lower.crotch_height_mm - v["body_rise"] - v.get("rise_ease", 0.0),
        "crotch_power": lower.power,
    }


SHAPE = Shape(
    "fitted-trousers",
    "fitted trousers computed from body and cloth, the crotch seam solved to its length",
    (
        *HIP, *LEGS,
        *eases(waist=12.0, hip=50.0, thigh=60.0, knee=70.0, calf=60.0),
        mm("rise_ease", "crotch lower than the body's", 12, low=-20, high=120),
        mm("crotch_ease", "ease of the crotch seam", 30, low=-60, high=200),
        mm("hem", "girth of the hem", 130, low=120, high=1500, ankle_girth=1.1),
        mm("hem_height", "height of the hem above the floor", 60, low=10, high=1200),
        number("panels", "darts of one half, 0 for the fewest that the cloth takes", 0, 0, 5, "count"),
        *CLOTH,
    ),
    _build,
    ("fitted trousers", "close trousers"),
)  # fmt: skip
