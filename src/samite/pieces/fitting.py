"""What was pinned on the person, put back into the pieces."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from samite.pieces.cap import CAPS, with_cap
from samite.pieces.edge import Edge
from samite.pieces.edge_moves import with_edges_moved
from samite.pieces.fitting_gathers import gathers_changed, refusal
from samite.pieces.fitting_panels import share_around
from samite.pieces.fitting_parts import part_followers, part_pieces, renamed_smooths
from samite.pieces.fitting_places import WHOLE, edges_at, pinned_weight
from samite.pieces.fitting_words import GIRTH, Alteration
from samite.pieces.follow import SMALL, Followed, follow, lengths_of
from samite.pieces.outline import Piece
from samite.pieces.true_up import true_up
from samite.pieces.walk import Mate, Smooth

_CAP = "cap"
_JOINED_MM = 1e-6
_LOOKS = 16


@dataclass(frozen=True, slots=True)
class Change:
    """What an alteration did to one edge.

    Parameters
    ----------
    alteration : Alteration
        The alteration.
    piece : str
        Name of the piece.
    edge : str
        Name of the edge that was moved.
    moved_mm : float
        How far, outwards positive [mm].
    area_change_mm2 : float
        Change of the piece's area [mm2].
    """

    alteration: Alteration
    piece: str
    edge: str
    moved_mm: float
    area_change_mm2: float


@dataclass(frozen=True, slots=True)
class Fitted:
    """Pieces before and after a fitting; nothing is lost.

    Parameters
    ----------
    before : tuple of Piece
        As they were.
    after : tuple of Piece
        As they are now.
    mates : tuple of Mate
        Seams between the pieces as they are now.
    changes : tuple of Change
        What changed.
    earlier : Fitted or None
        The fitting before this one.
    smooths : tuple of Smooth
        Corners that must run smooth, as the pieces are now.
    followed : tuple of Followed
        Edges of mating pieces that followed.
    """

    before: tuple[Piece, ...]
    after: tuple[Piece, ...]
    mates: tuple[Mate, ...]
    changes: tuple[Change, ...]
    earlier: Fitted | None = None
    smooths: tuple[Smooth, ...] = ()
    followed: tuple[Followed, ...] = ()


def apply_alterations(
    pieces: Sequence[Piece],
    alterations: Sequence[Alteration],
    mates: Sequence[Mate] = (),
    earlier: Fitted | None = None,
    smooths: Sequence[Smooth] = (),
) -> Fitted:
    """Put alterations back into pieces, and let the pieces sewn to them follow.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    alterations : sequence of Alteration
        What was pinned.
    mates : sequence of Mate
        Seams; an amount at a seam is shared by its two sides.
    earlier : Fitted or None
        The fitting before.
    smooths : sequence of Smooth
        Corners that must run smooth.

    Returns
    -------
    Fitted
        Before, after, what changed and what followed.

    Raises
    ------
    UnknownNameError
        If no piece has such a place, or no seam there.
    InputError
        If the altered outline is impossible.

    Notes
    -----
    The edge moves along its normals: by the whole amount where it was pinned, fading as a cosine
    to the edge's other end; a hem of which no side is named moves evenly, that of panels all
    around fades as a cosine around the body. Both sides of a seam move by half each, so that they
    stay equal. Pieces of which one side is named are parted into a left and a right one, or
    unfolded; those sewn to them are parted where they must follow differently. Sides are the
    wearer's; pieces lie right side up.

    References
    ----------
    ``common-practice``: alterations are shared between both sides of a seam.
    """
    now, seams, corners = list(pieces), list(mates), list(smooths)
    alterations = [_at_caps(one, pieces) for one in alterations]
    for alteration in alterations:
        parted = part_pieces(now, seams, alteration)
        corners = renamed_smooths(corners, parted[0])
        now, seams = parted
    before = lengths_of(now)
    changes, gathers = _moved_all(now, alterations)
    now, seams, before = part_followers(now, seams, before)
    corners = renamed_smooths(corners, now)
    altered = [(change.piece, change.edge) for change in changes]
    after, walked, followed = follow(now, seams, before, altered)
    after, trued = true_up(after, corners, walked)
    told = (*gathers, *followed, *trued)
    return Fitted(tuple(pieces), after, walked, tuple(changes), earlier, tuple(corners), told)


def _moved_all(
    now: list[Piece], alterations: Sequence[Alteration]
) -> tuple[list[Change], list[Followed]]:
    """Move the edges that alterations mean, in place; return what changed, and gathers that did."""
    changes: list[Change] = []
    gathers: list[Followed] = []
    for alteration in alterations:
        found = _targets(now, alteration)
        if not found:
            told = gathers_changed(now, alteration)
            if not told:
                raise refusal(now, alteration)
            gathers += told
            changes += [Change(alteration, one.piece, one.edge, 0.0, 0.0) for one in told]
            continue
        if alteration.place == _CAP:
            changes += _caps_changed(now, alteration, [index for index, _, _ in found])
            continue
        total = _total(now, alteration, [index for index, _, _ in found])
        for index, chain, how in _chained(found):
            amount = alteration.amount_mm * total if total else _at_seam(chain[0], how, alteration)
            weight = pinned_weight(now[index], chain[0], how, alteration)
            moved = _moved(now[index], chain, weight, amount)
            most = amount * max(weight(k / _LOOKS) for k in range(_LOOKS + 1))
            more = moved.area_mm2 - now[index].area_mm2
            now[index] = moved
            changes += [Change(alteration, moved.name, edge.name, most, more) for edge in chain]
    return changes, gathers


def _moved(
    piece: Piece, chain: Sequence[Edge], weight: Callable[[float], float], amount: float
) -> Piece:
    moved = with_edges_moved(piece, [edge.name for edge in chain], weight, amount)
    for edge in chain:
        moved = _seam_for_fold(moved, edge)
    return moved


def _chained(
    found: Sequence[tuple[int, Edge, str]],
) -> list[tuple[int, tuple[Edge, ...], str]]:
    """Return edges that move alike and follow each other as one line: a waist with its darts."""
    made: list[tuple[int, tuple[Edge, ...], str]] = []
    for index, edge, how in sorted(found, key=lambda one: one[0]):
        if made and how in (WHOLE, "start", "end"):
            last, chain, before = made[-1]
            joined = last == index and math.dist(chain[-1].end, edge.start) < _JOINED_MM
            if joined and before == how and (how == WHOLE or _one_line(chain[-1], edge)):
                made[-1] = (index, (*chain, edge), how)
                continue
        made.append((index, (edge,), how))
    return made


def _one_line(left: Edge, right: Edge) -> bool:
    """Tell whether two edges are parts of one line: a waist with darts, a hem opened at the fold."""
    if left.at_waist and right.at_waist:
        return True
    return left.name.partition(",")[0] == right.name.partition(",")[0] == "hem"


def _seam_for_fold(piece: Piece, edge: Edge) -> Piece:
    """Return a piece whose fold was altered with a seam there: a bent line cannot be folded."""
    if edge.kind != "fold":
        return piece
    edges = tuple(
        replace(one, kind="seam", allowance_mm=None) if one.name == edge.name else one
        for one in piece.edges
    )
    note = f"{edge.name} is a seam now: it was altered and cannot lie on the fold"
    return replace(piece, edges=edges, copies=2 * piece.copies, mirrored=True, note=note)


def _total(now: Sequence[Piece], alteration: Alteration, found: Sequence[int]) -> float:
    """Return the share of each edge where all of them together take the amount; else 0."""
    if alteration.place == GIRTH or (alteration.place == "hip" and not alteration.seam):
        return 1.0 / sum(now[k].copies * (2 if now[k].on_fold else 1) for k in found)
    return 0.0


def _at_seam(edge: Edge, how: str, alteration: Alteration) -> float:
    """Return what one edge takes: half at a seam, all of it at an open side or a band's end."""
    if edge.kind == "opening" and how == WHOLE:
        return alteration.around_mm
    return alteration.amount_mm * (0.5 if alteration.shared and edge.kind != "hem" else 1.0)


