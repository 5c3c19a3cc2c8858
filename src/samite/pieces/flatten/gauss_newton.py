"""Rows that must come out exactly: seam edges, girth lines, straight centre lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.flatten.arap import System

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]
    Whole = NDArray[np.int64]

_SOFT = 1e-9
"""Softness of a row against the others, so that rows that repeat each other do no harm [-]."""


@dataclass(frozen=True, slots=True)
class Rows:
    """Lengths that must come out, and lines that must be straight.

    Parameters
    ----------
    first, second : ndarray of int
        Ends of every edge that a length is made of.
    row : ndarray of int
        Which length each edge belongs to.
    targets_mm : ndarray of float
        The lengths [mm].
    spread : ndarray of bool
        Whether the pull of a length is spread over the cloth around it.
    straight : tuple of ndarray of int
        Points that share one x each.
    """

    first: Whole
    second: Whole
    row: Whole
    targets_mm: Real
    spread: NDArray[np.bool_]
    straight: tuple[Whole, ...] = ()


def rows_of(
    edges: Sequence[tuple[Whole, Real]],
    totals: Sequence[tuple[Whole, float, bool]],
    straight: Sequence[Whole] = (),
) -> Rows:
    """Return the rows of a panel.

    Parameters
    ----------
    edges : sequence of (ndarray of int, ndarray of float)
        Points of a side, and the length of each of its edges [mm].
    totals : sequence of (ndarray of int, float, bool)
        Points of a line, its whole length [mm], and whether its pull is spread over the cloth around it.
    straight : sequence of ndarray of int
        Points of lines that must be straight and upright.

    Returns
    -------
    Rows
        The rows.

    References
    ----------
    ``definition``: lengths of edges and lines.
    """
    first, second, row, targets = [], [], [], []
    count = 0
    for chain, lengths in edges:
        first.append(chain[:-1])
        second.append(chain[1:])
        row.append(np.arange(count, count + len(lengths)))
        targets.append(np.asarray(lengths, dtype=np.float64))
        count += len(lengths)
    for chain, length, _ in totals:
        first.append(chain[:-1])
        second.append(chain[1:])
        row.append(np.full(len(chain) - 1, count))
        targets.append(np.array([length]))
        count += 1
    empty = np.zeros(0, dtype=np.int64)
    return Rows(
        np.concatenate([empty, *first]), np.concatenate([empty, *second]),
        np.concatenate([empty, *row]), np.concatenate([np.zeros(0), *targets]),
        np.array([False] * (count - len(totals)) + [one[2] for one in totals], dtype=bool),
        tuple(straight),
    )  # fmt: skip


def lengths_mm(rows: Rows, flat: Real) -> Real:
    """Return the lengths of all rows in the flat.

    Parameters
    ----------
    rows : Rows
        The rows.
    flat : ndarray of float, shape (n, 2)
        Corners in the flat [mm].

    Returns
    -------
    ndarray of float
        Lengths [mm].

    References
    ----------
    ``definition``: length of a polygon.
    """
    apart = np.linalg.norm(flat[rows.second] - flat[rows.first], axis=1)
    return np.asarray(
        np.bincount(rows.row, apart, minlength=len(rows.targets_mm)), dtype=np.float64
    )


@dataclass(frozen=True, slots=True)
class Held:
    """Rows with what their points give way to.

    Parameters
    ----------
    rows : Rows
        The rows.
    points : ndarray of int
        Points that a row touches.
    place : ndarray of int, shape (n,)
        Number of every point among them.
    give : ndarray of float, shape (n, k)
        How all points move if one of them is pulled [-].
    spread : ndarray of float, shape (n, k)
        The same if the pull is spread over what lies around [-].
    """

    rows: Rows
    points: Whole
    place: Whole
    give: Real
    spread: Real


def held(system: System, rows: Rows, count: int) -> Held:
    """Return rows ready to be held.

    Parameters
    ----------
    system : System
        The equations of the flattening.
    rows : Rows
        The rows.
    count : int
        How many corners [-].

    Returns
    -------
    Held
        The rows.

    References
    ----------
    ``derivation``: Lagrange multipliers by the Schur complement.
    """
    points = np.unique(np.concatenate([rows.first, rows.second, *rows.straight]))
    place = np.zeros(count, dtype=np.int64)
    place[points] = np.arange(len(points))
    pulls = np.zeros((count, len(points)))
    pulls[points, np.arange(len(points))] = 1.0
    spread = np.zeros_like(pulls)
    pulled = rows.spread[rows.row]
    soft = place[np.unique(np.concatenate([rows.first[pulled], rows.second[pulled]]))]
    if len(soft):
        spread[:, soft] = system.solve(system.soften(pulls[:, soft]))
    return Held(rows, points, place, system.solve(pulls), spread)


def with_targets(kept: Held, targets_mm: Real) -> Held:
    """Return the same rows with other lengths.

    Parameters
    ----------
    kept : Held
        The rows.
    targets_mm : ndarray of float
        The lengths [mm].

    Returns
    -------
    Held
        The rows.

    References
    ----------
    ``definition``: the same rows.
    """
    return replace(kept, rows=replace(kept.rows, targets_mm=targets_mm))


def _jacobians(kept: Held, at: Real) -> tuple[Real, Real]:
    """Return how the rows change with x and with y of the points that they touch."""
    rows, place, width = kept.rows, kept.place, len(kept.points)
    apart = at[rows.second] - at[rows.first]
    way = apart / np.maximum(np.sqrt((apart**2).sum(axis=1))[:, None], 1e-9)
    lengths, straight = len(rows.targets_mm), sum(len(line) - 1 for line in rows.straight)
    where = np.concatenate(
        [rows.row * width + place[rows.second], rows.row * width + place[rows.first]]
    )
    found: list[Real] = []
    for axis in (0, 1):
        values = np.concatenate([way[:, axis], -way[:, axis]])
        size = (lengths + straight) * width
        summed = np.bincount(where, values, minlength=size).astype(np.float64)
        found.append(summed.reshape(-1, width))
    row = lengths
    for line in rows.straight:
        more = np.arange(row, row + len(line) - 1)
        found[0][more, place[line[1:]]] += 1.0
        found[0][more, place[line[0]]] -= 1.0
        row += len(more)
    return found[0], found[1]


def hold_rows(kept: Held, free: Real, at: Real, *, exact: bool = False) -> Real:
    """Return the corners nearest to where they would go that keep all rows.

    Parameters
    ----------
    kept : Held
        The rows.
    free : ndarray of float, shape (n, 2)
        Where the corners would go [mm].
    at : ndarray of float, shape (n, 2)
        Where they are; directions of edges are taken there [mm].
    exact : bool
        Whether `at` is `free`, and the rows are met as they stand there.

    Returns
    -------
    ndarray of float, shape (n, 2)
        Corners [mm].

    Notes
    -----
    One step of Gauss and Newton: every length is taken as linear about where its edge lies now;
    nearness is measured by the energy of the flattening itself.

    References
    ----------
    ``derivation``: Lagrange multipliers by the Schur complement.
    """
    in_x, in_y = _jacobians(kept, at)
    count, spread = len(kept.rows.targets_mm), kept.rows.spread
    apart = np.concatenate([~spread, np.ones(len(in_x) - count, dtype=bool)])
    moved_x, moved_y = _moved(kept, in_x, apart), _moved(kept, in_y, apart)
    matrix = in_x @ moved_x[kept.points] + in_y @ moved_y[kept.points]
    wanted = np.zeros(matrix.shape[0])
    if exact:
        wanted[:count] = kept.rows.targets_mm - lengths_mm(kept.rows, at)
        wanted[count:] = -(in_x @ at[kept.points, 0])[count:]
    else:
        wanted[:count] = kept.rows.targets_mm
        wanted -= in_x @ free[kept.points, 0] + in_y @ free[kept.points, 1]
    soft = _SOFT * float(np.trace(matrix)) / max(len(wanted), 1)
    force = np.linalg.solve(matrix + soft * np.eye(len(wanted)), wanted)
    return np.asarray(free + np.stack([moved_x @ force, moved_y @ force], axis=1))


def _moved(kept: Held, rows: Real, apart: NDArray[np.bool_]) -> Real:
    """Return how all points move for a pull in each row: at its place, or spread around it."""
    found = np.empty((len(kept.give), len(rows)))
    found[:, apart] = kept.give @ rows[apart].T
    found[:, ~apart] = kept.spread @ rows[~apart].T
    return found
