"""The same lay in finer outlines: what widened corners cost is won back at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from samite.lay._compact import compact
from samite.lay._improve import TOUCH_MM, overlap_mm
from samite.lay._model import model_of, work_s

if TYPE_CHECKING:
    from samite.lay._model import Model, State
    from samite.lay.problem import Placement, Problem

FINE_CORNERS = 120
"""Corners that are looked at in one outline at most, once a lay is good."""

WORTH_CORNERS = 8
"""With fewer corners more than before nothing would be won."""

MOST_SHARE, MOST_S = 0.08, 2.5
"""Time for making a problem ready again: a share of all [-], and at most [s]."""


def finer_corners(problem: Problem, corners: int, seconds: float) -> int:
    """Return how many corners to look at towards the end, 0 where that would win nothing."""
    most = max((len(p.outline_mm) for p in problem.pieces), default=0)
    fine = min(most, FINE_CORNERS)
    while fine > corners and work_s(problem, fine) > min(MOST_SHARE * seconds, MOST_S):
        fine -= 4
    return fine if most > corners and fine >= corners + WORTH_CORNERS else 0


def finer_model(model: Model, corners: int) -> Model:
    """Return the same problem made ready with more corners, on the same lattice."""
    return model_of(model.problem, corners).on_lattice(model.lattice)


def pressed(fine: Model, placements: tuple[Placement, ...]) -> State | None:
    """Return a lay in finer outlines pressed together.

    None if its pieces, which differ a little from those before, do not come apart.
    """
    state = compact(fine, state_of(fine, placements))
    return state if overlap_mm(fine, state) <= TOUCH_MM else None


def state_of(model: Model, placements: tuple[Placement, ...]) -> State:
    """Return placements, one for every item, as a state of the search."""
    number = {piece.name: k for k, piece in enumerate(model.problem.pieces)}
    places = {(number[p.piece], p.copy): p for p in placements}
    state = model.stays.copy()
    for i, item in enumerate(model.items):
        place = places[item.piece, item.copy]
        option = model.option(item.piece, place.angle_deg, mirrored=place.mirrored)
        state.shape[i], state.opt[i] = option.shape, model.way(i, option.shape)
        state.x[i] = place.x_mm + option.middle[0]
        state.y[i] = place.y_mm + option.middle[1]
    return state
