"""Edges that lie at a level of the body, and numbers of shapes that hang from the waist."""

from __future__ import annotations

from dataclasses import replace

from samite.pieces.outline import Piece
from samite.pieces.shape import mm


def at_level(piece: Piece, level: str, *names: str) -> Piece:
    """Return a piece some edges of which are told to lie at a level of the body.

    Parameters
    ----------
    piece : Piece
        The piece.
    level : str
        ``waist``, ``hip`` or ``hem``.
    *names : str
        Names of the edges.

    Returns
    -------
    Piece
        The piece.
    """
    edges = tuple(replace(e, level=level) if e.name in names else e for e in piece.edges)
    return replace(piece, edges=edges)


WAIST = mm("waist", "girth of the body at the waist", low=50, high=10000, waist_girth=1.0)


EASE = mm("ease", "ease at the waist", 10, low=-500, high=2000)
