"""How far each number of a seam may be off, and on what that rests."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity
from samite.seam import traits
from samite.seam.appraise import Numbers
from samite.seam.bulk import PRESSED_SHARE
from samite.seam.candidate import Candidate
from samite.seam.ground import thickest_layers

POUNDED_SHARE, LOOSE_SHARE = 0.6, 1.0
"""Thickness left of a seam beaten with a clapper, and of one that is only finger pressed [-]."""

STITCHING = (0.6, 1.4)
"""Strength of stitching over what is computed: tension, thread lots, sewing (guess) [-]."""

CLOTH = (0.5, 2.0)
"""Strength of a cloth over what its mass and fibre say (guess) [-]."""

SHARES = {
    "thread_ratio": (0.7, 1.3, "common-practice", Grade.COMMON_PRACTICE),
    "needle_thread_ratio": (0.7, 1.3, "common-practice", Grade.COMMON_PRACTICE),
    "other_thread_ratio": (0.7, 1.4, "common-practice", Grade.COMMON_PRACTICE),
    "stitching_n_per_cm": (*STITCHING, "guess", Grade.GUESS),
    "weakest_cloth_n_per_cm": (*CLOTH, "guess", Grade.GUESS),
    "load_n_per_cm": (0.5, 2.0, "guess", Grade.GUESS),
    "stretch_percent": (0.7, 1.0, "guess", Grade.GUESS),
    "needed_stretch_percent": (0.5, 1.5, "guess", Grade.GUESS),
    "minutes_per_m": (0.5, 1.5, "guess", Grade.GUESS),
}
"""Low and high over the value, source and grade. Thread: the band round printed flat ratios; more
below, since a measured chain held 4.1 of looper thread where the geometry has 3."""

UNITS = {
    "thread_ratio": "1",
    "needle_thread_ratio": "1",
    "other_thread_ratio": "1",
    "stitching_n_per_cm": "N/cm",
    "weakest_cloth_n_per_cm": "N/cm",
    "load_n_per_cm": "N/cm",
    "stretch_percent": "%",
    "needed_stretch_percent": "%",
    "minutes_per_m": "min/m",
}


def number_ranges(
    candidate: Candidate, numbers: Numbers, cloths: tuple[Cloth, ...], use: Use
) -> dict[str, Quantity]:
    """Return the range of each number of a seam.

    Parameters
    ----------
    candidate : Candidate
        The seam.
    numbers : Numbers
        What it will do.
    cloths : tuple of Cloth
        The cloths.
    use : Use
        What the seam has to bear.

    Returns
    -------
    dict of str to Quantity
        By the name of the number; those that are exact are left out.

    Notes
    -----
    A range is what a trained eye would grant, not a measured distribution. That of strength is the
    weaker of stitching and cloth at either end; that of thickness comes from the cloths' own and
    from how hard the seam is pressed.
    """
    found = {}
    for name, (low, high, source, grade) in SHARES.items():
        value = float(getattr(numbers, name))
        evidence = Evidence(source, grade)
        found[name] = Quantity(value, low * value, high * value, UNITS[name], evidence)
    found["strength_n_per_cm"] = _strength(numbers)
    found |= _bulk(candidate, numbers, cloths, use)
    return found


def _strength(numbers: Numbers) -> Quantity:
    value, stitching = numbers.strength_n_per_cm, numbers.stitching_n_per_cm
    cloth = numbers.weakest_cloth_n_per_cm
    low = min(STITCHING[0] * stitching, CLOTH[0] * cloth, value)
    high = max(min(STITCHING[1] * stitching, CLOTH[1] * cloth), value)
    return Quantity(value, low, high, "N/cm", traits.GUESS)


def _bulk(
    candidate: Candidate, numbers: Numbers, cloths: tuple[Cloth, ...], use: Use
) -> dict[str, Quantity]:
    layers = thickest_layers(candidate, cloths, use)
    whole = sum(mm for _, mm in layers)
    low = sum(mm * cloth.thickness_mm.low / cloth.thickness_mm.value for cloth, mm in layers)
    high = sum(mm * cloth.thickness_mm.high / cloth.thickness_mm.value for cloth, mm in layers)
    ends = (
        low / whole * POUNDED_SHARE / PRESSED_SHARE,
        high / whole * LOOSE_SHARE / PRESSED_SHARE,
    )
    return {
        name: Quantity(value, ends[0] * value, ends[1] * value, "mm", traits.GUESS)
        for name, value in (
            ("thickness_mm", numbers.thickness_mm),
            ("crossing_mm", numbers.crossing_mm),
        )
    }
