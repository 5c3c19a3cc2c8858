"""Finished pieces as pieces of a lay: grain along x, hands, copies, turns, folds."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import replace

from samite.kernel.errors import InfeasibleError
from samite.lay.problem import LayPiece, Outline, Problem
from samite.lay.rules import LayRules
from samite.pieces.edge import Edge
from samite.pieces.finish import FinishedPiece
from samite.pieces.outline import Piece

ALONG_DEG = 0.01
"""A fold edge nearer to the grain than this lies along it [deg]."""

FULL_TURNS = (0.0, 180.0)
CROSS_TURNS = (90.0, 270.0)


def lay_problem(
    finished: Sequence[FinishedPiece],
    rules: LayRules,
    width_mm: float,
    *,
    crosswise: Collection[str] = (),
) -> Problem:
    """Return the problem of laying finished pieces on a cloth.

    Parameters
    ----------
    finished : sequence of FinishedPiece
        The pieces.
    rules : LayRules
        What the cloth asks.
    width_mm : float
        Width of the cloth, open [mm].
    crosswise : collection of str
        Names of pieces, or parts of names, that may be cut across the cloth.

    Returns
    -------
    Problem
        To be solved; on a folded cloth the pieces that need it lie on the fold.

    Raises
    ------
    InfeasibleError
        If the cloth is to be folded and a piece is wanted several times, all of one hand.

    Notes
    -----
    The lengthwise grain becomes x. With the right side down everything is laid as its mirror image,
    since the table shows the wrong side.

    References
    ----------
    ``common-practice``: nap never turns; facings may be cut crosswise where there is none.
    """
    pieces = tuple(
        lay_piece(one, rules, crosswise=any(word in one.piece.name for word in crosswise))
        for one in finished
    )
    return Problem(
        width_mm,
        _named_apart(pieces),
        "lengthwise" if rules.folded else "none",
        rules.edge_mm,
        rules.gap_mm,
        repeat_along_mm=rules.repeat_along_mm,
        repeat_across_mm=rules.repeat_across_mm,
    )


def lay_piece(one: FinishedPiece, rules: LayRules, *, crosswise: bool = False) -> LayPiece:
    """Return a finished piece as a piece of a lay.

    Parameters
    ----------
    one : FinishedPiece
        The piece.
    rules : LayRules
        What the cloth asks.
    crosswise : bool
        Whether it may be cut across the cloth.

    Returns
    -------
    LayPiece
        Its cut line, grain along x.

    Raises
    ------
    InfeasibleError
        If it cannot be cut from folded cloth.

    Notes
    -----
    A piece drawn as half on the fold is laid on the fold of a folded cloth, and opened out on an
    open one, or where its fold edge does not lie along the grain.

    References
    ----------
    ``definition``: as for the whole problem.
    """
    piece = one.piece
    on_fold = piece.on_fold and rules.folded and _fold_along_grain(piece)
    if piece.on_fold:
        half = _half_above(piece, one.cut.points)
        turn = _fold_angle(piece) - piece.grain_deg
        outline = half if on_fold else _turned(_both_halves(half), turn)
    else:
        outline = _turned(one.cut.points, -piece.grain_deg)
    if rules.face == "down" and not on_fold:
        outline = _mirrored(outline)
    if rules.folded and not on_fold:
        _refuse_one_hand(piece)
    angles: tuple[float, ...] = (0.0,) if rules.one_way else FULL_TURNS
    if crosswise and not on_fold:
        angles += CROSS_TURNS[:1] if rules.one_way else CROSS_TURNS
    return LayPiece(
        piece.name, _at_origin(outline, on_fold=on_fold), piece.copies, angles,
        _hands(piece, folded=rules.folded), on_fold,
        grain_tolerance_deg=piece.grain_tolerance_deg,
    )  # fmt: skip


def opened_out(problem: Problem) -> Problem:
    """Return the same pieces on open cloth.

    Parameters
    ----------
    problem : Problem
        On folded cloth.

    Returns
    -------
    Problem
        Pieces on the fold as wholes; what was cut double, in pairs.

    Notes
    -----
    Of a piece cut double and wanted an odd number of times, the one to spare is not cut.

    References
    ----------
    ``derivation``: reflection in the fold.
    """
    if not problem.folded:
        return problem
    pieces = tuple(
        LayPiece(one.name, _both_halves(one.outline_mm), one.copies, one.angles_deg, "free",
                 False, one.motif_mm, (), one.grain_tolerance_deg)
        if one.on_fold
        else LayPiece(one.name, one.outline_mm, one.copies, one.angles_deg,
                      "pairs" if one.mirror == "pairs" else "free", False, one.motif_mm, (),
                      one.grain_tolerance_deg)
        for one in problem.pieces
    )  # fmt: skip
    return Problem(
        problem.width_mm, pieces, "none", problem.edge_mm, problem.gap_mm,
        repeat_along_mm=problem.repeat_along_mm, repeat_across_mm=problem.repeat_across_mm,
        matches=problem.matches,
    )  # fmt: skip


def _refuse_one_hand(piece: Piece) -> None:
    if piece.symmetric or piece.mirrored or piece.copies == 1:
        return
    raise InfeasibleError(
        f"{piece.name} is wanted {piece.copies} times, all of one hand: folded cloth would make"
        " half of them the other",
        piece.name,
        "cut it in a single layer",
    )


def _hands(piece: Piece, *, folded: bool) -> str:
    if piece.mirrored and not piece.symmetric and piece.copies % 2 == 0:
        return "pairs"
    return "free" if piece.symmetric or folded else "none"


def _fold_along_grain(piece: Piece) -> bool:
    off = abs(_fold_angle(piece) - piece.grain_deg) % 360.0
    single = sum(edge.kind == "fold" for edge in piece.edges) == 1
    return single and min(off, 360.0 - off) < ALONG_DEG


def _turned(points: Sequence[tuple[float, float]], angle_deg: float) -> Outline:
    angle = math.radians(angle_deg)
    cosine, sine = math.cos(angle), math.sin(angle)
    return tuple((x * cosine - y * sine, x * sine + y * cosine) for x, y in points)


def _mirrored(points: Outline) -> Outline:
    return tuple((x, -y) for x, y in reversed(points))


def _half_above(piece: Piece, points: Sequence[tuple[float, float]]) -> Outline:
    """Return a half turned so that its fold lies on y = 0 and the rest above."""
    fold = _fold_of(piece)
    turn = -_fold_angle(piece)
    level = _turned([fold.start], turn)[0][1]
    moved = tuple(
        (x, 0.0 if abs(y - level) < 1e-6 else y - level) for x, y in _turned(points, turn)
    )
    return moved if sum(y for _, y in moved) >= 0.0 else _mirrored(moved)


def _fold_of(piece: Piece) -> Edge:
    return next(edge for edge in piece.edges if edge.kind == "fold")


def _fold_angle(piece: Piece) -> float:
    """Return the direction of the fold, whichever way is nearer to the grain [deg]."""
    along = _fold_of(piece).directions[0]
    angle = math.degrees(math.atan2(along[1], along[0]))
    off = (angle - piece.grain_deg + 180.0) % 360.0 - 180.0
    return angle if abs(off) <= 90.0 else angle + 180.0


def _both_halves(half: Outline) -> Outline:
    """Return a half and its mirror image in y = 0 as one outline."""
    count = len(half)
    on = [abs(y) < 1e-6 for _, y in half]
    start = next((k for k in range(count) if on[k - 1] and on[k]), None)
    if start is None:
        return half
    around = [half[(start + k) % count] for k in range(count)]
    while len(around) > 2 and abs(around[1][1]) < 1e-6:
        around.pop(0)
    while len(around) > 2 and abs(around[-2][1]) < 1e-6:
        around.pop()
    back = [(x, -y) for x, y in reversed(around) if abs(y) >= 1e-6]
    return tuple(around) + tuple(back)


def _at_origin(outline: Outline, *, on_fold: bool) -> Outline:
    low_x = min(x for x, _ in outline)
    low_y = 0.0 if on_fold else min(y for _, y in outline)
    return tuple((x - low_x, y - low_y) for x, y in outline)


def _named_apart(pieces: Sequence[LayPiece]) -> tuple[LayPiece, ...]:
    """Give pieces of the same name, as of two shapes, a number each."""
    seen: dict[str, int] = {}
    made = []
    for one in pieces:
        seen[one.name] = seen.get(one.name, 0) + 1
        number = seen[one.name]
        made.append(one if number == 1 else replace(one, name=f"{one.name} ({number})"))
    return tuple(made)
