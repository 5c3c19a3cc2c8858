"""How far a cloth may be pulled in a fitted piece, by its swatches that were stretched."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from samite.swatch.seen import Finding, Sign, Sureness
from samite.swatch.trial import Swatch
from samite.tables.fitted import strain_value

CONTRARY = 2
"""Swatches that bore more, after which a clear crack is taken for misread or of its seam [1]."""


@dataclass(frozen=True, slots=True)
class StrainTold:
    """What swatches tell of the stretch that a cloth bears.

    Parameters
    ----------
    most_percent : float or None
        Most that may be asked: the least crack less its margin; None if none cracked [%].
    crack : Swatch or None
        The swatch that cracked so.
    borne_percent : float or None
        Stretch after which nothing was seen; of several swatches the second largest [%].
    bore : tuple of Swatch
        Swatches that bore a stretch, the largest first.
    disbelieved : tuple of Swatch
        Cracks that the other swatches contradict.
    """

    most_percent: float | None = None
    crack: Swatch | None = None
    borne_percent: float | None = None
    bore: tuple[Swatch, ...] = ()
    disbelieved: tuple[Swatch, ...] = ()


@dataclass(frozen=True, slots=True)
class Sharpened:
    """An allowed strain after the swatches.

    Parameters
    ----------
    percent : float
        The allowed strain [%].
    measured : bool
        Whether it rests on a crack, or on two swatches that bore it, rather than on a guess.
    by : tuple of Swatch
        The swatches that moved it; empty if none did.
    """

    percent: float
    measured: bool
    by: tuple[Swatch, ...] = ()


def stretched(swatches: Iterable[Swatch]) -> tuple[Swatch, ...]:
    """Return the swatches that tell how far a cloth may be pulled.

    Parameters
    ----------
    swatches : iterable of Swatch
        Of one cloth.

    Returns
    -------
    tuple of Swatch
        Those that cracked, or were stretched without any harm; none that was set aside. Sorted
        by day, so that the order in which they were kept changes nothing.

    References
    ----------
    ``definition``.
    """
    found = [
        item
        for item in swatches
        if not item.set_aside and (_cracked(item) or _bore(item) is not None)
    ]
    return tuple(sorted(found, key=lambda item: (item.made_on, repr(item))))


def strain_told(swatches: Sequence[Swatch]) -> StrainTold:
    """Return what swatches tell of the stretch that a cloth bears.

    Parameters
    ----------
    swatches : sequence of Swatch
        Of one cloth; what was not stretched says nothing.

    Returns
    -------
    StrainTold
        Empty if none was stretched.

    Notes
    -----
    The least crack that is believed holds, less a margin. A clear crack is disbelieved if two
    swatches bore more, a doubtful one if one did: it was misread, or was of its stitches and not
    of the cloth. Of the stretches that were borne the second largest counts, so that no single
    slip of the pen raises anything by itself.

    References
    ----------
    ``guess``, docs/models/fitted.md.
    """
    told = stretched(swatches)
    bore = sorted(
        (item for item in told if _bore(item) is not None), key=borne_percent, reverse=True
    )
    cracks: list[Swatch] = []
    disbelieved: list[Swatch] = []
    for item in told:
        crack = _cracked(item)
        if crack is None:
            continue
        needed = CONTRARY if crack.sureness is Sureness.CLEAR else 1
        more = sum(borne_percent(other) > crack_percent(item) for other in bore)
        (disbelieved if more >= needed else cracks).append(item)
    least = min(cracks, key=crack_percent) if cracks else None
    margin = strain_value("swatch", "crack_margin_percent").value / 100.0
    cap = (1.0 - margin) * crack_percent(least) if least else None
    borne = borne_percent(bore[min(1, len(bore) - 1)]) if bore else None
    return StrainTold(cap, least, borne, tuple(bore), tuple(disbelieved))


def sharpen(percent: float, told: StrainTold) -> Sharpened:
    """Return an allowed strain, sharpened by swatches.

    Parameters
    ----------
    percent : float
        By the class of the cloth [%].
    told : StrainTold
        What its swatches tell.

    Returns
    -------
    Sharpened
        The allowed strain.

    Notes
    -----
    Two swatches that bore more raise it to what both bore, one alone half way; never to more than
    twice what the class has, for what is borne without harm may show long before. Then the crack caps it.

    References
    ----------
    ``guess``, docs/models/fitted.md.
    """
    value, measured = percent, False
    by: tuple[Swatch, ...] = ()
    if told.borne_percent is not None and told.borne_percent > percent:
        two = len(told.bore) > 1
        half = strain_value("swatch", "alone_percent").value / 100.0
        most = strain_value("swatch", "raise_most_percent").value / 100.0
        raised = percent + (1.0 if two else half) * (told.borne_percent - percent)
        value, measured, by = min(raised, most * percent), two, told.bore[:2]
    if told.most_percent is not None and told.crack and told.most_percent < value:
        value, measured, by = told.most_percent, True, (told.crack,)
    return Sharpened(value, measured, by)


def crack_percent(swatch: Swatch) -> float:
    """Return how far a swatch was stretched when it cracked.

    Parameters
    ----------
    swatch : Swatch
        A swatch that cracked.

    Returns
    -------
    float
        Stretch; infinite if it did not crack [%].

    References
    ----------
    ``definition``.
    """
    crack = _cracked(swatch)
    return crack.stretch_percent or 0.0 if crack else float("inf")


def borne_percent(swatch: Swatch) -> float:
    """Return how far a swatch was stretched without harm.

    Parameters
    ----------
    swatch : Swatch
        A swatch.

    Returns
    -------
    float
        Stretch; 0 if it was not stretched or was harmed [%].

    References
    ----------
    ``definition``.
    """
    return _bore(swatch) or 0.0


def _cracked(swatch: Swatch) -> Finding | None:
    return swatch.finding(Sign.CRACKED)


def _bore(swatch: Swatch) -> float | None:
    """Return the stretch after which nothing was seen; a doubtful nothing says nothing."""
    nothing = swatch.finding(Sign.NOTHING)
    doubtful = nothing is not None and nothing.sureness is not Sureness.CLEAR
    if swatch.sew is None or swatch.harmed or doubtful:
        return None
    return swatch.sew.stretch_percent
