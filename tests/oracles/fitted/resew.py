"""Flat pieces sewn together again in space: a network of springs, made from nothing but the pieces.

Shares no code with the flattening: own triangles, own lengths, own solver. Mating edges are welded
point by point; springs are the edges of the triangles at their flat lengths; both centres stay in
the middle plane. What is left over tells whether the pieces can be worn as they were meant.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from scipy.sparse import coo_matrix, identity
from scipy.sparse.linalg import splu
from scipy.spatial import Delaunay

from samite.pieces.outline import Piece
from samite.pieces.walk import Mate

STEP = 24.0

AIR = 3e-4
"""How hard every point is drawn outwards, so that the cloth does not crumple [-]."""

SEWN = 4.0
"""How much stiffer a seam is than the cloth: layers and thread lie on each other [-]."""

FINE = 1.0
"""Distance of the points at which a line across a piece is followed over its triangles [mm]."""


@dataclass(frozen=True)
class Sewn:
    """The garment as sewn: how much its springs are off, and lines across it in space."""

    strain: np.ndarray
    seam_off_mm: dict[str, float]
    girths_mm: dict[str, float]
    edges_mm: dict[tuple[str, str], float]


def resew(pieces: Sequence[Piece], mates: Sequence[Mate], *, closed: bool = False) -> Sewn:
    """Sew one half of a garment, pieces from centre front to centre back; a leg or sleeve is closed."""
    counts = {}
    for mate in mates:
        longest = max(_length(_edge(pieces, *place)) for place in (mate.first, mate.second))
        counts[mate.first] = counts[mate.second] = max(2, round(longest / STEP))
    flats, triangles, names, owner = [], [], [], []
    for piece in pieces:
        points, faces, tags = _mesh(piece, counts)
        start = sum(len(one) for one in flats)
        flats.append(points)
        triangles.append(faces + start)
        names += [(piece.name, tag) for tag in tags]
        owner += [len(flats) - 1] * len(points)
    flat, faces = np.concatenate(flats), np.concatenate(triangles)
    weld = _welded(names, mates, counts)
    space = _start(flats, weld, 2.0 if closed else 1.0)
    edges = np.unique(
        np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1),
        axis=0,
    )
    rest = np.linalg.norm(flat[edges[:, 0]] - flat[edges[:, 1]], axis=1)
    middle = np.array([tag == "centre" or tag.endswith("crotch") for _, (tag, _) in names])
    held = np.zeros(len(space), dtype=bool)
    held[np.unique(weld[middle])] = True
    sewn = _on_seams(names, mates, counts)
    stiff = np.array([SEWN if (a, b) in sewn else 1.0 for a, b in edges.tolist()])
    found = _relaxed(space, weld[edges], rest, held, stiff)
    lengths = np.linalg.norm(found[weld[edges[:, 0]]] - found[weld[edges[:, 1]]], axis=1)
    return Sewn(
        lengths / rest - 1.0,
        _seams(found, flat, names, mates, counts, weld),
        _girths(pieces, flats, found, weld, triangles),
        _edges(pieces, found, names, counts, weld),
    )


def _edge(pieces: Sequence[Piece], name: str, edge: str) -> np.ndarray:
    piece = next(one for one in pieces if one.name == name)
    return np.array(piece.edge(edge).flat(0.05))


def _length(points: np.ndarray) -> float:
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def _at(points: np.ndarray, count: int) -> np.ndarray:
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    wanted = np.linspace(0.0, run[-1], count + 1)
    return np.stack([np.interp(wanted, run, points[:, k]) for k in (0, 1)], axis=1)


def _mesh(piece: Piece, counts: dict) -> tuple[np.ndarray, np.ndarray, list]:
    border, tags = [], []
    for edge in piece.edges:
        line = np.array(edge.flat(0.05))
        count = counts.get((piece.name, edge.name), max(2, round(_length(line) / STEP)))
        for k, point in enumerate(_at(line, count)[:-1]):
            border.append(point)
            tags.append((edge.name, k))
    border = np.array(border)
    shape = shapely.Polygon(border)
    x0, y0, x1, y1 = shape.bounds
    grid = np.array(
        [
            (x + (row % 2) * STEP / 2, y)
            for row, y in enumerate(np.arange(y0, y1, STEP * math.sqrt(0.75)))
            for x in np.arange(x0, x1, STEP)
        ]
    )
    inside = shapely.contains_xy(shape.buffer(-0.55 * STEP), grid)
    points = np.concatenate([border, grid[inside]])
    faces = Delaunay(points).simplices
    centres = points[faces].mean(axis=1)
    a, b, c = (points[faces[:, k]] for k in range(3))
    size = np.abs((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0])
    keep = shapely.contains_xy(shape, centres) & (size > 1e-3)
    tags += [("", -1)] * int(inside.sum())
    return points, faces[keep], tags


def _welded(names: list, mates: Sequence[Mate], counts: dict) -> np.ndarray:
    """Give points that are sewn together one number."""
    number = {key: k for k, key in enumerate(names) if key[1][1] >= 0}
    parent = list(range(len(names)))

    def root(k: int) -> int:
        while parent[k] != k:
            k = parent[k]
        return k

    ends = _edge_ends(names)
    for mate in mates:
        count = counts[mate.first]
        for k in range(count + 1):
            a = _point(number, ends, mate.first, k, count)
            b = _point(number, ends, mate.second, count - k, count)
            parent[root(a)] = root(b)
    roots = np.array([root(k) for k in range(len(names))])
    return np.unique(roots, return_inverse=True)[1]


def _on_seams(names: list, mates: Sequence[Mate], counts: dict) -> set:
    """Return the springs that lie on a seam, as pairs of points."""
    number = {key: k for k, key in enumerate(names) if key[1][1] >= 0}
    ends = _edge_ends(names)
    found = set()
    for place in (place for mate in mates for place in (mate.first, mate.second)):
        count = counts[place]
        line = [_point(number, ends, place, k, count) for k in range(count + 1)]
        found |= {(min(a, b), max(a, b)) for a, b in itertools.pairwise(line)}
    return found


def _edge_ends(names: list) -> dict:
    """Return the first point of the edge after each edge, which ends it."""
    ends = {}
    for piece in dict.fromkeys(name for name, _ in names):
        order = list(dict.fromkeys(tag[0] for name, tag in names if name == piece and tag[1] >= 0))
        for edge, after in zip(order, [*order[1:], order[0]], strict=True):
            ends[piece, edge] = (piece, (after, 0))
    return ends


def _point(number: dict, ends: dict, place: tuple, k: int, count: int) -> int:
    return number[ends[place]] if k == count else number[place[0], (place[1], k)]


def _start(flats: list, weld: np.ndarray, turns: float) -> np.ndarray:
    """Wrap the pieces around a half or whole cylinder, one beside the other."""
    widths = [float(np.ptp(points[:, 0])) for points in flats]
    radius = sum(widths) / (turns * math.pi)
    placed, left = [], 0.0
    for points, width in zip(flats, widths, strict=True):
        x = left + points[:, 0] - points[:, 0].min()
        angle = x / radius
        placed.append(
            np.stack(
                [radius * np.sin(angle), radius * np.cos(angle), points[:, 1] - points[:, 1].min()],
                axis=1,
            )
        )
        left += width
    every = np.concatenate(placed)
    space = np.zeros((weld.max() + 1, 3))
    share = np.bincount(weld)
    for axis in range(3):
        space[:, axis] = np.bincount(weld, every[:, axis]) / share
    return space


def _relaxed(
    space: np.ndarray, edges: np.ndarray, rest: np.ndarray, held: np.ndarray, stiff: np.ndarray
) -> np.ndarray:
    """Move the points until springs are as long as they were cut; a breath of air keeps it open."""
    count, springs = len(space), len(edges)
    rows = np.repeat(np.arange(springs), 6)
    away = space * np.array([1.4, 1.4, 1.0])

    def both(flat: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        at = flat.reshape(-1, 3)
        apart = at[edges[:, 1]] - at[edges[:, 0]]
        return at, apart

    def off(flat: np.ndarray) -> np.ndarray:
        at, apart = both(flat)
        return np.concatenate(
            [
                stiff * (np.linalg.norm(apart, axis=1) - rest),
                5.0 * at[held, 0],
                AIR * (at - away).ravel(),
            ]
        )

    def slopes(flat: np.ndarray):
        _, apart = both(flat)
        way = apart * (stiff / np.linalg.norm(apart, axis=1))[:, None]
        columns = np.stack(
            [3 * edges[:, [0]] + np.arange(3), 3 * edges[:, [1]] + np.arange(3)], axis=1
        ).reshape(springs, 6)
        values = np.concatenate([-way, way], axis=1)
        at_middle = np.nonzero(held)[0]
        r = np.concatenate(
            [
                rows,
                springs + np.arange(len(at_middle)),
                springs + len(at_middle) + np.arange(3 * count),
            ]
        )
        c = np.concatenate([columns.ravel(), 3 * at_middle, np.arange(3 * count)])
        v = np.concatenate([values.ravel(), np.full(len(at_middle), 5.0), np.full(3 * count, AIR)])
        return coo_matrix(
            (v, (r, c)), shape=(springs + len(at_middle) + 3 * count, 3 * count)
        ).tocsr()

    at = space.ravel()
    soft, now = 1e-3, off(at)
    for _ in range(30):
        slope = slopes(at)
        square = (slope.T @ slope).tocsc()
        step = splu(square + soft * identity(3 * count, format="csc")).solve(-(slope.T @ now))
        then = off(at + step)
        if then @ then < now @ now:
            gained = 1.0 - (then @ then) / (now @ now)
            at, now, soft = at + step, then, max(0.2 * soft, 1e-9)
            if gained < 1e-4:
                break
        else:
            soft *= 10.0
    return at.reshape(-1, 3)


def _edges(
    pieces: Sequence[Piece], space: np.ndarray, names: list, counts: dict, weld: np.ndarray
) -> dict:
    """Return every edge as long as it is in space."""
    number = {key: k for k, key in enumerate(names) if key[1][1] >= 0}
    ends = _edge_ends(names)
    found = {}
    for piece in pieces:
        for edge in piece.edges:
            count = sum(1 for name, tag in number if name == piece.name and tag[0] == edge.name)
            place = (piece.name, edge.name)
            line = [_point(number, ends, place, k, count) for k in range(count + 1)]
            found[place] = _length(space[weld[line]])
    return found


def _seams(
    space: np.ndarray,
    flat: np.ndarray,
    names: list,
    mates: Sequence[Mate],
    counts: dict,
    weld: np.ndarray,
) -> dict:
    number = {key: k for k, key in enumerate(names) if key[1][1] >= 0}
    ends = _edge_ends(names)
    found = {}
    for mate in mates:
        count = counts[mate.first]
        line = [_point(number, ends, mate.first, k, count) for k in range(count + 1)]
        worn = _length(space[weld[line]])
        cut = _length(flat[line])
        found[" ".join(mate.first)] = worn - cut
    return found


def _girths(
    pieces: Sequence[Piece], flats: list, space: np.ndarray, weld: np.ndarray, triangles: list
) -> dict:
    """Return the lines that are drawn over all pieces, as long as they are in space."""
    totals: dict[str, float] = {}
    start = 0
    for piece, points, faces in zip(pieces, flats, triangles, strict=True):
        carry = _carrier(points, faces - start, space[weld[start : start + len(points)]])
        for rule in piece.rules:
            if not rule.name.endswith(" line"):
                continue
            # point by point over every triangle: chords would cut across the folds between them
            line = _at(np.array(rule.points), max(2, round(_length(np.array(rule.points)) / FINE)))
            worn = carry(line)
            totals[rule.name.removesuffix(" line")] = totals.get(
                rule.name.removesuffix(" line"), 0.0
            ) + 2.0 * _length(worn)
        start += len(points)
    return totals


def _carrier(
    points: np.ndarray, faces: np.ndarray, space: np.ndarray
) -> Callable[[np.ndarray], np.ndarray]:
    """Return what carries points of a flat piece to where they lie in space."""
    corner = points[faces]
    inverse = np.linalg.inv(
        np.stack([corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]], axis=2)
    )

    def carry(line: np.ndarray) -> np.ndarray:
        part = np.einsum("fij,pfj->pfi", inverse, line[:, None] - corner[None, :, 0])
        shares = np.concatenate([1.0 - part.sum(axis=2, keepdims=True), part], axis=2)
        # a curved edge runs a little outside the triangles: the nearest one is carried on
        kept = np.clip(shares, 0.0, None)
        kept /= kept.sum(axis=2, keepdims=True)
        off = np.einsum("pfk,fkx->pfx", kept, corner) - line[:, None]
        best = np.argmin(np.hypot(off[..., 0], off[..., 1]), axis=1)
        shares = shares[np.arange(len(line)), best]
        return np.einsum("pk,pkx->px", shares, space[faces[best]])

    return carry
