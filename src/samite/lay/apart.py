"""How far outlines lie apart, how deep they overlap: plain arrays, double precision.

Written for checking lays, slow and simple on purpose: it shares nothing with what makes them.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def placed(outline: Array, *, angle_deg: float, mirrored: bool, x_mm: float, y_mm: float) -> Array:
    """Return an outline where a placement puts it.

    Parameters
    ----------
    outline : array of float, shape (n, 2)
        Corners, the first not repeated [mm].
    angle_deg : float
        Turn about (0, 0), anticlockwise [deg].
    mirrored : bool
        Whether it is mirrored first, y to -y.
    x_mm : float
        Then moved along the cloth [mm].
    y_mm : float
        And across it [mm].

    Returns
    -------
    array of float, shape (n, 2)
        Anticlockwise or clockwise as the placement makes it [mm].

    Notes
    -----
    Quarter turns are exact; others are off by rounding, below 1e-9 mm on any cloth.

    References
    ----------
    ``definition``: mirror, turn, then move, in this order.
    """
    points = outline * np.array([1.0, -1.0]) if mirrored else outline
    quarter = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    angle = float(angle_deg) % 360.0
    if angle in quarter:
        cosine, sine = quarter[angle]
    else:
        cosine, sine = float(np.cos(np.radians(angle))), float(np.sin(np.radians(angle)))
    turn = np.array([[cosine, sine], [-sine, cosine]])
    return np.asarray(points @ turn + np.array([x_mm, y_mm]), dtype=np.float64)


def area_mm2(outline: Array) -> float:
    """Return the area inside an outline, whichever way it runs.

    Parameters
    ----------
    outline : array of float, shape (n, 2)
        Corners [mm].

    Returns
    -------
    float
        Area [mm2].

    Notes
    -----
    Exact for a polygon; corners are taken from the first, so that a far place costs no digits.

    References
    ----------
    ``derivation``: the trapezoid sum.
    """
    x, y = (outline - outline[0]).T
    return float(abs(np.sum(x * _next(y) - _next(x) * y)) / 2.0)


def distance_mm(first: Array, second: Array, reach_mm: float) -> float:
    """Return the distance between the lines of two outlines; 0 where they cross.

    Parameters
    ----------
    first : array of float, shape (n, 2)
        Corners [mm].
    second : array of float, shape (m, 2)
        Corners [mm].
    reach_mm : float
        Distances beyond this are not told apart [mm].

    Returns
    -------
    float
        Distance, or `reach_mm` if that is less [mm].

    Notes
    -----
    Between lines only: an outline wholly inside another has a distance too.

    References
    ----------
    ``derivation``: two segments that do not cross are nearest at an end of one.
    """
    found = _near_sides(first, second, reach_mm)
    if found is None:
        return reach_mm
    a0, a1, b0, b1 = found
    if _crossing(a0, a1, b0, b1).any():
        return 0.0
    nearest = min(
        _point_to_sides(a0, b0, b1), _point_to_sides(a1, b0, b1),
        _point_to_sides(b0, a0, a1), _point_to_sides(b1, a0, a1),
    )  # fmt: skip
    return min(nearest, reach_mm)


def overlap_mm(first: Array, second: Array) -> float:
    """Return how deep two outlines overlap.

    Parameters
    ----------
    first : array of float, shape (n, 2)
        Corners [mm].
    second : array of float, shape (m, 2)
        Corners [mm].

    Returns
    -------
    float
        The farthest that a part of the line of one lies inside the other; 0 if they are apart or
        only touch [mm].

    Notes
    -----
    The lines are cut where they meet, and the middle of every part is asked; so are all corners and
    one inner point, for outlines that are one. Errs short by at most half the length of a part.

    References
    ----------
    ``derivation``: the rim of what two outlines share is made of parts of their lines.
    """
    if not _boxes_meet(first, second, 0.0):
        return 0.0
    deepest = 0.0
    for one, other in ((first, second), (second, first)):
        points = np.vstack([_probes(one, other), inner_point(one)[None, :]])
        inside = is_inside(points, other)
        if inside.any():
            deepest = max(deepest, _deepest(points[inside], other))
    return deepest


def outside_mm(piece: Array, cloth: Array) -> float:
    """Return how far a piece reaches out of an outline.

    Parameters
    ----------
    piece : array of float, shape (n, 2)
        Corners [mm].
    cloth : array of float, shape (m, 2)
        Corners of what must hold it [mm].

    Returns
    -------
    float
        The farthest; 0 if it lies inside or only touches [mm].

    Notes
    -----
    As for overlaps: parts of the piece's line outside the cloth, and parts of the cloth's line
    inside the piece.

    References
    ----------
    ``derivation``: as for overlaps, with the outside of the cloth for the second outline.
    """
    own = _probes(piece, cloth)
    out = own[~is_inside(own, cloth)]
    farthest = _deepest(out, cloth) if len(out) else 0.0
    theirs = _probes(cloth, piece)
    into = theirs[is_inside(theirs, piece)]
    return max(farthest, _deepest(into, piece) if len(into) else 0.0)


def overlap_area_mm2(first: Array, second: Array) -> float:
    """Return the area that two outlines share.

    Parameters
    ----------
    first : array of float, shape (n, 2)
        Corners [mm].
    second : array of float, shape (m, 2)
        Corners [mm].

    Returns
    -------
    float
        Area [mm2].

    Notes
    -----
    Exact: between two neighbouring places along x at which a corner lies or two lines meet, every
    width changes evenly, so that the width in the middle times the length is the area.

    References
    ----------
    ``derivation``: trapezoids between all corners and meetings.
    """
    if not _boxes_meet(first, second, 0.0):
        return 0.0
    low = max(first[:, 0].min(), second[:, 0].min())
    high = min(first[:, 0].max(), second[:, 0].max())
    places = np.concatenate([first[:, 0], second[:, 0], _meetings(first, second)])
    places = np.unique(np.clip(places, low, high))
    middles, lengths = (places[1:] + places[:-1]) / 2.0, np.diff(places)
    shared = 0.0
    for middle, length in zip(middles[lengths > 0.0], lengths[lengths > 0.0], strict=True):
        shared += length * _common(_spans(first, middle), _spans(second, middle))
    return float(shared)


def is_inside(points: Array, outline: Array) -> NDArray[np.bool_]:
    """Tell which points lie inside an outline.

    Parameters
    ----------
    points : array of float, shape (k, 2)
        The points [mm].
    outline : array of float, shape (n, 2)
        Corners [mm].

    Returns
    -------
    array of bool, shape (k,)
        True inside; on the line either may come out.

    Notes
    -----
    Counts the sides above each point.

    References
    ----------
    ``derivation``: a ray from inside crosses the line an odd number of times.
    """
    found = np.zeros(len(points), dtype=np.bool_)
    x0, y0 = outline.T
    x1, y1 = _next(outline).T
    steep = np.where(x1 == x0, 1.0, x1 - x0)
    for rows in _chunks(len(points), len(outline)):
        x, y = points[rows, 0, None], points[rows, 1, None]
        spans = (x0[None, :] > x) != (x1[None, :] > x)
        above = y0 + (x - x0) * (y1 - y0) / steep > y
        found[rows] = np.count_nonzero(spans & above, axis=1) % 2 == 1
    return found


def inner_point(outline: Array) -> Array:
    """Return a point well inside an outline.

    Parameters
    ----------
    outline : array of float, shape (n, 2)
        Corners [mm].

    Returns
    -------
    array of float, shape (2,)
        The middle of a long span across it, away from its ends [mm].

    Notes
    -----
    Spans at nine levels between its ends; not the deepest point, but never near the line of an
    outline that is not thin everywhere.

    References
    ----------
    ``derivation``: the middle of a span lies inside.
    """
    low, high = outline[:, 0].min(), outline[:, 0].max()
    best, found = -1.0, outline.mean(axis=0)
    for share in np.linspace(0.1, 0.9, 9) + 0.0123:
        level = low + (high - low) * share
        for start, end in _spans(outline, float(level)):
            room = min((end - start) / 2.0, level - low, high - level)
            if room > best:
                best, found = room, np.array([level, (start + end) / 2.0])
    return np.asarray(found, dtype=np.float64)


def _spans(outline: Array, level: float) -> list[tuple[float, float]]:
    """Return where a line across the cloth lies inside an outline."""
    x0, y0 = outline.T
    x1, y1 = _next(outline).T
    cut = (x0 > level) != (x1 > level)
    t = (level - x0[cut]) / (x1[cut] - x0[cut])
    places = np.sort(y0[cut] + t * (y1[cut] - y0[cut]))
    return [(float(a), float(b)) for a, b in zip(places[::2], places[1::2], strict=False)]


def _common(first: list[tuple[float, float]], second: list[tuple[float, float]]) -> float:
    return sum(max(0.0, min(b, d) - max(a, c)) for a, b in first for c, d in second)


def _boxes_meet(first: Array, second: Array, reach: float) -> bool:
    low, high = first.min(axis=0) - reach, first.max(axis=0) + reach
    return bool(np.all(low <= second.max(axis=0)) and np.all(second.min(axis=0) <= high))


def _next(corners: Array) -> Array:
    """Return every corner's next one, round the outline; quicker than a general roll."""
    return np.concatenate((corners[1:], corners[:1]))


