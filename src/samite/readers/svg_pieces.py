"""A person's own drawing recognised: cut line, stitch line, notches, grain, folds; or asked about.

The rules, in order: names in the drawing win. Else, of the rings that no other ring holds, each is
the cut line of a piece; a ring inside it with a near-constant gap is its stitch line, other rings
are openings; a line of 2 to 16 mm that touches the outline is a notch; a straight line with both ends
on the outline is a fold; the longest other straight line is the grain; the rest is drawn, not cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from samite.kernel.errors import InputError, OutOfRangeError
from samite.pieces.plane import signed_area_mm2
from samite.readers._svg_piece import make_piece
from samite.readers._svg_rings import Ring, belongs, holds, parallel, part_rings, role_of
from samite.readers._svg_scale import corners_of, find_scale, find_square
from samite.readers.svg_chains import join_lines
from samite.readers.svg_file import Drawn, read_svg, read_svg_file
from samite.readers.svg_found import ReadPiece, ReadPieces

SMALLEST_MM2 = 400.0
MOST_RINGS = 400


def read_pieces_file(path: Path, unit_mm: float = 0.0) -> ReadPieces:
    """Read pieces from an SVG file.

    Parameters
    ----------
    path : Path
        The file.
    unit_mm : float
        Millimetres in a unit of the drawing, if the person knows; 0 otherwise [mm].

    Returns
    -------
    ReadPieces
        Pieces, problems and questions.

    Raises
    ------
    InputError
        If the file is no SVG, is hostile, or has no scale.
    """
    return recognise(read_svg_file(path), unit_mm)


def read_pieces(data: bytes, unit_mm: float = 0.0) -> ReadPieces:
    """Read pieces from SVG text.

    Parameters
    ----------
    data : bytes
        The text.
    unit_mm : float
        Millimetres in a unit of the drawing, if the person knows; 0 otherwise [mm].

    Returns
    -------
    ReadPieces
        Pieces, problems and questions.

    Raises
    ------
    InputError
        If the text is no SVG, is hostile, or has no scale.
    """
    return recognise(read_svg(data), unit_mm)


def recognise(drawn: Drawn, unit_mm: float = 0.0) -> ReadPieces:
    """Recognise the pieces of a drawing.

    Parameters
    ----------
    drawn : Drawn
        The drawing.
    unit_mm : float
        Millimetres in a unit of the drawing, if the person knows; 0 otherwise [mm].

    Returns
    -------
    ReadPieces
        Pieces, problems and questions.

    Raises
    ------
    InputError
        If nothing tells the scale, or there is no closed outline.
    OutOfRangeError
        If there are far too many closed lines.
    """
    unit, proved, questions, square = find_scale(drawn, unit_mm)
    lines = [
        replace(line, points=tuple((x * unit, y * unit) for x, y in line.points))
        for k, line in enumerate(drawn.lines)
        if k != square
    ]
    side = find_square(drawn)[1] * unit if square >= 0 else 0.0
    lines, joined = join_lines(lines, role_of)
    problems = [f"{name} elements were not read" for name in drawn.skipped]
    rings, others = part_rings([line for line in lines if role_of(line) != "paper"], joined)
    if len(rings) > MOST_RINGS:
        raise OutOfRangeError(
            f"the drawing has {len(rings)} closed lines",
            "SVG",
            f"at most {MOST_RINGS}: simplify it",
        )
    framed = [ring for ring in rings if _is_frame(ring, rings)]
    rings = [ring for ring in rings if ring not in framed]
    outer = [
        ring
        for ring in rings
        if not any(holds(o.points, ring.points) for o in rings if o is not ring)
    ]
    outer = [
        r
        for r in outer
        if role_of(r.line) in ("", "cut") and abs(signed_area_mm2(r.points)) >= SMALLEST_MM2
    ]
    if not outer:
        raise InputError(
            "no closed outline was found", "SVG", "close the cut line, or name its layer cut"
        )
    pieces = []
    for number, ring in enumerate(outer, 1):
        inner = [r for r in rings if r is not ring and holds(ring.points, r.points)]
        mine = [line for line in others if belongs(line.points, ring.points)]
        pieces.append(make_piece(number, ring, inner, mine, drawn, unit))
    lost = [line for line in others if not any(belongs(line.points, r.points) for r in outer)]
    if lost:
        problems.append(f"{len(lost)} lines lie outside every outline and were left out")
    return ReadPieces(
        _with_names_apart(pieces), tuple(problems), tuple(questions), unit, proved, side
    )


def _with_names_apart(pieces: Sequence[ReadPiece]) -> tuple[ReadPiece, ...]:
    """Number pieces that share a name."""
    names = [one.name for one in pieces]
    seen: dict[str, int] = {}
    made = []
    for one in pieces:
        seen[one.name] = seen.get(one.name, 0) + 1
        many = names.count(one.name) > 1
        made.append(replace(one, name=f"{one.name} {seen[one.name]}") if many else one)
    return tuple(made)


def _is_frame(ring: Ring, rings: Sequence[Ring]) -> bool:
    """Tell whether a ring is the edge of the paper: a bare rectangle around everything else."""
    others = [other for other in rings if other is not ring]
    if role_of(ring.line) or len(others) < 2 or len(corners_of(ring.points)) != 4:
        return False
    return all(holds(ring.points, o.points) and not parallel(ring.points, o.points) for o in others)
