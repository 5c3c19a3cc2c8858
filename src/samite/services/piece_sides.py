"""Left and right of a body that is uneven, cut apart: pairs, halves on a fold, panels around."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from samite.garment.body import SIDES
from samite.kernel.errors import SamiteError
from samite.pieces.derive import unfolded
from samite.pieces.fitting import apply_alterations
from samite.pieces.fitting_parts import renamed_mates, renamed_smooths, sided_edges
from samite.pieces.fitting_words import Alteration
from samite.pieces.outline import Piece
from samite.pieces.plane import Move
from samite.pieces.shape import Made, Shape, Values, reason
from samite.pieces.walk import piece_named

_PAIRED = ("sleeve", "cuff", "frill", "trumpet", "gusset", "side gore", "wing")
"""Words of pieces of which every side of the body has its own."""

_TELLING_MM = 0.5
_SAME_MM = 1e-6


def both_sides(shape: Shape, whole: Made, numbers: Values, values: Mapping[str, Values]) -> Made:
    """Return pieces of which each side of the body has its own.

    Parameters
    ----------
    shape : Shape
        The shape.
    whole : Made
        Pieces by the mean of both sides.
    numbers : Values
        Parameters by the mean.
    values : mapping of str to Values
        Parameters by each side.

    Returns
    -------
    Made
        Pairs parted, halves on a fold opened, each side by its own measures; panels around are let
        out at the seam of one side and taken in at that of the other.

    Notes
    -----
    A hem that is longer on one side slopes evenly around. What has no seam at the sides is taken
    by the mean of both, and says so.
    """
    pairs = {piece.name for piece in whole.pieces if _is_pair(piece)}
    level = set(numbers) & {"length"} if len(pairs) < len(whole.pieces) else set()
    sided = {
        side: shape.build(Values({**own.numbers, **{n: numbers[n] for n in level}}, own.words))
        for side, own in values.items()
    }
    opened = {p.name: o for p in whole.pieces if (o := _joined(p, sided)) and p.name not in pairs}
    made = _parted(whole, sided, pairs, opened)
    left = [p for p in whole.pieces if p.name not in pairs | set(opened)]
    uneven = [
        p.name for p in left if _differ(*(piece_named(sided[s].pieces, p.name) for s in SIDES))
    ]
    said = _differences(numbers, values, girths=bool(uneven), level=bool(level))
    return _altered(made, said)


def _is_pair(piece: Piece) -> bool:
    named = any(word in piece.name for word in _PAIRED)
    return piece.mirrored or (named and piece.copies % 2 == 0 and not piece.on_fold)


def _joined(piece: Piece, sided: Mapping[str, Made]) -> Piece | None:
    """Return a piece on the fold as a whole, each half from its own side; None if they do not meet."""
    if not piece.on_fold:
        return None
    drawn, other = ("right", "left") if "back" in piece.name else ("left", "right")
    own, twin = (piece_named(sided[side].pieces, piece.name) for side in (drawn, other))
    folds = [next(e for e in one.edges if e.kind == "fold") for one in (own, twin)]
    (ax, ay), (bx, by) = (fold.start for fold in folds)
    twin = twin.moved(Move(0.0, (ax - bx, ay - by)))
    if math.dist(folds[0].end, next(e for e in twin.edges if e.kind == "fold").end) > _SAME_MM:
        return None
    if not _differ(own, twin):
        return None
    mirrored = unfolded(twin).edges[len(twin.edges) - 1 :]
    joined = replace(own, edges=(*unfolded(own).edges[: len(own.edges) - 1], *mirrored), note="")
    turned = replace(joined, mirrored=piece.copies > 1)
    return sided_edges(turned, drawn, other)


def _differ(left: Piece, right: Piece) -> bool:
    if len(left.edges) != len(right.edges):
        return True
    pairs = zip(left.edges, right.edges, strict=True)
    return any(
        abs(a.length_mm - b.length_mm) > _SAME_MM or math.dist(a.start, b.start) > _SAME_MM
        for a, b in pairs
    )


def _parted(
    whole: Made, sided: Mapping[str, Made], pairs: set[str], opened: Mapping[str, Piece]
) -> Made:
    """Take pairs and opened pieces from each side's own build, everything else from the mean."""
    pieces: list[Piece] = []
    names: dict[str, tuple[str, ...]] = {}
    for piece in whole.pieces:
        parts = [opened.get(piece.name, piece)]
        if piece.name in pairs:
            parts = [_of_side(piece_named(sided[s].pieces, piece.name), s) for s in SIDES]
        pieces += parts
        names[piece.name] = tuple(part.name for part in parts)
    mates = []
    for mate in whole.mates:
        made = renamed_mates(mate, names, set(opened))
        for new in made:
            side = next((s for s in SIDES if f", {s}" in " ".join((*new.first, *new.second))), "")
            twin = [
                m for m in (sided[side].mates if side else ())
                if (m.first, m.second) == (mate.first, mate.second)
            ]  # fmt: skip
            mates.append(replace(twin[0] if twin else new, first=new.first, second=new.second))
    smooths = [
        smooth
        for side in SIDES
        for smooth in renamed_smooths(sided[side].smooths, pieces)
        if not pairs or f", {side}" in " ".join((*smooth.first, *smooth.second))
    ]
    smooths += [s for s in whole.smooths if not {s.first[0], s.second[0]} & (pairs | set(opened))]
    why = (
        *whole.reasons,
        reason("left and right were measured apart, so each side is its own piece"),
    )
    return Made(tuple(pieces), tuple(mates), tuple(dict.fromkeys(smooths)), whole.values, why)


def _of_side(piece: Piece, side: str) -> Piece:
    note = piece.note if side == "right" or not piece.mirrored else "cut wrong side up"
    return replace(
        piece, name=f"{piece.name}, {side}", copies=piece.copies // 2, mirrored=False, note=note
    )


def _differences(
    numbers: Values, values: Mapping[str, Values], *, girths: bool, level: bool
) -> list[Alteration]:
    """Return what the left must get and the right must lose against the mean of both."""
    found = []
    for name, place, seam, share, wanted in (
        ("waist", "waist", "side", 4.0, girths), ("hip", "hip", "side", 4.0, girths),
        ("length", "hem", "", 2.0, level),
    ):  # fmt: skip
        if not wanted or name not in numbers:
            continue
        more = (values["left"][name] - values["right"][name]) / share
        if abs(more) < _TELLING_MM:
            continue
        told = f"{abs(more):.0f} mm {{}} at the {{}} {name}"
        for side, amount in (("left", more), ("right", -more)):
            said = told.format("more" if amount > 0.0 else "less", side)
            found.append(Alteration(amount, place, seam, side, said))
    return found


def _altered(made: Made, said: Sequence[Alteration]) -> Made:
    """Put the difference of both sides into panels around; where that cannot be, say so."""
    if not said:
        return made
    try:
        fitted = apply_alterations(made.pieces, said, made.mates, None, made.smooths)
    except SamiteError as error:
        told = f"left and right are cut alike, by the mean of both: {error.message}"
        return replace(made, reasons=(*made.reasons, reason(told)))
    told = "; ".join(one.said for one in said)
    return replace(
        made, pieces=fitted.after, mates=fitted.mates, smooths=fitted.smooths,
        reasons=(*made.reasons, reason(f"against the mean of both sides: {told}")),
    )  # fmt: skip
