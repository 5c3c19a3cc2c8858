"""Gathered edges that are let out or drawn up, and why some places cannot be altered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from samite.kernel.errors import OutOfRangeError, UnknownNameError
from samite.pieces.edge import Edge
from samite.pieces.fitting_places import edges_at
from samite.pieces.fitting_words import GIRTH, PLACES, WAIST_EDGE, Alteration
from samite.pieces.follow import Followed
from samite.pieces.outline import Piece

_SEAMS = ("centre-back", "centre-front", "side")
_HOW = "gathered to this length: the gathers change, the piece does not"
_CASING = "gathered: let its elastic or tape out by this much, the piece does not change"


def gathers_changed(now: list[Piece], alteration: Alteration) -> list[Followed]:
    """Change the length that edges at the waist are gathered to, in place.

    Parameters
    ----------
    now : list of Piece
        The pieces.
    alteration : Alteration
        What was pinned.

    Returns
    -------
    list of Followed
        Lengths that edges are gathered to, before and after; empty if none is meant.

    Raises
    ------
    OutOfRangeError
        If an edge is not long enough.

    Notes
    -----
    All edges at the waist share the amount by their length, wherever it was pinned: gathers are
    spread. Where no length is told, as of a casing, lengths are those of the elastic's change.

    References
    ----------
    ``common-practice``: a gathered waist is altered at its band, the fullness is spread again.
    """
    if alteration.place not in (GIRTH, "waist", "side", "hip"):
        return []
    wanted = "hip" if alteration.place == "hip" else "waist"
    found = [
        (index, edge)
        for index, piece in enumerate(now)
        for edge in piece.edges
        if edge.kind == "gathered"
        and (edge.level == wanted or (edge.at_waist and wanted == "waist"))
    ]
    whole = sum(now[index].copies * edge.length_mm for index, edge in found)
    told = []
    for index, edge in found:
        more = alteration.around_mm * edge.length_mm / whole
        now[index], one = _gathered(now[index], edge, more)
        told.append(one)
    return told


def _gathered(piece: Piece, edge: Edge, more: float) -> tuple[Piece, Followed]:
    if edge.gathered_to_mm is None:
        return piece, Followed(piece.name, edge.name, 0.0, more, _CASING)
    wanted = edge.gathered_to_mm + more
    if not 0.0 < wanted <= edge.length_mm:
        raise OutOfRangeError(
            f"{piece.name}: {edge.length_mm:.0f} mm cannot be gathered to {wanted:.0f} mm",
            "alter", "make the piece again with more fullness",
        )  # fmt: skip
    edges = tuple(
        replace(one, gathered_to_mm=wanted) if one.name == edge.name else one for one in piece.edges
    )
    told = Followed(piece.name, edge.name, edge.gathered_to_mm, wanted, _HOW)
    return replace(piece, edges=edges), told


def refusal(pieces: Sequence[Piece], alteration: Alteration) -> UnknownNameError:
    """Return why pieces cannot be altered at a place, in words of the trade.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    alteration : Alteration
        What was pinned.

    Returns
    -------
    UnknownNameError
        Says what is missing and where they can be altered.
    """
    place = "waist" if alteration.place in (GIRTH, WAIST_EDGE) else alteration.place
    edges = [edge for piece in pieces for edge in piece.edges]
    waist = [edge for edge in edges if edge.at_waist]
    if place == "hip" and any(edge.kind == "gathered" for edge in waist):
        why = "they are gathered at the waist and hang free of the hip"
    elif place == "hip" and any(_is_at(pieces, GIRTH, seam) for seam in _SEAMS):
        why = "no seam of that name runs over the hip"
    elif place in ("waist", "side") and waist and alteration.seam:
        why = f"no seam at the {alteration.seam.replace('-', ' ')} ends at their waist"
    else:
        why = f"they have no {place}"
    places = [*(p for p in PLACES if _is_at(pieces, p, "")), *_seams_there(pieces)]
    names = sorted({edge.name.partition(",")[0] for edge in edges})
    there = f"they can be altered at: {', '.join(places)}; or " if places else ""
    return UnknownNameError(
        f"these pieces cannot be altered by {alteration.said!r}: {why}", alteration.place,
        f"{there}say an edge by its name: {', '.join(names)}; else change a measure",
    )  # fmt: skip


def _seams_there(pieces: Sequence[Piece]) -> list[str]:
    return [f"{seam} waist" for seam in _SEAMS if _is_at(pieces, "waist", seam)]


def _is_at(pieces: Sequence[Piece], place: str, seam: str) -> bool:
    wanted = GIRTH if place == "waist" and not seam else place
    asked = Alteration(1.0, wanted, seam, "", "")
    gathered = wanted == GIRTH and any(
        edge.kind == "gathered" and edge.at_waist for piece in pieces for edge in piece.edges
    )
    return gathered or any(edges_at(piece, asked) for piece in pieces)
