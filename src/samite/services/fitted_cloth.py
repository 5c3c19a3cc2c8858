"""What a cloth allows fitted pieces, read from its label."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth, metallic_percent
from samite.cloth.reading import PartKind
from samite.kernel.errors import InfeasibleError, SamiteError
from samite.pieces.shape import Shape
from samite.tables.fitted import strain_value

LEAST_STRETCH_PERCENT = 15.0
"""Least stretch across of a cloth for garments smaller than the body [%]."""

_STIFF_PARTS = (PartKind.SEQUINS, PartKind.BEADS, PartKind.FILM, PartKind.COATING)
_SHEETS = ("film", "leather", "foam", "nonwoven")
_SOFT_WORDS = ("crepe", "wool", "flannel", "georgette", "tweed")
_STIFF_WORDS = ("taffeta", "brocade", "jacquard", "lame", "organza")


@dataclass(frozen=True, slots=True)
class ClothGives:
    """What a cloth allows.

    Parameters
    ----------
    cloth : Cloth or None
        The cloth, if its label was read.
    cloth_class : str
        Its class in the table of allowed strain.
    settings : mapping of str to float
        Settings of a fitted shape that follow from it.
    told : str
        One sentence.
    grade : str
        ``guess``, or ``measured-here`` where it was said after a trial on a swatch, or swatches that
        are kept tell it.
    told_by : tuple of str
        Swatches that are kept and tell of it, one phrase each.
    """

    cloth: Cloth | None
    cloth_class: str
    settings: Mapping[str, float]
    told: str
    grade: str = "guess"
    told_by: tuple[str, ...] = ()


def cloth_gives(label: str, shape: Shape) -> ClothGives:
    """Return what a cloth allows a fitted shape.

    Parameters
    ----------
    label : str
        Its label; empty for none.
    shape : Shape
        The shape.

    Returns
    -------
    ClothGives
        Limits, or stretch for shapes that are worn stretched.

    Raises
    ------
    InfeasibleError
        If the shape is worn stretched and the cloth does not stretch.
    """
    stretched = any(p.name == "stretch_across" for p in shape.parameters)
    cloth = _read(label)
    if cloth is None:
        what = f"{label!r} is no label that can be read" if label else "no cloth was named"
        taken = "a knit that stretches 50 % across" if stretched else "a plain woven cloth"
        return ClothGives(None, "knit" if stretched else "plain", {}, f"{what}: taken for {taken}")
    across, along = cloth.stretch_cross_percent.value, cloth.stretch_length_percent.value
    if stretched:
        if across < LEAST_STRETCH_PERCENT:
            raise InfeasibleError(
                f"no number of panels dresses a body in less cloth than its girth when the cloth"
                f" stretches only {across:.0f} % across", "cloth",
                f"take a knit that stretches at least {LEAST_STRETCH_PERCENT:.0f} %, or a fitted"
                " shape with ease: fitted-bodice, fitted-skirt, fitted-trousers",
            )  # fmt: skip
        told = f"{cloth.structure_name}: stretches {across:.0f} % across, {along:.0f} % along"
        return ClothGives(
            cloth, "knit", {"stretch_across": min(across, 400.0), "stretch_along": along}, told
        )
    found = class_of(cloth)
    if found == "knit":
        # cut with ease a knit may be pulled by a part of its stretch before it shows
        settings = {
            "weft_limit": max(4.5, 0.25 * across), "warp_limit": max(4.5, 0.25 * along),
            "surplus_limit": 6.0, "shear_limit": strain_value("knit", "shear_limit_deg").value,
        }  # fmt: skip
    else:
        settings = {
            "warp_limit": strain_value(found, "warp_limit_percent").value,
            "weft_limit": strain_value(found, "weft_limit_percent").value,
            "surplus_limit": strain_value(found, "surplus_limit_percent").value,
            "shear_limit": strain_value(found, "shear_limit_deg").value,
        }
    told = (
        f"{cloth.structure_name}: taken to give {settings['warp_limit']:.1f} % along and"
        f" {settings['weft_limit']:.1f} % across"
    )
    return ClothGives(cloth, found, settings, told)


_SAID = {
    "warp_limit": "{:g} % along", "weft_limit": "{:g} % across",
    "surplus_limit": "{:g} % too much", "shear_limit": "{:g} degrees of shear",
    "stretch_across": "a stretch of {:g} % across", "stretch_along": "a stretch of {:g} % along",
}  # fmt: skip


def with_said(gives: ClothGives, settings: Mapping[str, float | str]) -> ClothGives:
    """Return what a cloth allows, overruled by what was said after a trial on a swatch.

    Parameters
    ----------
    gives : ClothGives
        By its label.
    settings : mapping of str to float or str
        What was set by hand.

    Returns
    -------
    ClothGives
        The sentence tells what was said; all that matters most said, it is no guess any more.
    """
    said = [name for name in _SAID if name in settings]
    if not said:
        return gives
    most = {"weft_limit", "warp_limit"} <= set(said) or "stretch_across" in said
    words = ", ".join(_SAID[name].format(settings[name]) for name in said)
    return replace(
        gives, told=f"{gives.told}; instead, as you measured it: {words}",
        settings={k: v for k, v in gives.settings.items() if k not in said},
        grade="measured-here" if most else gives.grade,
    )  # fmt: skip


def _read(label: str) -> Cloth | None:
    if not label.strip():
        return None
    try:
        return build_cloth(read_label(label))
    except SamiteError:
        return None


def class_of(cloth: Cloth) -> str:
    """Return the class of a cloth in the table of allowed strain.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    str
        ``knit``, ``sheet``, ``stiff``, ``delicate``, ``soft`` or ``plain``.
    """
    name = f"{cloth.structure_key or ''} {cloth.structure_name}".casefold()
    stretch = max(cloth.stretch_cross_percent.value, cloth.stretch_length_percent.value)
    if cloth.construction in _SHEETS and stretch < LEAST_STRETCH_PERCENT:
        return "sheet"
    if stretch >= LEAST_STRETCH_PERCENT:
        return "knit"
    stiff = cloth.stiffness >= 3 or any(word in name for word in _STIFF_WORDS[:4])
    if stiff or cloth.has(*_STIFF_PARTS) or metallic_percent(cloth.parts) >= 5.0:
        return "stiff"
    if cloth.pile_height_mm > 0.0 or cloth.sheer:
        return "delicate"
    if any(word in name for word in _SOFT_WORDS) or cloth.share("wool", "hair") >= 50.0:
        return "soft"
    return "plain"
