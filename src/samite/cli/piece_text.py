"""Computed pieces as text on the terminal."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from samite.pieces.finish import FinishedPiece
from samite.pieces.fitting import Fitted
from samite.pieces.walk import Walked
from samite.services.inches import in_inches
from samite.services.piece_ask import PieceAnswer
from samite.tables.bodies import measure_entry

if TYPE_CHECKING:
    from samite.services.piece_drawn import DrawnPieces

TOLD_MM = 0.5
"""Change of a sewn edge that is worth a line [mm]."""


def piece_text(answer: PieceAnswer, units: str = "metric") -> str:
    """Return computed pieces as text.

    Parameters
    ----------
    answer : PieceAnswer
        The answer.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        Pieces, seams, measures, notes and reasons.
    """
    from samite.services.fitted_told import fit_lines

    shown = in_inches if units == "imperial" else str
    before, after = shown("\n".join(_before(answer))), shown("\n".join(_after(answer)))
    fittings = "\n".join(_fittings(answer, shown))
    told = "\n".join([*fit_lines(answer.fit, units), ""]) if answer.fit else ""
    return "\n".join(part for part in (before, told, fittings, after) if part)


def _before(answer: PieceAnswer) -> list[str]:
    """Return values, pieces and seams."""
    lines = [f"{answer.shape.name}: {answer.shape.says}", ""]
    for name, value in answer.values.items():
        lines.append(f"  {_value(name, value)}")
    for one in answer.pieces:
        lines += ["", *_piece(one)]
    if answer.walked:
        lines += ["", "SEAMS walked", *map(_walked, answer.walked)]
    return lines


def _walked(walked: Walked) -> str:
    a, b = " ".join(walked.mate.first), " ".join(walked.mate.second)
    state = "equal" if walked.equal else f"{walked.difference_mm:+.1f} mm"
    ease = f", {walked.mate.ease_mm:.1f} mm eased or gathered" if walked.mate.ease_mm else ""
    return f"  {a} {walked.first_mm:.1f} mm with {b} {walked.second_mm:.1f} mm: {state}{ease}"


def _fittings(answer: PieceAnswer, shown: Callable[[str], str]) -> list[str]:
    """Return what fittings changed; what was said stays as it was said."""
    lines: list[str] = []
    for number, (fitted, effect) in enumerate(zip(answer.fittings, answer.effects, strict=True), 1):
        lines += ["", f"FITTING {number}", *_fitting(fitted, shown), f"  {shown(effect.told())}"]
    return [*lines, ""] if lines else []


def _after(answer: PieceAnswer) -> list[str]:
    """Return measures, what to mind and why."""
    lines: list[str] = []
    if answer.estimates:
        lines += ["", "MEASURES"]
        lines += [
            f"  {measure_entry(one.name).says} {one.value_mm / 10:.1f} cm, {one.told()}"
            f" [{one.evidence.grade.value}]"
            for one in answer.estimates
        ]
    if answer.notes:
        lines += ["", "MIND", *(f"  {note}" for note in answer.notes)]
    lines += ["", "WHY"]
    return lines + [f"  {line}" for why in answer.reasons for line in why.lines(1)]


def _fitting(fitted: Fitted, shown: Callable[[str], str]) -> list[str]:
    lines = [
        f"  {c.piece} {c.edge.replace('_', ' ')}: {shown(f'{c.moved_mm:+.1f} mm')} ({c.alteration.said})"
        for c in fitted.changes
    ]
    return lines + [
        shown(f"  {f.piece} {f.edge}: {f.before_mm:.1f} mm now {f.after_mm:.1f} mm, {f.how}")
        for f in fitted.followed
        if abs(f.after_mm - f.before_mm) >= TOLD_MM or f.how.startswith(("gathered", "trued"))
    ]


def _piece(one: FinishedPiece) -> list[str]:
    piece = one.piece
    xs = [x for x, _ in one.cut.points]
    ys = [y for _, y in one.cut.points]
    pair = ", half of them mirrored" if piece.mirrored else ""
    size = f"{(max(xs) - min(xs)) / 10:.1f} x {(max(ys) - min(ys)) / 10:.1f} cm to cut"
    head = f"PIECE {piece.name}: cut {piece.copies}{pair}; {size}; {one.way_up}"
    lines = [head]
    for edge in piece.edges:
        allowance = one.cut.allowances_mm[edge.name]
        lines.append(
            f"  {edge.name:18s} {edge.length_mm / 10:8.2f} cm  {edge.kind:9s} allowance {allowance:g} mm"
        )
    if piece.note:
        lines.append(f"  {piece.note}")
    return lines


def _value(name: str, value: float) -> str:
    for suffix, unit, scale in (
        ("_mm2", "cm2", 0.01),
        ("_mm", "cm", 0.1),
        ("_deg", "degrees", 1.0),
    ):
        if name.endswith(suffix):
            return f"{name.removesuffix(suffix).replace('_', ' ')} {value * scale:.2f} {unit}"
    return f"{name.replace('_', ' ')} {value:.3g}"


def list_text(listed: Sequence[dict[str, Any]]) -> str:
    """Return the list of shapes as text.

    Parameters
    ----------
    listed : sequence of dict of str to object
        From the service.

    Returns
    -------
    str
        One shape a block.
    """
    lines = []
    for shape in listed:
        lines.append(f"{shape['name']}: {shape['says']}")
        for one in shape["parameters"]:
            unit = one["unit"] or "one of " + ", ".join(one["choices"])
            lines.append(f"    {one['name']} [{unit}, default {one['default']}]: {one['says']}")
    return "\n".join(lines)


def import_text(made: DrawnPieces) -> str:
    """Return what was recognised in a drawing, and what was made of it, as text.

    Parameters
    ----------
    made : DrawnPieces
        From the service.

    Returns
    -------
    str
        Scale, pieces, questions with the keys of their answers, and problems.
    """
    found = made.read
    proof = found.proved or "nothing proves the scale"
    lines = [f"one unit is {found.unit_mm:.4g} mm ({proof})"]
    for one in found.pieces:
        lines += ["", f"PIECE {one.name}: {one.area_mm2 / 100:.1f} cm2 inside the cut line"]
        stitch = "a stitch line" if one.stitch else "no stitch line"
        grain = "a grain line" if one.grain else "no grain line"
        lines.append(
            f"  {stitch}, {grain}, {len(one.notches)} notches, {len(one.folds)} folds,"
            f" {len(one.marks)} drill points, {len(one.openings)} openings,"
            f" {len(one.others)} other lines"
        )
        lines += [f"  mended: {text}" for text in one.mended]
    for finished in made.pieces:
        lines += ["", *_piece(finished)]
    lines += map(_walked, made.walked)
    if made.unanswered:
        lines += ["", "ASKED, answer with --answer KEY=VALUE"]
        lines += [f"  ? {q.key}: {q.asks} ({q.takes})" for q in made.unanswered]
    lines += ["", *(f"! {text}" for text in found.problems)] if found.problems else []
    return "\n".join(lines)
