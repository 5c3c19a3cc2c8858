"""Which needle: point, size, range, how many, and the other needles of the job."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from samite.cloth.handle import CLOSE_PACKING
from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.reasons import Advice, Reason
from samite.seam import traits
from samite.seam.needle_size import (
    needle_penetrations,
    needle_size,
    needles_used,
    size_for_thread_nm,
)
from samite.seam.thread_size import thread_diameter_mm

STANDARD_SIZES = (55, 60, 65, 70, 75, 80, 85, 90, 100, 110, 120, 130)
"""Sizes in the shops, Nm = blade diameter in 1/100 mm."""

POLYESTER_DENSITY_G_CM3 = 1.38
"""Density of the all-purpose thread's fibre [g/cm3]."""


@dataclass(frozen=True, slots=True)
class Needle:
    """A needle for one use.

    Parameters
    ----------
    use : str
        ``seam``, ``topstitch``, ``overlock`` or ``hand``.
    point : str
        Kind of point in plain words.
    size_nm : int
        Blade diameter in 1/100 mm; 0 for hand needles.
    range_nm : tuple of int
        Smallest and largest size that will do.
    count : int
        Needles used up on 10 m of seam.
    note : str
        What else to know.
    """

    use: str
    point: str
    size_nm: int
    range_nm: tuple[int, int]
    count: int
    note: str = ""

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``use``, ``point``, ``size_nm``, ``size_us``, ``range_nm``, ``count``, ``note``.
        """
        return {
            "use": self.use,
            "point": self.point,
            "size_nm": self.size_nm,
            "size_us": needle_size(size_nm=self.size_nm).size_us if self.size_nm else 0,
            "range_nm": list(self.range_nm),
            "count": self.count,
            "note": self.note,
        }


def choose_point(cloth: Cloth) -> Advice[str]:
    """Choose the point of the needle from what the cloth is.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of str
        ``universal``, ``ballpoint``, ``stretch``, ``sharp``, ``denim`` or ``leather``.
    """
    say = traits.practice
    if traits.is_sheet(cloth):
        return _sheet_point(cloth)
    if cloth.has(PartKind.DOTS) and cloth.elastane_percent < 2.0:
        return Advice("sharp", say("a ball slides off stuck-on dots; a fine sharp goes through"))
    if cloth.construction == "knit":
        return _knit_point(cloth)
    if cloth.construction in ("net", "lace", "nonwoven"):
        if cloth.construction != "nonwoven" and cloth.elastane_percent >= 2.0:
            return Advice(
                "stretch", say("an elastic net or lace flexes with the needle and skips otherwise")
            )
        return Advice("universal", say("open meshes need no special point"))
    return _woven_point(cloth)


def _sheet_point(cloth: Cloth) -> Advice[str]:
    say = traits.practice
    if cloth.construction == "leather":
        return Advice("leather", say("a skin needs a cutting point"))
    if cloth.construction == "film" and cloth.thickness_mm.value >= 0.5:
        return Advice("leather", say("thick film without yarns: a cutting point parts it"))
    if cloth.construction == "foam" or cloth.thickness_mm.value >= 0.6:
        return Advice("denim", say("a stiff slim point goes through a thick sheet without bending"))
    if cloth.elastane_percent >= 2.0 or (
        cloth.construction == "knit" and traits.stretch_percent(cloth) >= 15
    ):
        return Advice("stretch", say("a soft coated knit skips with any other point"))
    return Advice("sharp", say("the smallest hole in a coating is that of a slim sharp point"))


def _knit_point(cloth: Cloth) -> Advice[str]:
    say = traits.practice
    if traits.is_fur(cloth) and cloth.mass_per_area_gsm.value > 650.0:
        return Advice("denim", say("a stiff blade goes straight through a heavy fur back"))
    if traits.is_fur(cloth):
        return Advice(
            "universal", say("the dense back of a fur is stable enough for any rounded point")
        )
    if cloth.elastane_percent >= 2.0:
        return Advice(
            "stretch", say("elastane flexes with the needle; its ball and scarf prevent skips")
        )
    if cloth.has(PartKind.FILM):
        return Advice("stretch", say("a knit under film drags at the needle and skips"))
    if traits.stretch_percent(cloth) >= 35.0:
        return Advice("stretch", say("it stretches like a cloth with elastane"))
    return Advice(
        "ballpoint", say("a ball pushes the loops aside; a sharp point cuts them and they run")
    )


def _woven_point(cloth: Cloth) -> Advice[str]:
    say = traits.practice
    if traits.is_sewn_hard(cloth):
        return Advice("universal", say("sewn over a cleared allowance: a sturdy ordinary point"))
    if traits.is_coarse(cloth):
        return Advice("denim", say("thick hard yarns bend a slim blade"))
    if cloth.has(PartKind.PILE) and not cloth.holes_show:
        return Advice("universal", say("a pile hides the stitch; its ground is stable"))
    if cloth.mass_per_area_gsm.value >= 180.0 and cloth.packing.value < CLOSE_PACKING:
        return Advice("universal", say("a figured weave: a rounded point pushes the floats aside"))
    if cloth.holes_show:
        why = cloth.reasons["holes_show"]
        return Advice("sharp", say("holes stay in it, so the slimmest point makes the least", why))
    if traits.has_film_face(cloth) and cloth.mass_per_area_gsm.value < 170.0:
        return Advice("sharp", say("film yarns are pierced, not pushed aside"))
    return Advice("universal", say("a stable weave: a slightly rounded point finds its way"))


SHARP_SIZES = ((32, 60), (46, 65), (175, 70), (275, 75), (330, 80), (math.inf, 90))
KNIT_SIZES = ((110, 70), (160, 75), (400, 80), (math.inf, 90))
UNIVERSAL_SIZES = ((32, 65), (110, 70), (160, 75), (280, 80), (430, 90), (math.inf, 100))
NET_SIZES = ((32, 65), (150, 75), (240, 80), (math.inf, 80))
SHEET_SIZES = ((200, 80), (700, 90), (math.inf, 100))
"""Size by the mass that the needle has to part: up to this mass [g/m2], this size."""


def choose_size(cloth: Cloth, point: str, tex: int) -> Advice[int]:
    """Choose the size of the needle from the mass to be parted and the thread's eye.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    point : str
        Point chosen.
    tex : int
        Linear density of the needle thread [tex].

    Returns
    -------
    Advice of int
        Size Nm.

    Notes
    -----
    The larger of what the cloth and what the thread ask for; one size under the thread rule is
    normal practice and allowed.
    """
    mass = cloth.needle_mass_gsm
    by_cloth = _by_mass(_size_table(cloth, point), mass)
    parts = [traits.practice(f"about {mass:.0f} g/m2 for the needle to part: Nm {by_cloth}")]
    if traits.is_sewn_hard(cloth) and by_cloth < 80:
        by_cloth = 80
        parts.append(traits.practice("a finer blade breaks on a bead or sequin that was missed"))
    if point == "denim":
        by_cloth = max(by_cloth, 90)
    if traits.is_fur(cloth):
        by_cloth = max(by_cloth, 90)
    stuck_on = cloth.has(PartKind.DOTS, PartKind.GLITTER)
    if stuck_on and point in ("stretch", "ballpoint") and by_cloth < 80:
        by_cloth = 80
        parts.append(traits.practice("what is stuck on turns a finer blade aside"))
    if cloth.has(PartKind.FILM) and cloth.construction == "knit":
        by_cloth = max(by_cloth, 75)
    diameter = thread_diameter_mm(
        linear_density_tex=float(tex), fibre_density_g_cm3=POLYESTER_DENSITY_G_CM3
    )
    needed = size_for_thread_nm(thread_diameter_mm=diameter)
    floor = _one_down(needed)
    parts.append(
        traits.practice(
            f"thread of tex {tex} passes an eye from Nm {needed} on, one size down is usual"
        )
    )
    size = max(by_cloth, floor)
    return Advice(size, traits.practice(f"Nm {size}: the larger of cloth and thread", *parts))


def _size_table(cloth: Cloth, point: str) -> tuple[tuple[float, int], ...]:
    if traits.is_sheet(cloth):
        return SHEET_SIZES
    if point == "sharp":
        return SHARP_SIZES
    if cloth.construction == "net" and cloth.elastane_percent < 2.0:
        return NET_SIZES
    if cloth.construction in ("net", "lace"):
        return KNIT_SIZES
    if cloth.construction == "knit" and not traits.is_fur(cloth):
        return KNIT_SIZES
    return UNIVERSAL_SIZES


def _by_mass(table: tuple[tuple[float, int], ...], mass_gsm: float) -> int:
    return next(size for limit, size in table if mass_gsm <= limit)


def _one_down(size: int) -> int:
    position = STANDARD_SIZES.index(size)
    return STANDARD_SIZES[max(position - 1, 0)]


def _one_up(size: int) -> int:
    position = STANDARD_SIZES.index(size)
    return STANDARD_SIZES[min(position + 1, len(STANDARD_SIZES) - 1)]


WEAR = (
    (PartKind.SEQUINS, 0.15, "sequins blunt the point at once"),
    (PartKind.BEADS, 0.15, "beads blunt or break the point"),
    (PartKind.DOTS, 0.08, "every dot wears and gums the point"),
    (PartKind.GLITTER, 0.25, "glitter grinds the point, its glue gums it"),
    (PartKind.FILM, 0.4, "film blunts the point"),
    (PartKind.COATING, 0.5, "a coating drags at the needle"),
)
"""Share of a needle's life that is left in such cloth (guess)."""


