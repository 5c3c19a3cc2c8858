"""A lay of one problem carried over to another whose pieces are the same, or a little smaller."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from samite.lay.apart import outside_mm
from samite.lay.outline import placed_outline
from samite.lay.problem import Lay, Placement, placements_of
from samite.lay.verify import check_lay, use_percent

if TYPE_CHECKING:
    from samite.lay.problem import LayPiece, Outline, Problem

WITHIN_MM = 1e-6
"""A piece that reaches no farther out of a place than this lies in it [mm]."""


def carried_lay(problem: Problem, lay: Lay, *, to: Problem) -> Lay | None:
    """Return a lay of another problem that cuts each piece where a lay cuts it.

    Parameters
    ----------
    problem : Problem
        What the lay answers.
    lay : Lay
        The lay.
    to : Problem
        The other problem, of pieces by the same names.

    Returns
    -------
    Lay or None
        With the bound left open, or None if that is no lay of the other problem.

    Notes
    -----
    Carried over so are a lay to more turns, one on folded cloth to the cloth opened out, and one of
    pieces to smaller ones. It stands only if the verifier passes it, so that a gap that was
    left out at the fold, or a repeat, is not lost sight of. Nothing is moved up.

    References
    ----------
    ``definition``: every rule of the other problem, asked of its verifier.
    """
    if to.folded and not problem.folded:
        return None
    places = dict[str, list["Outline"]]()
    pieces = {piece.name: piece for piece in problem.pieces}
    for one in lay.placements:
        outline = placed_outline(pieces[one.piece].outline_mm, one)
        opened = problem.folded and not to.folded
        found = _opened(outline, problem, pieces[one.piece]) if opened else (outline,)
        places.setdefault(one.piece, []).extend(found)
    laid: list[Placement] = []
    for piece in to.pieces:
        kept = _laid_in(piece, places.get(piece.name, []), to)
        if kept is None:
            return None
        laid += kept
    return _checked(to, lay, tuple(laid))


def _checked(to: Problem, lay: Lay, laid: tuple[Placement, ...]) -> Lay | None:
    pieces = {piece.name: piece for piece in to.pieces}
    ends = [max(x for x, _ in placed_outline(pieces[p.piece].outline_mm, p)) for p in laid]
    start = min((x for x, _ in to.outline_mm or ()), default=0.0)
    length = round(max(ends) - start, 6)
    made = replace(
        lay, status="feasible", why="", length_mm=length, bound_mm=0.0,
        use_percent=use_percent(to, length), placements=laid,
    )  # fmt: skip
    return None if check_lay(to, made) else made


def _opened(outline: Outline, problem: Problem, piece: LayPiece) -> tuple[Outline, ...]:
    """Return what one cut through folded cloth cuts, the fold at the middle of the cloth."""
    middle = problem.width_mm / 2.0
    upper = tuple((x, middle + y) for x, y in outline)
    lower = tuple((x, middle - y) for x, y in reversed(outline))
    if not piece.on_fold:
        return upper, lower
    start = next((k for k in range(len(outline)) if _on_fold(outline, k)), 0)
    half = [outline[(start + k) % len(outline)] for k in range(len(outline))]
    back = [(x, middle - y) for x, y in reversed(half[1:-1])]
    return ((*((x, middle + y) for x, y in half), *back),)


def _on_fold(outline: Outline, number: int) -> bool:
    """Tell whether the side that ends at a corner lies on the fold."""
    return max(abs(outline[number - 1][1]), abs(outline[number][1])) < WITHIN_MM


def _laid_in(piece: LayPiece, places: list[Outline], to: Problem) -> list[Placement] | None:
    """Return placements of all copies of a piece, each in a place of its own."""
    wanted = placements_of(piece, folded=to.folded)
    laid: list[Placement] = []
    for place in places:
        if len(laid) == wanted:
            break
        found = next(_fitting(piece, len(laid), place, to), None)
        if found is not None:
            laid.append(found)
    return laid if len(laid) == wanted else None


def _fitting(piece: LayPiece, copy: int, place: Outline, to: Problem) -> Iterator[Placement]:
    """Yield ways of laying a piece within a place: at its middle, its sides and its corners."""
    cloth = np.array(place)
    low, high = cloth.min(axis=0), cloth.max(axis=0)
    for hand in _hands(piece, copy, folded=to.folded):
        for angle in piece.angles_deg or (0.0,):
            turned = Placement(piece.name, copy, 0.0, 0.0, angle % 360.0, hand)
            outline = np.array(placed_outline(piece.outline_mm, turned))
            spare = (high - low) - (outline.max(axis=0) - outline.min(axis=0))
            if spare.min() < -WITHIN_MM:
                continue
            corner = low - outline.min(axis=0)
            for across in (0.5, 0.0, 1.0):
                for along in (0.0, 0.5, 1.0):
                    move = corner + spare * (along, across)
                    if piece.on_fold:
                        move[1] = 0.0
                    if outside_mm(outline + move, cloth) <= WITHIN_MM:
                        yield replace(turned, x_mm=float(move[0]), y_mm=float(move[1]))


def _hands(piece: LayPiece, copy: int, *, folded: bool) -> tuple[bool, ...]:
    """Return the hands to try: of pairs each in turn first, else what is drawn first."""
    if piece.mirror == "pairs" and not folded:
        return (copy % 2 == 1, copy % 2 == 0)
    return (False,) if piece.mirror == "none" and not piece.on_fold else (False, True)
