"""The forces on a joint: what its stitching, its cloths and its wear bring to bear."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.kernel.errors import UnknownError
from samite.seam import traits
from samite.seam.candidate import Candidate, Settled
from samite.seam.joint_strength import (
    SEWING_LOSS_SHARE,
    cloth_strength_n_per_cm,
    perforated_strength_share,
)
from samite.seam.needle_size import perforation_share
from samite.seam.strength import seam_strength_n_per_cm
from samite.seam.thread_size import thread_strength_n
from samite.tables.fibres import fibre
from samite.tables.sewing import sewing_entry

STRAINED_N_PER_CM = 24.0
"""Load on a strained seam: 60 N on a 25 mm grab, the slippage test of apparel cloth [N/cm]."""

GRAB_MM = 25.0
"""Width of the grab of that test [mm]."""

HEAVY_GSM = 220.0
"""From this mass on the test load is twice that [g/m2]."""

UNSTRAINED_SHARE = 0.5
"""Load on a seam that is not fitted, over that (guess) [-]."""

UNKNOWN_TENACITY_CN_TEX = 15.0
"""Tenacity of a fibre that no table knows (guess, weak) [cN/tex]."""

OPEN_WORK_SHARE = 0.5
"""Strength of knits, nets and laces against a weave of the same mass (guess) [-]."""


def stitching_strength_n_per_cm(candidate: Candidate, settled: Settled) -> float:
    """Return the force at which the stitching breaks.

    Parameters
    ----------
    candidate : Candidate
        Seam and stitch.
    settled : Settled
        Needle thread, the same below.

    Returns
    -------
    float
        Of all rows that share the load [N/cm].

    Notes
    -----
    Loop factor of the thread, scaled by that of the stitch against a lockstitch; a fifth is taken
    off for what sewing costs the thread.
    """
    thread = sewing_entry("thread", settled.thread.kind)
    stitch = sewing_entry("stitch", candidate.stitch.type)
    force = thread_strength_n(
        tenacity_cn_tex=thread.number("tenacity_cn_tex"),
        linear_density_tex=settled.thread.linear_density_tex,
    )
    lock = sewing_entry("stitch", "301").number("loop_factor")
    factor = stitch.number("loop_factor") / lock * stitch.number("needle_threads")
    one_row = seam_strength_n_per_cm(
        stitch_length_mm=candidate.stitch.length_mm,
        thread_strength_n=force * SEWING_LOSS_SHARE,
        loop_factor=thread.number("loop_factor") * factor,
    )
    passes = stitch.number("passes")
    return one_row * passes * sewing_entry("seam", candidate.form).number("rows")


def cloth_limit_n_per_cm(cloth: Cloth, candidate: Candidate, settled: Settled) -> float:
    """Return the force at which a cloth breaks along the needle's holes.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    candidate : Candidate
        Stitch length and form.
    settled : Settled
        Needle.

    Returns
    -------
    float
        Force per length of seam [N/cm].
    """
    mass = max(cloth.needle_mass_gsm, 1.0)
    open_work = cloth.construction in ("knit", "net", "lace", "nonwoven")
    whole = cloth_strength_n_per_cm(
        mass_per_area_gsm=mass,
        tenacity_cn_tex=_tenacity_cn_tex(cloth),
        strength_share=0.5 * (OPEN_WORK_SHARE if open_work else 1.0),
    )
    share = perforation_share(
        size_nm=settled.needle.size_nm, stitch_length_mm=candidate.stitch.length_mm
    )
    left = perforated_strength_share(
        perforation_share=share, cut_share=cut_share(cloth, settled.needle.point)
    )
    return max(whole * left, 0.1)


def _tenacity_cn_tex(cloth: Cloth) -> float:
    parts = [(item.percent, _fibre_tenacity(item.fibre)) for item in cloth.base.fibres]
    whole = sum(percent for percent, _ in parts)
    if not whole:
        return UNKNOWN_TENACITY_CN_TEX
    return sum(percent * tenacity for percent, tenacity in parts) / whole


def _fibre_tenacity(key: str) -> float:
    try:
        return fibre(key).quantity("tenacity_cn_tex").value
    except UnknownError:
        return UNKNOWN_TENACITY_CN_TEX


def cut_share(cloth: Cloth, point: str) -> float:
    """Return the share of what a needle meets that it cuts.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    point : str
        Point of the needle.

    Returns
    -------
    float
        1 in sheets, 0.5 for a sharp, 0.3 for a rounded point in yarns; guesses [-].
    """
    if traits.is_sheet(cloth) or point == "leather":
        return 1.0
    if cloth.construction in ("net", "lace"):
        return 0.2
    return 0.5 if point in ("sharp", "denim") else 0.3


def load_n_per_cm(cloths: tuple[Cloth, ...], use: Use) -> float:
    """Return the load that a seam has to bear.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths; the lightest decides.
    use : Use
        Whether the seam is strained.

    Returns
    -------
    float
        Load [N/cm].

    Notes
    -----
    The loads of the slippage test ISO 13936-2 on its 25 mm grab, 60 N up to 220 g/m2 and 120 N
    above (from memory); half of it where the garment is not fitted (guess).
    """
    lightest = min(cloth.mass_per_area_gsm.value for cloth in cloths)
    full = STRAINED_N_PER_CM * (2.0 if lightest > HEAVY_GSM else 1.0)
    return full if use.strain else full * UNSTRAINED_SHARE
