"""A waist taken in by darts and seams: who takes how much, and the edges that are drawn for it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.kernel.errors import InfeasibleError, OutOfRangeError
from samite.pieces.curves import Cubic, Line, eased
from samite.pieces.edge import Edge
from samite.pieces.outline import Mark, Notch, Rule
from samite.pieces.plane import Point, away, meeting, unit_vector
from samite.pieces.roots import solve_between

SMALLEST_DART_MM = 6.0
"""A dart narrower than this is not worth sewing [mm]."""

TELLING_MM = 0.5


@dataclass(frozen=True, slots=True)
class Split:
    """How a quarter of a waist is taken in.

    Parameters
    ----------
    side : float
        What the side seam takes; negative where the waist is wider than the hip [mm].
    centre : float
        What the centre seam takes [mm].
    darts : int
        How many darts take the rest.
    dart : float
        About how much each of them takes [mm].
    """

    side: float
    centre: float
    darts: int
    dart: float


def split_waist(
    suppressions_mm: tuple[float, float],
    *,
    side_limit_mm: float,
    centre_limits_mm: tuple[float, float],
    dart_limit_mm: float,
    most_darts: tuple[int, int],
) -> tuple[Split, Split]:
    """Split what front and back must lose between hip and waist.

    Parameters
    ----------
    suppressions_mm : tuple of (float, float)
        Hip less waist of the front and the back quarter [mm].
    side_limit_mm : float
        Most that a side seam takes on each side of it [mm].
    centre_limits_mm : tuple of (float, float)
        Most that the centre seams take in front and behind [mm].
    dart_limit_mm : float
        Most that one dart takes [mm].
    most_darts : tuple of (int, int)
        Most darts in a quarter in front and behind.

    Returns
    -------
    tuple of (Split, Split)
        Front and back; both sides of the side seam take the same.

    Notes
    -----
    The side seam first, then the centre seam, then the fewest darts within their limit. What
    the darts cannot hold goes back to the side seam, beyond its limit.

    References
    ----------
    ``common-practice``: no seam takes much more than 3 cm, no dart either.
    """
    least = min(suppressions_mm)
    side = least if least < 0.0 else min(side_limit_mm, least)
    for lost, centre, darts in zip(suppressions_mm, centre_limits_mm, most_darts, strict=True):
        side = max(side, lost - centre - darts * dart_limit_mm)
    made = []
    for lost, most, darts in zip(suppressions_mm, centre_limits_mm, most_darts, strict=True):
        rest = max(lost - side, 0.0)
        centre = min(most, rest)
        rest -= centre
        if rest < SMALLEST_DART_MM or darts == 0:
            made.append(Split(side, centre + rest, 0, 0.0))
            continue
        count = min(darts, math.ceil(rest / dart_limit_mm - 1e-9))
        made.append(Split(side, centre, count, rest / count))
    return made[0], made[1]


@dataclass(frozen=True, slots=True)
class Waist:
    """A drawn waist.

    Parameters
    ----------
    edges : tuple of Edge
        From the centre to the side: stretches of waist, and between them the tops of darts.
    notches : tuple of Notch
        At the legs of the darts.
    marks : tuple of Mark
        Points of the darts.
    rules : tuple of Rule
        Their legs.
    dart : float
        What each dart takes [mm].
    """

    edges: tuple[Edge, ...]
    notches: tuple[Notch, ...]
    marks: tuple[Mark, ...]
    rules: tuple[Rule, ...]
    dart: float

    @property
    def sewn_mm(self) -> float:
        """Its length when the darts are sewn [mm]."""
        return math.fsum(edge.length_mm for edge in self.edges if edge.name.startswith("waist"))


def draw_waist(
    ends: tuple[Point, Point],
    ways: tuple[Point, Point],
    *,
    darts: int,
    dart_mm: float,
    depth_mm: float,
) -> Waist:
    """Draw a waist with darts from the centre to the side.

    Parameters
    ----------
    ends : tuple of (Point, Point)
        Its ends at centre and side [mm].
    ways : tuple of (Point, Point)
        Directions in which it leaves the one and reaches the other.
    darts : int
        How many darts.
    dart_mm : float
        What each takes [mm].
    depth_mm : float
        How long they are [mm].

    Returns
    -------
    Waist
        Square to both legs of every dart, so that it runs smooth once they are sewn.

    Notes
    -----
    Legs of a dart are equally long. Above it the edge rises to where it meets the waist of the
    other side when the dart is folded: both flanks stand square on their leg.

    References
    ----------
    ``derivation``: reflection in the legs of a dart.
    """
    start, end = ends
    along = unit_vector(start, end)
    down = (-along[1], along[0])
    stretch = (math.dist(start, end) - darts * dart_mm) / (darts + 1)
    edges: list[Edge] = []
    notches: list[Notch] = []
    marks: list[Mark] = []
    rules: list[Rule] = []
    here, way = start, ways[0]
    for k in range(1, darts + 1):
        first = away(start, along, k * stretch + (k - 1) * dart_mm)
        second = away(first, along, dart_mm)
        tip = away(away(first, along, dart_mm / 2.0), down, depth_mm)
        square = _square_to(unit_vector(tip, first)), _square_to(unit_vector(tip, second))
        top = meeting(first, square[0], second, square[1])
        edges.append(_stretch(k, eased(here, way, first, square[0])))
        peak = (Line(first, top), Line(top, second)) if top else (Line(first, second),)
        edges.append(Edge(f"dart {k}", peak, "waist"))
        notches += [Notch(edges[-1].name, at, 1, f"dart {k}") for at in (0.0, edges[-1].length_mm)]
        marks.append(Mark(f"point of dart {k}", tip))
        rules.append(Rule(f"dart {k}", (first, tip, second)))
        here, way = second, square[1]
    edges.append(_stretch(darts + 1, eased(here, way, end, ways[1])))
    return Waist(tuple(edges), tuple(notches), tuple(marks), tuple(rules), dart_mm)


def _square_to(leg: Point) -> Point:
    """Return the direction to the left of a leg that rises from its dart's point."""
    return -leg[1], leg[0]


