"""What every lay tells: its placements in order, and the share of the cloth that it uses."""

from __future__ import annotations

from typing import TYPE_CHECKING

from samite.lay.outline import signed_area_mm2
from samite.lay.problem import placements_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from samite.lay.problem import Placement, Problem


def by_piece(problem: Problem, placements: Iterable[Placement]) -> tuple[Placement, ...]:
    """Return placements in the order of pieces and copies."""
    order = {piece.name: k for k, piece in enumerate(problem.pieces)}
    return tuple(sorted(placements, key=lambda p: (order[p.piece], p.copy)))


def use_percent(problem: Problem, length_mm: float) -> float:
    """Return the share of the whole width that all pieces use, folded cloth in both layers [%]."""
    wanted = sum(
        abs(signed_area_mm2(piece.outline_mm)) * placements_of(piece, folded=problem.folded)
        for piece in problem.pieces
    )
    return 100.0 * wanted / (problem.lying_width_mm * length_mm) if length_mm > 0.0 else 0.0
