"""Hem, closing, lining and stays of joints against facts of the trade (common practice, no source)."""

from __future__ import annotations

import pytest
from tests.practice.pairs import ROWS, cloth

from samite.garment.use import Use, read_use
from samite.seam.around import choose_additions, choose_fastening, choose_hem, choose_lining

HEMS = {
    "chiffon": "rolled",
    "silk_organza": "horsehair",
    "soft_tulle": "raw",
    "sequin_satin": "faced",
    "beaded_lace": "scalloped",
    "rayon_silk_velvet": "catch",
    "swim_spandex": "twin-needle",
    "vinyl": "raw",
    "felt": "raw",
    "crepe": "blind",
}


@pytest.mark.parametrize(("row", "hem"), HEMS.items())
def test_hems_by_cloth(row: str, hem: str) -> None:
    assert choose_hem(cloth(row)).value == hem


@pytest.mark.parametrize(
    ("rows", "use", "fastening"),
    [
        (("rayon_silk_velvet", "duchesse_satin"), "", "hand-picked-zip"),
        (("chiffon", "soft_tulle"), "", "hook-and-eye"),
        (("crepe",), "", "concealed-zip"),
        (("swim_spandex", "stretch_velvet"), "", "elastic"),
        (("crepe",), "stage", "separating-zip"),
        (("beaded_lace", "duchesse_satin"), "fitted", "lacing"),
        (("faux_leather", "crepe"), "", "centred-zip"),
    ],
)
def test_closings_by_cloth(rows: tuple[str, ...], use: str, fastening: str) -> None:
    cloths = tuple(cloth(row) for row in rows)
    assert choose_fastening(cloths, read_use(use)).value == fastening


def test_a_stretch_cloth_gets_a_lining_that_stretches() -> None:
    assert choose_lining((cloth("stretch_velvet"), cloth("crepe"))).value == "knit-lining"
    assert choose_lining((cloth("rayon_silk_velvet"),)).value != "knit-lining"


def test_a_strained_slippery_seam_is_carried_by_organza() -> None:
    found = {
        item.role: item.entry.key
        for item in choose_additions((cloth("charmeuse"),), read_use("fitted"))
    }
    assert found["underlining"] == "silk-organza"
    assert found["stay"] == "organza-strip"
    plain = {item.role for item in choose_additions((cloth("charmeuse"),), Use())}
    assert "underlining" not in plain


def test_a_metal_cloth_is_underlined_and_not_fused() -> None:
    found = {item.role: item.entry.key for item in choose_additions((cloth("woven_lame"),), Use())}
    assert found["underlining"] == "silk-organza"
    assert found["interfacing"] == "sew-in-organza"


@pytest.mark.parametrize("row", sorted(ROWS))
def test_every_cloth_gets_a_hem_and_a_closing(row: str) -> None:
    roles = [item.role for item in choose_additions((cloth(row),), Use(lined=False))]
    assert roles[:2] == ["hem", "fastening"]
    assert "lining" not in roles
