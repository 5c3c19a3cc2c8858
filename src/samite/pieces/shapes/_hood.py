"""Hoods of three and of two pieces."""

from __future__ import annotations

import math

from samite.kernel.errors import OutOfRangeError
from samite.pieces.curves import Arc, Line
from samite.pieces.edge import Edge
from samite.pieces.forms.strips import hood_strip_mm
from samite.pieces.outline import Piece
from samite.pieces.shape import Made, Parameter, Values, mm, reason
from samite.pieces.shapes._ring import box
from samite.pieces.walk import Mate


def hood_parameters(*, strip: bool = True) -> tuple[Parameter, ...]:
    """Return the parameters of a hood.

    Parameters
    ----------
    strip : bool
        Whether it has a middle strip.

    Returns
    -------
    tuple of Parameter
        Opening, depth, radius and width.
    """
    width = mm("hood_width", "width of the middle strip", 100, low=10, high=400)
    widened = mm("hood_width", "head width that the top curve is widened for", 80, high=300)
    return (
        mm("hood_opening", "height of the face opening", low=100, high=900, head_girth=0.64),
        mm("hood_depth", "depth of the side, from face to back", low=80, high=800, head_girth=0.46),
        mm("hood_radius", "radius of the rounded upper back corner", 140, low=5, high=600),
        width if strip else widened,
    )


def hood_side(name: str, opening: float, depth: float, radius: float) -> Piece:
    """Return the side of a hood: a rectangle with one rounded corner.

    Parameters
    ----------
    name : str
        Name of the piece.
    opening : float
        Height [mm].
    depth : float
        Depth [mm].
    radius : float
        Radius of the corner [mm].

    Returns
    -------
    Piece
        Edges ``neck``, ``crown`` and ``face``.

    Raises
    ------
    OutOfRangeError
        If the corner is larger than the side.
    """
    if radius >= min(opening, depth):
        raise OutOfRangeError(
            f"a corner of radius {radius:.0f} mm is larger than the side of the hood",
            "hood_radius",
            f"give less than {min(opening, depth):.0f} mm",
        )
    corner = Arc((depth - radius, opening - radius), radius, 0.0, math.pi / 2.0)
    crown = (Line((depth, 0.0), corner.start), corner, Line(corner.end, (0.0, opening)))
    edges = (
        Edge("neck", (Line((0.0, 0.0), (depth, 0.0)),), "neck"),
        Edge("crown", crown),
        Edge("face", (Line((0.0, opening), (0.0, 0.0)),), "hem", corner="mirror"),
    )
    return Piece(name, edges, copies=2, mirrored=True)


def hood_pieces(v: Values) -> Made:
    """Return a hood of three pieces.

    Parameters
    ----------
    v : Values
        The numbers of `hood_parameters`.

    Returns
    -------
    Made
        Two sides and the strip.
    """
    side = hood_side("hood side", v["hood_opening"], v["hood_depth"], v["hood_radius"])
    length = hood_strip_mm(
        opening_mm=v["hood_opening"], depth_mm=v["hood_depth"], radius_mm=v["hood_radius"]
    )
    strip = box("hood strip", v["hood_width"], length, ("hem", "neck"))
    neck = 2.0 * side.edge("neck").length_mm + v["hood_width"]
    mates = (
        Mate(
            ("hood side", "crown"),
            ("hood strip", "right"),
            run="along",
            stops=((0.33, 1), (0.67, 2)),
        ),
        Mate(("hood side", "crown"), ("hood strip", "left"), stops=((0.33, 1), (0.67, 2))),
    )
    why = (reason(f"the strip is as long as the side's crown edge, {length:.1f} mm"),)
    return Made((side, strip), mates, (), {"strip_length_mm": length, "neck_length_mm": neck}, why)


def hood_of_two(v: Values) -> Made:
    """Return a hood of two pieces.

    Parameters
    ----------
    v : Values
        The numbers of `hood_parameters`.

    Returns
    -------
    Made
        Two sides, their top curve widened by half the head's width.
    """
    side = hood_side(
        "hood side",
        v["hood_opening"] + v["hood_width"] / 2.0,
        v["hood_depth"] + v["hood_width"] / 2.0,
        v["hood_radius"] + v["hood_width"] / 2.0,
    )
    neck = 2.0 * side.edge("neck").length_mm
    why = (
        reason(
            "both crown edges are one edge mirrored; the crown is widened by half the head's width,"
            " which the neck edge gathers or eases away"
        ),
    )
    mates = (Mate(("hood side", "crown"), ("hood side", "crown"), run="along", stops=((0.5, 1),)),)
    return Made((side,), mates, (), {"neck_length_mm": neck}, why)
