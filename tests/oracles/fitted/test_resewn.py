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

GIRTH_MM, SEAM_MM = 1.0, 0.6
"""What is asked here, far within that: free cloth settles where its springs are strained least."""

KNIT_MM = 1.5
"""What is asked of garments that are worn stretched: their springs settle within 0.2 % of a girth."""

SLEEVE_MM = 6.35
"""The same maker's tolerance on the length of a sleeve, a quarter of an inch (read on its page)."""


def check(found: Made, sewn: Sewn, *, most: float, girth_mm: float = GIRTH_MM) -> None:
    """Girths of the folded result as asked, seams as long as they were cut."""
    assert found.fit is not None
    assert girth_mm < CHEST_MM
    assert all(one.equal for one in walk(found.pieces, found.mates))
    assert np.quantile(np.abs(sewn.strain), 0.95) < most
    assert np.median(np.abs(sewn.strain)) < 0.002
    told = {one.name: one.asked_mm for one in found.fit.girths}
    checked = set(told) & set(sewn.girths_mm)
    assert checked
    for name in checked:
        share = 0.5 if name in ("thigh", "knee", "calf") else 1.0
        assert sewn.girths_mm[name] * share == pytest.approx(told[name], abs=girth_mm), name
    for seam, off in sewn.seam_off_mm.items():
        assert abs(off) < SEAM_MM, seam


@pytest.mark.parametrize(("panels", "most"), [(4, 0.002), (7, 0.004)])
def test_strapless_pieces_sewn_in_space_have_the_girths_asked_for(panels: int, most: float) -> None:
    found = made("fitted-strapless", panels=float(panels), hatching="no")
    check(found, resew(found.pieces, found.mates), most=most)


def test_a_bodice_and_its_sleeve_sewn_in_space() -> None:
    found = made("fitted-bodice", panels=4.0, hatching="no")
    trunk = [piece for piece in found.pieces if piece.name != "sleeve"]
    own = [mate for mate in found.mates if "sleeve" not in (mate.first[0], mate.second[0])]
    sewn = resew(trunk, own)
    check(found, sewn, most=0.002)
    sleeve = [piece for piece in found.pieces if piece.name == "sleeve"]
    under = [m for m in found.mates if m.first[0] == m.second[0] == "sleeve"]
    tube = resew(sleeve, under, closed=True)
    assert np.abs(tube.strain).max() < 0.01  # a sleeve is a bent sheet
    hole = sum(v for (_, edge), v in sewn.edges_mm.items() if edge.startswith("armhole"))
    cap = sum(v for (_, edge), v in tube.edges_mm.items() if "cap" in edge)
    assert cap - hole == pytest.approx(found.values["cap_ease_mm"], abs=SLEEVE_MM)
    assert abs(next(iter(tube.seam_off_mm.values()))) < 0.5


@pytest.mark.parametrize(
    ("name", "settings", "most", "girth_mm"),
    [
        ("fitted-skirt", {"panels": 4.0, "shaped_by": "panels"}, 0.005, GIRTH_MM),
        ("fitted-trousers", {"panels": 4.0, "shaped_by": "panels"}, 0.005, GIRTH_MM),
        ("fitted-bodysuit", {"panels": 4.0}, 0.01, KNIT_MM),
        ("fitted-leggings", {"panels": 2.0}, 0.01, KNIT_MM),
    ],
)
def test_lower_garments_sewn_in_space(
    name: str, settings: dict, most: float, girth_mm: float
) -> None:
    found = made(name, hatching="no", **settings)
    sewn = resew(found.pieces, found.mates, closed=name != "fitted-skirt")
    check(found, sewn, most=most, girth_mm=girth_mm)
