"""Leggings of stretch cloth: girths smaller than the body, one or two pieces a leg."""

from __future__ import annotations

import itertools

import numpy as np

from samite.pieces.fitted.choose import fewest_panels
from samite.pieces.fitted.cut import cut_pieces
from samite.pieces.fitted.leg_measures import (
    HIP,
    LEG_GUESSES,
    LEGS,
    flat_crotch_mm,
    hip_surface,
    leg_girths,
    legs_of,
    lower_values,
    row_of_height,
)
from samite.pieces.fitted.legs import LegCut, leg_plan
from samite.pieces.fitted.plan import Plan
from samite.pieces.fitted.report import Girth
from samite.pieces.fitted.stretch import (
    STRETCH,
    pressures_of,
    shrink_of,
    stretch_limits,
    worn_strains,
)
from samite.pieces.fitted.tell import made_of, trunk_girths
from samite.pieces.fitted.tops import PathPart
from samite.pieces.shape import Made, Shape, Values, mm, number
from samite.pieces.surface.lower import Lower, with_legs

WAYS = ("1 piece a leg", "2 pieces a leg", "4 pieces a leg")


def leggings_plan(lower: Lower, v: Values, pieces: int) -> Plan:
    """Return the plan of leggings.

    Parameters
    ----------
    lower : Lower
        The body.
    v : Values
        Settings.
    pieces : int
        Pieces of one leg: 1, 2 or 4 [-].

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
    ``common-practice``: seams inside the leg, and outside if there are two.
    """
    surface, levels = lower.surface, lower.surface.levels
    top = float(surface.rows) if v["below_waist"] < 1.0 else _row_below_waist(lower, v)
    hem = row_of_height(surface, v["hem_height"] - v["waist_height"])
    columns = tuple(k / pieces for k in range(pieces + 1))
    names = {1: ("leg",), 2: ("front", "back"), 4: ("front", "side front", "side back", "back")}
    path = tuple(
        PathPart("waist", "waist", np.stack([np.linspace(a, b, 160), np.full(160, top)], axis=1))
        for a, b in itertools.pairwise(columns)
    )
    rows = {
        name: levels[name] for name in ("calf", "knee", "thigh", "hip", "high hip")
        if hem + 0.6 < levels[name] < top - 0.6
    }  # fmt: skip
    bands = (("leg", 0.0, levels["thigh"]), ("crotch to hip", levels["thigh"], levels["hip"]),
             ("hip to waist", levels["hip"], 1e9))  # fmt: skip
    cut = LegCut(
        columns, names[pieces], lambda c: np.full(np.shape(c), hem), levels["thigh"], path,
        tuple(range(pieces + 1)), {}, rows,
    )  # fmt: skip
    return leg_plan(surface, cut, mesh_mm=v["mesh"], shrink=shrink_of(v), bands=bands)


def _row_below_waist(lower: Lower, v: Values) -> float:
    surface = lower.surface
    rows = np.linspace(surface.levels["hip"], float(surface.rows), 200)
    heights = surface.at(np.full(200, 0.5), rows)[:, 2]
    return float(np.interp(-v["below_waist"], heights, rows))


def _build(v: Values) -> Made:
    lower = with_legs(hip_surface(v), legs_of(v))
    limits = stretch_limits(v)
    counts = (1, 2, 4)
    ways = [
        (name, lambda n=n: leggings_plan(lower, v, n)) for name, n in zip(WAYS, counts, strict=True)
    ]
    wanted = next((w for w, n in zip(WAYS, counts, strict=True) if n == v.count("panels")), "")
    laid, options, chosen = fewest_panels(ways, limits, asked=wanted)
    cut = cut_pieces(laid, limits, hatched=v.word("hatching") == "yes")
    around, along = worn_strains(v)
    girths = [*trunk_girths(v, laid, ("waist", "hip")), *leg_girths(v, laid)]
    if v["below_waist"] < 1.0:
        girths.append(
            Girth("total crotch", v["crotch"], v["crotch"] / (1.0 + along), flat_crotch_mm(laid))
        )
    levels = laid.plan.surface.levels
    pressures = pressures_of(
        lower.surface, v,
        [("waist", float(lower.surface.rows), True), ("hip", levels["hip"], True),
         ("thigh", levels["thigh"], False), ("knee", levels["knee"], False)],
    )  # fmt: skip
    values = {
        **lower_values(v, lower),
        "worn_across_percent": 100 * around,
        "worn_along_percent": 100 * along,
    }
    return made_of(
        cut, laid, limits, options, chosen, tuple(girths), pressures=pressures, values=values,
        guesses=LEG_GUESSES,
    )  # fmt: skip


SHAPE = Shape(
    "fitted-leggings",
    "leggings of stretch cloth computed from body and cloth, girths smaller than the body",
    (
        *HIP, *LEGS,
        mm("hem_height", "height of the hem above the floor", 80, low=10, high=1200),
        mm("below_waist", "upper edge below the waist", 0, low=0, high=150),
        number("panels", "pieces of one leg: 1, 2 or 4; 0 for the fewest that the cloth takes", 0, 0, 4,
               "count"),
        *STRETCH,
    ),
    _build,
    ("fitted leggings", "tights of cloth"),
)  # fmt: skip
