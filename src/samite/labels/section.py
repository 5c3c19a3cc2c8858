"""The sections of a garment as its labels see them: shell, lining, interfacing, trims."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from samite.cloth.model import Cloth, Part
from samite.cloth.reading import PartKind
from samite.kernel.ranges import require_between

ROLES = ("shell", "lining", "interfacing", "trim")
"""What a section is in the garment."""

DECORATION = (PartKind.GLITTER, PartKind.SEQUINS, PartKind.BEADS, PartKind.DOTS, PartKind.FLOCK)
"""Parts that decorate a cloth and stand out from it."""

NO_TEXTILE = (*DECORATION[:4], PartKind.FILM, PartKind.COATING, PartKind.PRINT,
              PartKind.ADHESIVE, PartKind.FOAM)  # fmt: skip
"""Parts that are no fibre, whatever they are made of."""


@dataclass(frozen=True, slots=True)
class Section:
    """One section of a finished garment.

    Parameters
    ----------
    name : str
        What it is called on the label, ``"shell"``.
    role : str
        One of `ROLES`.
    cloth : Cloth
        What it is made of.
    mass_g : float
        Its mass in the finished garment [g].
    surface_percent : float
        Share of the garment's outer surface that it makes up [%].

    Raises
    ------
    OutOfRangeError
        If mass or share is impossible.
    """

    name: str
    role: str
    cloth: Cloth
    mass_g: float
    surface_percent: float = 100.0

    def __post_init__(self) -> None:
        require_between(0.0, 1e5, mass_g=self.mass_g)
        require_between(0.0, 100.0, surface_percent=self.surface_percent)


@dataclass(frozen=True, slots=True)
class FibrePercent:
    """A fibre and its share of the fibre mass.

    Parameters
    ----------
    fibre : str
        Key in the fibre table.
    percent : float
        Share [%].
    """

    fibre: str
    percent: float


def fibre_percents(parts: tuple[Part, ...]) -> tuple[FibrePercent, ...]:
    """Return the shares of fibres in parts taken together, by mass.

    Parameters
    ----------
    parts : tuple of Part
        Parts of a cloth; those that are no textile are passed over.

    Returns
    -------
    tuple of FibrePercent
        In falling order, with all that are textile making up 100 %; empty if nothing is known.

    Notes
    -----
    What a label says without naming a part is taken to hold for the whole cloth. Mass shares of
    pile and ground are filled in by rule where the label gives none, and are as uncertain as that.

    References
    ----------
    ``derivation``: weighted mean of the parts' shares.
    """
    mass: dict[str, float] = {}
    for part in parts:
        if part.kind not in NO_TEXTILE and (part.stated or part.kind is PartKind.BASE):
            for item in part.fibres:
                mass[item.fibre] = mass.get(item.fibre, 0.0) + part.mass_share * item.percent
    whole = sum(mass.values())
    if whole <= 0.0:
        return ()
    shares = [FibrePercent(fibre, 100.0 * one / whole) for fibre, one in mass.items()]
    return tuple(sorted(shares, key=lambda one: (-one.percent, one.fibre)))


def whole_percents(shares: tuple[float, ...]) -> tuple[int, ...]:
    """Return shares as whole numbers that still make up 100.

    Parameters
    ----------
    shares : tuple of float
        Shares that make up 100 [%].

    Returns
    -------
    tuple of int
        Each rounded down, the remainders given to the largest fractions [%].

    References
    ----------
    ``derivation``: largest remainder.
    """
    exact = [Fraction(share) for share in shares]
    down = [int(share) for share in exact]
    short = 100 - sum(down)
    order = sorted(range(len(exact)), key=lambda i: (down[i] - exact[i], i))
    for i in order[: max(short, 0)]:
        down[i] += 1
    return tuple(down)
