"""The glass transition and how water lowers it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

ZERO_C_K = 273.15
WATER_TRANSITION_K = 136.0
"""Glass transition of water [K], as used with the Fox relation for wool."""

NEVER_C = 1.0e4
"""Stands for a transition that no dry fibre could have: the wet one is always passed [C]."""


ACCESSIBLE_SHARE = {"cellulose": 0.5}
"""Share of the fibre that takes up water, by group; 1 where not named (from memory)."""


def accessible_share(group: str, *, melts: bool) -> float:
    """Return the share of a fibre that takes up water and is softened by it.

    Parameters
    ----------
    group : str
        Group in the fibre table.
    melts : bool
        Whether the fibre melts: the esters of cellulose do, and hardly crystallise.

    Returns
    -------
    float
        Share, 0 to 1 [-].

    Notes
    -----
    The crystals of cellulose, about half of it, take up none: with that the Fox relation gives
    the wet transition under 20 C that is told of cellulose. Wool obeys the relation as a whole.
    Nylon has crystals too; leaving them in errs to a higher wet transition.
    """
    return 1.0 if melts else ACCESSIBLE_SHARE.get(group, 1.0)


def wet_glass_transition(*, dry_c: float, water_share: float) -> float:
    """Return the glass transition of a fibre that holds water.

    Parameters
    ----------
    dry_c : float
        Transition of the dry fibre [C].
    water_share : float
        Mass of water over mass of wet fibre, 0 to 1 [-].

    Returns
    -------
    float
        Transition [C].

    Notes
    -----
    Fox: 1/Tg = (1 - w)/Tg_fibre + w/Tg_water, in kelvin. Good for wool up to about 30 % water;
    errs low for fibres whose crystals take up none (polyester, nylon).

    References
    ----------
    wortmann-wool, Fox equation with 447 K and 136 K.
    """
    dry, water = dry_c + ZERO_C_K, water_share
    return 1.0 / ((1.0 - water) / dry + water / WATER_TRANSITION_K) - ZERO_C_K


def softest_dry_transition(*, temperature_c: Real, water_share: Real) -> Real:
    """Return the dry transition of the fibre that just softens at a temperature and water share.

    Parameters
    ----------
    temperature_c : ndarray of float, any shape
        Temperature of the fibre [C].
    water_share : ndarray of float, same shape
        Mass of water over mass of wet fibre, 0 to 1 [-].

    Returns
    -------
    ndarray of float, same shape
        Dry transition [C]: every fibre whose dry transition is lower is soft.

    Notes
    -----
    The Fox relation solved for the fibre's own transition.

    References
    ----------
    wortmann-wool, Fox equation.
    """
    rest = 1.0 / (temperature_c + ZERO_C_K) - water_share / WATER_TRANSITION_K
    with np.errstate(divide="ignore"):
        dry = (1.0 - water_share) / rest - ZERO_C_K
    return np.where(rest > 0.0, np.minimum(dry, NEVER_C), NEVER_C)