def _stretch(number: int, curve: Cubic) -> Edge:
    return Edge("waist" if number == 1 else f"waist {number}", (curve,), "waist")


def fitted_waist(
    ends: tuple[Point, Point],
    ways: tuple[Point, Point],
    split: Split,
    *,
    waist_mm: float,
    depth_mm: float,
) -> Waist:
    """Draw a waist whose darts are solved so that it has its length when they are sewn.

    Parameters
    ----------
    ends : tuple of (Point, Point)
        Its ends at centre and side [mm].
    ways : tuple of (Point, Point)
        Directions in which it leaves the one and reaches the other.
    split : Split
        How many darts, and about how much they take.
    waist_mm : float
        Length when sewn [mm].
    depth_mm : float
        How long the darts are [mm].

    Returns
    -------
    Waist
        The waist.

    Raises
    ------
    OutOfRangeError
        If no darts do it.

    Notes
    -----
    One root: the width of all darts.

    References
    ----------
    ``derivation``: sewn length as a function of the darts' width.
    """

    def drawn(width: float) -> Waist:
        return draw_waist(ends, ways, darts=split.darts, dart_mm=width, depth_mm=depth_mm)

    widest = max(2.0 * split.dart + 20.0, SMALLEST_DART_MM)
    room = 0.98 * math.dist(*ends) / max(split.darts, 1)
    try:
        width = solve_between(
            lambda tried: drawn(tried).sewn_mm - waist_mm, 0.01, min(widest, room), what="dart"
        )
    except InfeasibleError:
        raise OutOfRangeError(
            "the darts cannot take in this waist", "dart_limit", "let the side seam take more"
        ) from None
    return drawn(width)
