"""From stitch lines to what is cut: shrinkage, cut line, labels, which way up."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from types import MappingProxyType

from samite.kernel.errors import UnknownNameError
from samite.kernel.ranges import require_between
from samite.pieces.allowance import SEAMS, CutLine, allowance_of, cut_line
from samite.pieces.curves import Arc, Cubic, Curve, Line, trace
from samite.pieces.edge import CORNERS, KINDS, Edge
from samite.pieces.outline import Piece
from samite.pieces.plane import Point, cross, dot, unit_vector
from samite.tables.close_names import did_you_mean

LAYERS = ("outside", "inside")
"""Endings of the names of two layers that were parted for the turn of the cloth."""


@dataclass(frozen=True, slots=True)
class Finish:
    """How pieces are finished.

    Parameters
    ----------
    allowances_mm : mapping of str to float
        Allowance by kind or name of an edge [mm].
    shrink_along_percent : float
        Shrinkage of the cloth along its length [%].
    shrink_across_percent : float
        Shrinkage across [%].
    one_way : bool
        Whether the cloth has a nap or a print that runs one way.
    cloth : str
        Name of the cloth for the label.
    dated : str
        Date for the label; empty prints none.
    turn_of_cloth_mm : float
        What the outer of two layers needs more where it turns over the inner one [mm].
    corners : mapping of str to str
        How an allowance ends at its corners, by kind or name of an edge: one of `CORNERS`.

    Raises
    ------
    OutOfRangeError
        If a shrinkage is impossible.
    """

    allowances_mm: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    shrink_along_percent: float = 0.0
    shrink_across_percent: float = 0.0
    one_way: bool = False
    cloth: str = ""
    dated: str = ""
    turn_of_cloth_mm: float = 0.0
    corners: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def __post_init__(self) -> None:
        require_between(0.0, 20.0, turn_of_cloth_mm=self.turn_of_cloth_mm)
        require_between(-20.0, 50.0, shrink_along_percent=self.shrink_along_percent)
        require_between(-20.0, 50.0, shrink_across_percent=self.shrink_across_percent)


@dataclass(frozen=True, slots=True)
class FinishedPiece:
    """A piece ready to be cut.

    Parameters
    ----------
    piece : Piece
        Stitch line, as cut before shrinking.
    cut : CutLine
        Cut line.
    label : tuple of str
        What is written on it.
    nap : bool
        Whether it carries a nap arrow, pointing down its grain.
    way_up : str
        Which side of the cloth is up.
    """

    piece: Piece
    cut: CutLine
    label: tuple[str, ...]
    nap: bool
    way_up: str


def seam_allowances(seams: Mapping[str, str]) -> dict[str, float]:
    """Return the allowances that named seams ask for.

    Parameters
    ----------
    seams : mapping of str to str
        Name of a seam by kind or name of an edge.

    Returns
    -------
    dict of str to float
        Allowances [mm].

    Raises
    ------
    UnknownNameError
        If there is no seam of that name.
    """
    found = {}
    for edge, seam in seams.items():
        if seam not in SEAMS:
            raise UnknownNameError(f"there is no seam {seam!r}", edge, did_you_mean(seam, SEAMS))
        found[edge] = SEAMS[seam]
    return found


def check_edges(pieces: Sequence[Piece], names: Sequence[str]) -> None:
    """Refuse allowances for edges that are nowhere.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    names : sequence of str
        Kinds or names of edges.

    Raises
    ------
    UnknownNameError
        Naming the first that no piece has.
    """
    known = {edge.name for piece in pieces for edge in piece.edges} | set(KINDS)
    for name in names:
        if name not in known:
            raise UnknownNameError(
                f"no piece has an edge {name!r}", name, f"one of {', '.join(sorted(known))}"
            )


def finish(
    pieces: Sequence[Piece], how: Finish, *, check: bool = True
) -> tuple[FinishedPiece, ...]:
    """Finish pieces: cut lines, labels, which way up.

    Parameters
    ----------
    pieces : sequence of Piece
        Stitch lines after shrinking.
    how : Finish
        How.
    check : bool
        Whether to refuse allowances for edges that are nowhere.

    Returns
    -------
    tuple of FinishedPiece
        In the same order.

    Raises
    ------
    OutOfRangeError
        If an allowance is impossible.
    InputError
        If a cut line crosses itself.
    UnknownNameError
        If an allowance is for an edge that is nowhere.

    Notes
    -----
    Shrinkage enlarges the stitch line by 1 / (1 - s) along and across the grain; allowances are
    added after it. Both are exact for cloth that shrinks evenly. The turn of the cloth is added to
    the allowances of the outer of two layers: the stitch line of both stays the same, the outer
    one is rolled over the edge by hand.

    References
    ----------
    ``definition``: shrinkage as a share of the length before.
    """
    if check:
        check_edges(pieces, (*how.allowances_mm, *how.corners))
    made = []
    for piece in _layers(pieces, how.turn_of_cloth_mm):
        cornered = _with_corners(piece, how.corners)
        cut = shrunk(cornered, how.shrink_along_percent, how.shrink_across_percent)
        line = cut_line(cut, _turned(cut, how))
        made.append(FinishedPiece(cut, line, _label(cut, how), how.one_way, _way_up(cut)))
    return tuple(made)


def _with_corners(piece: Piece, corners: Mapping[str, str]) -> Piece:
    """Return a piece whose allowances end as was asked."""
    if not corners:
        return piece
    edges = tuple(
        replace(edge, corner=corners.get(edge.name, corners.get(edge.kind, edge.corner)))
        for edge in piece.edges
    )
    return replace(piece, edges=edges)


def check_corners(corners: Mapping[str, str]) -> None:
    """Refuse corners that are no rule.

    Parameters
    ----------
    corners : mapping of str to str
        Rule by kind or name of an edge.

    Raises
    ------
    UnknownNameError
        Naming the first that is none.
    """
    for edge, rule in corners.items():
        if rule not in CORNERS:
            raise UnknownNameError(
                f"an allowance cannot end as {rule!r}", edge, f"one of {', '.join(CORNERS)}"
            )


def _layers(pieces: Sequence[Piece], turn: float) -> list[Piece]:
    """Part the pieces of which one lies outside and one inside, if that makes a difference."""
    made: list[Piece] = []
    for piece in pieces:
        if turn > 0.0 and "outside" in piece.note:
            half = piece.copies // 2
            made += [
                replace(piece, name=f"{piece.name}, {layer}", copies=half, note="")
                for layer in LAYERS
            ]
        else:
            made.append(piece)
    return made


def _turned(piece: Piece, how: Finish) -> Mapping[str, float]:
    """Return the allowances; the outer layer has more at the edges that are turned."""
    if how.turn_of_cloth_mm == 0.0 or not piece.name.endswith(LAYERS[0]):
        return how.allowances_mm
    turned = [edge for edge in piece.edges if edge.kind not in ("neck", "waist", "fold")]
    more = {
        edge.name: allowance_of(edge, how.allowances_mm) + how.turn_of_cloth_mm for edge in turned
    }
    return {**how.allowances_mm, **more}


def shrunk(piece: Piece, along_percent: float, across_percent: float) -> Piece:
    """Return a piece enlarged so that it has its size after shrinking.

    Parameters
    ----------
    piece : Piece
        The piece.
    along_percent : float
        Shrinkage along the grain [%].
    across_percent : float
        Shrinkage across it [%].

    Returns
    -------
    Piece
        Enlarged; itself if nothing shrinks.
    """
    if along_percent == 0.0 and across_percent == 0.0:
        return piece
    u = (math.cos(math.radians(piece.grain_deg)), math.sin(math.radians(piece.grain_deg)))
    grow = 1.0 / (1.0 - along_percent / 100.0), 1.0 / (1.0 - across_percent / 100.0)

    def place(point: Point) -> Point:
        along = (point[0] * u[0] + point[1] * u[1]) * grow[0]
        across = (point[1] * u[0] - point[0] * u[1]) * grow[1]
        return along * u[0] - across * u[1], along * u[1] + across * u[0]

    edges = tuple(_grown(edge, place) for edge in piece.edges)
    ratio = {
        old.name: new.length_mm / old.length_mm for old, new in zip(piece.edges, edges, strict=True)
    }
    return replace(
        piece,
        edges=edges,
        notches=tuple(replace(n, distance_mm=n.distance_mm * ratio[n.edge]) for n in piece.notches),
        marks=tuple(replace(m, place=place(m.place)) for m in piece.marks),
        rules=tuple(replace(r, points=tuple(map(place, r.points))) for r in piece.rules),
    )


def _grown(edge: Edge, place: Callable[[Point], Point]) -> Edge:
    """Return an edge as cut before shrinking; what it is gathered to shrinks with it."""
    made = replace(edge, curves=tuple(_stretched(curve, place) for curve in edge.curves))
    if edge.gathered_to_mm is None:
        return made
    return replace(made, gathered_to_mm=edge.gathered_to_mm * made.length_mm / edge.length_mm)


def _stretched(curve: Curve, place: Callable[[Point], Point]) -> Curve:
    if isinstance(curve, Line):
        return Line(place(curve.start), place(curve.end))
    if isinstance(curve, Cubic):
        return Cubic(*(place(p) for p in (curve.start, curve.first, curve.second, curve.end)))
    return trace([place(point) for point in curve.flat(0.001)])


def _label(piece: Piece, how: Finish) -> tuple[str, ...]:
    cloth = how.cloth or piece.cloth
    pair = f"cut {piece.copies}" + (", half of them mirrored" if piece.mirrored else "")
    fold = "on the fold" if piece.on_fold else ""
    gathers = [
        f"gather {edge.name} from {edge.length_mm:.0f} to {edge.gathered_to_mm:.0f} mm"
        for edge in piece.edges
        if edge.gathered_to_mm is not None
    ]
    lines = (piece.name, cloth, f"{pair} {fold}".strip(), *gathers, piece.note, how.dated)
    return tuple(line for line in lines if line)


def _way_up(piece: Piece) -> str:
    if piece.symmetric:
        return "either side up"
    if piece.mirrored:
        return "right side up as drawn; the mirrored copies wrong side up"
    return "right side up as drawn; not the same mirrored"


def hem_excess_mm(piece: Piece, cut: CutLine) -> dict[str, float]:
    """Return how much longer the raw edge of each turned-up hem is than its hem line.

    Parameters
    ----------
    piece : Piece
        The piece.
    cut : CutLine
        Its cut line.

    Returns
    -------
    dict of str to float
        Excess by edge; negative if the raw edge is too short and must be stretched [mm].

    Notes
    -----
    Depth of the hem times the angle by which the hem line turns; exact where it turns one way.

    References
    ----------
    ``derivation``: Steiner's formula for parallel curves.
    """
    return {
        edge.name: cut.allowances_mm[edge.name] * math.fsum(map(_turn, edge.curves))
        for edge in piece.edges
        if edge.kind == "hem"
    }


def _turn(curve: Curve) -> float:
    """Return the angle by which a curve turns, positive to the left."""
    if isinstance(curve, Arc):
        return curve.sweep_rad
    (start, end), points = curve.directions, curve.flat(0.05)
    ways = [start, *(unit_vector(a, b) for a, b in pairwise(points)), end]
    return math.fsum(math.atan2(cross(a, b), dot(a, b)) for a, b in pairwise(ways))
