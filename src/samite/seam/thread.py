"""Which thread: fibre and fineness by the cloth, and what to topstitch with."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.reasons import Advice, Reason
from samite.seam import traits

TEX_BY_MASS = ((65, 18), (115, 21), (185, 24), (400, 27), (math.inf, 40))
"""Thread for cloth up to a mass [g/m2]: linear density [tex]."""


@dataclass(frozen=True, slots=True)
class Thread:
    """The threads of the job.

    Parameters
    ----------
    fibre : str
        Fibre of the seam thread.
    tex : int
        Its linear density [tex].
    topstitch : str or None
        Thread for topstitching, None for the seam thread.
    looper : str
        Thread for overlocker loopers.
    basting : str
        Thread for basting.
    """

    fibre: str
    tex: int
    topstitch: str | None
    looper: str
    basting: str

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``fibre``, ``tex``, ``topstitch``, ``looper`` and ``basting``.
        """
        return {
            "fibre": self.fibre,
            "tex": self.tex,
            "topstitch": self.topstitch,
            "looper": self.looper,
            "basting": self.basting,
        }


def choose_tex(cloth: Cloth) -> Advice[int]:
    """Choose the fineness of the seam thread.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of int
        Linear density [tex].
    """
    mass = cloth.mass_per_area_gsm.value
    tex = next(fine for limit, fine in TEX_BY_MASS if mass <= limit)
    claim = f"tex {tex} suits a cloth of about {mass:.0f} g/m2"
    if traits.is_sheet(cloth) or traits.is_fur(cloth) or cloth.construction == "foam":
        return Advice(max(tex, 40), traits.practice("few long stitches: each has to hold more"))
    if traits.is_coarse(cloth):
        return Advice(max(tex, 40), traits.practice("a coarse open cloth cuts through fine thread"))
    if traits.is_sewn_hard(cloth):
        return Advice(
            max(tex, 27), traits.practice("edges of sequins and beads saw through fine thread")
        )
    if cloth.construction in ("net", "lace") and cloth.stiffness >= 1 and tex < 24 and mass > 32:
        return Advice(24, traits.practice("the bars of a net carry each stitch alone"))
    return Advice(tex, traits.practice(claim))


def choose_thread(cloth: Cloth, tex: Advice[int]) -> Advice[Thread]:
    """Choose the threads of the job.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    tex : Advice of int
        Fineness chosen [tex].

    Returns
    -------
    Advice of Thread
        Seam, topstitching, looper and basting thread.
    """
    metallic = cloth.metallic_percent >= 5.0 or cloth.has(PartKind.FILM)
    topstitch = "metallic, in a large-eye needle" if metallic else None
    silk_basting = cloth.has(PartKind.PILE) or cloth.holes_show
    stretchy = traits.is_stretch_knit(cloth)
    thread = Thread(
        fibre="polyester",
        tex=tex.value,
        topstitch=topstitch,
        looper="textured polyester or nylon" if stretchy else f"polyester tex {min(tex.value, 24)}",
        basting="silk (leaves no mark)" if silk_basting else "cotton",
    )
    because = [tex.reason, _fibre_reason(cloth)]
    if metallic:
        because.append(traits.practice("metallic thread matches the gleam of the cloth best"))
    return Advice(thread, Reason(f"polyester thread, tex {tex.value}", tuple(because)))


def _fibre_reason(cloth: Cloth) -> Reason:
    if cloth.share("silk", "wool") >= 60.0:
        return traits.practice(
            "polyester is strong and gives; silk thread serves as well on this cloth"
        )
    return traits.practice(
        "polyester is strong, gives a little and stands the iron this cloth stands"
    )
