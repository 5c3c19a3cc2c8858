"""The parts of a cloth that pressing can hurt: where they lie, how they are hurt, and when."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth, Part
from samite.cloth.reading import PartKind
from samite.kernel.errors import UnknownNameError
from samite.kernel.quantity import Quantity
from samite.tables.fibres import fibre
from samite.tables.press_limits import UNKNOWN, press_limit, shrink_limits

SURFACE_PARTS = frozenset(
    {PartKind.FILM, PartKind.GLITTER, PartKind.DOTS, PartKind.FLOCK, PartKind.COATING}
    | {PartKind.ADHESIVE, PartKind.PRINT, PartKind.SEQUINS, PartKind.BEADS}
)
"""Parts so thin, or so loose, that they take the temperature of the face they lie on."""

MINOR_PERCENT = 2.0
"""Fibres under this share of a part do not count as able to be hurt [%]."""

SHRINKS_FROM_PERCENT = 30.0
"""Share of a part from which a fibre's shrinking shrinks it [%]."""

HURTS = ("glazes", "scorches", "dulls", "loosens", "curls", "shrinks", "is crushed", "spots")
"""The ways in which a part is hurt."""


@dataclass(frozen=True, slots=True)
class Weakness:
    """A part that pressing can hurt, and where it lies.

    Parameters
    ----------
    name : str
        The part in words.
    hurt : str
        How, one of `HURTS`.
    place : str
        ``face`` (face of the garment), ``garment`` (hottest place of the ply that one sees),
        ``ply`` (hottest place of any ply) or ``pile`` (the pile of the ply that one sees).
    limit_c : Quantity
        Temperature at which it is hurt within seconds; for a pile its dry glass transition [C].
    """

    name: str
    hurt: str
    place: str
    limit_c: Quantity

    @property
    def doubt(self) -> str:
        """How the doubt about its limit is named."""
        return f"limit of the {self.name}, where it {self.hurt}"

    @property
    def scorches(self) -> bool:
        """Whether time counts as well as temperature."""
        return self.hurt == "scorches"


def weaknesses(cloth: Cloth) -> tuple[Weakness, ...]:
    """Return the parts of a cloth that heat can hurt.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    tuple of Weakness
        Every part at its place; an unknown adhesive counts as a hot-melt, except under flock.

    Notes
    -----
    What lies on the face of the allowance is inside the garment and is left out, except its
    fibres: errs to the hopeful side where glue sticks to the press cloth. Metallised yarn dulls
    before it sticks, and counts only where one sees it.
    """
    found: dict[str, Weakness] = {}
    for part in cloth.parts:
        for name in _materials(cloth, part):
            key = f"{part.kind.value}: {name}"
            place = "garment" if name == "metallised-film" else "ply"
            place = "face" if part.kind in SURFACE_PARTS else place
            found.setdefault(key, Weakness(key, _how(part, name), place, press_limit(name)))
        for weak in (*_shrinking(part), *_crushing(part)):
            found.setdefault(f"{weak.name} {weak.hurt}", weak)
    return tuple(found.values())


def _materials(cloth: Cloth, part: Part) -> list[str]:
    if part.kind is PartKind.ADHESIVE:
        flock_only = cloth.has(PartKind.FLOCK) and not cloth.has(
            PartKind.GLITTER, PartKind.DOTS, PartKind.FILM
        )
        return ["flock-binder"] if flock_only else ["adhesive-hotmelt"]
    named = [item.fibre for item in part.fibres if item.percent >= MINOR_PERCENT]
    return [name for name in named if name not in ("metal", "glass")] or (
        [] if part.fibres else [UNKNOWN]
    )


def _how(part: Part, material: str) -> str:
    if part.kind is PartKind.SEQUINS:
        return "curls"
    if material in ("adhesive-hotmelt", "flock-binder"):
        return "loosens"
    if material == "metallised-film":
        return "dulls"
    if material == UNKNOWN:
        return "glazes"
    try:
        return "glazes" if fibre(material).melts else "scorches"
    except UnknownNameError:
        return "glazes"


def _shrinking(part: Part) -> list[Weakness]:
    """Fibres that were heat-set and shrink where they get hotter than they were set."""
    limits = shrink_limits()
    return [
        Weakness(f"{part.kind.value}: {item.fibre}", "shrinks", "ply", limits[item.fibre])
        for item in part.fibres
        if item.fibre in limits and item.percent >= SHRINKS_FROM_PERCENT
    ]


def _crushing(part: Part) -> list[Weakness]:
    """A pile that is soft under pressure stays flat: the seam's own rule, turned against it."""
    if part.kind is not PartKind.PILE:
        return []
    return [
        Weakness(
            f"pile: {item.fibre}",
            "is crushed",
            "pile",
            fibre(item.fibre).quantity("glass_transition_dry_c"),
        )
        for item in part.fibres
        if item.percent >= SHRINKS_FROM_PERCENT and fibre(item.fibre).group in SETTABLE_GROUPS
    ]


SETTABLE_GROUPS = ("cellulose", "protein", "synthetic")
"""Groups of fibres that heat or water can set."""
