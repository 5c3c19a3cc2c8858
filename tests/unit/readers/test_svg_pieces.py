"""A person's own drawing: recognised, mended, asked about; hostile files refused."""

from __future__ import annotations

import io
import itertools
import math
import re
from pathlib import Path

import pytest
from svgelements import SVG
from svgelements import Path as SvgPath

from samite.kernel.errors import InputError, OutOfRangeError
from samite.readers import svg_file
from samite.readers.svg_file import read_svg, read_svg_file
from samite.readers.svg_found import ReadPieces
from samite.readers.svg_paths import combine, place, read_path, read_transform
from samite.readers.svg_pieces import read_pieces
from samite.services.piece import PieceAsk, make_piece
from samite.services.piece_import import import_file, import_text
from samite.services.piece_paper import pieces_svg

SQUARE = '<rect id="test-square" x="5" y="5" width="50" height="50"/>'
CUT = '<path d="M100 100H400V600H100Z"/>'


def drawing(inside: str, head: str = 'width="500mm" height="700mm" viewBox="0 0 500 700"') -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{inside}</svg>'.encode()


def read(inside: str) -> ReadPieces:
    return read_pieces(drawing(SQUARE + inside))


@pytest.mark.parametrize(
    "shape", ["tunic", "trousers", "circle-skirt", "hood-three-piece", "sleeve"]
)
@pytest.mark.parametrize("bare", [False, True])
def test_our_own_drawings_come_back(shape: str, bare: bool) -> None:
    answer = make_piece(PieceAsk(shape, size="8"))
    text = pieces_svg(answer)
    if bare:  # as another program would save it: without names
        text = re.sub(r' (class|data-piece)="[^"]*"', "", text)
    found = read_pieces(text.encode())
    assert found.unit_mm == pytest.approx(1.0)
    assert found.proved
    by_name = {one.name: one for one in found.pieces}
    assert set(by_name) == {one.piece.name for one in answer.pieces}
    for one in answer.pieces:
        back = by_name[one.piece.name]
        assert back.area_mm2 == pytest.approx(one.cut.area_mm2, rel=1e-4)
        strokes = sum(notch.count for notch in one.piece.notches)
        assert len(back.notches) == strokes
        assert back.stitch
        assert back.grain
        assert len(back.folds) == sum(edge.kind == "fold" for edge in one.piece.edges)


def test_a_drawing_by_hand_is_recognised_by_the_stated_rules() -> None:
    found = read(
        CUT
        + '<path d="M115 115H385V585H115Z"/><path d="M250 200V500"/>'
        + '<path d="M100 300h6"/><path d="M394 320h6"/><circle cx="300" cy="400" r="20"/>'
    )
    (piece,) = found.pieces
    assert piece.area_mm2 == pytest.approx(150000.0)
    assert len(piece.notches) == 2
    assert math.dist(piece.grain[0], piece.grain[-1]) == pytest.approx(300.0)
    assert len(piece.openings) == 1
    assert "is the inner ring the stitch line?" in [q.asks for q in piece.questions]


def test_what_is_not_there_is_asked_for() -> None:
    (piece,) = read(CUT).pieces
    asked = " ".join(q.asks for q in piece.questions)
    assert "grain" in asked
    assert "stitch line" in asked


def test_the_test_square_tells_the_scale_where_the_file_does_not() -> None:
    # A program that saves without units, 96 units an inch: 50 mm are 188.976 units.
    square = '<rect id="test-square" width="188.976" height="188.976" x="-300" y="0"/>'
    found = read_pieces(drawing(square + CUT, 'viewBox="0 0 500 700"'))
    assert found.unit_mm == pytest.approx(25.4 / 96.0, rel=1e-4)
    assert found.pieces[0].area_mm2 == pytest.approx(150000.0 * (25.4 / 96.0) ** 2, rel=1e-4)


def test_a_square_of_a_wrong_size_is_asked_about() -> None:
    found = read_pieces(drawing('<rect class="square" width="44" height="44"/>' + CUT))
    assert found.proved == ""
    assert "is the scale right" in found.questions[0].asks


def test_without_any_scale_it_is_refused_and_a_given_unit_helps() -> None:
    bare = drawing(CUT, 'viewBox="0 0 500 700"')
    with pytest.raises(InputError, match="scale"):
        read_pieces(bare)
    assert read_pieces(bare, 10.0).pieces[0].area_mm2 == pytest.approx(15e6)
    assert import_text(bare, "1 cm").read.unit_mm == 10.0


def test_a_small_gap_is_closed_and_said() -> None:
    (piece,) = read('<path d="M100 100H400V600H100V103"/>').pieces
    assert "gap of 3.0 mm" in piece.mended[0]
    assert piece.area_mm2 == pytest.approx(150000.0)


