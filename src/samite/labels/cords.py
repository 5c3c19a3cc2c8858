"""Cords and drawstrings on children's clothing: where none may be, and how long elsewhere."""

from __future__ import annotations

from samite.kernel.errors import UnknownNameError
from samite.kernel.ranges import require_between
from samite.labels.rules.book import Rule, Ruling, rule
from samite.tables.loader import did_you_mean

US_PLACES = {
    "hood": "cords-us-neck",
    "neck": "cords-us-neck",
    "waist": "cords-us-waist",
    "bottom": "cords-us-waist",
}
OLDEST_YEARS = 120
LARGEST_SIZE = 60
TALLEST_CM = 260.0


def us_drawstring(*, place: str, size: int) -> Ruling:
    """Return whether a drawstring is allowed on US children's outerwear.

    Parameters
    ----------
    place : str
        ``hood``, ``neck``, ``waist`` or ``bottom``.
    size : int
        Size of the garment, 2 for 2T [-].

    Returns
    -------
    Ruling
        ``not allowed``, ``allowed to 75 mm outside the channel`` or ``no rule for this size``.

    Raises
    ------
    UnknownNameError
        If the place is not known.
    OutOfRangeError
        If there is no such size.

    Notes
    -----
    Retractable cords are exempt; they are not asked after here.

    References
    ----------
    ``astm-f1816``: made binding by 16 CFR 1120.3(b).
    """
    require_between(0, LARGEST_SIZE, size=size)
    if place not in US_PLACES:
        raise UnknownNameError(
            f"{place!r} is no place for a drawstring",
            "place",
            f"one of {', '.join(US_PLACES)}; {did_you_mean(place, US_PLACES)}",
        )
    ruled = rule(US_PLACES[place])
    if not ruled.limits["size_from"] <= size <= ruled.limits["size_to"]:
        return _ruled("no rule for this size", ruled)
    outside_mm = ruled.limits.get("outside_mm", 0.0)
    if outside_mm:
        return _ruled(f"allowed to {outside_mm:g} mm outside the channel", ruled)
    return _ruled("not allowed", ruled)


def eu_hood_cords(*, age_years: int, height_cm: float = 0.0) -> Ruling:
    """Return which cords European clothing may have at hood, head and neck.

    Parameters
    ----------
    age_years : int
        Age of the wearer in whole years [-].
    height_cm : float
        Body height, 0 if not known [cm].

    Returns
    -------
    Ruling
        ``none allowed``, ``no drawstrings with free ends`` or ``no rule for this age``.

    Raises
    ------
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Age and height: the younger of the two answers counts.

    References
    ----------
    ``en-14682-scope``: an authority's summary.
    """
    require_between(0, OLDEST_YEARS, age_years=age_years)
    require_between(0.0, TALLEST_CM, height_cm=height_cm)
    young, older = rule("cords-eu-young"), rule("cords-eu-older")
    if age_years > older.limits["age_years"]:
        return _ruled("no rule for this age", older)
    small = 0.0 < height_cm <= young.limits["height_cm"]
    if age_years < young.limits["age_years"] or small:
        return _ruled("none allowed", young)
    return _ruled("no drawstrings with free ends", older)


def eu_cord_scope(*, garment: str) -> Ruling:
    """Return whether the European cord standard covers a kind of garment.

    Parameters
    ----------
    garment : str
        ``clothing``, ``disguise``, ``ski``, ``theatrical``, ``ceremony``, ``dancewear``,
        ``footwear``, ``gloves``, ``hat``, ``scarf`` or ``belt``.

    Returns
    -------
    Ruling
        ``yes`` or ``no (out of scope)``.

    Raises
    ------
    UnknownNameError
        If the kind of garment is not known.

    Notes
    -----
    Out of scope means that no rule binds, not that a cord is safe. Tied belts are in scope.

    References
    ----------
    ``en-14682-scope``: EN 14682:2014, scope.
    """
    ruled = rule("cords-eu-scope")
    inside, outside = ruled.lists["in_scope"], ruled.lists["out_of_scope"]
    if garment not in inside | outside:
        raise UnknownNameError(
            f"{garment!r} is no kind of garment here",
            "garment",
            f"one of {', '.join(sorted(inside | outside))}",
        )
    return _ruled("yes" if garment in inside else "no (out of scope)", ruled)


def _ruled(value: str, ruled: Rule) -> Ruling:
    return Ruling(value, ruled.text, ruled.evidence)
