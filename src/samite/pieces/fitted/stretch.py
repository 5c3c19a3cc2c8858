"""Cloth that is worn stretched: how much, what it leaves, and how it presses on the skin."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.ranges import require_between, require_positive
from samite.pieces.fitted.report import Limits, Pressure
from samite.pieces.forms.drape import band_pressure_kpa
from samite.pieces.shape import Parameter, Values, choice, mm, number
from samite.pieces.surface.loft import Surface
from samite.tables.fitted import strain_value

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

STRETCH: tuple[Parameter, ...] = (
    number("stretch_across", "stretch of the cloth across, under a hand's pull", 50, 2, 400, "%"),
    number("stretch_along", "stretch of the cloth along", 30, 0, 400, "%"),
    number("used_across", "share of the stretch across that is worn", 40, 1, 95, "%"),
    number("used_along", "share of the stretch along that is worn: hardly any", 8, 0, 95, "%"),
    choice("hatching", "whether pulls are hatched on the pieces", "yes", "no"),
    mm("mesh", "distance of the points that the surface is computed at", 17.0, low=6, high=30),
)


def worn_strains(v: Values) -> tuple[float, float]:
    """Return how far the cloth is stretched as worn, around and along.

    Parameters
    ----------
    v : Values
        Stretch and the shares of it that are used.

    Returns
    -------
    tuple of float
        Strains [-].

    References
    ----------
    ``common-practice``: girths are reduced, lengths hardly.
    """
    return (
        v["used_across"] * v["stretch_across"] / 1e4, v["used_along"] * v["stretch_along"] / 1e4
    )  # fmt: skip


def shrink_of(v: Values) -> tuple[float, float]:
    """Return what lengths of the body are multiplied by, around and along.

    Parameters
    ----------
    v : Values
        Stretch and the shares of it that are used.

    Returns
    -------
    tuple of float
        Under 1 [-].

    References
    ----------
    ``derivation``: worn length over one plus strain.
    """
    around, along = worn_strains(v)
    return 1.0 / (1.0 + around), 1.0 / (1.0 + along)


def stretch_limits(v: Values) -> Limits:
    """Return what more than the even strain a stretch cloth may be asked to give.

    Parameters
    ----------
    v : Values
        Stretch and the shares of it that are used.

    Returns
    -------
    Limits
        Beyond the even strain.

    Notes
    -----
    Nowhere may the cloth be stretched by more than 85 % of its stretch; around it may not go slack;
    along it may have a little too much, which its stretch around takes up.

    References
    ----------
    ``guess``: shares of the stretch.
    """
    around, along = worn_strains(v)
    most = strain_value("knit", "stretch_most_percent").value / 100.0
    surplus = strain_value("knit", "surplus_limit_percent").value / 100.0
    return Limits(
        max((1.0 + most * v["stretch_along"] / 100.0) / (1.0 + along) - 1.0, 0.02),
        max((1.0 + most * v["stretch_across"] / 100.0) / (1.0 + around) - 1.0, 0.02),
        max(surplus, 0.6 * around), strain_value("knit", "shear_limit_deg").value,
    )  # fmt: skip


def pull_n_m(*, strain_percent: float, stretch_percent: float, hand_pull_n_m: float) -> float:
    """Return the pull of a stretched cloth over its width.

    Parameters
    ----------
    strain_percent : float
        How far it is stretched [%].
    stretch_percent : float
        How far a hand stretches it [%].
    hand_pull_n_m : float
        Pull of that hand [N/m].

    Returns
    -------
    float
        Pull [N/m].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    In proportion up to the hand's pull. Knits are softer at first and stiffer at the end: it errs
    high at small strains, low beyond the hand's pull.

    References
    ----------
    ``guess``: straight line through the hand's pull.
    """
    require_positive(stretch_percent=stretch_percent, hand_pull_n_m=hand_pull_n_m)
    require_between(0.0, 1000.0, strain_percent=strain_percent)
    return hand_pull_n_m * strain_percent / stretch_percent


def pressures_of(
    surface: Surface, v: Values, rows: Sequence[tuple[str, float, bool]]
) -> tuple[Pressure, ...]:
    """Return the pressure of a stretched garment on the skin at its levels.

    Parameters
    ----------
    surface : Surface
        The body.
    v : Values
        Stretch and the shares of it that are used.
    rows : sequence of (str, float, bool)
        Name, row, and whether the row is half a trunk and not a whole leg.

    Returns
    -------
    tuple of Pressure
        At every level, with the published figure of discomfort.

    Notes
    -----
    The pull is that of the even strain; the sharpest turn is taken over 5 % of the girth.

    References
    ----------
    ``fiber-1944-47-282``: waistbands over 35 mmHg were felt as discomfort.
    """
    around, _ = worn_strains(v)
    pull = pull_n_m(
        strain_percent=100.0 * around, stretch_percent=v["stretch_across"],
        hand_pull_n_m=strain_value("knit", "hand_pull_n_m").value,
    )  # fmt: skip
    limit = strain_value("skin", "discomfort_kpa").value
    found = []
    for name, row, half in rows:
        girth = surface.row_length_mm(row) * (2.0 if half else 1.0)
        middle = band_pressure_kpa(tension_n_m=pull, girth_mm=girth)
        turn = max(_sharpest(surface, row) * girth / math.tau, 1.0)
        found.append(Pressure(name, middle, middle * turn, limit))
    return tuple(found)


def _sharpest(surface: Surface, row: float) -> float:
    """Return the largest curvature of a row, over a tenth of its length [1/mm]."""
    u = np.linspace(0.0, 1.0, 161)
    points = surface.at(u, np.full(161, row))[:, :2]
    span = 16
    first = points[span:-span] - points[: -2 * span]
    second = points[2 * span :] - points[span:-span]
    angle = np.abs(
        np.arctan2(
            first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0], np.sum(first * second, axis=1)
        )
    )
    length = 0.5 * (np.linalg.norm(first, axis=1) + np.linalg.norm(second, axis=1))
    return float((angle / np.maximum(length, 1e-6)).max())
