"""Lays made without any solver: pieces in boxes, boxes in rows, so that they can be cut."""

from __future__ import annotations

import numpy as np
from tests.oracles.lay.test_apart import star

from samite.lay.problem import Lay, LayPiece, Placement, Problem, placements_of
from samite.lay.verify import placed_outline

WIDTH_MM = 1500.0


def random_pieces(rng: np.random.Generator, count: int) -> tuple[LayPiece, ...]:
    """Pieces with copies, angles and hands."""
    made = []
    for number in range(count):
        outline = tuple(map(tuple, star(rng, int(rng.integers(3, 20)))))
        mirror = str(rng.choice(["none", "pairs", "free"]))
        copies = 2 * int(rng.integers(1, 3)) if mirror == "pairs" else int(rng.integers(1, 4))
        made.append(LayPiece(f"piece {number}", outline, copies, (0.0, 180.0), mirror))
    return tuple(made)


def shelf_lay(rng: np.random.Generator, problem: Problem) -> Lay:
    """Lay pieces one after the other in rows across the cloth, those on the fold first."""
    made: list[Placement] = []
    low = 0.0 if problem.folded else problem.edge_mm
    x, y, row = 0.0, low, 0.0
    for piece in sorted(problem.pieces, key=lambda one: not one.on_fold):
        for copy in range(placements_of(piece, folded=problem.folded)):
            mirrored = copy % 2 == 1 if piece.mirror == "pairs" and not problem.folded else False
            angle = 0.0 if piece.on_fold else float(rng.choice(piece.angles_deg or (0.0,)))
            at = placed_outline(piece, Placement(piece.name, copy, 0.0, 0.0, angle, mirrored))
            corner, size = at.min(axis=0), np.ptp(at, axis=0)
            full = y + size[1] > problem.lying_width_mm - problem.edge_mm
            if full or (y > low and piece.on_fold):
                x, y, row = x + row + problem.gap_mm, low, 0.0
            if piece.on_fold:
                corner[1] = y = 0.0
            made.append(
                Placement(
                    piece.name, copy, float(x - corner[0]), float(y - corner[1]), angle, mirrored
                )
            )
            y, row = y + float(size[1]) + problem.gap_mm, max(row, float(size[0]))
    return Lay("feasible", length_mm=_end(problem, made), placements=tuple(made))


def _end(problem: Problem, placements: list[Placement]) -> float:
    pieces = {piece.name: piece for piece in problem.pieces}
    return max(float(placed_outline(pieces[one.piece], one)[:, 0].max()) for one in placements)


def random_problem(rng: np.random.Generator) -> Problem:
    pieces = random_pieces(rng, int(rng.integers(2, 7)))
    return Problem(WIDTH_MM, pieces, edge_mm=10.0, gap_mm=float(rng.choice([0.0, 3.0, 8.0])))