def needle_count(cloth: Cloth, stitch_length_mm: float) -> Advice[int]:
    """Return how many needles 10 m of seam wear out.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    stitch_length_mm : float
        Stitch length [mm].

    Returns
    -------
    Advice of int
        At least 1, no spares.
    """
    factors = [(share, claim) for kind, share, claim in WEAR if cloth.has(kind)]
    if cloth.metallic_percent >= 5.0:
        factors.append((0.4, "metallised yarn blunts the point"))
    if cloth.sheer or cloth.yarn == "filament":
        factors.append((0.5, "a burr that a thick cloth forgives pulls threads here"))
    share, claim = min(factors, default=(1.0, "plain cloth"))
    stitches = needle_penetrations(seam_length_m=10.0, stitch_length_mm=stitch_length_mm)
    count = needles_used(penetrations=stitches, life_factor=share)
    if cloth.has(PartKind.DOTS, PartKind.SEQUINS, PartKind.BEADS):
        count = max(count, 2)
    text = f"{stitches} stitches in 10 m; {claim}"
    return Advice(count, traits.guess(text))


def choose_needle(cloth: Cloth, tex: int, stitch_length_mm: float) -> Advice[Needle]:
    """Choose the needle for the seams.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    tex : int
        Linear density of the thread [tex].
    stitch_length_mm : float
        Stitch length [mm].

    Returns
    -------
    Advice of Needle
        Point, size, range and count, with the reasons.
    """
    point = choose_point(cloth)
    size = choose_size(cloth, point.value, tex)
    count = needle_count(cloth, stitch_length_mm)
    needle = Needle(
        "seam",
        point.value,
        size.value,
        (_one_down(size.value), _one_up(size.value)),
        count.value,
        "new for this cloth" if count.value > 1 or cloth.sheer or cloth.holes_show else "",
    )
    claim = f"{point.value} point, Nm {size.value}"
    return Advice(needle, Reason(claim, (point.reason, size.reason, count.reason)))


