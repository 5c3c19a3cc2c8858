"""Pieces on paper and in files, read again by other programs and measured."""

from __future__ import annotations

import io
import itertools
import math
from pathlib import Path

import ezdxf
import numpy as np
import pypdfium2
import pytest
from shapely.geometry import Polygon
from svgelements import SVG
from svgelements import Path as SvgPath

from samite.kernel.errors import OutOfRangeError, UnknownNameError
from samite.services.piece import PieceAnswer, PieceAsk, make_piece
from samite.services.piece_paper import pieces_dxf, pieces_pdf, pieces_svg
from samite.sheets.sheet import Sheet, Stroke, lay_out
from samite.sheets.tiles import LAP_MM, MARGIN_MM, SIZES, tile, tiled_pdf
from samite.sheets.truetype import own_font

DPI = 254.0  # ten pixels a millimetre


@pytest.fixture(scope="module")
def tunic() -> PieceAnswer:
    return make_piece(PieceAsk("tunic", {"stature": "168 cm"}, size="8", dated="2031-02-03"))


def pixels(page: pypdfium2.PdfPage) -> np.ndarray:
    return np.asarray(page.render(scale=DPI / 72.0, grayscale=True).to_numpy()).squeeze()


def dark_runs(line: np.ndarray) -> list[float]:
    """Return the middles of the dark runs of a line of pixels, in millimetres."""
    dark = np.flatnonzero(line < 160)
    if not dark.size:
        return []
    runs = np.split(dark, np.flatnonzero(np.diff(dark) > 1) + 1)
    return [float(run.mean()) / 10.0 for run in runs]


@pytest.mark.parametrize("paper", ["a4", "us-letter", "a3"])
def test_the_test_squares_measure_50_mm_and_2_inches_in_pixels(
    tunic: PieceAnswer, paper: str
) -> None:
    document = pypdfium2.PdfDocument(pieces_pdf(tunic, paper))
    page = pixels(document[0])
    height = page.shape[0] / 10.0
    low = height - (height - MARGIN_MM - 62.0)  # lower side of both squares, from the top
    across = dark_runs(page[int((low - 8.0) * 10)])
    assert across[1] - across[0] == pytest.approx(50.0, abs=0.1)
    assert across[3] - across[2] == pytest.approx(50.8, abs=0.1)
    for x, side in ((across[0] + 45.0, 50.0), (across[2] + 45.0, 50.8)):
        down = [y for y in dark_runs(page[:, int(x * 10)]) if y <= low + 1.0]
        assert down[-1] - down[0] == pytest.approx(side, abs=0.15)


@pytest.mark.parametrize("paper", ["a4", "us-letter", "a3", "a0", "roll"])
def test_pages_have_the_size_of_the_paper_and_none_is_empty(tunic: PieceAnswer, paper: str) -> None:
    document = pypdfium2.PdfDocument(pieces_pdf(tunic, paper, "91.4 cm"))
    for page in document:
        width, height = (value * 25.4 / 72.0 for value in page.get_size())
        if paper == "roll":
            assert width == pytest.approx(914.0, abs=0.01)
            assert height <= 5000.0
        else:
            assert (width, height) == pytest.approx(SIZES[paper], abs=0.01)
    for page in list(document)[1:4]:
        seen = pixels(page)[170:-240, 120:-120]  # inside the frame and its crosses
        assert (seen < 160).any()


def test_empty_pages_are_dropped_and_every_line_is_on_a_page() -> None:
    corner = Stroke(((5.0, 5.0), (60.0, 5.0)), role="cut")
    far = Stroke(((1500.0, 1300.0), (1510.0, 1305.0)), role="cut")
    tiling = tile(Sheet("two", 1600.0, 1400.0, (corner, far), ()), "a4")
    assert tiling.columns * tiling.rows > 20
    assert len(tiling.kept) <= 3
    step = tiling.window[0] - LAP_MM, tiling.window[1] - LAP_MM
    for x, y in (*corner.points, *far.points):
        assert any(
            0 <= x - c * step[0] <= tiling.window[0] and 0 <= y - r * step[1] <= tiling.window[1]
            for r, c in tiling.kept
        )


def test_neighbouring_pages_show_the_same_line_in_their_overlap(tunic: PieceAnswer) -> None:
    sheet = lay_out("tunic", tunic.pieces, 900.0)
    tiling = tile(sheet, "a4")
    document = pypdfium2.PdfDocument(tiled_pdf(sheet, "a4"))
    numbers = {cell: k + 1 for k, cell in enumerate(tiling.kept)}
    row, column = next(
        (r, c)
        for r, c in tiling.kept
        if (r, c + 1) in numbers and _cut_crosses(sheet, tiling, r, c)
    )
    left, right = pixels(document[numbers[row, column]]), pixels(document[numbers[row, column + 1]])
    x = tiling.window[0] - LAP_MM / 4
    here = left[:, int((MARGIN_MM + x) * 10)]
    there = right[:, int((MARGIN_MM + x - (tiling.window[0] - LAP_MM)) * 10)]
    common = set(np.round(dark_runs(here), 0)) & set(np.round(dark_runs(there), 0))
    assert len(common) >= 3  # frame above and below, and the line


