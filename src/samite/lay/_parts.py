"""Outlines made simpler, always outward, and cut into convex parts."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from samite.lay.outline import cosine_and_sine, tidy_outline

if TYPE_CHECKING:
    from samite.lay.problem import Outline, Point

MANY_CORNERS = 600
"""An outline with more corners than this is thinned before each corner is weighed."""

Part = tuple["Point", ...]


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def simpler(  # noqa: C901, PLR0915 - one loop over one heap
    outline: Outline, *, most: int, tolerance_mm: float
) -> Outline:
    """Return an outline with fewer corners that holds the whole of the given one.

    Hollow corners are filled and bulging sides run on to their neighbours' meeting, the smallest
    change first, until no more than `most` corners are left or the next change would move the
    outline by more than the tolerance.
    """
    points = list(tidy_outline(outline))
    if len(points) <= most:
        return tuple(points)
    if len(points) > MANY_CORNERS:
        points = _first_pass(points, tolerance_mm / 4.0)
    import heapq

    count = len(points)
    at = dict(enumerate(points))
    after = {i: (i + 1) % count for i in range(count)}
    before = {i: (i - 1) % count for i in range(count)}
    version = dict.fromkeys(at, 0)
    heap: list[tuple[float, int, int, str]] = []

    def offer(i: int) -> None:
        a, b, c = at[before[i]], at[i], at[after[i]]
        if _turn(a, b, c) <= 0.0:
            off = abs(_turn(a, b, c)) / max(math.dist(a, c), 1e-12)
            heapq.heappush(heap, (off, i, version[i], "fill"))
        d = at[after[after[i]]]
        new = _met(a, b, c, d)
        if new is not None:
            off = abs(_turn(b, c, new)) / max(math.dist(b, c), 1e-12)
            heapq.heappush(heap, (off, i, version[i], "run on"))

    for i in range(count):
        offer(i)
    while heap and count > max(most, 4):
        off, i, stamp, how = heapq.heappop(heap)
        if i not in at or stamp != version[i]:
            continue
        if off > tolerance_mm:
            break
        gone = i
        if how == "run on":
            new = _met(at[before[i]], at[i], at[after[i]], at[after[after[i]]])
            if new is None:
                continue
            gone = after[i]
            at[i] = new
        left, right = before[gone], after[gone]
        after[left], before[right] = right, left
        del at[gone]
        count -= 1
        near = [left, before[left], before[before[left]], right, after[right]]
        for j in dict.fromkeys(near):
            version[j] += 1
            offer(j)
    first = next(iter(at))
    chain, i = [at[first]], after[first]
    while i != first:
        chain.append(at[i])
        i = after[i]
    return tuple(chain)


def _met(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Return where the sides before and after a bulging side would meet outside it."""
    if _turn(a, b, c) < 0.0 or _turn(b, c, d) < 0.0:
        return None
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    across = ux * vy - uy * vx
    if across <= 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return None
    s = ((c[0] - b[0]) * vy - (c[1] - b[1]) * vx) / across
    return (b[0] + s * ux, b[1] + s * uy) if s >= 0.0 else None


def _first_pass(points: list[Point], tolerance_mm: float) -> list[Point]:
    """Thin very many corners by hulls of short runs, each pushed out by what it may be off."""
    kept = points
    while len(kept) > MANY_CORNERS:
        hollow = [
            i
            for i in range(len(kept))
            if _turn(kept[i - 1], kept[i], kept[(i + 1) % len(kept)]) <= 0.0
        ]
        drop, last = set(), -2
        for i in hollow:
            a, b, c = kept[i - 1], kept[i], kept[(i + 1) % len(kept)]
            off = abs(_turn(a, b, c)) / max(math.dist(a, c), 1e-12)
            if i - last > 1 and off <= tolerance_mm:
                drop.add(i)
                last = i
        if not drop:
            break
        kept = [point for i, point in enumerate(kept) if i not in drop]
    return kept


def safe(new: Outline, old: Outline) -> Outline:
    """Return the simpler outline unless the steps made it cross itself."""
    from samite.lay.outline import crosses_itself, signed_area_mm2

    bad = crosses_itself(new) is not None or signed_area_mm2(new) <= 0.0
    return tidy_outline(old) if bad else new


def convex_parts(outline: Outline) -> tuple[Part, ...]:
    """Cut an anticlockwise outline into convex parts; its hull if that cannot be done."""
    triangles = _triangles(outline)
    if triangles is None:
        return (hull(outline),)
    return _merged(outline, triangles)