def test_a_wide_gap_is_no_outline() -> None:
    with pytest.raises(InputError, match="no closed outline"):
        read('<path d="M100 100H400V600H100V300"/>')


def test_an_outline_that_crosses_itself_loses_its_loop_and_says_so() -> None:
    (piece,) = read('<path d="M100 100H400V600H90V590H110V610L100 610Z"/>').pieces
    assert any("loop" in text for text in piece.mended)
    assert piece.area_mm2 == pytest.approx(150000.0, rel=0.02)


def test_a_large_loop_is_asked_about() -> None:
    (piece,) = read('<path d="M100 100H400V350L100 450V650H400V450L100 350Z"/>').pieces
    assert any("large loop" in q.asks for q in piece.questions)


def test_names_win_over_guesses() -> None:
    (piece,) = read(
        CUT + '<g id="Grain"><path d="M150 200H350"/></g><path class="fold" d="M250 150V560"/>'
    ).pieces
    assert piece.grain[0][1] == pytest.approx(piece.grain[-1][1])
    assert len(piece.folds) == 1


def test_several_pieces_and_lines_outside_are_told_apart() -> None:
    found = read(CUT + '<path d="M420 100H480V300H420Z"/><path d="M10 650H90"/>')
    assert len(found.pieces) == 2
    assert any("outside" in text for text in found.problems)


BOMB = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">
<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&c;</text></svg>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&x;</text></svg>"""


@pytest.mark.parametrize("data", [BOMB, OUTSIDE, b"", b"<html/>", b"<svg", b"\x00\xff", b"<svg/>"])
def test_hostile_and_broken_files_are_refused(data: bytes) -> None:
    with pytest.raises(InputError):
        read_pieces(data)


def test_nesting_numbers_and_lines_have_limits(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(OutOfRangeError):
        read_svg(drawing("<g>" * 500 + "</g>" * 500))
    with pytest.raises(OutOfRangeError):
        read_svg(drawing('<path d="M0 0L1e300 5"/>'))
    monkeypatch.setattr(svg_file, "MOST_LINES", 10)
    with pytest.raises(OutOfRangeError):
        read_svg(drawing('<path d="M0 0L1 1"/>' * 11))


def test_a_file_of_200_mb_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "large.svg"
    with path.open("wb") as file:
        file.truncate(200_000_000)
    with pytest.raises(OutOfRangeError, match="200 MB"):
        read_svg_file(path)
    with pytest.raises(InputError):
        import_file(tmp_path / "not there.svg")


PATHS = (
    "M10 20C40 80 120-40 200 20S300 90 320 10",
    "m10,20q30 60 90 0t90,0 l5-5 h10 v-20 z",
    "M0 0A50 30 20 1 0 100 40a25 25 0 0 1 -30 10",
    "M10 10a5 5 0 1110 0L20 40",
)


@pytest.mark.parametrize("data", PATHS)
def test_path_data_is_read_as_a_reference_library_reads_it(data: str) -> None:
    ours = [point for part, _ in read_path(data, 1e-4) for point in part]
    theirs = SvgPath(data)
    length = sum(math.dist(a, b) for a, b in itertools.pairwise(ours))
    closing = 0.0
    if data.endswith("z"):
        closing = math.dist(ours[-1], ours[0])
    assert length + closing == pytest.approx(theirs.length(error=1e-6), rel=1e-4)
    box = theirs.bbox()
    xs, ys = [p[0] for p in ours], [p[1] for p in ours]
    assert (min(xs), min(ys), max(xs), max(ys)) == pytest.approx(box, abs=1e-2)


@pytest.mark.parametrize("data", ["M", "M0 0L1", "5 5", "M0 0C1 1 2 2", "M0 0X5"])
def test_malformed_paths_are_refused(data: str) -> None:
    with pytest.raises(InputError):
        read_path(data, 0.1)


@pytest.mark.parametrize(
    "text",
    [
        "translate(5 -3)",
        "rotate(30 10 20)",
        "scale(2,3) translate(1)",
        "matrix(1 2 3 4 5 6)",
        "skewX(20)",
    ],
)
def test_transforms_are_those_of_a_reference_library(text: str) -> None:
    source = (
        f'<svg xmlns="http://www.w3.org/2000/svg"><path transform="{text}" d="M3 7L4 9"/></svg>'
    )
    (path,) = [e for e in SVG.parse(io.StringIO(source)).elements() if isinstance(e, SvgPath)]
    first = path.first_point
    assert place(read_transform(text), (3.0, 7.0)) == pytest.approx((first.x, first.y))
    assert place(combine((1, 0, 0, 1, 5, 5), read_transform(text)), (3.0, 7.0)) == pytest.approx(
        (first.x + 5, first.y + 5)
    )
