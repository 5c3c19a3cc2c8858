"""Neckline and armhole as lines on the trunk, solved so that their lengths come out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import OutOfRangeError
from samite.pieces.surface.loft import Surface, run_mm
from samite.pieces.surface.solve import Solved
from samite.pieces.surface.tapes import climb, line_length_mm
from samite.pieces.surface.torso import TIP_COLUMN

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

Climb = tuple["Real", "Real"]

_DENSE = 120
_INSETS_MM = (0.0, 8.0, 16.0, 24.0, 32.0, 40.0)
_OUTSETS_MM = (-8.0, -16.0, -24.0, -32.0, -40.0)


@dataclass(frozen=True, slots=True)
class Openings:
    """Neckline, shoulder and armhole of one half, as dense lines from centre front to centre back.

    Parameters
    ----------
    neck_front, shoulder_front, arm_front : ndarray of float, shape (n, 2)
        Lines in front, as the path from the centre front runs [-].
    arm_back, shoulder_back, neck_back : ndarray of float, shape (n, 2)
        Lines behind, on to the centre back [-].
    armhole_mm : float
        Length of the whole armhole [mm].
    neck_mm : float
        Length of the whole neckline, both halves [mm].
    across_front_mm : float
        From armhole to armhole in front, half way down [mm].
    across_back_mm : float
        The same behind [mm].
    """

    neck_front: Real
    shoulder_front: Real
    arm_front: Real
    arm_back: Real
    shoulder_back: Real
    neck_back: Real
    armhole_mm: float
    neck_mm: float
    across_front_mm: float
    across_back_mm: float


def solved_openings(
    solved: Solved,
    *,
    armhole_mm: float,
    neck_mm: float,
    across_front_mm: float,
    back_width_mm: float,
    neck_drop_mm: float = 0.0,
    neck_wider_mm: float = 0.0,
) -> Openings:
    """Return neckline and armhole of the lengths asked for.

    Parameters
    ----------
    solved : Solved
        The trunk.
    armhole_mm : float
        Length of the armhole [mm].
    neck_mm : float
        Girth of the neck base, before it is cut lower [mm].
    across_front_mm : float
        From arm crease to arm crease in front [mm].
    back_width_mm : float
        The same behind [mm].
    neck_drop_mm : float
        How much lower the neckline is cut in front [mm].
    neck_wider_mm : float
        How much further out along the shoulder it begins [mm].

    Returns
    -------
    Openings
        The lines.

    Raises
    ------
    OutOfRangeError
        If no armhole or neckline of that length fits between shoulder and waist.

    Notes
    -----
    The front neckline falls until the neck's girth comes out; the armhole falls until its own does.
    Half way down, the armhole passes the arm creases as near as the trunk lets it; where it would
    fall below the bust it is cut further in instead, by up to 40 mm a side, and where even the
    shallowest is too long less far in, by as much.

    References
    ----------
    ``guess``: shape of the lines between their ends.
    """
    surface = solved.surface
    top = float(surface.rows)
    neck_column = solved.shoulder.neck_column
    back_neck = _neck(1.0, solved.neck_bone_row, 1.0 - neck_column, top)
    behind = line_length_mm(surface, back_neck)
    row = _solve(
        lambda v: line_length_mm(surface, _neck(0.0, v, neck_column, top)) - (neck_mm / 2.0 - behind),
        surface.levels["bust"] + 1.0, top - 0.2, "neckline", "neck",
    )  # fmt: skip
    if neck_wider_mm or neck_drop_mm:
        row = _lower_row(surface, row, neck_drop_mm)
        per_mm = (TIP_COLUMN - neck_column) / _shoulder_mm(surface, neck_column)
        neck_column = min(neck_column + neck_wider_mm * per_mm, TIP_COLUMN - 0.04)
        back_neck = _neck(1.0, solved.neck_bone_row - neck_wider_mm / 30.0, 1.0 - neck_column, top)
    front_neck = _neck(0.0, row, neck_column, top)
    front, back, bottom = _arms(surface, armhole_mm, across_front_mm / 2.0, back_width_mm / 2.0)
    shoulder = np.stack(
        [np.linspace(neck_column, TIP_COLUMN, _DENSE), np.full(_DENSE, top)], axis=1
    )
    mirrored = np.stack([1.0 - shoulder[::-1, 0], shoulder[::-1, 1]], axis=1)
    neck = 2.0 * (line_length_mm(surface, front_neck) + line_length_mm(surface, back_neck))
    return Openings(
        front_neck, shoulder, front, back[::-1], mirrored, back_neck[::-1],
        line_length_mm(surface, front) + line_length_mm(surface, back), neck,
        2.0 * _across(surface, front, (bottom + top) / 2.0, back=False),
        2.0 * _across(surface, back, (bottom + top) / 2.0, back=True),
    )  # fmt: skip


def _arms(
    surface: Surface, armhole_mm: float, front_half: float, back_half: float
) -> tuple[Real, Real, float]:
    """Return both halves of an armhole; where it cannot fall further it is cut further in.

    Where it cannot rise further it is cut less far in.
    """
    low, high = surface.levels["bust"] + 0.3, float(surface.rows) - 6.0
    before, behind = climb(surface, TIP_COLUMN), climb(surface, 1.0 - TIP_COLUMN)

    def arms(v: float, inset: float) -> tuple[Real, Real]:
        return (
            _arm(surface, before, v, front_half - inset, back=False),
            _arm(surface, behind, v, back_half - inset, back=True),
        )

    def surplus(v: float, inset: float) -> float:
        return sum(line_length_mm(surface, one) for one in arms(v, inset)) - armhole_mm

    shallow = surplus(high, 0.0) > 0.0
    insets = _OUTSETS_MM if shallow else _INSETS_MM
    inset = next(
        (
            one
            for one in insets[:-1]
            if (surplus(high, one) <= 0.0 if shallow else surplus(low, one) >= 0.0)
        ),
        insets[-1],
    )
    bottom = _solve(lambda v: surplus(v, inset), low, high, "armhole", "armscye_girth")
    return (*arms(bottom, inset), bottom)


def _shoulder_mm(surface: Surface, neck_column: float) -> float:
    u = np.linspace(neck_column, TIP_COLUMN, 40)
    return float(run_mm(surface.at(u, np.full(u.shape, float(surface.rows))))[-1])


def _lower_row(surface: Surface, row: float, drop_mm: float) -> float:
    """Return the row that lies a height lower at the centre front."""
    rows = np.linspace(0.0, row, 200)
    heights = surface.at(np.zeros(200), rows)[:, 2]
    wanted = heights[-1] - drop_mm
    if wanted < heights[0]:
        raise OutOfRangeError(
            f"a neckline {drop_mm:.0f} mm lower ends below the bodice", "neck_drop", "make it less"
        )
    return float(np.interp(wanted, heights, rows))


def _bezier(points: list[tuple[float, float]]) -> Real:
    t = np.linspace(0.0, 1.0, _DENSE)[:, None]
    a, b, c, d = (np.array(p) for p in points)
    return np.asarray(
        (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t * t * (1 - t) * c + t**3 * d
    )


def _neck(centre: float, row: float, column: float, top: float) -> Real:
    """Return a neckline that leaves the centre level and meets the shoulder upright."""
    along = column - centre
    return _bezier(
        [
            (centre, row),
            (centre + 0.6 * along, row),
            (column, row + 0.4 * (top - row)),
            (column, top),
        ]
    )


def _arm(surface: Surface, climbs: Climb, row: float, half: float, *, back: bool) -> Real:
    """Return half an armhole from shoulder point to side; half way down it passes a width."""
    top = float(surface.rows)
    middle = (row + top) / 2.0
    wanted = TIP_COLUMN
    for _ in range(6):
        line = _arm_line(climbs, row, wanted, back=back)
        off = half - _across(surface, line, middle, back=back)
        wanted = float(np.clip(wanted + 0.6 * off / surface.row_length_mm(middle), 0.22, 0.44))
    return _arm_line(climbs, row, wanted, back=back)


def _arm_line(climbs: Climb, row: float, inner: float, *, back: bool) -> Real:
    """Return the line; it leaves the shoulder at a right angle, so that front and back run on."""
    rows, run = climbs
    low, top = float(np.interp(row, rows, run)), float(run[-1])
    line = _bezier(
        [
            (TIP_COLUMN, top),
            (0.8 * TIP_COLUMN + 0.2 * inner, top - 0.45 * (top - low)),
            (1.8 * inner - 0.8 * TIP_COLUMN - 0.01, low),
            (0.5, low),
        ]
    )
    line[:, 1] = np.interp(line[:, 1], run, rows)
    if back:
        line[:, 0] = 1.0 - line[:, 0]
    return line


def _across(surface: Surface, line: Real, row: float, *, back: bool) -> float:
    """Return the distance from the centre to a line along a row."""
    order = np.argsort(line[:, 1])
    u = float(np.interp(row, line[order, 1], line[order, 0]))
    return surface.row_length_mm(row, u, 1.0) if back else surface.row_length_mm(row, 0.0, u)


def _solve(
    surplus: Callable[[float], float], low: float, high: float, what: str, where: str
) -> float:
    """Return where a falling length has no surplus, by chords (Illinois rule)."""
    at_low, at_high = surplus(low), surplus(high)
    if at_low < 0.0 or at_high > 0.0:
        way, by = ("long", -at_low) if at_low < 0.0 else ("short", at_high)
        raise OutOfRangeError(
            f"the {what} asked for is {by:.0f} mm too {way} for the trunk that these measures make",
            where, "measure it again, or change its ease",
        )  # fmt: skip
    for _ in range(60):
        x = high - at_high * (high - low) / (at_high - at_low)
        off = surplus(x)
        if abs(off) < 1e-3 or high - low < 1e-7:
            return x
        if off > 0.0:
            low, at_low, at_high = x, off, 0.5 * at_high
        else:
            high, at_high, at_low = x, off, 0.5 * at_low
    return (low + high) / 2.0