def _cut_crosses(sheet: Sheet, tiling: object, row: int, column: int) -> bool:
    step = tiling.window[0] - LAP_MM, tiling.window[1] - LAP_MM
    x = column * step[0] + tiling.window[0] - LAP_MM / 4
    low, high = row * step[1] + 20.0, row * step[1] + tiling.window[1] - 20.0
    for stroke in sheet.strokes:
        if stroke.role == "cut":
            ends = [*stroke.points, stroke.points[0]]
            for a, b in itertools.pairwise(ends):
                if (a[0] > x) != (b[0] > x):
                    y = a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
                    if low < y < high:
                        return True
    return False


def test_the_document_asks_not_to_be_scaled_and_its_text_can_be_read(tunic: PieceAnswer) -> None:
    data = pieces_pdf(tunic)
    assert b"/PrintScaling /None" in data
    text = pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()
    assert "Print at 100 %" in text
    assert pieces_pdf(tunic) == data
    assert own_font().numbers("A\u2603") == [own_font().glyphs[65], own_font().glyphs[63]]


def test_a_paper_that_is_not_there_and_a_narrow_roll_are_refused(tunic: PieceAnswer) -> None:
    sheet = lay_out("tunic", tunic.pieces, 900.0)
    with pytest.raises(UnknownNameError):
        tile(sheet, "a7")
    with pytest.raises(OutOfRangeError):
        tile(sheet, "roll", 50.0)


def test_the_dxf_holds_every_piece_exactly(tunic: PieceAnswer, tmp_path: Path) -> None:
    path = tmp_path / "tunic.dxf"
    path.write_text(pieces_dxf(tunic), encoding="cp1252")
    document = ezdxf.readfile(path)
    assert document.dxfversion == "AC1009"
    assert not document.audit().errors
    texts = [t.dxf.text for t in document.modelspace().query("TEXT")]
    assert "UNITS: METRIC" in texts
    for one in tunic.pieces:
        block = document.blocks[one.piece.name.upper().replace(" ", "_")]
        rings = {e.dxf.layer: e for e in block.query("POLYLINE") if e.is_closed}
        for layer, points in (("1", one.cut.points), ("14", one.piece.flat())):
            read = Polygon([(v.dxf.location.x, v.dxf.location.y) for v in rings[layer].vertices])
            assert read.area == pytest.approx(Polygon(points).area, abs=0.01)
            assert read.symmetric_difference(Polygon(points)).area < 0.01
        layers = {e.dxf.layer for e in block}
        assert {"1", "2", "7", "14", "15"} <= layers
        assert len([e for e in block.query("LINE") if e.dxf.layer == "4"]) == len(one.piece.notches)
        tags = {t.dxf.text for t in block.query("TEXT")}
        assert f"PIECE NAME: {one.piece.name}" in tags
        assert f"QUANTITY: {one.piece.copies}" in tags
        assert ("6" in layers) == one.piece.on_fold


def test_the_svg_is_at_full_size_and_holds_every_piece(tunic: PieceAnswer) -> None:
    svg = SVG.parse(io.StringIO(pieces_svg(tunic)), ppi=25.4)
    paths = [e for e in svg.elements() if isinstance(e, SvgPath)]
    cuts = [p for p in paths if p.values.get("class") == "cut"]
    areas = sorted(_area(p) for p in cuts)
    assert areas == pytest.approx(sorted(one.cut.area_mm2 for one in tunic.pieces), rel=1e-4)
    (square,) = [p for p in paths if p.values.get("class") == "square"]
    low_x, low_y, high_x, high_y = square.bbox()
    assert (high_x - low_x, high_y - low_y) == pytest.approx((50.0, 50.0), abs=1e-3)


def _area(path: SvgPath) -> float:
    return Polygon([(p.x, p.y) for p in path.as_points()]).buffer(0).area


def test_all_pieces_lie_apart(tunic: PieceAnswer) -> None:
    sheet = lay_out("tunic", tunic.pieces, 1500.0)
    cuts = [Polygon(stroke.points) for stroke in sheet.strokes if stroke.role == "cut"]
    for k, one in enumerate(cuts):
        assert all(one.distance(other) > 10.0 for other in cuts[:k])
        low_x, low_y, high_x, high_y = one.bounds
        assert low_x > 0.0
        assert low_y > 0.0
        assert high_x < sheet.width_mm
        assert high_y < sheet.height_mm
    assert math.isfinite(sheet.width_mm)
