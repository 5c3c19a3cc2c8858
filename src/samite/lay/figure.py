"""Where the figure of a cloth is matched: at the seams that run down it, and on equal pieces."""

from __future__ import annotations

import math
from collections.abc import Sequence

from samite.lay.problem import Match
from samite.pieces.edge import Edge
from samite.pieces.finish import FinishedPiece
from samite.pieces.plane import Point
from samite.pieces.walk import Mate

DOWN_DEG = 30.0
"""A seam nearer to the grain than this runs down the cloth [deg]."""


def figure_matches(finished: Sequence[FinishedPiece], mates: Sequence[Mate]) -> tuple[Match, ...]:
    """Return where pieces are matched along a figured cloth.

    Parameters
    ----------
    finished : sequence of FinishedPiece
        The pieces of one cloth.
    mates : sequence of Mate
        Edges that are sewn together.

    Returns
    -------
    tuple of Match
        Points that fall on the same place of the repeat; y is 0, since only the length is matched.

    Notes
    -----
    Seams within 30 degrees of the grain are matched where their lower ends meet, each piece to the
    others once, so that nothing contradicts; copies of one piece are matched to each other. Across
    the cloth, at set-in sleeves and at gathers, figures are placed by eye.

    References
    ----------
    ``common-practice``: match the seams that are seen, bars first.
    """
    pieces = {one.piece.name: one for one in finished}
    made = [
        Match(name, (0.0, 0.0), name, (0.0, 0.0))
        for name, one in pieces.items()
        if one.piece.copies > 1
    ]
    group = {name: name for name in pieces}
    for mate in mates:
        names = mate.first[0], mate.second[0]
        if mate.ease_mm or any(name not in pieces for name in names):
            continue
        first, second = (_root(group, name) for name in names)
        ends = _meeting(pieces[names[0]], pieces[names[1]], mate)
        if first != second and ends is not None:
            group[first] = second
            made.append(Match(names[0], (ends[0], 0.0), names[1], (ends[1], 0.0)))
    return tuple(made)


def _root(group: dict[str, str], name: str) -> str:
    while group[name] != name:
        name = group[name]
    return name


def _meeting(first: FinishedPiece, second: FinishedPiece, mate: Mate) -> tuple[float, float] | None:
    """Return how far along each piece the lower ends of a seam lie; None if it runs across."""
    edges = first.piece.edge(mate.first[1]), second.piece.edge(mate.second[1])
    if not (_runs_down(first, edges[0]) and _runs_down(second, edges[1])):
        return None
    return _lower_end_mm(first, edges[0]), _lower_end_mm(second, edges[1])


def _lower_end_mm(one: FinishedPiece, edge: Edge) -> float:
    return min(along_mm(one, edge.start), along_mm(one, edge.end))


def _runs_down(one: FinishedPiece, edge: Edge) -> bool:
    along = math.degrees(math.atan2(edge.end[1] - edge.start[1], edge.end[0] - edge.start[0]))
    off = abs((along - one.piece.grain_deg + 90.0) % 180.0 - 90.0)
    return off <= DOWN_DEG


def along_mm(one: FinishedPiece, point: Point) -> float:
    """Return how far along its grain a point of a piece lies from the piece's lower end.

    Parameters
    ----------
    one : FinishedPiece
        The piece.
    point : tuple of (float, float)
        The point, as the piece is drawn [mm].

    Returns
    -------
    float
        The x of the point on the piece of the lay [mm].

    Notes
    -----
    From the lower end of the cut line.

    References
    ----------
    ``definition``: the grain becomes x.
    """
    angle = math.radians(one.piece.grain_deg)
    cosine, sine = math.cos(angle), math.sin(angle)
    low = min(x * cosine + y * sine for x, y in one.cut.points)
    return point[0] * cosine + point[1] * sine - low
