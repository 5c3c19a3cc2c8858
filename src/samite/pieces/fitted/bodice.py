"""A full bodice with shoulders, and its set-in sleeve."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from samite.pieces.fitted.choose import grown_panels
from samite.pieces.fitted.cut import CutPlan, cut_pieces
from samite.pieces.fitted.measures import CLOTH, GIRTHS, LENGTHS, eases, limits_of, trunk_of
from samite.pieces.fitted.plan import Laid, Plan
from samite.pieces.fitted.report import Girth
from samite.pieces.fitted.sleeve import SetIn, set_in_sleeve
from samite.pieces.fitted.strapless import lower_edge
from samite.pieces.fitted.strips import Dart, Strips
from samite.pieces.fitted.style import bust_marks, column_at, front_names, halves, trunk_seams
from samite.pieces.fitted.tell import made_of, trunk_girths
from samite.pieces.fitted.tops import PathDart, PathPart, TopCut, cut_part, top_plan
from samite.pieces.shape import Made, Shape, Values, choice, mm, number
from samite.pieces.surface.loft import run_mm
from samite.pieces.surface.openings import Openings, solved_openings
from samite.pieces.surface.solve import Solved, solved_trunk

MOST = (8, 7)
"""Most panels of one half in front and behind; one has darts."""

_DART_SHORT_MM = 20.0


def path_of(
    solved: Solved, openings: Openings, front: int, back: int, style: str
) -> tuple[tuple[PathPart, ...], tuple[int, ...]]:
    """Return the upper edge cut at every seam, and how many parts lie before each seam.

    Parameters
    ----------
    solved : Solved
        The trunk.
    openings : Openings
        Neckline, shoulder and armhole.
    front : int
        Panels of one half in front [-].
    back : int
        Panels of one half behind [-].
    style : str
        ``shoulder`` or ``armhole``: where the first seam ends.

    Returns
    -------
    tuple of (tuple of PathPart, tuple of int)
        Parts from centre front to centre back, and the ends of the seams.

    References
    ----------
    ``common-practice``: princess seams from shoulder or armhole.
    """
    surface = solved.surface
    to_shoulder = style == "shoulder" or min(front, back) == 1
    halved = [0.5] if to_shoulder else []

    def half(count: int, neck: PathPart, shoulder: PathPart, arm: PathPart) -> list[list[PathPart]]:
        """Return neck, shoulder and armhole parts, seen from the centre."""
        seams = count - 1
        on_arm = seams - 1 if to_shoulder else seams
        shares = [(k + 1) / (on_arm + 1) for k in range(max(on_arm, 0))]
        return [[neck], cut_part(surface, shoulder, halved), cut_part(surface, arm, shares)]

    neck, shoulder, arm = half(
        front, PathPart("neck", "neck", openings.neck_front),
        PathPart("shoulder", "seam", openings.shoulder_front, sewn=True),
        PathPart("armhole front", "seam", openings.arm_front),
    )  # fmt: skip
    b_neck, b_shoulder, b_arm = half(
        back, PathPart("neck", "neck", openings.neck_back[::-1]),
        PathPart("shoulder", "seam", openings.shoulder_back[::-1], sewn=True),
        PathPart("armhole back", "seam", openings.arm_back[::-1]),
    )  # fmt: skip
    turned = [replace(p, uv=p.uv[::-1]) for p in reversed((*b_neck, *b_shoulder, *b_arm))]
    parts = (*neck, *shoulder, *arm, *turned)
    ends = [0, *_ends(front, to_shoulder), len(neck) + len(shoulder) + len(arm)]
    ends += [len(parts) - k for k in reversed(_ends(back, to_shoulder))]
    return parts, (*ends, len(parts))


def _ends(count: int, to_shoulder: bool) -> list[int]:
    """Return parts before each inner seam, counted from the centre."""
    if count == 1:
        return []
    if to_shoulder:
        return [2, *(2 + 1 + k for k in range(1, count - 1))]
    return [2 + k for k in range(1, count)]


def _waist_darts(solved: Solved, v: Values) -> dict[str, tuple[Dart, ...]]:
    surface = solved.surface
    waist, bust = surface.levels["waist"], surface.levels["bust"]
    per_row = 1.0 / 13.0
    front = column_at(surface, waist, v["front_seam_waist"])
    back = column_at(surface, waist, v["back_seam_waist"], back=True)
    behind = column_at(surface, bust, v["back_seam"], back=True)
    return {
        "front": (Dart(front, (solved.bust_column, bust - _DART_SHORT_MM * per_row), upper=False),),
        "back": (Dart(back, (behind, bust - 0.2), upper=False),),
    }


def _path_darts(solved: Solved, v: Values) -> tuple[PathDart, ...]:
    surface = solved.surface
    bust, top = surface.levels["bust"], float(surface.rows)
    behind = column_at(surface, bust, v["back_seam"], back=True)
    return (
        PathDart("front", "shoulder", (solved.bust_column, bust + _DART_SHORT_MM / 13.0)),
        PathDart(
            "back", "shoulder", (behind, top - 0.33 * (top - surface.levels["upper chest"]) - 2.0)
        ),
    )


def bodice_plan(
    solved: Solved, openings: Openings, v: Values, front: int, back: int, mesh_mm: float
) -> Plan:
    """Return the plan of a bodice with so many panels; one panel has darts.

    Parameters
    ----------
    solved : Solved
        The trunk.
    openings : Openings
        Neckline, shoulder and armhole.
    v : Values
        Settings.
    front : int
        Panels of one half in front [-].
    back : int
        Panels of one half behind [-].
    mesh_mm : float
        Distance of the points of the mesh [mm].

    Returns
    -------
    Plan
        The plan.

    Raises
    ------
    InfeasibleError
        If the style lines leave a panel empty.

    References
    ----------
    ``common-practice``: darts to the bust point, or seams over it.
    """
    surface, levels = solved.surface, solved.surface.levels
    lower = lower_edge(surface, v)
    every = np.linspace(0.0, 1.0, 101)
    low = float(lower(every).max())
    rows = {
        name: levels[name] for name in ("high hip", "waist", "underbust", "bust")
        if levels[name] > low + 0.6
    }  # fmt: skip
    edge = "waist" if v["below_waist"] + v["point"] < 1.0 else "lower"
    seams = trunk_seams(solved, v, front, back, float(lower(every).min()), levels["bust"])
    waist_darts = _waist_darts(solved, v)
    path_darts = _path_darts(solved, v)
    darted = {name for name, count in (("front", front), ("back", back)) if count == 1}
    base = Strips(
        seams, front_names(front, back), lower, lower,
        ((edge, "waist" if edge == "waist" else "hem"), ("top", "edge")), MappingProxyType(rows),
        MappingProxyType({name: waist_darts[name] for name in darted}), v.word("opening"),
    )  # fmt: skip
    style = v.word("princess")
    path, ends = path_of(solved, openings, front, back, style)
    cut = TopCut(base, path, ends, tuple(d for d in path_darts if d.panel in darted))
    bands = (
        ("below the waist", 0.0, levels["waist"]),
        ("waist to underbust", levels["waist"], levels["underbust"]),
        ("underbust to bust", levels["underbust"], levels["bust"]),
        ("bust to armpit", levels["bust"], levels["upper chest"]),
        ("shoulder", levels["upper chest"], 1e9),
    )
    return top_plan(surface, cut, mesh_mm=mesh_mm, bands=bands)


def openings_of(solved: Solved, v: Values) -> Openings:
    """Return neckline and armhole from settings.

    Parameters
    ----------
    solved : Solved
        The trunk.
    v : Values
        Settings.

    Returns
    -------
    Openings
        The lines.

    Raises
    ------
    OutOfRangeError
        If none of that length fits.

    References
    ----------
    ``guess``: shape of the lines between their ends.
    """
    return solved_openings(
        solved, armhole_mm=v["armhole"] + v["armhole_ease"], neck_mm=v["neck"],
        across_front_mm=v["across_front"] + v["across_ease"],
        back_width_mm=v["back_width"] + v["across_ease"],
        neck_drop_mm=v["neck_drop"], neck_wider_mm=v["neck_wider"],
    )  # fmt: skip


def armhole_parts(laid: Laid, which: str) -> list[tuple[tuple[str, str], float]]:
    """Return the parts of an armhole with their lengths, as the sleeve meets them.

    Parameters
    ----------
    laid : Laid
        The bodice laid flat.
    which : str
        ``front`` or ``back``.

    Returns
    -------
    list of ((str, str), float)
        Panel, edge, length [mm]; front from the side upwards, back from the shoulder down.

    References
    ----------
    ``definition``: edges in order.
    """
    found = [
        ((panel.spec.name, side.name), float(run_mm(panel.flat.drawn(side.name))[-1]))
        for panel in laid.panels for side in panel.spec.sides
        if side.name.startswith(f"armhole {which}")
    ]  # fmt: skip
    return found[::-1]


def _build(v: Values) -> Made:
    solved = solved_trunk(trunk_of(v))
    openings = openings_of(solved, v)
    limits = limits_of(v)
    asked = v.count("panels")
    laid, options, chosen = grown_panels(
        lambda front, back, mesh: bodice_plan(solved, openings, v, front, back, mesh), limits,
        asked=halves(asked) if asked else None, most=MOST, mesh_mm=v["mesh"],
    )  # fmt: skip
    cut = cut_pieces(
        laid, limits, hatched=v.word("hatching") == "yes", marks=bust_marks(laid, solved)
    )
    girths = [*trunk_girths(v, laid, ("waist", "underbust", "bust")), *_openings_told(v, openings)]
    values = {"armhole_mm": openings.armhole_mm, "neckline_mm": openings.neck_mm}
    if v.word("sleeve") == "set-in":
        sleeve = set_in_sleeve(v, armhole_parts(laid, "front"), armhole_parts(laid, "back"))
        cut, values = _with_sleeve(cut, sleeve), {**values, **sleeve.values}
    return made_of(
        cut, laid, limits, options, chosen, tuple(girths), solved, values=values,
        guesses=("neckline and armhole run as smooth curves between their measured ends",),
    )  # fmt: skip


def _openings_told(v: Values, openings: Openings) -> Sequence[Girth]:
    asked = v["armhole"] + v["armhole_ease"]
    return (Girth("armhole", v["armhole"], asked, openings.armhole_mm),)


def _with_sleeve(cut: CutPlan, sleeve: SetIn) -> CutPlan:
    return CutPlan(
        (*cut.pieces, sleeve.piece), (*cut.mates, *sleeve.mates), (*cut.smooths, *sleeve.smooths),
        cut.darts_mm,
    )  # fmt: skip


SHAPE = Shape(
    "fitted-bodice",
    "full bodice with set-in sleeve, computed from body and cloth",
    (
        *GIRTHS, *LENGTHS,
        *eases(bust=50.0, underbust=40.0, upper_chest=40.0, waist=25.0, hip=40.0),
        mm("armhole", "armscye girth of the body", low=200, high=1000, armscye_girth=1.0),
        mm("armhole_ease", "ease of the armhole", 20, low=-40, high=200),
        mm("across_front", "from arm crease to arm crease in front", low=120, high=700, across_front=1.0),
        mm("back_width", "the same behind", low=120, high=700, back_width=1.0),
        mm("across_ease", "ease across both", 10, low=-30, high=120),
        mm("neck_drop", "neckline lower in front than the root of the neck", 10, low=0, high=250),
        mm("neck_wider", "neckline wider at the shoulder", 5, low=0, high=90),
        number("panels", "panels of one half: 0 the fewest that the cloth takes, 2 with darts", 0, 0, 11,
               "count"),
        choice("princess", "where the first seam ends", "shoulder", "armhole"),
        mm("front_seam", "seam over the bust, from the centre front at the bust", low=10, high=400,
           bust_point_distance=0.5),
        mm("front_seam_waist", "the same at the waist", low=5, high=400, waist_girth=0.1),
        mm("back_seam", "seam of the back, from the centre back at the bust", low=5, high=400,
           bust_girth=0.105),
        mm("back_seam_waist", "the same at the waist", low=5, high=400, waist_girth=0.085),
        mm("below_waist", "how far it reaches below the waist", 0, low=0, high=400),
        mm("point", "further at the centre front", 0, low=0, high=200),
        choice("opening", "where it opens", "back", "front", "side"),
        choice("sleeve", "its sleeve", "set-in", "none"),
        mm("upper_arm", "upper arm girth of the body", low=100, high=900, upper_arm_girth=1.0),
        mm("upper_arm_ease", "ease of the sleeve under the arm", 50, low=-50, high=400),
        mm("cap_ease", "length eased into the armhole", 20, low=-20, high=200),
        mm("sleeve_length", "from the top of the cap to the hem", low=100, high=1200, arm_length=1.0),
        mm("sleeve_hem", "girth of the hem of the sleeve", 70, low=80, high=1500, wrist_girth=1.0),
        number("lift", "angle to which arms must be lifted without a pull; 0 leaves it", 0, 0, 90, "deg"),
        *CLOTH,
    ),
    _build,
    ("fitted bodice", "close bodice"),
)  # fmt: skip
