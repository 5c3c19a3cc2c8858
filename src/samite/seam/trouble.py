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
    jamming_percent,
    pucker_height_mm,
    shrinkage_excess_percent,
    yarn_cover,
)
from samite.seam.slippage import SlippageRisk, worst_slippage
from samite.tables.press_limits import UNKNOWN, press_limit

WASH_SHRINKAGE_PERCENT = {
    "cotton": 4.0,
    "linen": 4.0,
    "hemp": 4.0,
    "ramie": 4.0,
    "jute": 5.0,
    "wool": 3.0,
    "cashmere": 3.0,
    "mohair": 3.0,
    "viscose": 5.0,
    "modal": 3.0,
    "lyocell": 2.0,
    "cupro": 4.0,
    "silk": 3.0,
    "acetate": 1.0,
    "triacetate": 1.0,
}
"""Shrinkage of cloth in its first wash or steam, not preshrunk (guess) [%]; others 0.5."""

FEED_PERCENT = {0: 0.0, 1: 0.2, 2: 0.6, 3: 1.2}
"""How far the upper ply is fed ahead of the lower, by the more slippery of the two (guess) [%]."""

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
        and any(_tears(cloth) for cloth in cloths),
        span_mm=stitch_span_mm(cloths, settled.needle.size_nm),
        needle_limit_per_min=min(speed_for_temperature(limit_c=limit_c), 5000.0),
        soft_part=soft,
        thread_in_eye=thread_in_eye_share(
            thread_diameter_mm=thread_diameter_of(settled), size_nm=settled.needle.size_nm
        ),
        fits=tuple(needle_and_yarn(cloth, settled.needle.size_nm) for cloth in apart(cloths)),
    )


def _tears(cloth: Cloth) -> bool:
    filament = cloth.construction == "woven" and cloth.yarn == "filament"
    return traits.is_sheet(cloth) or filament


CURES = {
    "thread jams the yarns": "finer thread, finer needle, a longer stitch; cut a few degrees off grain",
    "plies creep": "walking foot or hand basting; the slippery or stretchy ply underneath; hold both taut",
    "plies shrink unlike": "shrink both before cutting; say dry clean on the care label",
    "thread shrinks": "polyester thread, easy tension",
}
"""What helps against each cause of pucker (common practice)."""


def pucker_causes(
    candidate: Candidate, settled: Settled, cloths: tuple[Cloth, ...]
) -> tuple[tuple[str, float], ...]:
    """Return the causes of pucker with the excess length that each makes.

    Parameters
    ----------
    candidate : Candidate
        Stitch length.
    settled : Settled
        Thread and foot.
    cloths : tuple of Cloth
        The cloths.

    Returns
    -------
    tuple of (str, float)
        Cause and excess [%], the largest first.
    """
    diameter = thread_diameter_of(settled)
    jams = max(
        (
            jamming_percent(
                cover=yarn_cover(packing=cloth.packing.value),
                thread_diameter_mm=diameter,
                stitch_length_mm=candidate.stitch.length_mm,
            )
            for cloth in cloths
            if cloth.construction == "woven" and not traits.is_sheet(cloth)
        ),
        default=0.0,
    )
    shrinks = [wash_shrinkage_percent(cloth) for cloth in cloths]
    creeping = FEED_PERCENT[max(cloth.slippery for cloth in cloths)]
    fed = creeping * (0.4 if settled.foot.value == "walking" else 1.0)
    fed *= 0.5 if settled.holding.value.method == "basting" else 1.0
    unlike = shrinkage_excess_percent(
        ply_shrinkage_percent=min(shrinks), other_shrinkage_percent=max(shrinks)
    )
    found = (
        ("thread jams the yarns", jams),
        ("plies creep", fed),
        ("plies shrink unlike", unlike),
    )
    return tuple(sorted(found, key=lambda item: -item[1]))


def wash_shrinkage_percent(cloth: Cloth) -> float:
    """Return about how much a cloth shrinks that was not shrunk before.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    float
        Shrinkage in the first wash or steam (guess) [%].
    """
    shares = [
        (item.percent, WASH_SHRINKAGE_PERCENT.get(item.fibre, 0.5)) for item in cloth.base.fibres
    ]
    whole = sum(percent for percent, _ in shares)
    if not whole:
        return 3.0
    return sum(percent * shrinks for percent, shrinks in shares) / whole


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
    tears = any(_tears(cloth) for cloth in cloths)
    shortest = shortest_stitch_mm(size_nm=size_nm) if tears else 0.0
    woven = [cloth.frays for cloth in cloths if not traits.is_sheet(cloth)]
    return shortest, LONGEST_BY_FRAY_MM[max(woven, default=0)]
