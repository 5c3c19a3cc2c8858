"""What was pinned on the person, put back into the pieces."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from samite.kernel.errors import UnknownNameError
from samite.pieces.cap import CAPS, with_cap
from samite.pieces.curves import Line, trace
from samite.pieces.fitting_parts import (
    edges_at,
    part_followers,
    part_pieces,
    renamed_smooths,
    share_around,
)
from samite.pieces.fitting_words import GIRTH, Alteration
from samite.pieces.follow import SMALL, Followed, follow, lengths_of
from samite.pieces.outline import Edge, Piece
from samite.pieces.plane import Point, away, dot, outward, unit_vector
from samite.pieces.walk import Mate, Smooth

SLID_MM = 0.01
"""How far a corner may leave its neighbour's line and still count as slid along it [mm]."""

SQUARE_ENOUGH = 0.7
"""Cosine from which on a corner slides along the edge beside it instead of off it."""

_CAP = "cap"


@dataclass(frozen=True, slots=True)
class Change:
    """What an alteration did to one edge.

    Parameters
    ----------
    alteration : Alteration
        The alteration.
    piece : str
        Name of the piece.
    edge : str
        Name of the edge that was moved.
    moved_mm : float
        How far, outwards positive [mm].
    area_change_mm2 : float
        Change of the piece's area [mm2].
    """

    alteration: Alteration
    piece: str
    edge: str
    moved_mm: float
    area_change_mm2: float


@dataclass(frozen=True, slots=True)
class Fitted:
    """Pieces before and after a fitting; nothing is lost.

    Parameters
    ----------
    before : tuple of Piece
        As they were.
    after : tuple of Piece
        As they are now.
    mates : tuple of Mate
        Seams between the pieces as they are now.
    changes : tuple of Change
        What changed.
    earlier : Fitted or None
        The fitting before this one.
    smooths : tuple of Smooth
        Corners that must run smooth, as the pieces are now.
    followed : tuple of Followed
        Edges of mating pieces that followed.
    """

    before: tuple[Piece, ...]
    after: tuple[Piece, ...]
    mates: tuple[Mate, ...]
    changes: tuple[Change, ...]
    earlier: Fitted | None = None
    smooths: tuple[Smooth, ...] = ()
    followed: tuple[Followed, ...] = ()


def apply_alterations(
    pieces: Sequence[Piece],
    alterations: Sequence[Alteration],
    mates: Sequence[Mate] = (),
    earlier: Fitted | None = None,
    smooths: Sequence[Smooth] = (),
) -> Fitted:
    """Put alterations back into pieces, and let the pieces sewn to them follow.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    alterations : sequence of Alteration
        What was pinned.
    mates : sequence of Mate
        Seams; an amount at a seam is shared by its two sides.
    earlier : Fitted or None
        The fitting before.
    smooths : sequence of Smooth
        Corners that must run smooth.

    Returns
    -------
    Fitted
        Before, after, what changed and what followed.

    Raises
    ------
    UnknownNameError
        If no piece has such a place.
    InputError
        If the altered outline is impossible.

    Notes
    -----
    The edge moves along its normals: by the whole amount where it was pinned, fading as a cosine
    to the edge's other end; a hem of which no side is named moves evenly, that of panels all
    around fades as a cosine around the body. Both sides of a seam move by half each, so that they
    stay equal. Pieces of which one side is named are parted into a left and a right one, or
    unfolded; those sewn to them are parted where they must follow differently. Sides are the
    wearer's; pieces lie right side up.

    References
    ----------
    ``common-practice``: alterations are shared between both sides of a seam.
    """
    now, seams, corners = list(pieces), list(mates), list(smooths)
    alterations = [_at_caps(one, pieces) for one in alterations]
    for alteration in alterations:
        parted = part_pieces(now, seams, alteration)
        corners = renamed_smooths(corners, now, parted[0])
        now, seams = parted
    before = lengths_of(now)
    changes = _moved_all(now, alterations)
    named = now
    now, seams, before = part_followers(now, seams, before)
    corners = renamed_smooths(corners, named, now)
    altered = [(change.piece, change.edge) for change in changes]
    after, walked, followed = follow(now, seams, before, altered)
    return Fitted(tuple(pieces), after, walked, tuple(changes), earlier, tuple(corners), followed)