def _sides(outline: Array) -> tuple[Array, Array]:
    return outline, _next(outline)


def _within(starts: Array, ends: Array, other: Array, reach: float) -> NDArray[np.bool_]:
    """Tell which sides come within reach of the box around another outline."""
    low, high = other.min(axis=0) - reach, other.max(axis=0) + reach
    near: NDArray[np.bool_] = np.all(
        (np.minimum(starts, ends) <= high) & (np.maximum(starts, ends) >= low), axis=1
    )
    return near


def _near_sides(
    first: Array, second: Array, reach: float
) -> tuple[Array, Array, Array, Array] | None:
    if not _boxes_meet(first, second, reach):
        return None
    a0, a1 = _sides(first)
    b0, b1 = _sides(second)
    near_a, near_b = _within(a0, a1, second, reach), _within(b0, b1, first, reach)
    if not (near_a.any() and near_b.any()):
        return None
    return a0[near_a], a1[near_a], b0[near_b], b1[near_b]


def _side_of(points: Array, starts: Array, ends: Array) -> Array:
    """Return twice the signed area of (start, end, point): rows are points, columns sides."""
    along = ends - starts
    dx = points[:, None, 0] - starts[None, :, 0]
    dy = points[:, None, 1] - starts[None, :, 1]
    return np.asarray(along[None, :, 0] * dy - along[None, :, 1] * dx)


