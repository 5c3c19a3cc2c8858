"""A lay at once for very many different pieces: by their boxes, side by side across the cloth."""

from __future__ import annotations

from typing import TYPE_CHECKING

from samite.lay._model import hands_of
from samite.lay._told import by_piece, use_percent
from samite.lay.fits import ROOM_MM, spread, usable_width_mm
from samite.lay.outline import placed_outline
from samite.lay.problem import Lay, Placement, placements_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from samite.lay.problem import LayPiece, Problem

WHY = (
    "so many different pieces could not be compared with each other in the time: they lie side by"
    " side by their boxes, and more seconds may well find a shorter lay"
)


def rows_fit(problem: Problem) -> bool:
    """Tell whether nothing but width, edges and gap says where pieces may lie."""
    bound = any(piece.on_fold or piece.fixed or piece.motif_mm for piece in problem.pieces)
    return not (bound or problem.matches or problem.holes or problem.outline_mm)


def in_rows(problem: Problem, least: float) -> Lay | None:
    """Return a lay in rows across the cloth, the longest first; None if a hand of one is too wide."""
    low = 0.0 if problem.folded else problem.edge_mm
    high = low + usable_width_mm(problem) + ROOM_MM
    start = end = 0.0
    y = low
    laid: list[Placement] = []
    turned_pieces = list(_turned(problem))
    if len(turned_pieces) < sum(placements_of(p, folded=problem.folded) for p in problem.pieces):
        return None
    for size, turned, piece in sorted(turned_pieces, key=lambda one: -one[0][0]):
        if y > low and y + size[1] > high:
            start, y = end + problem.gap_mm, low
        corner = _low_corner(piece, turned)
        laid.append(_moved(turned, start - corner[0], y - corner[1]))
        end = max(end, start + size[0])
        y += size[1] + problem.gap_mm
    return Lay(
        "feasible", WHY, round(end, 6), round(min(least, end), 6),
        round(use_percent(problem, end), 4),
        placements=by_piece(problem, laid),
    )  # fmt: skip


def _turned(problem: Problem) -> Iterator[tuple[tuple[float, float], Placement, LayPiece]]:
    """Yield every placement at the start, turned so that it fits and is short, with its box."""
    room = usable_width_mm(problem) + ROOM_MM
    for piece in problem.pieces:
        for copy in range(placements_of(piece, folded=problem.folded)):
            hand = hands_of(piece, copy, folded=problem.folded)[0]
            ways = []
            for angle in piece.angles_deg or (0.0,):
                box = spread(piece, -angle if hand else angle)
                if box[1] <= room:
                    ways.append((box, angle))
            if not ways:
                return
            box, angle = min(ways)
            yield box, Placement(piece.name, copy, 0.0, 0.0, angle % 360.0, hand), piece


def _low_corner(piece: LayPiece, turned: Placement) -> tuple[float, float]:
    points = placed_outline(piece.outline_mm, turned)
    return min(x for x, _ in points), min(y for _, y in points)


def _moved(turned: Placement, x: float, y: float) -> Placement:
    return Placement(turned.piece, turned.copy, x, y, turned.angle_deg, turned.mirrored)
