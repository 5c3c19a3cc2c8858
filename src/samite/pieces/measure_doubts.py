"""Measures that do not fit the others, and the slip of the tape that would explain them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from samite.garment.body import Body
from samite.kernel.errors import UnknownError
from samite.kernel.quantity import Z95
from samite.pieces.measure_beliefs import MEASURING_MM, Estimate
from samite.pieces.measures import SLIPS, estimate
from samite.tables.bodies import (
    measure_entry,
)

STRANGE = 4.0
"""Standard deviations off beyond which a measure is questioned."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A measure that does not fit the others.

    Parameters
    ----------
    name : str
        The measure.
    value_mm : float
        As given [mm].
    expected_mm : float
        What the others make likely [mm].
    spread_mm : float
        Standard deviation of that [mm].
    slip : str
        The likely slip; empty if none explains it.
    mended_mm : float
        The value with that slip mended [mm].
    """

    name: str
    value_mm: float
    expected_mm: float
    spread_mm: float
    slip: str
    mended_mm: float

    def told(self) -> str:
        """Return it as one sentence.

        Returns
        -------
        str
            What is strange, and what it may have been.
        """
        says = measure_entry(self.name).says
        text = (
            f"{says} {self.value_mm / 10:.1f} cm does not fit the other measures: they make"
            f" {self.expected_mm / 10:.0f} +- {self.spread_mm * Z95 / 10:.0f} cm likely"
        )
        if self.slip:
            return f"{text}; perhaps {self.slip}: {self.mended_mm / 10:.1f} cm"
        return f"{text}; measure again"


def find_doubts(body: Body) -> tuple[Doubt, ...]:
    """Find given measures that the others make very unlikely.

    Parameters
    ----------
    body : Body
        The body.

    Returns
    -------
    tuple of Doubt
        The strangest first; empty if all fit.

    Notes
    -----
    Each is compared with its conditional distribution given the others; more than four standard
    deviations off is strange. A slip is named if mending it brings it within two and a half. The
    strangest is mended or left out before the rest are looked at again.
    Children are compared with their tables only.

    References
    ----------
    ``natick-tr-15-007``: derived statistics.
    """
    left = dict(body.middle().measures_mm)
    found: list[Doubt] = []
    while len(left) > 1:
        strange = max(_strangeness(body, left), key=lambda pair: pair[0], default=None)
        if strange is None or strange[0] <= STRANGE:
            break
        doubt = strange[1]
        found.append(doubt)
        del left[doubt.name]
        if doubt.slip:
            left = {**left, doubt.name: doubt.mended_mm}
        if len(found) > len(body.measures_mm):
            break
    return tuple(found)


def _strangeness(body: Body, given: Mapping[str, float]) -> list[tuple[float, Doubt]]:
    """Return how many deviations each measure is off what the others make likely."""
    found = []
    for name, value in given.items():
        others = {key: other for key, other in given.items() if key != name}
        try:
            expected = estimate(Body(MappingProxyType(others), body.group, body.age_years), name)
        except UnknownError:
            continue
        spread = math.hypot(expected.spread_mm, MEASURING_MM)
        off = abs(value - expected.value_mm) / spread
        found.append((off, _doubt(name, value, expected, spread)))
    return found


def _doubt(name: str, value: float, expected: Estimate, spread: float) -> Doubt:
    best, mended = "", value
    closest = 2.5 * spread
    for slip, factor in SLIPS.items():
        off = abs(value * factor - expected.value_mm)
        if off < closest:
            best, mended, closest = slip, value * factor, off
    return Doubt(name, value, expected.value_mm, spread, best, mended)
