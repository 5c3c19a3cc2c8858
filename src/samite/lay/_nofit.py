"""No-fit regions: where the middle of one shape may not lie while another stays put."""

from __future__ import annotations

import itertools
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from samite.lay._nofit_kernel import half_planes, picture_of_depth, rim_of_union, sums_of_parts
from samite.lay._search_kernel import Geometry

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from samite.lay._parts import Part
    from samite.lay._shapes import Shapes

THREADS = 2
"""Threads that make regions; the compiled code lets them run side by side."""

T = TypeVar("T")
R = TypeVar("R")

SLACK_MM = 1e-7
"""A side is inside a part only if it is so by more than this [mm]."""


@dataclass(frozen=True, slots=True)
class Region:
    """Where shape b may not have its middle, shape a lying at (0, 0)."""

    corners: NDArray[np.float64]
    starts: NDArray[np.int32]
    edges: NDArray[np.float64]
    boxes: NDArray[np.float64]
    rim: NDArray[np.float64]


def flat_parts(parts: Sequence[Part]) -> tuple[NDArray[np.float64], NDArray[np.int32]]:
    """Return the corners of convex parts in one array, and where each part starts."""
    starts = np.zeros(len(parts) + 1, np.int32)
    starts[1:] = np.cumsum([len(part) for part in parts])
    return np.array([point for part in parts for point in part], dtype=float), starts


