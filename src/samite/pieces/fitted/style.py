"""Where seams of a trunk run: columns and rows, names of the panels, the bust point."""

from __future__ import annotations

import math

import numpy as np

from samite.pieces.fitted.plan import Laid
from samite.pieces.flatten.panels import flat_places
from samite.pieces.outline import Mark
from samite.pieces.shape import Values
from samite.pieces.surface.loft import Surface, gauss_curvature, run_mm
from samite.pieces.surface.solve import Solved


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
