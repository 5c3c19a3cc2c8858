"""A piece made of two, joined by a seam across its grain or along it."""

from __future__ import annotations

from dataclasses import replace

from samite.kernel.errors import InfeasibleError, UnknownNameError
from samite.kernel.ranges import require_between
from samite.lay.problem import LayPiece, Outline, Point, Problem

SHORTEST_SHARE = 0.1
"""Neither part of a joined piece is shorter than this share of the whole."""


def joined_piece(
    piece: LayPiece, *, share: float, seam_allowance_mm: float, across: bool = True
) -> tuple[LayPiece, LayPiece]:
    """Return a piece as two that are joined by a seam.

    Parameters
    ----------
    piece : LayPiece
        The piece.
    share : float
        Where the seam lies, as a share of its length from its lower end [-].
    seam_allowance_mm : float
        Allowance on both sides of the seam [mm].
    across : bool
        Whether the seam runs across the grain, parting its length; else along it.

    Returns
    -------
    tuple of (LayPiece, LayPiece)
        Both parts with the allowance, each as often as the whole.

    Raises
    ------
    OutOfRangeError
        If the seam would lie too near to an end.
    InfeasibleError
        If the piece cannot be parted there: on the fold, or hollow so that it falls apart.

    Notes
    -----
    Each part is the piece up to the seam and its allowance beyond, so that the allowance has the
    shape of the piece there; where that runs to a point it errs short.

    References
    ----------
    ``derivation``: clipping by a straight line.
    """
    require_between(SHORTEST_SHARE, 1.0 - SHORTEST_SHARE, share=share)
    require_between(0.0, 100.0, seam_allowance_mm=seam_allowance_mm)
    if piece.on_fold and not across:
        raise InfeasibleError(
            f"{piece.name} lies on the fold: it cannot be parted along it", piece.name,
            "part it across the grain, or open it out",
        )  # fmt: skip
    if piece.motif_mm is not None or piece.fixed:
        raise InfeasibleError(
            f"{piece.name} is kept in its place or on a motif", piece.name, "join another piece"
        )
    axis = 0 if across else 1
    values = [point[axis] for point in piece.outline_mm]
    seam = min(values) + share * (max(values) - min(values))
    parts = []
    for name, side in (("first part", 1.0), ("second part", -1.0)):
        outline = _clipped(piece.outline_mm, axis, seam + side * seam_allowance_mm, side)
        if len(outline) < 3 or _falls_apart(
            piece.outline_mm, axis, seam + side * seam_allowance_mm
        ):
            raise InfeasibleError(
                f"{piece.name} would fall apart where it is to be joined", piece.name,
                "place the seam where the piece is in one",
            )  # fmt: skip
        parts.append(replace(piece, name=f"{piece.name}, {name}", outline_mm=outline))
    return parts[0], parts[1]


def with_joined(
    problem: Problem, name: str, *, share: float, seam_allowance_mm: float, across: bool = True
) -> Problem:
    """Return a problem with one of its pieces joined from two.

    Parameters
    ----------
    problem : Problem
        The problem.
    name : str
        Name of the piece.
    share : float
        Where the seam lies [-].
    seam_allowance_mm : float
        Allowance on both sides of the seam [mm].
    across : bool
        Whether the seam runs across the grain.

    Returns
    -------
    Problem
        With the two parts in its place; matches of the piece are dropped.

    Raises
    ------
    UnknownNameError
        If there is no such piece.
    InfeasibleError
        If it cannot be parted there.

    Notes
    -----
    As for one piece.

    References
    ----------
    ``derivation``: clipping by a straight line.
    """
    if name not in {piece.name for piece in problem.pieces}:
        names = ", ".join(piece.name for piece in problem.pieces)
        raise UnknownNameError(f"there is no piece {name!r}", name, f"one of {names}")
    pieces: list[LayPiece] = []
    for piece in problem.pieces:
        if piece.name == name:
            pieces += joined_piece(
                piece, share=share, seam_allowance_mm=seam_allowance_mm, across=across
            )
        else:
            pieces.append(piece)
    matches = tuple(one for one in problem.matches if name not in (one.piece, one.with_piece))
    return replace(problem, pieces=tuple(pieces), matches=matches)


def _clipped(outline: Outline, axis: int, level: float, side: float) -> Outline:
    """Return what lies below a level, or above it for a negative side."""
    kept: list[Point] = []
    for start, end in zip(outline, (*outline[1:], outline[0]), strict=True):
        inside, after = (side * (level - point[axis]) >= 0.0 for point in (start, end))
        if inside:
            kept.append(start)
        if inside != after:
            t = (level - start[axis]) / (end[axis] - start[axis])
            x = start[0] + t * (end[0] - start[0])
            y = start[1] + t * (end[1] - start[1])
            kept.append((level, y) if axis == 0 else (x, level))
    return tuple(point for k, point in enumerate(kept) if point != kept[k - 1])


def _falls_apart(outline: Outline, axis: int, level: float) -> bool:
    """Tell whether a straight line cuts an outline more than twice."""
    above = [point[axis] > level for point in outline]
    return sum(a != b for a, b in zip(above, [*above[1:], above[0]], strict=True)) > 2
