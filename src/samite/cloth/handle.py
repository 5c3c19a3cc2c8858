"""How a cloth behaves in the hand: fray, slip, stiffness, sheerness, nap, marks of the needle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from samite.cloth.model import Part, metallic_percent
from samite.cloth.reading import LabelReading, PartKind
from samite.kernel.evidence import GIVEN, Evidence, Grade
from samite.kernel.reasons import Advice, Reason
from samite.tables.fibres import fibre
from samite.tables.structures import Structure
from samite.tables.surfaces import surface

T = TypeVar("T")

GUESS = Evidence("guess", Grade.GUESS)
PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)

FILAMENT_FIBRES = frozenset(
    {"silk", "acetate", "triacetate", "cupro", "metallised-film", "metal", "viscose"}
)
"""Fibres outside the synthetics that dress cloths mostly use as filament."""

SHEER_SOLID_MM = 0.051
"""Below this thickness of solid matter a woven filament cloth lets one see through it [mm]."""

CLOSE_PACKING = 0.38
"""From this share of solid matter on, a filament weave is so close that holes stay."""


@dataclass(frozen=True, slots=True)
class MakeUp:
    """What the rules of this module look at.

    Parameters
    ----------
    reading : LabelReading
        What the label said.
    structure : Structure or None
        The structure it names.
    construction : str
        Woven, knit, net and so on.
    parts : tuple of Part
        From face to back.
    mass_per_area_gsm : float
        Mass per area [g/m2].
    thickness_mm : float
        Thickness [mm].
    density_kg_m3 : float
        Density of the solid matter [kg/m3].
    packing : float
        Share of solid matter [-].
    """

    reading: LabelReading
    structure: Structure | None
    construction: str
    parts: tuple[Part, ...]
    mass_per_area_gsm: float
    thickness_mm: float
    density_kg_m3: float
    packing: float

    @property
    def base(self) -> Part:
        """The part that carries the others."""
        return next(p for p in self.parts if p.kind in (PartKind.BASE, PartKind.FOAM))

    def has(self, *kinds: PartKind) -> bool:
        """Whether any of some kinds of part is there.

        Parameters
        ----------
        *kinds : PartKind
            The kinds looked for.

        Returns
        -------
        bool
            True if one is.
        """
        return any(part.kind in kinds for part in self.parts)

    @property
    def metallic_percent(self) -> float:
        """Share of metallised film or metal in the ground [%]."""
        return metallic_percent(self.parts)

    @property
    def solid_mm(self) -> float:
        """Thickness that the ground's solid matter would have without air [mm]."""
        ground = (PartKind.BASE, PartKind.YARN, PartKind.FILM, PartKind.FOAM)
        share = sum(part.mass_share for part in self.parts if part.kind in ground)
        return share * self.mass_per_area_gsm / self.density_kg_m3


def find_yarn(make_up: MakeUp) -> Advice[str]:
    """Decide whether the base is of filament or of staple yarn.

    Parameters
    ----------
    make_up : MakeUp
        The cloth so far.

    Returns
    -------
    Advice of str
        ``filament``, ``staple`` or ``mixed``.
    """
    if make_up.structure and make_up.structure.yarn:
        name = make_up.structure.name
        return _named(make_up.structure.yarn, f"{name} is mostly of {make_up.structure.yarn} yarn")
    smooth = sum(
        item.percent
        for item in make_up.base.fibres
        if item.fibre in FILAMENT_FIBRES or fibre(item.fibre).group in ("synthetic", "film")
    )
    if not make_up.base.fibres:
        return _guess("filament", "fibre unknown: taken for filament, which slips and frays more")
    if smooth >= 70.0:
        return _guess("filament", "silk and man-made fibres in dress cloths are mostly filament")
    if smooth >= 35.0:
        return _guess("mixed", "part of the fibres are mostly filament, part mostly spun")
    return _guess("staple", "cotton, linen, wool and hair are spun from staple")


