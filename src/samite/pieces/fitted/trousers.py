"""Fitted trousers: front and back with darts, the crotch seam solved to its length."""

from __future__ import annotations

import itertools
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.choose import Way, fewest_panels
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
from samite.pieces.fitted.measures import CLOTH, eases, limits_of
from samite.pieces.fitted.plan import Plan
from samite.pieces.fitted.report import Girth
from samite.pieces.fitted.strips import Dart
from samite.pieces.fitted.style import front_names
from samite.pieces.fitted.tell import made_of, trunk_girths
from samite.pieces.fitted.tops import PathPart
from samite.pieces.shape import Made, Shape, Values, choice, mm, number
from samite.pieces.surface.lower import Lower, with_legs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

WAYS = ((0, 1), (1, 1), (1, 2), (2, 2), (2, 3))
"""Darts of one half in front and behind."""

PARTED = "2 + 2 panels"
"""Front and back parted once more, from waist to hem, in place of darts."""


def trousers_plan(lower: Lower, v: Values, front: int, back: int, *, parted: bool = False) -> Plan:
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
    parted : bool
        Whether seams from waist to hem take the place of darts.

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
    columns = (0.0, 0.25, 0.5, 0.75, 1.0) if parted else (0.0, 0.5, 1.0)
    path = tuple(
        PathPart("waist", "waist", np.stack([np.linspace(a, b, 120), np.full(120, top)], axis=1))
        for a, b in itertools.pairwise(columns)
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
        columns, front_names(2, 2) if parted else ("front", "back"),
        lambda c: np.full(np.shape(c), hem), levels["thigh"],
        path, tuple(range(len(columns))), {} if parted else darts, rows,
    )  # fmt: skip
    return leg_plan(surface, cut, mesh_mm=v["mesh"], bands=bands)


def _build(v: Values) -> Made:
    lower = with_legs(hip_surface(v), legs_of(v, hem_mm=v["hem"]))
    limits = limits_of(v)
    ways: list[Way] = [
        (f"{f} + {b} darts", partial(trousers_plan, lower, v, f, b)) for f, b in WAYS
    ]
    ways.append((PARTED, partial(trousers_plan, lower, v, 0, 0, parted=True)))
    if v.word("shaped_by") != "either":
        ways = [way for way in ways if way[0].endswith(v.word("shaped_by"))]
    asked = v.count("panels")
    names = {f + b: f"{f} + {b} darts" for f, b in WAYS} if v.word("shaped_by") != "panels" else {}
    wanted = names.get(asked, PARTED if asked == 4 else "")
    laid, options, chosen = fewest_panels(ways, limits, asked=wanted)
    cut = cut_pieces(laid, limits, hatched=v.word("hatching") == "yes")
    girths = [*trunk_girths(v, laid, ("waist", "hip")), *leg_girths(v, laid)]
    asked_crotch = v["crotch"] + v["crotch_ease"]
    girths.append(Girth("total crotch", v["crotch"], asked_crotch, flat_crotch_mm(laid)))
    return made_of(
        cut, laid, limits, options, chosen, tuple(girths),
        values=lower_values(v, lower), guesses=LEG_GUESSES,
    )  # fmt: skip


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
        number("panels", "darts or panels of one half, 0 for the fewest that the cloth takes", 0, 0, 5,
               "count"),
        choice("shaped_by", "what shapes it", "either", "darts", "panels"),
        *CLOTH,
    ),
    _build,
    ("fitted trousers", "close trousers"),
)  # fmt: skip
