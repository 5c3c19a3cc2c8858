"""The cap of a sleeve solved again to its armholes."""

from __future__ import annotations

import math
from dataclasses import replace

from samite.pieces.curves import Trace
from samite.pieces.forms.limbs import cap_halves_mm
from samite.pieces.outline import Piece
from samite.pieces.plane import Point, away, unit_vector

CAPS = ("front-cap", "back-cap")
"""Names of the two halves of a sleeve's cap."""

_CAP_STEPS = 160


def with_cap(piece: Piece, *, front_armhole_mm: float, back_armhole_mm: float) -> Piece:
    """Return a set-in sleeve whose cap is solved again to its armholes.

    Parameters
    ----------
    piece : Piece
        A sleeve with the edges `CAPS`.
    front_armhole_mm : float
        Length of the front armhole and of what is eased into it [mm].
    back_armhole_mm : float
        The same of the back [mm].

    Returns
    -------
    Piece
        Underarm points and all below them stay; the cap between them is new.

    Raises
    ------
    OutOfRangeError
        If the armholes take no sleeve of that width.

    Notes
    -----
    The cap of `cap_halves_mm` between the two underarm points, which lie level.

    References
    ----------
    ``derivation``: a cylinder cut by a plane, by halves.
    """
    front, back = (piece.edge(name) for name in CAPS)
    right, left = front.start, back.end
    height, wide_f, wide_b = cap_halves_mm(
        upper_arm_mm=math.dist(left, right),
        front_armhole_mm=front_armhole_mm,
        back_armhole_mm=back_armhole_mm,
    )
    along = unit_vector(left, right)
    up = (-along[1], along[0])

    def half(corner: Point, way: float, wide: float) -> list[Point]:
        made = [corner]
        for k in range(1, _CAP_STEPS + 1):
            share = k / _CAP_STEPS
            foot = away(corner, along, way * wide * share)
            made.append(away(foot, up, height / 2.0 * (1.0 - math.cos(math.pi * share))))
        return made

    ends = ((-along[0], -along[1]),) * 2
    rising, falling = half(right, -1.0, wide_f), half(left, 1.0, wide_b)[::-1]
    falling[0] = rising[-1]
    caps = {
        CAPS[0]: Trace(tuple(rising), front_armhole_mm, (ends[0], ends[1])),
        CAPS[1]: Trace(tuple(falling), back_armhole_mm, (ends[0], ends[1])),
    }
    edges = tuple(
        replace(edge, curves=(caps[edge.name],)) if edge.name in caps else edge
        for edge in piece.edges
    )
    ratio = {name: caps[name].length_mm / piece.edge(name).length_mm for name in caps}
    notches = tuple(
        replace(n, distance_mm=n.distance_mm * ratio.get(n.edge, 1.0)) for n in piece.notches
    )
    return replace(piece, edges=edges, notches=notches)
