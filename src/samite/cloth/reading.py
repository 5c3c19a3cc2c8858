"""What a label says, before anything is filled in or inferred."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from samite.kernel.quantity import Quantity


class PartKind(StrEnum):
    """The parts that a cloth can be made of, in the words of the card's JSON."""

    BASE = "base"
    PILE = "pile"
    FLOCK = "flock"
    FILM = "film"
    GLITTER = "glitter"
    SEQUINS = "sequins"
    BEADS = "beads"
    DOTS = "dots"
    COATING = "coating"
    PRINT = "print"
    ADHESIVE = "adhesive"
    FOAM = "foam"
    YARN = "yarn"


@dataclass(frozen=True, slots=True)
class FibreShare:
    """A fibre and its share of the mass of one part.

    Parameters
    ----------
    fibre : str
        Key in the fibre table.
    percent : float
        Share of the part's mass [%].
    """

    fibre: str
    percent: float


@dataclass(frozen=True, slots=True)
class Component:
    """One part as the label names it.

    Parameters
    ----------
    part : PartKind
        Which part.
    fibres : tuple of FibreShare
        What it is made of, in falling order; empty if the label does not say.
    stated : bool
        True if the label names the part; false if it follows from the structure.
    """

    part: PartKind
    fibres: tuple[FibreShare, ...] = ()
    stated: bool = True


@dataclass(frozen=True, slots=True)
class Price:
    """A price as printed.

    Parameters
    ----------
    amount : float
        The number [-].
    currency : str
        Symbol or code as printed, may be empty.
    per : str
        ``"m"``, ``"yd"`` or ``"piece"``.
    """

    amount: float
    currency: str
    per: str


@dataclass(frozen=True, slots=True)
class LabelReading:
    """Everything that a label says; None or empty means that it does not say.

    Parameters
    ----------
    text : str
        The label as typed.
    structure : str or None
        Key in the structure table.
    construction : str or None
        ``woven``, ``knit``, ``net``, ``lace``, ``nonwoven``, ``film``, ``leather`` or ``foam``,
        where the label says so itself.
    components : tuple of Component
        Parts with their fibres, the base first.
    mass_per_area_gsm : Quantity or None
        Mass per area [g/m2].
    thickness_mm : Quantity or None
        Thickness [mm].
    width_cm : Quantity or None
        Open width [cm].
    stretch_cross_percent : Quantity or None
        Stretch across [%].
    stretch_length_percent : Quantity or None
        Stretch along [%].
    stretch_ways : int or None
        1 if it is said to stretch one way only, 2 if both across and along.
    stretches : bool or None
        Answer to "does it stretch?", said in words or by an elastane share.
    ravels : bool or None
        Answer to "does a cut edge ravel?".
    one_way : bool or None
        Whether all pieces must lie the same way.
    sheer : bool or None
        Whether one sees through it.
    repeat_along_mm : float or None
        Length of the repeat [mm].
    repeat_across_mm : float or None
        Width of the repeat [mm].
    pile_height_mm : float or None
        Pile height [mm].
    price : Price or None
        Price as printed.
    care_dots : int or None
        Dots of the iron symbol (0 means "do not iron").
    care_no_steam : bool
        Whether the label forbids steam.
    care_dry_clean : bool or None
        Whether dry cleaning is named (True) or forbidden (False).
    care_wash_c : int or None
        Washing temperature [C]; 0 means "do not wash".
    surfaces : frozenset of str
        Keys in the surface table (``crushed``, ``glitter-glued``, ``foil-print`` and so on).
    other_fibres_percent : float
        Share that the label leaves unnamed [%].
    proportions : tuple of (PartKind, float)
        Share of each part in the mass of the cloth, where the label prints it [%].
    notes : tuple of str
        What the reader did with the text ("shares add to 100.4 %: taken as rounding").
    ignored : tuple of str
        Words that it did not understand and that do no harm.
    """

    text: str
    structure: str | None = None
    construction: str | None = None
    components: tuple[Component, ...] = ()
    mass_per_area_gsm: Quantity | None = None
    thickness_mm: Quantity | None = None
    width_cm: Quantity | None = None
    stretch_cross_percent: Quantity | None = None
    stretch_length_percent: Quantity | None = None
    stretch_ways: int | None = None
    stretches: bool | None = None
    ravels: bool | None = None
    one_way: bool | None = None
    sheer: bool | None = None
    repeat_along_mm: float | None = None
    repeat_across_mm: float | None = None
    pile_height_mm: float | None = None
    price: Price | None = None
    care_dots: int | None = None
    care_no_steam: bool = False
    care_dry_clean: bool | None = None
    care_wash_c: int | None = None
    surfaces: frozenset[str] = field(default_factory=frozenset)
    other_fibres_percent: float = 0.0
    proportions: tuple[tuple[PartKind, float], ...] = ()
    notes: tuple[str, ...] = ()
    ignored: tuple[str, ...] = ()
