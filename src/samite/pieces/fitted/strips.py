"""Panels side by side between a lower and an upper line: corsets, skirts, trunks of bodices."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.begin import line_maker, neighbour_seams, require_panels
from samite.pieces.fitted.plan import Plan
from samite.pieces.flatten.lines import PanelSide, PanelSpec, StyleLine
from samite.pieces.flatten.panels import MESH_MM
from samite.pieces.surface.loft import Surface

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

Edge = Callable[["Real"], "Real"]
"""Row of a lower or upper edge at given columns."""

_DENSE = 240


@dataclass(frozen=True, slots=True)
class Dart:
    """A dart from the lower or upper edge of a panel to a tip inside.

    Parameters
    ----------
    mouth : float
        Column at the edge [-].
    tip : tuple of (float, float)
        Column and row of its tip.
    upper : bool
        Whether it opens at the upper edge.
    """

    mouth: float
    tip: tuple[float, float]
    upper: bool


@dataclass(frozen=True, slots=True)
class Strips:
    """What parts a surface into panels side by side.

    Parameters
    ----------
    seams : tuple of (tuple of float, tuple of float)
        For every seam from centre front to centre back: columns, and the rows they hold at.
    names : tuple of str
        Names of the panels between them.
    lower : callable
        Row of the lower edge by column.
    upper : callable
        Row of the upper edge by column.
    kinds : tuple of (str, str)
        Name and kind of the lower edge, then of the upper one.
    rows : mapping of str to float
        Girth lines to be kept.
    darts : mapping of str to tuple of Dart
        Darts by panel.
    opening : str
        ``back``, ``front`` or ``side``: where the garment opens; the centre that does not open is
        cut on the fold.
    """

    seams: tuple[tuple[tuple[float, ...], tuple[float, ...]], ...]
    names: tuple[str, ...]
    lower: Edge
    upper: Edge
    kinds: tuple[tuple[str, str], tuple[str, str]]
    rows: Mapping[str, float]
    darts: Mapping[str, tuple[Dart, ...]]
    opening: str = "back"


def strips_plan(
    surface: Surface, cut: Strips, *, mesh_mm: float = MESH_MM,
    shrink: tuple[float, float] = (1.0, 1.0), bands: tuple[tuple[str, float, float], ...] = (),
) -> Plan:  # fmt: skip
    """Return the plan of panels that lie side by side.

    Parameters
    ----------
    surface : Surface
        The surface.
    cut : Strips
        Seams, edges and darts.
    mesh_mm : float
        Distance of the points of the mesh [mm].
    shrink : tuple of float
        What lengths around and along the body are multiplied by [-].
    bands : tuple of (str, float, float)
        Regions that strain is told of.

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
    ``definition``: panels between lines.
    """
    require_panels(surface, cut.seams, cut.names, cut.rows)
    dense = [_seam(cut, where, rows) for where, rows in cut.seams]
    line = line_maker(surface, cut.rows, mesh_mm=mesh_mm, shrink=shrink)
    lines = [line(uv) for uv in dense]
    panels = tuple(_panel(cut, k, lines, dense, line) for k in range(len(cut.names)))
    return Plan(surface, panels, neighbour_seams(cut.names), shrink, mesh_mm, bands)


def _seam(cut: Strips, where: tuple[float, ...], rows: tuple[float, ...]) -> Real:
    """Return a seam from the lower to the upper edge as dense points."""
    from scipy.interpolate import PchipInterpolator

    loft = PchipInterpolator(rows, where) if len(set(where)) > 1 else None

    def column(v: Real) -> Real:
        if loft is None:
            return np.full(np.shape(v), where[0])
        return np.asarray(loft(np.clip(v, rows[0], rows[-1])))

    ends = []
    for edge, row in ((cut.lower, rows[0]), (cut.upper, rows[-1])):
        at = edge(column(np.array([row])))
        for _ in range(20):
            after = edge(column(at))
            if abs(float(after[0] - at[0])) < 1e-7:
                break
            at = after
        ends.append(float(at[0]))
    v = np.linspace(ends[0], ends[1], _DENSE)
    return np.stack([column(v), v], axis=1)


def _panel(
    cut: Strips, k: int, lines: Sequence[StyleLine], dense: Sequence[Real],
    line: Callable[[Real], StyleLine],
) -> PanelSpec:  # fmt: skip
    """Return one panel: lower edge, right seam, upper edge, left seam."""
    last = len(cut.names) - 1
    left_kind = centre_kind(cut.opening, "front") if k == 0 else "seam"
    right_kind = centre_kind(cut.opening, "back") if k == last else "seam"
    darts = cut.darts.get(cut.names[k], ())
    below = edge_sides(cut, k, dense, line, [d for d in darts if not d.upper], upper=False)
    above = edge_sides(cut, k, dense, line, [d for d in darts if d.upper], upper=True)
    right = PanelSide("centre" if k == last else "right", lines[k + 1], True, right_kind,
                      straight=k == last)  # fmt: skip
    left = PanelSide("centre front" if k == last == 0 else "centre" if k == 0 else "left", lines[k],
                     False, left_kind, straight=k == 0)  # fmt: skip
    return PanelSpec(cut.names[k], (*below, right, *above, left), cut.rows)


def centre_kind(opening: str, centre: str) -> str:
    """Return the kind of a centre line: an opening, or the fold.

    Parameters
    ----------
    opening : str
        Where the garment opens.
    centre : str
        ``front`` or ``back``.

    Returns
    -------
    str
        Kind of the edge.

    References
    ----------
    ``common-practice``: the centre that does not open is cut on the fold.
    """
    return "opening" if opening == centre else "fold"


def edge_sides(
    cut: Strips, k: int, dense: Sequence[Real], line: Callable[[Real], StyleLine],
    darts: Sequence[Dart], *, upper: bool,
) -> list[PanelSide]:  # fmt: skip
    """Return the sides of a lower or upper edge, its darts between them, anticlockwise.

    Parameters
    ----------
    cut : Strips
        Seams, edges and darts.
    k : int
        Which panel [-].
    dense : sequence of ndarray of float
        Dense seams.
    line : callable
        Makes a line of dense points.
    darts : sequence of Dart
        Darts that open at this edge.
    upper : bool
        Whether it is the upper edge.

    Returns
    -------
    list of PanelSide
        The sides.

    References
    ----------
    ``definition``: sides in order.
    """
    edge = cut.upper if upper else cut.lower
    name, kind = cut.kinds[1 if upper else 0]
    end = -1 if upper else 0
    stops = [float(dense[k][end, 0]), *sorted(d.mouth for d in darts), float(dense[k + 1][end, 0])]
    ordered = sorted(darts, key=lambda dart: dart.mouth)
    sides: list[PanelSide] = []
    for number, (a, b) in enumerate(itertools.pairwise(stops)):
        u = np.linspace(a, b, _DENSE)
        label = name if len(stops) == 2 else f"{name} {number + 1}"
        sides.append(
            PanelSide(label, line(np.stack([u, edge(u)], axis=1)), not upper, kind, "total")
        )
        if number < len(ordered):
            sides += _legs(ordered[number], f"{name} dart {number + 1}", edge, line)
    return sides[::-1] if upper else sides


def _legs(dart: Dart, name: str, edge: Edge, line: Callable[[Real], StyleLine]) -> list[PanelSide]:
    """Return both legs of a dart, as they follow each other going to the right."""
    mouth = np.array([dart.mouth, float(edge(np.array([dart.mouth]))[0])])
    share = np.linspace(0.0, 1.0, _DENSE)[:, None]
    leg = line(mouth + (np.array(dart.tip) - mouth) * share)
    # below, the panel runs up the left leg and down the right one; above, the order is turned
    # round with the whole edge: it runs down the right leg first
    left = PanelSide(f"{name} left", leg, not dart.upper, slit=-1)
    right = PanelSide(f"{name} right", leg, dart.upper, slit=1)
    return [left, right]
