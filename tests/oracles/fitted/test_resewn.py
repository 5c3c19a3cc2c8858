"""Flat pieces sewn together in space by a solver that shares no code with the flattening."""

from __future__ import annotations

import numpy as np
import pytest
from tests.oracles.fitted.garments import made
from tests.oracles.fitted.resew import Sewn, resew

from samite.pieces.shape import Made
from samite.pieces.walk import walk

CHEST_MM = 12.7
"""A made-to-measure maker's tolerance on the chest girth, half an inch (read on its page)."""

SLEEVE_MM = 6.35
"""The same maker's tolerance on the length of a sleeve, a quarter of an inch (read on its page)."""


def check(found: Made, sewn: Sewn, *, most: float, both: float = 1.0) -> None:
    """Free cloth settles where its springs are strained least, so that girths move a little."""
    assert found.fit is not None
    assert all(one.equal for one in walk(found.pieces, found.mates))
    assert np.quantile(np.abs(sewn.strain), 0.95) < most
    assert np.median(np.abs(sewn.strain)) < 0.012
    told = {one.name: one.asked_mm for one in found.fit.girths}
    checked = set(told) & set(sewn.girths_mm)
    assert checked
    for name in checked:
        share = both if name in ("waist", "hip", "underbust", "bust", "high hip") else 0.5
        # the thigh line runs into the crotch point, where free cloth slackens
        allowed = CHEST_MM if name == "thigh" else 0.8 * CHEST_MM
        assert sewn.girths_mm[name] * share == pytest.approx(told[name], abs=allowed), name
    for seam, off in sewn.seam_off_mm.items():
        assert abs(off) < 2.5, seam


@pytest.mark.parametrize(("panels", "most"), [(4, 0.05), (7, 0.035)])
def test_strapless_pieces_sewn_in_space_have_the_girths_asked_for(panels: int, most: float) -> None:
    found = made("fitted-strapless", panels=float(panels), hatching="no")
    check(found, resew(found.pieces, found.mates), most=most)


def test_a_bodice_and_its_sleeve_sewn_in_space() -> None:
    found = made("fitted-bodice", panels=4.0, hatching="no")
    trunk = [piece for piece in found.pieces if piece.name != "sleeve"]
    own = [mate for mate in found.mates if "sleeve" not in (mate.first[0], mate.second[0])]
    sewn = resew(trunk, own)
    check(found, sewn, most=0.05)
    sleeve = [piece for piece in found.pieces if piece.name == "sleeve"]
    under = [m for m in found.mates if m.first[0] == m.second[0] == "sleeve"]
    tube = resew(sleeve, under, closed=True)
    assert np.abs(tube.strain).max() < 0.01  # a sleeve is a bent sheet
    hole = sum(v for (_, edge), v in sewn.edges_mm.items() if edge.startswith("armhole"))
    cap = sum(v for (_, edge), v in tube.edges_mm.items() if "cap" in edge)
    assert cap - hole == pytest.approx(found.values["cap_ease_mm"], abs=SLEEVE_MM)
    assert abs(next(iter(tube.seam_off_mm.values()))) < 0.5


@pytest.mark.parametrize(
    ("name", "settings", "most"),
    [
        ("fitted-skirt", {"panels": 4.0, "shaped_by": "panels"}, 0.05),
        ("fitted-trousers", {"panels": 4.0, "shaped_by": "panels"}, 0.05),
        ("fitted-bodysuit", {"panels": 4.0}, 0.08),
        ("fitted-leggings", {"panels": 2.0}, 0.08),
    ],
)
def test_lower_garments_sewn_in_space(name: str, settings: dict, most: float) -> None:
    found = made(name, hatching="no", **settings)
    check(found, resew(found.pieces, found.mates, closed=name != "fitted-skirt"), most=most)