def _moved_all(now: list[Piece], alterations: Sequence[Alteration]) -> list[Change]:
    """Move the edges that alterations mean, in place, and return what changed."""
    changes: list[Change] = []
    for alteration in alterations:
        found = _targets(now, alteration)
        if not found:
            places = sorted({edge.name for piece in now for edge in piece.edges})
            raise UnknownNameError(
                f"no piece has a place for {alteration.said!r}",
                alteration.place,
                f"edges are {', '.join(places)}",
            )
        if alteration.place == _CAP:
            changes += _caps_changed(now, alteration, [index for index, _, _ in found])
            continue
        share = _share(now, alteration, [index for index, _, _ in found])
        for index, edge, end in found:
            amount = alteration.amount_mm * share
            was = now[index].area_mm2
            weight = _weight_of(now[index], end, alteration)
            now[index] = _seam_for_fold(
                with_edge_moved(now[index], edge.name, weight, amount), edge
            )
            change = now[index].area_mm2 - was
            changes.append(Change(alteration, now[index].name, edge.name, amount, change))
    return changes


def _seam_for_fold(piece: Piece, edge: Edge) -> Piece:
    """Return a piece whose fold was altered with a seam there: a bent line cannot be folded."""
    if edge.kind != "fold":
        return piece
    edges = tuple(
        replace(one, kind="seam", allowance_mm=None) if one.name == edge.name else one
        for one in piece.edges
    )
    note = f"{edge.name} is a seam now: it was altered and cannot lie on the fold"
    return replace(piece, edges=edges, copies=2 * piece.copies, mirrored=True, note=note)


def _share(now: Sequence[Piece], alteration: Alteration, found: Sequence[int]) -> float:
    """Return the share of an amount that each edge takes."""
    if alteration.place == GIRTH:
        return 1.0 / sum(now[k].copies * (2 if now[k].on_fold else 1) for k in found)
    return 0.5 if alteration.shared else 1.0


def _at_caps(alteration: Alteration, pieces: Sequence[Piece]) -> Alteration:
    """Read an armhole that is not among the pieces as the caps that are sewn into it."""
    edges = [edge.name for piece in pieces for edge in piece.edges]
    elsewhere = any(name.startswith("armhole") for name in edges) or CAPS[0] not in edges
    return (
        alteration
        if alteration.place != "armhole" or elsewhere
        else replace(alteration, place=_CAP)
    )


def _caps_changed(now: list[Piece], alteration: Alteration, found: Sequence[int]) -> list[Change]:
    """Solve caps again to armholes that are longer by an amount, in front, behind or both."""
    changes = []
    for index in dict.fromkeys(found):
        piece = now[index]
        lengths = {name: piece.edge(name).length_mm for name in CAPS}
        parts = [name for name in CAPS if name.startswith(alteration.part or name)]
        whole = sum(lengths[name] for name in parts)
        more = {name: alteration.amount_mm * lengths[name] / whole for name in parts}
        front, back = (lengths[name] + more.get(name, 0.0) for name in CAPS)
        now[index] = with_cap(piece, front_armhole_mm=front, back_armhole_mm=back)
        area = now[index].area_mm2 - piece.area_mm2
        changes += [Change(alteration, piece.name, name, more[name], area) for name in parts]
    return changes


def _targets(pieces: Sequence[Piece], alteration: Alteration) -> list[tuple[int, Edge, str]]:
    """Return piece, edge and the end that moves, or ``both``."""
    other = {"left": ", right", "right": ", left"}.get(alteration.side, "?")
    found = []
    for index, piece in enumerate(pieces):
        if other in piece.name or (alteration.side and piece.name.startswith(other[2:])):
            continue
        for edge, end in edges_at(piece, alteration):
            if other in edge.name:
                continue
            named = f", {alteration.side}" in piece.name + edge.name or piece.name.startswith(
                alteration.side or "?"
            )
            sided = end == "both" and alteration.side and not named
            one_end = sided and share_around(piece.name) is None
            behind = "back" in piece.name
            place = _wearers_end(edge, alteration.side, behind=behind) if one_end else end
            found.append((index, edge, place))
    return _main_parts(pieces, found, alteration)


