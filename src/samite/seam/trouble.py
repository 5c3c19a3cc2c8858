"""What may go wrong in a joint: pucker, slippage, heat of the needle, holes; with what helps."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.joint_stack import apart
from samite.garment.use import Use
from samite.kernel.quantity import round_shown
from samite.seam import traits
from samite.seam.appraise import Numbers, thread_diameter_of
from samite.seam.candidate import Candidate, Settled
from samite.seam.needle_fit import (
    PERFORATION_LIMIT,
    shortest_stitch_mm,
    thread_in_eye_share,
    yarn_diameter_mm,
    yarn_spacing_mm,
    yarns_under_needle,
)
from samite.seam.needle_heat import speed_for_temperature
from samite.seam.pucker import (
    pucker_height_mm,
    yarn_cover,
)
from samite.seam.pucker_causes import CURES, pucker_causes
from samite.seam.slippage import SlippageRisk, worst_slippage
from samite.tables.press_limits import UNKNOWN, press_limit

PUCKER_WORDS = ((0.3, "none"), (1.0, "slight"), (2.0, "visible"), (1e9, "strong"))


@dataclass(frozen=True, slots=True)
class Fit:
    """How needle and thread fit one cloth.

    Parameters
    ----------
    cloth : str
        The cloth in words.
    yarn_diameter_mm : float
        Diameter of its yarns, estimated [mm].
    yarn_spacing_mm : float
        Centre to centre, estimated [mm].
    yarns_under_needle : float
        Blade over spacing [-].
    """

    cloth: str
    yarn_diameter_mm: float
    yarn_spacing_mm: float
    yarns_under_needle: float

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            One key a field.
        """
        return {
            "cloth": self.cloth,
            "yarn_diameter_mm": round_shown(self.yarn_diameter_mm),
            "yarn_spacing_mm": round_shown(self.yarn_spacing_mm),
            "yarns_under_needle": round_shown(self.yarns_under_needle),
        }


