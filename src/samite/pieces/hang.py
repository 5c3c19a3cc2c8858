"""Hems raised where the bias will drop, so that they hang level."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from samite.kernel.ranges import require_positive
from samite.pieces.curves import Arc
from samite.pieces.edge import Edge
from samite.pieces.edge_moves import with_edge_moved
from samite.pieces.forms.drape import bias_drop_mm
from samite.pieces.outline import Piece
from samite.pieces.plane import Point, cross, outward
from samite.pieces.settle import Freedom, settle
from samite.pieces.walk import Mate, walk

SEEN_MM = 0.5
"""A drop that is smaller is left alone [mm]."""

_STEPS = 96
_THIN = 0.02
"""Least share of a hem's radius that counts as a waist, where a sector ends in a point."""


@dataclass(frozen=True, slots=True)
class Hang:
    """How a cloth hangs on the bias.

    Parameters
    ----------
    mass_per_area_gsm : float
        Mass per area [g/m2].
    bias_extension_percent : float
        Extension on the bias under 5 gf/cm [%].
    creep : float
        Whole drop over the elastic one [-].
    least : float
        Least drop over this one [-].
    most : float
        Most drop over this one [-].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.
    """

    mass_per_area_gsm: float
    bias_extension_percent: float
    creep: float
    least: float
    most: float

    def __post_init__(self) -> None:
        require_positive(
            mass_per_area_gsm=self.mass_per_area_gsm,
            bias_extension_percent=self.bias_extension_percent,
            creep=self.creep,
        )


@dataclass(frozen=True, slots=True)
class Hung:
    """What hanging does to one hem.

    Parameters
    ----------
    piece : str
        Name of the piece.
    edge : str
        Name of the hem.
    drop_mm : float
        How far its lowest place drops [mm].
    least_mm : float
        At least [mm].
    most_mm : float
        At most [mm].
    """

    piece: str
    edge: str
    drop_mm: float
    least_mm: float
    most_mm: float

    @property
    def room_mm(self) -> float:
        """What is left on for levelling: how much less it may drop [mm]."""
        return self.drop_mm - self.least_mm


def hang_hems(
    pieces: Sequence[Piece], hang: Hang, mates: Sequence[Mate] = ()
) -> tuple[tuple[Piece, ...], tuple[Hung, ...]]:
    """Raise the hems of pieces by what the bias above them will drop.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    hang : Hang
        How the cloth hangs.
    mates : sequence of Mate
        Seams: where the two sides of one would drop differently, they meet at the mean.

    Returns
    -------
    tuple of (tuple of Piece, tuple of Hung)
        The pieces, and the drop of every hem that moves by half a millimetre or more.

    Raises
    ------
    InputError
        If an outline becomes impossible.

    Notes
    -----
    At each place of a hem: the elastic drop of a sector on the true bias that hangs as long,
    times the square of the sine of twice the angle between hang and grain (threads that do not
    stretch), times the creep. The creep is a guess, and so is the whole.

    References
    ----------
    ``derivation``: elastic constants of an orthotropic sheet at an angle.
    """
    made, found = [], []
    for piece in pieces:
        new = piece
        for edge in piece.edges:
            if edge.kind != "hem":
                continue
            drops = _drops(new, new.edge(edge.name), hang)
            worst = max(drops)
            if worst < SEEN_MM:
                continue
            new = _raised(new, edge.name, drops)
            found.append(Hung(piece.name, edge.name, worst, worst * hang.least, worst * hang.most))
        made.append(new)
    if not found:
        return tuple(pieces), ()
    return _seamed(pieces, made, mates), tuple(found)


def _seamed(
    before: Sequence[Piece], after: Sequence[Piece], mates: Sequence[Mate]
) -> tuple[Piece, ...]:
    """Let the corners of raised hems move until both sides of every seam are equal again."""
    wanted = [one.second_mm - one.first_mm for one in walk(before, mates)]
    fixed = set()
    for piece in after:
        count = len(piece.edges)
        hems = {k for k, edge in enumerate(piece.edges) if edge.kind == "hem"}
        near = hems | {(k + step) % count for k in hems for step in (-1, 1)}
        fixed |= {(piece.name, e.name) for k, e in enumerate(piece.edges) if k not in near}
    return settle(after, mates, wanted, Freedom(frozenset(fixed), {}))


def _drops(piece: Piece, edge: Edge, hang: Hang) -> list[float]:
    """Return the drop at even steps along a hem."""
    sides = _sides(piece, edge)
    bulge = edge.curves[0].radius_mm if _is_ring(edge) else 0.0  # type: ignore[attr-defined]
    drops = []
    for k in range(_STEPS + 1):
        place, along = edge.at(edge.length_mm * k / _STEPS)
        down = outward(along)
        length = _hanging(place, down, sides)
        angle = math.atan2(down[1], down[0]) - math.radians(piece.grain_deg)
        share = math.sin(2.0 * angle) ** 2
        drops.append(share * hang.creep * _on_bias(length, bulge, hang))
    return drops


def _is_ring(edge: Edge) -> bool:
    return (
        len(edge.curves) == 1 and isinstance(edge.curves[0], Arc) and edge.curves[0].sweep_rad > 0
    )


def _on_bias(length: float, radius: float, hang: Hang) -> float:
    """Return the elastic drop of cloth that hangs on the true bias."""
    if length <= 1.0:
        return 0.0
    outer = radius if radius > length else 1e4 * length  # a straight hem is a very large ring
    inner = max(outer - length, _THIN * outer)
    return bias_drop_mm(
        waist_radius_mm=inner,
        hem_radius_mm=outer,
        mass_per_area_gsm=hang.mass_per_area_gsm,
        bias_extension_percent=hang.bias_extension_percent,
    )


def _sides(piece: Piece, hem: Edge) -> list[tuple[tuple[Point, ...], float]]:
    """Return the lines above a hem, and how long cloth hangs at least where a seam is met first."""
    count = len(piece.edges)
    at = [edge.name for edge in piece.edges].index(hem.name)
    beside = {(at - 1) % count, (at + 1) % count}
    return [
        (edge.flat(0.1), edge.length_mm if k in beside else 0.0)
        for k, edge in enumerate(piece.edges)
        if k != at
    ]


def _hanging(place: Point, down: Point, sides: Sequence[tuple[tuple[Point, ...], float]]) -> float:
    """Return how much cloth hangs above a place of a hem; beside a seam it hangs on along it."""
    best, least = math.inf, 0.0
    up = (-down[0], -down[1])
    for points, length in sides:
        for a, b in pairwise(points):
            side = (b[0] - a[0], b[1] - a[1])
            turn = cross(up, side)
            if abs(turn) < 1e-12:
                continue
            gap = (a[0] - place[0], a[1] - place[1])
            reach, share = cross(gap, side) / turn, cross(gap, up) / turn
            if 0.0 <= reach < best and -1e-9 <= share <= 1.0 + 1e-9:
                best, least = reach, length
    return least if best == math.inf else max(best, least)


def _raised(piece: Piece, name: str, drops: Sequence[float]) -> Piece:
    worst = max(drops)

    def weight(share: float) -> float:
        place = min(max(share, 0.0), 1.0) * _STEPS
        at = min(int(place), _STEPS - 1)
        return (drops[at] + (drops[at + 1] - drops[at]) * (place - at)) / worst

    return with_edge_moved(piece, name, weight, -worst)
