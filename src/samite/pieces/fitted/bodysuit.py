"""A bodysuit of stretch cloth from shoulder to leg."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from samite.pieces.fitted.bodice import armhole_parts, openings_of
from samite.pieces.fitted.choose import fewest_panels, option_of
from samite.pieces.fitted.cut import CutPlan, cut_pieces
from samite.pieces.fitted.leg_measures import (
    LEG_GUESSES,
    LEGS,
    leg_girths,
    legs_of,
    lower_values,
    row_of_height,
)
from samite.pieces.fitted.legs import LegCut, leg_plan
from samite.pieces.fitted.measures import GIRTHS, LENGTHS, trunk_of
from samite.pieces.fitted.plan import Laid, Plan, lay_flat
from samite.pieces.fitted.report import PanelOption
from samite.pieces.fitted.sleeve import set_in_sleeve
from samite.pieces.fitted.stretch import (
    STRETCH,
    pressures_of,
    shrink_of,
    stretch_limits,
    worn_strains,
)
from samite.pieces.fitted.tell import made_of, trunk_girths
from samite.pieces.fitted.tops import PathPart
from samite.pieces.shape import Made, Shape, Values, choice, mm, number
from samite.pieces.surface.lower import Lower, with_legs
from samite.pieces.surface.openings import Openings
from samite.pieces.surface.solve import Solved, solved_trunk

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

WAYS = ("front and back", "front and back, sides apart")


def whole_body(v: Values) -> tuple[Lower, Solved]:
    """Return trunk and leg as one surface.

    Parameters
    ----------
    v : Values
        Measures.

    Returns
    -------
    tuple of (Lower, Solved)
        The surface; the trunk with its rows counted on that surface.

    Raises
    ------
    OutOfRangeError
        If the measures make no body.

    References
    ----------
    ``guess``: shape between measured levels.
    """
    solved = solved_trunk(trunk_of(v))
    lower = with_legs(solved.surface, legs_of(v))
    moved = replace(
        solved, surface=lower.surface, neck_bone_row=solved.neck_bone_row + lower.added_rows
    )
    return lower, moved


def bodysuit_plan(lower: Lower, openings: Openings, v: Values, *, parted: bool) -> Plan:
    """Return the plan of a bodysuit.

    Parameters
    ----------
    lower : Lower
        The body.
    openings : Openings
        Neckline and armhole.
    v : Values
        Settings.
    parted : bool
        Whether front and back are parted once more, from the leg to the armhole.

    Returns
    -------
    Plan
        The plan.

    Raises
    ------
    InfeasibleError
        If a panel is empty.

    References
    ----------
    ``common-practice``: seams at the sides, inside the legs and at the centre back; the centre
    front too unless the fold is asked for.
    """
    surface, levels = lower.surface, lower.surface.levels
    crotch = levels["thigh"]
    inner = row_of_height(surface, lower.crotch_height_mm - v["leg_length"])
    side = inner + v["leg_rise"] / 13.0

    def hem(u: Real) -> Real:
        return np.asarray(inner + (side - inner) * np.sin(np.pi * u) ** 2)

    path, ends, columns, names = _path(openings, parted=parted)
    lowest = max(inner, side)
    rows = {
        name: levels[name]
        for name in ("calf", "knee", "thigh", "hip", "high hip", "waist", "underbust", "bust")
        if levels[name] > lowest + 0.6
    }
    bands = (
        ("leg", 0.0, crotch), ("crotch to hip", crotch, levels["hip"]),
        ("hip to waist", levels["hip"], levels["waist"]),
        ("waist to bust", levels["waist"], levels["bust"]), ("above the bust", levels["bust"], 1e9),
    )  # fmt: skip
    cut = LegCut(columns, names, hem, crotch, path, ends, {}, rows, v.word("centre_back"),
                 v.word("centre_front"))  # fmt: skip
    return leg_plan(surface, cut, mesh_mm=v["mesh"], shrink=shrink_of(v), bands=bands)


def _path(
    openings: Openings, *, parted: bool
) -> tuple[tuple[PathPart, ...], tuple[int, ...], tuple[float, ...], tuple[str, ...]]:
    """Return the upper edge, where seams end on it, their columns, and the names of the panels."""
    front = (
        PathPart("neck", "neck", openings.neck_front),
        PathPart("shoulder", "seam", openings.shoulder_front, sewn=True),
    )
    back = (
        PathPart("shoulder", "seam", openings.shoulder_back, sewn=True),
        PathPart("neck", "neck", openings.neck_back),
    )
    if not parted:
        arms = (
            PathPart("armhole front", "seam", openings.arm_front),
            PathPart("armhole back", "seam", openings.arm_back),
        )
        return (*front, *arms, *back), (0, 3, 6), (0.0, 0.5, 1.0), ("front", "back")
    cut_f, cut_b = (len(openings.arm_front) * 11) // 16, (len(openings.arm_back) * 5) // 16
    arms4 = (
        PathPart("armhole front 1", "seam", openings.arm_front[: cut_f + 1]),
        PathPart("armhole front 2", "seam", openings.arm_front[cut_f:]),
        PathPart("armhole back 1", "seam", openings.arm_back[: cut_b + 1]),
        PathPart("armhole back 2", "seam", openings.arm_back[cut_b:]),
    )
    return (
        (*front, *arms4, *back), (0, 3, 4, 5, 8), (0.0, 0.3, 0.5, 0.7, 1.0),
        ("front", "side front", "side back", "back"),
    )  # fmt: skip


def _build(v: Values) -> Made:
    lower, solved = whole_body(v)
    openings = openings_of(solved, v)
    limits = stretch_limits(v)
    ways = [
        (WAYS[0], lambda: bodysuit_plan(lower, openings, v, parted=False)),
        (WAYS[1], lambda: bodysuit_plan(lower, openings, v, parted=True)),
    ]
    wanted = {2: WAYS[0], 4: WAYS[1]}.get(v.count("panels"), "")
    laid, options, chosen = fewest_panels(ways, limits, asked=wanted)
    guesses: tuple[str, ...] = LEG_GUESSES
    if v.word("centre_front") == "fold":
        seam = _with_seam(lower, openings, v, chosen)
        guesses = (*guesses, _fold_told(options[-1], seam))
        options = (*options, seam)
    cut = cut_pieces(laid, limits, hatched=v.word("hatching") == "yes")
    around, along = worn_strains(v)
    values = {
        **lower_values(v, lower), "armhole_mm": openings.armhole_mm,
        "worn_across_percent": 100 * around, "worn_along_percent": 100 * along,
    }  # fmt: skip
    if v.word("sleeve") == "set-in":
        cut, values = _with_sleeve(v, laid, cut, values)
    girths = [*trunk_girths(v, laid, ("hip", "waist", "underbust", "bust")), *leg_girths(v, laid)]
    levels = lower.surface.levels
    pressures = pressures_of(
        lower.surface, v,
        [("thigh", levels["thigh"], False), ("hip", levels["hip"], True),
         ("waist", levels["waist"], True), ("underbust", levels["underbust"], True),
         ("bust", levels["bust"], True)],
    )  # fmt: skip
    return made_of(
        cut, laid, limits, options, chosen, tuple(girths), solved, pressures=pressures,
        values=values, guesses=guesses,
    )  # fmt: skip


def _with_seam(lower: Lower, openings: Openings, v: Values, way: str) -> PanelOption:
    """Return what the same pieces would cost with a seam at the centre front in place of the fold."""
    seamed = Values(v.numbers, {**v.words, "centre_front": "seam"})
    plan = bodysuit_plan(lower, openings, seamed, parted=way == WAYS[1])
    laid = lay_flat(plan, finished=False)
    return option_of(f"{way}, a seam at the centre front", laid, stretch_limits(v))


def _fold_told(fold: PanelOption, seam: PanelOption) -> str:
    """Return what the fold costs: the centre front of a body is not straight."""
    return (
        f"the centre front lies on the fold, which is straight where the body is not: the pieces take"
        f" {fold.use:.2f} of what the cloth gives and up to {100 * fold.worst_strain:.0f} % beyond the"
        f" even strain, with a seam there {seam.use:.2f} and {100 * seam.worst_strain:.0f} %; the side"
        " seam takes up what the centre cannot, so let a trial decide (--set centre_front=seam)"
    )


def _with_sleeve(
    v: Values, laid: Laid, cut: CutPlan, values: dict[str, float]
) -> tuple[CutPlan, dict[str, float]]:
    """Add the sleeve: girths and lengths as stretched as the trunk."""
    around, along = shrink_of(v)
    numbers = {
        **v.numbers, "upper_arm": v["upper_arm"] * around, "upper_arm_ease": 0.0, "cap_ease": 0.0,
        "sleeve_length": v["sleeve_length"] * along, "sleeve_hem": v["sleeve_hem"] * around,
        "lift": 0.0,
    }  # fmt: skip
    sleeve = set_in_sleeve(
        Values(numbers, v.words), armhole_parts(laid, "front"), armhole_parts(laid, "back")
    )
    made = CutPlan(
        (*cut.pieces, sleeve.piece), (*cut.mates, *sleeve.mates), (*cut.smooths, *sleeve.smooths),
        cut.darts_mm,
    )  # fmt: skip
    return made, {**values, **sleeve.values}


SHAPE = Shape(
    "fitted-bodysuit",
    "bodysuit of stretch cloth computed from body and cloth, girths smaller than the body",
    (
        *GIRTHS, *LENGTHS, *LEGS,
        mm("armhole", "armscye girth of the body", low=200, high=1000, armscye_girth=1.0),
        mm("armhole_ease", "ease of the armhole", 0, low=-60, high=200),
        mm("across_front", "from arm crease to arm crease in front", low=120, high=700, across_front=1.0),
        mm("back_width", "the same behind", low=120, high=700, back_width=1.0),
        mm("across_ease", "ease across both", 0, low=-60, high=120),
        mm("neck_drop", "neckline lower in front than the root of the neck", 60, low=0, high=250),
        mm("neck_wider", "neckline wider at the shoulder", 25, low=0, high=90),
        mm("leg_length", "inside leg below the crotch", 40, low=18, high=900),
        mm("leg_rise", "leg opening higher at the side", 0, low=0, high=220),
        number("panels", "pieces of one half, 2 or 4; 0 for the fewest that the cloth takes", 0, 0, 4,
               "count"),
        choice("centre_front", "what the centre front is", "seam", "fold"),
        choice("centre_back", "what the centre back is", "opening", "seam"),
        choice("sleeve", "its sleeve", "none", "set-in"),
        mm("upper_arm", "upper arm girth of the body", low=100, high=900, upper_arm_girth=1.0),
        mm("sleeve_length", "from the top of the cap to the hem", low=100, high=1200, arm_length=1.0),
        mm("sleeve_hem", "girth of the wrist", low=80, high=900, wrist_girth=1.0),
        *STRETCH,
    ),
    _build,
    ("fitted bodysuit", "leotard", "unitard", "catsuit"),
)  # fmt: skip