def _crossing(a0: Array, a1: Array, b0: Array, b1: Array) -> NDArray[np.bool_]:
    """Tell which sides cross properly: rows are sides of the first, columns of the second."""
    of_b = _side_of(a0, b0, b1) * _side_of(a1, b0, b1) < 0.0
    of_a = (_side_of(b0, a0, a1) * _side_of(b1, a0, a1)).T < 0.0
    return np.asarray(of_a & of_b)


def _along(a0: Array, a1: Array, b0: Array, b1: Array) -> Any:
    """Return where two lines meet, as a share of the first."""
    u, v, w = a1 - a0, b1 - b0, b0 - a0
    turn = u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]
    return (w[..., 0] * v[..., 1] - w[..., 1] * v[..., 0]) / np.where(turn == 0.0, 1.0, turn)


def _meetings(first: Array, second: Array) -> Array:
    """Return the places along x at which two outlines meet, and a few where they nearly do."""
    found = _near_sides(first, second, 0.0)
    if found is None:
        return np.empty(0)
    a0, a1, b0, b1 = found
    t = _along(a0[:, None], a1[:, None], b0[None, :], b1[None, :])
    s = _along(b0[None, :], b1[None, :], a0[:, None], a1[:, None])
    slack = 1e-9
    hit = (t >= -slack) & (t <= 1.0 + slack) & (s >= -slack) & (s <= 1.0 + slack)
    rows, columns = np.nonzero(hit)
    shares = t[rows, columns]
    return np.asarray(a0[rows, 0] + shares * (a1[rows, 0] - a0[rows, 0]), dtype=np.float64)


def _probes(one: Array, other: Array) -> Array:
    """Return corners of an outline, and the middles of its sides cut where another meets them."""
    starts, ends = _sides(one)
    near = _within(starts, ends, other, 0.0)
    b0, b1 = _sides(other)
    keep = _within(b0, b1, one, 0.0)
    b0, b1 = b0[keep], b1[keep]
    points = [one, (starts + ends) / 2.0]
    for start, end in zip(starts[near], ends[near], strict=True):
        if not len(b0):
            break
        a0, a1 = start[None, :], end[None, :]
        t, s = _along(a0, a1, b0, b1), _along(b0, b1, a0, a1)
        cuts = t[(t > 0.0) & (t < 1.0) & (s >= -1e-9) & (s <= 1.0 + 1e-9)]
        if len(cuts):
            shares = np.concatenate([[0.0], np.sort(cuts), [1.0]])
            middles = (shares[1:] + shares[:-1]) / 2.0
            points.append(start + middles[:, None] * (end - start))
    return np.vstack(points)


def _point_to_sides(points: Array, starts: Array, ends: Array) -> float:
    return float(_distances(points, starts, ends).min())


def _deepest(points: Array, outline: Array) -> float:
    return float(_distances(points, *_sides(outline)).max())


def _distances(points: Array, starts: Array, ends: Array) -> Array:
    """Return the distance of every point from the nearest side."""
    along = ends - starts
    size = np.maximum(np.sum(along * along, axis=1), 1e-300)
    nearest = np.empty(len(points))
    for rows in _chunks(len(points), len(starts)):
        dx = points[rows, None, 0] - starts[None, :, 0]
        dy = points[rows, None, 1] - starts[None, :, 1]
        t = np.clip((dx * along[:, 0] + dy * along[:, 1]) / size, 0.0, 1.0)
        dx -= t * along[:, 0]
        dy -= t * along[:, 1]
        nearest[rows] = np.sqrt(np.min(dx * dx + dy * dy, axis=1))
    return nearest


def _chunks(points: int, sides: int) -> list[slice]:
    """Return slices of points, so that no table grows beyond some megabytes."""
    rows = max(1, 1_000_000 // max(sides, 1))
    return [slice(first, first + rows) for first in range(0, points, rows)]
