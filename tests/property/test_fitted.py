"""Random bodies: nothing turned over, seams and girths exact, or refused in words."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from tests.oracles.fitted.garments import numbers, random_body

from samite.kernel.errors import InfeasibleError, SamiteError
from samite.pieces.allowance import cut_line
from samite.pieces.crossing import self_crossings
from samite.pieces.fitted.bodice import bodice_plan, openings_of
from samite.pieces.fitted.bodysuit import bodysuit_plan, whole_body
from samite.pieces.fitted.cut import cut_pieces
from samite.pieces.fitted.darts import needless_darts
from samite.pieces.fitted.leg_measures import hip_surface, leg_girths, legs_of
from samite.pieces.fitted.leggings import leggings_plan
from samite.pieces.fitted.measures import limits_of, trunk_of
from samite.pieces.fitted.plan import Laid, lay_flat
from samite.pieces.fitted.skirt import skirt_plan, skirt_surface
from samite.pieces.fitted.strapless import strapless_plan
from samite.pieces.fitted.stretch import stretch_limits
from samite.pieces.fitted.tell import trunk_girths
from samite.pieces.fitted.trousers import trousers_plan
from samite.pieces.fitted.truing import MOST_DEG
from samite.pieces.shape import Values
from samite.pieces.surface.lower import with_legs
from samite.pieces.surface.solve import solved_trunk
from samite.pieces.walk import check_smooth, walk

SEAM_MM, GIRTH_MM, SMOOTH_DEG = 0.5, 1.0, 3.0
REFUSED = 0.02
"""Largest share of random bodies that may be refused."""


LEGS_SHORT = 8
"""Bodies of the short run for garments with legs, which take a second each."""


def strapless(v: Values) -> Laid:
    return lay_flat(strapless_plan(solved_trunk(trunk_of(v)), v, 2, 2, v["mesh"]))


def bodice(v: Values) -> Laid:
    solved = solved_trunk(trunk_of(v))
    return lay_flat(bodice_plan(solved, openings_of(solved, v), v, 2, 2, v["mesh"]))


def skirt(v: Values) -> Laid:
    return lay_flat(skirt_plan(skirt_surface(v), v, 1, 2, darts=True))


def trousers(v: Values) -> Laid:
    """Two darts behind where both take something up, else fewer, else panels."""
    lower = with_legs(hip_surface(v), legs_of(v, hem_mm=v["hem"]))
    why: InfeasibleError | None = None
    for front, back in ((1, 2), (0, 1), (0, 0)):
        plan = trousers_plan(lower, v, front, back, parted=not back)
        try:
            if not needless_darts(lay_flat(plan, finished=False)):
                return lay_flat(plan)
        except InfeasibleError as error:
            why = error
    raise why or AssertionError("panels have no darts")


def bodysuit(v: Values) -> Laid:
    lower, solved = whole_body(v)
    return lay_flat(bodysuit_plan(lower, openings_of(solved, v), v, parted=False))


def leggings(v: Values) -> Laid:
    return lay_flat(leggings_plan(with_legs(hip_surface(v), legs_of(v)), v, 2))


def check(laid: Laid, v: Values) -> None:
    assert all(panel.flat.flipped == 0 for panel in laid.panels)
    cut = cut_pieces(laid, stretch_limits(v) if "stretch_across" in v.numbers else limits_of(v))
    for one in walk(cut.pieces, cut.mates):
        assert abs(one.difference_mm) < SEAM_MM, one.mate.first
    girths = [*trunk_girths(v, laid, ("waist", "underbust", "bust", "hip"))]
    girths += leg_girths(v, laid) if "knee" in v.numbers else []
    assert girths
    for one in girths:
        assert abs(one.flat_mm - one.asked_mm) < GIRTH_MM, one.name
    for broken in check_smooth(cut.pieces, cut.smooths):
        # beyond that a corner is left, and the answer says so
        assert abs(broken.break_deg) < SMOOTH_DEG or abs(broken.break_deg) > MOST_DEG, broken.smooth
    for piece in cut.pieces:
        assert not self_crossings(piece.flat()), piece.name
        assert not self_crossings(cut_line(piece).points), piece.name


@pytest.mark.parametrize(
    ("name", "build", "bodies"),
    [
        ("fitted-strapless", strapless, 200), ("fitted-bodice", bodice, 200),
        ("fitted-skirt", skirt, 50), ("fitted-trousers", trousers, 200),
        ("fitted-bodysuit", bodysuit, 200), ("fitted-leggings", leggings, 200),
    ],
)  # fmt: skip
@pytest.mark.timeout(3000)
def test_every_body_is_dressed_or_refused_in_words(
    name: str, build: Callable[[Values], Laid], bodies: int, heavy: Callable[[int], int]
) -> None:
    draw, count, refused = np.random.default_rng(20240), heavy(bodies), []
    if count < bodies and build in (trousers, bodysuit, leggings):
        count = min(count, LEGS_SHORT)
    mesh = {} if count == bodies else {"mesh": 22.0}  # coarser in the short run
    for _ in range(count):
        v = numbers(name, random_body(draw), **mesh)
        try:
            laid = build(v)
        except SamiteError as error:
            refused.append((error.message, error.hint))
            continue
        check(laid, v)
    assert len(refused) <= max(2, REFUSED * count), refused
    assert all(len(said.split()) > 4 and hint for said, hint in refused)
