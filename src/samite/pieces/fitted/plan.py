"""A garment as a plan: panels on a surface, seams between them; laid flat as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InfeasibleError
from samite.pieces.fitted.truing import trued
from samite.pieces.flatten.lines import PanelSpec
from samite.pieces.flatten.panels import (
    MESH_MM,
    FlatPanel,
    Prepared,
    flatten_prepared,
    mesh_panel,
)
from samite.pieces.flatten.strain import StrainRange, strain_range, strains
from samite.pieces.surface.loft import Surface, run_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

Place = tuple[str, str]

_LENGTH_MM = 0.05
_AGAIN = 3


@dataclass(frozen=True, slots=True)
class PlanSeam:
    """Two sides that are sewn together.

    Parameters
    ----------
    first : tuple of (str, str)
        Panel and side.
    second : tuple of (str, str)
        The other panel and side, which lies on the same line and runs against it.
    strokes : int
        Strokes of its notches.
    """

    first: Place
    second: Place
    strokes: int = 1


@dataclass(frozen=True, slots=True)
class Plan:
    """Panels and seams of a garment on one half of a body.

    Parameters
    ----------
    surface : Surface
        The surface.
    panels : tuple of PanelSpec
        The panels, from centre front to centre back.
    seams : tuple of PlanSeam
        Their seams.
    shrink : tuple of float
        What lengths around and along the body are multiplied by: under 1 for stretch cloth [-].
    mesh_mm : float
        Distance of the points of the mesh [mm].
    bands : tuple of (str, float, float)
        Regions that strain is told of: name, lowest and highest row.
    """

    surface: Surface
    panels: tuple[PanelSpec, ...]
    seams: tuple[PlanSeam, ...]
    shrink: tuple[float, float] = (1.0, 1.0)
    mesh_mm: float = MESH_MM
    bands: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class SeamEase:
    """How unlike both sides of a seam would be if nothing were held.

    Parameters
    ----------
    first : tuple of (str, str)
        Panel and side.
    second : tuple of (str, str)
        The other panel and side.
    ease_mm : float
        How much longer the second would be [mm].
    """

    first: Place
    second: Place
    ease_mm: float


@dataclass(frozen=True, slots=True)
class Laid:
    """A plan laid flat.

    Parameters
    ----------
    plan : Plan
        The plan.
    panels : tuple of FlatPanel
        Its panels in the flat.
    eases : tuple of SeamEase
        Natural ease of its seams.
    regions : tuple of StrainRange
        Strains by panel and region.
    whole : tuple of StrainRange
        Strains by panel.
    """

    plan: Plan
    panels: tuple[FlatPanel, ...]
    eases: tuple[SeamEase, ...]
    regions: tuple[StrainRange, ...]
    whole: tuple[StrainRange, ...]

    def panel(self, name: str) -> FlatPanel:
        """Return a panel by name.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        FlatPanel
            The panel.
        """
        return next(one for one in self.panels if one.spec.name == name)


def lay_flat(plan: Plan, *, finished: bool = True) -> Laid:
    """Lay every panel of a plan flat.

    Parameters
    ----------
    plan : Plan
        The plan.
    finished : bool
        Whether lines are trued; a trial of its strains needs none of that.

    Returns
    -------
    Laid
        Flat panels, natural ease of the seams, strains.

    Raises
    ------
    InfeasibleError
        If style lines leave a panel empty, or a panel is too round.

    Notes
    -----
    Woven cloth: both sides of a seam get the length of its line on the surface. Stretch cloth: each
    panel is laid flat and let go first, and both sides get the mean of their free lengths, edge by edge;
    girth lines are kept on. Last, lines are trued where they run over seams; what that adds to a line
    is taken off it as it is laid flat once more.

    References
    ----------
    ``liu-2008``: local and global steps; ``derivation``: rows by Lagrange multipliers.
    """
    ready = [
        mesh_panel(plan.surface, spec, mesh_mm=plan.mesh_mm, shrink=plan.shrink)
        for spec in plan.panels
    ]
    means: dict[Place, Real] = {}
    if plan.shrink != (1.0, 1.0):
        free = [flatten_prepared(plan.surface, one, shrink=plan.shrink) for one in ready]
        means = _mean_edges(plan, free)
    panels = _trued(plan, ready, means) if finished else _flat(plan, ready, means, {})
    whole = tuple(
        strain_range(strains(one.flat.rest, one.flat.points), one.spec.name) for one in panels
    )
    return Laid(plan, panels, _eases(plan, panels), _regions(plan, panels), whole)


def _flat(
    plan: Plan, ready: Sequence[Prepared], means: Mapping[Place, Real], more: Mapping[Place, float]
) -> tuple[FlatPanel, ...]:
    return tuple(
        flatten_prepared(
            plan.surface, one, shrink=plan.shrink,
            edges_mm={side: v for (panel, side), v in means.items() if panel == one.spec.name},
            more_mm={side: v for (panel, side), v in more.items() if panel == one.spec.name},
        )
        for one in ready
    )  # fmt: skip


def _trued(
    plan: Plan, ready: Sequence[Prepared], means: Mapping[Place, Real]
) -> tuple[FlatPanel, ...]:
    """Return the panels with lines that are trued and yet as long as they must be."""
    seams = [(seam.first, seam.second) for seam in plan.seams]
    laid = {one.spec.name: one for one in _flat(plan, ready, means, {})}
    panels = trued(tuple(laid.values()), seams)
    more: dict[Place, float] = {}
    for _ in range(_AGAIN):
        off = {
            (panel.spec.name, side.name): side.line.length_mm - run_mm(line)[-1]
            for panel in panels for side in panel.spec.sides if side.hold == "total"
            for line in [panel.flat.trued.get(side.name)] if line is not None
        }  # fmt: skip
        wrong = {place: float(miss) for place, miss in off.items() if abs(miss) > _LENGTH_MM}
        if not wrong:
            break
        more |= {place: more.get(place, 0.0) + miss for place, miss in wrong.items()}
        again = [one for one in ready if one.spec.name in {panel for panel, _ in wrong}]
        laid |= {one.spec.name: one for one in _flat(plan, again, means, more)}
        panels = trued(tuple(laid.values()), seams)
    return panels


def _mean_edges(plan: Plan, free: Sequence[FlatPanel]) -> dict[Place, Real]:
    """Return the mean of both sides' free lengths, edge by edge."""
    by_name = {one.spec.name: one.flat.natural_mm for one in free}
    found: dict[Place, Real] = {}
    for seam in plan.seams:
        first = by_name[seam.first[0]][seam.first[1]]
        second = by_name[seam.second[0]][seam.second[1]][::-1]
        mean = (first + second) / 2.0
        found[seam.first], found[seam.second] = mean, mean[::-1]
    return found


