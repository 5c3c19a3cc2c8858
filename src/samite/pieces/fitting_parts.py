"""Which edges an alteration means, and pieces parted where only one side is altered."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from samite.pieces.derive import unfolded
from samite.pieces.fitting_words import GIRTH, Alteration
from samite.pieces.follow import SMALL
from samite.pieces.outline import Edge, Piece
from samite.pieces.walk import Mate, Place, Smooth, piece_named

PARTED_MM = 1.5
"""How different the two sides of a seam must be before a pair of pieces is parted [mm]."""

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
    if place == GIRTH:
        return _seams_at_waist(piece, "")
    if place in ("waist", "hip") and (alteration.seam or place == "hip"):
        return _seams_at_waist(piece, alteration.seam)
    found = []
    for edge in piece.edges:
        base = edge.name.partition(",")[0]
        if place == "hem" and edge.kind == "seam":  # sewn to the next part, not the wearer's hem
            continue
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
    panels = _panels_around(pieces, mates, alteration)
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


def _panels_around(
    pieces: Sequence[Piece], mates: Sequence[Mate], alteration: Alteration
) -> tuple[list[Piece], list[Mate]] | None:
    """Part equal panels all around the body into single ones, each at its place around it."""
    if not alteration.side or alteration.place != "hem" or alteration.part:
        return None
    rings = {
        m.first[0] for m in mates
        if m.first[0] == m.second[0] and {m.first[1], m.second[1]} == {"left", "right"}
    }  # fmt: skip
    rings &= {p.name for p in pieces if edges_at(p, alteration) and not p.on_fold}
    rings = {name for name in rings if not any(word in name for word in SMALL)}
    if not rings or any(share_around(name) for name in rings):
        return None if not rings else (list(pieces), list(mates))
    made: list[Piece] = []
    for piece in pieces:
        many = piece.copies if piece.name in rings else 0
        names = [f"{piece.name} {k} of {many}" for k in range(1, many + 1)]
        made += [replace(piece, name=name, copies=1, mirrored=False) for name in names] or [piece]
    return made, [new for mate in mates for new in _around(mate, pieces, rings)]


def _around(mate: Mate, pieces: Sequence[Piece], rings: set[str]) -> list[Mate]:
    """Return the seams that a seam becomes when panels around are parted."""
    if not rings & {mate.first[0], mate.second[0]}:
        return [mate]
    ring = mate.first[0] if mate.first[0] in rings else mate.second[0]
    many = piece_named(pieces, ring).copies
    if mate.first[0] == mate.second[0]:
        return [
            replace(
                mate,
                first=(f"{ring} {k} of {many}", mate.first[1]),
                second=(f"{ring} {k % many + 1} of {many}", mate.second[1]),
            )
            for k in range(1, many + 1)
        ]
    one = f"{ring} 1 of {many}"
    first, second = ((one if p == ring else p, e) for p, e in (mate.first, mate.second))
    return [replace(mate, first=first, second=second)]


def share_around(name: str) -> tuple[float, float] | None:
    """Return where a panel begins and ends around the body, from the wearer's right over the front.

    Parameters
    ----------
    name : str
        Name of the piece, ``panel 2 of 4``.

    Returns
    -------
    tuple of (float, float) or None
        Shares of the whole way round; None if it is no panel of several around. An even number of
        panels has a seam at each side, an odd one at the centre back.
    """
    found = re.search(r" (\d+) of (\d+)$", name)
    if not found:
        return None
    number, many = int(found[1]), int(found[2])
    start = (number - 1) / many + (0.0 if many % 2 == 0 else 0.75)
    return start, start + 1.0 / many


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


def renamed_smooths(
    smooths: Sequence[Smooth], before: Sequence[Piece], after: Sequence[Piece]
) -> list[Smooth]:
    """Return the corners that must run smooth, by the names of pieces that were parted.

    Parameters
    ----------
    smooths : sequence of Smooth
        The corners.
    before : sequence of Piece
        Pieces that they name.
    after : sequence of Piece
        The same after parting.

    Returns
    -------
    list of Smooth
        One for each pair of parts of one side; those of edges that are gone are dropped.
    """
    left = {piece.name: {edge.name for edge in piece.edges} for piece in after}
    gone = {piece.name for piece in before} - set(left)
    made: list[Smooth] = []
    for smooth in smooths:
        ends = [smooth.first, smooth.second]
        if not gone & {smooth.first[0], smooth.second[0]}:
            made += [smooth] * all({a, b} <= left[p] for p, a, b in ends)
            continue
        for side in (", left", ", right"):
            ends = [
                (p + side if p in gone else p, a, b) for p, a, b in (smooth.first, smooth.second)
            ]
            if all(p in left and {a, b} <= left[p] for p, a, b in ends):
                made.append(Smooth(*ends))
    return made


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
