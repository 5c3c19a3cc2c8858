"""Which seam and which finish, and when to finish."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.kernel.reasons import Advice, Reason
from samite.seam import traits


@dataclass(frozen=True, slots=True)
class Seam:
    """A seam with its finish.

    Parameters
    ----------
    type : str
        ASTM D6193 letters (SSa plain, SSae French, LSa lapped, FSa butted).
    allowance_mm : float
        Seam allowance [mm].
    finish : str
        ``none``, ``overedge``, ``zigzag``, ``french``, ``bound``, ``pinked``, ``felled`` or
        ``narrow-double``.
    finish_when : str
        ``none``, ``before-assembly``, ``with-seam`` or ``after``.
    how : str
        One sentence that says how it is made.
    """

    type: str
    allowance_mm: float
    finish: str
    finish_when: str
    how: str

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys as the fields, with ``name`` in plain words.
        """
        return {
            "type": self.type,
            "name": NAMES[self.type],
            "allowance_mm": self.allowance_mm,
            "finish": self.finish,
            "finish_when": self.finish_when,
            "how": self.how,
        }


NAMES = {
    "SSa": "plain seam",
    "SSae": "French seam",
    "LSa": "lapped seam",
    "LSc": "flat-felled seam",
    "LSq": "welt seam",
    "FSa": "butted seam",
}
"""Plain names of the seams chosen here."""


def choose_seam(cloth: Cloth, use: Use) -> Advice[Seam]:
    """Choose the seam and its finish.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What the seam has to bear.

    Returns
    -------
    Advice of Seam
        Seam, allowance, finish and when, with the reasons.
    """
    for found in (
        _sheet_seam(cloth),
        _thick_seam(cloth),
        _open_work_seam(cloth, use),
        _sheer_seam(cloth, use),
    ):
        if found:
            return found
    if cloth.frays == 0:
        return _edge_stays(cloth, use)
    return _edge_frays(cloth, use)


def _sheet_seam(cloth: Cloth) -> Advice[Seam] | None:
    say = traits.practice
    if cloth.construction == "foam":
        how = "butt the edges, glue, then bridge with a wide zigzag if it shall be sewn"
        return Advice(Seam("FSa", 0.0, "none", "none", how), say("a foam is too thick to fold"))
    if cloth.construction in ("film", "leather"):
        how = "lap the edges, tape or glue, topstitch; or sew plain and glue the allowances open"
        return Advice(
            Seam("LSa", 10.0, "none", "none", how),
            say("a skin does not fray and cannot be pressed open"),
        )
    if traits.is_sheet(cloth) and cloth.frays <= 1:
        how = (
            "sew plain, open the allowances with a roller or mallet and topstitch or glue them down"
        )
        return Advice(Seam("SSa", 10.0, "none", "none", how), say("a coated cloth does not fray"))
    return None


def _thick_seam(cloth: Cloth) -> Advice[Seam] | None:
    if not traits.is_fur(cloth):
        return None
    how = "push the pile inside, sew, then comb it out of the seam from the right side"
    if cloth.pile_height_mm >= 12.0:
        how = "shave the allowances, butt the backs, zigzag over both edges, comb the pile out"
        return Advice(
            Seam("FSa", 6.0, "none", "none", how),
            traits.practice("two backs with long pile do not fit under the foot"),
        )
    return Advice(
        Seam("SSa", 10.0, "none", "none", how), traits.practice("a knitted fur back does not fray")
    )


def _open_work_seam(cloth: Cloth, use: Use) -> Advice[Seam] | None:
    say = traits.practice
    if cloth.construction == "nonwoven" and cloth.thickness_mm.value >= 0.8:
        how = "lap the cut edges and topstitch"
        return Advice(
            Seam("LSa", 6.0, "none", "none", how),
            say("a felt does not fray and is bulky when folded"),
        )
    if cloth.construction == "lace" and not cloth.elastane_percent >= 2.0:
        how = "lap one motif edge over the other, sew along it, trim both plies close"
        return Advice(
            Seam("LSa", 15.0, "none", "none", how), say("a motif lap hides the join in a lace")
        )
    if cloth.construction == "net" and traits.is_sewn_hard(cloth):
        how = "clear the allowance, sew, open it and bind or tape both edges"
        return Advice(
            Seam("SSa", 20.0, "bound", "after", how),
            say("cut sequins and beads scratch, and their threads run"),
        )
    if cloth.construction in ("net", "lace"):
        finish = "bound" if use.on_skin and cloth.stiffness >= 2 else "none"
        when = "after" if finish == "bound" else "none"
        how = "narrow plain seam, trimmed to 4 to 6 mm" + (
            ", bound where it meets the skin" if when == "after" else ""
        )
        return Advice(Seam("SSa", 6.0, finish, when, how), say("a net does not fray"))
    return None


