"""Seams of a costume, from the edges of its pieces."""

from __future__ import annotations

import math

import pytest

from samite.kernel.errors import UnknownNameError
from samite.project.model import Costume, JobPiece, Join
from samite.project.seams import cloth_pairs, piece_edge
from samite.services.job_pieces import costume_seams
from samite.services.piece import PieceAnswer, PieceAsk, make_piece


def made(shape: str, **settings: str) -> PieceAnswer:
    return make_piece(PieceAsk(shape, {"waist_girth": "70 cm", "stature": "168 cm"}, settings))


SKIRT = JobPiece("skirt", "circle-skirt", "night")
BAND = JobPiece("band", "waistband", "ember")
COSTUME = Costume(
    "moon", "mara", "", (SKIRT, BAND), (Join("waist", ("skirt", "waist"), ("band", "bottom")),)
)


def test_a_join_takes_all_panels_of_an_edge_together() -> None:
    pieces = {"skirt": made("circle-skirt"), "band": made("waistband", ease="0", overlap="0")}
    seams, gaps = costume_seams(COSTUME, pieces)
    join = next(one for one in seams if one.name.startswith("waist"))
    # The waist of a circle skirt is the waist it was made for; the band's too, so nothing is left.
    assert join.length_mm == pytest.approx(700.0, abs=1.0)
    assert gaps == ()
    assert join.cloths == ("night", "ember")


def test_a_longer_edge_is_told_with_what_to_do() -> None:
    pieces = {
        "skirt": made("circle-skirt", waist="100 cm"),
        "band": made("waistband", ease="0", overlap="0"),
    }
    seams, gaps = costume_seams(COSTUME, pieces)
    assert "300 mm longer" in gaps[0].told
    assert "gather" in gaps[0].told
    assert next(one for one in seams if one.name.startswith("waist")).kind == "gathered"


def test_seams_of_panels_are_as_long_as_all_of_them() -> None:
    pieces = {"skirt": made("circle-skirt", length="60 cm"), "band": made("waistband")}
    seams, _ = costume_seams(COSTUME, pieces)
    side = [one for one in seams if one.kind == "seam" and one.name.startswith("skirt")]
    assert sum(one.length_mm for one in side) == pytest.approx(2 * 600.0, rel=0.05)
    hem = next(one for one in seams if one.kind == "hem")
    radius = 700.0 / (2 * math.pi) + 600.0
    assert hem.length_mm == pytest.approx(2 * math.pi * radius, rel=0.02)


def test_pairs_of_cloths_leave_hems_out() -> None:
    pieces = {"skirt": made("circle-skirt"), "band": made("waistband")}
    seams, _ = costume_seams(COSTUME, pieces)
    assert set(cloth_pairs(seams)) == {("night", "night"), ("ember", "night")}


def test_an_edge_that_is_not_there_is_named() -> None:
    pieces = [one.piece for one in made("waistband").pieces]
    assert piece_edge(pieces, "waistband/left") == pytest.approx(70.0)
    with pytest.raises(UnknownNameError):
        piece_edge(pieces, "waistband/sleeve")
