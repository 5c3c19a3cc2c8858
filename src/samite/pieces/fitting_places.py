"""Which edges of a piece an alteration means, and where along them it was pinned."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from samite.pieces.edge import Edge
from samite.pieces.fitting_panels import at_places, share_around
from samite.pieces.fitting_words import GIRTH, WAIST_EDGE, Alteration
from samite.pieces.outline import Piece
from samite.pieces.plane import cross

HIP_DROP_MM = 200.0
"""From the waist to the hip where no line on the piece tells it, a habit of the trade [mm]."""

WHOLE, LEVEL, UPPER = "both", "level", "upper"
"""How an edge moves: evenly, most at a level, or evenly and less and less towards its upper end."""

_FADE = 1.0 / 3.0
"""Share of an edge over which what is taken in at the side fades to nothing at its upper end."""

_CENTRES = {"centre-back": ("back", "centre"), "centre-front": ("front", "centre")}


def edges_at(piece: Piece, alteration: Alteration) -> list[tuple[Edge, str]]:
    """Return the edges that an alteration moves, and how.

    Parameters
    ----------
    piece : Piece
        The piece.
    alteration : Alteration
        What was pinned.

    Returns
    -------
    list of (Edge, str)
        Edge, and ``start`` or ``end`` for the end that moves, or how it moves as a whole.
    """
    place = alteration.place
    if place == WAIST_EDGE:
        return _waist_at_seam(piece, alteration)
    if place in (GIRTH, "hip", "side") or (place == "waist" and alteration.seam):
        return _at_seams(piece, alteration)
    called = [edge for edge in piece.edges if edge.name.partition(",")[0] == place]
    found = []
    for edge in called or piece.edges:
        if place == "hem" and edge.kind == "seam":  # sewn to the next part, not the wearer's hem
            continue
        base = edge.name.partition(",")[0]
        named = place in (base, edge.kind, edge.level)
        if named or (place != "centre" and place in base):
            outer = "end" if edge.start[0] ** 2 < edge.end[0] ** 2 else "start"
            found.append((edge, outer if place == "shoulder" else WHOLE))
    if place == "waist" and any(edge.kind == "waist" for edge in piece.edges):
        found = [(edge, WHOLE) for edge in piece.edges if edge.at_waist]  # darts and all
    return found


def _at_seams(piece: Piece, alteration: Alteration) -> list[tuple[Edge, str]]:
    """Return the seams that an amount at a level is taken in or let out at."""
    seam = "side" if alteration.place == "side" else alteration.seam
    ending = [(e, end) for e, end in _ending_at_waist(piece) if _is_meant(piece, e, alteration)]
    if alteration.place == "hip":
        ending = [one for one in ending if one[1] != WHOLE]
        side = [one for one in ending if not seam and belongs(piece, one[0].name, "side")]
        return [(edge, LEVEL) for edge, _ in side or ending if not seam or _of(piece, edge, seam)]
    found = [(e, end) for e, end in ending if not seam or end == WHOLE or _of(piece, e, seam)]
    if found or any(edge.at_waist for edge in piece.edges):
        return found
    if alteration.place == "side":
        return [  # a closed seam fades towards the arm, an open edge moves evenly
            (edge, UPPER if edge.kind == "seam" else WHOLE)
            for edge in piece.edges
            if _is_side(piece, edge)
        ]
    wanted = seam or "side"
    return [
        (edge, LEVEL) for edge in piece.edges
        if level_share(piece, edge, "waist") is not None
        and (_of(piece, edge, wanted) if wanted != "side" else _is_side(piece, edge))
    ]  # fmt: skip


def _waist_at_seam(piece: Piece, alteration: Alteration) -> list[tuple[Edge, str]]:
    """Return the waist of a piece, and the end of it that lies at a seam."""
    waist = [k for k, edge in enumerate(piece.edges) if edge.at_waist]
    for edge, end in _ending_at_waist(piece):
        if end == WHOLE or not _of(piece, edge, alteration.seam):
            continue
        if _is_meant(piece, edge, alteration):
            return [(piece.edges[k], "start" if end == "end" else "end") for k in waist]
    return []


def _of(piece: Piece, edge: Edge, seam: str) -> bool:
    return belongs(piece, edge.name, seam)


def _is_side(piece: Piece, edge: Edge) -> bool:
    """Tell whether an edge runs along the side of the body, sewn or open."""
    body = not any(word in piece.name for word in ("gusset", "gore", "tail", "hood"))
    return body and edge.name.partition(",")[0] == "side" and edge.kind in ("seam", "hem")


def _ending_at_waist(piece: Piece) -> list[tuple[Edge, str]]:
    """Return the edges that end at the waist, and which end; the end of a band lies all on it."""
    count = len(piece.edges)
    found = []
    for i, edge in enumerate(piece.edges):
        near = [piece.edges[i - 1].at_waist, piece.edges[(i + 1) % count].at_waist]
        gathered = "gathered" in (piece.edges[i - 1].kind, piece.edges[(i + 1) % count].kind)
        if edge.at_waist or not any(near) or gathered:
            continue
        found.append((edge, WHOLE if all(near) else "end" if near[1] else "start"))
    bands = [one for one in found if one[1] == WHOLE]
    return bands[:1] or found


def _is_meant(piece: Piece, edge: Edge, alteration: Alteration) -> bool:
    """Tell whether a panel at its place around the body lies at the seam or side that was named."""
    if share_around(piece.name) is None:
        return True
    seam = alteration.seam or ("side" if alteration.side or alteration.place == "side" else "")
    return not seam or edge.name in at_places(piece, seam, alteration.side)


def belongs(piece: Piece, edge: str, seam: str) -> bool:
    """Tell whether an edge is part of a seam at the centre or at the side.

    Parameters
    ----------
    piece : Piece
        The piece.
    edge : str
        Name of the edge.
    seam : str
        ``centre-back``, ``centre-front`` or ``side``.

    Returns
    -------
    bool
        Whether it is.
    """
    if share_around(piece.name) is not None:
        return edge in at_places(piece, seam, "")
    if edge in ("left", "right"):
        return seam == "centre-back" and piece.copies == 1
    if seam == "side":
        return "side" in edge
    words = _CENTRES[seam]
    return words[0] in f"{piece.name} {edge}" and ("centre" in edge or "crotch" in edge)


def level_share(piece: Piece, edge: Edge, level: str) -> float | None:
    """Return where along an edge a level of the body crosses it.

    Parameters
    ----------
    piece : Piece
        The piece; a line on it called ``hip line`` tells the hip.
    edge : Edge
        One of its edges.
    level : str
        ``waist`` or ``hip``.

    Returns
    -------
    float or None
        Share of its length from its start; None if it does not cross that level.
    """
    line = next((r.points for r in piece.rules if r.name == f"{level} line"), None)
    if line is None:
        return _hip_by_habit(piece, edge) if level == "hip" else None
    (ax, ay), (bx, by) = line[0], line[-1]
    run, points = 0.0, edge.flat(0.1)
    for a, b in pairwise(points):
        heights = [cross((bx - ax, by - ay), (x - ax, y - ay)) for x, y in (a, b)]
        step = math.dist(a, b)
        if heights[0] * heights[1] <= 0.0 and heights[0] != heights[1]:
            share = (run + step * heights[0] / (heights[0] - heights[1])) / edge.length_mm
            return share if 0.02 < share < 0.98 else None
        run += step
    return None


def _hip_by_habit(piece: Piece, edge: Edge) -> float | None:
    end = next((end for one, end in _ending_at_waist(piece) if one.name == edge.name), None)
    if end is None:
        return None
    share = min(HIP_DROP_MM / edge.length_mm, 0.5)
    return share if end == "start" else 1.0 - share


def pinned_weight(
    piece: Piece, edge: Edge, how: str, alteration: Alteration
) -> Callable[[float], float]:
    """Return the share of an alteration at each share of an edge.

    Parameters
    ----------
    piece : Piece
        The piece.
    edge : Edge
        The edge that moves.
    how : str
        How it moves, from `edges_at`.
    alteration : Alteration
        What was pinned.

    Returns
    -------
    callable
        Takes and gives a share.
    """
    if how == LEVEL:
        return _around_level(piece, edge, alteration.place)
    if how == UPPER:
        return _towards_upper(edge)
    around = share_around(piece.name) if alteration.side and how == WHOLE else None
    if around is not None:
        return _turning(around, 0.5 if alteration.side == "left" else 0.0)
    if how == WHOLE:
        return lambda _: 1.0
    return lambda share: _fading(share if how == "start" else 1.0 - share)


def _fading(share: float) -> float:
    """Return a cosine from 1 at 0 to 0 at 1, level at both."""
    return (1.0 + math.cos(math.pi * min(max(share, 0.0), 1.0))) / 2.0


def _turning(around: tuple[float, float], middle: float) -> Callable[[float], float]:
    def weight(share: float) -> float:
        place = around[0] + (around[1] - around[0]) * share
        return (1.0 + math.cos(math.tau * (place - middle))) / 2.0

    return weight


def _around_level(piece: Piece, edge: Edge, place: str) -> Callable[[float], float]:
    """Return a weight that is whole at a level and fades upwards to the edge's end, downwards alike."""
    found = level_share(piece, edge, "hip" if place == "hip" else "waist")
    middle = 0.5 if found is None else found
    upwards = edge.end[1] > edge.start[1]
    above = 1.0 - middle if upwards else middle
    below = min(2.0 * above, 1.0 - above)

    def weight(share: float) -> float:
        up = (share - middle) * (1.0 if upwards else -1.0)
        return _fading(up / above if up > 0.0 else -up / below)

    return weight


def _towards_upper(edge: Edge) -> Callable[[float], float]:
    upwards = edge.end[1] > edge.start[1]
    return lambda share: _fading(1.0 - (1.0 - share if upwards else share) / _FADE)
