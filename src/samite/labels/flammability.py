"""Burning of clothing and play costumes: classes, exemption from the test, rates of spread."""

from __future__ import annotations

from collections.abc import Iterable

from samite.kernel.errors import UnknownNameError
from samite.kernel.ranges import require_between
from samite.kernel.units import convert
from samite.labels.rules.book import Rule, Ruling, rule
from samite.tables.loader import did_you_mean

SURFACES = ("plain", "raised")
INFINITE = float("inf")


def burn_class(
    *, surface: str, burn_time_s: float, base_burns: bool = False, burn_times: int = 2
) -> Ruling:
    """Return the class of a clothing textile from its burning test.

    Parameters
    ----------
    surface : str
        ``plain`` or ``raised``.
    burn_time_s : float
        Average time for the flame to travel 127 mm [s].
    base_burns : bool
        Whether the base of a raised surface ignites or fuses from the surface flash.
    burn_times : int
        How many of up to ten specimens gave a burn time [-].

    Returns
    -------
    Ruling
        ``Class 1``, ``Class 2``, ``Class 3`` or ``inconclusive``.

    Raises
    ------
    UnknownNameError
        If the surface is neither plain nor raised.
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    Assumes the 45 degree test before and after cleaning; the more severe class counts. Older texts
    speak of 4 s for plain cloth: it has been 3.5 s since 1954.

    References
    ----------
    ``cfr-16-1610``: 1610.4, 1610.7.
    """
    require_between(0.0, INFINITE, burn_time_s=burn_time_s)
    require_between(0, 10, burn_times=burn_times)
    _check_surface(surface)
    if surface == "plain":
        return _plain_class(burn_time_s, burn_times)
    return _raised_class(burn_time_s, base_burns, burn_times)


def burn_class_range(*, surface: str, number: int) -> Ruling:
    """Return the burn times that belong to a class.

    Parameters
    ----------
    surface : str
        ``plain`` or ``raised``.
    number : int
        Number of the class, 1 to 3 [-].

    Returns
    -------
    Ruling
        The range in words, or ``not applicable``: a plain surface has no Class 2.

    Raises
    ------
    UnknownNameError
        If the surface is neither plain nor raised.
    OutOfRangeError
        If there is no such class.

    References
    ----------
    ``cfr-16-1610``: 1610.4.
    """
    require_between(1, 3, number=number)
    _check_surface(surface)
    if surface == "plain" and number == 2:
        ruled = rule("raised-class-2")
        return Ruling("not applicable", ruled.text, ruled.evidence)
    ruled = rule(f"{surface}-class-{number}")
    return Ruling(ruled.text, ruled.text, ruled.evidence)


def exemption_from_test(*, surface: str, mass_per_area_gsm: float, fibres: Iterable[str]) -> Ruling:
    """Return whether a clothing textile is exempt from the burning test.

    Parameters
    ----------
    surface : str
        ``plain`` or ``raised``.
    mass_per_area_gsm : float
        Mass per area [g/m2].
    fibres : iterable of str
        Keys of everything that the cloth is made of; none if it is not known.

    Returns
    -------
    Ruling
        ``exempt (fibre list)``, ``exempt (mass)`` or ``not exempt (test needed)``.

    Raises
    ------
    UnknownNameError
        If the surface is neither plain nor raised.
    OutOfRangeError
        If the mass is impossible.

    Notes
    -----
    The list is read strictly, and so errs to the safe side: elastane, metallised film, glue and
    coatings are not in it, whatever their share.

    References
    ----------
    ``cfr-16-1610``: 1610.1(d).
    """
    require_between(0.0, INFINITE, mass_per_area_gsm=mass_per_area_gsm)
    _check_surface(surface)
    found = frozenset(fibres)
    by_fibre, by_mass = rule("test-exemption-fibres"), rule("test-exemption-mass")
    if found and found <= by_fibre.lists["fibres"]:
        return Ruling("exempt (fibre list)", by_fibre.text, by_fibre.evidence)
    limit_gsm = exempt_mass_gsm()
    if surface == "plain" and mass_per_area_gsm >= limit_gsm:
        because = f"plain surface and {mass_per_area_gsm:.4g} g/m2, {limit_gsm:.4g} g/m2 or more"
        return Ruling("exempt (mass)", because, by_mass.evidence)
    strange = ", ".join(sorted(found - by_fibre.lists["fibres"])) or "fibres not known"
    light = (
        f"{mass_per_area_gsm:.4g} g/m2 is below {limit_gsm:.4g} g/m2"
        if surface == "plain"
        else "a raised surface has no exemption by mass"
    )
    because = f"{light}; not in the list of fibres: {strange}"
    return Ruling("not exempt (test needed)", because, by_mass.evidence)


