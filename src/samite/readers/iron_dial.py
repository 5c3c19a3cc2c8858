"""The dial of a described iron: words, dots and what a probe showed there."""

from __future__ import annotations

import math
import statistics
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Any

from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Z95, Quantity, spread
from samite.readers.fields import Fields
from samite.readers.toml_text import Path
from samite.tables.irons import DialPosition, household_iron
from samite.tables.loader import bounds

MEASURED = Evidence("own-iron", Grade.MEASURED_HERE, "probe on the sole")

PROBE_ERROR_K = 3.0
"""Half of the 90 % range of a cheap contact probe, and the smallest swing believed [K]."""

SWING_READINGS = 3
"""Readings from which the thermostat's swing is read off them."""

SWING_SHARE = 0.5
"""Half-width of the range of a swing that a few readings show [-]."""

COLDEST_C = 40.0
"""Below this a sole has not been heated [C]."""

PAST_STANDARD_K = 60.0
"""How far over the standard's range a sole is still believed [K]."""

MOST_APART_K = 60.0
"""No thermostat lets readings of one dial lie further apart [K]."""

MOST_READINGS = 20
DIAL_KEYS = ("dots", "readings_c", "sole_c", "swing_c")
KEYS = ("low", "medium", "high")


def read_dial(
    fields: Fields, sections: Mapping[str, Any]
) -> tuple[tuple[DialPosition, ...], Quantity]:
    """Read all positions of a dial.

    Parameters
    ----------
    fields : Fields
        Keeps the problems.
    sections : mapping of str to object
        What stands under ``dial``, by the words on it.

    Returns
    -------
    tuple of DialPosition
        ``low``, ``medium``, ``high``; what is not described has the standard's tolerance.
    Quantity
        Half of the thermostat's swing [K], the largest of any position.

    Notes
    -----
    The mean of n readings is known to the probe's error and, in quadrature, 1.645 s / sqrt(n),
    with s their standard deviation; of fewer than three readings s is at least that of the
    usual thermostat, since nobody knows where in its swing they were taken. A dial rises: what
    is not described lies between its neighbours.
    """
    found: dict[int, DialPosition] = {}
    swings: list[Quantity] = []
    for word, section in sections.items():
        position, swing = _read_position(fields, word, section)
        swings += [swing] if swing else []
        if position is None:
            continue
        if position.dots in found:
            what = f"{position.dots} dots stand already at {found[position.dots].word!r}"
            fields.wrong(("dial", word), what, "keep the position that you press with")
            continue
        found[position.dots] = position
    _check_order(fields, found)
    usual = household_iron()
    swing = max(swings, key=lambda item: item.value, default=usual.swing_c)
    if fields.problems:
        return usual.settings, swing
    settings = tuple(found.get(item.dots, item) for item in usual.settings)
    return tuple(_between_neighbours(item, settings) for item in settings), swing


def _read_position(
    fields: Fields, word: str, section: Any
) -> tuple[DialPosition | None, Quantity | None]:
    path = ("dial", word)
    if not isinstance(section, Mapping):
        mend = 'name the position: [dial."wool or silk"], its keys below'
        fields.wrong(path, "it belongs to a position of the dial", mend)
        return None, None
    if not word.strip() or len(word) > 60:
        fields.wrong(path, "a position needs the words on the dial", 'as in [dial."cotton"]')
        return None, None
    fields.check_keys(section, path, DIAL_KEYS)
    swing = None
    if "swing_c" in section:
        limits = (0.0, bounds()["swing_c"].maximum)
        half = fields.within(section["swing_c"], (*path, "swing_c"), "delta K", limits)
        swing = None if half is None else _swing(max(half, 0.1))
    dots = _read_dots(fields, section, path)
    if dots is None:
        return None, swing
    usual = household_iron().settings[dots - 1]
    sole, seen = _read_sole(fields, section, path, dots, swing)
    position = DialPosition(
        usual.key, dots, " ".join(word.split()), sole or usual.sole_c, measured=sole is not None
    )
    return position, swing or seen


def _read_dots(fields: Fields, section: Mapping[str, Any], path: Path) -> int | None:
    mend = "write dots = 1, 2 or 3: those of the care symbol that the position stands for"
    if "dots" not in section:
        fields.wrong(path, "its dots are missing", mend)
        return None
    dots = section["dots"]
    if isinstance(dots, bool) or dots not in (1, 2, 3):
        fields.wrong((*path, "dots"), f"{str(dots)[:40]} dots are on no symbol", mend)
        return None
    return int(dots)


