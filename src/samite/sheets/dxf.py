"""Pieces as DXF, release 12, by the layers of ASTM D6673."""

from __future__ import annotations

import re
from collections.abc import Sequence

from samite.pieces.curves import Line
from samite.pieces.finish import FinishedPiece
from samite.pieces.outline import Piece
from samite.pieces.plane import Move, away, outward
from samite.sheets.dxf_entities import header, line, plain, point, polyline, text
from samite.sheets.sheet import NOTCH_MM, draw_piece

BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INTERNAL, DRILL, SEW, NOTE = (
    "1", "2", "3", "4", "6", "7", "8", "13", "14", "15",
)  # fmt: skip
"""Layers by the numbers of ASTM D6673."""

LAYERS = (BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INTERNAL, DRILL, SEW, NOTE)


def pieces_dxf(style: str, pieces: Sequence[FinishedPiece], size: str = "") -> str:
    """Return pieces as DXF, one block a piece, in millimetres.

    Parameters
    ----------
    style : str
        Name of the style.
    pieces : sequence of FinishedPiece
        The pieces.
    size : str
        Size that they were made for.

    Returns
    -------
    str
        DXF release 12 with the UNITS text, since that release has no header for units.

    Notes
    -----
    Boundary is the cut line, layer 14 the stitch line; a piece on the fold is its half with the fold
    on layer 6. Layers as listed for D6673-10; the spelling of the text tags is from memory.

    References
    ----------
    ``astm-d6673``: listing of the layers.
    """
    names = _block_names(pieces)
    blocks = [_block(name, one, size) for name, one in zip(names, pieces, strict=True)]
    inserts = [
        f"0\nINSERT\n8\n{BOUNDARY}\n2\n{name}\n10\n0.0\n20\n0.0\n30\n0.0\n" for name in names
    ]
    tags = ["ANSI/AAMA", f"STYLE NAME: {style}", "UNITS: METRIC"]
    texts = [text(tag, (0.0, -10.0 * k), BOUNDARY) for k, tag in enumerate(tags, 1)]
    return "".join(
        [
            header(LAYERS),
            "0\nSECTION\n2\nBLOCKS\n",
            *blocks,
            "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n",
            *inserts,
            *texts,
            "0\nENDSEC\n0\nEOF\n",
        ]
    )


def _block(name: str, one: FinishedPiece, size: str) -> str:
    piece = one.piece
    parts = [
        f"0\nBLOCK\n8\n{BOUNDARY}\n2\n{name}\n70\n0\n10\n0.0\n20\n0.0\n30\n0.0\n3\n{name}\n",
        polyline(one.cut.points, BOUNDARY, closed=True),
        polyline(piece.flat(), SEW, closed=True),
        *_points(piece),
        *_notches(one),
        *(
            polyline(edge.flat(), MIRROR, closed=False)
            for edge in piece.edges
            if edge.kind == "fold"
        ),
        *(polyline(rule.points, INTERNAL, closed=False) for rule in piece.rules),
        *(point(mark.place, DRILL) for mark in piece.marks),
    ]
    strokes, _ = draw_piece(one, Move())
    grain = next(stroke for stroke in strokes if stroke.role == "grain")
    parts.append(line(grain.points[0], grain.points[1], GRAIN))
    tags = [
        f"PIECE NAME: {piece.name}",
        f"QUANTITY: {piece.copies}",
        f"MATERIAL: {piece.cloth}",
        "UNITS: METRIC",
    ]
    tags += [f"SIZE: {size}"] if size else []
    where = grain.points[0]
    parts += [text(tag, (where[0], where[1] - 8.0 * k), BOUNDARY) for k, tag in enumerate(tags)]
    parts += [
        text(words, (where[0], where[1] + 8.0 * k), NOTE) for k, words in enumerate(one.label, 1)
    ]
    return "".join([*parts, f"0\nENDBLK\n8\n{BOUNDARY}\n"])


def _points(piece: Piece) -> list[str]:
    """Return turn points at corners and curve points along curves, for the stitch line."""
    made = []
    for edge in piece.edges:
        made.append(point(edge.start, TURN))
        for curve in edge.curves:
            if not isinstance(curve, Line):
                made += [point(place, CURVE) for place in curve.flat(0.5)[1:-1]]
    return made


def _notches(one: FinishedPiece) -> list[str]:
    made = []
    for notch in one.piece.notches:
        place, along = one.piece.edge(notch.edge).at(notch.distance_mm)
        allowance = one.cut.allowances_mm[notch.edge]
        outer = away(place, outward(along), allowance)
        made.append(line(outer, away(outer, outward(along), -NOTCH_MM), NOTCH))
    return made


def _block_names(pieces: Sequence[FinishedPiece]) -> list[str]:
    names: list[str] = []
    for one in pieces:
        base = re.sub(r"[^A-Z0-9]+", "_", plain(one.piece.name).upper()).strip("_") or "PIECE"
        name, k = base[:28], 2
        while name in names:
            name, k = f"{base[:26]}_{k}", k + 1
        names.append(name)
    return names
