"""The cloth: what it is made of and how it behaves, each with its reason."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from samite.cloth.reading import FibreShare, LabelReading, PartKind
from samite.kernel.quantity import Quantity
from samite.kernel.reasons import Reason

METALLIC = frozenset({"metallised-film", "metal"})
"""Keys of metallised film and metal thread in the fibre table."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a cloth, in its place.

    Parameters
    ----------
    kind : PartKind
        Which part.
    fibres : tuple of FibreShare
        What it is made of, in falling order; empty if not known.
    mass_share : float
        Its share of the cloth's mass [-].
    stated : bool
        Whether the label names it.
    """

    kind: PartKind
    fibres: tuple[FibreShare, ...]
    mass_share: float
    stated: bool

    @property
    def known(self) -> bool:
        """Whether its material is known."""
        return bool(self.fibres)


def metallic_percent(parts: tuple[Part, ...]) -> float:
    """Return the share of metallised film or metal thread in the ground.

    Parameters
    ----------
    parts : tuple of Part
        Parts of a cloth.

    Returns
    -------
    float
        Share in the base, or of a yarn that the label hides among its other fibres [%].
    """
    for part in parts:
        if part.kind is PartKind.YARN and any(i.fibre in METALLIC for i in part.fibres):
            return 100.0 * part.mass_share
    return sum(
        item.percent
        for part in parts
        if part.kind is PartKind.BASE
        for item in part.fibres
        if item.fibre in METALLIC
    )


@dataclass(frozen=True, slots=True)
class Cloth:
    """A cloth and what follows from its make-up.

    Parameters
    ----------
    reading : LabelReading
        What the label said.
    structure_key : str or None
        Key in the structure table, None if the label names no structure.
    structure_name : str
        Plain name of the structure, or a description.
    construction : str
        ``woven``, ``knit``, ``net``, ``lace``, ``nonwoven``, ``film``, ``leather`` or ``foam``.
    yarn : str
        ``filament``, ``staple`` or ``mixed``.
    parts : tuple of Part
        From the face to the back; exactly one is the base (or the foam of a foam sheet).
    mass_per_area_gsm : Quantity
        Mass per area [g/m2].
    thickness_mm : Quantity
        Thickness at about 1 kPa [mm].
    width_cm : Quantity or None
        Open width [cm].
    stretch_cross_percent : Quantity
        Stretch across under a hand's pull [%].
    stretch_length_percent : Quantity
        Stretch along [%].
    density_kg_m3 : Quantity
        Density of its solid matter [kg/m3].
    packing : Quantity
        Share of solid matter in its volume, 0 to 1.
    regain_percent : Quantity
        Water at 65 % relative humidity, of dry mass [%].
    specific_heat_j_kgk : Quantity
        Specific heat of the dry cloth [J/(kg K)].
    conductivity_w_mk : Quantity
        Conductivity through the thickness [W/(m K)].
    frays : int
        0 (never) to 3 (ravels to nothing).
    slippery : int
        0 (stays put) to 3 (slides off the table).
    stiffness : int
        0 (limp) to 3 (stands by itself).
    sheer : bool
        Whether one sees through it.
    one_way : bool
        Whether all pieces must lie the same way.
    holes_show : bool
        Whether a needle or pin leaves a mark.
    pile_height_mm : float
        Height of the pile, 0 without one [mm].
    crushed : bool
        Whether crush, pleats or blisters are part of its look.
    assumed : tuple of str
        Names of the fields that the label did not give.
    unknown : tuple of str
        What cannot be known from the label.
    reasons : Mapping of str to Reason
        Why each field is as it is, by field name.
    """

    reading: LabelReading
    structure_key: str | None
    structure_name: str
    construction: str
    yarn: str
    parts: tuple[Part, ...]
    mass_per_area_gsm: Quantity
    thickness_mm: Quantity
    width_cm: Quantity | None
    stretch_cross_percent: Quantity
    stretch_length_percent: Quantity
    density_kg_m3: Quantity
    packing: Quantity
    regain_percent: Quantity
    specific_heat_j_kgk: Quantity
    conductivity_w_mk: Quantity
    frays: int
    slippery: int
    stiffness: int
    sheer: bool
    one_way: bool
    holes_show: bool
    pile_height_mm: float
    crushed: bool
    assumed: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    reasons: Mapping[str, Reason] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def base(self) -> Part:
        """The part that carries the others."""
        for part in self.parts:
            if part.kind in (PartKind.BASE, PartKind.FOAM):
                return part
        return self.parts[-1]

    def has(self, *kinds: PartKind) -> bool:
        """Whether any of some kinds of part is there.

        Parameters
        ----------
        *kinds : PartKind
            The kinds looked for.

        Returns
        -------
        bool
            True if one of them is a part of the cloth.
        """
        for part in self.parts:  # noqa: SIM110 - asked hundreds of times for an answer
            if part.kind in kinds:
                return True
        return False

    def share(self, *fibres: str) -> float:
        """Return the share of some fibres in the base.

        Parameters
        ----------
        *fibres : str
            Keys in the fibre table.

        Returns
        -------
        float
            Share of the base's mass [%].
        """
        return sum(item.percent for item in self.base.fibres if item.fibre in fibres)

    @property
    def elastane_percent(self) -> float:
        """Share of elastic fibre in the base [%]."""
        return self.share("elastane", "elastodiene", "elastolefin", "elastomultiester")

    @property
    def metallic_percent(self) -> float:
        """Share of metallised film or metal thread in the ground [%]."""
        return metallic_percent(self.parts)

    @property
    def needle_mass_gsm(self) -> float:
        """Mass that the needle has to part: the cloth without its pile and stuck-on parts [g/m2]."""
        loose = (PartKind.PILE, PartKind.DOTS, PartKind.SEQUINS, PartKind.BEADS, PartKind.GLITTER)
        kept = sum(part.mass_share for part in self.parts if part.kind not in loose)
        return self.mass_per_area_gsm.value * kept
