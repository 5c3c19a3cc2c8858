"""Equal panels all around the body, each at its place around it once one side is altered."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from samite.kernel.errors import UnknownNameError
from samite.pieces.fitting_words import GIRTH, WAIST_EDGE, Alteration
from samite.pieces.outline import Piece
from samite.pieces.walk import Mate, piece_named

_PLACES = {
    "side": {"right": 0.0, "left": 0.5},
    "centre-front": {"": 0.25},
    "centre-back": {"": 0.75},
}
"""Where seams lie around the body, from the wearer's right over the front."""

_AT = 1e-9
_FROM_CENTRE = ", from the centre back"

Ring = tuple[str, ...]


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
        panels has a seam at each side unless its name says otherwise, an odd one at the centre back.
    """
    found = re.search(rf" (\d+) of (\d+)({_FROM_CENTRE})?$", name)
    if not found:
        return None
    number, many = int(found[1]), int(found[2])
    at_sides = many % 2 == 0 and not found[3]
    start = (number - 1) / many + (0.0 if at_sides else 0.75)
    return start, start + 1.0 / many


def at_places(piece: Piece, seam: str, side: str) -> set[str]:
    """Return the edges of a numbered panel that lie at a seam.

    Parameters
    ----------
    piece : Piece
        The panel.
    seam : str
        ``side``, ``centre-front`` or ``centre-back``.
    side : str
        ``left`` or ``right``; empty for both.

    Returns
    -------
    set of str
        ``left`` where the panel begins there, ``right`` where it ends there.
    """
    around = share_around(piece.name)
    return set() if around is None else _edges_at(around, seam, side)


def _edges_at(around: tuple[float, float], seam: str, side: str) -> set[str]:
    wanted = [at for name, at in _PLACES[seam].items() if not (side and name) or name == side]
    return {
        edge
        for edge, share in zip(("left", "right"), around, strict=True)
        if any(abs((share - at + 0.5) % 1.0 - 0.5) < _AT for at in wanted)
    }


def panels_around(
    pieces: Sequence[Piece],
    mates: Sequence[Mate],
    alteration: Alteration,
    is_meant: Callable[[Piece], bool],
) -> tuple[list[Piece], list[Mate]] | None:
    """Part equal panels all around the body into single ones, each at its place around it.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    mates : sequence of Mate
        Their seams.
    alteration : Alteration
        What was pinned.
    is_meant : callable
        Whether an alteration can mean a piece.

    Returns
    -------
    tuple of (list of Piece, list of Mate) or None
        Panels by number; None where nothing needs parting.

    Raises
    ------
    UnknownNameError
        If the panels have no seam at the side that was named.
    """
    hem = alteration.side and alteration.place == "hem" and not alteration.part
    at_seam = alteration.place in ("waist", "hip", "side", GIRTH, WAIST_EDGE) and bool(
        alteration.seam or alteration.side or alteration.place == "side"
    )
    if not hem and not at_seam:
        return None
    rings = [ring for ring in _rings(mates) if any(is_meant(piece_named(pieces, n)) for n in ring)]
    if not rings:
        return None
    if any(share_around(name) for ring in rings for name in ring):
        return list(pieces), list(mates)
    names: dict[str, list[str]] = {}
    for ring in rings:
        names |= _numbered(pieces, ring, alteration, level=bool(hem))
    made: list[Piece] = []
    for piece in pieces:
        single = names.get(piece.name, [])
        made += [replace(piece, name=n, copies=1, mirrored=False) for n in single] or [piece]
    return made, _sewn(mates, rings, names)


def _rings(mates: Sequence[Mate]) -> list[Ring]:
    """Return the panels that are sewn to each other all around: one name, or a front and a back."""
    joints = [
        (m.first[0], m.second[0]) for m in mates if {m.first[1], m.second[1]} == {"left", "right"}
    ]
    pairs = [(a, b) for a, b in joints if a != b and (b, a) in joints and a.startswith("front ")]
    known = {name for pair in pairs for name in pair}
    return [*pairs, *((a,) for a, b in joints if a == b and a not in known)]


def _numbered(
    pieces: Sequence[Piece], ring: Ring, alteration: Alteration, *, level: bool
) -> dict[str, list[str]]:
    """Name the panels of a ring by their places, so that a seam lies where it is altered."""
    many = sum(piece_named(pieces, name).copies for name in ring)
    layouts = ("", _FROM_CENTRE) if len(ring) == 1 and many % 2 == 0 else ("",)
    seam = alteration.seam or "side"
    fits = [
        layout
        for layout in layouts
        if level or any(_at(f" {k} of {many}{layout}", seam) for k in range(1, many + 1))
    ]
    if not fits:
        told = "one piece has its only seam" if many == 1 else f"{many} panels have their seams"
        where = seam.replace("-", " ")
        raise UnknownNameError(
            f"no seam at the {where} for {alteration.said!r}: {told} elsewhere", alteration.place,
            "take it where there is a seam, or make the piece with another number of panels",
        )  # fmt: skip
    names: dict[str, list[str]] = {}
    number = 0
    for name in ring:
        copies = piece_named(pieces, name).copies
        numbers = range(number + 1, number + copies + 1)
        names[name] = [f"{name} {k} of {many}{fits[0]}" for k in numbers]
        number += copies
    return names


def _at(name: str, seam: str) -> bool:
    around = share_around(name)
    return around is not None and bool(_edges_at(around, seam, ""))


def _sewn(mates: Sequence[Mate], rings: Sequence[Ring], names: dict[str, list[str]]) -> list[Mate]:
    """Return the seams between numbered panels, and those between them and other pieces."""
    ring_of = {name: ring for ring in rings for name in ring}
    made, done = [], set()
    for mate in mates:
        first, second = ring_of.get(mate.first[0]), ring_of.get(mate.second[0])
        if first is None and second is None:
            made.append(mate)
        elif first is not None and first == second and mate.first[1] in ("left", "right"):
            if first not in done:
                order = [one for name in first for one in names[name]]
                made += [
                    replace(mate, first=(one, "right"), second=(after, "left"))
                    for one, after in zip(order, [*order[1:], order[0]], strict=True)
                ]
            done.add(first)
        else:
            ends = [(names.get(p, [p])[0], e) for p, e in (mate.first, mate.second)]
            made.append(replace(mate, first=ends[0], second=ends[1]))
    return made