def _eases(plan: Plan, panels: Sequence[FlatPanel]) -> tuple[SeamEase, ...]:
    by_name = {one.spec.name: one.flat.natural_mm for one in panels}
    return tuple(
        SeamEase(
            seam.first, seam.second,
            float(by_name[seam.second[0]][seam.second[1]].sum())
            - float(by_name[seam.first[0]][seam.first[1]].sum()),
        )
        for seam in plan.seams
    )  # fmt: skip


def _regions(plan: Plan, panels: Sequence[FlatPanel]) -> tuple[StrainRange, ...]:
    found = []
    for panel in panels:
        strained = strains(panel.flat.rest, panel.flat.points)
        v = panel.uv[panel.flat.rest.triangles][:, :, 1].mean(axis=1)
        for name, low, high in plan.bands:
            where = (v >= low) & (v < high)
            if where.sum() >= 4:
                found.append(strain_range(strained, f"{panel.spec.name}, {name}", where))
    return tuple(found)


def require_order(columns: Sequence[float], names: Sequence[str], width_mm: float) -> None:
    """Refuse style lines that leave a panel empty.

    Parameters
    ----------
    columns : sequence of float
        Columns of the seams from centre front to centre back, at one level [-].
    names : sequence of str
        Names of the panels between them.
    width_mm : float
        Length of the level from centre front to centre back [mm].

    Raises
    ------
    InfeasibleError
        Naming the panel.

    References
    ----------
    ``guess``: a panel needs at least 12 mm.
    """
    for left, right, name in zip(columns, columns[1:], names, strict=False):
        if (right - left) * width_mm < 12.0:
            raise InfeasibleError(
                f"the style lines leave nothing of {name}: {(right - left) * width_mm:.0f} mm", name,
                "move the seams apart, or ask for fewer panels",
            )  # fmt: skip
