"""Pieces tilted within the tolerance of their grain: by hand, by an independent library, on purpose wrong."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon

from samite.lay.check import MOST_TOLERANCE_DEG, check_problem
from samite.lay.from_pieces import opened_out
from samite.lay.problem import Fixed, Lay, LayPiece, Match, Outline, Placement, Problem
from samite.lay.split import with_joined
from samite.lay.tilt import off_grain_deg, tilted_within_grain
from samite.lay.verify import check_lay, placed_outline
from samite.services.lay import solve_lay

LONG_MM, BROAD_MM, OFF_DEG, WIDTH_MM = 500.0, 100.0, 2.0, 201.0
"""A panel, how far its sides run off the grain, and a cloth barely wider than two of them."""


def panel() -> Outline:
    sides = Polygon([(0.0, 0.0), (LONG_MM, 0.0), (LONG_MM, BROAD_MM), (0.0, BROAD_MM)])
    return tuple(rotate(sides, OFF_DEG, origin=(0, 0)).exterior.coords[:-1])


def two_panels(tolerance_deg: float = OFF_DEG) -> Problem:
    piece = LayPiece("panel", panel(), 2, (0.0, 180.0), grain_tolerance_deg=tolerance_deg)
    return Problem(WIDTH_MM, (piece,))


def shortest_on_grain_mm() -> float:
    """Return a length that no lay of both panels on grain falls short of, by hand.

    On grain a panel is 500 sin 2 + 100 cos 2 = 117.4 mm across, so two differ by at most 201 - 117.4
    = 83.6 mm across. Both lie the same way, so they are apart when one is moved against the other by
    at least 500 mm along its sides or 100 mm across them. Along: u = dx cos 2 + dy sin 2 >= 500.
    Across: |dy cos 2 - dx sin 2| >= 100, and dy cos 2 is at most 83.6, so dx sin 2 >= 16.4 and dx >=
    471. The lesser of both dx, and the 503 mm that a panel takes along the cloth: 974 mm.
    """
    c, s = math.cos(math.radians(OFF_DEG)), math.sin(math.radians(OFF_DEG))
    aside = WIDTH_MM - (LONG_MM * s + BROAD_MM * c)
    behind = (LONG_MM - aside * s) / c
    beside = (BROAD_MM - aside * c) / s
    return min(behind, beside) + LONG_MM * c + BROAD_MM * s


def test_a_tilt_by_the_tolerance_halves_the_lay_that_was_worked_by_hand() -> None:
    plain = two_panels()
    tilted = tilted_within_grain(plain)
    least = shortest_on_grain_mm()
    assert least == pytest.approx(974.2, abs=0.1)
    on_grain = solve_lay(plain, seconds=0.3, seed=1)
    assert least - 1e-6 <= on_grain.lay.length_mm <= least * 1.05
    answer = solve_lay(tilted, seconds=1.0, seed=1)
    assert answer.lay.length_mm == pytest.approx(LONG_MM, abs=1e-4)
    assert {round(one.angle_deg % 180.0, 6) for one in answer.lay.placements} == {178.0}
    assert check_lay(tilted, answer.lay) == ()
    assert {fault.kind for fault in check_lay(plain, answer.lay)} == {"angle"}


def test_no_place_of_two_panels_on_grain_is_shorter_by_an_independent_library() -> None:
    one = Polygon(panel())
    low, high = one.bounds[1], one.bounds[3]
    aside = WIDTH_MM - (high - low)
    least = shortest_on_grain_mm() - (one.bounds[2] - one.bounds[0])
    for dy in np.linspace(-aside, aside, 41):
        for dx in (0.0, 100.0, least / 2.0, least - 1.0):
            assert one.intersection(translate(one, dx, dy)).area > 1e-6
    assert one.intersection(translate(one, least, -aside)).area < 1e-3


@pytest.mark.parametrize("turns", [(0.0,), (0.0, 180.0), (90.0, 270.0), ()])
def test_exactly_the_turns_and_both_ends_of_the_tolerance_pass(turns: tuple[float, ...]) -> None:
    square = Polygon([(-50, -50), (50, -50), (50, 50), (-50, 50)])
    corners = tuple(square.exterior.coords[:-1])
    piece = LayPiece("a", corners, 1, turns, grain_tolerance_deg=1.5)
    problem = tilted_within_grain(Problem(1000.0, (piece,)))
    allowed = {(turn + tilt) % 360.0 for turn in turns or (0.0,) for tilt in (-1.5, 0.0, 1.5)}
    for angle in np.arange(0.0, 360.0, 0.25):
        place = Placement("a", 0, 500.0, 500.0, float(angle))
        end = float(placed_outline(piece, place)[:, 0].max())
        faults = check_lay(problem, Lay("feasible", length_mm=end, placements=(place,)))
        assert {fault.kind for fault in faults} == (set() if angle in allowed else {"angle"})


def test_a_nap_keeps_its_direction() -> None:
    piece = LayPiece("a", panel(), 2, (0.0,), "pairs", grain_tolerance_deg=MOST_TOLERANCE_DEG)
    (found,) = tilted_within_grain(Problem(900.0, (piece,))).pieces
    assert all(math.cos(math.radians(turn)) > 0.9 for turn in found.angles_deg)


def test_what_has_to_stay_on_grain_is_not_tilted() -> None:
    square = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    free = LayPiece("free", square, grain_tolerance_deg=1.0)
    strict = replace(free, name="strict", grain_tolerance_deg=0.0)
    half = replace(free, name="half", on_fold=True)
    motif = replace(free, name="motif", motif_mm=(50.0, 50.0))
    matched = [replace(free, name=name) for name in ("left", "right")]
    own = replace(free, name="own", angles_deg=(0.0, 0.5))
    match = Match("left", (0.0, 0.0), "right", (0.0, 0.0))
    problem = Problem(
        1000.0, (free, strict, half, motif, *matched, own), "lengthwise", matches=(match,)
    )
    turned = {piece.name: piece.angles_deg for piece in tilted_within_grain(problem).pieces}
    assert turned.pop("free") == (0.0, -1.0, 1.0)
    assert turned.pop("own") == (0.0, 0.5)
    assert set(turned.values()) == {(0.0,)}
    for repeat in (replace(problem, repeat_along_mm=320.0), replace(problem, repeat_across_mm=8.0)):
        assert tilted_within_grain(repeat) == repeat


def test_tilting_twice_is_tilting_once_and_what_is_made_of_a_piece_keeps_its_tolerance() -> None:
    once = tilted_within_grain(two_panels())
    assert tilted_within_grain(once) == once
    folded = replace(two_panels(), fold="lengthwise", width_mm=900.0)
    joined = with_joined(two_panels(), "panel", share=0.5, seam_allowance_mm=10.0)
    for made in (opened_out(folded), joined):
        assert {piece.grain_tolerance_deg for piece in made.pieces} == {OFF_DEG}


def test_a_kept_place_stays_as_it_lies() -> None:
    (piece,) = two_panels().pieces
    kept = replace(piece, fixed=(Fixed(20.0, 0.0),))
    problem = tilted_within_grain(Problem(400.0, (kept,)))
    answer = solve_lay(problem, seconds=0.3, seed=1)
    first = answer.lay.placements[0]
    assert (first.x_mm, first.y_mm, first.angle_deg) == (20.0, 0.0, 0.0)
    assert check_lay(problem, answer.lay) == ()


@pytest.mark.parametrize(
    ("angle_deg", "off_deg"),
    [(0.0, 0.0), (2.0, 2.0), (-2.0, -2.0), (358.0, -2.0), (182.0, 2.0), (91.0, 1.0), (30.0, 0.0)],
)
def test_how_far_a_turn_is_off_grain(angle_deg: float, off_deg: float) -> None:
    (piece,) = two_panels().pieces
    assert off_grain_deg(piece, angle_deg=angle_deg) == pytest.approx(off_deg)
    assert off_grain_deg(replace(piece, grain_tolerance_deg=0.0), angle_deg=angle_deg) == 0.0


@pytest.mark.parametrize("tolerance_deg", [-1.0, 15.1, float("nan"), float("inf")])
def test_a_tolerance_that_is_none_is_refused(tolerance_deg: float) -> None:
    ((what, where, mend),) = check_problem(two_panels(tolerance_deg))
    assert "tolerance of the grain" in what
    assert where == "pieces[0].grain_tolerance_deg"
    assert "15 degrees" in mend
