"""A seam in cross-section as it lies under the iron, one pen line a ply."""

from __future__ import annotations

from samite.sheets.svg import Point

PITCH = 9.0
"""From the middle of one ply to the next."""

HALF, ALLOWANCE = 92.0, 46.0
"""Half of the drawn width, and the width of an allowance."""

PLIES = {"open": 2, "to one side": 3, "french": 5, "edge": 2}
"""Plies under the iron, at the thickest place."""

Line = tuple[Point, ...]


def seam_lines(order: str) -> tuple[tuple[Line, ...], Line]:
    """Return the plies of a seam, wrong side up, around its middle.

    Parameters
    ----------
    order : str
        ``open``, ``to one side``, ``french`` or ``edge``.

    Returns
    -------
    tuple of tuple of (float, float)
        One line a ply; x from the middle, y upwards from the lowest ply.
    tuple of (float, float)
        The stitching.
    """
    return {
        "open": _open,
        "to one side": _to_one_side,
        "french": _french,
        "edge": _edge,
    }[order]()


def _level(ply: float) -> float:
    return PITCH * ply


def _open() -> tuple[tuple[Line, ...], Line]:
    def half(sign: float) -> Line:
        near, low, high = sign * 3.0, _level(0), _level(1)
        bend = ((sign * 6.0, low), (near, low + 2.0), (near, high - 2.0), (sign * 6.0, high))
        return ((sign * HALF, low), *bend, (sign * ALLOWANCE, high))

    return (half(-1.0), half(1.0)), ((-6.0, _level(0.5)), (6.0, _level(0.5)))


def _to_one_side() -> tuple[tuple[Line, ...], Line]:
    lower = ((HALF, _level(0)), (7, _level(0)), (4, 2.0), (4, _level(1) - 2.0), (7, _level(1)))
    upper = ((-HALF, _level(0)), (-10, _level(0)), (-3, _level(1)), (1, _level(2)))
    end = (ALLOWANCE, _level(2))
    stitch = ((8.0, _level(0.6)), (8.0, _level(2.4)))
    return ((*lower, (ALLOWANCE, _level(1))), (*upper, end)), stitch


def _french() -> tuple[tuple[Line, ...], Line]:
    fold = ALLOWANCE + 6.0
    lower = (
        *((HALF, _level(0)), (7, _level(0)), (4, 2.0), (4, _level(1) - 2.0), (7, _level(1))),
        *((fold, _level(1)), (fold + 4, _level(1.3)), (fold, _level(2)), (16, _level(2))),
    )
    upper = (
        *((-HALF, _level(0)), (-14, _level(0)), (-6, _level(2)), (1, _level(4))),
        *((fold, _level(4)), (fold + 4, _level(3.7)), (fold, _level(3)), (16, _level(3))),
    )
    return (lower, upper), ((8.0, _level(0.6)), (8.0, _level(4.4)))


def _edge() -> tuple[tuple[Line, ...], Line]:
    plies = tuple(((-HALF, _level(ply)), (ALLOWANCE, _level(ply))) for ply in (0, 1))
    return plies, ((0.0, -3.0), (0.0, _level(1) + 3.0))
