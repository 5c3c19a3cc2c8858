"""What a fitting does to the seams, to the cloth that is taken and to what is bought."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.kernel.errors import InfeasibleError
from samite.pieces.derive import unfolded
from samite.pieces.finish import Finish, FinishedPiece, finish
from samite.pieces.fitting import Fitted
from samite.pieces.outline import Piece
from samite.pieces.walk import Mate, walk
from samite.services.metres import laid_length_mm

SEEN_MM = 0.1
"""Change of a seam that is told [mm]."""


@dataclass(frozen=True, slots=True)
class SeamEffect:
    """A seam that became longer or shorter.

    Parameters
    ----------
    first : tuple of (str, str)
        Piece and edge of one side.
    second : tuple of (str, str)
        Of the other.
    before_mm : float
        Its length before; that of its first side [mm].
    after_mm : float
        Its length now [mm].
    """

    first: tuple[str, str]
    second: tuple[str, str]
    before_mm: float
    after_mm: float


@dataclass(frozen=True, slots=True)
class Effect:
    """What one fitting did.

    Parameters
    ----------
    seams : tuple of SeamEffect
        Seams whose length changed.
    area_before_mm2 : float
        Area inside the cut lines of all copies before [mm2].
    area_after_mm2 : float
        The same now [mm2].
    laid_before_mm : float or None
        Length of cloth that a quick lay took before; None where it does not fit the width [mm].
    laid_after_mm : float or None
        The same now [mm].
    width_mm : float
        Width of that cloth [mm].
    """

    seams: tuple[SeamEffect, ...]
    area_before_mm2: float
    area_after_mm2: float
    laid_before_mm: float | None
    laid_after_mm: float | None
    width_mm: float

    def told(self) -> str:
        """Return what it means for seams, lay and buying, in one sentence.

        Returns
        -------
        str
            For example ``2 seams change; 84 cm2 less cloth; the lay stays at 2.1 m``.
        """
        count = len(self.seams)
        seams = f"{count or 'no'} seam{'s' * (count != 1)} change{'s' * (count == 1)}"
        area = (self.area_after_mm2 - self.area_before_mm2) / 100.0
        cloth = f"{abs(area):.0f} cm2 {'more' if area > 0 else 'less'} cloth inside the cut lines"
        return f"{seams}; {cloth}; {self._lay()} on {self.width_mm / 10:g} cm"

    def _lay(self) -> str:
        before, after = self.laid_before_mm, self.laid_after_mm
        if before is None or after is None:
            return "a piece is wider than the cloth"
        more = after - before
        if abs(more) < 1.0:
            return f"a quick lay stays at {after / 1000:.2f} m, so buy no more"
        way = "more" if more > 0 else "less"
        return (
            f"a quick lay takes {after / 1000:.2f} instead of {before / 1000:.2f} m,"
            f" {abs(more) / 10:.0f} cm {way}"
        )


def effects_of(
    fittings: Sequence[Fitted], mates: Sequence[Mate], how: Finish, width_mm: float
) -> tuple[Effect, ...]:
    """Return what each fitting did to seams, cloth and lay.

    Parameters
    ----------
    fittings : sequence of Fitted
        Fittings, oldest first.
    mates : sequence of Mate
        Seams before the first.
    how : Finish
        How the pieces are finished.
    width_mm : float
        Width of the cloth [mm].

    Returns
    -------
    tuple of Effect
        One a fitting.

    Notes
    -----
    The quick lay is a heuristic: where it would take less cloth for a larger area, or more for a
    smaller one, the lay before is scaled by the areas instead.
    """
    found = []
    before: Sequence[Mate] = mates
    cut = _cut(fittings[0].before, how) if fittings else ((), 0.0)
    laid = _laid(cut[0], how, width_mm) if fittings else None
    for fitted in fittings:
        cut_after = _cut(fitted.after, how)
        laid_after = _steadied(
            laid, _laid(cut_after[0], how, width_mm), cut_after[1] / max(cut[1], 1.0)
        )
        seams = _seams(fitted, before)
        found.append(Effect(seams, cut[1], cut_after[1], laid, laid_after, width_mm))
        cut, laid, before = cut_after, laid_after, fitted.mates
    return tuple(found)


def _cut(pieces: Sequence[Piece], how: Finish) -> tuple[tuple[FinishedPiece, ...], float]:
    made = finish([unfolded(piece) for piece in pieces], how, check=False)
    return made, sum(one.piece.copies * one.cut.area_mm2 for one in made)


def _laid(made: Sequence[FinishedPiece], how: Finish, width_mm: float) -> float | None:
    try:
        return laid_length_mm(made, width_mm, one_way=how.one_way)
    except InfeasibleError:
        return None


def _steadied(before: float | None, after: float | None, ratio: float) -> float | None:
    """Return the lay after a fitting; by the ratio of areas where the quick lay goes the other way."""
    if before is None or after is None:
        return after
    return after if (after - before) * (ratio - 1.0) >= 0.0 else before * ratio


def _seams(fitted: Fitted, before: Sequence[Mate]) -> tuple[SeamEffect, ...]:
    """Return the seams whose first side changed; parted pieces are compared with what they were."""
    was = {(w.mate.first, w.mate.second): w.first_mm for w in walk(fitted.before, before)}
    found = []
    for now in walk(fitted.after, fitted.mates):
        key = (_base(now.mate.first), _base(now.mate.second))
        old = was.get((now.mate.first, now.mate.second), was.get(key))
        if old is not None and abs(now.first_mm - old) > SEEN_MM:
            found.append(SeamEffect(now.mate.first, now.mate.second, old, now.first_mm))
    return tuple(found)


def _base(place: tuple[str, str]) -> tuple[str, str]:
    """Return piece and edge without the side or number that parting gave them."""
    piece, edge = place
    for side in (", left", ", right"):
        piece, edge = piece.removesuffix(side), edge.removesuffix(side)
    head, _, many = piece.rpartition(" of ")
    if head and many.isdigit():
        piece = head.rpartition(" ")[0]
    return piece, edge
