"""Random bodies: nothing turned over, seams and girths exact, or refused in words."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from tests.oracles.fitted.garments import numbers, random_body

from samite.kernel.errors import SamiteError
from samite.pieces.allowance import cut_line
from samite.pieces.crossing import self_crossings
from samite.pieces.fitted.bodice import bodice_plan, openings_of
from samite.pieces.fitted.cut import cut_pieces
from samite.pieces.fitted.measures import limits_of, trunk_of
from samite.pieces.fitted.plan import Laid, lay_flat
from samite.pieces.fitted.strapless import strapless_plan
from samite.pieces.fitted.tell import flat_girth_mm
from samite.pieces.shape import Values
from samite.pieces.surface.solve import solved_trunk
from samite.pieces.walk import walk

SEAM_MM, GIRTH_MM = 0.5, 1.0
REFUSED = 0.06
"""Largest share of random bodies that may be refused."""


def strapless(v: Values) -> Laid:
    return lay_flat(strapless_plan(solved_trunk(trunk_of(v)), v, 2, 2, v["mesh"]))


def bodice(v: Values) -> Laid:
    solved = solved_trunk(trunk_of(v))
    return lay_flat(bodice_plan(solved, openings_of(solved, v), v, 2, 2, v["mesh"]))


def check(laid: Laid, v: Values) -> None:
    assert all(panel.flat.flipped == 0 for panel in laid.panels)
    cut = cut_pieces(laid, limits_of(v))
    for one in walk(cut.pieces, cut.mates):
        assert abs(one.difference_mm) < SEAM_MM, one.mate.first
    for name in ("waist", "underbust", "bust"):
        asked = v[name] + v[f"{name}_ease"]
        flat = flat_girth_mm(laid, name)
        assert flat is not None
        assert abs(flat - asked) < GIRTH_MM, name
    for piece in cut.pieces:
        assert not self_crossings(piece.flat()), piece.name
        assert not self_crossings(cut_line(piece).points), piece.name


@pytest.mark.parametrize(
    ("name", "build"), [("fitted-strapless", strapless), ("fitted-bodice", bodice)]
)
@pytest.mark.timeout(1500)
def test_every_body_is_dressed_or_refused_in_words(
    name: str, build: Callable[[Values], Laid], heavy: Callable[[int], int]
) -> None:
    draw, count, refused = np.random.default_rng(20240), heavy(200), []
    for _ in range(count):
        v = numbers(name, random_body(draw))
        try:
            laid = build(v)
        except SamiteError as error:
            refused.append((error.message, error.hint))
            continue
        check(laid, v)
    assert len(refused) <= max(1, REFUSED * count), refused
    assert all(len(said.split()) > 4 and hint for said, hint in refused)
