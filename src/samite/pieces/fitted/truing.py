"""Lines trued: waist, hem, neckline, armhole run smooth over every seam, dart and centre."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.redrawing import faired, redraw
from samite.pieces.flatten.lines import PanelSide, PanelSpec
from samite.pieces.flatten.panels import FlatPanel

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

Place = tuple[str, str]

MOST_DEG = 80.0
"""Break beyond which a corner is taken to be meant [deg]."""

_TURNS = 5


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a panel at which a line is redrawn.

    Parameters
    ----------
    panel : str
        The panel.
    before : str
        Side that ends there, anticlockwise.
    after : str
        Side that begins there.
    redrawn : str
        Which of the two is redrawn.
    """

    panel: str
    before: str
    after: str
    redrawn: str


@dataclass(frozen=True, slots=True)
class Meeting:
    """Corners that come together where a line runs over a seam, a dart or a centre.

    Parameters
    ----------
    corners : tuple of Corner
        Two, or one at a centre, whose mirror image is the other.
    sewn : str
        ``seam``, ``dart`` or ``centre``.
    """

    corners: tuple[Corner, ...]
    sewn: str

    @property
    def wanted_deg(self) -> float:
        """What the angles inside must add up to [deg]."""
        return 90.0 * len(self.corners)


def meetings_of(
    specs: Sequence[PanelSpec], seams: Sequence[tuple[Place, Place]]
) -> tuple[Meeting, ...]:
    """Return where lines run over seams, darts and centres.

    Parameters
    ----------
    specs : sequence of PanelSpec
        The panels.
    seams : sequence of ((str, str), (str, str))
        Sides that are sewn together: panel and side each.

    Returns
    -------
    tuple of Meeting
        One a corner.

    References
    ----------
    ``common-practice``: lay the seam lines together and look along the edge.
    """
    by_name = {spec.name: spec for spec in specs}
    sewn = {place for seam in seams for place in seam}
    found: list[Meeting] = []
    for first, second in seams:
        for end in (False, True):
            one = _corner(by_name[first[0]], first[1], at_end=end)
            two = _corner(by_name[second[0]], second[1], at_end=not end)
            if all(_may_be_redrawn(by_name, sewn, corner, first[1]) for corner in (one, two)):
                found.append(Meeting((one, two), "seam"))
    for spec in specs:
        found += _darts(spec)
        found += _centres(spec)
    return tuple(found)


def _may_be_redrawn(
    by_name: Mapping[str, PanelSpec], sewn: set[Place], corner: Corner, seam: str
) -> bool:
    """Tell whether a line may be redrawn at a seam: a shoulder where a seam ends at it, too."""
    sides = by_name[corner.panel].sides
    side = next(one for one in sides if one.name == corner.redrawn)
    if side.slit or side.straight:
        return False
    over_shoulder = corner.redrawn.startswith("shoulder") and not seam.startswith("shoulder")
    return over_shoulder or (corner.panel, corner.redrawn) not in sewn


def _corner(spec: PanelSpec, side: str, *, at_end: bool) -> Corner:
    """Return the corner at an end of a side; the other side there is redrawn."""
    names = [one.name for one in spec.sides]
    at = names.index(side)
    other = names[(at + 1) % len(names)] if at_end else names[at - 1]
    return (
        Corner(spec.name, side, other, other) if at_end else Corner(spec.name, other, side, other)
    )


def _darts(spec: PanelSpec) -> list[Meeting]:
    """Return the mouths of darts: both legs are sewn together."""
    found = []
    for k, side in enumerate(spec.sides):
        after = spec.sides[(k + 1) % len(spec.sides)]
        if side.slit and after.slit:
            found.append(
                Meeting(
                    (
                        _corner(spec, side.name, at_end=False),
                        _corner(spec, after.name, at_end=True),
                    ),
                    "dart",
                )
            )
    return found


def _is_centre(side: PanelSide) -> bool:
    return side.straight or side.name.endswith("crotch")


