"""Plans of garments with legs: trousers, leggings, bodysuits."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.begin import line_maker, neighbour_seams
from samite.pieces.fitted.plan import Plan, PlanSeam
from samite.pieces.fitted.strips import Dart
from samite.pieces.fitted.tops import PathPart
from samite.pieces.flatten.lines import PanelSide, PanelSpec, StyleLine, style_line
from samite.pieces.surface.loft import Surface

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

_DENSE = 300


@dataclass(frozen=True, slots=True)
class LegCut:
    """What parts a surface with legs into panels.

    Parameters
    ----------
    columns : tuple of float
        Seams from 0, the inside in front, to 1, the inside behind.
    names : tuple of str
        Names of the panels between them.
    hem : callable
        Row of the hem by column.
    crotch_row : float
        Row of the crotch [-].
    path : tuple of PathPart
        Upper edge from centre front to centre back, cut at the seams.
    ends : tuple of int
        For every seam, the number of path parts before its upper end.
    darts : dict of str to tuple of Dart
        Darts that open at the upper edge, by panel.
    rows : dict of str to float
        Girth lines that are kept.
    centre : str
        Kind of the centre back: ``opening`` or ``seam``.
    front : str
        Kind of the centre front: ``seam``, or ``fold``, which is straight.
    """

    columns: tuple[float, ...]
    names: tuple[str, ...]
    hem: Callable[[Real], Real]
    crotch_row: float
    path: tuple[PathPart, ...]
    ends: tuple[int, ...]
    darts: dict[str, tuple[Dart, ...]]
    rows: dict[str, float]
    centre: str = "seam"
    front: str = "seam"


def leg_plan(
    surface: Surface, cut: LegCut, *, mesh_mm: float, shrink: tuple[float, float] = (1.0, 1.0),
    bands: tuple[tuple[str, float, float], ...] = (),
) -> Plan:  # fmt: skip
    """Return the plan of a garment with legs.

    Parameters
    ----------
    surface : Surface
        The surface.
    cut : LegCut
        Panels, hem and upper edge.
    mesh_mm : float
        Distance of the points of the mesh [mm].
    shrink : tuple of float
        What lengths around and along the body are multiplied by [-].
    bands : tuple of (str, float, float)
        Regions that strain is told of.

    Returns
    -------
    Plan
        The plan; its seams include inside leg and shoulders.

    Raises
    ------
    InfeasibleError
        If the style lines leave a panel empty.

    References
    ----------
    ``definition``: panels between lines.
    """
    inner = tuple(cut.rows.values())

    line = line_maker(surface, cut.rows, mesh_mm=mesh_mm, shrink=shrink)
    inseam = line(_inside(cut))
    tops = [part.uv[0] for part in cut.path] + [cut.path[-1].uv[-1]]
    seams = [
        line(_seam(surface, cut, k, tops[cut.ends[k]])) for k in range(1, len(cut.columns) - 1)
    ]
    # the crotch seam runs along the body all the way, so it is shortened as lengths are
    lengthwise = (shrink[1], shrink[1])
    crotches = [
        style_line(surface, _crotch(cut, u, end), mesh_mm=mesh_mm, rows=inner, shrink=lengthwise)
        for u, end in ((0.0, tops[0]), (1.0, tops[-1]))
    ]
    uppers = _path_lines(cut, line)
    hems = [float(_hem_point(surface, cut, k)[0]) for k in range(len(cut.columns))]
    panels = tuple(
        _panel(cut, k, inseam, crotches, seams, uppers, line, hems) for k in range(len(cut.names))
    )
    joined = [*neighbour_seams(cut.names)]
    joined.append(PlanSeam((cut.names[0], "front inseam"), (cut.names[-1], "back inseam")))
    shoulders = [side for side in panels[0].sides if side.name.startswith("shoulder")]
    if len(panels) == 2:
        joined += [PlanSeam((panels[0].name, s.name), (panels[1].name, s.name)) for s in shoulders]
    return Plan(surface, panels, tuple(joined), shrink, mesh_mm, bands)


def _inside(cut: LegCut) -> Real:
    """Return the inside leg from the hem to the crotch, in front."""
    low = float(cut.hem(np.array([0.0]))[0])
    v = np.linspace(low, cut.crotch_row, _DENSE)
    return np.stack([np.zeros(_DENSE), v], axis=1)


def _crotch(cut: LegCut, column: float, end: Real) -> Real:
    v = np.linspace(cut.crotch_row, float(end[1]), _DENSE)
    return np.stack([np.full(_DENSE, column), v], axis=1)


def _seam(surface: Surface, cut: LegCut, k: int, end: Real) -> Real:
    """Return a seam from the hem to the upper edge: it hangs straight from hip to thigh."""
    low = _hem_point(surface, cut, k)
    v = np.linspace(low[1], float(end[1]), _DENSE)
    column = _columns(surface, cut, k, v)
    turn = float(surface.levels.get("waist", surface.levels["hip"]))
    share = np.clip((v - turn) / max(float(end[1]) - turn, 1e-6), 0.0, 1.0)
    column += (float(end[0]) - column[-1]) * share**2 * (3.0 - 2.0 * share)
    uv = np.stack([column, v], axis=1)
    uv[0], uv[-1] = low, end
    return uv


def _columns(surface: Surface, cut: LegCut, k: int, v: Real) -> Real:
    """Return the columns of a seam: as far from the middle at the thigh as at the hip."""
    from scipy.interpolate import PchipInterpolator

    column, levels = cut.columns[k], surface.levels
    if column in (0.0, 0.5, 1.0):
        return np.full(v.shape, column)
    half = np.linspace(0.0, 0.5, 101) if column < 0.5 else np.linspace(1.0, 0.5, 101)
    hip, knee = levels["hip"], levels["knee"]
    outer = surface.at(np.array([column, 0.5]), np.array([hip, hip]))[:, 0]
    rows = np.linspace(levels["thigh"], hip, 9)
    places = []
    for row in rows:
        far = surface.at(half, np.full(101, row))[:, 0]
        places.append(float(np.interp(outer[0] / outer[1] * far[-1], far, half)))
    rows = np.concatenate([[knee - 1.0, knee], rows, [hip + 1.0]])
    loft = PchipInterpolator(rows, [column, column, *places, column])
    return np.asarray(loft(np.clip(v, rows[0], rows[-1])))


def _hem_point(surface: Surface, cut: LegCut, k: int) -> Real:
    """Return where a seam meets the hem."""
    column = cut.columns[k]
    for _ in range(3):
        row = cut.hem(np.array([column]))
        column = float(_columns(surface, cut, k, row)[0])
    return np.array([column, float(cut.hem(np.array([column]))[0])])


def _path_lines(cut: LegCut, line: Callable[[Real], StyleLine]) -> list[StyleLine]:
    made: list[StyleLine] = []
    twins: dict[str, StyleLine] = {}
    for part in cut.path:
        if part.sewn and part.name in twins:
            twin = twins[part.name]
            uv = twin.uv[::-1].copy()
            uv[:, 0] = 1.0 - uv[:, 0]
            made.append(StyleLine(uv, twin.lengths_mm[::-1]))
            continue
        made.append(line(part.uv))
        if part.sewn:
            twins[part.name] = made[-1]
    return made


def _panel(
    cut: LegCut, k: int, inseam: StyleLine, crotches: Sequence[StyleLine],
    seams: Sequence[StyleLine], uppers: Sequence[StyleLine], line: Callable[[Real], StyleLine],
    hems: Sequence[float],
) -> PanelSpec:  # fmt: skip
    """Return one panel: hem, right side, upper edge, left side."""
    name, last = cut.names[k], len(cut.names) - 1
    u = np.linspace(hems[k], hems[k + 1], _DENSE)
    sides = [PanelSide("hem", line(np.stack([u, cut.hem(u)], axis=1)), True, "hem", "total")]
    if k == last:
        behind = StyleLine(
            inseam.uv * np.array([0.0, 1.0]) + np.array([1.0, 0.0]), inseam.lengths_mm
        )
        sides.append(PanelSide("back inseam", behind))
        sides.append(PanelSide("back crotch", crotches[1], True, cut.centre, "total"))
    else:
        sides.append(PanelSide("right", seams[k]))
    sides += _upper(cut, k, uppers, line)
    if k == 0:
        sides.append(
            PanelSide("front crotch", crotches[0], False, cut.front, "total",
                      straight=cut.front == "fold")
        )  # fmt: skip
        sides.append(PanelSide("front inseam", inseam, False))
    else:
        sides.append(PanelSide("left", seams[k - 1], False))
    return PanelSpec(name, tuple(sides), cut.rows)


def _upper(
    cut: LegCut, k: int, uppers: Sequence[StyleLine], line: Callable[[Real], StyleLine]
) -> list[PanelSide]:
    """Return the upper edge of a panel, anticlockwise; darts part its only part."""
    parts = range(cut.ends[k], cut.ends[k + 1])
    darts = sorted(cut.darts.get(cut.names[k], ()), key=lambda dart: dart.mouth)
    if not darts:
        return [
            PanelSide(cut.path[n].name, uppers[n], False, cut.path[n].kind,
                      "edges" if cut.path[n].sewn else "total")
            for n in reversed(parts)
        ]  # fmt: skip
    part = cut.path[parts[0]]
    row = float(part.uv[0, 1])
    stops = [float(part.uv[0, 0]), *(dart.mouth for dart in darts), float(part.uv[-1, 0])]
    sides: list[PanelSide] = []
    for number, (a, b) in enumerate(itertools.pairwise(stops)):
        u = np.linspace(a, b, _DENSE)
        uv = np.stack([u, np.full(_DENSE, row)], axis=1)
        sides.append(PanelSide(f"{part.name} {number + 1}", line(uv), False, part.kind, "total"))
        if number < len(darts):
            share = np.linspace(0.0, 1.0, _DENSE)[:, None]
            mouth = np.array([b, row])
            leg = line(mouth + (np.array(darts[number].tip) - mouth) * share)
            dart = f"{part.name} dart {number + 1}"
            sides.append(PanelSide(f"{dart} left", leg, False, slit=-1))
            sides.append(PanelSide(f"{dart} right", leg, True, slit=1))
    return sides[::-1]
