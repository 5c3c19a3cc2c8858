"""Panels under a path of neckline, shoulder and armhole: the full bodice."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.begin import line_maker, neighbour_seams, require_panels
from samite.pieces.fitted.plan import Plan, PlanSeam
from samite.pieces.fitted.strips import Dart, Strips, centre_kind, edge_sides
from samite.pieces.flatten.lines import PanelSide, PanelSpec, StyleLine, style_line
from samite.pieces.surface.loft import Surface, run_mm
from samite.pieces.surface.tapes import climb

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

_DENSE = 240


@dataclass(frozen=True, slots=True)
class PathPart:
    """A part of the upper edge of a half bodice.

    Parameters
    ----------
    name : str
        Name of the edge that it makes.
    kind : str
        Kind of that edge.
    uv : ndarray of float, shape (n, 2)
        Dense points, as the path runs from centre front to centre back [-].
    sewn : bool
        Whether it is sewn to a part of equal length, edge by edge.
    """

    name: str
    kind: str
    uv: Real
    sewn: bool = False


@dataclass(frozen=True, slots=True)
class PathDart:
    """A dart that opens at the upper edge.

    Parameters
    ----------
    panel : str
        Panel that it is in.
    part : str
        Part of the path that it opens at; it lies between two parts of that name.
    tip : tuple of (float, float)
        Column and row of its tip.
    """

    panel: str
    part: str
    tip: tuple[float, float]


@dataclass(frozen=True, slots=True)
class TopCut:
    """What parts a trunk into the panels of a bodice.

    Parameters
    ----------
    base : Strips
        Names, lower edge, girth lines, lower darts, opening; its seams up to the bust.
    path : tuple of PathPart
        The upper edge, cut at every seam end.
    ends : tuple of int
        For every seam, the number of path parts before its upper end.
    path_darts : tuple of PathDart
        Darts from the upper edge.
    """

    base: Strips
    path: tuple[PathPart, ...]
    ends: tuple[int, ...]
    path_darts: tuple[PathDart, ...] = ()


def cut_part(surface: Surface, part: PathPart, shares: Sequence[float]) -> list[PathPart]:
    """Cut a part of a path at shares of its length.

    Parameters
    ----------
    surface : Surface
        The surface.
    part : PathPart
        The part.
    shares : sequence of float
        Where, rising, ends left out [-].

    Returns
    -------
    list of PathPart
        The parts, numbered if there are several.

    References
    ----------
    ``definition``: shares of a length.
    """
    if not shares:
        return [part]
    run = run_mm(surface.at(part.uv[:, 0], part.uv[:, 1]))
    stops = [0.0, *(share * float(run[-1]) for share in shares), float(run[-1])]
    made = []
    for number, (a, b) in enumerate(itertools.pairwise(stops), 1):
        at = np.linspace(a, b, _DENSE)
        uv = np.stack([np.interp(at, run, part.uv[:, k]) for k in (0, 1)], axis=1)
        made.append(PathPart(f"{part.name} {number}", part.kind, uv, part.sewn))
    return made


def top_plan(
    surface: Surface, cut: TopCut, *, mesh_mm: float, shrink: tuple[float, float] = (1.0, 1.0),
    bands: tuple[tuple[str, float, float], ...] = (),
) -> Plan:  # fmt: skip
    """Return the plan of a bodice.

    Parameters
    ----------
    surface : Surface
        The trunk.
    cut : TopCut
        Panels and path.
    mesh_mm : float
        Distance of the points of the mesh [mm].
    shrink : tuple of float
        What lengths around and along the body are multiplied by [-].
    bands : tuple of (str, float, float)
        Regions that strain is told of.

    Returns
    -------
    Plan
        The plan; its seams include the shoulders.

    Raises
    ------
    InfeasibleError
        If the style lines leave a panel empty.

    References
    ----------
    ``definition``: panels between lines.
    """
    base = cut.base
    require_panels(surface, base.seams, base.names, base.rows)
    line = line_maker(surface, base.rows, mesh_mm=mesh_mm, shrink=shrink)
    dense = [_seam(surface, cut, k) for k in range(len(base.seams))]
    lines = [line(uv) for uv in dense]
    uppers = _path_lines(surface, cut, mesh_mm, shrink)
    panels = tuple(_panel(cut, k, lines, dense, uppers, line) for k in range(len(base.names)))
    seams = neighbour_seams(base.names)
    return Plan(surface, panels, (*seams, *_shoulders(panels)), shrink, mesh_mm, bands)


def _path_lines(
    surface: Surface, cut: TopCut, mesh_mm: float, shrink: tuple[float, float]
) -> list[StyleLine]:
    """Return the lines of the path; parts that are sewn together share their lengths."""
    made = [style_line(surface, part.uv, mesh_mm=mesh_mm, shrink=shrink) for part in cut.path]
    first_of: dict[str, int] = {}
    for k, part in enumerate(cut.path):
        if not part.sewn:
            continue
        if part.name not in first_of:
            first_of[part.name] = k
            continue
        twin = made[first_of[part.name]]
        uv = twin.uv[::-1].copy()
        uv[:, 0] = 1.0 - uv[:, 0]
        made[k] = StyleLine(uv, twin.lengths_mm[::-1])
    return made


def _seam(surface: Surface, cut: TopCut, k: int) -> Real:
    """Return a seam from the lower edge over its columns to its end on the path."""
    from scipy.interpolate import PchipInterpolator

    where, rows = cut.base.seams[k]
    at = cut.ends[k]
    end = cut.path[at].uv[0] if at < len(cut.path) else cut.path[-1].uv[-1]
    low = cut.base.lower(np.interp(np.array([rows[0]]), rows, where))
    for _ in range(20):
        after = cut.base.lower(np.interp(low, rows, where))
        if abs(float(after[0] - low[0])) < 1e-7:
            break
        low = after
    keep = [(r, u) for r, u in zip(rows, where, strict=True) if r < end[1] - 0.5]
    knots = np.array([r for r, _ in keep] + [float(end[1])])
    columns = np.array([u for _, u in keep] + [float(end[0])])
    climbed, run = climb(surface, float(columns[-1]))
    v = np.linspace(float(low[0]), float(end[1]), _DENSE)
    loft = PchipInterpolator(np.interp(knots, climbed, run), columns)
    u = loft(np.interp(np.clip(v, knots[0], knots[-1]), climbed, run))
    dense = np.stack([u, v], axis=1)
    dense[-1] = end
    return dense


def _panel(
    cut: TopCut, k: int, lines: Sequence[StyleLine], dense: Sequence[Real],
    uppers: Sequence[StyleLine], line: Callable[[Real], StyleLine],
) -> PanelSpec:  # fmt: skip
    base = cut.base
    name, last = base.names[k], len(base.names) - 1
    darts = base.darts.get(name, ())
    below = edge_sides(base, k, dense, line, [d for d in darts if not d.upper], upper=False)
    right = PanelSide(
        "centre" if k == last else "right", lines[k + 1], True,
        centre_kind(base.opening, "back") if k == last else "seam", straight=k == last,
    )  # fmt: skip
    left = PanelSide(
        "centre" if k == 0 else "left", lines[k], False,
        centre_kind(base.opening, "front") if k == 0 else "seam", straight=k == 0,
    )  # fmt: skip
    above = _above(cut, k, uppers, line)
    return PanelSpec(name, (*below, right, *above, left), base.rows)


def _above(
    cut: TopCut, k: int, uppers: Sequence[StyleLine], line: Callable[[Real], StyleLine]
) -> list[PanelSide]:
    """Return the sides of the upper edge of a panel, anticlockwise, with its darts."""
    name = cut.base.names[k]
    numbers = list(range(cut.ends[k], cut.ends[k + 1]))[::-1]
    sides: list[PanelSide] = []
    for n in numbers:
        part = cut.path[n]
        dart = next(
            (d for d in cut.path_darts if d.panel == name and sides and sides[-1].name != part.name
             and part.name.rsplit(" ", 1)[0] == sides[-1].name.rsplit(" ", 1)[0] == d.part), None
        )  # fmt: skip
        if dart is not None:
            sides += _path_legs(dart, part.uv[-1], line)
        hold = "edges" if part.sewn else "total"
        sides.append(PanelSide(part.name, uppers[n], False, part.kind, hold))
    return sides


def _path_legs(dart: PathDart, mouth: Real, line: Callable[[Real], StyleLine]) -> list[PanelSide]:
    share = np.linspace(0.0, 1.0, _DENSE)[:, None]
    leg = line(mouth + (np.array(dart.tip) - mouth) * share)
    return [
        PanelSide(f"{dart.part} dart right", leg, True, slit=1),
        PanelSide(f"{dart.part} dart left", leg, False, slit=-1),
    ]


def _shoulders(panels: Sequence[PanelSpec]) -> list[PlanSeam]:
    """Return the shoulder seams: parts of one name in front and behind."""
    places: dict[str, list[str]] = {}
    for panel in panels:
        for side in panel.sides:
            if side.name.startswith("shoulder") and not side.slit:
                places.setdefault(side.name, []).append(panel.name)
    return [
        PlanSeam((both[0], side), (both[1], side))
        for side, both in places.items()
        if len(both) == 2
    ]


__all__ = ["Dart", "PathDart", "PathPart", "TopCut", "cut_part", "top_plan"]
