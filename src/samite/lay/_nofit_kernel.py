"""Compiled geometry of no-fit regions: sums of convex parts, their rim, and pictures of depth."""

from __future__ import annotations

import math

import numpy as np
from numba import njit


@njit(cache=True, nogil=True, error_model="numpy")
def _lowest(xy, first, last):
    best = first
    for i in range(first + 1, last):
        if xy[i, 1] < xy[best, 1] or (xy[i, 1] == xy[best, 1] and xy[i, 0] < xy[best, 0]):
            best = i
    return best


@njit(cache=True, nogil=True, error_model="numpy")
def sums_of_parts(a_xy, a_at, b_xy, b_at):
    """Return the sums of all parts of a with the mirrored parts of b, as corners and starts."""
    parts = (a_at.size - 1) * (b_at.size - 1)
    most = (b_at.size - 1) * a_xy.shape[0] + (a_at.size - 1) * b_xy.shape[0]
    out = np.empty((most, 2))
    at = np.zeros(parts + 1, np.int32)
    neg = -b_xy
    k = 0
    part = 0
    for p in range(a_at.size - 1):
        p0, p1 = a_at[p], a_at[p + 1]
        pl = _lowest(a_xy, p0, p1)
        pn = p1 - p0
        for q in range(b_at.size - 1):
            q0, q1 = b_at[q], b_at[q + 1]
            ql = _lowest(neg, q0, q1)
            qn = q1 - q0
            i = j = 0
            x = a_xy[pl, 0] + neg[ql, 0]
            y = a_xy[pl, 1] + neg[ql, 1]
            while i < pn or j < qn:
                ia, ib = p0 + (pl - p0 + i) % pn, p0 + (pl - p0 + i + 1) % pn
                ja, jb = q0 + (ql - q0 + j) % qn, q0 + (ql - q0 + j + 1) % qn
                ux, uy = a_xy[ib, 0] - a_xy[ia, 0], a_xy[ib, 1] - a_xy[ia, 1]
                vx, vy = neg[jb, 0] - neg[ja, 0], neg[jb, 1] - neg[ja, 1]
                out[k, 0] = x
                out[k, 1] = y
                k += 1
                if i >= pn:
                    x += vx
                    y += vy
                    j += 1
                elif j >= qn:
                    x += ux
                    y += uy
                    i += 1
                else:
                    turn = ux * vy - uy * vx
                    if abs(turn) <= 1e-12 * (abs(ux) + abs(uy)) * (abs(vx) + abs(vy)):
                        x += ux + vx
                        y += uy + vy
                        i += 1
                        j += 1
                    elif turn > 0.0:
                        x += ux
                        y += uy
                        i += 1
                    else:
                        x += vx
                        y += vy
                        j += 1
            part += 1
            at[part] = k
    return out[:k].copy(), at


@njit(cache=True, nogil=True, error_model="numpy")
def half_planes(xy, at):
    """Return outward normals with offsets of the sides of parts, and the parts' boxes."""
    edges = np.empty((xy.shape[0], 3))
    boxes = np.empty((at.size - 1, 4))
    for part in range(at.size - 1):
        first, last = at[part], at[part + 1]
        boxes[part, 0] = boxes[part, 1] = np.inf
        boxes[part, 2] = boxes[part, 3] = -np.inf
        for i in range(first, last):
            j = i + 1 if i + 1 < last else first
            ux, uy = xy[j, 0] - xy[i, 0], xy[j, 1] - xy[i, 1]
            size = math.sqrt(ux * ux + uy * uy)
            if size < 1e-12:
                edges[i, 0] = edges[i, 1] = 0.0
                edges[i, 2] = np.inf
            else:
                edges[i, 0] = uy / size
                edges[i, 1] = -ux / size
                edges[i, 2] = edges[i, 0] * xy[i, 0] + edges[i, 1] * xy[i, 1]
            boxes[part, 0] = min(boxes[part, 0], xy[i, 0])
            boxes[part, 1] = min(boxes[part, 1], xy[i, 1])
            boxes[part, 2] = max(boxes[part, 2], xy[i, 0])
            boxes[part, 3] = max(boxes[part, 3], xy[i, 1])
    return edges, boxes