def _at_caps(alteration: Alteration, pieces: Sequence[Piece]) -> Alteration:
    """Read an armhole that is not among the pieces as the caps that are sewn into it."""
    edges = [edge.name for piece in pieces for edge in piece.edges]
    elsewhere = any(name.startswith("armhole") for name in edges) or CAPS[0] not in edges
    return (
        alteration
        if alteration.place != "armhole" or elsewhere
        else replace(alteration, place=_CAP)
    )


def _caps_changed(now: list[Piece], alteration: Alteration, found: Sequence[int]) -> list[Change]:
    """Solve caps again to armholes that are longer by an amount, in front, behind or both."""
    changes = []
    for index in dict.fromkeys(found):
        piece = now[index]
        lengths = {name: piece.edge(name).length_mm for name in CAPS}
        parts = [name for name in CAPS if name.startswith(alteration.part or name)]
        whole = sum(lengths[name] for name in parts)
        more = {name: alteration.amount_mm * lengths[name] / whole for name in parts}
        front, back = (lengths[name] + more.get(name, 0.0) for name in CAPS)
        now[index] = with_cap(piece, front_armhole_mm=front, back_armhole_mm=back)
        area = now[index].area_mm2 - piece.area_mm2
        changes += [Change(alteration, piece.name, name, more[name], area) for name in parts]
    return changes


