"""Pieces parted where only one side of the body is altered."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from samite.pieces.derive import unfolded
from samite.pieces.fitting_panels import panels_around
from samite.pieces.fitting_places import edges_at
from samite.pieces.fitting_words import GIRTH, WAIST_EDGE, Alteration
from samite.pieces.follow import SMALL
from samite.pieces.outline import Piece
from samite.pieces.walk import Mate, Place, Smooth, piece_named

PARTED_MM = 1.5
"""How different the two sides of a seam must be before a pair of pieces is parted [mm]."""


def part_pieces(
    pieces: Sequence[Piece], mates: Sequence[Mate], alteration: Alteration
) -> tuple[list[Piece], list[Mate]]:
    """Part or unfold the pieces of which an alteration means only some.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    mates : sequence of Mate
        Their seams.
    alteration : Alteration
        What was pinned.

    Returns
    -------
    tuple of (list of Piece, list of Mate)
        Pieces and seams, renamed where they were parted.
    """
    panels = panels_around(pieces, mates, alteration, lambda piece: _in_ring(piece, alteration))
    if panels is not None:
        return panels
    made: list[Piece] = []
    names: dict[str, tuple[str, ...]] = {}
    sides: set[str] = set()
    for piece in pieces:
        parts = _parts(piece, alteration)
        made += parts
        names[piece.name] = tuple(part.name for part in parts)
        if piece.on_fold and not parts[0].on_fold:
            sides.add(piece.name)
    return made, [new for mate in mates for new in renamed_mates(mate, names, sides)]


def _in_ring(piece: Piece, alteration: Alteration) -> bool:
    """Tell whether an alteration can mean a panel, wherever around the body it lies."""
    anywhere = replace(alteration, seam="", side="")
    if anywhere.place in ("waist", "side", WAIST_EDGE):
        anywhere = replace(anywhere, place=GIRTH)
    small = any(word in piece.name for word in SMALL)
    return bool(edges_at(piece, anywhere)) and not piece.on_fold and not small


def _parts(piece: Piece, alteration: Alteration) -> list[Piece]:
    if not alteration.side or not edges_at(piece, alteration):
        return [piece]
    if piece.on_fold:
        return [_opened(piece)]
    if piece.copies > 1 and ", left" not in piece.name and ", right" not in piece.name:
        half = piece.copies // 2
        left = replace(piece, name=f"{piece.name}, left", copies=half, mirrored=False)
        right = replace(
            piece, name=f"{piece.name}, right", copies=piece.copies - half, mirrored=False
        )
        return [left, right]
    return [piece]


def part_followers(
    pieces: Sequence[Piece], mates: Sequence[Mate], before: dict[Place, float]
) -> tuple[list[Piece], list[Mate], dict[Place, float]]:
    """Part the pieces whose left and right copies must follow differently.

    Parameters
    ----------
    pieces : sequence of Piece
        Pieces after an alteration.
    mates : sequence of Mate
        Their seams.
    before : dict of (str, str) to float
        Length of every edge before it [mm].

    Returns
    -------
    tuple of (list of Piece, list of Mate, dict of (str, str) to float)
        Pieces, seams, and the lengths before by the new names.
    """
    uneven = {p.name for p in pieces if _must_part(p, pieces, mates, before)}
    if not uneven:
        return list(pieces), list(mates), before
    made, names = [], {}
    for piece in pieces:
        parts = [piece]
        if piece.name in uneven:
            parts = [
                replace(piece, name=f"{piece.name}, {side}", copies=piece.copies // 2,
                        mirrored=False,
                        note="cut wrong side up" if piece.mirrored and side == "left" else piece.note)
                for side in ("left", "right")
            ]  # fmt: skip
        made += parts
        names[piece.name] = tuple(part.name for part in parts)
    seams = [new for mate in mates for new in _sided(mate, uneven)]
    lengths = {(n, e): mm for (p, e), mm in before.items() for n in names[p]}
    return made, seams, lengths


def _must_part(
    piece: Piece, pieces: Sequence[Piece], mates: Sequence[Mate], before: dict[Place, float]
) -> bool:
    """Tell whether the two sides that a piece is sewn to were altered differently."""
    if piece.copies < 2 or piece.copies % 2 or _side_of(piece.name):
        return False
    moved: dict[str, set[float]] = {"left": set(), "right": set()}
    for mate in mates:
        places = (mate.first, mate.second)
        if piece.name not in (mate.first[0], mate.second[0]) or mate.first[0] == mate.second[0]:
            continue
        other = places[1] if places[0][0] == piece.name else places[0]
        side = _side_of(" ".join(other))
        if side:
            now = piece_named(pieces, other[0]).edge(other[1]).length_mm
            moved[side].add(round(now - before[other], 3))
    if not (moved["left"] or moved["right"]):
        return False
    spread = [{*(moved[side] or {0.0})} for side in ("left", "right")]
    apart = max(abs(max(spread[0]) - max(spread[1])), abs(min(spread[0]) - min(spread[1])))
    return apart > PARTED_MM


def _side_of(name: str) -> str:
    return next((side for side in ("left", "right") if f", {side}" in name), "")


def _sided(mate: Mate, parted: set[str]) -> list[Mate]:
    """Return the seams that a seam becomes when pieces are parted by sides."""
    if not parted & {mate.first[0], mate.second[0]}:
        return [mate]
    known = _side_of(" ".join((*mate.first, *mate.second)))
    made = []
    for side in (known,) if known else ("left", "right"):
        ends = [(f"{p}, {side}" if p in parted else p, e) for p, e in (mate.first, mate.second)]
        made.append(replace(mate, first=ends[0], second=ends[1]))
    return made


def renamed_smooths(smooths: Sequence[Smooth], after: Sequence[Piece]) -> list[Smooth]:
    """Return the corners that must run smooth, by the names of pieces that were parted.

    Parameters
    ----------
    smooths : sequence of Smooth
        The corners.
    after : sequence of Piece
        The pieces after parting.

    Returns
    -------
    list of Smooth
        One for each pair of parts of one side, or of panels beside each other; those of edges that
        are gone are dropped.
    """
    made: list[Smooth] = []
    for smooth in smooths:
        for side in ("", "left", "right"):
            ends = [_corner(end, side, after) for end in (smooth.first, smooth.second)]
            made += [Smooth(one, two) for one in ends[:1] for two in ends[1:] if one and two]
        made += _between_panels(smooth, after)
    return list(dict.fromkeys(made))


Corner = tuple[str, str, str]


def _corner(end: Corner, side: str, after: Sequence[Piece]) -> Corner | None:
    """Return a corner by the names of one side, its edges in the order in which they meet now."""
    for piece in after:
        if piece.name not in (end[0], f"{end[0]}, {side}"):
            continue
        order = [edge.name for edge in piece.edges]
        names = [next((n for n in (f"{e}, {side}", e) if n in order), "") for e in end[1:]]
        for a, b in (names, names[::-1]):
            if a and b and order[(order.index(a) + 1) % len(order)] == b:
                return piece.name, a, b
    return None


def _between_panels(smooth: Smooth, after: Sequence[Piece]) -> list[Smooth]:
    """Return the corners between panels that were numbered around the body."""
    names = {piece.name for piece in after}
    made = []
    for name in names:
        found = re.fullmatch(rf"{re.escape(smooth.first[0])} (\d+) of (\d+)(.*)", name)
        if found:
            number, many = int(found[1]), int(found[2])
            beside = f"{smooth.second[0]} {number % many + 1} of {many}{found[3]}"
            if beside in names:
                made.append(Smooth((name, *smooth.first[1:]), (beside, *smooth.second[1:])))
    return made


def _opened(piece: Piece) -> Piece:
    """Unfold a piece and name its edges by the wearer's sides, right side up."""
    drawn, other = ("right", "left") if "back" in piece.name else ("left", "right")
    return sided_edges(unfolded(piece), drawn, other)