def region_of(
    a: tuple[NDArray[np.float64], NDArray[np.int32]],
    b: tuple[NDArray[np.float64], NDArray[np.int32]],
) -> Region:
    """Return the no-fit region of two shapes in flat convex parts.

    It is the union of the sums of a's parts with b's parts mirrored at the middle, exact to
    rounding; its rim is what of the sums' sides lies inside no other sum.
    """
    corners, starts = sums_of_parts(*a, *b)
    edges, boxes = half_planes(corners, starts)
    rim = rim_of_union(corners, starts, edges, boxes, SLACK_MM)
    return Region(corners, starts, edges, boxes, rim)


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which pairs are asked for, and the distance each is to keep."""

    first: int
    second: int
    gap_mm: float
    window: tuple[float, float, float, float] | None = None


def pair_numbers(
    shapes: Shapes, pieces: int, obstacles: Sequence[tuple[int, float]], gap_mm: float
) -> tuple[NDArray[np.int32], NDArray[np.int8], list[tuple[int, int, float]]]:
    """Number the regions that are needed; half turns and swapped pairs share one."""
    count = len(shapes.found)
    number = np.full((count, count), -1, np.int32)
    flip = np.zeros((count, count), np.int8)
    wanted: list[tuple[int, int, float]] = []
    half = [shapes.half_turn(s) if s < pieces else -1 for s in range(count)]
    seen: dict[tuple[int, int], int] = {}
    for s in range(pieces):
        for t in range(pieces):
            ways = [(s, t, 0), (t, s, 1)]
            if half[s] >= 0 and half[t] >= 0:
                ways += [(half[s], half[t], 1), (half[t], half[s], 0)]
            a, b, turned = min(ways)
            if (a, b) not in seen:
                seen[a, b] = len(wanted)
                wanted.append((a, b, gap_mm))
            number[s, t], flip[s, t] = seen[a, b], turned
    for s, gap in obstacles:
        for t in range(pieces):
            number[s, t] = len(wanted)
            number[t, s], flip[t, s] = len(wanted), 1
            wanted.append((s, t, gap))
    return number, flip, wanted


def geometry_of(
    shapes: Shapes,
    pieces: int,
    obstacles: Sequence[tuple[int, float]],
    gap_mm: float,
    step_mm: float,
    clip: dict[int, tuple[float, float, float, float]],
) -> Geometry:
    """Return the regions of all pairs of shapes, with their pictures of depth.

    `clip` holds, for an obstacle, the box of places that a middle can have relative to it.
    """
    number, flip, wanted = pair_numbers(shapes, pieces, obstacles, gap_mm)
    flat = [flat_parts(shape.parts) for shape in shapes.found]
    regions = _shared(lambda w: region_of(flat[w[0]], flat[w[1]]), wanted)
    gaps = np.array([gap for *_, gap in wanted], dtype=float)
    box = _boxes_of(regions, gaps)
    grids = []
    for (a, _, _), b in zip(wanted, box, strict=True):
        window = clip.get(a)
        lo, hi = b[:2], b[2:]
        if window:
            lo, hi = np.maximum(lo, window[:2]), np.maximum(np.minimum(hi, window[2:]), lo)
        n = np.floor((hi - lo) / step_mm).astype(int) + 2
        spare = ((n - 1) * step_mm - (hi - lo)) / 2.0
        grids.append((n[0], n[1], lo[0] - spare[0], lo[1] - spare[1]))
    at = np.zeros(len(wanted) + 1, np.int64)
    at[1:] = np.cumsum([g[0] * g[1] for g in grids])
    picture = np.empty(int(at[-1]), np.float32)

    def paint(k: int) -> None:
        nx, ny, x0, y0 = grids[k]
        r, cells = regions[k], picture[at[k] : at[k + 1]]
        picture_of_depth(
            r.starts,
            r.edges,
            r.rim,
            float(gaps[k]),
            float(step_mm),
            float(x0),
            float(y0),
            int(nx),
            int(ny),
            cells,
        )

    _shared(paint, range(len(wanted)))
    return Geometry(
        link=np.where(number < 0, -1, 2 * number + flip).astype(np.int64),
        head=np.column_stack([box, gaps, np.array([g[2:] for g in grids], float).reshape(-1, 2)]),
        ref=np.column_stack(
            [
                *_from_to([len(r.boxes) for r in regions]),
                *_from_to([len(r.rim) for r in regions]),
                at[:-1],
                np.array([g[:2] for g in grids], np.int64).reshape(-1, 2),
            ]
        ),
        part=_parts_of(regions),
        edge=_stack([r.edges for r in regions], 3),
        seg=np.ascontiguousarray(_sloped(_stack([r.rim for r in regions], 4)).T),
        ras=picture,
        rev=_each_reversed(picture, at),
        extent=np.array(
            [(-s.half_x, -s.half_y, s.half_x, s.half_y) for s in shapes.found], dtype=float
        ),
        step=float(step_mm),
    )


def _each_reversed(picture: NDArray[np.float32], at: NDArray[np.int64]) -> NDArray[np.float32]:
    """Return every picture turned by half, in the same places."""
    turned = np.empty_like(picture)
    for first, last in itertools.pairwise(at.tolist()):
        turned[first:last] = picture[first:last][::-1]
    return turned


def _shared(work: Callable[[T], R], tasks: Sequence[T]) -> list[R]:
    """Do tasks in a few threads, each a run of them; return what came out, in order."""
    size = -(-len(tasks) // THREADS) or 1
    runs = [tasks[k : k + size] for k in range(0, len(tasks), size)]
    with ThreadPoolExecutor(THREADS) as pool:
        return [one for run in pool.map(lambda r: [work(t) for t in r], runs) for one in run]


def _boxes_of(regions: Sequence[Region], gaps: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the boxes of all regions, each widened by its gap."""
    boxes = _stack([r.boxes for r in regions], 4)
    first = _from_to([len(r.boxes) for r in regions])[0]
    if not len(first):
        return np.empty((0, 4))
    low = np.minimum.reduceat(boxes[:, :2], first) - gaps[:, None]
    high = np.maximum.reduceat(boxes[:, 2:], first) + gaps[:, None]
    return np.column_stack([low, high])


def _from_to(sizes: Sequence[int]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return where runs of some sizes start and end, one after the other."""
    ends = np.cumsum(np.array(sizes, np.int64))
    return ends - np.array(sizes, np.int64), ends


def _stack(arrays: Sequence[NDArray[np.float64]], columns: int) -> NDArray[np.float64]:
    return np.ascontiguousarray(np.concatenate(arrays)) if arrays else np.empty((0, columns))


def _parts_of(regions: Sequence[Region]) -> NDArray[np.float64]:
    """Return boxes of all parts, with their first and last edge."""
    sizes = [size for r in regions for size in np.diff(r.starts).tolist()]
    return np.column_stack([_stack([r.boxes for r in regions], 4), *_from_to(sizes)])


def _sloped(rim: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return start, run and inverse squared length of segments."""
    run = rim[:, 2:] - rim[:, :2]
    inverse = 1.0 / np.maximum((run**2).sum(axis=1), 1e-18)
    return np.column_stack([rim[:, :2], run, inverse])
