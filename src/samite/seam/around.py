"""What goes with a joint: its hem, its fastening, its lining, underlining, interfacing and stay."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.kernel.reasons import Advice
from samite.seam import traits
from samite.tables.sewing import Entry, sewing_entry

Pick = tuple[bool, str, str]
"""Whether a rule holds, the key it picks, and why."""


@dataclass(frozen=True, slots=True)
class Addition:
    """Something that goes with the joint.

    Parameters
    ----------
    role : str
        ``hem``, ``fastening``, ``lining``, ``underlining``, ``interfacing`` or ``stay``.
    entry : Entry
        What it is, from the tables.
    why : str
        Why it is chosen.
    """

    role: str
    entry: Entry
    why: str

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``role``, ``key``, ``name``, ``how``, ``mind``, ``minutes_per_m``, ``why``.
        """
        entry = self.entry
        found: dict[str, object] = {
            "role": self.role,
            "key": entry.key,
            "name": entry.word("name"),
            "how": entry.word("how") if entry.has("how") else entry.word("fits"),
            "mind": entry.word("mind") if entry.has("mind") else "",
            "why": self.why,
        }
        if entry.has("minutes_per_m"):
            found["minutes_per_m"] = entry.number("minutes_per_m")
        return found


def choose_additions(cloths: tuple[Cloth, ...], use: Use) -> tuple[Addition, ...]:
    """Choose what goes with a joint.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths, each once.
    use : Use
        What the garment has to bear.

    Returns
    -------
    tuple of Addition
        A hem for each cloth; fastening, lining, underlining, interfacing and stay where wanted.
    """
    found = []
    for cloth in cloths:
        hem = choose_hem(cloth)
        entry = sewing_entry("hem", hem.value)
        found.append(Addition("hem", entry, f"{cloth.structure_name}: {hem.reason.claim}"))
    fastening = choose_fastening(cloths, use)
    entry = sewing_entry("fastening", fastening.value)
    found.append(Addition("fastening", entry, fastening.reason.claim))
    for role, advice in _layers(cloths, use):
        found.append(Addition(role, sewing_entry("stay", advice.value), advice.reason.claim))
    return tuple(found)


def _first(picks: tuple[Pick, ...]) -> Advice[str]:
    key, why = next((key, why) for holds, key, why in picks if holds)
    return Advice(key, traits.practice(why))


def choose_hem(cloth: Cloth) -> Advice[str]:
    """Choose the kind of hem.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of str
        Key in ``hems.csv``.
    """
    sheer = cloth.sheer and cloth.construction == "woven"
    net = cloth.construction in ("net", "nonwoven", "film")
    return _first(
        (
            (cloth.construction == "lace", "scalloped", "a motif edge ends a lace best"),
            (traits.is_sewn_hard(cloth), "faced", "sequins and beads scratch when turned inside"),
            (net or cloth.construction == "foam", "raw", "it does not fray"),
            (sheer and cloth.stiffness >= 2, "horsehair", "a crisp sheer stands out on braid"),
            (sheer, "rolled", "a wide turning shows through a sheer"),
            (traits.is_fur(cloth), "catch", "a pile is too thick to turn twice"),
            (traits.is_sheet(cloth), "raw", "a sheet does not fray"),
            (
                cloth.construction == "knit" and not cloth.has(PartKind.PILE),
                "twin-needle",
                "it stretches with the knit",
            ),
            (cloth.has(PartKind.PILE), "catch", "loose stitches do not print through a pile"),
            (cloth.holes_show or cloth.metallic_percent >= 5.0, "faced", "edges print through"),
            (cloth.mass_per_area_gsm.value < 110.0, "narrow", "light cloth takes a narrow turning"),
            (True, "blind", "ordinary dress cloth"),
        )
    )


