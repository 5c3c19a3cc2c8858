"""Labels of pieces: inside, clear of the grain line, wrapped or below where there is no room."""

from __future__ import annotations

import pytest
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box

from samite.pieces.curves import Line
from samite.pieces.edge import Edge
from samite.pieces.finish import Finish, finish
from samite.pieces.outline import Piece, Rule
from samite.pieces.plane import Move
from samite.sheets.piece_label import Block, place_label
from samite.sheets.sheet import Words, draw_piece
from samite.sheets.truetype import text_width_mm

TOLD = ("side front", "silk dupion, 150 g/m2", "cut 2, half of them mirrored",
        "right side up as drawn; the mirrored copies wrong side up")  # fmt: skip


def panel(wide: float, high: float, *rules: Rule) -> Piece:
    at = ((0.0, 0.0), (wide, 0.0), (wide * 0.9, high), (0.0, high))
    edges = [Edge(f"edge {k}", (Line(at[k], at[(k + 1) % 4]),), "seam") for k in range(4)]
    return Piece("side front", tuple(edges), copies=2, mirrored=True, rules=rules)


def room(words: Words) -> Polygon:
    (x, y), wide = words.place, text_width_mm(words.text, words.size_mm)
    return rotate(box(x, y, x + wide, y + 0.7 * words.size_mm), words.angle_deg, origin=(x, y))


@pytest.mark.parametrize("wide", [400.0, 90.0, 60.0, 45.0])
def test_labels_stand_inside_clear_of_grain_and_girth_lines(wide: float) -> None:
    lines = (Rule("bust line", ((0.0, 200.0), (wide * 0.95, 196.0))),
             Rule("underbust line", ((0.0, 120.0), (wide, 118.0))))  # fmt: skip
    strokes, words = draw_piece(
        finish([panel(wide, 260.0, *lines)], Finish(cloth=TOLD[1]))[0], Move()
    )
    outline = Polygon(panel(wide, 260.0).flat())
    grain = [LineString(one.points) for one in strokes if one.role == "grain"]
    assert not [one for one in strokes if one.role == "leader"]
    label = [one for one in words if not one.text.endswith("line")]
    assert len(words) == len(label) + 2
    for one in label:
        assert outline.contains(room(one)), one
        assert not any(line.intersects(room(one)) for line in grain), one
    assert "150 g/m2" in " ".join(one.text for one in label)
    assert not any(one.text.startswith("g/m2") for one in label)


def test_a_label_that_fits_nowhere_is_led_out_below() -> None:
    strokes, words = draw_piece(finish([panel(12.0, 260.0)], Finish(cloth=TOLD[1]))[0], Move())
    assert [one for one in strokes if one.role == "leader"]
    assert max(one.place[1] for one in words) < min(
        y for s in strokes if s.role == "cut" for _, y in s.points
    )


def test_upright_is_preferred_and_large_type_too() -> None:
    found = place_label(panel(400.0, 260.0), TOLD, [((200.0, 50.0), (200.0, 200.0))], (0.0, 0.0))
    assert isinstance(found, Block)
    assert (found.inside, found.angle_deg, found.size_mm) == (True, 0.0, 6.0)
