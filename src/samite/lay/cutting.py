"""A lay as it is cut: in which order, by which table, where each piece is laid with a tape."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from samite.kernel.ranges import require_between
from samite.lay.apart import Array, is_inside, placed
from samite.lay.problem import Lay, LayPiece, Placement, Problem, placements_of
from samite.lay.verify import placed_outline

Point = tuple[float, float]

NEARER = 0.05
"""How much depth is given up for each millimetre nearer to the middle of the piece [-]."""


@dataclass(frozen=True, slots=True)
class CutStep:
    """One piece as it is laid and cut.

    Parameters
    ----------
    number : int
        Place in the order of cutting, from 1.
    piece : LayPiece
        The piece.
    placement : Placement
        Where it lies.
    outline_mm : tuple of (float, float)
        Its outline there [mm].
    middle_mm : tuple of (float, float)
        A point well inside [mm].
    room_mm : float
        How far that point is from the rim [mm].
    grain_mm : tuple of ((float, float), (float, float))
        Ends of the grain line on the piece: its lower end, then its upper [mm].
    section : int
        Which length of the table it is cut on, from 1.
    printed_up : bool
        Whether the paper pattern lies with its printed side up.
    alone : bool
        Whether the piece is laid only once.
    """

    number: int
    piece: LayPiece
    placement: Placement
    outline_mm: tuple[Point, ...]
    middle_mm: Point
    room_mm: float
    grain_mm: tuple[Point, Point]
    section: int
    printed_up: bool
    alone: bool = False

    @property
    def name(self) -> str:
        """Name of the piece, with the number of its copy if there are several."""
        if self.alone:
            return self.piece.name
        return f"{self.piece.name} {self.placement.copy + 1}"

    @property
    def ends_mm(self) -> Point:
        """Where it begins and ends along the cloth [mm]."""
        along = [x for x, _ in self.outline_mm]
        return min(along), max(along)

    @property
    def sides_mm(self) -> Point:
        """Where it begins and ends across the cloth [mm]."""
        across = [y for _, y in self.outline_mm]
        return min(across), max(across)


def cutting_steps(
    problem: Problem, lay: Lay, *, table_mm: float = 0.0, face: str = "up"
) -> tuple[CutStep, ...]:
    """Return the pieces of a lay in the order in which they are laid and cut.

    Parameters
    ----------
    problem : Problem
        What was asked.
    lay : Lay
        The lay.
    table_mm : float
        Length of the table; 0 for one that is long enough [mm].
    face : str
        Which side of the cloth is seen, ``up`` for its right side.

    Returns
    -------
    tuple of CutStep
        From the cut end inwards, so that what is left stays in one.

    Raises
    ------
    OutOfRangeError
        If the table is impossible.

    Notes
    -----
    A section begins where the next uncut piece begins and holds what ends within the table; a piece
    longer than the table is a section of its own.

    References
    ----------
    ``common-practice``: cut from one end, keep the remnant whole.
    """
    require_between(0.0, 100_000.0, table_mm=table_mm)
    pieces = {piece.name: piece for piece in problem.pieces}
    outlines = [placed_outline(pieces[one.piece], one) for one in lay.placements]
    order = sorted(range(len(outlines)), key=lambda k: _begin(outlines[k]))
    sections = _sections([outlines[k] for k in order], table_mm)
    ranked = sorted(zip(sections, order, strict=True), key=lambda pair: pair[0])
    made = []
    for number, (section, k) in enumerate(ranked, 1):
        one, outline = lay.placements[k], outlines[k]
        middle, room = deepest_point(outline)
        made.append(
            CutStep(
                number,
                pieces[one.piece],
                one,
                tuple((float(x), float(y)) for x, y in outline),
                middle,
                room,
                _grain(outline, one, middle),
                section,
                one.mirrored == (face == "down"),
                placements_of(pieces[one.piece], folded=problem.folded) == 1,
            )
        )
    return tuple(made)


def deepest_point(outline: Array) -> tuple[Point, float]:
    """Return a point far inside an outline, for what is written on it.

    Parameters
    ----------
    outline : array of float, shape (n, 2)
        Corners [mm].

    Returns
    -------
    tuple of ((float, float), float)
        The point and its distance from the rim [mm].

    Notes
    -----
    The best of a grid, then of finer ones around it; of places about as deep, one in the middle.

    References
    ----------
    ``derivation``: distance from a line of segments.
    """
    low, size = outline.min(axis=0), np.ptp(outline, axis=0)
    best, room, score = outline.mean(axis=0), 0.0, -1.0
    centre, span = low + size / 2.0, size
    for _ in range(3):
        steps = (np.arange(13) + 0.5) / 13.0 - 0.5
        grid = centre + np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2) * span
        inside = grid[is_inside(grid, outline)]
        if len(inside):
            rooms = _from_rim(inside, outline)
            off = np.hypot(*(inside - low - size / 2.0).T)
            scores = rooms - NEARER * off
            k = int(scores.argmax())
            if scores[k] > score:
                best, room, score = inside[k], float(rooms[k]), float(scores[k])
        centre, span = best, span / 4.0
    return (float(best[0]), float(best[1])), room


def _from_rim(points: Array, outline: Array) -> Array:
    ends = np.roll(outline, -1, axis=0)
    along = ends - outline
    size = np.maximum(np.sum(along * along, axis=1), 1e-300)
    offset = points[:, None, :] - outline[None, :, :]
    t = np.clip(np.sum(offset * along, axis=2) / size, 0.0, 1.0)
    away = offset - t[:, :, None] * along
    nearest: Array = np.sqrt(np.min(np.sum(away * away, axis=2), axis=1))
    return nearest


def _begin(outline: Array) -> tuple[float, float]:
    low = outline.min(axis=0)
    return float(low[0]), float(low[1])


def _sections(outlines: Sequence[Array], table: float) -> list[int]:
    """Number the sections of the table; outlines come in the order of their beginnings."""
    if table <= 0.0:
        return [1] * len(outlines)
    found = [0] * len(outlines)
    section = 0
    while 0 in found:
        section += 1
        first = found.index(0)
        start = outlines[first][:, 0].min()
        found[first] = section
        for k, outline in enumerate(outlines):
            if found[k] == 0 and outline[:, 0].max() <= start + table:
                found[k] = section
    return found


def _grain(outline: Array, one: Placement, middle: Point) -> tuple[Point, Point]:
    """Return a line along the piece's grain through its middle, inside it."""
    tip = placed(
        np.array([[1.0, 0.0]]), angle_deg=one.angle_deg, mirrored=one.mirrored, x_mm=0.0, y_mm=0.0
    )[0]
    reach = float(np.ptp(outline, axis=0).max())
    shares = np.linspace(0.0, 1.0, 241)
    ends = []
    for way in (-1.0, 1.0):
        line = np.array(middle) + np.outer(shares * reach * way, tip)
        inside = is_inside(line, outline)
        last = len(line) - 1 if inside.all() else max(int(np.argmin(inside)) - 1, 0)
        far = line[int(last * 0.85)]
        ends.append((float(far[0]), float(far[1])))
    return ends[0], ends[1]


def grain_slant_deg(step: CutStep) -> float:
    """Return how the grain line of a laid piece stands to the length of the cloth.

    Parameters
    ----------
    step : CutStep
        The piece.

    Returns
    -------
    float
        0 along the cloth, 90 across it [deg].

    Notes
    -----
    The turn of its placement, as a line without a direction.

    References
    ----------
    ``definition``: grain along x before the turn.
    """
    return math.fabs((step.placement.angle_deg + 90.0) % 180.0 - 90.0)
