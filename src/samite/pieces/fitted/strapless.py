"""A strapless bodice or corset cover: panels from the waist or below to above the bust."""

from __future__ import annotations

from collections.abc import Callable
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.choose import grown_panels
from samite.pieces.fitted.cut import cut_pieces
from samite.pieces.fitted.measures import CLOTH, GIRTHS, LENGTHS, eases, limits_of, trunk_of
from samite.pieces.fitted.plan import Plan
from samite.pieces.fitted.strips import Strips, strips_plan
from samite.pieces.fitted.style import bust_marks, front_names, halves, trunk_seams
from samite.pieces.fitted.tell import (
    bone_rules,
    bones_of,
    made_of,
    trunk_girths,
)
from samite.pieces.shape import Made, Shape, Values, choice, mm, number
from samite.pieces.surface.loft import Surface
from samite.pieces.surface.solve import Solved, solved_trunk

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

MOST = (8, 7)
"""Most panels of one half in front and behind."""


def _level_rows(surface: Surface) -> tuple[Real, Real]:
    """Return rows below the arms and their heights."""
    top = surface.levels["upper chest"]
    rows = np.linspace(0.0, top, int(4 * top) + 1)
    return rows, surface.at(np.full(rows.shape, 0.5), rows)[:, 2]


def _upper(surface: Surface, v: Values, bust_column: float) -> Callable[[Real], Real]:
    """Return the top edge: highest over the bust points, falling to the back."""
    bust = float(surface.at(np.array([0.5]), np.array([surface.levels["bust"]]))[0, 2])
    rows, heights = _level_rows(surface)
    ceiling = float(heights[-1])

    def edge(u: Real) -> Real:
        front, side, behind = v["above_bust"], v["above_bust_side"], v["above_bust_back"]
        turn = 0.5 - 0.5 * np.cos(np.pi * np.clip(u / 0.5, 0.0, 1.0))
        turn_back = 0.5 - 0.5 * np.cos(np.pi * np.clip((u - 0.5) / 0.5, 0.0, 1.0))
        height = front + (side - front) * turn + (behind - side) * turn_back
        dip = np.clip(1.0 - u / bust_column, 0.0, 1.0)
        height = height - v["sweetheart"] * dip * dip * (3.0 - 2.0 * dip)
        return np.interp(np.minimum(bust + height, ceiling), heights, rows)

    return edge


def lower_edge(surface: Surface, v: Values) -> Callable[[Real], Real]:
    """Return the lower edge: level, or with a point at the centre front.

    Parameters
    ----------
    surface : Surface
        The trunk.
    v : Values
        How far it reaches below the waist.

    Returns
    -------
    callable
        Row by column.

    References
    ----------
    ``definition``: rows below the arms are level.
    """
    rows, heights = _level_rows(surface)

    def edge(u: Real) -> Real:
        dip = np.clip(1.0 - u / 0.3, 0.0, 1.0)
        below = v["below_waist"] + v["point"] * dip * dip * (3.0 - 2.0 * dip)
        return np.interp(-below, heights, rows)

    return edge


def strapless_plan(solved: Solved, v: Values, front: int, back: int, mesh_mm: float) -> Plan:
    """Return the plan of a strapless bodice with so many panels.

    Parameters
    ----------
    solved : Solved
        The trunk.
    v : Values
        Settings.
    front : int
        Panels of one half in front [-].
    back : int
        Panels of one half behind [-].
    mesh_mm : float
        Distance of the points of the mesh [mm].

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
    ``common-practice``: panels from waist to top edge.
    """
    surface = solved.surface
    levels = surface.levels
    upper, lower = _upper(surface, v, solved.bust_column), lower_edge(surface, v)
    every = np.linspace(0.0, 1.0, 101)
    low, high = float(lower(every).max()), float(upper(every).min())
    names = ("high hip", "waist", "underbust", "bust")
    rows = {name: levels[name] for name in names if low + 0.6 < levels[name] < high - 0.6}
    edge = "waist" if v["below_waist"] + v["point"] < 1.0 else "lower"
    seams = trunk_seams(
        solved, v, front, back, float(lower(every).min()), float(upper(every).max())
    )
    cut = Strips(
        seams, front_names(front, back), lower, upper,
        ((edge, "waist" if edge == "waist" else "edge"), ("top", "edge")),
        MappingProxyType(rows), MappingProxyType({}), v.word("opening"),
    )  # fmt: skip
    bands = (
        ("below the waist", 0.0, levels["waist"]),
        ("waist to underbust", levels["waist"], levels["underbust"]),
        ("underbust to bust", levels["underbust"], levels["bust"]),
        ("above the bust", levels["bust"], 1e9),
    )
    return strips_plan(surface, cut, mesh_mm=mesh_mm, bands=bands)


def _build(v: Values) -> Made:
    solved = solved_trunk(trunk_of(v))
    limits = limits_of(v)
    asked = v.count("panels")
    laid, options, chosen = grown_panels(
        lambda front, back, mesh: strapless_plan(solved, v, front, back, mesh), limits,
        asked=halves(asked) if asked else None, most=MOST, mesh_mm=v["mesh"],
    )  # fmt: skip
    bones = bones_of(laid, v.word("boning"))
    cut = cut_pieces(
        laid, limits, hatched=v.word("hatching") == "yes",
        extra=bone_rules(laid, v.word("boning")), marks=bust_marks(laid, solved),
    )  # fmt: skip
    girths = trunk_girths(v, laid, ("waist", "underbust", "bust"))
    return made_of(cut, laid, limits, options, chosen, girths, solved, bones)


SHAPE = Shape(
    "fitted-strapless",
    "strapless bodice computed from body and cloth: panels laid flat, seams and girths exact",
    (
        *GIRTHS, *LENGTHS,
        *eases(bust=0.0, underbust=0.0, upper_chest=0.0, waist=0.0, hip=20.0),
        number("panels", "panels of one half, 0 for the fewest that the cloth takes", 0, 0, 12, "count"),
        mm("above_bust", "top edge above the level of the bust, in front", 55, low=10, high=200),
        mm("above_bust_side", "the same at the side", 40, low=-20, high=200),
        mm("above_bust_back", "the same behind", 10, low=-60, high=200),
        mm("sweetheart", "dip of the top edge at the centre front", 0, low=0, high=80),
        mm("below_waist", "how far it reaches below the waist", 0, low=0, high=400),
        mm("point", "further at the centre front", 0, low=0, high=200),
        mm("front_seam", "seam over the bust, from the centre front at the bust", low=10, high=400,
           bust_point_distance=0.5),
        mm("front_seam_waist", "the same at the waist", low=5, high=400, waist_girth=0.1),
        mm("back_seam", "seam of the back, from the centre back at the bust", low=5, high=400,
           bust_girth=0.105),
        mm("back_seam_waist", "the same at the waist", low=5, high=400, waist_girth=0.085),
        choice("opening", "where it opens", "back", "front", "side"),
        choice("boning", "where bones lie", "seams", "seams and panels", "none"),
        *CLOTH,
    ),
    _build,
    ("fitted corset", "fitted strapless bodice"),
)  # fmt: skip
