"""A strapless bodice or corset cover: panels from the waist or below to above the bust."""

from __future__ import annotations

import math
from collections.abc import Callable
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.choose import grown_panels
from samite.pieces.fitted.cut import cut_pieces
from samite.pieces.fitted.measures import CLOTH, GIRTHS, LENGTHS, eases, limits_of, trunk_of
from samite.pieces.fitted.plan import Laid, Plan
from samite.pieces.fitted.strips import Strips, strips_plan
from samite.pieces.fitted.tell import (
    bone_rules,
    bones_of,
    made_of,
    trunk_girths,
)
from samite.pieces.flatten.panels import flat_places
from samite.pieces.outline import Mark
from samite.pieces.shape import Made, Shape, Values, choice, mm, number
from samite.pieces.surface.loft import Surface, gauss_curvature, run_mm
from samite.pieces.surface.solve import Solved, solved_trunk

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

MOST = (6, 5)
"""Most panels of one half in front and behind."""


def front_names(front: int, back: int) -> tuple[str, ...]:
    """Return the names of panels from centre front to centre back.

    Parameters
    ----------
    front : int
        Panels of one half in front [-].
    back : int
        Panels of one half behind [-].

    Returns
    -------
    tuple of str
        Names.

    References
    ----------
    ``common-practice``: front, side front, side back, back.
    """

    def names(count: int, where: str) -> list[str]:
        if count <= 2:
            return [where, f"side {where}"][:count]
        return [where, *(f"{where} {k}" for k in range(2, count)), f"side {where}"]

    return (*names(front, "front"), *reversed(names(back, "back")))


def row_at_height(surface: Surface, height_mm: float) -> float:
    """Return the row of a level height below the shoulder.

    Parameters
    ----------
    surface : Surface
        The trunk.
    height_mm : float
        Above the waist [mm].

    Returns
    -------
    float
        Row [-].

    References
    ----------
    ``definition``: rows below the arms are level.
    """
    top = surface.levels.get("upper chest", float(surface.rows))
    rows = np.linspace(0.0, top, int(4 * top) + 1)
    heights = surface.at(np.full(rows.shape, 0.5), rows)[:, 2]
    return float(np.interp(height_mm, heights, rows))


def column_at(surface: Surface, row: float, along_mm: float, *, back: bool = False) -> float:
    """Return the column a distance from the centre front or centre back along a row.

    Parameters
    ----------
    surface : Surface
        The trunk.
    row : float
        Row [-].
    along_mm : float
        Distance [mm].
    back : bool
        Whether it is taken from the centre back.

    Returns
    -------
    float
        Column [-].

    References
    ----------
    ``definition``: length along a row.
    """
    u = np.linspace(0.0, 1.0, 257)
    run = run_mm(surface.at(u, np.full(u.shape, row)))
    return float(np.interp(run[-1] - along_mm if back else along_mm, run, u))


def warped_columns(count: int, pinned: float) -> list[float]:
    """Return seams at even shares of a half front, the nearest one moved to where one is wanted.

    Parameters
    ----------
    count : int
        How many panels [-].
    pinned : float
        Column, 0 to 0.5, at which a seam is wanted [-].

    Returns
    -------
    list of float
        Columns between the panels, from the centre to the side, ends left out [-].

    References
    ----------
    ``guess``: even panels.
    """
    even = [0.5 * k / count for k in range(1, count)]
    if not even:
        return []
    near = min(even, key=lambda u: abs(u - pinned))
    return [float(np.interp(u, [0.0, near, 0.5], [0.0, pinned, 0.5])) for u in even]


def round_columns(surface: Surface, count: int, low: float, high: float) -> list[float]:
    """Return seams of a half front so that every panel has its share of the roundness.

    Parameters
    ----------
    surface : Surface
        The trunk.
    count : int
        How many panels [-].
    low : float
        Lowest row that is looked at [-].
    high : float
        Highest row [-].

    Returns
    -------
    list of float
        Columns between the panels, ends left out [-].

    Notes
    -----
    Equal parts of half the width and half the square root of the curvature: strain grows with the
    curvature and the square of the width.

    References
    ----------
    ``derivation``: strain of a strip is curvature times width squared over 8.
    """
    u, v = np.meshgrid(np.linspace(0.01, 0.49, 97), np.linspace(low, high, 24))
    roundness = np.sqrt(np.abs(gauss_curvature(surface, u, v))).mean(axis=0)
    weight = 0.35 + 0.65 * roundness / max(float(roundness.mean()), 1e-12)
    run = np.concatenate([[0.0], np.cumsum(weight)])
    edges = np.linspace(0.0, 0.5, len(run))
    return [float(np.interp(k / count * run[-1], run, edges)) for k in range(1, count)]


