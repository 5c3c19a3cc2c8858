"""What hanging does to hems: the cloth in words, the hems raised, why."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

from samite.kernel.errors import InputError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity
from samite.kernel.reasons import Reason
from samite.kernel.units import parse_quantity
from samite.pieces.allowance import allowance_of
from samite.pieces.finish import Finish
from samite.pieces.hang import Hang, Hung, hang_hems
from samite.pieces.outline import Piece
from samite.pieces.walk import Mate
from samite.tables.hangs import hang_classes, hang_of

OF_CLOTH = "cloth"
"""Word that takes class and mass from the name of the cloth."""

_STIFFNESS = ("slack", "soft", "medium", "crisp")
_MASS = re.compile(r"[\d.,]+\s*(?:g/m2|gsm|oz/yd2)", re.IGNORECASE)
_SHARE = re.compile(r"[\d.,]+\s*%")
LEVEL = "hang it 24 hours or more, then level the hem on the wearer"


def read_hang(text: str, cloth: str) -> tuple[Hang, Evidence, str]:
    """Read how a cloth hangs.

    Parameters
    ----------
    text : str
        ``soft``, ``soft, 90 g/m2``, ``5 %, 150 g/m2`` as measured, or ``cloth``.
    cloth : str
        Name of the cloth, for ``cloth``.

    Returns
    -------
    tuple of (Hang, Evidence, str)
        The cloth, what it rests on, and in words.

    Raises
    ------
    InputError
        If the words cannot be read.
    """
    if text.strip().casefold() == OF_CLOTH:
        text = _of_cloth(cloth)
    mass, share = _MASS.search(text), _SHARE.search(text)
    words = re.findall(r"[a-z]+", _MASS.sub(" ", text.casefold()))
    if not words and not (mass and share):
        raise InputError(
            f"{text!r} does not say how the cloth hangs", "hang",
            f"one of {', '.join(hang_classes())}, {OF_CLOTH}, or measured: 5 %, 150 g/m2",
        )  # fmt: skip
    rows = hang_of(words[0] if words else "medium")
    weight = rows["mass_per_area_gsm"]
    gives, creep = rows["bias_extension_percent"], rows["hang_creep_factor"]
    mass_gsm = parse_quantity(mass[0], "g/m2") if mass else weight.value
    extension = parse_quantity(share[0], "%") if share else gives.value
    spreads = [creep, *([] if mass else [weight]), *([] if share else [gives])]
    least, most = _product(spreads)
    hang = Hang(mass_gsm, extension, creep.value, least, most)
    told = f"{mass_gsm:g} g/m2, {extension:g} % on the bias under 5 gf/cm"
    return hang, Evidence("guess", Grade.GUESS), told


def _product(spreads: Sequence[Quantity]) -> tuple[float, float]:
    """Return least and most over the middle of a product of independent spreads."""
    below = math.sqrt(math.fsum(math.log(one.value / one.low) ** 2 for one in spreads))
    above = math.sqrt(math.fsum(math.log(one.high / one.value) ** 2 for one in spreads))
    return math.exp(-below), math.exp(above)


def _of_cloth(cloth: str) -> str:
    from samite.cloth.build import build_cloth
    from samite.cloth.label import read_label

    if not cloth:
        raise InputError("which cloth?", "cloth", 'name it: --cloth "silk satin 90 g/m2"')
    made = build_cloth(read_label(cloth))
    word = _STIFFNESS[min(max(made.stiffness, 0), len(_STIFFNESS) - 1)]
    return f"{word}, {made.mass_per_area_gsm.value:.0f} g/m2"


def hang_pieces(
    pieces: Sequence[Piece], mates: Sequence[Mate], text: str, cloth: str
) -> tuple[tuple[Piece, ...], tuple[Hung, ...], tuple[Reason, ...]]:
    """Raise the hems of pieces by what they will drop, if that is asked for.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    mates : sequence of Mate
        Their seams.
    text : str
        How the cloth hangs; empty leaves them as they are.
    cloth : str
        Name of the cloth.

    Returns
    -------
    tuple of (tuple of Piece, tuple of Hung, tuple of Reason)
        Pieces, drops, and why.
    """
    if not text.strip():
        return tuple(pieces), (), ()
    hang, evidence, told = read_hang(text, cloth)
    made, hung = hang_hems(pieces, hang, mates)
    level = Reason(LEVEL, (), Evidence("common-practice", Grade.COMMON_PRACTICE))
    if not hung:
        return made, hung, (Reason(f"no hem drops by half a millimetre ({told})", (), evidence),)
    why = [
        Reason(
            f"{one.piece}, {one.edge}: raised by up to {one.drop_mm:.0f} mm where the bias drops,"
            f" {one.least_mm:.0f} to {one.most_mm:.0f} ({told}, with creep);"
            f" {one.room_mm:.0f} mm more allowance to level it",
            (),
            evidence,
        )
        for one in hung
    ]
    return made, hung, (*why, level)


def with_room(how: Finish, pieces: Sequence[Piece], hung: Sequence[Hung]) -> Finish:
    """Return a finish that leaves more at hems that may drop less than they were raised.

    Parameters
    ----------
    how : Finish
        The finish.
    pieces : sequence of Piece
        The pieces.
    hung : sequence of Hung
        Their drops.

    Returns
    -------
    Finish
        With the larger allowances.
    """
    wanted = dict(how.allowances_mm)
    for one in hung:
        edge = next(p for p in pieces if p.name == one.piece).edge(one.edge)
        more = allowance_of(edge, how.allowances_mm) + one.room_mm
        wanted[one.edge] = max(more, wanted.get(one.edge, 0.0))
    return replace(how, allowances_mm=MappingProxyType(wanted))
