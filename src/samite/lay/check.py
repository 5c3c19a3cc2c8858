"""What is wrong with a lay problem, all of it, in words."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from samite.lay.outline import (
    crosses_itself,
    is_own_mirror_image,
    runs_over_itself,
    signed_area_mm2,
)
from samite.lay.problem import FOLDS, MIRRORS, placements_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from samite.lay.problem import LayPiece, Match, Outline, Point, Problem

MOST_PLACEMENTS = 2000
"""More pieces in one lay than this are refused: they are to be laid in parts."""

MOST_CORNERS = 20000
"""An outline with more corners than this is refused."""

MOST_ANGLES = 64
"""More turns of a piece than this are refused."""

MOST_TOLERANCE_DEG = 15.0
"""More than this is no tolerance of a grain, but another grain [deg]."""

LONGEST_MM = 1e6
"""No piece and no cloth is wider or longer than a kilometre [mm]."""


LEAST_MM2 = 1e-3
"""What encloses less than this is no piece [mm2]."""


def check_problem(problem: Problem) -> tuple[tuple[str, str, str], ...]:
    """Return everything that is wrong with a problem.

    Parameters
    ----------
    problem : Problem
        The question.

    Returns
    -------
    tuple of (str, str, str)
        What is wrong, where, and how to mend it; empty if nothing is.

    Notes
    -----
    Looks at each value and at what contradicts what. Whether a piece fits the cloth is answered
    by the solver, since that is no mistake of writing.
    """
    found = list(_cloth(problem))
    names = Counter(piece.name for piece in problem.pieces)
    if not problem.pieces:
        found.append(("there are no pieces", "pieces", "give at least one piece"))
    found += [
        (f"{count} pieces are named {name!r}", "pieces", "give every piece its own name")
        for name, count in names.items()
        if count > 1
    ]
    for number, piece in enumerate(problem.pieces):
        found += _piece(piece, f"pieces[{number}]", problem)
    wanted = sum(placements_of(piece, folded=problem.folded) for piece in problem.pieces)
    if wanted > MOST_PLACEMENTS:
        message = f"{wanted} placements are more than the {MOST_PLACEMENTS} that one lay can hold"
        found.append((message, "pieces", "lay them in parts, one after the other"))
    for number, match in enumerate(problem.matches):
        found += _match(match, f"matches[{number}]", problem)
    return tuple(found)


def _cloth(problem: Problem) -> Iterator[tuple[str, str, str]]:
    if not 0.0 < problem.width_mm <= LONGEST_MM:
        yield (
            f"a width of {problem.width_mm:g} mm is none",
            "width_mm",
            "give the width of the cloth from selvedge to selvedge, open",
        )
    if problem.fold not in FOLDS:
        yield (f"fold {problem.fold!r} is unknown", "fold", f"give {' or '.join(FOLDS)}")
    for name in ("edge_mm", "gap_mm", "repeat_along_mm", "repeat_across_mm"):
        value = getattr(problem, name)
        if not 0.0 <= value <= LONGEST_MM:
            yield (f"{value:g} mm is below 0 or no length", name, "give 0 or more")
    sides = 1.0 if problem.folded else 2.0
    if problem.width_mm > 0.0 and problem.lying_width_mm <= sides * problem.edge_mm:
        yield (
            f"edges of {problem.edge_mm:g} mm leave nothing of the {problem.lying_width_mm:g} mm",
            "edge_mm",
            "give a smaller edge",
        )
    if problem.outline_mm is not None:
        yield from _outline(problem.outline_mm, "outline_mm")
        if problem.folded and any(y < -1e-6 for _, y in problem.outline_mm):
            yield (
                "the remnant reaches over the fold at y = 0",
                "outline_mm",
                "give the outline as it lies folded, at y = 0 or above",
            )
    for number, hole in enumerate(problem.holes):
        yield from _outline(hole, f"holes[{number}]")


def _outline(outline: Outline, where: str) -> Iterator[tuple[str, str, str]]:
    if len(outline) < 3:
        yield (f"{len(outline)} corners make no outline", where, "give at least three corners")
        return
    if len(outline) > MOST_CORNERS:
        message = f"{len(outline)} corners are more than {MOST_CORNERS}"
        yield (message, where, "leave out corners that lie on a line")
        return
    if not _finite(outline):
        yield ("a corner is not a number, or too far away", where, "give millimetres")
        return
    crossing = crosses_itself(outline)
    if crossing:
        first, second = crossing
        yield (
            f"the outline crosses itself: the sides after corners {first} and {second} meet",
            where,
            "give the corners in order around the piece, each once",
        )
    elif abs(signed_area_mm2(outline)) < LEAST_MM2:
        yield ("the outline encloses nothing", where, "give the corners in order around it")
    elif runs_over_itself(outline):
        yield (
            "the outline runs over itself: part of it is enclosed twice, or the other way round",
            where,
            "give the corners in order around the piece, each once",
        )


def _finite(points: Iterable[Point]) -> bool:
    return all(math.isfinite(v) and abs(v) <= LONGEST_MM for point in points for v in point)


def _piece(piece: LayPiece, where: str, problem: Problem) -> Iterator[tuple[str, str, str]]:
    found = tuple(_outline(piece.outline_mm, f"{where}.outline_mm"))
    yield from found
    if piece.copies < 1:
        message = f"{piece.name!r} is wanted {piece.copies} times"
        yield (message, f"{where}.copies", "give 1 or more, or leave the piece out")
    if piece.mirror not in MIRRORS:
        message = f"mirror {piece.mirror!r} is unknown"
        yield (message, f"{where}.mirror", f"give one of {', '.join(MIRRORS)}")
    if piece.mirror == "pairs" and piece.copies % 2 and not piece.on_fold:
        message = f"{piece.copies} copies of {piece.name!r} make no pairs"
        yield (message, f"{where}.copies", "give an even number, or another mirror")
    if problem.folded and one_handed(piece) and not found:
        yield (
            f"{piece.copies} copies of {piece.name!r} are to lie as drawn, but folded cloth cuts"
            " every other one as its mirror image",
            f"{where}.mirror",
            "give pairs or free, or lay it on open cloth",
        )
    if len(piece.angles_deg) > MOST_ANGLES:
        message = f"{len(piece.angles_deg)} turns are more than {MOST_ANGLES}"
        yield (message, f"{where}.angles_deg", "give fewer turns")
    if not all(math.isfinite(angle) for angle in piece.angles_deg):
        yield ("a turn is not a number", f"{where}.angles_deg", "give degrees")
    if not 0.0 <= piece.grain_tolerance_deg <= MOST_TOLERANCE_DEG:
        yield (
            f"{piece.grain_tolerance_deg:g} degrees are no tolerance of the grain of {piece.name!r}",
            f"{where}.grain_tolerance_deg",
            f"give 0 to {MOST_TOLERANCE_DEG:g} degrees",
        )
    if piece.motif_mm is not None and not _finite([piece.motif_mm]):
        yield ("the motif point is not a number", f"{where}.motif_mm", "give millimetres")
    yield from _fixed(piece, where, problem)
    if piece.on_fold:
        yield from _on_fold(piece, where, problem)


def one_handed(piece: LayPiece) -> bool:
    """Tell whether several copies of a piece must all be of the one hand.

    Parameters
    ----------
    piece : LayPiece
        The piece.

    Returns
    -------
    bool
        Whether folded cloth would spoil some of them.

    Notes
    -----
    Of a single copy the folded cloth cuts a mirror image to spare; that spoils nothing.
    """
    several = piece.mirror == "none" and piece.copies > 1 and not piece.on_fold
    return several and not is_own_mirror_image(piece.outline_mm)


def _fixed(piece: LayPiece, where: str, problem: Problem) -> Iterator[tuple[str, str, str]]:
    if piece.copies > 0 and len(piece.fixed) > placements_of(piece, folded=problem.folded):
        message = f"{len(piece.fixed)} places are kept for fewer pieces of {piece.name!r}"
        yield (message, f"{where}.fixed", "keep at most one place for each placement")
    yield from _kept_copies(piece, where, problem)
    for place in piece.fixed:
        if not _finite([(place.x_mm, place.y_mm)]) or not math.isfinite(place.angle_deg):
            yield ("a kept place is not a number", f"{where}.fixed", "give millimetres and degrees")


def _kept_copies(piece: LayPiece, where: str, problem: Problem) -> Iterator[tuple[str, str, str]]:
    wanted = placements_of(piece, folded=problem.folded)
    copies = [place.copy for place in piece.fixed if place.copy is not None]
    for copy in copies:
        if not 0 <= copy < max(wanted, 1):
            message = f"there is no copy {copy} of {piece.name!r} to keep"
            mend = f"number the copies from 0 to {max(wanted, 1) - 1}"
            yield (message, f"{where}.fixed", mend)
    if len(set(copies)) < len(copies):
        message = f"two places are kept for one copy of {piece.name!r}"
        yield (message, f"{where}.fixed", "give each kept place a copy of its own")


def _on_fold(piece: LayPiece, where: str, problem: Problem) -> Iterator[tuple[str, str, str]]:
    if not problem.folded:
        yield (
            f"{piece.name!r} is to be cut on the fold, but the cloth lies open",
            f"{where}.on_fold",
            "fold the cloth lengthwise, or give the whole piece",
        )
    lowest = min((y for _, y in piece.outline_mm), default=0.0)
    if abs(lowest) > 1e-3:
        yield (
            f"the fold edge of {piece.name!r} lies at y = {lowest:g} mm",
            f"{where}.outline_mm",
            "give the half piece with its fold edge on y = 0 and the rest above",
        )
    if piece.angles_deg and not any(abs(angle % 180.0) < 1e-9 for angle in piece.angles_deg):
        yield (
            f"no turn of {piece.name!r} leaves its fold edge on the fold",
            f"{where}.angles_deg",
            "allow 0 degrees",
        )


def _match(match: Match, where: str, problem: Problem) -> Iterator[tuple[str, str, str]]:
    names = {piece.name for piece in problem.pieces}
    for key, name in (("piece", match.piece), ("with", match.with_piece)):
        if name not in names:
            yield (f"there is no piece {name!r}", f"{where}.{key}", "name a piece of the lay")
    if not _finite([match.at_mm, match.to_mm]):
        yield ("a point to match is not a number", where, "give millimetres")
        return
    if match.piece == match.with_piece:
        off = [
            _off(a - b, repeat)
            for a, b, repeat in zip(
                match.at_mm,
                match.to_mm,
                (problem.repeat_along_mm, problem.repeat_across_mm),
                strict=True,
            )
        ]
        if max(off) > 0.01:
            yield (
                f"two points of {match.piece!r} itself can never fall on one place of the repeat:"
                f" they miss by {max(off):g} mm",
                where,
                "match points of two pieces, or points a whole repeat apart",
            )


def _off(difference: float, repeat: float) -> float:
    """Return how far a difference is from a multiple of the repeat, 0 without a repeat."""
    if repeat <= 0.0:
        return 0.0
    return abs(difference - repeat * round(difference / repeat))
