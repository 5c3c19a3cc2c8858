"""Compiled search: how deep pieces lie in each other, and where each would lie best."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numba import njit

NEAR = 2e-7
"""Depth that counts as touching [mm]."""

LINES = 6
"""Contact lines whose meetings are tried."""


NOBODY, NONE = np.int64(-1), np.int64(0)
"""Not written as literals, for each of which the compiler would compile anew."""

PLACES = 64
"""Promising places of one piece that are noted."""


class Geometry(NamedTuple):
    """No-fit regions of all pairs of shapes, flat; few arrays, since each costs at every call.

    `link` holds for two shapes twice the number of their region, odd if it is to be read turned by
    half, -1 if there is none. `head` holds for a region its box, widened by the gap (x0, y0, x1,
    y1), the gap, and where its picture starts (x, y); `ref` its first and last part, its first and
    last side of the rim, and its picture: start, columns, rows. `part` holds boxes, first and last
    edge; `edge` normals and offsets; `seg` starts, runs and inverse squared lengths, one row each.
    """

    link: np.ndarray
    head: np.ndarray
    ref: np.ndarray
    part: np.ndarray
    edge: np.ndarray
    seg: np.ndarray
    ras: np.ndarray
    rev: np.ndarray
    extent: np.ndarray
    step: float


class Rules(NamedTuple):
    """What each item may do: its first option, and of each option shape, offsets, periods."""

    opt_at: np.ndarray
    opt_shape: np.ndarray
    opt: np.ndarray
    strip: np.ndarray


@njit(cache=True, nogil=True, error_model="numpy", fastmath=True)
def _nearest2(seg, first, last, vx, vy):
    """Return the squared distance to the nearest of some sides."""
    best = 1e300
    xs, ys = seg[0, first:last], seg[1, first:last]
    us, vs, inv = seg[2, first:last], seg[3, first:last], seg[4, first:last]
    for k in range(last - first):
        ex, ey = vx - xs[k], vy - ys[k]
        t = (ex * us[k] + ey * vs[k]) * inv[k]
        t = min(max(t, 0.0), 1.0)
        fx, fy = ex - t * us[k], ey - t * vs[k]
        best = min(best, fx * fx + fy * fy)
    return best


@njit(cache=True, nogil=True, error_model="numpy")
def depth(head, ref, part, edge, seg, p, vx, vy):
    """Return how deep a place in the box of region p lies in the region widened by its gap."""
    inside = False
    for k in range(ref[p, 0], ref[p, 1]):
        if vx <= part[k, 0] or vy <= part[k, 1] or vx >= part[k, 2] or vy >= part[k, 3]:
            continue
        inside = True
        for e in range(int(part[k, 4]), int(part[k, 5])):
            if edge[e, 0] * vx + edge[e, 1] * vy >= edge[e, 2]:
                inside = False
                break
        if inside:
            break
    gap = head[p, 4]
    if not inside and gap == 0.0:
        return 0.0
    d = math.sqrt(_nearest2(seg, ref[p, 2], ref[p, 3], vx, vy))
    d = gap + d if inside else gap - d
    return d if d > NEAR else 0.0


@njit(cache=True, nogil=True, error_model="numpy")
def pair_depth(g, s, xs, ys, t, xt, yt):
    """Return how deep shape t lies in shape s."""
    link = g.link[s, t]
    if link < 0:
        return 0.0
    p = link >> 1
    vx, vy = xt - xs, yt - ys
    if link & 1:
        vx, vy = -vx, -vy
    head = g.head
    if vx <= head[p, 0] or vy <= head[p, 1] or vx >= head[p, 2] or vy >= head[p, 3]:
        return 0.0
    return depth(head, g.ref, g.part, g.edge, g.seg, p, vx, vy)


@njit(cache=True, nogil=True, error_model="numpy", fastmath=True)
def _add(cost, stride, rows0, rows1, cols0, cols1, ras, at, rnx, ky, kx, w):
    n = cols1 - cols0
    for r in range(rows0, rows1):
        d = r * stride + cols0
        s = at + (r + ky) * rnx + kx + cols0
        here, there = cost[d : d + n], ras[s : s + n]  # slices: the loop then has no negative index
        for c in range(n):
            here[c] += w * there[c]


@njit(cache=True, nogil=True, error_model="numpy", fastmath=True)
def _row_min(cost, first, n):
    best = np.float32(3e38)
    row = cost[first : first + n]
    for c in range(n):
        best = min(best, row[c])
    return best


@njit(cache=True, nogil=True, error_model="numpy")
def _axis(lo, hi, off, period, step, out):
    """Fill the places along one axis; return how many, 0 if none."""
    if hi < lo - 1e-9:
        return 0
    if period < 0.0:
        out[0] = off
        return 1 if lo - 1e-6 <= off <= hi + 1e-6 else 0
    if period > 0.0:
        n = 0
        k = math.ceil((lo - 1e-9 - off) / period)
        # of a repeat finer than there is room for, every so many
        every = max(1, math.ceil((hi - lo) / period / (out.size - 1)))
        v = off + k * period
        while v <= hi + 1e-9 and n < out.size:
            out[n] = v
            n += 1
            v = off + (k + n * every) * period
        return n
    if hi <= lo:
        out[0] = lo
        return 1
    n = min(int((hi - lo) / step) + 1, out.size)
    for k in range(n):
        out[k] = lo + k * step
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def weighted(g, near, n, x, y, limit):
    """Return the weighted depth in the neighbours of a place, or more than the limit."""
    total = 0.0
    head = g.head
    for k in range(n):
        sign = near[k, 1]
        vx, vy = sign * (x - near[k, 2]), sign * (y - near[k, 3])
        p = int(near[k, 0])
        if vx <= head[p, 0] or vy <= head[p, 1] or vx >= head[p, 2] or vy >= head[p, 3]:
            continue
        d = depth(head, g.ref, g.part, g.edge, g.seg, p, vx, vy)
        if d > 0.0:
            total += near[k, 4] * d
            if total >= limit:
                return total
    return total


@njit(cache=True, nogil=True, error_model="numpy")
def _weighted_sorted(g, near, n, x, y):
    """Return the weighted depth at a place, and bring the deepest neighbours to the front."""
    total = 0.0
    front = 0
    top = 0.0
    head = g.head
    for k in range(n):
        d = 0.0
        sign = near[k, 1]
        vx, vy = sign * (x - near[k, 2]), sign * (y - near[k, 3])
        p = int(near[k, 0])
        if vx > head[p, 0] and vy > head[p, 1] and vx < head[p, 2] and vy < head[p, 3]:
            d = near[k, 4] * depth(head, g.ref, g.part, g.edge, g.seg, p, vx, vy)
        total += d
        if d > 0.0:
            to = 0 if d > top else front
            top = max(top, d)
            for c in range(5):
                near[k, c], near[front, c] = near[front, c], near[k, c]
            if to != front:
                for c in range(5):
                    near[to, c], near[front, c] = near[front, c], near[to, c]
            front += 1
    return total


@njit(cache=True, nogil=True, error_model="numpy")
def _neighbours(g, i, shape, ox, oy, count, w, s, x, y, reach, near):
    """Fill `near` with the regions, hands, places and weights of what lies within reach."""
    n = 0
    head = g.head
    for j in range(count):
        link = g.link[shape[j], s]
        if link < 0 or j == i:
            continue
        p = link >> 1
        sign = -1.0 if link & 1 else 1.0
        vx, vy = sign * (x - ox[j]), sign * (y - oy[j])
        if (
            vx > head[p, 0] - reach
            and vy > head[p, 1] - reach
            and vx < head[p, 2] + reach
            and vy < head[p, 3] + reach
        ):
            near[n, 0], near[n, 1], near[n, 2], near[n, 3] = p, sign, ox[j], oy[j]
            near[n, 4] = w[j]
            n += 1
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def _take_line(lines, dist, n, nx, ny, off, d):
    """Keep the nearest lines only, sorted by distance; return their number."""
    for k in range(n):
        same = abs(nx * lines[k, 0] + ny * lines[k, 1])
        if (
            same > 1.0 - 1e-12
            and abs(nx * lines[k, 0] + ny * lines[k, 1] - 1.0) < 1e-9
            and abs(off - lines[k, 2]) < 1e-9
        ):
            return n
    if n == lines.shape[0]:
        if d >= dist[n - 1]:
            return n
        n -= 1
    k = n
    while k > 0 and dist[k - 1] > d:
        for c in range(3):
            lines[k, c] = lines[k - 1, c]
        dist[k] = dist[k - 1]
        k -= 1
    lines[k, 0], lines[k, 1], lines[k, 2] = nx, ny, off
    dist[k] = d
    return n + 1


@njit(cache=True, nogil=True, error_model="numpy")
def _lines_near(g, near, n, x, y, reach, lo, lines, dist, free_x, free_y):
    m = NONE
    if free_x:
        if abs(x - lo[0]) < reach:
            m = _take_line(lines, dist, m, 1.0, 0.0, lo[0], abs(x - lo[0]))
        if abs(x - lo[2]) < reach:
            m = _take_line(lines, dist, m, 1.0, 0.0, lo[2], abs(x - lo[2]))
    if free_y:
        if abs(y - lo[1]) < reach:
            m = _take_line(lines, dist, m, 0.0, 1.0, lo[1], abs(y - lo[1]))
        if abs(y - lo[3]) < reach:
            m = _take_line(lines, dist, m, 0.0, 1.0, lo[3], abs(y - lo[3]))
    seg = g.seg
    for k in range(n):
        p = int(near[k, 0])
        sign, ox, oy = near[k, 1], near[k, 2], near[k, 3]
        vx, vy = sign * (x - ox), sign * (y - oy)
        gap = g.head[p, 4]
        far = (reach + gap) * (reach + gap)
        for q in range(g.ref[p, 2], g.ref[p, 3]):
            dx, dy, inv = seg[2, q], seg[3, q], seg[4, q]
            ex, ey = vx - seg[0, q], vy - seg[1, q]
            t = (ex * dx + ey * dy) * inv
            t = min(max(t, 0.0), 1.0)
            fx, fy = ex - t * dx, ey - t * dy
            d2 = fx * fx + fy * fy
            if d2 < far:
                size = math.sqrt(inv)
                nx, ny = dy * size, -dx * size
                c = nx * seg[0, q] + ny * seg[1, q] + gap
                # the line in the item's own place: sign * (pos - o) on it
                m = _take_line(
                    lines, dist, m, sign * nx, sign * ny,
                    c + sign * (nx * ox + ny * oy), math.sqrt(d2),
                )  # fmt: skip
    return m


@njit(cache=True, nogil=True, error_model="numpy")
def _keep(lo, x, y):
    return min(max(x, lo[0]), lo[2]), min(max(y, lo[1]), lo[3])


@njit(cache=True, nogil=True, error_model="numpy")
def settle(
    g,
    i,
    shape,
    ox,
    oy,
    count,
    w,
    s,
    x,
    y,
    reach,
    lo,
    free_x,
    free_y,
    near,
    lines,
    dist,
    tries,
    limit,
):
    """Move shape s from a place to the best meeting of contact lines nearby.

    Returns the place and its weighted depth.
    """
    best = 1e300
    for turn in range(tries):
        n = _neighbours(g, i, shape, ox, oy, count, w, s, x, y, 2.0 * reach, near)
        if turn == 0:
            best = _weighted_sorted(g, near, n, x, y)
        if best <= 0.0 or not (free_x or free_y):
            break
        m = _lines_near(g, near, n, x, y, reach, lo, lines, dist, free_x, free_y)
        bx, by, start = x, y, best
        for a in range(m):
            na, nb, c = lines[a, 0], lines[a, 1], lines[a, 2]
            off = c - na * x - nb * y
            if free_x and free_y:
                px, py = x + off * na, y + off * nb
            elif free_x:
                if abs(na) < 1e-9:
                    continue
                px, py = x + off / na, y
            else:
                if abs(nb) < 1e-9:
                    continue
                px, py = x, y + off / nb
            if abs(px - x) <= 2.0 * reach and abs(py - y) <= 2.0 * reach:
                px, py = _keep(lo, px, py)
                f = weighted(g, near, n, px, py, best)
                if f < best:
                    best, bx, by = f, px, py
            if not (free_x and free_y):
                continue
            for b in range(a):
                cross = na * lines[b, 1] - nb * lines[b, 0]
                if abs(cross) < 1e-6:
                    continue
                px = (c * lines[b, 1] - nb * lines[b, 2]) / cross
                py = (na * lines[b, 2] - c * lines[b, 0]) / cross
                if abs(px - x) > 2.0 * reach or abs(py - y) > 2.0 * reach:
                    continue
                if px < lo[0] - 1e-9 or px > lo[2] + 1e-9 or py < lo[1] - 1e-9 or py > lo[3] + 1e-9:
                    continue
                px, py = _keep(lo, px, py)
                f = weighted(g, near, n, px, py, best)
                if f < best:
                    best, bx, by = f, px, py
        x, y = bx, by
        if best >= 0.999 * start or best > limit * 3.0:
            break
    return x, y, best


@njit(cache=True, nogil=True, error_model="numpy")
def _random(seed):
    v = seed[0]
    v ^= (v << np.uint64(13)) & np.uint64(0xFFFFFFFFFFFFFFFF)
    v ^= v >> np.uint64(7)
    v ^= (v << np.uint64(17)) & np.uint64(0xFFFFFFFFFFFFFFFF)
    seed[0] = v
    return np.float64(v >> np.uint64(11)) / 9007199254740992.0


@njit(cache=True, nogil=True, error_model="numpy")
def frame(g, rules, s, length, lo):
    """Fill the box of places of shape s in a strip of some length."""
    lo[0] = rules.strip[0] - g.extent[s, 0]
    lo[1] = rules.strip[1] - g.extent[s, 1]
    lo[2] = length - g.extent[s, 2]
    lo[3] = rules.strip[2] - g.extent[s, 3]
    if lo[3] < lo[1] and lo[3] > lo[1] - 1e-6:
        lo[3] = lo[1] = 0.5 * (lo[1] + lo[3])


@njit(cache=True, nogil=True, error_model="numpy")
def map_cost(g, rules, i, o, s, shape, ox, oy, count, w, lo, cost, xs, ys):
    """Fill the grid of places of option o with weighted depths; return its columns and rows."""
    step = g.step
    px, py = rules.opt[o, 2], rules.opt[o, 3]
    nx = _axis(lo[0], lo[2], rules.opt[o, 0], px, step, xs)
    ny = _axis(lo[1], lo[3], rules.opt[o, 1], py, step, ys)
    if nx == 0 or ny == 0 or nx * ny > cost.size:
        return 0, 0
    for k in range(nx * ny):
        cost[k] = 0.0
    even = (px == 0.0 and py <= 0.0) or (ny == 1 and px == 0.0) or (nx == 1 and py == 0.0)
    for j in range(count):
        if j == i:
            continue
        link = g.link[shape[j], s]
        if link < 0:
            continue
        p = link >> 1
        at, rnx, rny = g.ref[p, 4], g.ref[p, 5], g.ref[p, 6]
        sign = -1 if link & 1 else 1
        fx = (sign * (xs[0] - ox[j]) - g.head[p, 5]) / step
        fy = (sign * (ys[0] - oy[j]) - g.head[p, 6]) / step
        kx, ky = int(math.floor(fx + 0.5)), int(math.floor(fy + 0.5))
        wj = np.float32(w[j])
        if even:
            picture = g.ras
            if sign < 0:  # the picture turned by half
                picture = g.rev
                kx, ky = rnx - 1 - kx, rny - 1 - ky
            c0, c1 = max(0, -kx), min(nx, rnx - kx)
            r0, r1 = max(0, -ky), min(ny, rny - ky)
            if c0 < c1 and r0 < r1:
                _add(cost, nx, r0, r1, c0, c1, picture, at, rnx, ky, kx, wj)
        else:
            for r in range(ny):
                v = int(math.floor(fy + sign * (ys[r] - ys[0]) / step + 0.5))
                if v < 0 or v >= rny:
                    continue
                for c in range(nx):
                    u = int(math.floor(fx + sign * (xs[c] - xs[0]) / step + 0.5))
                    if 0 <= u < rnx:
                        cost[r * nx + c] += wj * g.ras[at + v * rnx + u]
    return nx, ny


@njit(cache=True, nogil=True, error_model="numpy")
def _note_places(cost, rows, nx, ny, xs, ys, o, seed, picks, places, n):
    """Note the cheapest cells of a map, apart from each other: value, x, y, option."""
    for r in range(ny):
        rows[r] = _row_min(cost, r * nx, nx)
    first = int(_random(seed) * ny)
    shift = int(_random(seed) * nx)
    for pick in range(picks):
        value, at_r = np.float32(3e38), -1
        for k in range(ny):
            r = first + k
            if r >= ny:
                r -= ny
            if rows[r] < value:
                value, at_r = rows[r], r
        if at_r < 0 or value >= np.float32(2e38) or n == places.shape[0]:
            break
        at_c = 0
        for k in range(nx):
            c = k + shift
            if c >= nx:
                c -= nx
            if cost[at_r * nx + c] == value:
                at_c = c
                break
        k = n
        while k > 0 and places[k - 1, 0] > value:
            for c in range(4):
                places[k, c] = places[k - 1, c]
            k -= 1
        places[k, 0], places[k, 1], places[k, 2], places[k, 3] = value, xs[at_c], ys[at_r], o
        n += 1
        if pick + 1 < picks:
            for r in range(max(0, at_r - 3), min(ny, at_r + 4)):
                for c in range(max(0, at_c - 3), min(nx, at_c + 4)):
                    cost[r * nx + c] = 3e38
                rows[r] = _row_min(cost, r * nx, nx)
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def best_place(
    g,
    rules,
    i,
    shape,
    ox,
    oy,
    count,
    w,
    length,
    bufs,
    seed,
    picks,
    settles,
    window,
    tries,
    skip,
    limit,
    out,
):
    """Find the place and option of least weighted depth for item i; fill out with x, y, option.

    With a window only places so near to the present one are looked at. Returns the weighted depth.
    """
    cost, xs, ys, near, lines, dist, rows, lo, places = bufs
    step = g.step
    best = limit
    out[2] = -1.0
    n = NONE
    for o in range(rules.opt_at[i], rules.opt_at[i + 1]):
        s = rules.opt_shape[o]
        frame(g, rules, s, length, lo)
        if window > 0.0:
            lo[0] = min(max(lo[0], ox[i] - window), lo[2])
            lo[1] = min(max(lo[1], oy[i] - window), lo[3])
            lo[2] = max(min(lo[2], ox[i] + window), lo[0])
            lo[3] = max(min(lo[3], oy[i] + window), lo[1])
        nx, ny = map_cost(g, rules, i, o, s, shape, ox, oy, count, w, lo, cost, xs, ys)
        if nx > 0 and ny > 0:
            n = _note_places(cost, rows, nx, ny, xs, ys, o, seed, picks, places, n)
    for k in range(min(n, settles)):
        if k > 0 and places[k, 0] > skip * best + 1e-3:
            break
        o = int(places[k, 3])
        s = rules.opt_shape[o]
        frame(g, rules, s, length, lo)
        free_x, free_y = rules.opt[o, 2] == 0.0, rules.opt[o, 3] == 0.0
        if free_x:
            free_x = lo[2] > lo[0]
        else:
            lo[0], lo[2] = -1e300, 1e300
        if free_y:
            free_y = lo[3] > lo[1]
        else:
            lo[1], lo[3] = -1e300, 1e300
        x, y, f = settle(
            g, i, shape, ox, oy, count, w, s, places[k, 1], places[k, 2], step, lo,
            free_x, free_y, near, lines, dist, tries, best,
        )  # fmt: skip
        if f < best:
            best = f
            out[0], out[1], out[2] = x, y, np.float64(o)
            if f <= 0.0:
                return best
    return best


@njit(cache=True, nogil=True, error_model="numpy")
def _settle_left(
    g, i, shape, ox, oy, count, w, s, x, y, reach, lo, free_x, free_y, near, lines, dist, out
):
    """Find the free meeting of contact lines near a place that lies farthest to the left."""
    n = _neighbours(g, i, shape, ox, oy, count, w, s, x, y, 3.0 * reach, near)
    found = False
    if weighted(g, near, n, x, y, 1e-12) <= 0.0:
        found = True
        out[0], out[1] = x, y
    m = _lines_near(g, near, n, x, y, reach, lo, lines, dist, free_x, free_y)
    for a in range(m):
        na, nb, c = lines[a, 0], lines[a, 1], lines[a, 2]
        for b in range(a + 1):
            if b == a or not (free_x and free_y):
                off = c - na * x - nb * y
                if free_x and free_y:
                    px, py = x + off * na, y + off * nb
                elif free_x:
                    if abs(na) < 1e-9:
                        continue
                    px, py = x + off / na, y
                elif free_y:
                    if abs(nb) < 1e-9:
                        continue
                    px, py = x, y + off / nb
                else:
                    continue
            else:
                cross = na * lines[b, 1] - nb * lines[b, 0]
                if abs(cross) < 1e-6:
                    continue
                px = (c * lines[b, 1] - nb * lines[b, 2]) / cross
                py = (na * lines[b, 2] - c * lines[b, 0]) / cross
            if abs(px - x) > 3.0 * reach or abs(py - y) > 3.0 * reach:
                continue
            if px < lo[0] - 1e-9 or px > lo[2] + 1e-9 or py < lo[1] - 1e-9 or py > lo[3] + 1e-9:
                continue
            px, py = _keep(lo, px, py)
            if found and px >= out[0] - 1e-9:
                continue
            if weighted(g, near, n, px, py, 1e-12) <= 0.0:
                found = True
                out[0], out[1] = px, py
    return found


@njit(cache=True, nogil=True, error_model="numpy")
def lay_one(g, rules, i, shape, ox, oy, count, length, bufs, tries, out):
    """Find the free place of item i that ends farthest to the left among those laid so far.

    Items from `count` on are not there yet. Fills out with x, y, option; returns whether found.
    """
    cost, xs, ys, near, lines, dist, _rows, _lo, _places = bufs
    step = g.step
    lo = np.empty(4)
    spot = np.empty(2)
    best = np.inf
    out[2] = -1.0
    eff = np.ones(count)
    first = np.empty(ys.size, np.int64)
    for o in range(rules.opt_at[i], rules.opt_at[i + 1]):
        s = rules.opt_shape[o]
        frame(g, rules, s, length, lo)
        nx, ny = map_cost(g, rules, NOBODY, o, s, shape, ox, oy, count, eff, lo, cost, xs, ys)
        if nx == 0 or ny == 0:
            continue
        px, py = rules.opt[o, 2], rules.opt[o, 3]
        free_x, free_y = px == 0.0 and lo[2] > lo[0], py == 0.0 and lo[3] > lo[1]
        if px != 0.0:
            lo[0], lo[2] = -1e300, 1e300
        if py != 0.0:
            lo[1], lo[3] = -1e300, 1e300
        for r in range(ny):
            first[r] = -1
        todo = tries
        while todo > 0:
            # the row whose next promising cell lies farthest left
            best_c, best_r = nx, -1
            for r in range(ny):
                c = first[r]
                if c < 0:
                    c = -c - 1
                    while c < nx and cost[r * nx + c] > 0.75 * step:
                        c += 1
                    first[r] = c
                if c < best_c:
                    best_c, best_r = c, r
            if best_r < 0 or xs[best_c] + g.extent[s, 2] >= best:
                break
            todo -= 1
            x, y = xs[best_c], ys[best_r]
            if _settle_left(
                g, NOBODY, shape, ox, oy, count, eff, s, x, y, step, lo, free_x, free_y, near, lines,
                dist, spot,
            ) and spot[0] + g.extent[s, 2] < best:  # fmt: skip
                best = spot[0] + g.extent[s, 2]
                out[0], out[1], out[2] = spot[0], spot[1], np.float64(o)
                break
            first[best_r] = -(best_c + 1) - 1
            if todo == tries // 2:
                for r in range(ny):
                    c = first[r] if first[r] >= 0 else -first[r] - 1
                    while c < nx and cost[r * nx + c] > 0.0:
                        c += 1
                    first[r] = c
        # beyond everything there is room
        x = xs[nx - 1] if px != 0.0 else lo[2]
        if x + g.extent[s, 2] < best and _settle_left(
            g, NOBODY, shape, ox, oy, count, eff, s, x, ys[0], step, lo, free_x, free_y, near, lines,
            dist, spot,
        ):  # fmt: skip
            best = spot[0] + g.extent[s, 2]
            out[0], out[1], out[2] = spot[0], spot[1], np.float64(o)
    return out[2] >= 0.0


@njit(cache=True, nogil=True, error_model="numpy")
def depths_of(g, i, first, count, shape, x, y, d):
    """Fill the depths of item i in all others from the first on; return their sum."""
    link, head, ref, part, edge, seg = g.link[shape[i]], g.head, g.ref, g.part, g.edge, g.seg
    total = 0.0
    for j in range(first, count):
        both = link[shape[j]]
        v = 0.0
        if both >= 0 and j != i:
            p = both >> 1
            vx, vy = x[j] - x[i], y[j] - y[i]
            if both & 1:
                vx, vy = -vx, -vy
            if vx > head[p, 0] and vy > head[p, 1] and vx < head[p, 2] and vy < head[p, 3]:
                v = depth(head, ref, part, edge, seg, p, vx, vy)
        d[i, j] = v
        d[j, i] = v
        total += v
    return total


@njit(cache=True, nogil=True, error_model="numpy")
def all_depths(g, movable, count, shape, x, y, d):
    """Fill the depths of all pairs; return their sum."""
    total = 0.0
    for i in range(movable):
        total += depths_of(g, i, i + 1, count, shape, x, y, d)
    return total


@njit(cache=True, nogil=True, error_model="numpy")
def separate(
    g,
    rules,
    movable,
    count,
    shape,
    opt,
    x,
    y,
    weight,
    scale,
    d,
    length,
    seed,
    bufs,
    budget,
    best_x,
    best_y,
    best_shape,
    best_opt,
    best,
    patience,
    looks,
    used,
):
    """Move pieces that lie in each other until none does, or the budget of moves is used up.

    Returns 1 if all lie free, 0 if the budget ran out, -1 if nothing got better for long.
    """
    picks, settles, part, wide, tries, skip = looks
    order, eff, out = np.empty(movable, np.int64), np.empty(count), np.empty(3)
    total = all_depths(g, movable, count, shape, x, y, d)
    if total <= 0.0:
        return 1
    moves = 0
    while True:
        n = 0
        for i in range(movable):
            for j in range(count):
                if d[i, j] > 0.0 and i != j:
                    order[n] = i
                    n += 1
                    break
        for k in range(n - 1, 0, -1):
            m = int(_random(seed) * (k + 1))
            order[k], order[m] = order[m], order[k]
        for k in range(n):
            i = order[k]
            now = 0.0
            for j in range(count):
                eff[j] = weight[i, j] * scale[i, j]
                now += eff[j] * d[i, j]
            if now <= 0.0:
                continue
            moves += 1
            window = wide if _random(seed) < part else 0.0
            f = best_place(
                g, rules, i, shape, x, y, count, eff, length, bufs, seed, picks, settles, window, tries, skip,
                now, out,
            )  # fmt: skip
            if out[2] >= 0.0 and f < now:
                x[i], y[i] = out[0], out[1]
                opt[i] = int(out[2])
                shape[i] = rules.opt_shape[opt[i]]
                depths_of(g, i, NONE, count, shape, x, y, d)
        total, top = 0.0, 0.0
        for i in range(movable):
            for j in range(i + 1, count):
                total += d[i, j] * scale[i, j]
                top = max(top, d[i, j] * scale[i, j])
        used[0] += n
        if total <= 0.0:
            return 1
        if total < best[0] * 0.98:
            used[1] = 0
        else:
            used[1] += 1
        if total < best[0]:
            best[0] = total
            for i in range(count):
                best_x[i], best_y[i], best_shape[i] = x[i], y[i], shape[i]
                best_opt[i] = opt[i]
        for i in range(movable):
            for j in range(i + 1, count):
                if d[i, j] > 0.0:
                    weight[i, j] *= 1.2 + 0.8 * d[i, j] * scale[i, j] / top
                elif weight[i, j] > 1.0:
                    weight[i, j] = max(1.0, 0.95 * weight[i, j])
                weight[j, i] = weight[i, j]
        if used[1] >= patience:
            return -1
        if moves >= budget:
            return 0


@njit(cache=True, nogil=True, error_model="numpy")
def facing_sides(g, movable, count, shape, x, y, reach):
    """Return rows (i, j, nx, ny, c): the place of i must keep n . (p_i - p_j) >= c.

    One row for every part of the no-fit region of two shapes that is within reach.
    """
    out = np.empty((256 * (movable + 4), 5))
    n = 0
    for i in range(movable):
        for j in range(count):
            if j < movable and j >= i:
                continue
            link = g.link[shape[j], shape[i]]
            if link < 0:
                continue
            p = link >> 1
            sign = -1.0 if link & 1 else 1.0
            vx, vy = sign * (x[i] - x[j]), sign * (y[i] - y[j])
            h, gap = g.head[p], g.head[p, 4]
            far = reach
            if vx < h[0] - far or vy < h[1] - far or vx > h[2] + far or vy > h[3] + far:
                continue
            for k in range(g.ref[p, 0], g.ref[p, 1]):
                b = g.part[k]
                if vx < b[0] - far or vy < b[1] - far or vx > b[2] + far or vy > b[3] + far:
                    continue
                best, be = -np.inf, -1
                for e in range(int(b[4]), int(b[5])):
                    if g.edge[e, 2] == np.inf:
                        continue
                    off = g.edge[e, 0] * vx + g.edge[e, 1] * vy - g.edge[e, 2]
                    if off > best:
                        best, be = off, e
                if be < 0 or best > far + gap:
                    continue
                if n == out.shape[0]:
                    new = np.empty((2 * n, 5))
                    for row in range(n):
                        for c in range(5):
                            new[row, c] = out[row, c]
                    out = new
                out[n, 0], out[n, 1] = i, j
                out[n, 2], out[n, 3] = sign * g.edge[be, 0], sign * g.edge[be, 1]
                out[n, 4] = g.edge[be, 2] + gap
                if gap - 1e-6 < best < gap:
                    out[n, 4] = g.edge[be, 2] + best  # off a hair: keep the row satisfiable
                n += 1
    return out, n
