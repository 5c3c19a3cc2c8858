"""Which stitch: ISO 4915 type, length and width, from what the seam has to do."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.kernel.reasons import Advice, Reason
from samite.seam import traits
from samite.seam.stretch import zigzag_width_mm
from samite.tables.sewing import sewing_entry

NORMAL_LENGTH_MM = 2.5
"""The ordinary straight stitch, 10 to an inch [mm]."""

STRETCH_IN_WEAR = 0.45
"""Share of the cloth's stretch that its seams have to follow in wear (guess)."""

THREAD_EXTENSION_PERCENT = 10.0
"""How far polyester thread stretches without harm [%]."""


@dataclass(frozen=True, slots=True)
class Stitch:
    """A stitch.

    Parameters
    ----------
    type : str
        ISO 4915 number.
    length_mm : float
        Stitch length [mm].
    width_mm : float
        Width, 0 for a straight stitch [mm].
    instead : str
        What does as well.
    """

    type: str
    length_mm: float
    width_mm: float
    instead: str = ""

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``type``, ``name``, ``length_mm``, ``width_mm`` and ``instead``.
        """
        return {
            "type": self.type,
            "name": sewing_entry("stitch", self.type).word("name"),
            "length_mm": self.length_mm,
            "width_mm": self.width_mm,
            "instead": self.instead,
        }


def choose_stitch(cloth: Cloth, use: Use) -> Advice[Stitch]:
    """Choose the stitch for the seams.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What the seam has to bear.

    Returns
    -------
    Advice of Stitch
        Type, length and width, with the reasons.
    """
    length = choose_length(cloth, use)
    if traits.is_stretch_knit(cloth):
        return _stretch_stitch(cloth, length)
    if cloth.construction in ("net", "lace") and not cloth.has(PartKind.FLOCK):
        stitch = Stitch("304", length.value, 1.0, "a straight stitch over a strip of tissue")
        why = traits.practice(
            "a narrow zigzag catches the bars of an open net; a straight row misses them"
        )
        return Advice(stitch, Reason("narrow zigzag", (why, length.reason)))
    if traits.is_fur(cloth):
        wide = 3.0 if cloth.pile_height_mm < 12 else 4.0
        stitch = Stitch("304", length.value, wide, "a straight stitch of the same length")
        why = traits.practice("a zigzag over the edges lets the seam open flat in a thick back")
        return Advice(stitch, Reason("zigzag over the edge", (why, length.reason)))
    if cloth.construction == "foam":
        stitch = Stitch("304", length.value, 5.0, "glue alone")
        why = traits.practice("edges butted and bridged by a wide zigzag stay flat")
        return Advice(stitch, Reason("wide zigzag across the butted edges", (why, length.reason)))
    why = traits.practice("it hardly stretches along the seam: a straight stitch holds best")
    return Advice(Stitch("301", length.value, 0.0), Reason("straight stitch", (why, length.reason)))


def _stretch_stitch(cloth: Cloth, length: Advice[float]) -> Advice[Stitch]:
    needed = STRETCH_IN_WEAR * traits.stretch_percent(cloth)
    exact = zigzag_width_mm(
        stretch_percent=needed,
        stitch_length_mm=length.value,
        thread_extension_percent=THREAD_EXTENSION_PERCENT,
    )
    width = min(max(math.ceil(2.0 * exact) / 2.0, 1.0), 4.0)
    instead = "overlock 514 or 504, or a straight stitch 3.0 mm, tension eased, where nothing pulls"
    why = traits.guess(
        f"about {needed:.0f} % stretch wanted along the seam: a zigzag {width:g} mm wide gives it"
    )
    claim = "narrow zigzag, so that the seam stretches with the cloth"
    return Advice(Stitch("304", length.value, width, instead), Reason(claim, (why, length.reason)))


def choose_length(cloth: Cloth, use: Use) -> Advice[float]:
    """Choose the stitch length.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What the seam has to bear.

    Returns
    -------
    Advice of float
        Stitch length [mm].
    """
    base = _length_by_cloth(cloth)
    if use.strain and base.value <= NORMAL_LENGTH_MM and not traits.has_film_face(cloth):
        shorter = max(base.value - 0.3, 1.5)
        claim = "a little shorter where the seam is strained: more stitches carry more"
        return Advice(round(shorter, 1), traits.practice(claim, base.reason))
    return base


def _length_by_cloth(cloth: Cloth) -> Advice[float]:
    say = traits.practice
    mass, thick = cloth.mass_per_area_gsm.value, cloth.thickness_mm.value
    if cloth.construction == "foam" and cloth.elastane_percent == 0:
        return Advice(4.0, say("close holes tear a foam like a stamp"))
    if cloth.construction == "film":
        return Advice(3.5, say("close holes tear a film like a stamp"))
    if traits.is_sheet(cloth):
        return Advice(3.0, say("close holes tear a coated cloth or a skin like a stamp"))
    if cloth.construction == "lace":
        return Advice(2.0, say("short, to stay on the bars and cords"))
    if traits.is_fur(cloth) or thick >= 1.8:
        return Advice(
            3.5 if thick > 2.5 else 3.0,
            say("a thick cloth takes up thread: a longer stitch lies flat"),
        )
    if cloth.construction == "net":
        return Advice(2.0 if mass < 32 else 2.5, say("about a mesh a stitch"))
    if cloth.construction == "woven" and cloth.sheer:
        if traits.has_film_face(cloth):
            return Advice(2.2, say("sheer, but film tears along close holes"))
        length = 1.8 if not cloth.has(PartKind.FLOCK) else 2.0
        return Advice(
            length, say("slightly shorter in sheer cloth: less yarn between the stitches to pull")
        )
    if cloth.has(PartKind.PILE) or (cloth.construction == "knit" and thick >= 0.8):
        return Advice(2.8, say("slightly longer in a pile or thick knit, which takes up thread"))
    if cloth.has(PartKind.SEQUINS, PartKind.BEADS) or thick >= 1.2:
        return Advice(3.0, say("longer over uneven thickness"))
    if mass < 110 and not traits.has_film_face(cloth) and cloth.metallic_percent < 5:
        return Advice(2.2, say("a light cloth puckers less with a slightly shorter stitch"))
    return Advice(NORMAL_LENGTH_MM, say("the normal length"))