def _read_sole(
    fields: Fields, section: Mapping[str, Any], path: Path, dots: int, swing: Quantity | None
) -> tuple[Quantity | None, Quantity | None]:
    """Return the sole's temperature and the swing that its readings show."""
    if "readings_c" in section and "sole_c" in section:
        what = "readings_c and sole_c say the same thing twice"
        fields.wrong((*path, "sole_c"), what, "keep the readings")
        return None, None
    if "sole_c" in section:
        sole = _temperature(fields, section["sole_c"], (*path, "sole_c"), dots)
        return (None if sole is None else _about(sole, PROBE_ERROR_K)), None
    if "readings_c" not in section:
        return None, None
    readings = _read_readings(fields, section["readings_c"], (*path, "readings_c"), dots)
    if readings is None:
        return None, None
    half = max((max(readings) - min(readings)) / 2.0, PROBE_ERROR_K)
    seen = _swing(half) if len(readings) >= SWING_READINGS else None
    return _mean(readings, swing), seen


def _read_readings(fields: Fields, written: Any, path: Path, dots: int) -> list[float] | None:
    if not isinstance(written, list) or not 1 <= len(written) <= MOST_READINGS:
        what = f"readings are a list of 1 to {MOST_READINGS} temperatures"
        fields.wrong(path, what, "write readings_c = [141, 149, 145]")
        return None
    found = [_temperature(fields, item, path, dots) for item in written]
    readings = [item for item in found if item is not None]
    if len(readings) < len(found):
        return None
    apart = max(readings) - min(readings)
    if apart > MOST_APART_K:
        what = f"the readings lie {apart:.0f} K apart; no thermostat swings so far"
        fields.wrong(path, what, "wait until the light has gone out twice, then read on one place")
        return None
    return readings


def _temperature(fields: Fields, written: Any, path: Path, dots: int) -> float | None:
    sole = fields.number(written, path, "C")
    if sole is None:
        return None
    usual = household_iron().settings[dots - 1].sole_c
    hottest = bounds()["dial_c"].maximum
    bare = not isinstance(written, str) or not any(char.isalpha() for char in written)
    mend = f'if that is Fahrenheit, write "{sole:g} F"; else measure again' if bare else ""
    mend = mend or "measure again"
    if sole > hottest:
        fields.wrong(path, f"{sole:g} C is hotter than any iron: {hottest:g} C at most", mend)
    elif sole > usual.high + PAST_STANDARD_K:
        what = (
            f"{sole:g} C is far too hot for {_dots_words(dots)}, "
            f"usually {usual.low:g} to {usual.high:g} C"
        )
        fields.wrong(path, what, mend)
    elif sole < COLDEST_C:
        fields.wrong(
            path, f"a sole at {sole:g} C is not hot", "wait until the light has gone out twice"
        )
    else:
        return sole
    return None


def _mean(readings: list[float], swing: Quantity | None) -> Quantity:
    """Return the mean with its spread, see the Notes of `read_dial`."""
    deviation = statistics.stdev(readings) if len(readings) > 1 else 0.0
    if len(readings) < SWING_READINGS:
        usual = (swing or household_iron().swing_c).value / math.sqrt(2.0)
        deviation = max(deviation, usual)
    error = Z95 * deviation / math.sqrt(len(readings))
    return _about(statistics.fmean(readings), math.hypot(PROBE_ERROR_K, error))


def _about(sole_c: float, half_k: float) -> Quantity:
    return Quantity(sole_c, sole_c - half_k, sole_c + half_k, "C", MEASURED, given=True)


def _swing(half_k: float) -> Quantity:
    return spread(half_k, SWING_SHARE, "C", MEASURED, given=True)


def _check_order(fields: Fields, found: Mapping[int, DialPosition]) -> None:
    measured = [found[dots] for dots in sorted(found) if found[dots].measured]
    for cooler, hotter in pairwise(measured):
        if cooler.sole_c.value >= hotter.sole_c.value:
            what = (
                f"{_dots_words(cooler.dots)} at {cooler.sole_c.value:.0f} C is not cooler than "
                f"{_dots_words(hotter.dots)} at {hotter.sole_c.value:.0f} C"
            )
            fields.wrong(("dial", cooler.word), what, "measure both again; were they swapped?")


def _dots_words(dots: int) -> str:
    return ("one dot", "two dots", "three dots")[dots - 1]


def _between_neighbours(position: DialPosition, settings: tuple[DialPosition, ...]) -> DialPosition:
    """Narrow a position that was not measured by those that were."""
    if position.measured:
        return position
    sole = position.sole_c
    floor = max(
        (x.sole_c.value for x in settings if x.measured and x.dots < position.dots),
        default=sole.low,
    )
    roof = min(
        (x.sole_c.value for x in settings if x.measured and x.dots > position.dots),
        default=sole.high,
    )
    low, high = min(max(sole.low, floor), roof), max(min(sole.high, roof), floor)
    return replace(
        position, sole_c=replace(sole, low=low, value=min(max(sole.value, low), high), high=high)
    )