def exempt_mass_gsm() -> float:
    """Return the mass from which a plain surface needs no test.

    Returns
    -------
    float
        Mass per area [g/m2].

    References
    ----------
    ``cfr-16-1610``: 1610.1(d)(1), 2.6 oz/yd2.
    """
    return convert(rule("test-exemption-mass").limits["mass_per_area_oz_yd2"], "oz/yd2", "g/m2")


def unrefurbished_mark(*, customarily_cleaned: bool) -> Ruling:
    """Return the mark of a cloth that was tested without cleaning it first.

    Parameters
    ----------
    customarily_cleaned : bool
        Whether such a cloth is customarily washed or dry cleaned.

    Returns
    -------
    Ruling
        The words that it may carry, or that it must be cleaned before the test.

    References
    ----------
    ``cfr-16-1610``: 1610.35(a), text of 2007; its example is bridal illusion.
    """
    ruled = rule("unrefurbished-mark")
    if customarily_cleaned:
        because = "only cloth that is not customarily cleaned may be tested new alone"
        return Ruling("clean it before the test", because, ruled.evidence)
    because = "not customarily washed or dry cleaned"
    return Ruling(f'may carry "{ruled.text}"', because, ruled.evidence)


def play_costume_spread(*, spread_mm_s: float, self_extinguishes: bool = False) -> Ruling:
    """Return what the toy standard says of the rate of spread on a play costume.

    Parameters
    ----------
    spread_mm_s : float
        Rate of spread of the flame [mm/s].
    self_extinguishes : bool
        Whether the flame goes out by itself.

    Returns
    -------
    Ruling
        ``pass``, pass with the permanent mark, or ``fail``.

    Raises
    ------
    OutOfRangeError
        If the rate is impossible.

    Notes
    -----
    At exactly 10 mm/s the mark is asked for: the safe reading.

    References
    ----------
    ``en-71-2``: sec. 4.3.
    """
    require_between(0.0, INFINITE, spread_mm_s=spread_mm_s)
    ruled, mark = rule("play-costume"), rule("play-costume-mark")
    if self_extinguishes or spread_mm_s < ruled.limits["marked_mm_s"]:
        return Ruling("pass", ruled.text, ruled.evidence)
    if spread_mm_s <= ruled.limits["most_mm_s"]:
        return Ruling(f'pass with permanent "{mark.text}"', ruled.text, ruled.evidence)
    return Ruling("fail", ruled.text, ruled.evidence)


def retail_code_spread(*, spread_mm_s: float) -> Ruling:
    """Return what the UK retail code of practice says of the rate of spread.

    Parameters
    ----------
    spread_mm_s : float
        Rate of spread of the flame [mm/s].

    Returns
    -------
    Ruling
        ``pass``, or ``fail`` with the limit.

    Raises
    ------
    OutOfRangeError
        If the rate is impossible.

    References
    ----------
    ``uk-dress-up-code-2016``: modified EN 71-2, seams and trims included.
    """
    require_between(0.0, INFINITE, spread_mm_s=spread_mm_s)
    ruled = rule("retail-code")
    most = ruled.limits["most_mm_s"]
    passed = spread_mm_s <= most
    return Ruling("pass" if passed else f"fail (limit {most:g} mm/s)", ruled.text, ruled.evidence)


def _plain_class(burn_time_s: float, burn_times: int) -> Ruling:
    first, third = rule("plain-class-1"), rule("plain-class-3")
    if burn_times == 0:
        return Ruling("Class 1", "no specimen gave a burn time", first.evidence)
    if burn_time_s >= first.limits["burn_time_s"]:
        return _ruled("Class 1", first)
    if burn_times < third.limits["burn_times"]:
        return _ruled("inconclusive", third)
    return _ruled("Class 3", third)


def _raised_class(burn_time_s: float, base_burns: bool, burn_times: int) -> Ruling:
    first, second, third = (rule(f"raised-class-{number}") for number in (1, 2, 3))
    slow = burn_time_s > first.limits["burn_time_s"]
    if slow or not base_burns or burn_times == 0:
        return _ruled("Class 1", first)
    if burn_time_s >= second.limits["least_s"]:
        return _ruled("Class 2", second)
    return _ruled("Class 3", third)


def _ruled(value: str, ruled: Rule) -> Ruling:
    return Ruling(value, ruled.text, ruled.evidence)


def _check_surface(surface: str) -> None:
    if surface not in SURFACES:
        raise UnknownNameError(
            f"{surface!r} is no surface",
            "surface",
            f"plain or raised (pile, nap, flock); {did_you_mean(surface, SURFACES)}",
        )
