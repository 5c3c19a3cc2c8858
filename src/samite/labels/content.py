"""Fibre content labels: what must be named, what may be left out, how far a label may be off."""

from __future__ import annotations

from samite.kernel.errors import UnknownNameError
from samite.kernel.ranges import require_between
from samite.labels.rules.book import Ruling, rule

REGIONS = ("us", "eu")
MUST_BE_NAMED = "must be named"


def us_minor_fibre(*, fibre: str, percent: float, has_function: bool) -> Ruling:
    """Return how a fibre stands on a US label by its share.

    Parameters
    ----------
    fibre : str
        Generic name as the label would print it, ``"spandex"``.
    percent : float
        Share of the fibre mass [%].
    has_function : bool
        Whether it has a clearly established function, as elastane for stretch.

    Returns
    -------
    Ruling
        ``must be named``, ``may be named "4% Spandex"`` or ``other fiber``.

    Raises
    ------
    OutOfRangeError
        If the share is impossible.

    References
    ----------
    ``cfr-16-303-quotation``: 303.3.
    """
    require_between(0.0, 100.0, percent=percent)
    ruled = rule("us-minor-fibre")
    if percent >= ruled.limits["percent"]:
        return Ruling(MUST_BE_NAMED, ruled.text, ruled.evidence)
    if has_function:
        named = f'may be named "{percent:g}% {fibre.capitalize()}"'
        return Ruling(named, ruled.text, ruled.evidence)
    return Ruling("other fiber", ruled.text, ruled.evidence)


def us_decoration(*, covered_percent: float) -> Ruling:
    """Return whether decoration may be left out of a US label.

    Parameters
    ----------
    covered_percent : float
        Share of the surface that the decoration covers [%].

    Returns
    -------
    Ruling
        ``may be left out with "exclusive of decoration"`` or ``must be named``.

    Raises
    ------
    OutOfRangeError
        If the share is impossible.

    Notes
    -----
    By surface, not by mass: European rules count mass.

    References
    ----------
    ``cfr-16-303-quotation``: 303.12(a).
    """
    return _left_out("us-decoration", "covered_percent", covered_percent, "exclusive of decoration")


def us_elastic(*, covered_percent: float) -> Ruling:
    """Return whether elastic material may be left out of a US label.

    Parameters
    ----------
    covered_percent : float
        Share of the surface that is elastic [%].

    Returns
    -------
    Ruling
        ``may be left out with "exclusive of elastic"`` or ``must be named``.

    Raises
    ------
    OutOfRangeError
        If the share is impossible.

    References
    ----------
    ``cfr-16-303-quotation``: 303.12(b).
    """
    return _left_out("us-elastic", "covered_percent", covered_percent, "exclusive of elastic")


def us_ornamentation(*, percent: float) -> Ruling:
    """Return whether fibre ornamentation may be left out of a US label.

    Parameters
    ----------
    percent : float
        Share of the fibre mass [%].

    Returns
    -------
    Ruling
        ``may be left out with "exclusive of ornamentation"`` or ``must be named``.

    Raises
    ------
    OutOfRangeError
        If the share is impossible.

    Notes
    -----
    The limit is cited from memory.

    References
    ----------
    ``cfr-16-303``: 303.26.
    """
    return _left_out("us-ornamentation", "percent", percent, "exclusive of ornamentation")


def eu_decorative(*, mass_percent: float) -> Ruling:
    """Return whether visible decorative fibres may be left out of a European label.

    Parameters
    ----------
    mass_percent : float
        Share of the mass of the finished product [%].

    Returns
    -------
    Ruling
        ``may be left out`` or ``must be named``.

    Raises
    ------
    OutOfRangeError
        If the share is impossible.

    Notes
    -----
    Only fibres that are visible, can be taken off and do nothing but adorn.

    References
    ----------
    ``eu-1007-2011-quotation``: art. 10.
    """
    return _left_out("eu-decorative", "mass_percent", mass_percent)


def eu_antistatic(*, mass_percent: float) -> Ruling:
    """Return whether fibres against static may be left out of a European label.

    Parameters
    ----------
    mass_percent : float
        Share of the mass of the finished product [%].

    Returns
    -------
    Ruling
        ``may be left out`` or ``must be named``.

    Raises
    ------
    OutOfRangeError
        If the share is impossible.

    References
    ----------
    ``eu-1007-2011-quotation``: art. 10.
    """
    return _left_out("eu-antistatic", "mass_percent", mass_percent)


def eu_other_fibres(*, percent: float, together_percent: float) -> Ruling:
    """Return whether a fibre may stand under "other fibres" on a European label.

    Parameters
    ----------
    percent : float
        Its own share of the mass [%].
    together_percent : float
        Share of all that would stand there, itself included [%].

    Returns
    -------
    Ruling
        ``other fibres`` or ``must be named``.

    Raises
    ------
    OutOfRangeError
        If a share is impossible, or the fibre is more than all together.

    Notes
    -----
    The limits are cited from memory.

    References
    ----------
    ``eu-1007-2011``: art. 9(2).
    """
    require_between(0.0, 100.0, together_percent=together_percent)
    require_between(0.0, together_percent, percent=percent)
    ruled = rule("eu-other-fibres")
    few = percent <= ruled.limits["each_percent"]
    few = few or together_percent <= ruled.limits["together_percent"]
    return Ruling("other fibres" if few else MUST_BE_NAMED, ruled.text, ruled.evidence)


def label_tolerance(*, region: str, label_percent: float, found_percent: float) -> Ruling:
    """Return whether a share found by analysis agrees with the label.

    Parameters
    ----------
    region : str
        ``us`` or ``eu``.
    label_percent : float
        Share that the label states, of the total fibre mass [%].
    found_percent : float
        Share that the analysis found, of the total fibre mass [%].

    Returns
    -------
    Ruling
        ``within tolerance`` or ``outside tolerance``.

    Raises
    ------
    UnknownNameError
        If the region is neither us nor eu.
    OutOfRangeError
        If a share is impossible.

    Notes
    -----
    Percentage points of the total fibre mass, not a share of the share. A US product stated as all
    one fibre has no tolerance. Both limits are cited from memory.

    References
    ----------
    ``eu-1007-2011``: art. 20; ``cfr-16-303``: 303.43.
    """
    require_between(0.0, 100.0, label_percent=label_percent, found_percent=found_percent)
    if region not in REGIONS:
        raise UnknownNameError(f"{region!r} is no region", "region", "us or eu")
    ruled = rule(f"{region}-tolerance")
    points = 0.0 if region == "us" and label_percent == 100.0 else ruled.limits["points"]
    within = abs(label_percent - found_percent) <= points + 1e-9
    value = "within tolerance" if within else "outside tolerance"
    return Ruling(value, ruled.text, ruled.evidence)


def _left_out(key: str, limit: str, percent: float, words: str = "") -> Ruling:
    require_between(0.0, 100.0, **{limit: percent})
    ruled = rule(key)
    if percent > ruled.limits[limit]:
        return Ruling(MUST_BE_NAMED, ruled.text, ruled.evidence)
    told = f' with "{words}"' if words else ""
    return Ruling(f"may be left out{told}", ruled.text, ruled.evidence)