def sided_edges(whole: Piece, drawn: str, other: str) -> Piece:
    """Return an unfolded piece with its edges named by the wearer's sides.

    Parameters
    ----------
    whole : Piece
        The piece, from `unfolded`.
    drawn : str
        Side of the half that was drawn.
    other : str
        Side of its mirror image.

    Returns
    -------
    Piece
        Renamed.
    """
    edges = []
    for edge in whole.edges:
        base = edge.name.removesuffix(" (mirrored)")
        edges.append(replace(edge, name=f"{base}, {drawn if base == edge.name else other}"))
    notches = tuple(replace(n, edge=f"{n.edge}, {drawn}") for n in whole.notches)
    return replace(whole, edges=tuple(edges), notches=notches)


def renamed_mates(mate: Mate, names: Mapping[str, tuple[str, ...]], opened: set[str]) -> list[Mate]:
    """Return the seams that a seam becomes when its pieces are parted.

    Parameters
    ----------
    mate : Mate
        The seam.
    names : mapping of str to tuple of str
        What every piece is called now.
    opened : set of str
        Pieces that were unfolded.

    Returns
    -------
    list of Mate
        One for each side.
    """
    first, second = names[mate.first[0]], names[mate.second[0]]
    if (
        first == (mate.first[0],)
        and second == (mate.second[0],)
        and not opened & set(first + second)
    ):
        return [mate]
    made = []
    told = " ".join((*mate.first, *mate.second))
    known = [side for side in ("left", "right") if f", {side}" in told]
    for side in known or ("left", "right"):
        pair = []
        for (piece, edge), found in ((mate.first, first), (mate.second, second)):
            part = next(
                (n for n in found if n.endswith(f", {side}") or n.startswith(side)), found[0]
            )
            sided = piece in opened and ", " not in edge
            pair.append((part, f"{edge}, {side}" if sided else edge))
        made.append(replace(mate, first=pair[0], second=pair[1]))
    return made