def _triangles(outline: Outline) -> list[list[int]] | None:
    """Clip ears, the best shaped first, so that few slivers arise."""
    ring = list(range(len(outline)))
    found: list[list[int]] = []
    while len(ring) > 3:
        best, best_at = -1.0, -1
        for k in range(len(ring)):
            i, j, m = ring[k - 1], ring[k], ring[(k + 1) % len(ring)]
            a, b, c = outline[i], outline[j], outline[m]
            turn = _turn(a, b, c)
            longest = max(math.dist(a, b), math.dist(b, c), math.dist(a, c))
            if turn <= 1e-12 * longest * longest:
                if abs(turn) <= 1e-12 * longest * longest and _between(a, b, c):
                    best, best_at = math.inf, k
                    break
                continue
            quality = turn / (longest * longest)
            if quality > best and _is_ear(outline, ring, i, j, m):
                best, best_at = quality, k
        if best_at < 0:
            return None
        if best < math.inf:
            found.append([ring[best_at - 1], ring[best_at], ring[(best_at + 1) % len(ring)]])
        del ring[best_at]
    a, b, c = (outline[i] for i in ring)
    if _turn(a, b, c) > 0.0:
        found.append(ring)
    return found


def _between(a: Point, b: Point, c: Point) -> bool:
    return (b[0] - a[0]) * (b[0] - c[0]) + (b[1] - a[1]) * (b[1] - c[1]) <= 0.0


def _is_ear(outline: Outline, ring: list[int], i: int, j: int, m: int) -> bool:
    a, b, c = outline[i], outline[j], outline[m]
    left, right = min(a[0], b[0], c[0]), max(a[0], b[0], c[0])
    for k in ring:
        p = outline[k]
        if p[0] < left or p[0] > right or p in (a, b, c):
            continue
        if _turn(a, b, p) >= 0.0 and _turn(b, c, p) >= 0.0 and _turn(c, a, p) >= 0.0:
            return False
    return True


def _merged(outline: Outline, triangles: list[list[int]]) -> tuple[Part, ...]:
    """Join neighbouring parts for as long as they stay convex, the longest seam first."""
    polygons: dict[int, list[int]] = dict(enumerate(triangles))
    owner: dict[tuple[int, int], int] = {}
    for key, polygon in polygons.items():
        for k, i in enumerate(polygon):
            owner[i, polygon[(k + 1) % len(polygon)]] = key
    seams = sorted(
        ((i, j) for i, j in owner if i < j and (j, i) in owner),
        key=lambda ij: -math.dist(outline[ij[0]], outline[ij[1]]),
    )
    for i, j in seams:
        one, two = owner[i, j], owner[j, i]
        if one == two:
            continue
        p, q = polygons[one], polygons[two]
        at, to = p.index(i), q.index(j)
        joined = p[at + 1 :] + p[:at] + [i] + [*q[to:], *q[:to]][2:]
        if not _convex([outline[k] for k in joined]):
            continue
        polygons[one] = joined
        for k, m in enumerate(q):
            owner[m, q[(k + 1) % len(q)]] = one
        del polygons[two]
    return tuple(tuple(outline[k] for k in polygon) for polygon in polygons.values())


def _convex(points: list[Point]) -> bool:
    count = len(points)
    for k in range(count):
        a, b, c = points[k - 1], points[k], points[(k + 1) % count]
        if _turn(a, b, c) < -1e-12 * math.dist(a, b) * math.dist(b, c):
            return False
    return True


def belted(outline: Outline) -> Outline:
    """Return the convex outline of sixteen directions about another, anticlockwise."""
    count = 16
    ways = [cosine_and_sine(360.0 * k / count) for k in range(count)]
    far = [max(c * x + s * y for x, y in outline) for c, s in ways]
    corners: list[Point] = []
    for k, (c, s) in enumerate(ways):
        d, e = ways[(k + 1) % count]
        across, low, high = c * e - s * d, far[k], far[(k + 1) % count]
        corners.append(((low * e - high * s) / across, (high * c - low * d) / across))
    return tuple(corners)


def hull(points: Outline) -> Part:
    """Return the convex hull, anticlockwise."""
    ordered = sorted(set(points))
    chains = []
    for run in (ordered, ordered[::-1]):
        chain: list[Point] = []
        for point in run:
            while len(chain) >= 2 and _turn(chain[-2], chain[-1], point) <= 0.0:
                chain.pop()
            chain.append(point)
        chains.append(chain[:-1])
    return tuple(chains[0] + chains[1])
