"""Darts as they open in the flat: whether they take anything up."""

from __future__ import annotations

import numpy as np

from samite.pieces.fitted.plan import Laid

NARROWEST_MM = 4.0
"""A dart narrower than that is not worth sewing, a guess [mm]."""


def dart_widths_mm(laid: Laid) -> dict[str, float]:
    """Return how far the darts open, under nought where their legs would overlap.

    Parameters
    ----------
    laid : Laid
        The garment laid flat.

    Returns
    -------
    dict of str to float
        Width of the mouth by panel and dart [mm].

    References
    ----------
    ``definition``: distance of both legs along the edge.
    """
    found = {}
    for panel in laid.panels:
        points, chains, sides = panel.flat.points, panel.flat.mesh.chains, panel.spec.sides
        for k, side in enumerate(sides):
            if not side.slit or sides[k - 1].slit:
                continue
            before = points[chains[sides[k - 1].name]]
            first, second = points[chains[side.name]], points[chains[sides[k + 1].name]]
            along = before[-1] - before[-2]
            mouth = second[-1] - first[0]
            name = f"{panel.spec.name}, {side.name.rsplit(' ', 1)[0]}"
            found[name] = float(np.linalg.norm(mouth) * np.sign(mouth @ along))
    return found


def needless_darts(laid: Laid) -> tuple[str, ...]:
    """Return the darts that have nothing to take up.

    Parameters
    ----------
    laid : Laid
        The garment laid flat.

    Returns
    -------
    tuple of str
        Panel and dart.

    References
    ----------
    ``guess``: 4 mm.
    """
    return tuple(name for name, width in dart_widths_mm(laid).items() if width < NARROWEST_MM)
