"""Alterations as they are noted at a fitting, read into place, way and amount."""

from __future__ import annotations

import re
from dataclasses import dataclass

from samite.kernel.errors import InputError, OutOfRangeError
from samite.kernel.units import parse_quantity

MOST_MM = 200.0
"""Largest alteration that is not a new piece [mm]."""

GIRTH = "waist girth"
"""Place of an amount by which the whole waist is let out or taken in, over all its seams."""

_INWARD = {"in", "up", "shorter", "off"}
_UPRIGHT = {"up", "down", "longer", "shorter"}
_OUTWARD = {"out", "down", "longer", "on"}
WAIST_EDGE = "waist edge"
"""Place of an amount by which the waist is raised or lowered at a seam."""

PLACES = ("hem", "waist", "hip", "shoulder", "side", "neck", "armhole", "underarm", "centre")
_PARTS = ("sleeve", "hood", "collar", "cuff", "cape", "skirt", "front", "back")
_CENTRES = {"centre-back": "back", "centre-front": "front", "side": "side"}


@dataclass(frozen=True, slots=True)
class Alteration:
    """One alteration as it was said.

    Parameters
    ----------
    amount_mm : float
        Positive lets out or lengthens, negative takes in or shortens [mm].
    place : str
        Level: hem, waist, shoulder, an edge's name.
    seam : str
        ``centre-back``, ``centre-front``, ``side`` or empty.
    side : str
        The wearer's ``left``, ``right`` or empty for both.
    said : str
        The words.
    part : str
        Word of a piece that it is about; empty for the main ones.
    """

    amount_mm: float
    place: str
    seam: str
    side: str
    said: str
    part: str = ""

    @property
    def around_mm(self) -> float:
        """How much a girth grows by it: an amount at the side without a side is at both."""
        both = self.seam == "side" and not self.side
        return self.amount_mm * (2.0 if both else 1.0)

    @property
    def shared(self) -> bool:
        """Whether both sides of a seam take half of it each."""
        return self.place in ("hip", "side") or (self.place == "waist" and bool(self.seam))


def read_alterations(text: str) -> tuple[Alteration, ...]:
    """Read alterations as they are noted at a fitting.

    Parameters
    ----------
    text : str
        ``12 mm out at the centre-back waist, right shoulder down 8 mm, hem up 20 mm at the left``.

    Returns
    -------
    tuple of Alteration
        One a clause.

    Raises
    ------
    InputError
        If a clause lacks its amount, its way or its place.
    OutOfRangeError
        If an amount is larger than an alteration can be.
    """
    clauses = [c.strip() for c in re.split(r"[;\n]|,(?!\d)", text) if c.strip()]
    if not clauses:
        raise InputError("nothing was said", "alter", 'for example "hem up 20 mm at the left"')
    return tuple(_clause(clause) for clause in clauses)


def _clause(clause: str) -> Alteration:
    found = re.search(r"(\d[\d.,/ ]*\s*(?:mm|cm|in\b|inch(?:es)?|\"))", clause)
    if not found:
        raise InputError(f"{clause!r} has no amount", clause, "say how much, with its unit")
    amount = parse_quantity(found[1].strip(), "mm")
    if not 0.0 < amount <= MOST_MM:
        raise OutOfRangeError(
            f"{amount:g} mm is no alteration",
            clause,
            f"up to {MOST_MM:g} mm; else change a measure",
        )
    rest = clause.replace(found[1], " ").casefold()
    rest = re.sub(r"\bcent(?:re|er)[ -](back|front)\b", r"centre-\1", rest)
    words = re.findall(r"[a-z][a-z-]*", rest)
    ways = [w for w in words if w in _INWARD | _OUTWARD]
    if len(ways) != 1:
        raise InputError(f"{clause!r} has no one way", clause, "say in, out, up or down")
    seam = next((w for w in words if w in _CENTRES), "")
    sides = [w for w in words if w in ("left", "right")]
    skip = {*ways, *sides, seam, "at", "the", "of", "on", "side", "take", "let", "and"}
    rest_words = [w for w in words if w not in skip]
    places = [w for w in words if w in PLACES and w != seam] or [
        *(w for w in rest_words if w not in _PARTS), *rest_words
    ]  # fmt: skip
    if not places and not seam:
        raise InputError(f"{clause!r} has no place", clause, f"say where: {', '.join(PLACES)}")
    place = places[0] if places else "side" if seam == "side" else "waist"
    if place == "waist" and not seam and ways[0] in ("in", "out"):
        place = GIRTH
    if place == "waist" and seam and ways[0] in _UPRIGHT:
        place = WAIST_EDGE
    part = next((w for w in words if w in _PARTS and w != place), "")
    side = sides[0] if len(sides) == 1 else ""
    return Alteration(_sign(ways[0], place) * amount, place, seam, side, clause, part)


def _sign(way: str, place: str) -> float:
    """Return +1 if an edge moves out of the piece."""
    outwards = way in _OUTWARD
    if place in ("shoulder", "neck") and way in ("up", "down"):
        outwards = not outwards
    if place in ("waist", WAIST_EDGE) and way in ("up", "down"):
        outwards = not outwards
    return 1.0 if outwards else -1.0
