"""Words for pressing that every face uses: how the seam lies, what holds it, how parts are hurt."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

ORDER_WORDS = {
    "open": "open, one allowance to each side",
    "to one side": "with both allowances to one side",
    "french": "closed in itself and folded to one side",
    "edge": "as it was sewn, both plies flat together",
}
"""How a seam lies under the iron, by the order of its plies."""

SUPPORT_WORDS = {
    "board": "on the ironing board",
    "needle-board": "on a needle board",
    "towel": "on a thick towel",
    "self": "on a scrap of itself",
    "ham": "over a ham",
    "seam-roll": "over a seam roll",
    "none": "",
}
TOOL_WORDS = {"clapper": "a wood clapper", "weight": "a weight", "hand": "your hand"}
"""What lies under, and what holds the seam, in words."""

HURT_WORDS = {
    "glazes": "glazes: it turns shiny where the iron stood, and sticks beyond that",
    "scorches": "scorches: it turns yellow, then brown; longer counts as well as hotter",
    "dulls": "dulls: its lacquer clouds and the shine is gone",
    "loosens": "loosens: its glue softens, creeps or lets go",
    "curls": "curls and draws up",
    "shrinks": "shrinks: the seam puckers",
    "is crushed": "is crushed: it stays flat where it was soft under the weight",
    "spots": "spots: drops leave a ring",
}
"""How a part is hurt, by the word of the press window."""

PART_WORDS = {"base": "ground", "adhesive": "glue"}
PLACE_WORDS = {
    "face": "on the face",
    "garment": "in the garment",
    "ply": "in either ply",
    "pile": "in the pile",
}
"""Parts of a cloth and places of a seam, as one says them."""


def part_name(name: str) -> str:
    """Return a part as one says it.

    Parameters
    ----------
    name : str
        Part and material, ``"pile: polyester"``.

    Returns
    -------
    str
        ``"polyester of the pile"``; a glue goes by its kind alone.
    """
    part, _, material = name.partition(": ")
    material = material.removeprefix(f"{part}-").replace("-", " ")
    spoken = PART_WORDS.get(part, part)
    if spoken == "glue":
        return f"{material} glue" if "binder" not in material else material
    return f"{material} of the {spoken}" if material else spoken


def hurt_sentence(part: Mapping[str, Any]) -> str:
    """Say how one part is hurt, and from when.

    Parameters
    ----------
    part : mapping of str to object
        One of the ``weak_parts`` of ``samite.press.v1``.

    Returns
    -------
    str
        One sentence without its full stop, temperatures in C.
    """
    limit = part["limit_c"]
    where = PLACE_WORDS.get(part["place"], part["place"])
    low, value = float(limit["low"]), float(limit["value"])
    softens = " (dry; water lowers it)" if part["place"] == "pile" else ""
    return (
        f"{part_name(part['part'])}, {where}: {HURT_WORDS.get(part['hurt'], part['hurt'])}; "
        f"perhaps from {low:.0f} C{softens}, even odds at {value:.0f} C"
    )
