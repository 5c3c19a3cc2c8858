"""Which edges an alteration means, and pieces parted where only one side is altered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from samite.pieces.derive import unfolded
from samite.pieces.fitting_words import Alteration
from samite.pieces.outline import Edge, Piece
from samite.pieces.walk import Mate

_SEAM_WORDS = {
    "centre-back": ("back", "centre"),
    "centre-front": ("front", "centre"),
    "side": ("side",),
}


def edges_at(piece: Piece, alteration: Alteration) -> list[tuple[Edge, str]]:
    """Return the edges that an alteration moves, and which end.

    Parameters
    ----------
    piece : Piece
        The piece.
    alteration : Alteration
        What was pinned.

    Returns
    -------
    list of (Edge, str)
        Edge, and ``start``, ``end`` or ``both``.
    """
    place = alteration.place
    if place in ("waist", "hip") and (alteration.seam or place == "hip"):
        return _seams_at_waist(piece, alteration.seam)
    found = []
    for edge in piece.edges:
        base = edge.name.partition(",")[0]
        if place in (base, edge.kind) or (place != "centre" and place in base):
            outer = "end" if edge.start[0] ** 2 < edge.end[0] ** 2 else "start"
            found.append((edge, outer if place == "shoulder" else "both"))
    return found


def _seams_at_waist(piece: Piece, seam: str) -> list[tuple[Edge, str]]:
    """Return the edges that end at the waist and belong to a seam."""
    count = len(piece.edges)
    found = []
    for i, edge in enumerate(piece.edges):
        before, after = piece.edges[i - 1], piece.edges[(i + 1) % count]
        if edge.kind == "waist" or "waist" not in (before.kind, after.kind):
            continue
        end = "end" if after.kind == "waist" else "start"
        if not seam or _belongs(piece, edge.name, seam):
            found.append((edge, end))
    return found


def _belongs(piece: Piece, edge: str, seam: str) -> bool:
    centre = seam.replace("-", " ")
    if centre in piece.name:  # a panel parted off beside that seam
        return edge == ("right" if piece.name.startswith("left of") else "left")
    if edge in ("left", "right"):
        return seam == "centre-back" and piece.copies == 1 and "of centre" not in piece.name
    called = f"{piece.name} {edge}"
    if seam == "side":
        return "side" in edge
    words = _SEAM_WORDS[seam]
    return words[0] in called and ("centre" in edge or "crotch" in edge)


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
    made: list[Piece] = []
    names: dict[str, tuple[str, ...]] = {}
    sides: set[str] = set()
    for piece in pieces:
        parts = _parts(piece, alteration)
        made += parts
        names[piece.name] = tuple(part.name for part in parts)
        if piece.on_fold and not parts[0].on_fold:
            sides.add(piece.name)
    return made, [new for mate in mates for new in _renamed(mate, names, sides)]


def _parts(piece: Piece, alteration: Alteration) -> list[Piece]:
    centred = alteration.seam in ("centre-back", "centre-front")
    if centred and piece.copies > 1 and {"left", "right"} <= {e.name for e in piece.edges}:
        return _beside_centre(piece, alteration.seam.replace("-", " "))
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


def _beside_centre(piece: Piece, centre: str) -> list[Piece]:
    """Part off the two panels beside a centre seam."""
    if "of centre" in piece.name:
        return [piece]
    two = [
        replace(piece, name=f"{side} of {centre}, {piece.name}", copies=1, mirrored=False)
        for side in ("left", "right")
    ]
    rest = [replace(piece, copies=piece.copies - 2)] if piece.copies > 2 else []
    return [*rest, *two]


def _opened(piece: Piece) -> Piece:
    """Unfold a piece and name its edges by the wearer's sides, right side up."""
    drawn, other = ("right", "left") if "back" in piece.name else ("left", "right")
    whole = unfolded(piece)
    edges = []
    for edge in whole.edges:
        base = edge.name.removesuffix(" (mirrored)")
        edges.append(replace(edge, name=f"{base}, {drawn if base == edge.name else other}"))
    notches = tuple(replace(n, edge=f"{n.edge}, {drawn}") for n in whole.notches)
    return replace(whole, edges=tuple(edges), notches=notches)


def _renamed(mate: Mate, names: dict[str, tuple[str, ...]], opened: set[str]) -> list[Mate]:
    """Return the seams that a seam becomes when its pieces are parted."""
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