def _main_parts(
    pieces: Sequence[Piece], found: list[tuple[int, Edge, str]], alteration: Alteration
) -> list[tuple[int, Edge, str]]:
    """Keep the piece that was named; else, where there is a choice, leave out the small parts."""
    if alteration.part:
        named = [one for one in found if alteration.part in pieces[one[0]].name]
        return named or found
    main = [one for one in found if not any(w in pieces[one[0]].name for w in SMALL)]
    return main or found


def _wearers_end(edge: Edge, side: str, *, behind: bool) -> str:
    """Return the end of an edge on the wearer's side, seen from outside."""
    start_is_left = (edge.start[0] > edge.end[0]) != behind
    return "start" if start_is_left == (side == "left") else "end"


def with_edge_moved(
    piece: Piece, edge: str, weight: Callable[[float], float], amount_mm: float
) -> Piece:
    """Return a piece with one edge moved along its normals, its neighbours following.

    Parameters
    ----------
    piece : Piece
        The piece.
    edge : str
        Name of the edge.
    weight : callable
        Share of the amount at a share of the edge's length.
    amount_mm : float
        How far, outwards positive [mm].

    Returns
    -------
    Piece
        The edge traced anew; the ends of its neighbours drawn to its new corners.

    Raises
    ------
    InputError
        If the outline becomes impossible.

    Notes
    -----
    A corner slides along its neighbour where that crosses nearly squarely; else the neighbour is
    sheared evenly along its length. Straight ones stay straight.

    References
    ----------
    ``derivation``: parallel curve with a changing distance.
    """
    edges = list(piece.edges)
    at = [one.name for one in edges].index(edge)
    moving = edges[at]
    points = _denser(moving.flat(0.05))
    lengths = _running(points)
    total = lengths[-1]
    before, after = at - 1, (at + 1) % len(edges)
    ways = [_direction(points, k) for k in range(len(points))]
    ways[0], ways[-1] = moving.directions
    moved = [
        away(point, outward(way), amount_mm * weight(run / total))
        for point, way, run in zip(points, ways, lengths, strict=True)
    ]
    back = edges[before].directions[1]
    shifts = [
        _slide(edges[before], (points[0], moved[0]), outward(ways[0]), (-back[0], -back[1])),
        _slide(
            edges[after], (points[-1], moved[-1]), outward(ways[-1]), edges[after].directions[0]
        ),
    ]
    moved = [_shifted(p, shifts, run / total) for p, run in zip(moved, lengths, strict=True)]
    edges[at] = replace(moving, curves=(trace(moved),))
    edges[before] = _drawn(edges[before], points[0], moved[0], at_end=True)
    edges[after] = _drawn(edges[after], points[-1], moved[-1], at_end=False)
    ratio = {
        old.name: new.length_mm / old.length_mm for old, new in zip(piece.edges, edges, strict=True)
    }
    notches = tuple(replace(n, distance_mm=n.distance_mm * ratio[n.edge]) for n in piece.notches)
    return replace(piece, edges=tuple(edges), notches=notches)


def _slide(edge: Edge, corner: tuple[Point, Point], normal: Point, way: Point) -> Point:
    """Return how a moved corner must shift to lie on the edge beside it, where that crosses squarely."""
    old, new = corner
    if edge.kind == "fold":
        line = unit_vector(edge.start, edge.end)
        along = dot((new[0] - edge.start[0], new[1] - edge.start[1]), line)
        there = away(edge.start, line, along)
    else:
        square = dot(way, normal)
        if abs(square) < SQUARE_ENOUGH:
            return 0.0, 0.0
        distance = dot((new[0] - old[0], new[1] - old[1]), normal)
        there = away(old, way, distance / square)
    return there[0] - new[0], there[1] - new[1]


