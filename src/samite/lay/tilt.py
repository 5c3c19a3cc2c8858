"""Pieces tilted within the tolerance of their grain: the turns that this adds, and how far one is off."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from samite.lay.check import MOST_ANGLES

if TYPE_CHECKING:
    from samite.lay.problem import LayPiece, Problem

SAME_DEG = 1e-6
"""Turns nearer to each other than this are one, as for the verifier [deg]."""


def tilted_within_grain(problem: Problem) -> Problem:
    """Return a problem in which pieces may also lie tilted by the tolerance of their grain.

    Parameters
    ----------
    problem : Problem
        The problem.

    Returns
    -------
    Problem
        Beside every turn of a piece the two that are its tolerance away; the same problem if no
        piece may be tilted.

    Notes
    -----
    Nothing is turned end for end by it, so a nap keeps its direction. A piece on the fold, on a
    motif or matched to another stays on grain, as does everything on a cloth with a repeat; and so
    does a piece that lists tilts of its own. Only both ends of the tolerance are tried, nothing
    between.

    References
    ----------
    ``common-practice``: a marker tilts pieces within what the pattern allows.
    """
    if problem.repeat_along_mm or problem.repeat_across_mm:
        return problem
    matched = {name for one in problem.matches for name in (one.piece, one.with_piece)}
    pieces = tuple(
        replace(piece, angles_deg=_with_tilts(piece)) if piece.name not in matched else piece
        for piece in problem.pieces
    )
    return replace(problem, pieces=pieces)


def off_grain_deg(piece: LayPiece, *, angle_deg: float) -> float:
    """Return how far a turn tilts a piece off its grain, within its tolerance.

    Parameters
    ----------
    piece : LayPiece
        The piece.
    angle_deg : float
        Its turn [deg].

    Returns
    -------
    float
        Anticlockwise from the nearest quarter turn; 0 on grain, and where the turn is farther off
        than the tolerance and so is no tilt [deg].

    Notes
    -----
    Quarter turns are on grain: along the cloth or across it.

    References
    ----------
    ``definition``: grain along x before the turn.
    """
    off = (angle_deg + 45.0) % 90.0 - 45.0
    return off if SAME_DEG < abs(off) <= piece.grain_tolerance_deg + SAME_DEG else 0.0


def _with_tilts(piece: LayPiece) -> tuple[float, ...]:
    """Return the turns of a piece, those on grain first; tilts of its own are not tilted again."""
    turns, tilt = piece.angles_deg or (0.0,), piece.grain_tolerance_deg
    still = piece.on_fold or piece.motif_mm is not None or tilt <= SAME_DEG
    if still or _has_tilts(turns, tilt) or 3 * len(turns) > MOST_ANGLES:
        return piece.angles_deg
    return (*turns, *(turn + way * tilt for turn in turns for way in (-1.0, 1.0)))


def _has_tilts(turns: tuple[float, ...], tilt: float) -> bool:
    """Tell whether two turns lie within the tolerance of each other, and are not one."""
    return any(
        SAME_DEG < abs((a - b + 180.0) % 360.0 - 180.0) <= tilt + SAME_DEG
        for a in turns
        for b in turns
    )