def find_fray(make_up: MakeUp, yarn: str) -> Advice[int]:
    """Decide how badly a cut edge frays.

    Parameters
    ----------
    make_up : MakeUp
        The cloth so far.
    yarn : str
        Filament, staple or mixed.

    Returns
    -------
    Advice of int
        0 (never) to 3 (ravels to nothing).
    """
    if make_up.reading.ravels is False:
        return Advice(0, Reason("said not to ravel", evidence=GIVEN))
    level = _fray_level(make_up, yarn)
    if make_up.reading.ravels:
        raised = max(level.value, 2)
        return Advice(raised, Reason("said to ravel", (level.reason,), GIVEN))
    return level


def _fray_level(make_up: MakeUp, yarn: str) -> Advice[int]:
    named = _from_structure(make_up, "frays")
    if named is not None and _agrees(make_up):
        name = make_up.structure.name if make_up.structure else ""
        return _named(round(named), f"{name} is known to fray {FRAY_WORDS[round(named)]}")
    if make_up.construction not in ("woven", "lace"):
        return Advice(
            0, Reason(f"a {make_up.construction} has no yarns to ravel", evidence=PRACTICE)
        )
    if make_up.construction == "lace":
        return _guess(1, "only the cut threads of a lace come loose")
    if make_up.metallic_percent >= 5.0 or make_up.has(PartKind.FILM):
        return _guess(3, "smooth metallised yarns slide out of a cut edge")
    if make_up.has(PartKind.COATING):
        return _guess(1, "its coating holds the yarns")
    if make_up.has(PartKind.FLOCK):
        return _guess(2, "woven, but the glue under the flock holds some of the yarns")
    return _woven_fray(make_up, yarn)


def _woven_fray(make_up: MakeUp, yarn: str) -> Advice[int]:
    pile = make_up.has(PartKind.PILE)
    floats = make_up.mass_per_area_gsm < 130.0 or make_up.thickness_mm >= 0.35
    if yarn == "filament" and not pile and floats and make_up.packing < CLOSE_PACKING:
        return _guess(3, "smooth filament in an open or floating weave")
    if yarn == "staple" and make_up.packing < 0.26 and not pile:
        return _guess(3, "a loose weave holds its yarns badly")
    if yarn == "staple" and not pile:
        return _guess(1 if make_up.packing >= 0.3 else 2, "spun yarns hold each other")
    return _guess(2, "woven: cut yarns work loose")


FRAY_WORDS = {0: "not at all", 1: "little", 2: "clearly", 3: "badly"}


def find_slip(make_up: MakeUp, yarn: str) -> Advice[int]:
    """Decide how slippery the cloth is under the foot and the shears.

    Parameters
    ----------
    make_up : MakeUp
        The cloth so far.
    yarn : str
        Filament, staple or mixed.

    Returns
    -------
    Advice of int
        0 (stays put) to 3 (slides off the table).
    """
    named = _from_structure(make_up, "slippery")
    if named is not None:
        return _named(round(named), "as this structure usually is")
    if make_up.has(PartKind.PILE):
        return _guess(2, "two piles creep on each other")
    if yarn != "filament":
        return _guess(0, "spun yarns grip")
    light = make_up.mass_per_area_gsm < 100.0
    return _guess(
        2 if light else 1, "smooth filament slides" + (", the more when light" if light else "")
    )


def find_sheer(make_up: MakeUp, yarn: str) -> Advice[bool]:
    """Decide whether one sees the seam allowances through the cloth.

    Parameters
    ----------
    make_up : MakeUp
        The cloth so far.
    yarn : str
        Filament, staple or mixed.

    Returns
    -------
    Advice of bool
        True if it is sheer.
    """
    if make_up.reading.sheer is not None:
        return Advice(make_up.reading.sheer, Reason("said on the label", evidence=GIVEN))
    named = _from_structure(make_up, "sheer")
    if named is not None:
        return _named(named >= 0.5, "as this structure usually is")
    if make_up.has(PartKind.PILE, PartKind.COATING, PartKind.SEQUINS):
        return _guess(False, "its face covers the ground")
    if make_up.construction == "net":
        return _guess(True, "an open net")
    limit = SHEER_SOLID_MM if yarn == "filament" else 0.6 * SHEER_SOLID_MM
    claim = f"its fibre alone would be {1000 * make_up.solid_mm:.0f} um thick"
    return _guess(make_up.solid_mm < limit, claim)