def _shifted(point: Point, shifts: Sequence[Point], share: float) -> Point:
    (ax, ay), (bx, by) = shifts
    return point[0] + ax * (1.0 - share) + bx * share, point[1] + ay * (1.0 - share) + by * share


def _weight_of(piece: Piece, end: str, alteration: Alteration) -> Callable[[float], float]:
    """Return the share of an alteration at each share of an edge."""
    around = share_around(piece.name) if alteration.side and end == "both" else None
    if around is not None:
        middle = 0.5 if alteration.side == "left" else 0.0

        def turning(share: float) -> float:
            place = around[0] + (around[1] - around[0]) * share
            return (1.0 + math.cos(math.tau * (place - middle))) / 2.0

        return turning
    if end == "both":
        return lambda _: 1.0
    return lambda share: (
        (1.0 + math.cos(math.pi * (share if end == "start" else 1.0 - share))) / 2.0
    )


def _denser(points: Sequence[Point]) -> list[Point]:
    made = [points[0]]
    for a, b in pairwise(points):
        steps = max(1, math.ceil(math.dist(a, b) / 10.0))
        for k in range(1, steps + 1):
            share = k / steps
            made.append((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
    return made


def _running(points: Sequence[Point]) -> list[float]:
    made = [0.0]
    for a, b in pairwise(points):
        made.append(made[-1] + math.dist(a, b))
    return made


def _direction(points: Sequence[Point], k: int) -> Point:
    a, b = points[max(k - 1, 0)], points[min(k + 1, len(points) - 1)]
    size = math.dist(a, b) or 1.0
    return (b[0] - a[0]) / size, (b[1] - a[1]) / size


def _drawn(edge: Edge, old: Point, new: Point, *, at_end: bool) -> Edge:
    """Draw the end of a neighbouring edge to a corner's new place."""
    if math.dist(old, new) < 1e-12:
        return edge
    if len(edge.curves) == 1 and isinstance(edge.curves[0], Line):
        ends = (edge.start, new) if at_end else (new, edge.end)
        return replace(edge, curves=(Line(*ends),))
    way = edge.directions[1] if at_end else edge.directions[0]
    further = dot((new[0] - old[0], new[1] - old[1]), way) * (1.0 if at_end else -1.0)
    if edge.kind != "seam" and abs(math.dist(old, new) - abs(further)) < SLID_MM:
        slid = _longer(edge, new, further, at_end=at_end)
        if slid is not None:
            return slid
    return _sheared(edge, old, new, at_end=at_end)


def _longer(edge: Edge, new: Point, further: float, *, at_end: bool) -> Edge | None:
    """Return a curved edge whose end slid along it: made longer by a straight stretch, or cut back."""
    if further > 0.0:
        more = Line(edge.end, new) if at_end else Line(new, edge.start)
        return replace(edge, curves=(*edge.curves, more) if at_end else (more, *edge.curves))
    points = list(edge.flat(0.01) if at_end else edge.flat(0.01)[::-1])
    left = -further
    while len(points) > 2 and math.dist(points[-1], points[-2]) < left:
        left -= math.dist(points.pop(), points[-1])
    if len(points) < 3:
        return None
    place = away(points[-1], unit_vector(points[-1], points[-2]), left)
    kept = [*points[:-1], place]
    cut = replace(edge, curves=(trace(kept if at_end else kept[::-1]),))
    return _sheared(cut, place, new, at_end=at_end)


def _sheared(edge: Edge, old: Point, new: Point, *, at_end: bool) -> Edge:
    """Return an edge one end of which moves, the movement fading to the other."""
    points = _denser(edge.flat(0.05))
    lengths = _running(points)
    total = lengths[-1] or 1.0
    dx, dy = new[0] - old[0], new[1] - old[1]
    moved = []
    for point, run in zip(points, lengths, strict=True):
        share = run / total if at_end else 1.0 - run / total
        moved.append((point[0] + dx * share, point[1] + dy * share))
    return replace(edge, curves=(trace(moved),))
