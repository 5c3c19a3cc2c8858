"""How every plan of panels begins: no panel empty, lines with points for the mesh, seams side by side."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.plan import PlanSeam, require_order
from samite.pieces.flatten.lines import StyleLine, style_line
from samite.pieces.surface.loft import Surface

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

Columns = tuple[tuple[float, ...], tuple[float, ...]]


def require_panels(
    surface: Surface, seams: Sequence[Columns], names: Sequence[str], rows: Mapping[str, float]
) -> None:
    """Refuse style lines that leave a panel empty at any girth line.

    Parameters
    ----------
    surface : Surface
        The surface.
    seams : sequence of (tuple of float, tuple of float)
        For every seam from centre front to centre back: columns, and the rows they hold at.
    names : sequence of str
        Names of the panels between them.
    rows : mapping of str to float
        Girth lines.

    References
    ----------
    ``definition``: panels between lines.
    """
    for row in rows.values():
        columns = [float(np.interp(row, at, where)) for where, at in seams]
        require_order(columns, names, surface.row_length_mm(row))


def line_maker(
    surface: Surface, rows: Mapping[str, float], *, mesh_mm: float, shrink: tuple[float, float]
) -> Callable[[Real], StyleLine]:
    """Return what makes a style line of dense points, with a point on every girth line.

    Parameters
    ----------
    surface : Surface
        The surface.
    rows : mapping of str to float
        Girth lines.
    mesh_mm : float
        Distance of the points of the mesh [mm].
    shrink : tuple of float
        What lengths around and along the body are multiplied by [-].

    Returns
    -------
    callable
        From dense points to a line.

    References
    ----------
    ``definition``: a line on the surface.
    """
    inner = tuple(rows.values())

    def line(uv: Real) -> StyleLine:
        return style_line(surface, uv, mesh_mm=mesh_mm, rows=inner, shrink=shrink)

    return line


def neighbour_seams(names: Sequence[str]) -> tuple[PlanSeam, ...]:
    """Return the seams between panels that lie side by side.

    Parameters
    ----------
    names : sequence of str
        Names of the panels from centre front to centre back.

    Returns
    -------
    tuple of PlanSeam
        The seams.

    References
    ----------
    ``common-practice``: one stroke in front, two behind.
    """
    return tuple(
        PlanSeam((names[k], "right"), (names[k + 1], "left"), 1 if k < len(names) / 2 else 2)
        for k in range(len(names) - 1)
    )
