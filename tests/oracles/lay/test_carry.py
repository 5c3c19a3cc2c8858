"""Lays carried over to another problem, and outlines that run over themselves, against an outside library."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from shapely import affinity, make_valid
from shapely.geometry import Polygon
from tests.oracles.lay.solved import rectangle, star

from samite.lay.carry import carried_lay
from samite.lay.from_pieces import opened_out
from samite.lay.outline import placed_outline, runs_over_itself
from samite.lay.problem import LayPiece, Problem
from samite.services.lay import solve_lay

WEDGE = LayPiece("wedge", ((0.0, 0.0), (90.0, 20.0), (60.0, 80.0)), 4, mirror="pairs")
HALF = LayPiece("half", ((0.0, 0.0), (120.0, 0.0), (100.0, 70.0), (10.0, 50.0)), on_fold=True)


def test_folded_cloth_opened_out_is_cut_where_both_of_its_layers_were() -> None:
    problem = Problem(400.0, (WEDGE, HALF), "lengthwise", edge_mm=10.0)
    plain = solve_lay(problem, seconds=0.1, seed=1).lay
    opened = opened_out(problem)
    lay = carried_lay(problem, plain, to=opened)
    assert lay is not None
    assert lay.length_mm == plain.length_mm
    pieces = {piece.name: piece for piece in problem.pieces}
    layer = [Polygon(placed_outline(pieces[p.piece].outline_mm, p)) for p in plain.placements]
    both = [affinity.translate(one, 0.0, 200.0) for one in layer]
    both += [affinity.scale(one, 1.0, -1.0, origin=(0.0, 200.0)) for one in both]
    whole = {piece.name: piece for piece in opened.pieces}
    cut = [Polygon(placed_outline(whole[p.piece].outline_mm, p)) for p in lay.placements]
    assert np.isclose(sum(one.area for one in cut), sum(one.area for one in both))
    for one in cut:
        inside = sum(one.intersection(place).area for place in both)
        assert np.isclose(inside, one.area)
    assert carried_lay(opened, lay, to=problem) is None


def test_smaller_pieces_lie_within_the_larger_and_other_pieces_nowhere() -> None:
    large = Problem(200.0, (LayPiece("box", rectangle(80.0, 60.0), 5),), gap_mm=2.0)
    plain = solve_lay(large, seconds=0.1, seed=1).lay
    small = replace(large, pieces=(LayPiece("box", rectangle(70.0, 55.0), 5),))
    lay = carried_lay(large, plain, to=small)
    assert lay is not None
    for one, place in zip(lay.placements, plain.placements, strict=True):
        inner = Polygon(placed_outline(small.pieces[0].outline_mm, one))
        outer = Polygon(placed_outline(large.pieces[0].outline_mm, place))
        assert outer.buffer(1e-6).covers(inner)
    named = replace(small, pieces=(replace(small.pieces[0], name="other"),))
    wider = replace(small, pieces=(LayPiece("box", rectangle(81.0, 60.0), 5),))
    for other in (named, wider, replace(small, gap_mm=30.0)):
        assert carried_lay(large, plain, to=other) is None


def test_an_outline_runs_over_itself_where_its_area_is_not_what_it_encloses() -> None:
    rng = np.random.default_rng(4)
    box, loops = rectangle(50.0, 50.0), (
        (0.0, 80.0), (50.0, 50.0), (90.0, 0.0), (90.0, 90.0), (50.0, 50.0), (0.0, 0.0),
    )  # fmt: skip
    outlines = [*(star(rng, 9) for _ in range(20)), box, (*box, *box), loops]
    for outline in outlines:
        x, y = np.array(outline).T
        signed = abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2.0
        over = not np.isclose(make_valid(Polygon(outline)).area, signed)
        assert runs_over_itself(outline) == over
