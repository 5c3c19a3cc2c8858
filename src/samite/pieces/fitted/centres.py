"""Centre seams of halves that differ: both made as long as their mean."""

from __future__ import annotations

from samite.pieces.edge_moves import with_edge_moved
from samite.pieces.outline import Piece

AGREE_MM = 0.05
"""Difference up to which the halves of a centre are left alone [mm]."""

_FREE = ("neck", "hem", "edge", "waist")
_TURNS = 4


def with_centre(piece: Piece, centre: str, length_mm: float) -> Piece:
    """Return a piece whose centre has a given length.

    Parameters
    ----------
    piece : Piece
        A piece of one half.
    centre : str
        Name of its centre edge.
    length_mm : float
        What it is to be [mm].

    Returns
    -------
    Piece
        The line at one end of the centre moved there and run out to nothing at its other end; the
        same piece if no free line meets the centre.

    Notes
    -----
    The neckline is taken before the hem, that before the upper edge, and the waist last: what is
    joined to something stays. Near the centre the line is moved evenly, so that it still runs square
    into it.

    References
    ----------
    ``common-practice``: true the lines over a seam whose halves differ.
    """
    names = [edge.name for edge in piece.edges]
    at = names.index(centre)
    before, after = piece.edges[at - 1], piece.edges[(at + 1) % len(names)]
    free = sorted(
        (_FREE.index(edge.kind), edge is before, edge.name)
        for edge in (before, after)
        if edge.kind in _FREE
    )
    if not free or abs(_length(piece, centre) - length_mm) <= AGREE_MM / 2.0:
        return piece
    _, ends_here, line = free[0]
    amount, made = 0.0, piece
    for _ in range(_TURNS):
        amount += length_mm - _length(made, centre)
        made = with_edge_moved(
            piece, line, lambda share: _weight(1.0 - share if ends_here else share), amount
        )
    return made


def _length(piece: Piece, name: str) -> float:
    return next(edge.length_mm for edge in piece.edges if edge.name == name)


def _weight(share: float) -> float:
    """Return 1 at the centre, 0 at the far end, level at both."""
    return 1.0 - share * share * (3.0 - 2.0 * share)


def centres_agreed(left: Piece, right: Piece, centre: str) -> tuple[Piece, Piece, float]:
    """Return both halves of a centre seam with equal lengths.

    Parameters
    ----------
    left : Piece
        Piece of the left half.
    right : Piece
        Piece of the right half.
    centre : str
        Name of the centre edge of both.

    Returns
    -------
    tuple of (Piece, Piece, float)
        Both pieces, and what each of them gave or took [mm].

    References
    ----------
    ``common-practice``: each half gives half of the difference.
    """
    one, other = _length(left, centre), _length(right, centre)
    if abs(one - other) <= AGREE_MM:
        return left, right, 0.0
    mean = (one + other) / 2.0
    made = with_centre(left, centre, mean), with_centre(right, centre, mean)
    return *made, abs(one - other) / 2.0
