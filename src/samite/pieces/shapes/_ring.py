"""Parts of rings as pieces: shared by circle skirts, capes, flounces, cuffs and collars."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.pieces.curves import Arc, Curve, Line
from samite.pieces.edge import Edge
from samite.pieces.outline import Piece, Rule
from samite.pieces.walk import Mate

FULL_TURN = math.tau * (1.0 + 1e-9)

STRAIGHT = 1e-6
"""Slope up to which a tube counts as straight; the difference is below 0.001 mm."""

SLIT_MM = 0.05
"""What a slit takes of the allowance at each of its sides [mm]."""


def ring_part(
    name: str,
    inner_mm: float,
    outer_mm: float,
    angle_rad: float,
    *,
    kinds: tuple[str, str] = ("waist", "hem"),
    sides: str = "seam",
    lost_mm: float = 0.0,
    copies: int = 1,
    hollow_up: bool = True,
) -> Piece:
    """Return a part of a ring hanging down from its centre.

    Parameters
    ----------
    name : str
        Name of the piece.
    inner_mm : float
        Inner radius; 0 makes a sector [mm].
    outer_mm : float
        Outer radius [mm].
    angle_rad : float
        Angle [rad].
    kinds : tuple of (str, str)
        Kinds, and names, of the inner and the outer edge.
    sides : str
        Kind of the two straight edges.
    lost_mm : float
        How far the straight edges are moved inwards, for edges cut on the radius [mm].
    copies : int
        How many are cut.
    hollow_up : bool
        Whether the centre lies above; below otherwise.

    Returns
    -------
    Piece
        Grain along its middle.

    Raises
    ------
    OutOfRangeError
        If it is wider than a full turn, or the moved edges meet.
    """
    if angle_rad > FULL_TURN or outer_mm <= inner_mm:
        raise OutOfRangeError(
            f"{name}: one panel of {math.degrees(angle_rad):.0f} degrees cannot be laid flat"
            if outer_mm > inner_mm
            else f"{name}: the outer edge, {outer_mm:.0f} mm, lies inside the inner one",
            "panels",
            "take more panels" if outer_mm > inner_mm else "give a larger length",
        )
    middle = -math.pi / 2.0 if hollow_up else math.pi / 2.0
    inner_lost = math.asin(min(lost_mm / inner_mm, 1.0)) if inner_mm else 0.0
    outer_lost = math.asin(min(lost_mm / outer_mm, 1.0))
    if angle_rad - 2.0 * inner_lost <= 1e-6:
        raise OutOfRangeError(
            f"{name}: nothing is left between the allowances", "seam_allowance", "make it smaller"
        )
    outer = Arc(
        (0.0, 0.0), outer_mm, middle - angle_rad / 2 + outer_lost, angle_rad - 2 * outer_lost
    )
    allowance = max(lost_mm - SLIT_MM, 0.0) if lost_mm else None
    hem_corner = "mirror" if kinds[1] == "hem" and not lost_mm else "mitre"
    if inner_mm == 0.0:
        return Piece(
            name,
            (
                Edge(
                    kinds[1], (outer,), kinds[1], corner="mirror" if kinds[1] == "hem" else "mitre"
                ),
                Edge("right", (Line(outer.end, (0.0, 0.0)),), sides, allowance),
                Edge("left", (Line((0.0, 0.0), outer.start),), sides, allowance),
            ),
            copies=copies,
        )
    inner = Arc(
        (0.0, 0.0), inner_mm, middle + angle_rad / 2 - inner_lost, 2 * inner_lost - angle_rad
    )
    edges = (
        Edge(kinds[1], (outer,), kinds[1], corner=hem_corner),
        Edge("right", (Line(outer.end, inner.start),), sides, allowance),
        Edge(kinds[0], (inner,), kinds[0]),
        Edge("left", (Line(inner.end, outer.start),), sides, allowance),
    )
    return Piece(name, edges, copies=copies)


def flared_tube(
    name: str,
    narrow_mm: float,
    wide_mm: float,
    slant_mm: float,
    *,
    panels: int = 1,
    kinds: tuple[str, str] = ("seam", "seam"),
    sides: str = "seam",
) -> Piece:
    """Return a panel of a tube between two girths; a rectangle where they are equal.

    Parameters
    ----------
    name : str
        Name of the piece.
    narrow_mm : float
        Girth of the upper edge [mm].
    wide_mm : float
        Girth of the lower edge; may be the smaller one [mm].
    slant_mm : float
        Length of cloth between them [mm].
    panels : int
        Equal panels around.
    kinds : tuple of (str, str)
        Kinds of the upper and the lower edge.
    sides : str
        Kind of the two straight edges.

    Returns
    -------
    Piece
        Edges ``top``, ``bottom``, ``left``, ``right``.

    Raises
    ------
    OutOfRangeError
        If the slant is too short for the difference of girths.
    """
    if min(wide_mm, narrow_mm) <= 1.0:
        raise OutOfRangeError(
            f"{name}: a girth of {min(wide_mm, narrow_mm):.0f} mm leaves nothing to cut", "ease",
            "take less off, or give larger measures",
        )  # fmt: skip
    if abs(wide_mm - narrow_mm) < STRAIGHT * slant_mm:
        return box(name, wide_mm / panels, slant_mm, kinds, sides, copies=panels)
    small, large = sorted((narrow_mm, wide_mm))
    angle = (large - small) / slant_mm
    if angle >= math.tau * panels or slant_mm <= (large - small) / math.tau:
        raise OutOfRangeError(
            f"{name}: {slant_mm:.0f} mm of cloth are too short between girths of {small:.0f} and"
            f" {large:.0f} mm",
            "length",
            "give more length, or cut a flounce",
        )
    up = wide_mm > narrow_mm
    inner = small / angle
    made = ring_part(
        name, inner, inner + slant_mm, angle / panels, kinds=("inner", "outer"), sides=sides,
        copies=panels, hollow_up=up,
    )  # fmt: skip
    names = {"inner": "top" if up else "bottom", "outer": "bottom" if up else "top"}
    kind_of = {"top": kinds[0], "bottom": kinds[1]}
    edges: list[Edge] = []
    for edge in made.edges:
        called = names.get(edge.name, edge.name)
        kind = kind_of.get(called, edge.kind)
        edges.append(Edge(called, edge.curves, kind, edge.allowance_mm, _ends(kind)))
    return Piece(name, tuple(edges), copies=panels)


def box(
    name: str,
    width_mm: float,
    height_mm: float,
    kinds: tuple[str, str] = ("seam", "seam"),
    sides: str = "seam",
    *,
    copies: int = 1,
    fold_line: bool = False,
) -> Piece:
    """Return a rectangle.

    Parameters
    ----------
    name : str
        Name of the piece.
    width_mm : float
        Width [mm].
    height_mm : float
        Height [mm].
    kinds : tuple of (str, str)
        Kinds of the upper and the lower edge.
    sides : str
        Kind of the two upright edges.
    copies : int
        How many are cut.
    fold_line : bool
        Whether it is folded along its middle.

    Returns
    -------
    Piece
        Edges ``bottom``, ``right``, ``top``, ``left``.

    Raises
    ------
    OutOfRangeError
        If nothing is left.
    """
    if width_mm <= 1.0 or height_mm <= 1.0:
        raise OutOfRangeError(
            f"{name}: {width_mm:.0f} x {height_mm:.0f} mm leave nothing to cut", "ease",
            "take less off, or give larger measures",
        )  # fmt: skip
    a, b, c, d = (0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)
    edges = (
        _side("bottom", a, b, kinds[1]),
        _side("right", b, c, sides),
        _side("top", c, d, kinds[0]),
        _side("left", d, a, sides),
    )
    middle = ((0.0, height_mm / 2.0), (width_mm, height_mm / 2.0))
    rules = (Rule("fold", middle),) if fold_line else ()
    return Piece(name, edges, copies=copies, rules=rules)


def _side(name: str, start: tuple[float, float], end: tuple[float, float], kind: str) -> Edge:
    curve: Curve = Line(start, end)
    return Edge(name, (curve,), kind, corner=_ends(kind))


def _ends(kind: str) -> str:
    return "mirror" if kind == "hem" else "mitre"


def around(name: str, copies: int = 1) -> Mate:
    """Return the seam between the right edge of a panel and the left edge of the next one.

    Parameters
    ----------
    name : str
        Name of the piece.
    copies : int
        Panels around; sets the strokes of the notch.

    Returns
    -------
    Mate
        The pair.
    """
    return Mate((name, "right"), (name, "left"), stops=((0.5, min(copies, 3)),))