def other_needles(
    cloth: Cloth, needle: Needle, *, metallic_topstitch: bool, overlock: bool
) -> tuple[Needle, ...]:
    """Return the needles of the job besides the one for the seams.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    needle : Needle
        Needle for the seams.
    metallic_topstitch : bool
        Whether topstitching is with metallic thread.
    overlock : bool
        Whether an overlocker is used.

    Returns
    -------
    tuple of Needle
        For topstitching, overlocker and hand sewing, as far as they are needed.
    """
    found = []
    if metallic_topstitch:
        size = min(max(needle.size_nm, 80), 90)
        note = "slow, looser top tension, plain polyester in the bobbin"
        found.append(Needle("topstitch", "large-eye", size, (80, 90), 1, note))
    else:
        size = _one_up(needle.size_nm)
        found.append(replace(needle, use="topstitch", size_nm=size, count=1, note=""))
    if overlock:
        note = "the overlocker's own needle system, same size"
        found.append(replace(needle, use="overlock", note=note))
    kind = "leather" if cloth.construction == "leather" else "sharp"
    found.append(Needle("hand", kind, 0, (0, 0), 1, _hand_note(cloth)))
    return tuple(found)


def _hand_note(cloth: Cloth) -> str:
    if cloth.construction == "leather":
        return "glover's needle with a wedge point"
    if traits.is_sewn_hard(cloth):
        return "beading needle 10 to 13"
    return "fine sharps 10 to 12" if cloth.mass_per_area_gsm.value < 130 else "sharps 8 to 10"