@dataclass(frozen=True, slots=True)
class Trouble:
    """What may go wrong.

    Parameters
    ----------
    pucker : str
        ``none``, ``slight``, ``visible`` or ``strong``.
    pucker_height_mm : float
        From trough to crest, waves 10 mm apart [mm].
    pucker_causes : tuple of tuple of (str, float)
        Cause and its excess length [%].
    pucker_cures : tuple of str
        What helps, the largest cause first.
    slippage : SlippageRisk
        Whether yarns slip.
    perforation_warns : bool
        Whether the holes weaken a cloth.
    span_mm : tuple of (float, float)
        Shortest and longest stitch that serve [mm].
    needle_limit_per_min : float
        Speed at which a needle that runs on softens the softest part [1/min].
    soft_part : str
        That part in words.
    thread_in_eye : float
        Thread over eye [-].
    fits : tuple of Fit
        Needle against yarn, one a cloth.
    """

    pucker: str
    pucker_height_mm: float
    pucker_causes: tuple[tuple[str, float], ...]
    pucker_cures: tuple[str, ...]
    slippage: SlippageRisk
    perforation_warns: bool
    span_mm: tuple[float, float]
    needle_limit_per_min: float
    soft_part: str
    thread_in_eye: float
    fits: tuple[Fit, ...]

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``pucker``, ``slippage``, ``perforation_warns``, ``needle_heat``,
            ``stitch_length``, ``thread_in_eye`` and ``needle_and_yarn``.
        """
        return {
            "pucker": {
                "risk": self.pucker,
                "height_mm": round_shown(self.pucker_height_mm),
                "causes": [
                    {"cause": cause, "excess_percent": round_shown(excess)}
                    for cause, excess in self.pucker_causes
                ],
                "cures": list(self.pucker_cures),
            },
            "slippage": self.slippage.as_dict(),
            "perforation_warns": self.perforation_warns,
            "stitch_length": {
                "shortest_mm": round_shown(self.span_mm[0]),
                "longest_mm": round_shown(self.span_mm[1]),
            },
            "needle_heat": {
                "limit_per_min": round_shown(self.needle_limit_per_min),
                "softens_first": self.soft_part,
            },
            "thread_in_eye": round_shown(self.thread_in_eye),
            "needle_and_yarn": [fit.as_dict() for fit in self.fits],
        }


def find_trouble(
    candidate: Candidate, numbers: Numbers, settled: Settled, cloths: tuple[Cloth, ...], use: Use
) -> Trouble:
    """Compute what may go wrong in a joint.

    Parameters
    ----------
    candidate : Candidate
        The seam.
    numbers : Numbers
        What it will do.
    settled : Settled
        Needle and thread.
    cloths : tuple of Cloth
        The cloths.
    use : Use
        What the seam has to bear.

    Returns
    -------
    Trouble
        Pucker, slippage, holes, heat, and how needle and thread fit.
    """
    causes = pucker_causes(candidate, settled, cloths)
    excess = min(max((share for _, share in causes), default=0.0), 25.0)
    height = pucker_height_mm(excess_percent=excess)
    word = next(word for limit, word in PUCKER_WORDS if height <= limit)
    soft, limit_c = softest_part(cloths)
    return Trouble(
        pucker=word,
        pucker_height_mm=height,
        pucker_causes=causes,
        pucker_cures=tuple(CURES[cause] for cause, share in causes if share > 0.05),
        slippage=worst_slippage(cloths, use),
        perforation_warns=numbers.perforation > PERFORATION_LIMIT
        and any(tears_along_holes(cloth) for cloth in cloths),
        span_mm=stitch_span_mm(cloths, settled.needle.size_nm),
        needle_limit_per_min=min(speed_for_temperature(limit_c=limit_c), 5000.0),
        soft_part=soft,
        thread_in_eye=thread_in_eye_share(
            thread_diameter_mm=thread_diameter_of(settled), size_nm=settled.needle.size_nm
        ),
        fits=tuple(needle_and_yarn(cloth, settled.needle.size_nm) for cloth in apart(cloths)),
    )


def tears_along_holes(cloth: Cloth) -> bool:
    """Say whether a cloth tears along a line of needle holes.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    bool
        True for films, skins and weaves of filament (common practice).
    """
    filament = cloth.construction == "woven" and cloth.yarn == "filament"
    return traits.is_sheet(cloth) or filament


def softest_part(cloths: tuple[Cloth, ...]) -> tuple[str, float]:
    """Return what softens first under a hot needle.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths.

    Returns
    -------
    tuple of (str, float)
        The part in words, and its temperature [C].
    """
    found = []
    for cloth in cloths:
        for part in cloth.parts:
            for material in _materials(part.kind, tuple(i.fibre for i in part.fibres)):
                limit = press_limit(material).value
                found.append((limit, f"{part.kind.value} of {cloth.structure_name}: {material}"))
    limit_c, words = min(found, default=(press_limit(UNKNOWN).value, "unknown"))
    return words, max(limit_c, 40.0)


def _materials(kind: PartKind, fibres: tuple[str, ...]) -> tuple[str, ...]:
    if kind is PartKind.ADHESIVE:
        return ("adhesive-hotmelt",)
    return tuple(name for name in fibres if name not in ("metal", "glass"))


def needle_and_yarn(cloth: Cloth, size_nm: int) -> Fit:
    """Return how a needle stands to the yarns of a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    size_nm : int
        Needle size [needle Nm].

    Returns
    -------
    Fit
        Yarn diameter, spacing and yarns under the blade, estimated.
    """
    sewn_mm = traits.sewn_thickness_mm(cloth)
    pile_mm = 0.0 if traits.is_fur(cloth) else cloth.pile_height_mm
    ground_mm = max(sewn_mm - pile_mm, 0.3 * sewn_mm)
    diameter = yarn_diameter_mm(ground_thickness_mm=ground_mm)
    cover = max(yarn_cover(packing=cloth.packing.value), 0.25)
    spacing = yarn_spacing_mm(yarn_diameter_mm=diameter, cover=cover)
    return Fit(
        cloth.structure_name,
        diameter,
        spacing,
        yarns_under_needle(size_nm=size_nm, yarn_spacing_mm=spacing),
    )


LONGEST_BY_FRAY_MM = (4.5, 3.5, 3.2, 3.0)
"""Longest stitch that still holds an edge, by readiness to ravel 0 to 3 (guess) [mm]."""


def stitch_span_mm(cloths: tuple[Cloth, ...], size_nm: int) -> tuple[float, float]:
    """Return the stitch lengths between tearing along the holes and letting a fraying edge slip.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths.
    size_nm : int
        Needle size [needle Nm].

    Returns
    -------
    tuple of (float, float)
        Shortest, 0 where no cloth tears along holes, and longest [mm].

    Notes
    -----
    Shortest by the share of the line in holes; longest by fraying alone, a guess.
    """
    tears = any(tears_along_holes(cloth) for cloth in cloths)
    shortest = shortest_stitch_mm(size_nm=size_nm) if tears else 0.0
    woven = [cloth.frays for cloth in cloths if not traits.is_sheet(cloth)]
    return shortest, LONGEST_BY_FRAY_MM[max(woven, default=0)]
