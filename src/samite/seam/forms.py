"""Which forms of seam several cloths allow, and why not the others."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.seam import traits
from samite.seam.sides import sewn_cloths
from samite.seam.wants import Wants
from samite.tables.sewing import sewing_entry

FORMS = ("SSa", "SSa-closed", "SSae", "LSa", "LSc", "LSq", "FSa")
"""Forms that join cloths, keys in ``seams.csv``."""

FRENCH_MM = 1.4
"""Thickest pair of plies that folds into a French seam [mm]."""

FRENCH_GSM = 170.0
"""Heaviest opaque cloth that folds into a French seam [g/m2]."""

FELLED_MM = 2.2
"""Thickest pair of plies that folds into a felled seam [mm]."""

STITCHES_OF_FORM = {
    "SSa": frozenset({"301", "301-triple", "304", "401", "202"}),
    "SSa-closed": frozenset({"301", "301-triple", "304", "401", "504", "514", "516", "202"}),
    "SSae": frozenset({"301", "202"}),
    "LSa": frozenset({"301", "304", "202"}),
    "LSc": frozenset({"301", "401"}),
    "LSq": frozenset({"301", "304"}),
    "FSa": frozenset({"304", "308", "321", "607", "202"}),
}
"""Stitch types that make each form."""

NOT_FOR_SEAMS = {
    "101": "it runs back from its last stitch: for basting",
    "103": "it hems; it does not join",
    "209": "it gives way: for basting and gathering",
    "503": "it covers an edge; it does not hold a seam",
    "505": "its needle thread lies loose: for flat seams on knits only",
    "512": "the weaker of the four-thread overedges",
    "406": "it hems and covers; it does not join edges",
    "407": "it hems and covers; it does not join edges",
    "602": "it covers flat seams; few workrooms have one",
    "605": "it covers flat seams; few workrooms have one",
}
"""Stitch types that the table lists and that join no seam here."""


@dataclass(frozen=True, slots=True)
class RuledOut:
    """Something that does not work, and why.

    Parameters
    ----------
    what : str
        A seam, a stitch or a machine in words.
    why : str
        The reason.
    """

    what: str
    why: str

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form.

        Returns
        -------
        dict of str to str
            Keys ``what`` and ``why``.
        """
        return {"what": self.what, "why": self.why}


def form_bar(form: str, wants: tuple[Wants, ...], use: Use, behind: str = "") -> str:
    """Say why a form of seam cannot be made, or nothing.

    Parameters
    ----------
    form : str
        One of `FORMS`.
    wants : tuple of Wants
        The cloths.
    use : Use
        What the seam has to bear.
    behind : str
        Behind which of the first two a third lies.

    Returns
    -------
    str
        The reason; empty if it can.
    """
    cloths = tuple(one.cloth for one in wants)
    bars = {
        "SSa": _open_bar,
        "SSa-closed": _closed_bar,
        "SSae": _french_bar,
        "LSc": _felled_bar,
        "LSq": _welt_bar,
        "FSa": _butted_bar,
    }
    if form in ("SSae", "LSc") and (use.gathered or (use.curved and form == "SSae")):
        return "it does not lie round a curve or over gathers"
    if form == "LSa":
        return _lapped_bar(cloths)
    return bars[form](sewn_cloths(cloths, behind))


def _total_mm(cloths: tuple[Cloth, ...]) -> float:
    return sum(traits.sewn_thickness_mm(cloth) for cloth in cloths)


def _named(cloths: tuple[Cloth, ...]) -> str:
    return " and ".join(dict.fromkeys(cloth.structure_name for cloth in cloths))


def _open_bar(cloths: tuple[Cloth, ...]) -> str:
    foam = [one for one in cloths if one.construction == "foam" and one.thickness_mm.value >= 2.0]
    return f"{_named(tuple(foam))} does not fold at a seam line" if foam else ""


def _closed_bar(cloths: tuple[Cloth, ...]) -> str:
    if len(cloths) == 2 and all(traits.is_fur(cloth) for cloth in cloths):
        return "two pile allowances on one side stand up as a ridge"
    foam = [one for one in cloths if one.construction == "foam" and one.thickness_mm.value >= 2.0]
    return f"{_named(tuple(foam))} does not fold at a seam line" if foam else ""


def _french_bar(cloths: tuple[Cloth, ...]) -> str:
    if all(cloth.frays == 0 for cloth in cloths):
        return "neither cloth frays, so there is nothing to enclose"
    if _total_mm(cloths) > FRENCH_MM:
        return f"{_total_mm(cloths):.1f} mm of cloth does not fold twice within 6 mm"
    heavy = [one for one in cloths if not one.sheer and one.mass_per_area_gsm.value > FRENCH_GSM]
    if heavy:
        return f"{_named(tuple(heavy))} is too heavy to fold twice"
    stiff = [one for one in cloths if one.stiffness >= 3 and not one.frays >= 2]
    if stiff:
        return f"{_named(tuple(stiff))} springs out of a fold"
    rough = [
        one
        for one in cloths
        if traits.is_sheet(one)
        or traits.is_sewn_hard(one)
        or (one.has(PartKind.PILE) and not one.sheer)
    ]
    if rough:
        return f"{_named(tuple(rough))} does not turn within 4 mm"
    if any(cloth.construction == "knit" and traits.is_stretch_knit(cloth) for cloth in cloths):
        return "it stops a stretch cloth from stretching"
    return ""


