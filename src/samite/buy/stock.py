"""What is kept and serves a lay: how much of it goes on remnants that are there."""

from __future__ import annotations

from collections.abc import Sequence

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between


def clean_sections_mm(
    spans_mm: Sequence[tuple[float, float]],
) -> tuple[tuple[float, float], ...]:
    """Return the sections of a lay that no piece reaches out of.

    Parameters
    ----------
    spans_mm : sequence of (float, float)
        From where to where each piece reaches along the cloth [mm].

    Returns
    -------
    tuple of (float, float)
        Begin and end of each section, from the cut end on [mm].

    Raises
    ------
    InputError
        If a piece ends before it begins.

    Notes
    -----
    Between two sections the cloth can be cut straight across, so each may be cut from another
    length of the same width. Spans that meet in one point belong to different sections.

    References
    ----------
    ``derivation``: union of intervals.
    """
    found: list[tuple[float, float]] = []
    for begin, end in sorted(spans_mm):
        if end < begin:
            raise InputError("a piece ends before it begins", "spans_mm", "begin, then end")
        if found and begin < found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((begin, end))
    return tuple(found)


def laid_on_remnants_mm(
    *,
    spans_mm: Sequence[tuple[float, float]],
    lengths_mm: Sequence[float],
    gap_mm: float,
    straighten_mm: float,
    whole: bool = False,
) -> tuple[float, ...]:
    """Return how much of a lay goes on each of the remnants that are as wide as it.

    Parameters
    ----------
    spans_mm : sequence of (float, float)
        From where to where each piece reaches along the cloth [mm].
    lengths_mm : sequence of float
        Length of each remnant [mm].
    gap_mm : float
        Least distance between two pieces [mm].
    straighten_mm : float
        Cloth lost at each end of a remnant to squaring it [mm].
    whole : bool
        Whether sections must stay together, as where a print is matched: all or nothing.

    Returns
    -------
    tuple of float
        Length of the lay that need not be bought, by remnant [mm].

    Raises
    ------
    OutOfRangeError
        If a length is impossible.

    Notes
    -----
    Long sections first, each on the first remnant that it still goes on. Another lay might use the
    remnants better, so it errs towards buying too much and never too little.

    References
    ----------
    ``derivation``: first fit by falling length.
    """
    require_between(0.0, 1000.0, gap_mm=gap_mm, straighten_mm=straighten_mm)
    for length in lengths_mm:
        require_between(0.0, 1e6, lengths_mm=length)
    sections = sorted((end - begin + gap_mm for begin, end in clean_sections_mm(spans_mm)))
    if whole and sections:
        low, high = min(a for a, _ in spans_mm), max(b for _, b in spans_mm)
        sections = [high - low + gap_mm]
    room = [length - 2.0 * straighten_mm for length in lengths_mm]
    taken = [0.0 for _ in lengths_mm]
    for section in reversed(sections):
        place = next((i for i, left in enumerate(room) if section <= left + 1e-9), None)
        if place is not None:
            room[place] -= section
            taken[place] += section
    return tuple(taken)