def _targets(pieces: Sequence[Piece], alteration: Alteration) -> list[tuple[int, Edge, str]]:
    """Return piece, edge and how it moves, or which of its ends."""
    other = {"left": ", right", "right": ", left"}.get(alteration.side, "?")
    found = []
    for index, piece in enumerate(pieces):
        if other in piece.name or (alteration.side and piece.name.startswith(other[2:])):
            continue
        for edge, how in edges_at(piece, alteration):
            across = how == WHOLE and alteration.side and alteration.place == "hem"
            if across and _is_half(piece, edge):
                found.append((index, edge, _side_of_whole(piece, alteration.side)))
            elif other not in edge.name:
                found.append((index, edge, _end_meant(piece, edge, how, alteration)))
    return _main_parts(pieces, found, alteration)


def _is_half(piece: Piece, edge: Edge) -> bool:
    """Tell whether a hem is one half of a whole piece's, left or right."""
    base, _, side = edge.name.partition(", ")
    halves = [one for one in piece.edges if one.name.partition(", ")[0] == base]
    return bool(side) and len(halves) > 1


def _side_of_whole(piece: Piece, side: str) -> str:
    """Return the end of a whole hem, run anticlockwise, at the wearer's side."""
    behind = "back" in piece.name
    return "start" if (side == "right") != behind else "end"


def _end_meant(piece: Piece, edge: Edge, how: str, alteration: Alteration) -> str:
    named = f", {alteration.side}" in piece.name + edge.name or piece.name.startswith(
        alteration.side or "?"
    )
    sided = how == WHOLE and alteration.side and edge.kind != "opening" and not named
    if not sided or share_around(piece.name) is not None or edge.level == "hem":
        return how
    return _wearers_end(edge, alteration.side, behind="back" in piece.name)


def _main_parts(
    pieces: Sequence[Piece], found: list[tuple[int, Edge, str]], alteration: Alteration
) -> list[tuple[int, Edge, str]]:
    """Keep the piece that was named; else, where there is a choice, leave out the small parts."""
    if alteration.part:
        named = [one for one in found if alteration.part in pieces[one[0]].name]
        return named or found
    main = [one for one in found if not any(w in pieces[one[0]].name for w in SMALL)]
    return main or found


def _wearers_end(edge: Edge, side: str, *, behind: bool) -> str:
    """Return the end of an edge on the wearer's side, seen from outside."""
    start_is_left = (edge.start[0] > edge.end[0]) != behind
    return "start" if start_is_left == (side == "left") else "end"
