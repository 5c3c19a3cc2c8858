"""How full to gather, by what the cloth is."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.kernel.quantity import Quantity
from samite.kernel.ranges import require_positive
from samite.seam import traits
from samite.tables.sewing import sewing_entry


def gathering_class(cloth: Cloth) -> str:
    """Return the class under which the table gives a gathering ratio.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    str
        A key of ``gathering.csv``.
    """
    mass = cloth.mass_per_area_gsm.value
    if traits.is_sheet(cloth) or traits.is_fur(cloth):
        return "film"
    if cloth.construction == "net":
        return "net" if cloth.stiffness >= 2 else "sheer"
    if cloth.sheer and cloth.stiffness <= 1:
        return "sheer"
    if mass < 110.0:
        return "light"
    if cloth.construction == "knit":
        return "knit"
    return "medium" if mass < 230.0 else "heavy"


def gathering_ratio(*, cloth_class: str) -> Quantity:
    """Return the flat length to gather into a length of seam.

    Parameters
    ----------
    cloth_class : str
        ``sheer``, ``net``, ``light``, ``medium``, ``heavy``, ``knit``, ``film``, ``ease`` or
        ``ruffle``.

    Returns
    -------
    Quantity
        Flat length over finished length [-].

    Raises
    ------
    UnknownNameError
        If the class is not in the table.

    References
    ----------
    ``common-practice``: gathering ratios.
    """
    return sewing_entry("gathering", cloth_class).quantity("gathering_ratio")


def gathered_thickness_mm(*, thickness_mm: float, gathering_ratio: float) -> float:
    """Return how thick a gathered ply lies in its seam.

    Parameters
    ----------
    thickness_mm : float
        Thickness of the flat cloth [mm].
    gathering_ratio : float
        Flat length over finished length [-].

    Returns
    -------
    float
        Mean thickness in the seam line [mm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    As much cloth in less length. The folds of loose gathers stand higher than this mean.

    References
    ----------
    ``definition``: volume of the cloth is kept.
    """
    require_positive(thickness_mm=thickness_mm, gathering_ratio=gathering_ratio)
    return thickness_mm * gathering_ratio
