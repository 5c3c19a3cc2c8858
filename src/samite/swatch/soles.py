"""A sole that was read while a swatch was pressed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from samite.press.draws import Draws
from samite.tables.irons import Iron
from samite.tables.learning import learning_value

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.swatch.trial import PressTrial

    Real = NDArray[np.float64]

SLIP_C = 60.0
"""Standard deviation of a reading that was taken of something else [C]."""


def log_of_readings(draws: Draws, iron: Iron, trial: PressTrial) -> Real:
    """Return the logarithm of how likely a reading of the sole is, draw by draw.

    Parameters
    ----------
    draws : Draws
        Draws as that iron has them.
    iron : Iron
        The iron.
    trial : PressTrial
        A trial whose sole was read.

    Returns
    -------
    ndarray of float, shape (draws,)
        Logarithms; zero where nothing was read, or the iron never touched.

    Notes
    -----
    The reading is the middle of the swing, give or take the swing at a moment nobody chose and the
    error of a cheap probe; a misread one may be anything.
    """
    if trial.sole_c is None or trial.steam == "hover":
        return np.zeros(draws.count)
    sole = draws.of("sole temperature at this dial", iron.dial_c(trial.dial.value))
    swing = draws.of("thermostat's swing", iron.swing_c)
    error_c = learning_value("probe reading_error_c").value
    spread_ = np.sqrt(error_c**2 + 0.5 * swing**2)
    gap = (trial.sole_c - sole) / spread_
    misread = learning_value("swatch misread_percent").value / 100.0
    true = (1.0 - misread) * np.exp(-0.5 * gap**2) / spread_
    far = (trial.sole_c - sole) / SLIP_C
    false = misread * np.exp(-0.5 * far**2) / SLIP_C
    return np.asarray(np.log((true + false) / math.sqrt(2.0 * math.pi)))
