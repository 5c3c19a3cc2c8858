"""Flat panels as pieces: edges, notches, dart folds, girth lines, hatching."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.curves import Line, trace
from samite.pieces.edge import Edge
from samite.pieces.fitted.hatching import hatching
from samite.pieces.fitted.plan import Laid, PlanSeam
from samite.pieces.fitted.report import Limits
from samite.pieces.fitted.truing import meetings_of
from samite.pieces.flatten.lines import PanelSide
from samite.pieces.flatten.panels import FlatPanel
from samite.pieces.outline import Mark, Piece, Rule
from samite.pieces.plane import Point, meeting
from samite.pieces.walk import Mate, Smooth

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

SHUT_MM = 2.0
"""Overlap of the legs of a dart that is not needed, at which it is left out [mm]."""

_CORNERS = {"hem": "mirror", "fold": "mitre"}


@dataclass(frozen=True, slots=True)
class CutPlan:
    """Pieces of a plan and how they are sewn together.

    Parameters
    ----------
    pieces : tuple of Piece
        The pieces.
    mates : tuple of Mate
        Their seams.
    smooths : tuple of Smooth
        Corners that must run smooth.
    darts_mm : mapping of str to float
        Width of every dart at its mouth, by piece and dart [mm].
    """

    pieces: tuple[Piece, ...]
    mates: tuple[Mate, ...]
    smooths: tuple[Smooth, ...]
    darts_mm: Mapping[str, float]


def cut_pieces(
    laid: Laid, limits: Limits, *, hatched: bool = True, extra: Mapping[str, tuple[Rule, ...]] | None = None,
    marks: Mapping[str, tuple[Mark, ...]] | None = None,
) -> CutPlan:  # fmt: skip
    """Return the pieces of a plan that was laid flat.

    Parameters
    ----------
    laid : Laid
        The flat panels.
    limits : Limits
        What the cloth allows, for the hatching.
    hatched : bool
        Whether pulls are hatched.
    extra : mapping of str to tuple of Rule or None
        More lines by panel.
    marks : mapping of str to tuple of Mark or None
        Drill points by panel.

    Returns
    -------
    CutPlan
        Pieces, seams, corners that must run smooth.

    Notes
    -----
    A dart is drawn closed: the outline goes over its mouth as the fold needs it, and both legs are
    lines inside.

    References
    ----------
    ``derivation``: the edge seen in the fold is its mirror image in the leg.
    """
    pieces: list[Piece] = []
    darts: dict[str, float] = {}
    for panel in laid.panels:
        edges, rules, found, widths = _edges(panel)
        lines = (*rules, *_girth_lines(panel), *(extra or {}).get(panel.spec.name, ()))
        if hatched:
            lines = (*lines, *hatching(panel, limits))
        centred = any(side.kind == "fold" for side in panel.spec.sides)
        pieces.append(
            Piece(
                panel.spec.name, edges, copies=1 if centred else 2, mirrored=not centred,
                marks=(*found, *(marks or {}).get(panel.spec.name, ())), rules=lines,
            )
        )  # fmt: skip
        darts |= {f"{panel.spec.name}, {name}": width for name, width in widths.items()}
    mates = tuple(_mate(laid, seam) for seam in laid.plan.seams)
    return CutPlan(tuple(pieces), mates, _smooths(laid), darts)


def _points(side: PanelSide, panel: FlatPanel) -> list[Point]:
    chain = panel.flat.mesh.chains[side.name]
    drawn = panel.flat.drawn(side.name)
    drawn[0], drawn[-1] = panel.flat.points[chain[0]], panel.flat.points[chain[-1]]
    return [(float(x), float(y)) for x, y in drawn]


def _edges(
    panel: FlatPanel,
) -> tuple[tuple[Edge, ...], tuple[Rule, ...], tuple[Mark, ...], dict[str, float]]:
    """Return edges, dart legs as lines, dart tips as marks, and widths of the darts."""
    edges: list[Edge] = []
    rules: list[Rule] = []
    marks: list[Mark] = []
    widths: dict[str, float] = {}
    shut: Point | None = None
    sides = panel.spec.sides
    for k, side in enumerate(sides):
        if side.slit and not sides[k - 1].slit:
            name = side.name.rsplit(" ", 1)[0]
            first, second = _points(side, panel), _points(sides[k + 1], panel)
            shut = _shut(first[0], second[-1], edges[-1])
            if shut is not None:
                edges[-1] = _moved_end(edges[-1], shut)
                continue
            rules.append(Rule(name, (*first, *second[1:])))
            marks.append(Mark(f"{name} point", first[-1]))
            widths[name] = math.dist(first[0], second[-1])
            along = _points(sides[k - 1], panel)
            roof = _roof(first, second, (along[-2], along[-1]))
            edges.append(Edge(name, (trace(roof),), sides[k - 1].kind, corner="mitre"))
        elif not side.slit:
            edges.append(_edge(side, panel, shut))
            shut = None
    return tuple(edges), tuple(rules), tuple(marks), widths


def _shut(first: Point, second: Point, before: Edge) -> Point | None:
    """Return where a dart is sewn shut whose legs overlap by less than can be cut; None if it is open."""
    along = before.flat()[-2:]
    way = (along[1][0] - along[0][0]) * (second[0] - first[0])
    way += (along[1][1] - along[0][1]) * (second[1] - first[1])
    if way >= 0.0 or math.dist(first, second) > SHUT_MM:
        return None
    return (first[0] + second[0]) / 2.0, (first[1] + second[1]) / 2.0


def _moved_end(edge: Edge, end: Point) -> Edge:
    return replace(edge, curves=(trace([*edge.flat()[:-1], end]),))


def _edge(side: PanelSide, panel: FlatPanel, start: Point | None = None) -> Edge:
    points = _points(side, panel)
    if start is not None:
        points[0] = start
    corner = _CORNERS.get(side.kind, "mitre")
    if side.straight:
        return Edge(side.name, (Line(points[0], points[-1]),), side.kind, corner=corner)
    return Edge(side.name, (trace(points),), side.kind, corner=corner)


def _roof(first: list[Point], second: list[Point], edge: tuple[Point, Point]) -> list[Point]:
    """Return the edge over the mouth of a dart: what lies in the fold, mirrored in the leg."""
    mouth_a, tip, mouth_b = first[0], first[-1], second[-1]
    peak = dart_peak(mouth_a, mouth_b, tip, edge[0])
    return [mouth_a, peak, mouth_b]


def dart_peak(first: Point, second: Point, tip: Point, before: Point) -> Point:
    """Return the peak of the edge over the mouth of a dart.

    Parameters
    ----------
    first : tuple of (float, float)
        Mouth of the leg along which the dart is folded [mm].
    second : tuple of (float, float)
        Mouth of the other leg [mm].
    tip : tuple of (float, float)
        Tip of the dart [mm].
    before : tuple of (float, float)
        A point of the edge before the first mouth [mm].

    Returns
    -------
    tuple of (float, float)
        The peak, on the middle line of the dart [mm].

    Notes
    -----
    Folded over the first leg, the cloth of the dart must end at the edge beside it: the edge is
    mirrored in the leg and meets the middle line of the dart.

    References
    ----------
    ``derivation``: mirror image in the leg.
    """
    leg = math.atan2(tip[1] - first[1], tip[0] - first[0])
    away = math.atan2(before[1] - first[1], before[0] - first[0])
    turned = 2.0 * leg - away
    middle = ((first[0] + second[0]) / 2.0, (first[1] + second[1]) / 2.0)
    found = meeting(
        first, (math.cos(turned), math.sin(turned)), tip, (middle[0] - tip[0], middle[1] - tip[1])
    )
    deep = math.dist(tip, middle)
    if found is None or math.dist(found, middle) > 0.5 * deep:
        return middle
    return found


def _girth_lines(panel: FlatPanel) -> tuple[Rule, ...]:
    found = []
    for name, line in panel.flat.mesh.lines.items():
        points = panel.flat.points[line]
        found.append(
            Rule(f"{name.rsplit(' ', 1)[0]} line", tuple((float(x), float(y)) for x, y in points))
        )
    return tuple(found)


def _mate(laid: Laid, seam: PlanSeam) -> Mate:
    """Return the seam with a notch where each girth line meets it."""
    panel = laid.panel(seam.first[0])
    side = next(one for one in panel.spec.sides if one.name == seam.first[1])
    run = np.concatenate([[0.0], np.cumsum(side.lengths_mm)])
    total = float(run[-1])
    stops = []
    for row in panel.spec.rows.values():
        at = np.nonzero(np.abs(side.uv[:, 1] - row) < 1e-6)[0]
        stops += [float(run[k] / total) for k in at if 0.04 < run[k] / total < 0.96]
    kept = tuple((share, seam.strokes) for share in sorted(stops)) or ((0.5, seam.strokes),)
    return Mate(seam.first, seam.second, stops=kept)


def _smooths(laid: Laid) -> tuple[Smooth, ...]:
    """Return the corners at which a line runs on over a seam or a centre."""
    specs = [panel.spec for panel in laid.panels]
    found = []
    for joint in meetings_of(specs, [(seam.first, seam.second) for seam in laid.plan.seams]):
        corners = [(one.panel, one.before, one.after) for one in joint.corners]
        if joint.sewn != "dart":
            found.append(Smooth(corners[0], corners[-1]))
    return tuple(found)
