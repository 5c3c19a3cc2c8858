"""Kept places: whether they can stay, and which copy lies there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from samite.lay._told import by_piece
from samite.lay.check import check_problem
from samite.lay.problem import Lay, Placement
from samite.lay.verify import check_lay

if TYPE_CHECKING:
    from samite.lay.problem import LayPiece, Problem

OF_PLACES = ("cloth", "edge", "fold", "apart", "flaw", "motif", "match")
"""Faults that kept places have by themselves, whatever else is laid."""


def why_kept_cannot_stay(problem: Problem) -> str:
    """Return why kept places contradict the rest of a problem.

    Parameters
    ----------
    problem : Problem
        The question.

    Returns
    -------
    str
        Words; empty if they can stay, if there are none, or if the problem is malformed.

    Notes
    -----
    Looked at by the verifier alone, as if nothing else were laid; beside that the hands.
    """
    if not any(piece.fixed for piece in problem.pieces) or check_problem(problem):
        return ""
    found = [text for piece in problem.pieces for text in _hands(piece, folded=problem.folded)]
    lay = Lay("feasible", placements=tuple(_placements(problem)))
    found += [fault.text for fault in check_lay(problem, lay) if fault.kind in OF_PLACES]
    if not found:
        return ""
    more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
    return f"what is kept cannot stay: {found[0]}{more}. Move it, or let it be laid anew."


def with_kept_numbers(problem: Problem, lay: Lay) -> Lay:
    """Return a lay in which kept places bear the numbers of copies that were asked for.

    Parameters
    ----------
    problem : Problem
        The question.
    lay : Lay
        Its answer, the kept places first of each piece.

    Returns
    -------
    Lay
        The same places.
    """
    numbers = {
        piece.name: _numbers(piece, sum(one.piece == piece.name for one in lay.placements))
        for piece in problem.pieces
        if any(place.copy is not None for place in piece.fixed)
    }
    if not numbers:
        return lay
    named = [
        replace(one, copy=numbers[one.piece][one.copy]) if one.piece in numbers else one
        for one in lay.placements
    ]
    return replace(lay, placements=by_piece(problem, named))


def _numbers(piece: LayPiece, count: int) -> list[int]:
    """Return the number of each copy, in the order of the lay."""
    asked = [place.copy for place in piece.fixed]
    free = (k for k in range(count) if k not in asked)
    return [next(free) if k is None else k for k in asked] + list(free)


def _placements(problem: Problem) -> Iterator[Placement]:
    for piece in problem.pieces:
        for copy, place in enumerate(piece.fixed):
            yield Placement(
                piece.name, copy, place.x_mm, place.y_mm, place.angle_deg, place.mirrored
            )


def _hands(piece: LayPiece, *, folded: bool) -> Iterator[str]:
    mirrored = sum(place.mirrored for place in piece.fixed)
    if piece.on_fold:
        return
    if piece.mirror == "none" and mirrored:
        yield f"{piece.name} is kept as its mirror image, but must lie as it is drawn"
    if piece.mirror == "pairs" and not folded:
        most = max(mirrored, len(piece.fixed) - mirrored)
        if most > piece.copies // 2:
            yield f"{most} of {piece.copies} copies of {piece.name} are kept the same way up"