@njit(cache=True, nogil=True, error_model="numpy")
def rim_of_union(xy, at, edges, boxes, slack):
    """Return the pieces of the parts' sides that lie inside no other part.

    A side along another part's side is kept, so that a slot of no width stays open.
    """
    out = np.empty((4 * xy.shape[0] + 64, 4))
    count = 0
    lo = np.empty(256)
    hi = np.empty(256)
    for part in range(at.size - 1):
        first, last = at[part], at[part + 1]
        for i in range(first, last):
            j = i + 1 if i + 1 < last else first
            ax, ay, bx, by = xy[i, 0], xy[i, 1], xy[j, 0], xy[j, 1]
            size = math.sqrt((bx - ax) ** 2 + (by - ay) ** 2)
            if size < 1e-9:
                continue
            n = 1
            lo[0], hi[0] = 0.0, 1.0
            left, right, low, high = min(ax, bx), max(ax, bx), min(ay, by), max(ay, by)
            for other in range(at.size - 1):
                if other == part or n == 0:
                    continue
                if (
                    left >= boxes[other, 2]
                    or right <= boxes[other, 0]
                    or low >= boxes[other, 3]
                    or high <= boxes[other, 1]
                ):
                    continue
                s0, s1 = 0.0, 1.0
                for e in range(at[other], at[other + 1]):
                    if edges[e, 2] == np.inf:
                        continue
                    fa = edges[e, 0] * ax + edges[e, 1] * ay - edges[e, 2] + slack
                    fb = edges[e, 0] * bx + edges[e, 1] * by - edges[e, 2] + slack
                    if fa >= 0.0 and fb >= 0.0:
                        s1 = -1.0
                        break
                    if fa >= 0.0:
                        s0 = max(s0, fa / (fa - fb))
                    elif fb >= 0.0:
                        s1 = min(s1, fa / (fa - fb))
                    if s0 >= s1:
                        break
                if s1 <= s0:
                    continue
                m = 0
                new = n
                for k in range(n):
                    a0, a1 = lo[k], hi[k]
                    if s1 <= a0 or s0 >= a1:
                        lo[m], hi[m] = a0, a1
                        m += 1
                    elif s0 > a0 and s1 < a1:
                        lo[m], hi[m] = a0, s0
                        m += 1
                        if new < 250:
                            lo[new], hi[new] = s1, a1
                            new += 1
                    elif s0 > a0:
                        lo[m], hi[m] = a0, s0
                        m += 1
                    elif s1 < a1:
                        lo[m], hi[m] = s1, a1
                        m += 1
                for k in range(n, new):
                    lo[m], hi[m] = lo[k], hi[k]
                    m += 1
                n = m
            for k in range(n):
                if (hi[k] - lo[k]) * size > 1e-9 and count < out.shape[0]:
                    out[count, 0] = ax + lo[k] * (bx - ax)
                    out[count, 1] = ay + lo[k] * (by - ay)
                    out[count, 2] = ax + hi[k] * (bx - ax)
                    out[count, 3] = ay + hi[k] * (by - ay)
                    count += 1
    return out[:count].copy()


@njit(cache=True, nogil=True, error_model="numpy", fastmath=True)
def _paint_distance(row, cols, px0, step, py, segs, n):
    for k in range(cols):
        row[k] = 3e38
    for s in range(n):
        ax, ay, bx, by = segs[s, 0], segs[s, 1], segs[s, 2], segs[s, 3]
        dx, dy = bx - ax, by - ay
        inv = 1.0 / (dx * dx + dy * dy)
        ey = py - ay
        for k in range(cols):
            ex = px0 + k * step - ax
            t = (ex * dx + ey * dy) * inv
            t = min(max(t, 0.0), 1.0)
            fx, fy = ex - t * dx, ey - t * dy
            row[k] = min(row[k], np.float32(fx * fx + fy * fy))


@njit(cache=True, nogil=True, error_model="numpy")
def picture_of_depth(at, edges, segs, gap, step, x0, y0, nx, ny, out):
    """Fill a grid with how deep each place lies inside the region widened by the gap."""
    inside = np.zeros(nx, np.uint8)
    row = np.empty(nx, np.float32)
    reach = int(math.ceil(gap / step)) + 1
    for r in range(ny):
        py = y0 + r * step
        inside[:] = 0
        lowest, highest = nx, -1
        for part in range(at.size - 1):
            left, right = -np.inf, np.inf
            for e in range(at[part], at[part + 1]):
                n0, n1, c = edges[e, 0], edges[e, 1], edges[e, 2]
                if c == np.inf:
                    continue
                rest = c - n1 * py
                if abs(n0) < 1e-12:
                    if rest <= 0.0:
                        left, right = 1.0, 0.0
                        break
                elif n0 > 0.0:
                    right = min(right, rest / n0)
                else:
                    left = max(left, rest / n0)
            if left >= right:
                continue
            k0 = max(0, int(math.floor((left - x0) / step)) + 1)
            k1 = min(nx - 1, int(math.ceil((right - x0) / step)) - 1)
            for k in range(k0, k1 + 1):
                inside[k] = 1
            if k0 <= k1:
                lowest, highest = min(lowest, k0), max(highest, k1)
        base = r * nx
        for k in range(nx):
            out[base + k] = 0.0
        if gap > 0.0:
            lowest, highest = 0, nx - 1
        if highest < lowest:
            continue
        cols = highest - lowest + 1
        _paint_distance(row, cols, x0 + lowest * step, step, py, segs, segs.shape[0])
        for k in range(cols):
            d = math.sqrt(row[k])
            if inside[lowest + k]:
                out[base + lowest + k] = gap + d
            elif d < gap:
                out[base + lowest + k] = gap - d
    return reach
