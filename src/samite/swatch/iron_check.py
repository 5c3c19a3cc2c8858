"""What a few readings on a sole say of the dial: its mean temperature and the thermostat's swing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.garment.bench import MeasuredDial, StripReading
from samite.kernel.errors import InputError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Z95, Quantity
from samite.press.draws import normal_cdf
from samite.tables.irons import Iron, household_iron, probe_error

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

MEASURED = Evidence("own-iron", Grade.MEASURED_HERE, "readings on the sole")

SOLE_STEP_C = 0.5
"""Step of the grid of means [K]."""

SWINGS = 48
"""Points of the grid of swings."""

PHASES = 64
"""Points of a thermostat's cycle."""

REACH = 4.5
"""How many standard deviations the grids reach."""


@dataclass(frozen=True, slots=True)
class CheckedIron:
    """What a check has made of an iron.

    Parameters
    ----------
    soles_c : mapping of str to Quantity
        Mean sole temperature by dial position, those that were read [C].
    swing_c : Quantity
        Half of the thermostat's swing [K].
    """

    soles_c: Mapping[str, Quantity]
    swing_c: Quantity


def check_iron(dials: Sequence[MeasuredDial], iron: Iron | None = None) -> CheckedIron:
    """Return what a few readings make of an iron's dial.

    Parameters
    ----------
    dials : sequence of MeasuredDial
        What was read, by position: probe readings, and strips that bound the hottest moment.
    iron : Iron or None
        What was known before; an unmeasured household iron if None.

    Returns
    -------
    CheckedIron
        Mean and swing, each with its spread.

    Raises
    ------
    InputError
        If nothing was read.

    Notes
    -----
    A reading is the mean, a sine of the swing at a random phase, the probe's scatter, and the
    probe's own offset, the same at every reading. A strip says between which of its marks the
    hottest moment lay: mean, swing and the strip's error. Mean and swing are integrated on a
    grid; one swing serves all positions. The offset widens each position by itself, so that it
    errs to too wide where two positions are compared.

    References
    ----------
    derivation, docs/models/swatch-tests.md.
    """
    read = [item for item in dials if item.readings_c or item.strips]
    if not read:
        raise InputError("nothing was read", "readings_c", "read each position two or three times")
    before = iron or household_iron()
    swings, swing_chances = swing_grid(before.swing_c)
    tables = {item.dial: _position(item, before.dial_c(item.dial), swings) for item in read}
    log_swing = np.log(np.maximum(swing_chances, 1e-300))
    for _, table in tables.values():
        log_swing = log_swing + np.log(np.maximum(table.sum(axis=1), 1e-300))
    after = np.exp(log_swing - log_swing.max())
    after /= after.sum()
    soles = {key: _sole(grid, table, after) for key, (grid, table) in tables.items()}
    return CheckedIron(soles, _quantity(swings, after))


def swing_grid(swing_c: Quantity) -> tuple[Real, Real]:
    """Return a grid of swings with the chance of each.

    Parameters
    ----------
    swing_c : Quantity
        What is known of half the swing before [K].

    Returns
    -------
    ndarray of float, shape (swings,)
        Swings [K].
    ndarray of float, shape (swings,)
        Chance of each; they sum to 1 [-].
    """
    scores = np.linspace(-REACH, REACH, SWINGS + 1)
    swings = swing_c.at(0.5 * (scores[1:] + scores[:-1]))
    chances = np.diff(normal_cdf(scores))
    return swings, chances / chances.sum()


def sole_grid(sole_c: Quantity) -> tuple[Real, Real]:
    """Return a grid of sole temperatures with the chance of each.

    Parameters
    ----------
    sole_c : Quantity
        What is known of a position before [C].

    Returns
    -------
    ndarray of float, shape (soles,)
        Temperatures [C].
    ndarray of float, shape (soles,)
        Chance of each; they sum to 1 [-].
    """
    low, high = (float(sole_c.at(np.array([side * REACH]))[0]) for side in (-1.0, 1.0))
    low = max(low, sole_c.low - FURTHEST_K)
    high = min(high, sole_c.high + FURTHEST_K)
    edges = np.arange(low, high + 1.5 * SOLE_STEP_C, SOLE_STEP_C)
    chances = np.diff(normal_cdf(sole_c.score(edges)))
    return 0.5 * (edges[1:] + edges[:-1]), chances / chances.sum()


FURTHEST_K = 80.0
"""How far beyond a dial's usual range the grid goes [K]."""


def _position(item: MeasuredDial, prior: Quantity, swings: Real) -> tuple[Real, Real]:
    """Return the grid of a position and the joint weight of swing (rows) and mean (columns)."""
    soles, chances = sole_grid(prior)
    likely = np.ones((len(swings), len(soles)))
    if item.readings_c:
        logs = np.stack([_apparent(item.readings_c, soles, float(swing)) for swing in swings])
        likely = np.stack([_smeared(row) for row in np.exp(logs - logs.max())])
    for strip in item.strips:
        likely = likely * _turned(strip, soles, swings[:, np.newaxis])
    return soles, likely * chances


def _turned(strip: StripReading, soles_c: Real, swings: Real) -> Real:
    """Return how likely a strip's two marks are, by swing and mean."""
    error = probe_error("strip").value / Z95
    above = normal_cdf((soles_c + swings - strip.above_c) / error)
    below = normal_cdf((strip.below_c - soles_c - swings) / error)
    return np.asarray(np.maximum(above + below - 1.0, 1e-12))


def _apparent(readings_c: Sequence[float], soles_c: Real, swing_c: float) -> Real:
    """Return the log likelihood of the readings if the probe's own offset were none."""
    scatter = probe_error("scatter").value / Z95
    phase = swing_c * np.sin(2.0 * np.pi * (np.arange(PHASES) + 0.5) / PHASES)
    logs = np.zeros_like(soles_c)
    for reading in readings_c:
        gap = (reading - soles_c[:, np.newaxis] - phase) / scatter
        logs += np.log(np.maximum(np.exp(-0.5 * gap**2).mean(axis=1), 1e-300))
    return logs


def _smeared(likely: Real) -> Real:
    """Let the probe's own offset blur what the readings say of the mean."""
    sigma = probe_error("offset").value / Z95
    reach = int(np.ceil(REACH * sigma / SOLE_STEP_C))
    steps = np.arange(-reach, reach + 1) * SOLE_STEP_C
    kernel = np.exp(-0.5 * (steps / sigma) ** 2)
    padded = np.pad(likely, reach, mode="edge")
    return np.convolve(padded, kernel / kernel.sum(), mode="valid")


def _sole(soles_c: Real, table: Real, swing_chances: Real) -> Quantity:
    by_swing = table / np.maximum(table.sum(axis=1, keepdims=True), 1e-300)
    return _quantity(soles_c, swing_chances @ by_swing)


def _quantity(values: Real, chances: Real) -> Quantity:
    """Return median and 90 % range of a grid, straight lines between its points."""
    ever = np.cumsum(chances) - 0.5 * chances
    low, middle, high = (float(np.interp(share, ever, values)) for share in (0.05, 0.5, 0.95))
    return Quantity(middle, low, high, "C", MEASURED, given=True)
