"""Edges that are sewn together, walked along each other; corners that must run smooth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from samite.kernel.errors import InputError, UnknownNameError
from samite.pieces.outline import Notch, Piece

EQUAL_MM = 0.1
"""Difference of length up to which two edges are equal [mm]."""

SMOOTH_DEG = 3.0
"""Break of direction up to which a line runs smooth over a seam [deg]."""

Place = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Ease:
    """A stretch of an edge in which some of the other edge's length is eased in.

    Parameters
    ----------
    start_share : float
        Where it begins, share of the shorter edge from its start [-].
    end_share : float
        Where it ends [-].
    ease_mm : float
        Length eased in there [mm].
    """

    start_share: float
    end_share: float
    ease_mm: float


@dataclass(frozen=True, slots=True)
class Mate:
    """Two rows of edges that are sewn together.

    Parameters
    ----------
    first : tuple of (str, str)
        Piece and edge of one side, with how often: several follow each other.
    second : tuple of (str, str)
        Piece and edge of the other side.
    ease_mm : float
        How much longer the second is meant to be: eased in or gathered [mm].
    times : tuple of (float, float)
        How often each edge is in the row, where one edge meets several equal pieces.
    run : str
        ``against`` if the edges run against each other, as two sides of a seam do, ``along``
        otherwise.
    eases : tuple of Ease
        Where the ease lies; evenly if empty.
    stops : tuple of (float, int)
        Shares of the first edge where notches are made, and their strokes.
    also : tuple of (str, str, float)
        Further edges in the second row: piece, edge and how often.
    """

    first: Place
    second: Place
    ease_mm: float = 0.0
    times: tuple[float, float] = (1.0, 1.0)
    run: str = "against"
    eases: tuple[Ease, ...] = ()
    stops: tuple[tuple[float, int], ...] = ((0.5, 1),)
    also: tuple[tuple[str, str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Smooth:
    """A line that runs over a seam and must not break there.

    Parameters
    ----------
    first : tuple of (str, str, str)
        Piece, and the two edges that meet at its corner, anticlockwise.
    second : tuple of (str, str, str)
        The same of the other piece.
    """

    first: tuple[str, str, str]
    second: tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Walked:
    """What walking a pair of edges found.

    Parameters
    ----------
    mate : Mate
        The pair.
    first_mm : float
        Length of the first [mm].
    second_mm : float
        Length of the second [mm].
    """

    mate: Mate
    first_mm: float
    second_mm: float

    @property
    def difference_mm(self) -> float:
        """How much longer the second is than it should be [mm]."""
        return self.second_mm - self.first_mm - self.mate.ease_mm

    @property
    def equal(self) -> bool:
        """Whether the two agree to 0.1 mm."""
        return abs(self.difference_mm) <= EQUAL_MM


@dataclass(frozen=True, slots=True)
class Break:
    """How a line runs over a seam.

    Parameters
    ----------
    smooth : Smooth
        The corner.
    break_deg : float
        Change of direction there; 0 is smooth [deg].
    """

    smooth: Smooth
    break_deg: float

    @property
    def runs_smooth(self) -> bool:
        """Whether it breaks by less than 3 degrees."""
        return abs(self.break_deg) <= SMOOTH_DEG


def piece_named(pieces: Sequence[Piece], name: str) -> Piece:
    """Return a piece by name.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    name : str
        Its name.

    Returns
    -------
    Piece
        The piece.

    Raises
    ------
    UnknownNameError
        If there is none of that name.
    """
    for piece in pieces:
        if piece.name == name:
            return piece
    raise UnknownNameError(
        f"there is no piece {name!r}", name, f"one of {', '.join(p.name for p in pieces)}"
    )


def walk(pieces: Sequence[Piece], mates: Sequence[Mate]) -> tuple[Walked, ...]:
    """Walk every pair of edges along each other.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    mates : sequence of Mate
        The pairs.

    Returns
    -------
    tuple of Walked
        One a pair.

    Raises
    ------
    UnknownNameError
        If a pair names a piece or an edge that is not there.

    Notes
    -----
    Lengths are the exact ones of the curves, not of their chords.

    References
    ----------
    ``definition``: lengths of both sides of a seam.
    """
    return tuple(
        Walked(
            mate,
            mate.times[0] * piece_named(pieces, mate.first[0]).edge(mate.first[1]).length_mm,
            _second_row_mm(pieces, mate),
        )
        for mate in mates
    )


def _second_row_mm(pieces: Sequence[Piece], mate: Mate) -> float:
    row = ((*mate.second, mate.times[1]), *mate.also)
    return math.fsum(
        times * piece_named(pieces, piece).edge(edge).length_mm for piece, edge, times in row
    )


def check_smooth(pieces: Sequence[Piece], smooths: Sequence[Smooth]) -> tuple[Break, ...]:
    """Measure how lines run over seams.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    smooths : sequence of Smooth
        The corners.

    Returns
    -------
    tuple of Break
        One a corner.

    Raises
    ------
    UnknownNameError
        If a corner names a piece or an edge that is not there.

    Notes
    -----
    The angles inside both corners add up to 180 degrees where the line runs smooth.

    References
    ----------
    ``derivation``: adjacent angles.
    """
    found = []
    for smooth in smooths:
        angles = [
            piece_named(pieces, piece).interior_angle_deg(before, after)
            for piece, before, after in (smooth.first, smooth.second)
        ]
        found.append(Break(smooth, sum(angles) - 180.0))
    return tuple(found)


def walked_place_mm(distance_mm: float, length_mm: float, eases: Sequence[Ease]) -> float:
    """Return where a mark of one edge comes to lie on the edge that is eased to it.

    Parameters
    ----------
    distance_mm : float
        Along the shorter edge [mm].
    length_mm : float
        Length of the shorter edge [mm].
    eases : sequence of Ease
        Where length is eased in.

    Returns
    -------
    float
        Along the longer edge [mm].

    Notes
    -----
    s + sum of e clip((s - a) / (b - a), 0, 1); exact for ease spread evenly over its stretch.

    References
    ----------
    ``derivation``: length walked so far.
    """
    share = distance_mm / length_mm
    gained = sum(
        ease.ease_mm
        * min(max((share - ease.start_share) / (ease.end_share - ease.start_share), 0.0), 1.0)
        for ease in eases
    )
    return distance_mm + gained


def with_notches(pieces: Sequence[Piece], mates: Sequence[Mate]) -> tuple[Piece, ...]:
    """Set the notches of every pair, walked with its ease.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    mates : sequence of Mate
        The pairs.

    Returns
    -------
    tuple of Piece
        The same pieces with notches.

    Raises
    ------
    InputError
        If ease is asked for where a notch stands.
    UnknownNameError
        If a pair names a piece or an edge that is not there.

    Notes
    -----
    Only pairs of one edge with one edge get notches at their stops; where an edge meets several
    pieces, a notch stands at every joint.

    References
    ----------
    ``common-practice``: one stroke in front, two behind.
    """
    made: dict[str, list[Notch]] = {piece.name: list(piece.notches) for piece in pieces}
    for mate in mates:
        first = piece_named(pieces, mate.first[0]).edge(mate.first[1])
        second = piece_named(pieces, mate.second[0]).edge(mate.second[1])
        if mate.also:
            continue
        if mate.times != (1.0, 1.0):
            made[mate.first[0]] += _joint_notches(mate, first.length_mm)
            continue
        eases = mate.eases or (Ease(0.0, 1.0, second.length_mm - first.length_mm),)
        for share, count in mate.stops:
            if any(mate.eases and e.start_share < share < e.end_share for e in eases):
                raise InputError(
                    f"a notch at {share:g} of {first.name} stands where length is eased in",
                    first.name,
                    "move the notch or the ease",
                )
            here = share * first.length_mm
            there = walked_place_mm(here, first.length_mm, eases)
            if mate.run == "against":
                there = second.length_mm - there
            name = "-".join(
                sorted((f"{mate.first[0]} {first.name}", f"{mate.second[0]} {second.name}"))
            )
            made[mate.first[0]].append(Notch(first.name, here, count, name))
            made[mate.second[0]].append(Notch(second.name, there, count, name))
    return tuple(replace(piece, notches=_distinct(made[piece.name])) for piece in pieces)


def _joint_notches(mate: Mate, length_mm: float) -> list[Notch]:
    ratio = mate.times[1] / mate.times[0]
    joints = math.ceil(ratio - 1e-9)
    name = f"{mate.second[0]} {mate.second[1]}"
    return [Notch(mate.first[1], length_mm * k / ratio, 1, name) for k in range(1, joints)]


def _distinct(notches: Sequence[Notch]) -> tuple[Notch, ...]:
    kept: list[Notch] = []
    for notch in notches:
        same = (n.edge == notch.edge and abs(n.distance_mm - notch.distance_mm) < 0.5 for n in kept)
        if not any(same):
            kept.append(notch)
    return tuple(kept)
