"""The set-in sleeve of a computed armhole, its cap parted where seams meet the armhole."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from samite.kernel.errors import OutOfRangeError
from samite.kernel.ranges import require_between, require_positive
from samite.pieces.curves import trace
from samite.pieces.edge import Edge
from samite.pieces.forms.limbs import cap_length_mm
from samite.pieces.outline import Notch, Piece
from samite.pieces.plane import Point
from samite.pieces.roots import solve_between
from samite.pieces.shape import Values
from samite.pieces.shapes import sleeves
from samite.pieces.walk import Mate, Smooth

Place = tuple[str, str]


def natural_lift_deg(*, upper_arm_mm: float, cap_height_mm: float) -> float:
    """Return how far an arm is lifted when its sleeve hangs without a fold.

    Parameters
    ----------
    upper_arm_mm : float
        Girth of the sleeve under the arm, ease included [mm].
    cap_height_mm : float
        Height of the cap [mm].

    Returns
    -------
    float
        Angle from the hanging arm; 90 with no cap at all [deg].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    A round tube cut by a plane: its axis leaves the upright armhole at atan(H / 2 r) below the level.
    Shoulders move too, so that an arm can be lifted further than this.

    References
    ----------
    ``derivation``: a cylinder cut by a plane.
    """
    require_positive(upper_arm_mm=upper_arm_mm)
    require_between(0.0, math.inf, cap_height_mm=cap_height_mm)
    return 90.0 - math.degrees(math.atan2(cap_height_mm * math.pi, upper_arm_mm))


def missing_underarm_mm(*, upper_arm_mm: float, cap_height_mm: float, lift_deg: float) -> float:
    """Return what a sleeve lacks along the underarm when the arm is lifted.

    Parameters
    ----------
    upper_arm_mm : float
        Girth of the sleeve under the arm, ease included [mm].
    cap_height_mm : float
        Height of the cap [mm].
    lift_deg : float
        Angle from the hanging arm [deg].

    Returns
    -------
    float
        Length that the body of the garment is pulled up by; 0 if none [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    The sleeve turns about the shoulder point from where it hangs without a fold; the underarm lies a
    diameter away from it and moves by twice that times the sine of half the angle.

    References
    ----------
    ``derivation``: chord of a turn.
    """
    require_between(0.0, 180.0, lift_deg=lift_deg)
    over = lift_deg - natural_lift_deg(upper_arm_mm=upper_arm_mm, cap_height_mm=cap_height_mm)
    if over <= 0.0:
        return 0.0
    return 2.0 * (upper_arm_mm / math.pi) * math.sin(math.radians(over) / 2.0)


def lifted_upper_arm_mm(*, armhole_mm: float, lift_deg: float) -> float:
    """Return how wide a sleeve must be so that the arm can be lifted without a pull.

    Parameters
    ----------
    armhole_mm : float
        Length of the armhole and of what is eased into it [mm].
    lift_deg : float
        Angle from the hanging arm [deg].

    Returns
    -------
    float
        Girth of the sleeve under the arm [mm].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    The cap whose natural lift is that angle, as long as the armhole. The higher the lift, the flatter
    the cap and the wider the sleeve: it folds at the front when the arm hangs.

    References
    ----------
    ``derivation``: a cylinder cut by a plane.
    """
    require_positive(armhole_mm=armhole_mm)
    require_between(5.0, 90.0, lift_deg=lift_deg)
    share = math.tan(math.radians(90.0 - lift_deg)) / math.pi

    def surplus(girth: float) -> float:
        return cap_length_mm(upper_arm_mm=girth, cap_height_mm=share * girth) - armhole_mm

    return solve_between(surplus, 0.01 * armhole_mm, armhole_mm, what="sleeve width")


@dataclass(frozen=True, slots=True)
class SetIn:
    """A sleeve and how it is sewn in.

    Parameters
    ----------
    piece : Piece
        The sleeve.
    mates : tuple of Mate
        Its underarm seam, and the parts of its cap with those of the armhole.
    smooths : tuple of Smooth
        Corners that must run smooth.
    values : dict of str to float
        What was solved.
    """

    piece: Piece
    mates: tuple[Mate, ...]
    smooths: tuple[Smooth, ...]
    values: dict[str, float]


def set_in_sleeve(
    v: Values, front: Sequence[tuple[Place, float]], back: Sequence[tuple[Place, float]]
) -> SetIn:
    """Return the sleeve of an armhole.

    Parameters
    ----------
    v : Values
        Upper arm, ease, length, hem, lift.
    front : sequence of ((str, str), float)
        Panel, edge and length of every part of the front armhole, from the side upwards [mm].
    back : sequence of ((str, str), float)
        The same behind, from the shoulder down [mm].

    Returns
    -------
    SetIn
        The sleeve.

    Raises
    ------
    OutOfRangeError
        If the armhole takes no such sleeve.

    Notes
    -----
    Cap as `cap_halves_mm`; its ease is spread over the parts by their length. If the lift asked for
    needs a wider sleeve than the arm, the sleeve is made that wide.

    References
    ----------
    ``derivation``: a cylinder cut by a plane.
    """
    before, behind = sum(part for _, part in front), sum(part for _, part in back)
    ease = v["cap_ease"]
    wide = v["upper_arm"] + v["upper_arm_ease"]
    if v["lift"] > 0.0:
        wide = max(wide, lifted_upper_arm_mm(armhole_mm=before + behind + ease, lift_deg=v["lift"]))
    if before + behind + ease <= wide * 1.001:
        raise OutOfRangeError(
            f"an armhole of {before + behind:.0f} mm takes no sleeve {wide:.0f} mm wide", "armscye_girth",
            "give a longer armhole (armhole_ease), a narrower sleeve, or less lift",
        )  # fmt: skip
    numbers = {
        "upper_arm": wide, "front_armhole": before, "back_armhole": behind, "cap_ease": ease,
        "length": v["sleeve_length"], "hem": v["sleeve_hem"],
    }  # fmt: skip
    shape = next(one for one in sleeves.SHAPES if one.name == "sleeve")
    made = shape.build(Values(MappingProxyType(numbers), MappingProxyType({})))
    piece = made.pieces[0]
    front_caps = _split(piece.edge("front-cap"), [part for _, part in front])
    back_caps = _split(piece.edge("back-cap"), [part for _, part in back])
    others = {edge.name: edge for edge in piece.edges}
    edges = (
        others["hem"], others["front-underarm"], *front_caps, *back_caps, others["back-underarm"]
    )  # fmt: skip
    notches = (Notch(front_caps[-1].name, front_caps[-1].length_mm, 1, "shoulder"),)
    parted = replace(piece, edges=edges, notches=notches)
    mates = [Mate(("sleeve", "front-underarm"), ("sleeve", "back-underarm"))]
    for (place, length), cap in zip((*front, *back), (*front_caps, *back_caps), strict=True):
        strokes = 1 if cap in front_caps else 2
        mates.append(
            Mate(place, ("sleeve", cap.name), cap.length_mm - length, stops=((0.5, strokes),))
        )
    smooths = (
        Smooth(("sleeve", "front-underarm", front_caps[0].name),
               ("sleeve", back_caps[-1].name, "back-underarm")),
        Smooth(("sleeve", "hem", "front-underarm"), ("sleeve", "back-underarm", "hem")),
    )  # fmt: skip
    height = made.values["cap_height_mm"]
    values = {
        "sleeve_width_mm": wide, "cap_height_mm": height, "cap_ease_mm": ease,
        "lift_without_pull_deg": natural_lift_deg(upper_arm_mm=wide, cap_height_mm=height),
        "pull_at_lift_90_mm": missing_underarm_mm(
            upper_arm_mm=wide, cap_height_mm=height, lift_deg=90.0
        ),
    }  # fmt: skip
    return SetIn(parted, tuple(mates), smooths, values)


def _split(edge: Edge, lengths: Sequence[float]) -> list[Edge]:
    """Return an edge parted by shares; the parts keep its exact length together."""
    if len(lengths) == 1:
        return [edge]
    points = np.array(edge.flat())
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    stops = np.concatenate([[0.0], np.cumsum(lengths)]) / sum(lengths)
    made = []
    for number, (a, b) in enumerate(itertools.pairwise(stops), 1):
        inner = points[(run > a * run[-1] + 1e-6) & (run < b * run[-1] - 1e-6)]
        ends = [_at(points, run, share * float(run[-1])) for share in (a, b)]
        line = [ends[0], *((float(x), float(y)) for x, y in inner), ends[1]]
        curve = trace(line, edge.length_mm * float(b - a))
        made.append(replace(edge, name=f"{edge.name} {number}", curves=(curve,)))
    return made


def _at(points: np.ndarray, run: np.ndarray, where: float) -> Point:
    return (
        float(np.interp(where, run, points[:, 0])), float(np.interp(where, run, points[:, 1]))
    )  # fmt: skip
