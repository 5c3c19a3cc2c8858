"""Left and right of a body that is uneven: each half its own pieces, right side up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from samite.garment.body import SIDES
from samite.kernel.reasons import Reason
from samite.pieces.edge import Edge
from samite.pieces.fitted.centres import centres_agreed
from samite.pieces.outline import Piece
from samite.pieces.plane import Move
from samite.pieces.shape import Made, reason
from samite.pieces.walk import Mate

TOLD_MM = 0.25
"""What a half gives at its centre that is worth a reason [mm]."""


def both_halves(sided: Mapping[str, Made]) -> Made:
    """Return the pieces of both halves of an uneven body.

    Parameters
    ----------
    sided : mapping of str to Made
        The garment built for the left and for the right half.

    Returns
    -------
    Made
        Every piece once, named by its side, right side up; the values and the report of the half
        that asks more of the cloth.

    Notes
    -----
    Pieces are computed as the wearer's left half seen from outside; those of the right half are their
    mirror images. A centre that lay on the fold becomes a seam, for its halves differ.
    """
    sided, trued = _agreed(sided)
    pieces: list[Piece] = []
    mates: list[Mate] = []
    for side in SIDES:
        made = sided[side]
        pieces += [_own(piece, side) for piece in made.pieces]
        mates += [_renamed(mate, side) for mate in made.mates]
    mates += _centres(sided)
    worst = max(sided.values(), key=_use)
    why = (
        *worst.reasons,
        reason(
            "both halves were measured apart, so each is its own set of pieces with a centre seam"
        ),
        *trued,
    )
    return replace(worst, pieces=tuple(pieces), mates=tuple(mates), smooths=(), reasons=why)


def _agreed(sided: Mapping[str, Made]) -> tuple[Mapping[str, Made], tuple[Reason, ...]]:
    """Return both halves with centres of equal length, and what that took."""
    left, right = (list(sided[side].pieces) for side in ("left", "right"))
    told: list[Reason] = []
    for k, piece in enumerate(left):
        for centre in [edge.name for edge in piece.edges if _is_centre(edge)]:
            at = next((i for i, other in enumerate(right) if other.name == piece.name), None)
            if at is None:
                continue
            left[k], right[at], gave = centres_agreed(left[k], right[at], centre)
            if gave >= TOLD_MM:
                told.append(
                    reason(
                        f"{piece.name} {centre}: the halves differed by {2.0 * gave:.1f} mm; each gives"
                        f" {gave:.1f} mm of it, run out along the line that meets the centre"
                    )
                )
    made = {"left": tuple(left), "right": tuple(right)}
    return {side: replace(one, pieces=made[side]) for side, one in sided.items()}, tuple(told)


def _use(made: Made) -> float:
    if made.fit is None or not made.fit.regions:
        return 0.0
    return max(made.fit.limits.use(region) for region in made.fit.regions)


def _own(piece: Piece, side: str) -> Piece:
    """Return a piece of one half: the right one mirrored, folds made seams."""
    edges = tuple(replace(e, kind="seam") if e.kind == "fold" else e for e in piece.edges)
    half = replace(
        piece, edges=edges, name=f"{piece.name}, {side}", mirrored=False, note=f"the wearer's {side}",
        copies=1,
    )  # fmt: skip
    return half.moved(Move(mirror=True)) if side == "right" else half


def _renamed(mate: Mate, side: str) -> Mate:
    return replace(
        mate, first=(f"{mate.first[0]}, {side}", mate.first[1]),
        second=(f"{mate.second[0]}, {side}", mate.second[1]),
    )  # fmt: skip


def _centres(sided: Mapping[str, Made]) -> list[Mate]:
    """Return the seams between both halves; what the halves differ by is eased in."""
    found = []
    left, right = sided["left"], sided["right"]
    for piece in left.pieces:
        twin = next((p for p in right.pieces if p.name == piece.name), None)
        for edge in piece.edges:
            if twin is None or not _is_centre(edge):
                continue
            found.append(
                Mate((f"{piece.name}, left", edge.name), (f"{piece.name}, right", edge.name))
            )
    return found


def _is_centre(edge: Edge) -> bool:
    return edge.kind == "fold" or edge.name in ("front crotch", "back crotch")


def differences_mm(mates: Sequence[Mate], pieces: Sequence[Piece]) -> dict[str, float]:
    """Return how much the halves of each centre differ.

    Parameters
    ----------
    mates : sequence of Mate
        Seams.
    pieces : sequence of Piece
        Pieces of both halves.

    Returns
    -------
    dict of str to float
        Right less left, by edge [mm].
    """
    lengths = {(p.name, e.name): e.length_mm for p in pieces for e in p.edges}
    return {
        " ".join(mate.first): lengths[mate.second] - lengths[mate.first]
        for mate in mates
        if mate.first[0].removesuffix(", left") == mate.second[0].removesuffix(", right")
        and mate.first[0] != mate.second[0]
    }
