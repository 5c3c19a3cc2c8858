"""Whether a lay can be cut: every rule of the problem, on the original outlines.

Shares nothing with what makes lays but the frozen problem and answer.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from samite.lay.apart import (
    Array,
    area_mm2,
    distance_mm,
    is_inside,
    outside_mm,
    overlap_area_mm2,
    overlap_mm,
    placed,
)
from samite.lay.problem import Lay, LayPiece, Placement, Problem, placements_of

TOLERANCE_MM = 1e-3
"""A micrometre: less than this is no fault, since no shears and no chalk can tell it [mm]."""

LOOK_MM = 1.0
"""Outlines farther apart than this, and than the gap, are not measured [mm]."""

ANGLE_TOLERANCE_DEG = 1e-6
"""A turn nearer than this to one that is allowed is allowed [deg]."""

KINDS = (
    "piece", "copies", "pairs", "angle", "fixed", "cloth", "edge", "fold", "apart", "flaw",
    "motif", "match", "length",
)  # fmt: skip
"""What can be wrong with a lay."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing for which a lay cannot be cut.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    text : str
        What is wrong, in words.
    pieces : tuple of str
        The pieces it is about, each with the number of its copy.
    by_mm : float
        By how much; 0 where it is no length [mm].
    """

    kind: str
    text: str
    pieces: tuple[str, ...] = ()
    by_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class _Laid:
    """A placement with the piece that it places and its outline there."""

    piece: LayPiece
    placement: Placement
    outline: Array

    @property
    def name(self) -> str:
        return f"{self.piece.name} {self.placement.copy + 1}"


def check_lay(
    problem: Problem, lay: Lay, *, tolerance_mm: float = TOLERANCE_MM
) -> tuple[Fault, ...]:
    """Return everything for which a lay cannot be cut as it is drawn.

    Parameters
    ----------
    problem : Problem
        What was asked.
    lay : Lay
        What was answered; of one that places nothing, nothing is said.
    tolerance_mm : float
        Less than this is no fault [mm].

    Returns
    -------
    tuple of Fault
        Empty if it can be cut.

    Notes
    -----
    In double precision on the outlines of the problem. Errs to the strict side by rounding only.

    References
    ----------
    ``definition``: the rules stand with the problem.
    """
    if not lay.placements:
        return ()
    pieces = {piece.name: piece for piece in problem.pieces}
    found = list(_unknown(pieces, lay))
    laid = [
        _Laid(pieces[one.piece], one, placed_outline(pieces[one.piece], one))
        for one in lay.placements
        if one.piece in pieces and _is_finite(one)
    ]
    found += _copies(problem, lay)
    for one in laid:
        found += _one_piece(problem, one, tolerance_mm)
    found += _too_near(problem.gap_mm, laid, tolerance_mm)
    found += _flaws(problem, laid, tolerance_mm)
    found += _repeat(problem, laid, tolerance_mm)
    found += _length(problem, lay, laid, tolerance_mm)
    return tuple(found)


def placed_outline(piece: LayPiece, placement: Placement) -> Array:
    """Return the outline of a piece where it lies.

    Parameters
    ----------
    piece : LayPiece
        The piece.
    placement : Placement
        Where it lies.

    Returns
    -------
    array of float, shape (n, 2)
        Corners [mm].

    Notes
    -----
    Mirror, turn, then move, as `placed` does.

    References
    ----------
    ``definition``: the convention stands with the problem.
    """
    return placed(
        np.asarray(piece.outline_mm, dtype=np.float64),
        angle_deg=placement.angle_deg,
        mirrored=placement.mirrored,
        x_mm=placement.x_mm,
        y_mm=placement.y_mm,
    )


def pieces_area_mm2(problem: Problem) -> float:
    """Return the area of all pieces, every copy and both halves of those on the fold.

    Parameters
    ----------
    problem : Problem
        The pieces.

    Returns
    -------
    float
        Area [mm2].

    Notes
    -----
    Of an odd number cut double, the one to spare is not counted.

    References
    ----------
    ``definition``: copies times area.
    """
    return math.fsum(
        area_mm2(np.asarray(piece.outline_mm)) * piece.copies * (2.0 if piece.on_fold else 1.0)
        for piece in problem.pieces
    )


def use_percent(problem: Problem, length_mm: float) -> float:
    """Return the share of the cloth that becomes pieces.

    Parameters
    ----------
    problem : Problem
        The pieces and the width.
    length_mm : float
        Cloth used [mm].

    Returns
    -------
    float
        Area of all pieces over open width times length, or over the area of a remnant [-].

    Notes
    -----
    As the published lengths of benchmark lays are compared.

    References
    ----------
    ``lay-records``: densities of the garment instances.
    """
    cloth = (
        area_mm2(np.asarray(problem.outline_mm)) * (2.0 if problem.folded else 1.0)
        if problem.outline_mm is not None
        else problem.width_mm * length_mm
    )
    return 100.0 * pieces_area_mm2(problem) / cloth if cloth > 0.0 else 0.0


def _is_finite(one: Placement) -> bool:
    return all(math.isfinite(value) for value in (one.x_mm, one.y_mm, one.angle_deg))


def _unknown(pieces: dict[str, LayPiece], lay: Lay) -> Iterator[Fault]:
    for one in lay.placements:
        if one.piece not in pieces:
            yield Fault("piece", f"there is no piece {one.piece!r}", (one.piece,))
        elif not _is_finite(one):
            yield Fault("piece", f"{one.piece} lies at no finite place", (one.piece,))


def _copies(problem: Problem, lay: Lay) -> Iterator[Fault]:
    counted = Counter(one.piece for one in lay.placements)
    numbers: dict[str, set[int]] = {}
    for one in lay.placements:
        numbers.setdefault(one.piece, set()).add(one.copy)
    for piece in problem.pieces:
        wanted = placements_of(piece, folded=problem.folded)
        if counted[piece.name] != wanted:
            text = f"{piece.name} lies {counted[piece.name]} times instead of {wanted}"
            yield Fault("copies", text, (piece.name,))
        elif numbers.get(piece.name, set()) != set(range(wanted)):
            yield Fault("copies", f"copies of {piece.name} are numbered wrongly", (piece.name,))
        yield from _pairs(problem, lay, piece, wanted)
        yield from _kept(lay, piece)


def _pairs(problem: Problem, lay: Lay, piece: LayPiece, wanted: int) -> Iterator[Fault]:
    mirrored = sum(one.mirrored for one in lay.placements if one.piece == piece.name)
    if piece.on_fold or piece.mirror == "free":
        return
    if piece.mirror == "none" and mirrored:
        text = f"{piece.name} is mirrored {mirrored} times, but must lie as it is drawn"
        yield Fault("pairs", text, (piece.name,))
    if piece.mirror == "none" and problem.folded and piece.copies > 1 and _has_hands(piece):
        text = f"folded cloth cuts every other {piece.name} as its mirror image, not as it is drawn"
        yield Fault("pairs", text, (piece.name,))
    if piece.mirror == "pairs" and not problem.folded and 2 * mirrored != wanted:
        text = f"{mirrored} of {wanted} copies of {piece.name} are mirrored: that makes no pairs"
        yield Fault("pairs", text, (piece.name,))


def _has_hands(piece: LayPiece) -> bool:
    """Whether the mirror image of a piece, along or across the grain, is another shape."""
    drawn = np.asarray(piece.outline_mm, dtype=np.float64)
    ends = drawn.min(axis=0) + drawn.max(axis=0)
    for axis in (0, 1):
        flipped = drawn.copy()[::-1]
        flipped[:, axis] = ends[axis] - flipped[:, axis]
        missed = area_mm2(drawn) - overlap_area_mm2(drawn, flipped)
        if missed <= 1e-5 * area_mm2(drawn):
            return False
    return True


def _kept(lay: Lay, piece: LayPiece) -> Iterator[Fault]:
    own = [one for one in lay.placements if one.piece == piece.name]
    for place in piece.fixed:
        for one in own:
            near = math.hypot(one.x_mm - place.x_mm, one.y_mm - place.y_mm) <= TOLERANCE_MM
            turned = _turn_apart(one.angle_deg, place.angle_deg) <= ANGLE_TOLERANCE_DEG
            if near and turned and one.mirrored == place.mirrored:
                own.remove(one)
                break
        else:
            text = (
                f"{piece.name} does not lie at ({place.x_mm:g}, {place.y_mm:g}), where it is kept"
            )
            yield Fault("fixed", text, (piece.name,))


def _turn_apart(first: float, second: float) -> float:
    return abs((first - second + 180.0) % 360.0 - 180.0)


def _one_piece(problem: Problem, one: _Laid, tolerance: float) -> Iterator[Fault]:
    allowed = one.piece.angles_deg or (0.0,)
    angle = one.placement.angle_deg
    kept = any(_turn_apart(angle, place.angle_deg) == 0.0 for place in one.piece.fixed)
    if not kept and all(_turn_apart(angle, turn) > ANGLE_TOLERANCE_DEG for turn in allowed):
        text = f"{one.name} is turned by {angle:g} degrees, which is not allowed"
        yield Fault("angle", text, (one.name,))
    if one.piece.on_fold:
        yield from _on_fold(problem, one, tolerance)
    if problem.outline_mm is not None:
        yield from _on_remnant(problem, one, tolerance)
    else:
        yield from _on_bolt(problem, one, tolerance)


def _on_fold(problem: Problem, one: _Laid, tolerance: float) -> Iterator[Fault]:
    if not problem.folded:
        yield Fault("fold", f"{one.name} needs a fold, the cloth lies open", (one.name,))
        return
    original = np.asarray(one.piece.outline_mm)
    off = abs(one.outline[np.abs(original[:, 1]) <= tolerance, 1])
    farthest = float(off.max()) if len(off) else math.inf
    lowest = float(one.outline[:, 1].min())
    if farthest > tolerance or lowest < -tolerance:
        by = max(farthest, -lowest)
        yield Fault(
            "fold", f"the fold edge of {one.name} is {by:.3f} mm off the fold", (one.name,), by
        )


def _on_bolt(problem: Problem, one: _Laid, tolerance: float) -> Iterator[Fault]:
    (low_x, low_y), (_, high_y) = one.outline.min(axis=0), one.outline.max(axis=0)
    if -low_x > tolerance:
        text = f"{one.name} reaches {-low_x:.3f} mm over the cut end of the cloth"
        yield Fault("cloth", text, (one.name,), float(-low_x))
    low = 0.0 if problem.folded else problem.edge_mm
    high = problem.lying_width_mm - problem.edge_mm
    over = max(low - low_y, high_y - high)
    if over > tolerance:
        off_cloth = low_y < -tolerance or high_y > problem.lying_width_mm + tolerance
        where = "over the cloth" if off_cloth else "into the edge that is kept free"
        kind = "cloth" if off_cloth else "edge"
        yield Fault(kind, f"{one.name} reaches {over:.3f} mm {where}", (one.name,), float(over))


def _on_remnant(problem: Problem, one: _Laid, tolerance: float) -> Iterator[Fault]:
    cloth = np.asarray(problem.outline_mm, dtype=np.float64)
    over = outside_mm(one.outline, cloth)
    if over > tolerance:
        yield Fault("cloth", f"{one.name} reaches {over:.3f} mm over the cloth", (one.name,), over)
    elif problem.edge_mm > 0.0:
        room = _from_rim(one.outline, cloth, problem)
        if room < problem.edge_mm - tolerance:
            by = problem.edge_mm - room
            text = f"{one.name} reaches {by:.3f} mm into the edge that is kept free"
            yield Fault("edge", text, (one.name,), by)


def _from_rim(outline: Array, cloth: Array, problem: Problem) -> float:
    """Return the distance from the rim of a remnant; its fold is no rim."""
    if not problem.folded:
        return distance_mm(outline, cloth, problem.edge_mm)
    nearest = problem.edge_mm
    for start, end in zip(cloth, np.roll(cloth, -1, axis=0), strict=True):
        if max(abs(start[1]), abs(end[1])) > TOLERANCE_MM:
            side = np.vstack([start, end])
            nearest = min(nearest, distance_mm(outline, side, problem.edge_mm))
    return nearest


def _too_near(gap: float, laid: list[_Laid], tolerance: float) -> Iterator[Fault]:
    for first, second in _neighbours(laid, gap):
        names = (first.name, second.name)
        apart = distance_mm(first.outline, second.outline, max(gap, LOOK_MM))
        if apart > 0.0 and not _nested(first.outline, second.outline):
            if apart < gap - tolerance:
                text = f"{first.name} and {second.name} are {apart:.3f} mm apart instead of {gap:g}"
                yield Fault("apart", text, names, gap - apart)
            continue
        depth, shared = _overlap(first.outline, second.outline, tolerance)
        if depth > tolerance:
            text = f"{first.name} and {second.name} overlap by {depth:.3f} mm ({shared:.1f} mm2)"
            yield Fault("apart", text, names, depth)
        elif gap > tolerance:
            text = f"{first.name} and {second.name} touch instead of lying {gap:g} mm apart"
            yield Fault("apart", text, names, gap)


def _nested(first: Array, second: Array) -> bool:
    """Tell whether one of two outlines that do not meet lies inside the other."""
    return bool(is_inside(first[:1], second)[0] or is_inside(second[:1], first)[0])


def _overlap(first: Array, second: Array, tolerance: float) -> tuple[float, float]:
    """Return depth and area of an overlap; the area alone decides where no line shows a depth."""
    depth = overlap_mm(first, second)
    shared = overlap_area_mm2(first, second)
    around = min(_around(first), _around(second))
    return (max(depth, shared / around) if shared > tolerance * around else depth), shared


def _around(outline: Array) -> float:
    sides = np.roll(outline, -1, axis=0) - outline
    return float(np.sum(np.hypot(sides[:, 0], sides[:, 1])))


def _neighbours(laid: list[_Laid], gap: float) -> Iterator[tuple[_Laid, _Laid]]:
    """Yield the pairs whose boxes come nearer than the gap."""
    if not laid:
        return
    low = np.array([one.outline.min(axis=0) for one in laid]) - gap / 2.0
    high = np.array([one.outline.max(axis=0) for one in laid]) + gap / 2.0
    for i in range(len(laid) - 1):
        rest = slice(i + 1, None)
        near: NDArray[np.bool_] = np.all((low[i] < high[rest]) & (low[rest] < high[i]), axis=1)
        for j in np.flatnonzero(near):
            yield laid[i], laid[i + 1 + int(j)]


def _flaws(problem: Problem, laid: list[_Laid], tolerance: float) -> Iterator[Fault]:
    for number, corners in enumerate(problem.holes, 1):
        hole = np.asarray(corners, dtype=np.float64)
        for one in laid:
            depth, _ = _overlap(one.outline, hole, tolerance)
            if depth > tolerance:
                text = f"{one.name} reaches {depth:.3f} mm into flaw {number}"
                yield Fault("flaw", text, (one.name,), depth)


def _point(one: _Laid, at_mm: tuple[float, float]) -> Array:
    point: Array = placed(
        np.array([at_mm]),
        angle_deg=one.placement.angle_deg,
        mirrored=one.placement.mirrored,
        x_mm=one.placement.x_mm,
        y_mm=one.placement.y_mm,
    )[0]
    return point


def _off_repeat(problem: Problem, difference: Array) -> float:
    """Return how far a difference is from whole repeats, along and across."""
    repeats = (problem.repeat_along_mm, problem.repeat_across_mm)
    off = [
        abs(value - repeat * round(value / repeat))
        for value, repeat in zip(difference.tolist(), repeats, strict=True)
        if repeat > 0.0
    ]
    return max(off, default=0.0)


def _repeat(problem: Problem, laid: list[_Laid], tolerance: float) -> Iterator[Fault]:
    for one in laid:
        if one.piece.motif_mm is not None:
            off = _off_repeat(problem, _point(one, one.piece.motif_mm))
            if off > tolerance:
                text = f"the point of {one.name} is {off:.3f} mm off the motif"
                yield Fault("motif", text, (one.name,), off)
    for match in problem.matches:
        ours = [one for one in laid if one.piece.name == match.piece]
        theirs = [one for one in laid if one.piece.name == match.with_piece]
        for first, second in itertools.product(ours, theirs):
            apart = _point(first, match.at_mm) - _point(second, match.to_mm)
            off = _off_repeat(problem, apart)
            if off > tolerance:
                text = f"{first.name} and {second.name} miss each other's figure by {off:.3f} mm"
                yield Fault("match", text, (first.name, second.name), off)


def _length(problem: Problem, lay: Lay, laid: list[_Laid], tolerance: float) -> Iterator[Fault]:
    if not laid or problem.outline_mm is not None:
        return
    longest = max(float(one.outline[:, 0].max()) for one in laid)
    if abs(longest - lay.length_mm) > tolerance:
        text = f"the pieces end at {longest:.3f} mm, the lay says {lay.length_mm:.3f} mm"
        yield Fault("length", text, (), abs(longest - lay.length_mm))


def is_on_cloth(problem: Problem, outline: Array) -> bool:
    """Tell whether an outline lies on cloth, free of flaws.

    Parameters
    ----------
    problem : Problem
        The cloth.
    outline : array of float, shape (n, 2)
        Corners [mm].

    Returns
    -------
    bool
        True if no part of it is over the cloth's rim or in a flaw.

    Notes
    -----
    The edge that pieces keep free counts as cloth.

    References
    ----------
    ``definition``: inside the cloth, outside its flaws.
    """
    if problem.outline_mm is not None:
        on_cloth = outside_mm(outline, np.asarray(problem.outline_mm)) <= TOLERANCE_MM
    else:
        low, high = outline.min(axis=0), outline.max(axis=0)
        room = problem.lying_width_mm + TOLERANCE_MM
        on_cloth = bool(low[0] >= -TOLERANCE_MM and low[1] >= -TOLERANCE_MM and high[1] <= room)
    return on_cloth and not any(
        overlap_mm(outline, np.asarray(hole)) > TOLERANCE_MM for hole in problem.holes
    )