def choose_fastening(cloths: tuple[Cloth, ...], use: Use) -> Advice[str]:
    """Choose how a garment of these cloths closes at this seam.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths, each once.
    use : Use
        What the garment has to bear.

    Returns
    -------
    Advice of str
        Key in ``fastenings.csv``.
    """
    stretches = all(traits.is_stretch_knit(cloth) for cloth in cloths)
    tender = any(
        cloth.has(PartKind.PILE) or traits.is_sewn_hard(cloth) or cloth.construction == "lace"
        for cloth in cloths
    )
    sheet = any(traits.is_sheet(cloth) for cloth in cloths)
    sheer = all(cloth.sheer or cloth.construction in ("net", "lace") for cloth in cloths)
    return _first(
        (
            (use.performance, "separating-zip", "it opens at once for a change in the wings"),
            (stretches, "elastic", "the cloths stretch over the body by themselves"),
            (sheer, "hook-and-eye", "a zip is too heavy for a sheer"),
            (
                use.strain and not sheet and tender,
                "lacing",
                "it spreads the pull on a tender cloth",
            ),
            (tender, "hand-picked-zip", "a foot crushes pile, beads and lace"),
            (sheet, "centred-zip", "a sheet cannot be turned over a concealed zip"),
            (True, "concealed-zip", "smooth cloth of medium weight"),
        )
    )


def _layers(cloths: tuple[Cloth, ...], use: Use) -> list[tuple[str, Advice[str]]]:
    """Return lining, underlining, interfacing and stay, as far as they are wanted."""
    found = []
    if use.lined is not False:
        found.append(("lining", choose_lining(cloths)))
    for role, picks in (
        ("underlining", _underlining(cloths, use)),
        ("interfacing", _stiff(cloths)),
    ):
        held = tuple(pick for pick in picks if pick[0])
        if held:
            found.append((role, _first(held)))
    stay = tuple(pick for pick in _stay(cloths, use) if pick[0])
    if stay:
        found.append(("stay", _first(stay)))
    return found


def choose_lining(cloths: tuple[Cloth, ...]) -> Advice[str]:
    """Choose a lining.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths, each once.

    Returns
    -------
    Advice of str
        Key in ``stays.csv``.
    """
    stretches = any(traits.is_stretch_knit(cloth) for cloth in cloths)
    washed = all(cloth.share("polyester", "polyamide", "cotton") >= 60.0 for cloth in cloths)
    light = all(cloth.mass_per_area_gsm.value < 90.0 for cloth in cloths)
    return _first(
        (
            (stretches, "knit-lining", "a lining that does not stretch stops the cloth"),
            (light, "silk-habotai", "as light as the cloths"),
            (washed, "polyester-lining", "it washes with the cloths"),
            (True, "acetate-lining", "it slides and presses easily"),
        )
    )


def _underlining(cloths: tuple[Cloth, ...], use: Use) -> tuple[Pick, ...]:
    beaded = any(traits.is_sewn_hard(cloth) for cloth in cloths)
    metal = any(cloth.metallic_percent >= 5.0 and cloth.frays >= 2 for cloth in cloths)
    slips = any(cloth.slippery >= 2 and cloth.yarn == "filament" for cloth in cloths)
    loose = any(cloth.frays == 3 and not cloth.sheer for cloth in cloths)
    return (
        (beaded, "net-underlining", "net carries the weight of beads"),
        (metal, "silk-organza", "organza holds the yarns of a metal cloth and takes its stitches"),
        (use.strain and slips, "silk-organza", "the underlining carries a seam that slips"),
        (loose, "cotton-lawn", "lawn holds a weave that falls apart"),
    )


def _stiff(cloths: tuple[Cloth, ...]) -> tuple[Pick, ...]:
    hot = any(
        cloth.has(
            PartKind.PILE, PartKind.FILM, PartKind.SEQUINS, PartKind.GLITTER, PartKind.COATING
        )
        or cloth.metallic_percent >= 5.0
        for cloth in cloths
    )
    soft = any(cloth.stiffness <= 1 and cloth.construction == "knit" for cloth in cloths)
    return (
        (hot, "sew-in-organza", "one of them bears no fusing"),
        (soft, "fusible-knit", "it moves with a knit"),
    )


def _stay(cloths: tuple[Cloth, ...], use: Use) -> tuple[Pick, ...]:
    knit = any(traits.is_stretch_knit(cloth) for cloth in cloths)
    firm = any(not traits.is_stretch_knit(cloth) for cloth in cloths)
    slips = any(cloth.slippery >= 2 and cloth.construction == "woven" for cloth in cloths)
    return (
        (knit and firm, "stay-tape", "the knit must not grow against the firm cloth"),
        (use.strain and slips, "organza-strip", "a strip in the seam holds slippery yarns"),
        (use.curved, "stay-tape", "a curve stretches as it is handled"),
    )
