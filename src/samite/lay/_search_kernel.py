"""Compiled search: how deep pieces lie in each other, and where each would lie best."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numba import njit

NEAR = 2e-7
"""Depth that counts as touching [mm]."""

LINES = 8
"""Contact lines whose meetings are tried."""


class Geometry(NamedTuple):
    """No-fit regions of all pairs of shapes, flat."""

    pair: np.ndarray
    flip: np.ndarray
    box: np.ndarray
    gap: np.ndarray
    part_at: np.ndarray
    part_box: np.ndarray
    edge_at: np.ndarray
    edge: np.ndarray
    seg_at: np.ndarray
    seg: np.ndarray
    ras_at: np.ndarray
    ras_n: np.ndarray
    ras_o: np.ndarray
    ras: np.ndarray
    rev: np.ndarray
    extent: np.ndarray
    step: np.ndarray


class Rules(NamedTuple):
    """What each item may do: its options (shape, lattice) and their places."""

    opt_at: np.ndarray
    opt_shape: np.ndarray
    opt_off: np.ndarray
    period: np.ndarray
    strip: np.ndarray


@njit(cache=True, nogil=True, error_model="numpy", inline="never")
def depth(g, p, vx, vy):
    """Return how deep a place lies in region p widened by its gap; 0 if free."""
    if vx <= g.box[p, 0] or vy <= g.box[p, 1] or vx >= g.box[p, 2] or vy >= g.box[p, 3]:
        return 0.0
    inside = False
    for part in range(g.part_at[p], g.part_at[p + 1]):
        if (
            vx <= g.part_box[part, 0]
            or vy <= g.part_box[part, 1]
            or vx >= g.part_box[part, 2]
            or vy >= g.part_box[part, 3]
        ):
            continue
        ok = True
        for e in range(g.edge_at[part], g.edge_at[part + 1]):
            if g.edge[e, 0] * vx + g.edge[e, 1] * vy >= g.edge[e, 2]:
                ok = False
                break
        if ok:
            inside = True
            break
    gap = g.gap[p]
    if not inside and gap == 0.0:
        return 0.0
    best = 1e300
    for s in range(g.seg_at[p], g.seg_at[p + 1]):
        ax, ay = g.seg[s, 0], g.seg[s, 1]
        dx, dy = g.seg[s, 2], g.seg[s, 3]
        ex, ey = vx - ax, vy - ay
        t = (ex * dx + ey * dy) * g.seg[s, 4]
        t = min(max(t, 0.0), 1.0)
        fx, fy = ex - t * dx, ey - t * dy
        best = min(best, fx * fx + fy * fy)
    d = math.sqrt(best)
    d = gap + d if inside else gap - d
    return d if d > NEAR else 0.0


@njit(cache=True, nogil=True, error_model="numpy")
def pair_depth(g, s, xs, ys, t, xt, yt):
    """Return how deep shape t lies in shape s."""
    p = g.pair[s, t]
    if p < 0:
        return 0.0
    if g.flip[s, t]:
        return depth(g, p, xs - xt, ys - yt)
    return depth(g, p, xt - xs, yt - ys)


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
        v = off + k * period
        while v <= hi + 1e-9 and n < out.size:
            out[n] = v
            n += 1
            v = off + (k + n) * period
        return n
    if hi <= lo:
        out[0] = lo
        return 1
    n = min(int((hi - lo) / step) + 1, out.size)
    for k in range(n):
        out[k] = lo + k * step
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def weighted(g, near, n, shape, ox, oy, w, s, x, y, limit):
    """Return the weighted depth of shape s at a place, or more than the limit."""
    total = 0.0
    for k in range(n):
        j = near[k]
        d = pair_depth(g, shape[j], ox[j], oy[j], s, x, y)
        if d > 0.0:
            total += w[j] * d
            if total >= limit:
                return total
    return total


@njit(cache=True, nogil=True, error_model="numpy")
def _neighbours(g, i, shape, ox, oy, count, s, x, y, reach, near):
    n = 0
    for j in range(count):
        if j == i:
            continue
        p = g.pair[shape[j], s]
        if p < 0:
            continue
        vx, vy = x - ox[j], y - oy[j]
        if g.flip[shape[j], s]:
            vx, vy = -vx, -vy
        if (
            vx > g.box[p, 0] - reach
            and vy > g.box[p, 1] - reach
            and vx < g.box[p, 2] + reach
            and vy < g.box[p, 3] + reach
        ):
            near[n] = j
            n += 1
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def _take_line(lines, dist, n, nx, ny, c, d):
    """Keep the nearest lines only, sorted by distance; return their number."""
    for k in range(n):
        same = abs(nx * lines[k, 0] + ny * lines[k, 1])
        if (
            same > 1.0 - 1e-12
            and abs(nx * lines[k, 0] + ny * lines[k, 1] - 1.0) < 1e-9
            and abs(c - lines[k, 2]) < 1e-9
        ):
            return n
    if n == lines.shape[0]:
        if d >= dist[n - 1]:
            return n
        n -= 1
    k = n
    while k > 0 and dist[k - 1] > d:
        lines[k] = lines[k - 1]
        dist[k] = dist[k - 1]
        k -= 1
    lines[k, 0], lines[k, 1], lines[k, 2] = nx, ny, c
    dist[k] = d
    return n + 1


@njit(cache=True, nogil=True, error_model="numpy")
def _lines_near(g, near, n, shape, ox, oy, s, x, y, reach, lo, lines, dist, free_x, free_y):
    m = 0
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
    for k in range(n):
        j = near[k]
        p = g.pair[shape[j], s]
        sign = -1.0 if g.flip[shape[j], s] else 1.0
        vx, vy = sign * (x - ox[j]), sign * (y - oy[j])
        gap = g.gap[p]
        for q in range(g.seg_at[p], g.seg_at[p + 1]):
            ax, ay = g.seg[q, 0], g.seg[q, 1]
            dx, dy = g.seg[q, 2], g.seg[q, 3]
            inv = g.seg[q, 4]
            ex, ey = vx - ax, vy - ay
            t = (ex * dx + ey * dy) * inv
            t = min(max(t, 0.0), 1.0)
            fx, fy = ex - t * dx, ey - t * dy
            d2 = fx * fx + fy * fy
            far = reach + gap
            if d2 < far * far:
                size = math.sqrt(inv)
                nx, ny = dy * size, -dx * size
                c = nx * ax + ny * ay + gap
                # the line in the item's own place: sign * (pos - o) on it
                m = _take_line(
                    lines, dist, m, sign * nx, sign * ny,
                    c + sign * (nx * ox[j] + ny * oy[j]), math.sqrt(d2),
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
        n = _neighbours(g, i, shape, ox, oy, count, s, x, y, 2.0 * reach, near)
        if turn == 0:
            best = weighted(g, near, n, shape, ox, oy, w, s, x, y, 1e300)
        if best <= 0.0 or not (free_x or free_y):
            break
        m = _lines_near(g, near, n, shape, ox, oy, s, x, y, reach, lo, lines, dist, free_x, free_y)
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
                f = weighted(g, near, n, shape, ox, oy, w, s, px, py, best)
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
                f = weighted(g, near, n, shape, ox, oy, w, s, px, py, best)
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
    step = g.step[0]
    px, py = rules.period[o, 0], rules.period[o, 1]
    nx = _axis(lo[0], lo[2], rules.opt_off[o, 0], px, step, xs)
    ny = _axis(lo[1], lo[3], rules.opt_off[o, 1], py, step, ys)
    if nx == 0 or ny == 0 or nx * ny > cost.size:
        return 0, 0
    for k in range(nx * ny):
        cost[k] = 0.0
    even = (px == 0.0 and py <= 0.0) or (ny == 1 and px == 0.0) or (nx == 1 and py == 0.0)
    for j in range(count):
        if j == i:
            continue
        t = shape[j]
        p = g.pair[t, s]
        if p < 0:
            continue
        rnx, rny = g.ras_n[p, 0], g.ras_n[p, 1]
        if g.flip[t, s]:
            sign = -1
            fx = (ox[j] - xs[0] - g.ras_o[p, 0]) / step
            fy = (oy[j] - ys[0] - g.ras_o[p, 1]) / step
        else:
            sign = 1
            fx = (xs[0] - ox[j] - g.ras_o[p, 0]) / step
            fy = (ys[0] - oy[j] - g.ras_o[p, 1]) / step
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
                _add(cost, nx, r0, r1, c0, c1, picture, g.ras_at[p], rnx, ky, kx, wj)
        else:
            for r in range(ny):
                v = int(math.floor(fy + sign * (ys[r] - ys[0]) / step + 0.5))
                if v < 0 or v >= rny:
                    continue
                for c in range(nx):
                    u = int(math.floor(fx + sign * (xs[c] - xs[0]) / step + 0.5))
                    if 0 <= u < rnx:
                        cost[r * nx + c] += wj * g.ras[g.ras_at[p] + v * rnx + u]
    return nx, ny


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
    cost,
    xs,
    ys,
    near,
    lines,
    dist,
    rows,
    seed,
    picks,
    limit,
    out,
):
    """Find the place and option of least weighted depth for item i; fill out with x, y, option.

    Returns the weighted depth.
    """
    step = g.step[0]
    lo = np.empty(4)
    best = limit
    out[2] = -1.0
    for o in range(rules.opt_at[i], rules.opt_at[i + 1]):
        s = rules.opt_shape[o]
        frame(g, rules, s, length, lo)
        px, py = rules.period[o, 0], rules.period[o, 1]
        nx, ny = map_cost(g, rules, i, o, s, shape, ox, oy, count, w, lo, cost, xs, ys)
        if nx == 0 or ny == 0:
            continue
        free_x, free_y = px == 0.0 and lo[2] > lo[0], py == 0.0 and lo[3] > lo[1]
        if px != 0.0:
            lo[0], lo[2] = -1e300, 1e300
        if py != 0.0:
            lo[1], lo[3] = -1e300, 1e300
        for r in range(ny):
            rows[r] = _row_min(cost, r * nx, nx)
        first = int(_random(seed) * ny)
        for pick in range(picks):
            value, at_r = np.float32(3e38), -1
            for k in range(ny):
                r = first + k
                if r >= ny:
                    r -= ny
                if rows[r] < value:
                    value, at_r = rows[r], r
            if at_r < 0 or value >= np.float32(2e38):
                break
            if pick > 0 and value > 2.0 * best + 1e-3:
                break
            at_c = 0
            shift = int(_random(seed) * nx)
            for k in range(nx):
                c = k + shift
                if c >= nx:
                    c -= nx
                if cost[at_r * nx + c] == value:
                    at_c = c
                    break
            x, y = xs[at_c], ys[at_r]
            x, y, f = settle(
                g, i, shape, ox, oy, count, w, s, x, y, 1.0 * step, lo, free_x, free_y,
                near, lines, dist, 3, best,
            )  # fmt: skip
            if f < best:
                best = f
                out[0], out[1], out[2] = x, y, np.float64(o)
                if f <= 0.0:
                    return best
            if pick + 1 < picks:
                for r in range(max(0, at_r - 3), min(ny, at_r + 4)):
                    for c in range(max(0, at_c - 3), min(nx, at_c + 4)):
                        cost[r * nx + c] = 3e38
                    rows[r] = _row_min(cost, r * nx, nx)
    return best


@njit(cache=True, nogil=True, error_model="numpy")
def _settle_left(
    g, i, shape, ox, oy, count, w, s, x, y, reach, lo, free_x, free_y, near, lines, dist, out
):
    """Find the free meeting of contact lines near a place that lies farthest to the left."""
    n = _neighbours(g, i, shape, ox, oy, count, s, x, y, 3.0 * reach, near)
    found = False
    if weighted(g, near, n, shape, ox, oy, w, s, x, y, 1e-12) <= 0.0:
        found = True
        out[0], out[1] = x, y
    m = _lines_near(g, near, n, shape, ox, oy, s, x, y, reach, lo, lines, dist, free_x, free_y)
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
            if weighted(g, near, n, shape, ox, oy, w, s, px, py, 1e-12) <= 0.0:
                found = True
                out[0], out[1] = px, py
    return found


@njit(cache=True, nogil=True, error_model="numpy")
def lay_one(g, rules, i, shape, ox, oy, count, length, bufs, tries, out):
    """Find the free place of item i that ends farthest to the left among those laid so far.

    Items from `count` on are not there yet. Fills out with x, y, option; returns whether found.
    """
    cost, xs, ys, near, lines, dist, _rows, _order, eff, _out = bufs
    step = g.step[0]
    lo = np.empty(4)
    spot = np.empty(2)
    best = np.inf
    out[2] = -1.0
    eff[:count] = 1.0
    first = np.empty(ys.size, np.int64)
    for o in range(rules.opt_at[i], rules.opt_at[i + 1]):
        s = rules.opt_shape[o]
        frame(g, rules, s, length, lo)
        nx, ny = map_cost(g, rules, -1, o, s, shape, ox, oy, count, eff, lo, cost, xs, ys)
        if nx == 0 or ny == 0:
            continue
        px, py = rules.period[o, 0], rules.period[o, 1]
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
                g, -1, shape, ox, oy, count, eff, s, x, y, step, lo, free_x, free_y, near, lines,
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
            g, -1, shape, ox, oy, count, eff, s, x, ys[0], step, lo, free_x, free_y, near, lines,
            dist, spot,
        ):  # fmt: skip
            best = spot[0] + g.extent[s, 2]
            out[0], out[1], out[2] = spot[0], spot[1], np.float64(o)
    return out[2] >= 0.0


@njit(cache=True, nogil=True, error_model="numpy")
def all_depths(g, movable, count, shape, x, y, d):
    """Fill the depths of all pairs; return their sum."""
    total = 0.0
    for i in range(movable):
        for j in range(i + 1, count):
            v = pair_depth(g, shape[j], x[j], y[j], shape[i], x[i], y[i])
            d[i, j] = v
            d[j, i] = v
            total += v
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
    picks,
    used,
):
    """Move pieces that lie in each other until none does, or the budget of moves is used up.

    Returns 1 if all lie free, 0 if the budget ran out, -1 if nothing got better for long.
    """
    cost, xs, ys, near, lines, dist, rows, order, eff, out = bufs
    total = all_depths(g, movable, count, shape, x, y, d)
    if total <= 0.0:
        return 1
    moves = 0
    stale = 0
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
            f = best_place(
                g, rules, i, shape, x, y, count, eff, length, cost, xs, ys, near, lines, dist,
                rows, seed, picks, now, out,
            )  # fmt: skip
            if out[2] >= 0.0 and f < now:
                x[i], y[i] = out[0], out[1]
                opt[i] = int(out[2])
                shape[i] = rules.opt_shape[opt[i]]
                for j in range(count):
                    if j != i:
                        v = pair_depth(g, shape[j], x[j], y[j], shape[i], x[i], y[i])
                        d[i, j] = v
                        d[j, i] = v
        total, top = 0.0, 0.0
        for i in range(movable):
            for j in range(i + 1, count):
                total += d[i, j] * scale[i, j]
                top = max(top, d[i, j] * scale[i, j])
        used[0] += n
        if total <= 0.0:
            return 1
        if total < best[0] * 0.98:
            stale = 0
        else:
            stale += 1
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
        if stale >= patience:
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
            p = g.pair[shape[j], shape[i]]
            if p < 0:
                continue
            sign = -1.0 if g.flip[shape[j], shape[i]] else 1.0
            vx, vy = sign * (x[i] - x[j]), sign * (y[i] - y[j])
            far = reach
            if (
                vx < g.box[p, 0] - far
                or vy < g.box[p, 1] - far
                or vx > g.box[p, 2] + far
                or vy > g.box[p, 3] + far
            ):
                continue
            for part in range(g.part_at[p], g.part_at[p + 1]):
                if (
                    vx < g.part_box[part, 0] - far
                    or vy < g.part_box[part, 1] - far
                    or vx > g.part_box[part, 2] + far
                    or vy > g.part_box[part, 3] + far
                ):
                    continue
                best, be = -np.inf, -1
                for e in range(g.edge_at[part], g.edge_at[part + 1]):
                    if g.edge[e, 2] == np.inf:
                        continue
                    off = g.edge[e, 0] * vx + g.edge[e, 1] * vy - g.edge[e, 2]
                    if off > best:
                        best, be = off, e
                if be < 0 or best > far + g.gap[p]:
                    continue
                if n == out.shape[0]:
                    new = np.empty((2 * n, 5))
                    new[:n] = out
                    out = new
                out[n, 0], out[n, 1] = i, j
                out[n, 2], out[n, 3] = sign * g.edge[be, 0], sign * g.edge[be, 1]
                out[n, 4] = g.edge[be, 2] + g.gap[p]
                if g.gap[p] - 1e-6 < best < g.gap[p]:
                    out[n, 4] = g.edge[be, 2] + best  # off a hair: keep the row satisfiable
                n += 1
    return out, n