def _lapped_bar(cloths: tuple[Cloth, ...]) -> str:
    if upper_ply(cloths) is None:
        return f"the cut edge on top would fray: {_named(cloths)}"
    if any(traits.is_fur(cloth) for cloth in cloths):
        return "a pile under the lap lifts it"
    return ""


def upper_ply(cloths: tuple[Cloth, ...]) -> int | None:
    """Return which cloth may lie on top of a lap with its edge cut.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths; a third lies behind and is never on top.

    Returns
    -------
    int or None
        Its index, 0 or 1, the first that does not fray; None if both fray.
    """
    order = {"lace": 0, "film": 1, "leather": 1, "nonwoven": 2}
    outer = cloths[:2]
    steady = [index for index, cloth in enumerate(outer) if cloth.frays == 0 or _sealed(cloth)]
    steady = [i for i in steady if not cloths[i].has(PartKind.SEQUINS, PartKind.BEADS)
              or cloths[i].construction == "lace"]  # fmt: skip
    return min(steady, key=lambda i: (order.get(cloths[i].construction, 3), i), default=None)


def _sealed(cloth: Cloth) -> bool:
    return traits.is_sheet(cloth) or cloth.construction in ("lace", "nonwoven")


def _felled_bar(cloths: tuple[Cloth, ...]) -> str:
    if len(cloths) > 2:
        return "only two plies fold into each other"
    if any(cloth.construction != "woven" or traits.is_sheet(cloth) for cloth in cloths):
        return "only woven cloths crease sharply enough to be felled"
    if _total_mm(cloths) > FELLED_MM:
        return f"{_total_mm(cloths):.1f} mm of cloth does not fold into itself"
    pile = [one for one in cloths if one.has(PartKind.PILE) or traits.is_sewn_hard(one)]
    if pile:
        return f"topstitching crushes {_named(tuple(pile))}"
    return ""


def _welt_bar(cloths: tuple[Cloth, ...]) -> str:
    if len(cloths) > 2:
        return "a welt takes two plies"
    bad = [
        one
        for one in cloths
        if one.has(PartKind.PILE) or traits.is_sewn_hard(one) or one.construction in ("net", "lace")
    ]
    if bad:
        return f"a row of topstitching lies badly on {_named(tuple(bad))}"
    return ""


def _butted_bar(cloths: tuple[Cloth, ...]) -> str:
    if len(cloths) > 2:
        return "only two edges can be butted"
    thin = [one for one in cloths if not _butts(one)]
    return f"{_named(tuple(thin))} is too thin or frays too much to butt" if thin else ""


def _butts(cloth: Cloth) -> bool:
    felt = cloth.construction == "nonwoven" and cloth.thickness_mm.value >= 0.8
    skin = cloth.construction in ("foam", "leather") and cloth.thickness_mm.value >= 0.8
    return felt or skin or (traits.is_fur(cloth) and cloth.frays == 0)


def form_name(form: str) -> str:
    """Return the plain name of a form.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.

    Returns
    -------
    str
        Its name.
    """
    return sewing_entry("seam", form).word("name")


def stitch_bar(stitch: str, form: str, cloths: tuple[Cloth, ...]) -> str:
    """Say why a stitch cannot sew a form in these cloths, or nothing.

    Parameters
    ----------
    stitch : str
        ISO 4915 number.
    form : str
        One of `FORMS`.
    cloths : tuple of Cloth
        The cloths.

    Returns
    -------
    str
        The reason; empty if it can.
    """
    if stitch in NOT_FOR_SEAMS:
        return NOT_FOR_SEAMS[stitch]
    if stitch not in STITCHES_OF_FORM[form]:
        return f"it does not make a {form_name(form)}"
    sheet = [one for one in cloths if traits.is_sheet(one)]
    if sheet and stitch in ("504", "514", "516", "301-triple"):
        return f"its many holes tear {_named(tuple(sheet))}"
    hard = [one for one in cloths if traits.is_sewn_hard(one)]
    if hard and stitch in ("504", "514", "516"):
        return f"its knife breaks on {_named(tuple(hard))}"
    if stitch == "301-triple" and any(cloth.sheer for cloth in cloths):
        return "three threads in each hole show and pucker in a sheer"
    if stitch in ("504", "514", "516") and any(cloth.pile_height_mm >= 12 for cloth in cloths):
        return "long pile winds into the loopers"
    return ""
