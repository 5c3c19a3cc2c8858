"""What each cloth objects to in each point of a needle, and the point that all bear best."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.reasons import Reason
from samite.seam import traits
from samite.seam.needle import choose_point

POINTS = ("universal", "sharp", "stretch", "ballpoint", "denim", "leather")
"""Points to choose among; a large eye is chosen by the thread."""

WILL_DO, RISKY, CANNOT = 1, 2, 3
"""Levels of an objection above none."""

RUNS_FIRST = {"stretch": 0, "ballpoint": 1, "universal": 2, "sharp": 3, "denim": 4, "leather": 5}
"""Order between points that are objected to alike: cut loops run on, pushed yarns can be coaxed back."""


@dataclass(frozen=True, slots=True)
class Objection:
    """What speaks against a point in a cloth.

    Parameters
    ----------
    level : int
        0 nothing, 1 will do, 2 risky, 3 cannot.
    claim : str
        Why.
    """

    level: int
    claim: str


NO_OBJECTION = Objection(0, "what this cloth wants")


def point_objection(cloth: Cloth, point: str) -> Objection:
    """Return what speaks against a point in a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    point : str
        One of `POINTS`.

    Returns
    -------
    Objection
        Its level and why.
    """
    if choose_point(cloth).value == point:
        return NO_OBJECTION
    rules = {
        "leather": _leather,
        "denim": _denim,
        "sharp": _sharp,
        "universal": _universal,
        "ballpoint": _ball,
        "stretch": _ball,
    }
    return rules[point](cloth)


def _skin(cloth: Cloth) -> bool:
    return cloth.construction in ("film", "leather")


def _elastic(cloth: Cloth) -> bool:
    if cloth.construction not in ("knit", "net", "lace") or traits.is_sheet(cloth):
        return False
    return cloth.elastane_percent >= 2.0 or (
        cloth.construction == "knit" and traits.stretch_percent(cloth) >= 35.0
    )


def _leather(cloth: Cloth) -> Objection:
    if _skin(cloth):
        return Objection(WILL_DO, "a cutting point parts a skin")
    if cloth.construction == "foam":
        return Objection(WILL_DO, "a cutting point parts a foam")
    return Objection(CANNOT, "a cutting point cuts its yarns")


def _denim(cloth: Cloth) -> Objection:
    if cloth.construction in ("film", "leather", "foam"):
        return Objection(WILL_DO, "a stiff blade goes through")
    if _elastic(cloth):
        return Objection(RISKY, "an acute point cuts elastic loops and skips")
    if cloth.sheer or (cloth.holes_show and cloth.mass_per_area_gsm.value < 200.0):
        return Objection(RISKY, "a stout blade leaves holes that show")
    if cloth.mass_per_area_gsm.value < 120.0:
        return Objection(RISKY, "a stout blade pulls light cloth into the plate")
    return Objection(WILL_DO, "stouter than it needs")


def _sharp(cloth: Cloth) -> Objection:
    if _skin(cloth):
        thick = cloth.thickness_mm.value >= 0.8
        claim = (
            "a slim point bends in a thick skin" if thick else "a slim point pierces a thin skin"
        )
        return Objection(RISKY if thick else WILL_DO, claim)
    if _elastic(cloth):
        return Objection(RISKY, "a sharp point cuts elastic loops: runs and skips")
    if cloth.construction == "knit" and not traits.is_fur(cloth):
        return Objection(
            RISKY if cloth.mass_per_area_gsm.value < 180.0 else WILL_DO,
            "a sharp point may cut a loop, which runs",
        )
    if traits.is_coarse(cloth):
        return Objection(RISKY, "thick hard yarns bend a slim blade")
    return Objection(WILL_DO, "finer than it needs")


def _universal(cloth: Cloth) -> Objection:
    if _skin(cloth):
        return Objection(RISKY, "a rounded point drags in a skin")
    if cloth.construction == "knit" and cloth.has(PartKind.FILM):
        return Objection(RISKY, "film on a knit drags at the needle: it skips")
    if _elastic(cloth):
        return Objection(RISKY, "elastic loops flex with a universal needle: it skips")
    if cloth.sheer and cloth.construction == "woven":
        return Objection(WILL_DO, "a rounded point leaves a slightly larger hole")
    return Objection(WILL_DO, "a rounded point finds its way")


def _ball(cloth: Cloth) -> Objection:
    if _skin(cloth):
        return Objection(CANNOT, "a ball does not pierce a skin")
    if cloth.construction == "foam":
        return Objection(RISKY, "a ball tears a foam")
    if cloth.has(PartKind.DOTS):
        return Objection(RISKY, "a ball slides off stuck-on dots")
    if cloth.construction == "woven" and (cloth.sheer or cloth.holes_show):
        return Objection(RISKY, "a ball pushes close fine yarns out of line, and it shows")
    if traits.is_coarse(cloth):
        return Objection(RISKY, "a ball bends off thick hard yarns")
    return Objection(WILL_DO, "a ball is blunter than it needs")


@dataclass(frozen=True, slots=True)
class SharedPoint:
    """The point that several cloths bear best.

    Parameters
    ----------
    point : str
        One of `POINTS`.
    objections : tuple of Objection
        One a cloth, in their order.
    common : bool
        False if no point serves all.
    reason : Reason
        Why.
    """

    point: str
    objections: tuple[Objection, ...]
    common: bool
    reason: Reason

    @property
    def worst(self) -> int:
        """The highest level of objection."""
        return max(one.level for one in self.objections)


def shared_point(cloths: tuple[Cloth, ...]) -> SharedPoint:
    """Choose the point that several cloths bear best.

    Parameters
    ----------
    cloths : tuple of Cloth
        Two or three cloths.

    Returns
    -------
    SharedPoint
        The point with what each cloth says against it.

    Notes
    -----
    Lowest highest objection first, then the lowest sum; between equals, the one that cuts no
    loops. No point is common if each is impossible in a cloth or risky in two unlike ones.
    """
    table = {point: tuple(point_objection(cloth, point) for cloth in cloths) for point in POINTS}
    best = min(
        POINTS,
        key=lambda point: (
            max(one.level for one in table[point]),
            sum(one.level for one in table[point]),
            RUNS_FIRST[point],
        ),
    )
    found = table[best]
    names = [cloth.structure_name for cloth in cloths]
    leaves = tuple(
        traits.practice(f"{name}: {one.claim}") for name, one in zip(names, found, strict=True)
    )
    reason = Reason(f"{best} point: what all plies bear best", leaves)
    return SharedPoint(best, found, _bearable(found, cloths), reason)


def _bearable(found: tuple[Objection, ...], cloths: tuple[Cloth, ...]) -> bool:
    if any(one.level == CANNOT for one in found):
        return False
    return (
        len({id(cloth) for one, cloth in zip(found, cloths, strict=True) if one.level == RISKY}) < 2
    )