def find_one_way(make_up: MakeUp) -> Advice[bool]:
    """Decide whether all pieces must lie the same way.

    Parameters
    ----------
    make_up : MakeUp
        The cloth so far.

    Returns
    -------
    Advice of bool
        True if the cloth has a nap, a sheen or a figure with a direction.
    """
    if make_up.reading.one_way is not None:
        return Advice(make_up.reading.one_way, Reason("said on the label", evidence=GIVEN))
    if make_up.has(PartKind.PILE):
        return _named(True, "pile shades: up and down look like two cloths")
    if make_up.has(PartKind.SEQUINS, PartKind.FILM, PartKind.DOTS) or make_up.metallic_percent >= 5:
        return _named(True, "what glitters changes with the direction of the light")
    if any(surface(key).one_way for key in make_up.reading.surfaces):
        return _named(True, "its finish looks different from the other side of the light")
    if make_up.reading.repeat_along_mm:
        return _named(True, "a figured cloth: taken for one-way until it has been looked at")
    named = _from_structure(make_up, "one_way")
    if named is not None:
        return _named(named >= 0.5, "as this structure usually is")
    return _guess(False, "nothing about it has a direction")


def find_holes_show(make_up: MakeUp, yarn: str) -> Advice[bool]:
    """Decide whether a needle or a pin leaves a mark for good.

    Parameters
    ----------
    make_up : MakeUp
        The cloth so far.
    yarn : str
        Filament, staple or mixed.

    Returns
    -------
    Advice of bool
        True if holes stay.
    """
    if make_up.has(PartKind.FILM, PartKind.COATING) or make_up.construction in (
        "film",
        "leather",
        "foam",
    ):
        return _named(True, "a film or skin keeps every hole")
    named = _from_structure(make_up, "holes_show")
    if named is not None:
        return _named(named >= 0.5, "as this structure usually does")
    if make_up.construction != "woven":
        return _guess(False, "loops close round the hole")
    delicate = {"silk", "viscose", "acetate", "metallised-film"}
    light = make_up.mass_per_area_gsm < 170.0
    if any(item.fibre in delicate and item.percent >= 5 for item in make_up.base.fibres) and light:
        return _guess(True, "a delicate filament cloth keeps pin marks")
    close = yarn == "filament" and not make_up.has(PartKind.PILE)
    dense = make_up.packing >= CLOSE_PACKING
    fine = make_up.mass_per_area_gsm < 130.0 or (light and make_up.packing >= 0.3)
    if close and (dense or fine):
        return _guess(True, "fine close filament: the yarns do not move back")
    return _guess(False, "the yarns move back over the hole")


def find_stiffness(make_up: MakeUp) -> Advice[int]:
    """Decide how stiff the cloth is.

    Parameters
    ----------
    make_up : MakeUp
        The cloth so far.

    Returns
    -------
    Advice of int
        0 (limp) to 3 (stands by itself).
    """
    named = _from_structure(make_up, "stiffness")
    if named is not None:
        return _named(round(named), "as this structure usually is")
    if make_up.construction in ("film", "leather", "foam"):
        return _guess(2, "a sheet bends less than yarns do")
    if make_up.construction == "knit":
        return _guess(0, "loops bend easily")
    return _guess(2 if make_up.mass_per_area_gsm > 280.0 else 1, "from its mass")


def _from_structure(make_up: MakeUp, name: str) -> float | None:
    named = make_up.structure
    return named.quantity(name).value if named and named.has(name) else None


def _agrees(make_up: MakeUp) -> bool:
    """Whether the construction found is the one that the structure usually has."""
    usual = make_up.structure.construction if make_up.structure else None
    return usual == make_up.construction or (not usual and make_up.construction != "knit")


def _named(value: T, claim: str) -> Advice[T]:
    return Advice(value, Reason(claim, evidence=PRACTICE))


def _guess(value: T, claim: str) -> Advice[T]:
    return Advice(value, Reason(claim, evidence=GUESS))
