"""Water in fibres: regain, moisture content, commercial mass and what they do to heat capacity."""

from __future__ import annotations

import math
from collections.abc import Sequence

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between, require_positive

WATER_SPECIFIC_HEAT_J_GK = 4.18
"""Specific heat of liquid water between 20 and 100 degrees C [J/(g K)]."""


def moisture_content_percent(*, regain_percent: float) -> float:
    """Return the moisture content that a regain amounts to.

    Parameters
    ----------
    regain_percent : float
        Water per mass of dry fibre [%].

    Returns
    -------
    float
        Water per mass of moist fibre [%].

    Raises
    ------
    OutOfRangeError
        If the regain is negative.

    Notes
    -----
    M = 100 R / (100 + R); exact.

    References
    ----------
    ``definition``: moisture regain and moisture content.
    """
    require_between(0.0, math.inf, regain_percent=regain_percent)
    return 100.0 * regain_percent / (100.0 + regain_percent)


def commercial_mass_g(*, dry_mass_g: float, allowance_percent: float) -> float:
    """Return the mass at which a dry mass is traded.

    Parameters
    ----------
    dry_mass_g : float
        Mass of the bone-dry fibre [g].
    allowance_percent : float
        Agreed allowance of the fibre, on the dry mass [%].

    Returns
    -------
    float
        Commercial mass [g].

    Raises
    ------
    OutOfRangeError
        If the mass is not positive or the allowance negative.

    Notes
    -----
    m = m_dry (1 + a/100); exact by definition of the allowance.

    References
    ----------
    ``eu-1007-2011-quotation``: Annex IX.
    """
    require_positive(dry_mass_g=dry_mass_g)
    require_between(0.0, math.inf, allowance_percent=allowance_percent)
    return dry_mass_g * (1.0 + allowance_percent / 100.0)


def blend_at_allowances_percent(
    *,
    dry_shares_percent: Sequence[float],
    allowances_percent: Sequence[float],
    losses_percent: Sequence[float] | None = None,
) -> tuple[float, ...]:
    """Return the composition of a blend as the label must state it, from its dry composition.

    Parameters
    ----------
    dry_shares_percent : sequence of float
        Clean dry mass of each fibre as a share of the whole [%].
    allowances_percent : sequence of float
        Agreed allowance of each fibre [%].
    losses_percent : sequence of float, optional
        What each fibre loses in the pre-treatment of the analysis [%]; nothing if left out.

    Returns
    -------
    tuple of float
        Share of each fibre with agreed allowances [%]; adds to 100.

    Raises
    ------
    InputError
        If the lists differ in length or are empty.
    OutOfRangeError
        If a share, allowance or loss is negative or the shares add to nothing.

    Notes
    -----
    P_i = 100 p_i (1 + (a_i + b_i)/100) / sum over j of p_j (1 + (a_j + b_j)/100).

    References
    ----------
    ``eu-1007-2011``: Annex VIII, chapter 3 (ternary mixtures).
    """
    losses = losses_percent or [0.0] * len(dry_shares_percent)
    _require_same_length(
        dry_shares_percent=dry_shares_percent,
        allowances_percent=allowances_percent,
        losses_percent=losses,
    )
    for share, allowance, loss in zip(dry_shares_percent, allowances_percent, losses, strict=True):
        require_between(0.0, 100.0, dry_shares_percent=share, losses_percent=loss)
        require_between(0.0, math.inf, allowances_percent=allowance)
    masses = [
        share * (1.0 + (allowance + loss) / 100.0)
        for share, allowance, loss in zip(
            dry_shares_percent, allowances_percent, losses, strict=True
        )
    ]
    whole = sum(masses)
    require_positive(dry_shares_percent=whole)
    return tuple(100.0 * mass / whole for mass in masses)


def mass_at_regain_gsm(
    *, mass_per_area_gsm: float, regain_percent: float, new_regain_percent: float = 0.0
) -> float:
    """Return the mass per area of a cloth after it has taken up or given off water.

    Parameters
    ----------
    mass_per_area_gsm : float
        Mass per area as weighed [g/m2].
    regain_percent : float
        Regain at which it was weighed [%].
    new_regain_percent : float
        Regain asked for; 0 is bone dry [%].

    Returns
    -------
    float
        Mass per area at the new regain [g/m2].

    Raises
    ------
    OutOfRangeError
        If the mass is not positive or a regain negative.

    Notes
    -----
    m' = m (100 + R') / (100 + R). The area is taken as unchanged; a cloth that shrinks as it
    dries gains mass per area.

    References
    ----------
    ``definition``: moisture regain.
    """
    require_positive(mass_per_area_gsm=mass_per_area_gsm)
    require_between(
        0.0, math.inf, regain_percent=regain_percent, new_regain_percent=new_regain_percent
    )
    return mass_per_area_gsm * (100.0 + new_regain_percent) / (100.0 + regain_percent)


def blend_specific_heat_j_gk(
    *, shares_percent: Sequence[float], specific_heats_j_gk: Sequence[float]
) -> float:
    """Return the specific heat of a blend.

    Parameters
    ----------
    shares_percent : sequence of float
        Share of each fibre by mass [%]; need not add to 100.
    specific_heats_j_gk : sequence of float
        Specific heat of each fibre [J/gK].

    Returns
    -------
    float
        Specific heat of the blend [J/gK].

    Raises
    ------
    InputError
        If the lists differ in length or are empty.
    OutOfRangeError
        If a share is negative, a specific heat not positive, or the shares add to nothing.

    Notes
    -----
    Mean weighted by mass; exact for a mechanical mixture.

    References
    ----------
    ``definition``: mixture by mass.
    """
    _require_same_length(shares_percent=shares_percent, specific_heats_j_gk=specific_heats_j_gk)
    for share, heat in zip(shares_percent, specific_heats_j_gk, strict=True):
        require_between(0.0, math.inf, shares_percent=share)
        require_positive(specific_heats_j_gk=heat)
    whole = sum(shares_percent)
    require_positive(shares_percent=whole)
    heats = zip(shares_percent, specific_heats_j_gk, strict=True)
    return sum(share * heat for share, heat in heats) / whole


def specific_heat_at_regain_j_gk(*, dry_specific_heat_j_gk: float, regain_percent: float) -> float:
    """Return the specific heat of a fibre with the water that it holds.

    Parameters
    ----------
    dry_specific_heat_j_gk : float
        Specific heat of the dry fibre [J/gK].
    regain_percent : float
        Water per mass of dry fibre [%].

    Returns
    -------
    float
        Specific heat of the moist fibre, per mass of moist fibre [J/gK].

    Raises
    ------
    OutOfRangeError
        If the specific heat is not positive or the regain negative.

    Notes
    -----
    c = (c_dry + 4.18 R/100) / (1 + R/100). Leaves out the heat of sorption, so the heat needed to
    warm and dry a cloth comes out too low.

    References
    ----------
    ``definition``: mixture by mass.
    """
    require_positive(dry_specific_heat_j_gk=dry_specific_heat_j_gk)
    require_between(0.0, math.inf, regain_percent=regain_percent)
    water = regain_percent / 100.0
    return (dry_specific_heat_j_gk + WATER_SPECIFIC_HEAT_J_GK * water) / (1.0 + water)


def _require_same_length(**lists: Sequence[float]) -> None:
    lengths = {name: len(items) for name, items in lists.items()}
    if len(set(lengths.values())) > 1 or 0 in lengths.values():
        told = ", ".join(f"{name} has {length}" for name, length in lengths.items())
        raise InputError(f"the lists do not match: {told}", "shares", "give one number a fibre")
