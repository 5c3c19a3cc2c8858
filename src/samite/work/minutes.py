"""Minutes: of work study, of the table, and what logged times make of them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Z95, Quantity, spread
from samite.kernel.ranges import require_between, require_positive
from samite.tables.close_names import did_you_mean
from samite.tables.sewing import sewing_entries, sewing_entry

TMU_MIN = 0.0006
"""A time-measurement unit [min]: a hundred-thousandth of an hour."""

STOP_AND_START_TMU = 17.0
"""To start a machine and to stop it."""

LOGGED = Evidence("logged-times", Grade.MEASURED_HERE, "times that were ticked off")


def standard_minutes(
    *, cycle_min: float, rating: float, bundle_percent: float, personal_percent: float
) -> float:
    """Return the standard minutes of an operation in a factory.

    Parameters
    ----------
    cycle_min : float
        Observed time of one cycle [min].
    rating : float
        How fast the person worked against a normal one, 1 for as fast [-].
    bundle_percent : float
        Allowance for handling bundles [%].
    personal_percent : float
        Allowance for the person and the machine [%].

    Returns
    -------
    float
        Standard allowed minutes [min].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    The allowances are added before they multiply the basic time. A factory's number: at home it is
    too low.

    References
    ----------
    ``garment-smv-page``: basic time and allowances.
    """
    require_positive(cycle_min=cycle_min, rating=rating)
    require_between(0.0, 200.0, bundle_percent=bundle_percent, personal_percent=personal_percent)
    return cycle_min * rating * (1.0 + (bundle_percent + personal_percent) / 100.0)


def minutes_of_tmu(*, tmu: float) -> float:
    """Return time-measurement units in minutes.

    Parameters
    ----------
    tmu : float
        Time-measurement units, hundred-thousandths of an hour [1].

    Returns
    -------
    float
        Time [min].

    Raises
    ------
    OutOfRangeError
        If it is not positive.

    Notes
    -----
    A definition.

    References
    ----------
    ``work-study-page``: 1 TMU = 0.0006 min.
    """
    require_positive(tmu=tmu)
    return tmu * TMU_MIN


def machine_minutes(
    *, seam_length_mm: float, stitch_length_mm: float, stitches_per_min: float, stops: int
) -> float:
    """Return the time that a machine runs for a seam, with its stops.

    Parameters
    ----------
    seam_length_mm : float
        Length of the seam [mm].
    stitch_length_mm : float
        Stitch length [mm].
    stitches_per_min : float
        Speed of the machine [1/min].
    stops : int
        Times that it is started and stopped [1].

    Returns
    -------
    float
        Time [min].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Work study's formula without its factors of guidance; handling, four fifths of the whole, is
    not in it.

    References
    ----------
    ``work-study-page``: stitches over speed, and 17 TMU for a start with its stop.
    """
    require_positive(
        seam_length_mm=seam_length_mm,
        stitch_length_mm=stitch_length_mm,
        stitches_per_min=stitches_per_min,
    )
    require_between(0, 100_000, stops=stops)
    running = seam_length_mm / stitch_length_mm / stitches_per_min
    return running + stops * STOP_AND_START_TMU * TMU_MIN


def work_rate_m_per_h(*, worked_length_m: float, worked_time_h: float) -> float:
    """Return how much is worked in an hour.

    Parameters
    ----------
    worked_length_m : float
        Length of seam or hem that was worked [m].
    worked_time_h : float
        Time that it took [h].

    Returns
    -------
    float
        Rate [m/h].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    Everything that was done in that time is in it.

    References
    ----------
    ``definition``: length over time.
    """
    require_positive(worked_length_m=worked_length_m, worked_time_h=worked_time_h)
    return worked_length_m / worked_time_h


def hand_rate_m_per_h(*, stitches_per_min: float, stitch_length_mm: float) -> float:
    """Return the seam that a hand sews in an hour.

    Parameters
    ----------
    stitches_per_min : float
        Stitches a minute [1/min].
    stitch_length_mm : float
        Stitch length [mm].

    Returns
    -------
    float
        Rate [m/h].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    Without rest: a day's work is less.

    References
    ----------
    ``definition``: stitches in an hour times stitch length.
    """
    require_positive(stitches_per_min=stitches_per_min, stitch_length_mm=stitch_length_mm)
    return stitches_per_min * 60.0 * stitch_length_mm / 1000.0


def hand_over_machine(*, hand_time_min: float, machine_time_min: float) -> float:
    """Return how many times as long a thing takes by hand.

    Parameters
    ----------
    hand_time_min : float
        Time by hand [min].
    machine_time_min : float
        Time by machine [min].

    Returns
    -------
    float
        Ratio [-].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    Of whole garments, cutting left out.

    References
    ----------
    ``cooper-1968``: garments sewn by hand and by machine in 1861.
    """
    require_positive(hand_time_min=hand_time_min, machine_time_min=machine_time_min)
    return hand_time_min / machine_time_min


def seconds_per_stitch(*, worked_time_s: float, stitches: int) -> float:
    """Return the time for a stitch by hand.

    Parameters
    ----------
    worked_time_s : float
        Time that they took [s].
    stitches : int
        How many [1].

    Returns
    -------
    float
        Time for one [s].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Everything that was done in that time is in it.

    References
    ----------
    ``definition``: time over count.
    """
    require_positive(worked_time_s=worked_time_s, stitches=stitches)
    return worked_time_s / stitches


def operation_minutes(
    *, element: str, cloth_class: str, length_m: float = 0.0, pieces: float = 1.0
) -> Quantity:
    """Return the minutes of an operation from the table of elements.

    Parameters
    ----------
    element : str
        ``cut``, ``sew``, ``press``, ``fitting`` and so on.
    cloth_class : str
        ``plain``, ``slippery``, ``pile``, ``sequins`` or ``sheet``.
    length_m : float
        Length, for what is counted by the metre [m].
    pieces : float
        Number, for what is counted by the piece [1].

    Returns
    -------
    Quantity
        With its range [min].

    Raises
    ------
    UnknownNameError
        If the table has no such element.

    Notes
    -----
    For one skilled maker. Where the table has no range, the one of makers among themselves is
    taken. Nearly all of it is a guess, to be overwritten by logged times.

    References
    ----------
    ``guess``: element times.
    """
    table = sewing_entries("minutes")
    entry = table.get(f"{element}/{cloth_class}") or table.get(f"{element}/any")
    if entry is None:
        raise UnknownNameError(
            f"no minutes for {element} on {cloth_class} cloth",
            "element",
            did_you_mean(element, table),
        )
    by_length = entry.has("minutes_per_m")
    found = entry.quantity("minutes_per_m" if by_length else "minutes_each")
    if found.low == found.high:
        share = sewing_entry("minutes", "spread/any").number("minutes_spread")
        found = spread(found.value, share, found.unit, found.evidence)
    return found.scaled(length_m if by_length else pieces, "min")


def learned_minutes(table: Quantity, *, ratios: Sequence[float]) -> Quantity:
    """Return what logged times make of the minutes of the table.

    Parameters
    ----------
    table : Quantity
        Minutes of the table [min].
    ratios : sequence of float
        Time taken over time planned by the table, for each time of that kind that was logged [-].

    Returns
    -------
    Quantity
        Nearer to the log the more of it there is [min].

    Raises
    ------
    OutOfRangeError
        If a ratio is not positive.

    Notes
    -----
    Normal on a log scale, with the table as prior: it counts for as many logged times as
    ``log_weight`` says. Half of the table's variance is taken as between makers, which the log
    settles, and half as from one time to the next, which it does not. Without a log the table
    stands.

    References
    ----------
    ``guess``: logged times that the table counts for.
    """
    for ratio in ratios:
        require_positive(ratio=ratio)
    if not ratios or table.low <= 0.0:
        return table
    weight = sewing_entry("minutes", "log/any").number("log_weight")
    count = len(ratios)
    shift = sum(math.log(ratio) for ratio in ratios) / (count + weight)
    wide = (math.log(table.high / table.low) / (2.0 * Z95)) ** 2
    left = 0.5 * wide * weight / (count + weight) + 0.5 * wide
    value = table.value * math.exp(shift)
    factor = math.exp(Z95 * math.sqrt(left))
    return Quantity(value, value / factor, value * factor, table.unit, LOGGED)
