"""What is told of a garment: girths, bones, guesses, the trial; and all of it put together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.cut import CutPlan
from samite.pieces.fitted.plan import Laid
from samite.pieces.fitted.report import Bone, FitReport, Girth, Limits, PanelOption, Pressure
from samite.pieces.flatten.panels import FlatPanel, flat_places
from samite.pieces.outline import Rule
from samite.pieces.shape import GUESSED, PRACTICE, Made, Values, reason
from samite.pieces.surface.loft import run_mm
from samite.pieces.surface.solve import Solved

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

BONE_SHORT_MM = 12.0
"""How much shorter a bone is than its channel, at either end [mm]."""

_PANEL_BONE_MM = 80.0

GUESSES = (
    "the shape between the levels that were measured is a guess: nothing bulges between two of them",
    "sections are half flat, half super-ellipse; depth over breadth is that of the body",
    "the underbust level lies at 62 % of the height from waist to bust, the high hip half way",
)

TRIAL = (
    "sew a trial first, of a firm cheap cotton, all seams on the stitch line with the longest stitch:"
    " fitted pieces were never tried on a person"
)
STRETCH_TRIAL = (
    "sew a trial first, of a cheap knit that stretches as far as the cloth under the same pull, along"
    " and across: another stretch is another fit"
)


def flat_girth_mm(laid: Laid, name: str) -> float | None:
    """Return a girth as the flat pieces have it.

    Parameters
    ----------
    laid : Laid
        The garment laid flat.
    name : str
        Name of the level.

    Returns
    -------
    float or None
        Whole girth; None if the level does not cross every panel [mm].

    References
    ----------
    ``definition``: sum over the pieces.
    """
    total = 0.0
    for panel in laid.panels:
        parts = [
            run_mm(panel.flat.points[line])[-1]
            for key, line in panel.flat.mesh.lines.items()
            if key.rsplit(" ", 1)[0] == name
        ]
        parts += [
            run_mm(panel.flat.drawn(side.name))[-1]
            for side in panel.spec.sides
            if side.name.rstrip(" 0123456789") == name
        ]
        if not parts:
            return None
        total += float(sum(parts))
    return 2.0 * total


def trunk_girths(v: Values, laid: Laid, names: Sequence[str]) -> tuple[Girth, ...]:
    """Return girths: body, asked, and as the flat pieces have them.

    Parameters
    ----------
    v : Values
        Settings.
    laid : Laid
        The garment laid flat.
    names : sequence of str
        Levels.

    Returns
    -------
    tuple of Girth
        Those that the garment has.

    References
    ----------
    ``definition``: girths.
    """
    found = []
    for name in names:
        key = name.replace(" ", "_")
        flat = flat_girth_mm(laid, name)
        if flat is not None:
            asked = (v[key] + v.get(f"{key}_ease", 0.0)) * laid.plan.shrink[0]
            found.append(Girth(name, v[key], asked, flat))
    return tuple(found)


def bones_of(laid: Laid, where: str) -> tuple[Bone, ...]:
    """Return the bones of a garment.

    Parameters
    ----------
    laid : Laid
        The garment laid flat.
    where : str
        ``seams``, ``seams and panels`` or ``none``.

    Returns
    -------
    tuple of Bone
        Where each lies, how long it is, how many.

    References
    ----------
    ``common-practice``: bones end short of the edges.
    """
    if where == "none":
        return ()
    found = []
    for seam in laid.plan.seams:
        side = next(s for s in laid.panel(seam.first[0]).spec.sides if s.name == seam.first[1])
        length = side.line.length_mm - 2.0 * BONE_SHORT_MM
        found.append(Bone(f"seam of {seam.first[0]} and {seam.second[0]}", length, 2))
    if where == "seams and panels":
        for panel in laid.panels:
            line = _middle(panel)
            if line is not None:
                found.append(Bone(f"middle of {panel.spec.name}", float(run_mm(line)[-1]), 2))
    return tuple(found)


def bone_rules(laid: Laid, where: str) -> dict[str, tuple[Rule, ...]]:
    """Return the bone channels that lie inside panels as lines.

    Parameters
    ----------
    laid : Laid
        The garment laid flat.
    where : str
        ``seams``, ``seams and panels`` or ``none``.

    Returns
    -------
    dict of str to tuple of Rule
        Lines by panel.

    References
    ----------
    ``common-practice``: a bone in the middle of a wide panel.
    """
    if where != "seams and panels":
        return {}
    found: dict[str, tuple[Rule, ...]] = {}
    for panel in laid.panels:
        line = _middle(panel)
        if line is not None:
            points = tuple((float(x), float(y)) for x, y in line)
            found[panel.spec.name] = (Rule("bone channel", points),)
    return found


def _middle(panel: FlatPanel) -> Real | None:
    """Return the line up the middle of a wide panel, short of both edges."""
    low, high = float(panel.uv[:, 1].min()), float(panel.uv[:, 1].max())
    rows = np.linspace(low + 0.06 * (high - low), low + 0.94 * (high - low), 15)
    columns = []
    for row in rows:
        near = panel.uv[np.abs(panel.uv[:, 1] - row) < 0.5 + 0.02 * (high - low)]
        if len(near) < 2:
            return None
        columns.append((near[:, 0].min() + near[:, 0].max()) / 2.0)
    line = flat_places(panel, np.stack([np.array(columns), rows], axis=1))
    widths = [run_mm(panel.flat.points[one])[-1] for one in panel.flat.mesh.lines.values()]
    if not widths or max(widths) < _PANEL_BONE_MM:
        return None
    return line


def made_of(
    cut: CutPlan, laid: Laid, limits: Limits, options: tuple[PanelOption, ...], chosen: str,
    girths: tuple[Girth, ...], solved: Solved | None = None, bones: tuple[Bone, ...] = (), *,
    pressures: tuple[Pressure, ...] = (), values: Mapping[str, float] | None = None,
    guesses: tuple[str, ...] = (),
) -> Made:  # fmt: skip
    """Return a garment as shapes return theirs, with what is told of its fit.

    Parameters
    ----------
    cut : CutPlan
        Its pieces.
    laid : Laid
        The garment laid flat.
    limits : Limits
        What the cloth allows.
    options : tuple of PanelOption
        Ways to part it that were tried.
    chosen : str
        The one taken.
    girths : tuple of Girth
        Its girths.
    solved : Solved or None
        The trunk.
    bones : tuple of Bone
        Its bones.
    pressures : tuple of Pressure
        Pressures on the skin.
    values : mapping of str to float or None
        More numbers that were solved.
    guesses : tuple of str
        More that was guessed.

    Returns
    -------
    Made
        Pieces, seams, numbers, reasons, report.

    References
    ----------
    ``definition``: all parts together.
    """
    told = {
        f"{name.replace(' ', '_').replace(',', '')}_mm": width
        for name, width in cut.darts_mm.items()
    }
    if solved is not None:
        told["back_length_mm"] = solved.back_length_mm
        told["front_length_mm"] = solved.front_length_mm
        told["bust_share"] = solved.bust_share
    told |= dict(values or {})
    told["largest_seam_miss_mm"] = max(panel.flat.off_mm for panel in laid.panels)
    stretched = laid.plan.shrink != (1.0, 1.0)
    report = FitReport(
        laid.regions, limits, options, chosen, laid.eases, girths, pressures, bones,
        (*GUESSES, *guesses), STRETCH_TRIAL if stretched else TRIAL,
    )  # fmt: skip
    why = [
        reason("seams and girth lines come out exactly, the rest stays as rigid as it can"),
        reason(f"{chosen}: {_choice(options, chosen)}", GUESSED),
        *(reason(one, GUESSED) for one in report.guesses),
        reason(report.trial, PRACTICE),
    ]
    return Made(cut.pieces, cut.mates, cut.smooths, MappingProxyType(told), tuple(why), report)


def _choice(options: Sequence[PanelOption], chosen: str) -> str:
    one = next(option for option in options if option.name == chosen)
    if len(options) > 1 and one.fits:
        return "the fewest that keep within what the cloth gives"
    if one.fits:
        return f"takes {one.use:.1f} of what the cloth gives"
    return f"{one.region} asks {one.use:.2f} times what the cloth gives; see the hatching"
