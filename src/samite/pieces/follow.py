"""Mating pieces follow an alteration, so that what is sewn together is equally long again."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from samite.kernel.errors import SamiteError
from samite.pieces.cap import CAPS, with_cap
from samite.pieces.outline import Piece
from samite.pieces.settle import Freedom, settle
from samite.pieces.walk import Mate, Place, Walked, piece_named, walk

SMALL = ("sleeve", "hood", "cuff", "frill", "collar", "band", "facing", "gusset", "trumpet")
"""Words of pieces that follow where both sides of a seam were altered."""

_SEEN_MM = 0.02
_CHANGED_MM = 0.1
_NUDGED_MM = 8.0
"""How far corners of altered edges may still move where both sides of a seam were altered [mm]."""

_OWN, _OTHER = 0.02, 0.2


@dataclass(frozen=True, slots=True)
class Followed:
    """How one edge followed an alteration.

    Parameters
    ----------
    piece : str
        Name of the piece.
    edge : str
        Name of the edge.
    before_mm : float
        Its length before [mm].
    after_mm : float
        Its length now [mm].
    how : str
        What was done, a few words.
    """

    piece: str
    edge: str
    before_mm: float
    after_mm: float
    how: str


def lengths_of(pieces: Sequence[Piece]) -> dict[Place, float]:
    """Return the length of every edge.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.

    Returns
    -------
    dict of (str, str) to float
        Length by piece and edge [mm].

    Notes
    -----
    Exact lengths of the curves.

    References
    ----------
    ``definition``: length of an edge.
    """
    return {(p.name, e.name): e.length_mm for p in pieces for e in p.edges}


def follow(
    pieces: Sequence[Piece],
    mates: Sequence[Mate],
    before: Mapping[Place, float],
    altered: Sequence[Place],
) -> tuple[tuple[Piece, ...], tuple[Mate, ...], tuple[Followed, ...]]:
    """Let mating pieces follow what was altered.

    Parameters
    ----------
    pieces : sequence of Piece
        Pieces after an alteration.
    mates : sequence of Mate
        Their seams.
    before : mapping of (str, str) to float
        Length of every edge before it, from `lengths_of` [mm].
    altered : sequence of (str, str)
        Edges that were altered; they stay as they are now.

    Returns
    -------
    tuple of (tuple of Piece, tuple of Mate, tuple of Followed)
        Pieces and seams now, and what followed.

    Notes
    -----
    First a set-in cap is solved again to its armholes, and of a gathered edge the gathers change;
    then the corners of all pieces but the altered ones move by as little as makes all seams equal,
    those of small parts first. What cannot follow stays and is left to the walk to report, so
    nothing is hidden.

    References
    ----------
    ``common-practice``: a sleeve is fitted to the armhole as it was altered, not the other way.
    """
    meant = [
        mate.times[1] * before[mate.second] - mate.times[0] * before[mate.first] for mate in mates
    ]
    now, caps = _with_caps(pieces, mates, meant)
    seams, wanted, gathers = _with_gathers(now, mates, meant, before)
    if any(abs(w.second_mm - w.first_mm - d) > _SEEN_MM for w, d in _walked(now, seams, wanted)):
        own = {piece for piece, _ in altered}
        willing = {p.name: 1.0 if any(word in p.name for word in SMALL) else _OTHER for p in now}
        willing |= {name: min(willing[name], _OWN) for name in own}
        now = settle(now, seams, wanted, Freedom(frozenset(altered), willing))
        if (
            max(abs(w.second_mm - w.first_mm - d) for w, d in _walked(now, seams, wanted))
            > _SEEN_MM
        ):
            near = settle(now, seams, wanted, Freedom(frozenset(), willing))
            now = near if _farthest_mm(now, near) <= _NUDGED_MM else now
    told = (*caps, *gathers)
    return now, seams, (*told, *_turned(now, mates, before, altered, _places(told)))


def _farthest_mm(before: Sequence[Piece], after: Sequence[Piece]) -> float:
    """Return how far the corner that moved most moved."""
    pairs = [
        (a.start, b.start)
        for old, new in zip(before, after, strict=True)
        for a, b in zip(old.edges, new.edges, strict=True)
    ]
    return max((math.dist(*pair) for pair in pairs), default=0.0)


def _walked(
    pieces: Sequence[Piece], mates: Sequence[Mate], wanted: Sequence[float]
) -> list[tuple[Walked, float]]:
    return list(zip(walk(pieces, mates), wanted, strict=True))


def _places(told: Sequence[Followed]) -> set[Place]:
    return {(one.piece, one.edge) for one in told}


def _with_caps(
    pieces: Sequence[Piece], mates: Sequence[Mate], meant: Sequence[float]
) -> tuple[tuple[Piece, ...], list[Followed]]:
    """Solve the curved caps of sleeves again to armholes that changed."""
    made, told = list(pieces), []
    for at, piece in enumerate(pieces):
        if not _has_curved_cap(piece):
            continue
        old = {name: piece.edge(name).length_mm for name in CAPS}
        caps = dict(old)
        for mate, more in zip(mates, meant, strict=True):
            if mate.second[0] == piece.name and mate.second[1] in CAPS:
                first = piece_named(pieces, mate.first[0]).edge(mate.first[1]).length_mm
                caps[mate.second[1]] = mate.times[0] * first + more
        if all(abs(caps[name] - old[name]) < _SEEN_MM for name in CAPS):
            continue
        try:
            made[at] = with_cap(
                piece, front_armhole_mm=caps[CAPS[0]], back_armhole_mm=caps[CAPS[1]]
            )
        except SamiteError:
            continue
        told += [
            Followed(piece.name, name, old[name], caps[name], "cap solved again to its armholes")
            for name in CAPS
        ]
    return tuple(made), told


def _has_curved_cap(piece: Piece) -> bool:
    names = {edge.name for edge in piece.edges}
    return names.issuperset(CAPS) and all(len(piece.edge(n).flat(0.5)) > 2 for n in CAPS)


def _with_gathers(
    pieces: Sequence[Piece],
    mates: Sequence[Mate],
    meant: Sequence[float],
    before: Mapping[Place, float],
) -> tuple[tuple[Mate, ...], list[float], list[Followed]]:
    """Let gathered edges stay as they are and their gathers change."""
    seams, wanted, told = list(mates), list(meant), []
    for at, (mate, walked) in enumerate(zip(mates, walk(pieces, mates), strict=True)):
        edge = piece_named(pieces, mate.second[0]).edge(mate.second[1])
        now = walked.second_mm - walked.first_mm
        if edge.kind != "gathered" or now < 0.0 or abs(now - meant[at]) < _SEEN_MM:
            continue
        seams[at], wanted[at] = replace(mate, ease_mm=now), now
        how = f"gathered by {now:.0f} instead of {meant[at]:.0f} mm"
        told.append(Followed(*mate.second, before[mate.second], edge.length_mm, how))
    return tuple(seams), wanted, told


def _turned(
    pieces: Sequence[Piece],
    mates: Sequence[Mate],
    before: Mapping[Place, float],
    altered: Sequence[Place],
    known: set[Place],
) -> list[Followed]:
    """Tell which sewn edges have another length than before."""
    now, own = lengths_of(pieces), {piece for piece, _ in altered}
    sewn = dict.fromkeys(place for mate in mates for place in (mate.first, mate.second))
    return [
        Followed(
            *place, before[place], now[place],
            "changed with its piece" if place[0] in own else "given the length of its seam",
        )
        for place in sewn
        if place not in known | {*altered} and abs(now[place] - before[place]) > _CHANGED_MM
    ]  # fmt: skip
