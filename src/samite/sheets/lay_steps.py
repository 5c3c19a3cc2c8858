"""A lay in words: what to mind before cutting, and one line a piece in the order of cutting."""

from __future__ import annotations

from samite.lay.cutting import CutStep, grain_slant_deg
from samite.lay.tilt import off_grain_deg
from samite.sheets.lay_sheet import LayPicture
from samite.sheets.tape import tape, tape_unit

UNIT_WORDS = {"cm": "centimetres", "in": "inches"}

STRAIGHT_DEG = 0.01
"""A grain line nearer to the length of the cloth than this runs along it [deg]."""


def lay_notes(picture: LayPicture) -> tuple[str, ...]:
    """Return what to mind before the first cut.

    Parameters
    ----------
    picture : LayPicture
        The lay.

    Returns
    -------
    tuple of str
        One sentence each.
    """
    problem, unit = picture.problem, UNIT_WORDS[tape_unit(picture.units)]
    rim = "fold" if problem.folded else "right rim"
    notes = [_side_up(picture)]
    if picture.nap:
        notes.append(
            "Nap: it runs down the arrows, towards the end that you start from. Stroke the cloth; if"
            " it runs the other way, start from its other end. No piece is turned."
        )
    if problem.folded:
        notes.append(
            "Folded along its length, right sides together: the fold lies at the right. Every piece"
            " is cut through both layers; what lies on the fold opens out to a whole."
        )
    else:
        notes.append(
            "Single layer. 'Print up' and 'print down' say which side of the paper pattern is seen:"
            " one of each makes a left and a right."
        )
    notes.append(
        f"Two numbers at the ends of a grain line: from the {rim} x from the cut end, in {unit}."
        " Lay both ends with a tape, then the weights."
    )
    if any(off_grain_deg(one.piece, angle_deg=one.placement.angle_deg) for one in picture.steps):
        notes.append(
            "Some pieces lie tilted off grain, within its tolerance: they hang a little off grain and"
            " may swing or twist to one side. Lay both ends of their grain line by the numbers."
        )
    if problem.repeat_along_mm or problem.repeat_across_mm:
        notes.append(
            "Dashed lines are the repeat: let the first lie on the cut end; crosses on motifs."
        )
    if picture.table_mm:
        notes.append(
            "A line beyond the rim is where the cloth is pulled on: cut everything below it first."
        )
    notes.append("Buy the whole length at once, in one piece and of one dye lot.")
    return tuple(notes)


def _side_up(picture: LayPicture) -> str:
    if picture.problem.folded:
        return "The wrong side is seen: right sides lie together."
    if picture.face == "down":
        return (
            "The cloth lies WRONG side up, and is drawn as it lies. Laid right side up, every sleeve"
            " would come out for the other arm."
        )
    return "The cloth lies RIGHT side up, and is drawn as it lies."


def step_words(picture: LayPicture, step: CutStep) -> str:
    """Return how a piece is laid.

    Parameters
    ----------
    picture : LayPicture
        The lay.
    step : CutStep
        The piece.

    Returns
    -------
    str
        Where its grain line lies, and which way up.
    """
    units = picture.units
    (low_x, low_y), (high_x, high_y) = step.grain_mm
    start, side = picture.start_mm, picture.right_mm
    rim = "fold" if picture.problem.folded else "right rim"
    told = []
    if step.piece.on_fold:
        begin, end = step.ends_mm
        told.append(
            f"on the fold, {tape(begin - start, units)} to {tape(end - start, units)} from the end"
        )
    elif grain_slant_deg(step) < STRAIGHT_DEG:
        low, high = sorted((low_x - start, high_x - start))
        told.append(
            f"grain line {tape(low_y - side, units)} from the {rim}, from {tape(low, units)}"
            f" to {tape(high, units)}"
        )
    else:
        told.append(
            f"grain line from {tape(low_y - side, units)} x {tape(low_x - start, units)}"
            f" to {tape(high_y - side, units)} x {tape(high_x - start, units)} ({rim} x end)"
        )
    if not picture.problem.folded and step.piece.mirror != "free":
        told.append("print up" if step.printed_up else "print down")
    if picture.problem.folded and not step.piece.on_fold:
        told.append("two at once" if step.piece.copies > 1 else "two at once, one to spare")
    told += _turned(step)
    return ", ".join(told)


def _turned(step: CutStep) -> list[str]:
    """Return how a piece is turned, and how far it is tilted off its grain."""
    angle = step.placement.angle_deg
    off = off_grain_deg(step.piece, angle_deg=angle)
    turn = round(angle - off, 9) % 360.0
    told = []
    if abs(turn - 180.0) < 1e-6 and not step.piece.on_fold:
        told.append("upside down")
    elif turn > 1e-6 and not step.piece.on_fold:
        told.append(f"turned {turn:g} degrees")
    if off:
        far = f"{abs(off):g} degree{'' if abs(off) == 1.0 else 's'}"
        told.append(f"tilted {far} off grain")
    return told
