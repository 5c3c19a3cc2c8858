"""What garments with legs share: their numbers, the surfaces of hip and leg, girths that are told."""

from __future__ import annotations

import numpy as np

from samite.pieces.fitted.plan import Laid
from samite.pieces.fitted.report import Girth
from samite.pieces.fitted.tell import flat_girth_mm
from samite.pieces.shape import Parameter, Values, mm
from samite.pieces.surface.loft import Surface, run_mm
from samite.pieces.surface.lower import LegLevel, Legs, Lower
from samite.pieces.surface.sections import Section
from samite.pieces.surface.torso import Level, lofted

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
        Girth of the hem, to which the leg hangs straight from thigh and knee; None follows the body
        [mm].

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
    thigh, crotch = v["thigh"] + v.get("thigh_ease", 0.0), -v["body_rise"] - v.get("rise_ease", 0.0)
    hung = () if hem_mm is None else tuple(
        LegLevel(
            f"thigh to knee {k}", crotch + (knee - waist - crotch) * k / 3.0,
            thigh + (knee_girth - thigh) * k / 3.0, 14.0 * k / 3.0,
        )
        for k in (1, 2)
    )  # fmt: skip
    levels = (
        *hung,
        LegLevel("knee", knee - waist, knee_girth, 14.0),
        LegLevel("calf", 0.70 * knee - waist, calf, 16.0),
        LegLevel("ankle", ankle_height - waist, low, 26.0),
    )
    return Legs(crotch, v["crotch"] + v.get("crotch_ease", 0.0), thigh, levels)


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


LEG_GUESSES = (
    "the crotch point lies at 35 % of the depth of the hip from the front",
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
