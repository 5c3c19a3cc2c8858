"""Lays solved by slow and simple means, and problems to solve."""

from __future__ import annotations

import itertools
import math

import numpy as np

from samite.lay._improve import Stream
from samite.lay._model import model_of
from samite.lay.problem import LayPiece, Outline, Problem


def rectangle(width: float, height: float) -> Outline:
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def star(rng: np.random.Generator, corners: int, size_mm: float = 100.0) -> Outline:
    """Return an outline that bulges and caves in, anticlockwise."""
    angles = 2.0 * math.pi * (np.arange(corners) + rng.uniform(0.0, 0.6, corners)) / corners
    radius = size_mm * rng.uniform(0.45, 1.0, corners)
    return tuple(
        (float(1.3 * r * math.cos(a)), float(r * math.sin(a)))
        for r, a in zip(radius, angles, strict=True)
    )


def stars(seed: int, *, count: int = 5, **rules: object) -> Problem:
    rng = np.random.default_rng(seed)
    pieces = tuple(
        LayPiece(f"star {k}", star(rng, int(rng.integers(3, 12))), 2, (0.0, 180.0))
        for k in range(count)
    )
    return Problem(400.0, pieces, **rules)  # type: ignore[arg-type]


def shortest_of_rectangles(
    sizes: list[tuple[float, float]], width: float, on_fold: set[int] = frozenset()
) -> float:
    """Return the shortest strip by trying everything.

    Some shortest lay has every rectangle pushed to the start and the lower edge, so that its
    places are sums of lengths and of widths of others.
    """
    best = sum(w for w, _ in sizes)
    xs = sorted(
        {
            sum(c)
            for n in range(len(sizes))
            for c in itertools.combinations([w for w, _ in sizes], n)
        }
    )
    ys = sorted(
        {
            sum(c)
            for n in range(len(sizes))
            for c in itertools.combinations([h for _, h in sizes], n)
        }
    )
    order = sorted(range(len(sizes)), key=lambda k: (k not in on_fold, -sizes[k][0] * sizes[k][1]))

    def put(at: int, placed: list[tuple[float, float, float, float]], length: float) -> None:
        nonlocal best
        if length >= best - 1e-9:
            return
        if at == len(order):
            best = length
            return
        w, h = sizes[order[at]]
        for x in xs:
            if max(length, x + w) >= best - 1e-9:
                break
            for y in (0.0,) if order[at] in on_fold else ys:
                if y + h > width + 1e-9:
                    break
                if all(
                    x + w <= a + 1e-9 or c <= x + 1e-9 or y + h <= b + 1e-9 or d <= y + 1e-9
                    for a, b, c, d in placed
                ):
                    put(at + 1, [*placed, (x, y, x + w, y + h)], max(length, x + w))

    put(0, [], 0.0)
    return best


def searched_mm(problem: Problem, *, seed: int = 1, chunks: int = 40) -> float:
    """Return the length after a fixed amount of work: the same on every machine."""
    stream = Stream(model_of(problem), seed)
    for step, _ in enumerate(stream.run()):
        if step >= chunks:
            break
    return stream.kept[0]