def _centres(spec: PanelSpec) -> list[Meeting]:
    """Return where a line meets a centre at a right angle; the crotch point is no such place."""
    found = []
    for side in spec.sides:
        if not _is_centre(side):
            continue
        for end in (False, True):
            corner = _corner(spec, side.name, at_end=end)
            other = next(one for one in spec.sides if one.name == corner.redrawn)
            if other.kind not in ("seam", "fold", "opening"):
                found.append(Meeting((corner,), "centre"))
    return found


def trued(
    panels: Sequence[FlatPanel], seams: Sequence[tuple[Place, Place]]
) -> tuple[FlatPanel, ...]:
    """Return the panels with lines that run smooth over seams, darts and centres.

    Parameters
    ----------
    panels : sequence of FlatPanel
        Flat panels.
    seams : sequence of ((str, str), (str, str))
        Sides that are sewn together: panel and side each.

    Returns
    -------
    tuple of FlatPanel
        The same panels; corners and seams stay where they were.

    Notes
    -----
    Each of the two lines at a corner is turned by half of the break, and swings back to where it was
    within 70 to 112 mm or half its length. What that adds to its length a shallow bow takes out again,
    as far as the line is curved. Crotch seams are faired first. Breaks over 80 degrees are left: they
    are meant.

    References
    ----------
    ``common-practice``: truing; ``derivation``: cubic that is 0 at both ends and steep at one.
    """
    specs = [one.spec for one in panels]
    lines = {(p.spec.name, s.name): _line(p, s) for p in panels for s in p.spec.sides}
    meetings = meetings_of(specs, seams)
    turns: dict[Place, list[float]] = {
        (p.spec.name, s.name): [0.0, 0.0]
        for p in panels
        for s in p.spec.sides
        if _is_curved_crotch(s)
    }
    redrawn = dict(lines)
    for _ in range(_TURNS):
        for meeting in meetings:
            over = sum(_angle_deg(redrawn, c) for c in meeting.corners) - meeting.wanted_deg
            if abs(over) > MOST_DEG:
                continue
            for corner in meeting.corners:
                place = (corner.panel, corner.redrawn)
                ends = turns.setdefault(place, [0.0, 0.0])
                ends[0 if corner.redrawn == corner.after else 1] += over / len(meeting.corners)
        redrawn |= {place: redraw(lines[place], *ends) for place, ends in turns.items()}
    return tuple(_with_lines(one, redrawn, set(turns)) for one in panels)


def _line(panel: FlatPanel, side: PanelSide) -> Real:
    line = panel.flat.drawn(side.name)
    return faired(line) if _is_curved_crotch(side) else line


def _is_curved_crotch(side: PanelSide) -> bool:
    return side.name.endswith("crotch") and not side.straight


def _with_lines(panel: FlatPanel, lines: Mapping[Place, Real], changed: set[Place]) -> FlatPanel:
    name = panel.spec.name
    own = {side: lines[panel_name, side] for panel_name, side in changed if panel_name == name}
    return replace(panel, flat=replace(panel.flat, trued=MappingProxyType(own)))


def _angle_deg(lines: Mapping[Place, Real], corner: Corner) -> float:
    """Return the angle inside a corner, of the directions that pieces have there."""
    before, after = lines[corner.panel, corner.before], lines[corner.panel, corner.after]
    a, b = -_direction(before[::-1]), _direction(after)
    return 180.0 - math.degrees(math.atan2(a[0] * b[1] - a[1] * b[0], float(a @ b)))


def _direction(line: Real) -> Real:
    """Return the direction in which a line begins: of the parabola through three points."""
    if len(line) < 3:
        return np.asarray(line[1] - line[0])
    near = float(np.linalg.norm(line[1] - line[0]))
    far = near + float(np.linalg.norm(line[2] - line[1]))
    weight = np.array([far / near, -near / far]) / (far - near)
    return np.asarray(weight[0] * (line[1] - line[0]) + weight[1] * (line[2] - line[0]))
