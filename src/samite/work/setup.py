"""Change-overs: what it costs to go from one setting, heat or place to another."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import Evidence
from samite.kernel.quantity import Quantity
from samite.tables.close_names import did_you_mean
from samite.tables.sewing import sewing_entries, sewing_entry
from samite.work.operation import HEATS, Setting

CHANGES = ("thread", "tension", "needle", "foot", "move", "dial", "heating", "cooling")
"""Change-overs that have minutes of their own, keys of ``change_overs.csv``."""


@dataclass(frozen=True, slots=True)
class Contamination:
    """Something that work leaves behind and that spoils other work.

    Parameters
    ----------
    key : str
        Its name, ``"glitter"``.
    place : str
        ``machine`` if it lies on the machine or iron only, ``room`` if everywhere.
    minutes : Quantity
        Time to clean it off [min].
    mind : str
        How to clean it, and what to mind.
    evidence : Evidence
        Of the minutes.
    """

    key: str
    place: str
    minutes: Quantity
    mind: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class ChangeOvers:
    """Minutes of every change-over.

    Parameters
    ----------
    minutes : mapping of str to Quantity
        By the names of `CHANGES` [min].
    contaminations : mapping of str to Contamination
        By name.
    """

    minutes: Mapping[str, Quantity]
    contaminations: Mapping[str, Contamination]

    def of(self, change: str) -> float:
        """Return the minutes of a change-over.

        Parameters
        ----------
        change : str
            One of `CHANGES`.

        Returns
        -------
        float
            Its middle [min].
        """
        return self.minutes[change].value


@cache
def usual_change_overs() -> ChangeOvers:
    """Return the change-overs of the tables.

    Returns
    -------
    ChangeOvers
        Guesses, to be overwritten by what the person has timed.

    Notes
    -----
    A thread is changed with its bobbin and tried on a scrap; heating and cooling run alone, only
    the dial takes hands.

    References
    ----------
    ``guess``: change-overs of a sewing room.
    """
    minutes = {name: sewing_entry("change", name).quantity("minutes_each") for name in CHANGES}
    return ChangeOvers(
        MappingProxyType(minutes),
        MappingProxyType({key: contamination(key) for key in sewing_entries("contamination")}),
    )


def contamination(name: str) -> Contamination:
    """Return a contamination by name.

    Parameters
    ----------
    name : str
        ``"glue"``, ``"glitter"``, ``"dark-fluff"`` or ``"fur"``.

    Returns
    -------
    Contamination
        Where it lies and what cleaning takes.

    Raises
    ------
    UnknownNameError
        If the table has no such name.

    Notes
    -----
    Glue stays on the sole or the needle, fibres and glitter go everywhere.

    References
    ----------
    ``common-practice``: fur and glitter last.
    """
    known = sewing_entries("contamination")
    if name not in known:
        raise UnknownNameError(
            f"nothing is known of {name!r} being left behind", "leaves", did_you_mean(name, known)
        )
    entry = known[name]
    return Contamination(
        name,
        entry.word("dirt_place"),
        entry.quantity("minutes_each"),
        entry.word("mind"),
        entry.evidence("minutes_each"),
    )


def change_over_minutes(before: Setting, after: Setting, change: ChangeOvers) -> float:
    """Return the time at a machine to go from one setting to another.

    Parameters
    ----------
    before : Setting
        What it is set to; an empty word is not known, and then has to be set.
    after : Setting
        What it must be set to; an empty word does not matter.
    change : ChangeOvers
        What change-overs cost.

    Returns
    -------
    float
        Time with hands on it [min].

    Notes
    -----
    The parts of a setting are changed one after the other. An iron takes its turn of the dial
    only; what it takes to heat or cool runs alone and is `heat_lag_minutes`.

    References
    ----------
    ``guess``: change-overs of a sewing room.
    """
    total = 0.0
    if after.needle and after.needle != before.needle:
        total += change.of("needle")
    if after.thread and after.thread != before.thread:
        total += change.of("thread") + change.of("tension")
    if after.foot and after.foot != before.foot:
        total += change.of("foot")
    if after.heat and after.heat != before.heat:
        total += change.of("dial")
    return total


def warm_up_minutes(change: ChangeOvers) -> float:
    """Return how long an iron takes that is cold, as it is at the begin of every session.

    Parameters
    ----------
    change : ChangeOvers
        What change-overs cost.

    Returns
    -------
    float
        From switching on to the first use, in whole half minutes [min].

    Notes
    -----
    The time of heating, whatever the setting: a guess. Errs to the long side by up to half a
    minute, and where somebody else has the iron on already.

    References
    ----------
    ``guess``: iron heats in 1 to 2 min.
    """
    return math.ceil(2.0 * change.of("heating") - 1e-9) / 2.0


def heat_lag_minutes(before: str, after: str, change: ChangeOvers) -> float:
    """Return how long an iron takes from one heat to another.

    Parameters
    ----------
    before : str
        Heat that it has; empty if not known.
    after : str
        Heat that it must have; empty if it does not matter.
    change : ChangeOvers
        What change-overs cost.

    Returns
    -------
    float
        Time that must pass between the two uses, worked elsewhere or not [min].

    Notes
    -----
    Heating is quick and cooling slow, whatever the distance: a guess. An iron that was off over
    night is cold, so the time is always over by the morning.

    References
    ----------
    ``guess``: iron heats in 1 to 2 min, cools in 10 to 20.
    """
    if not after or before == after:
        return 0.0
    if not before or HEATS.index(after) > HEATS.index(before):
        return change.of("heating")
    return change.of("cooling")