def trunk_seams(
    solved: Solved, v: Values, front: int, back: int, low: float, high: float
) -> tuple[tuple[tuple[float, ...], tuple[float, ...]], ...]:
    """Return the seams of a trunk: at the waist and at the bust where they are wanted.

    Parameters
    ----------
    solved : Solved
        The trunk.
    v : Values
        Settings: where the seams run.
    front : int
        Panels of one half in front [-].
    back : int
        Panels of one half behind [-].
    low : float
        Lowest row [-].
    high : float
        Highest row [-].

    Returns
    -------
    tuple of (tuple of float, tuple of float)
        Columns and the rows they hold at, from centre front to centre back.

    References
    ----------
    ``common-practice``: a seam over the bust point.
    """
    surface = solved.surface
    waist, bust = surface.levels["waist"], surface.levels["bust"]
    rows = tuple(sorted({low, waist, bust, high}))

    def across(at_waist: float, at_bust: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
        return tuple(float(np.interp(r, [waist, bust], [at_waist, at_bust])) for r in rows), rows

    at_waist = column_at(surface, waist, v["front_seam_waist"])
    f_bust = [column_at(surface, bust, v["front_seam"])][: front - 1]
    f_waist = [at_waist][: front - 1]
    if front > 2:
        f_bust = round_columns(surface, front, surface.levels["underbust"], min(high, bust + 5.0))
        even = [0.5 * k / front for k in range(1, front)]
        f_waist = [0.5 * (a + b) for a, b in zip(even, f_bust, strict=True)]
    b_waist = warped_columns(back, 1.0 - column_at(surface, waist, v["back_seam_waist"], back=True))
    b_bust = warped_columns(back, 1.0 - column_at(surface, bust, v["back_seam"], back=True))
    seams = [across(0.0, 0.0), *(across(a, b) for a, b in zip(f_waist, f_bust, strict=True))]
    seams.append(across(0.5, 0.5))
    seams += [across(1 - a, 1 - b) for a, b in zip(b_waist[::-1], b_bust[::-1], strict=True)]
    return (*seams, across(1.0, 1.0))


def _upper(surface: Surface, v: Values, bust_column: float) -> Callable[[Real], Real]:
    """Return the top edge: highest over the bust points, falling to the back."""
    bust = float(surface.at(np.array([0.5]), np.array([surface.levels["bust"]]))[0, 2])
    top = surface.levels["upper chest"]
    ceiling = float(surface.at(np.array([0.5]), np.array([top]))[0, 2])

    def edge(u: Real) -> Real:
        front, side, behind = v["above_bust"], v["above_bust_side"], v["above_bust_back"]
        turn = 0.5 - 0.5 * np.cos(np.pi * np.clip(u / 0.5, 0.0, 1.0))
        turn_back = 0.5 - 0.5 * np.cos(np.pi * np.clip((u - 0.5) / 0.5, 0.0, 1.0))
        height = front + (side - front) * turn + (behind - side) * turn_back
        dip = np.clip(1.0 - u / bust_column, 0.0, 1.0)
        height = height - v["sweetheart"] * dip * dip * (3.0 - 2.0 * dip)
        rows = np.linspace(0.0, top, int(4 * top) + 1)
        heights = surface.at(np.full(rows.shape, 0.5), rows)[:, 2]
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

    def edge(u: Real) -> Real:
        dip = np.clip(1.0 - u / 0.3, 0.0, 1.0)
        below = v["below_waist"] + v["point"] * dip * dip * (3.0 - 2.0 * dip)
        top = surface.levels["upper chest"]
        rows = np.linspace(0.0, top, int(4 * top) + 1)
        heights = surface.at(np.full(rows.shape, 0.5), rows)[:, 2]
        return np.interp(-below, heights, rows)

    return edge


def halves(panels: int) -> tuple[int, int]:
    """Return how a number of panels of one half is shared by front and back.

    Parameters
    ----------
    panels : int
        Panels of one half [-].

    Returns
    -------
    tuple of int
        In front and behind: the front has one more if they are odd.

    References
    ----------
    ``common-practice``: the front is the rounder half.
    """
    return max(1, math.ceil(panels / 2)), max(1, panels // 2)


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


def bust_marks(laid: Laid, solved: Solved) -> dict[str, tuple[Mark, ...]]:
    """Return the bust point as a drill point on the panel that holds it.

    Parameters
    ----------
    laid : Laid
        The garment laid flat.
    solved : Solved
        The trunk.

    Returns
    -------
    dict of str to tuple of Mark
        By panel.

    References
    ----------
    ``definition``: bust point.
    """
    place = np.array([[solved.bust_column, solved.surface.levels["bust"]]])
    for panel in laid.panels:
        row = panel.uv[np.abs(panel.uv[:, 1] - place[0, 1]) < 1e-6]
        if (
            len(row)
            and row[:, 0].min() <= place[0, 0] + 1e-6
            and place[0, 0] <= row[:, 0].max() + 1e-6
        ):
            x, y = flat_places(panel, place)[0]
            return {panel.spec.name: (Mark("bust point", (float(x), float(y))),)}
    return {}


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
    return made_of(v, cut, laid, limits, options, chosen, girths, solved, bones)


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
