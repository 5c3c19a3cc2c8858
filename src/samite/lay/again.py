"""Lay the rest anew: some pieces are cut already, and the cloth is not what it was thought to be."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

import numpy as np

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between
from samite.lay.problem import Fixed, Lay, LayPiece, Outline, Placement, Problem
from samite.lay.verify import placed_outline

Copy = tuple[str, int]
"""Name of a piece and number of its copy."""

JOIN_MM = 1.0
"""Breadth of the bar that keeps pieces from lying over the end of a length [mm]."""


@dataclass(frozen=True, slots=True)
class Trouble:
    """What came out differently.

    Parameters
    ----------
    cut : frozenset of (str, int)
        Pieces that are cut, and good.
    spoilt : frozenset of (str, int)
        Pieces that were cut wrong: their cloth is gone, they are wanted again.
    width_mm : float
        Width as it turned out; 0 for as before [mm].
    flaws_mm : tuple of tuple of (float, float)
        Flaws that were found [mm].
    lengths_mm : tuple of float
        Lengths in which the cloth came; empty for one [mm].
    """

    cut: frozenset[Copy] = frozenset()
    spoilt: frozenset[Copy] = frozenset()
    width_mm: float = 0.0
    flaws_mm: tuple[Outline, ...] = ()
    lengths_mm: tuple[float, ...] = ()


def rest_problem(problem: Problem, lay: Lay, trouble: Trouble) -> Problem:
    """Return the problem of laying what is not yet cut on what is left of the cloth.

    Parameters
    ----------
    problem : Problem
        What was asked.
    lay : Lay
        The lay that was being cut.
    trouble : Trouble
        What is cut, and what came out differently.

    Returns
    -------
    Problem
        The cloth that is gone stands in it as holes.

    Raises
    ------
    InputError
        If a piece is named that the lay does not hold, or nothing is left to lay.
    OutOfRangeError
        If a width or length is impossible.

    Notes
    -----
    Hands are kept: of a pair of which one is cut, the other is wanted. Where the cloth came in
    several lengths, a bar across it keeps pieces from lying over a join; the last length may be
    passed, which is then to be bought, from the same dye lot.

    References
    ----------
    ``definition``: what is cut is gone.
    """
    gone = trouble.cut | trouble.spoilt
    _check_named(lay, gone)
    pieces = tuple(
        part for piece in problem.pieces for part in _wanted(piece, problem, lay, trouble)
    )
    if not pieces:
        raise InputError("every piece is cut already", "cut", "name only what is cut and good")
    named = {piece.name: piece for piece in problem.pieces}
    holes = [
        tuple((float(x), float(y)) for x, y in placed_outline(named[one.piece], one))
        for one in lay.placements
        if (one.piece, one.copy) in gone
    ]
    width = trouble.width_mm or problem.width_mm
    require_between(50.0, 10_000.0, width_mm=width)
    kept_names = {piece.name for piece in pieces}
    return replace(
        problem,
        width_mm=width,
        pieces=pieces,
        holes=(*problem.holes, *holes, *trouble.flaws_mm, *_bars(problem, width, trouble)),
        matches=tuple(
            one
            for one in problem.matches
            if one.piece in kept_names and one.with_piece in kept_names
        ),
    )


def pinned(problem: Problem, lay: Lay, names: Collection[Copy]) -> Problem:
    """Return a problem in which some pieces of a lay stay where they lie.

    Parameters
    ----------
    problem : Problem
        What was asked.
    lay : Lay
        A lay of it.
    names : collection of (str, int)
        The pieces that are pinned down.

    Returns
    -------
    Problem
        Everything else may move.

    Raises
    ------
    InputError
        If a piece is named that the lay does not hold.

    Notes
    -----
    Places that were kept before stay so only if they are named again.

    References
    ----------
    ``definition``: a kept place is a placement of the answer.
    """
    _check_named(lay, names)
    pieces = []
    for piece in problem.pieces:
        kept = tuple(
            Fixed(one.x_mm, one.y_mm, one.angle_deg, one.mirrored)
            for one in lay.placements
            if one.piece == piece.name and (one.piece, one.copy) in names
        )
        pieces.append(replace(piece, fixed=kept))
    return replace(problem, pieces=tuple(pieces))


def _check_named(lay: Lay, names: Collection[Copy]) -> None:
    there = {(one.piece, one.copy) for one in lay.placements}
    for name, copy in sorted(names):
        if (name, copy) not in there:
            raise InputError(
                f"the lay holds no copy {copy + 1} of {name!r}",
                "pieces",
                "name a piece as it shows",
            )


def _wanted(piece: LayPiece, problem: Problem, lay: Lay, trouble: Trouble) -> list[LayPiece]:
    """Return what is still wanted of a piece, parted by hand where pairs are broken."""
    left = [
        one
        for one in lay.placements
        if one.piece == piece.name and (one.piece, one.copy) not in trouble.cut
    ]
    if not left:
        return []
    double = problem.folded and not piece.on_fold
    bare = replace(piece, fixed=())
    if double:
        return [replace(bare, copies=2 * len(left))]
    hands = [one.mirrored for one in left]
    if piece.mirror != "pairs" or hands.count(True) == hands.count(False):
        return [replace(bare, copies=len(left))]
    return _by_hand(bare, left)


def _by_hand(piece: LayPiece, left: Sequence[Placement]) -> list[LayPiece]:
    made = []
    for mirrored, name in ((False, piece.name), (True, f"{piece.name}, mirrored")):
        count = sum(one.mirrored == mirrored for one in left)
        if count:
            outline = piece.outline_mm
            if mirrored:
                outline = tuple((x, -y) for x, y in reversed(outline))
            motif = piece.motif_mm
            if motif and mirrored:
                motif = motif[0], -motif[1]
            made.append(
                replace(
                    piece, name=name, outline_mm=outline, copies=count, mirror="none",
                    motif_mm=motif,
                )
            )  # fmt: skip
    return made


def _bars(problem: Problem, width: float, trouble: Trouble) -> list[Outline]:
    """Return a bar across the cloth at every join of two lengths."""
    lying = width / 2.0 if problem.folded else width
    ends = np.cumsum(np.array(trouble.lengths_mm, dtype=np.float64)).tolist()
    for length in trouble.lengths_mm:
        require_between(50.0, 1e6, length_mm=length)
    return [
        ((end, -1.0), (end + JOIN_MM, -1.0), (end + JOIN_MM, lying + 1.0), (end, lying + 1.0))
        for end in ends[:-1]
    ]
