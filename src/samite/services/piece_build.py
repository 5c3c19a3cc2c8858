"""Pieces built for a body, its left and right and its front and back as they were measured."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from samite.garment.body import SIDES, Body
from samite.pieces.measure_beliefs import Estimate
from samite.pieces.measures import estimate
from samite.pieces.shape import Made, Shape, Values, fill_in
from samite.services.piece_sides import both_sides
from samite.tables.bodies import measure_entry

_ARMHOLES = ("front_armhole", "back_armhole")


def build_for(
    shape: Shape, body: Body, settings: Mapping[str, float | str], used: dict[str, Estimate]
) -> tuple[Values, Made]:
    """Build a shape once, or once a side where measures that matter differ between the sides.

    Parameters
    ----------
    shape : Shape
        The shape.
    body : Body
        The body.
    settings : mapping of str to float or str
        Parameters that were set, in their own units.
    used : dict of str to Estimate
        Gets every measure that was used.

    Returns
    -------
    tuple of (Values, Made)
        Parameters as they were taken, and the pieces.

    Raises
    ------
    SamiteError
        If a measure or a setting is impossible.
    """
    settings = {**front_settings(shape, body), **settings}
    numbers = _measured(shape, body, settings, used)
    whole = shape.build(numbers)
    if not set(body.uneven) & set(used):
        return numbers, whole
    values = {side: _measured(shape, body, settings, {}, side) for side in SIDES}
    return numbers, both_sides(shape, whole, numbers, values)


def front_settings(shape: Shape, body: Body) -> dict[str, float | str]:
    """Return what the measured halves of girths set in a shape.

    Parameters
    ----------
    shape : Shape
        The shape.
    body : Body
        The body.

    Returns
    -------
    dict of str to float or str
        Shares in front, and both armholes where theirs were measured.
    """
    known = {parameter.name: parameter for parameter in shape.parameters}
    found: dict[str, float | str] = {}
    for girth, share in body.front_shares.items():
        for name in (f"front_{girth.removesuffix('_girth')}_share", "front_share"):
            if name in known and (name != "front_share" or girth == "waist_girth"):
                found[name] = share
        if girth == "armscye_girth" and set(_ARMHOLES) <= set(known):
            whole = estimate(body, girth).value_mm + math.tau * body.layers_mm
            for name, part in zip(_ARMHOLES, (share, 1.0 - share), strict=True):
                found[name] = known[name].default + part * whole
    return found


def taken_whole(shape: Shape, body: Body, used: Mapping[str, Estimate]) -> tuple[str, ...]:
    """Return the girths whose halves were measured though the shape has no seam to part them at.

    Parameters
    ----------
    shape : Shape
        The shape.
    body : Body
        The body.
    used : mapping of str to Estimate
        Measures that the shape used.

    Returns
    -------
    tuple of str
        Names of the measures.
    """
    parted = {girth for girth in body.front_shares if front_settings(shape, _only(body, girth))}
    return tuple(girth for girth in body.front_shares if girth in used and girth not in parted)


def _only(body: Body, girth: str) -> Body:
    return replace(body, front_shares={girth: body.front_shares[girth]})


def _measured(
    shape: Shape,
    body: Body,
    settings: Mapping[str, float | str],
    used: dict[str, Estimate],
    side: str = "",
) -> Values:
    """Fill in a shape's parameters by the measures of a body, girths over what is worn beneath.

    Of one side only what was measured there differs: what is estimated is the same for both.
    """
    own = body.one_side(side) if side else body
    uneven = body.uneven

    def measure(name: str) -> float:
        found = estimate(own if name in uneven else body, name)
        layered = measure_entry(name).run == "girth" and body.layers_mm > 0.0
        value = found.value_mm + (math.tau * body.layers_mm if layered else 0.0)
        used[name] = replace(found, value_mm=value)
        return value

    return fill_in(shape, settings, measure)
