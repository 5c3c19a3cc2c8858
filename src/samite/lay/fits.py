"""Pieces that no lay can hold, in words: which, by how much, and what could help."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from samite.lay.outline import cosine_and_sine, signed_area_mm2
from samite.lay.problem import placements_of

if TYPE_CHECKING:
    from samite.lay.problem import LayPiece, Problem

ROOM_MM = 1e-6
"""A piece this much too wide still fits [mm]."""


def misfits(problem: Problem) -> tuple[str, ...]:
    """Return why no lay can exist, as far as that shows at once.

    Parameters
    ----------
    problem : Problem
        A question without mistakes.

    Returns
    -------
    tuple of str
        One sentence for each reason; empty if none shows.

    Notes
    -----
    Looks at each piece against the width, and against the length and the area of a remnant; that
    the pieces do not fit together shows only in the search.
    """
    found = [_too_wide(piece, problem) for piece in problem.pieces]
    if problem.outline_mm is not None:
        found += [_too_long(piece, problem) for piece in problem.pieces]
        found.append(_too_much(problem))
    return tuple(text for text in found if text)


def usable_width_mm(problem: Problem) -> float:
    """Return the width between the edges of the cloth as it lies.

    Parameters
    ----------
    problem : Problem
        The question.

    Returns
    -------
    float
        Width [mm].

    Notes
    -----
    A remnant counts with its whole spread across.
    """
    if problem.outline_mm is not None:
        ys = [y for _, y in problem.outline_mm]
        return max(ys) - min(ys) - problem.edge_mm * (1.0 if problem.folded else 2.0)
    return problem.lying_width_mm - problem.edge_mm * (1.0 if problem.folded else 2.0)


def spread(piece: LayPiece, angle_deg: float) -> tuple[float, float]:
    """Return how long and how wide a piece lies when turned.

    Parameters
    ----------
    piece : LayPiece
        The piece.
    angle_deg : float
        Turn [deg].

    Returns
    -------
    tuple of (float, float)
        Along and across the cloth [mm].

    Notes
    -----
    Mirroring swaps angle with its negative; for the turns of the trade, 0, 90, 180 and 270
    degrees, the spread stays the same.
    """
    c, s = cosine_and_sine(angle_deg)
    xs = [c * x - s * y for x, y in piece.outline_mm]
    ys = [s * x + c * y for x, y in piece.outline_mm]
    return max(xs) - min(xs), max(ys) - min(ys)


def one_way_each(problem: Problem) -> Problem:
    """Return a problem with one turn for every piece, the first that fits the width.

    Parameters
    ----------
    problem : Problem
        A question without mistakes, all of whose pieces fit.

    Returns
    -------
    Problem
        The same with less to choose from, for a first lay at once.

    Notes
    -----
    Every lay of it is a lay of the problem; pieces on the fold and kept ones are left alone.
    """
    room = usable_width_mm(problem) + ROOM_MM
    pieces = []
    for piece in problem.pieces:
        fitting = [a for a in piece.angles_deg if spread(piece, a)[1] <= room]
        alone = piece.on_fold or piece.fixed or not fitting
        pieces.append(piece if alone else replace(piece, angles_deg=(fitting[0],)))
    return replace(problem, pieces=tuple(pieces))


def _angles(piece: LayPiece) -> tuple[float, ...]:
    angles = (*(piece.angles_deg or (0.0,)), *(place.angle_deg for place in piece.fixed))
    return angles if piece.mirror == "none" else (*angles, *(-a for a in angles))


def _too_wide(piece: LayPiece, problem: Problem) -> str:
    room = usable_width_mm(problem)
    least = min(spread(piece, angle)[1] for angle in _angles(piece))
    if least <= room + ROOM_MM:
        return ""
    over = least - room
    helps = [f"a cloth at least {math.ceil(least - room)} mm wider", "a join"]
    crosswise = min(spread(piece, angle)[1] for angle in (0.0, 90.0))
    if not piece.on_fold and crosswise <= room:
        helps.insert(0, "cutting it crosswise (90 degrees)")
    if problem.folded:
        open_room = problem.width_mm - 2.0 * problem.edge_mm
        if least * (2.0 if piece.on_fold else 1.0) <= open_room:
            helps.insert(0, "cutting it on the open cloth")
    layer = " folded" if problem.folded else ""
    return (
        f"{piece.name!r} lies {_mm(least, over)} mm across and the{layer} cloth has"
        f" {_mm(room, over)} mm: {_mm(over, over)} mm too wide. What could help: {', or '.join(helps)}."
    )


def _too_long(piece: LayPiece, problem: Problem) -> str:
    xs = [x for x, _ in problem.outline_mm or ()]
    room = max(xs) - min(xs) - 2.0 * problem.edge_mm
    least = min(spread(piece, angle)[0] for angle in _angles(piece))
    if least <= room + ROOM_MM:
        return ""
    over = least - room
    return (
        f"{piece.name!r} lies {_mm(least, over)} mm along and the remnant has"
        f" {_mm(room, over)} mm: {_mm(over, over)} mm too long. What could help: a longer remnant, or a join."
    )


def _mm(length: float, over: float) -> str:
    """Return millimetres to a tenth, to the micrometre where less than a millimetre is too much."""
    text = f"{length:.{3 if over < 1.0 else 1}f}".rstrip("0")
    return text + "0" if text.endswith(".") else text


def _too_much(problem: Problem) -> str:
    wanted = sum(
        abs(signed_area_mm2(piece.outline_mm)) * placements_of(piece, folded=problem.folded)
        for piece in problem.pieces
    )
    there = abs(signed_area_mm2(problem.outline_mm or ()))
    if wanted <= there * (1.0 + 1e-9):
        return ""
    return (
        f"the pieces cover {wanted / 1e6:.3f} m2 and the remnant {there / 1e6:.3f} m2."
        " What could help: fewer pieces, or more cloth."
    )