def _sheer_seam(cloth: Cloth, use: Use) -> Advice[Seam] | None:
    if not traits.is_sheer_weave(cloth) or cloth.thickness_mm.value > 0.7:
        return None
    why = Reason("sheer and fraying", (cloth.reasons["sheer"], cloth.reasons["frays"]))
    if use.curved or use.gathered:
        how = "sew, sew again 3 mm inside the allowance, trim close to the second row, overcast narrow"
        reason = traits.practice("a French seam does not lie round a curve or over gathers", why)
        return Advice(Seam("SSa", 10.0, "narrow-double", "after", how), reason)
    how = "sew wrong sides together at 4 mm, trim to 3 mm, turn, sew at 6 mm: raw edges inside"
    reason = traits.practice(
        "one sees the inside: a French seam encloses edges that would fray and show", why
    )
    return Advice(Seam("SSae", 10.0, "french", "with-seam", how), reason)


def _edge_stays(cloth: Cloth, use: Use) -> Advice[Seam]:
    fray = cloth.reasons["frays"]
    if use.long_lived and cloth.construction == "knit":
        how = "sew, then overlock both allowances together"
        reason = traits.practice(
            "it does not fray, but forty wearings and washes want a neat edge", fray
        )
        return Advice(Seam("SSa", 10.0, "overedge", "after", how), reason)
    how = "leave the edges as cut, or sew and neaten in one with the overlocker"
    return Advice(
        Seam("SSa", 10.0, "none", "none", how),
        traits.practice("it does not fray: no finish needed", fray),
    )


def _edge_frays(cloth: Cloth, use: Use) -> Advice[Seam]:
    fray = cloth.reasons["frays"]
    say = traits.practice
    wide = 20.0 if cloth.frays == 3 or use.strain else 15.0
    if traits.is_sewn_hard(cloth) or (use.on_skin and _scratches(cloth) and use.lined is not True):
        how = "press nothing; clear the allowance, sew, bind each raw edge with ribbon or bias"
        return Advice(
            Seam("SSa", 20.0, "bound", "after", how), say("the inside scratches and frays", fray)
        )
    special = None if use.short_lived else _hard_edge(cloth, wide)
    if special:
        return special
    if cloth.frays == 3 and not use.short_lived:
        how = "overlock every edge, one layer at a time, before anything is joined; then sew plain and open"
        return Advice(
            Seam("SSa", wide, "overedge", "before-assembly", how),
            say("it frays badly: the edges must be held before handling", fray),
        )
    if use.short_lived and cloth.frays <= 2:
        finish = "none" if use.lined else "pinked"
        when = "none" if use.lined else "before-assembly"
        how = "sew plain; for one wearing pinked shears or the lining are enough"
        return Advice(Seam("SSa", wide, finish, when, how), say("made for a night or two", fray))
    if cloth.frays == 3:
        how = "zigzag over each raw edge before handling, then sew plain and open"
        return Advice(
            Seam("SSa", wide, "zigzag", "before-assembly", how),
            say("it frays badly even in one night", fray),
        )
    if _prints_through(cloth):
        how = (
            "sew plain, open the allowances, bind each raw edge with a strip of light silk or bias"
        )
        return Advice(
            Seam("SSa", wide, "bound", "after", how),
            say("it frays, and an overlocked edge would print through its smooth face", fray),
        )
    if cloth.frays == 1:
        how = "sew plain, press open, overlock or zigzag the edges"
        return Advice(Seam("SSa", 15.0, "overedge", "after", how), say("it frays a little", fray))
    how = "sew plain, open the allowances, overlock each edge (zigzag or binding do as well)"
    return Advice(Seam("SSa", wide, "overedge", "after", how), say("it frays", fray))


METAL_BROCADE_GSM = 170.0
"""From this mass on metallised cut ends are bound [g/m2] (guess)."""

OPEN_PACKING = 0.24
"""A coarse cloth of less packing lets an overlocked edge slip off [-] (guess)."""


def _hard_edge(cloth: Cloth, allowance_mm: float) -> Advice[Seam] | None:
    """The edges that an overlocker does not hold: metal yarn ends, loose coarse weaves."""
    fray, say = cloth.reasons["frays"], traits.practice
    heavy = cloth.mass_per_area_gsm.value >= METAL_BROCADE_GSM
    if cloth.metallic_percent >= 20.0 and heavy and cloth.construction == "woven":
        how = "bind each raw edge as soon as it is cut, or underline first; then sew plain and open"
        return Advice(
            Seam("SSa", allowance_mm, "bound", "before-assembly", how),
            say("metallised ends work out of an overlocked edge and scratch", fray),
        )
    if traits.is_coarse(cloth) and cloth.packing.value < OPEN_PACKING and cloth.frays == 3:
        how = "two rows of zigzag along every cut edge before handling, or bind it; sew plain, open"
        return Advice(
            Seam("SSa", allowance_mm, "zigzag", "before-assembly", how),
            say("an overlocked edge slides off a loose coarse weave", fray),
        )
    return None


def _prints_through(cloth: Cloth) -> bool:
    """Whether the face is so smooth and heavy that a thick edge shows on it."""
    smooth = cloth.yarn == "filament" and cloth.holes_show and not cloth.has(PartKind.PILE)
    return smooth and cloth.mass_per_area_gsm.value >= 170.0 and cloth.construction == "woven"


def _scratches(cloth: Cloth) -> bool:
    return cloth.has(PartKind.FILM) or cloth.metallic_percent >= 5.0
