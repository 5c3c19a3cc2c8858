"""What the cautions ask of a cloth: its materials, its surface, its mass, each in words."""

from __future__ import annotations

from samite.cloth.model import Cloth, Part
from samite.cloth.reading import PartKind
from samite.tables.fibres import fibre, fibres
from samite.tables.structures import structure

RAISED_KINDS = ("pile", "raised", "brushed", "loop", "fulled", "quills")
"""Words in the kind of a structure that mean raised fibres or yarns."""

RAISED_SURFACES = frozenset({"brushed", "feathered", "fringed"})

NOT_TOLD = (PartKind.ADHESIVE, PartKind.PRINT)
"""Parts that are left out where a cloth is named in a sentence."""


def materials(cloth: Cloth) -> frozenset[str]:
    """Return everything that a cloth is known to be made of.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    frozenset of str
        Keys in the fibre table, from all parts.
    """
    return frozenset(item.fibre for part in cloth.parts for item in part.fibres)


def raised_because(cloth: Cloth) -> str:
    """Say why the surface counts as raised.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    str
        The reason; empty for a plain surface.
    """
    for kind in (PartKind.PILE, PartKind.FLOCK):
        if cloth.has(kind):
            return f"it has a {kind.value}"
    treated = sorted(RAISED_SURFACES & cloth.reading.surfaces)
    if treated:
        return f"its face is {treated[0]}"
    if cloth.structure_key:
        kind_of_cloth = structure(cloth.structure_key).kind
        if any(word in kind_of_cloth for word in RAISED_KINDS):
            return f"{cloth.structure_name} is a {kind_of_cloth}"
    return ""


def raised_parts(cloth: Cloth) -> tuple[Part, ...]:
    """Return the parts whose fibres stand up from the face.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    tuple of Part
        Pile and flock; the base itself where its own fibres are raised; none on a plain surface.
    """
    standing = tuple(p for p in cloth.parts if p.kind in (PartKind.PILE, PartKind.FLOCK))
    if standing or not raised_because(cloth):
        return standing
    return (cloth.base,)


def group_percent(part: Part, groups: frozenset[str]) -> float:
    """Return the share of one part that belongs to some groups of fibres.

    Parameters
    ----------
    part : Part
        The part.
    groups : frozenset of str
        Groups in the fibre table, ``"cellulose"``.

    Returns
    -------
    float
        Share of the part's mass [%].
    """
    return sum(item.percent for item in part.fibres if fibre(item.fibre).group in groups)


def names(keys: frozenset[str] | set[str] | tuple[str, ...]) -> str:
    """Write materials in words.

    Parameters
    ----------
    keys : frozenset of str, set of str or tuple of str
        Keys in the fibre table.

    Returns
    -------
    str
        ``"elastane (spandex) and metallised film (metallic)"``.
    """
    known = fibres()
    return in_words([known[key].name if key in known else key for key in sorted(keys)])


def in_words(things: list[str]) -> str:
    """Join words as one says them.

    Parameters
    ----------
    things : list of str
        The words.

    Returns
    -------
    str
        ``"a, b and c"``.
    """
    return " and ".join([", ".join(things[:-1]), things[-1]] if len(things) > 1 else things)


def part_names(parts: tuple[Part, ...]) -> str:
    """Write parts in words, with what they are made of where that is known.

    Parameters
    ----------
    parts : tuple of Part
        The parts.

    Returns
    -------
    str
        ``"sequins (sequin of polyester)"``.
    """
    written = []
    for part in parts:
        made_of = names(frozenset(item.fibre for item in part.fibres))
        written.append(f"{part.kind.value} ({made_of or 'material not named'})")
    return in_words(written)


def make_up(cloth: Cloth) -> str:
    """Write the fibres, the parts and the mass in words.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    str
        ``"100 % silk at 35 g/m2"``.
    """
    shares = [f"{item.percent:.3g} % {fibre(item.fibre).name}" for item in cloth.base.fibres]
    others = tuple(
        part
        for part in cloth.parts
        if part.kind is not cloth.base.kind and part.kind not in NOT_TOLD
    )
    carried = f" with {part_names(others)}" if others else ""
    told = in_words(shares) if shares else "unnamed fibres"
    if shares and "fibres" in cloth.assumed:
        told = f"unnamed fibres, probably {told},"
    return f"{told}{carried} at {mass(cloth)}"


def mass(cloth: Cloth) -> str:
    """Write the mass in words.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    str
        ``"35 g/m2"``, or with its range where the label does not give it.
    """
    quantity = cloth.mass_per_area_gsm
    if quantity.given:
        return f"{quantity.value:.0f} g/m2"
    return f"{quantity.low:.0f} to {quantity.high:.0f} g/m2 (assumed)"
