"""Where the grain line of a piece stands: long, inside, out of the way of the label."""

from __future__ import annotations

import math
from collections.abc import Sequence

from samite.pieces.outline import Piece
from samite.pieces.plane import Point

NARROW_MM = 130.0
"""Width below which the grain line stands aside of the middle of a piece [mm]."""

BESIDE_MM = 4.0
"""Room kept on either side of it, for its heads [mm]."""

LONGEST_MM = 800.0
_LEVELS = 24


def grain_place(piece: Piece) -> tuple[Point, float]:
    """Return the middle and half the length of a grain line inside a piece.

    Parameters
    ----------
    piece : Piece
        The piece.

    Returns
    -------
    tuple of ((float, float), float)
        In a narrow piece it stands aside, so that the label has the rest [mm].
    """
    points = piece.flat(0.5)
    angle = math.radians(piece.grain_deg)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    placed = [
        (p[0] * along[0] + p[1] * along[1], p[0] * across[0] + p[1] * across[1]) for p in points
    ]
    low, high = min(c for _, c in placed), max(c for _, c in placed)
    wanted = 7 if high - low < NARROW_MM else 12
    beside = min(BESIDE_MM, 0.1 * (high - low))
    found = []
    for k in range(1, _LEVELS):
        level = low + (high - low) * k / _LEVELS
        for start, end in _clear_spans(placed, level, beside):
            weight = (end - start) * (1.0 - 0.03 * abs(k - wanted))
            found.append((weight, end - start, (start + end) / 2, level))
    if not found:  # a sliver
        return points[0], 1.0
    _, room, middle, level = max(found)
    place = middle * along[0] + level * across[0], middle * along[1] + level * across[1]
    return place, min(0.35 * room, LONGEST_MM / 2.0)


def _clear_spans(placed: Sequence[Point], level: float, beside: float) -> list[tuple[float, float]]:
    """Return where a line lies inside an outline with room on either side."""
    found = _spans(placed, level)
    for near in (level - beside, level + beside):
        others = _spans(placed, near)
        met = [(max(a, c), min(b, d)) for a, b in found for c, d in others]
        found = [(a, b) for a, b in met if b > a]
    return found


def _spans(placed: Sequence[Point], level: float) -> list[tuple[float, float]]:
    """Return where a line across the grain direction lies inside an outline."""
    cuts = []
    for (a, c), (b, d) in zip(placed, [*placed[1:], placed[0]], strict=True):
        if (c > level) != (d > level):
            cuts.append(a + (b - a) * (level - c) / (d - c))
    cuts.sort()
    return list(zip(cuts[::2], cuts[1::2], strict=False))
