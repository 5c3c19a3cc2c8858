"""Flat pieces sewn together in space by a solver that shares no code with the flattening."""

from __future__ import annotations

import numpy as np
import pytest
from tests.oracles.fitted.garments import made
from tests.oracles.fitted.resew import resew

from samite.pieces.walk import walk

CHEST_MM = 12.7
"""A made-to-measure maker's tolerance on the chest girth, half an inch (read on its page)."""


@pytest.mark.parametrize(("panels", "most"), [(4, 0.05), (7, 0.035)])
def test_strapless_pieces_sewn_in_space_have_the_girths_asked_for(panels: int, most: float) -> None:
    found = made("fitted-strapless", panels=float(panels), hatching="no")
    assert all(one.equal for one in walk(found.pieces, found.mates))
    sewn = resew(found.pieces, found.mates)
    # free cloth settles where its springs are strained least, so that girths move a little
    assert np.quantile(np.abs(sewn.strain), 0.95) < most
    assert np.median(np.abs(sewn.strain)) < 0.01
    for name, asked in (("bust", 920.0), ("underbust", 774.24)):
        assert sewn.girths_mm[name] == pytest.approx(asked, abs=0.7 * CHEST_MM), name
    for seam, off in sewn.seam_off_mm.items():
        assert abs(off) < 2.0, seam
