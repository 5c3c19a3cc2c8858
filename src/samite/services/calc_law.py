"""Named functions that answer what rules of law and standards say, with their evidence."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from typing import ParamSpec

from samite.kernel.evidence import Grade
from samite.labels import content, cords, flammability, nightwear
from samite.labels.rules.book import Ruling
from samite.labels.rules.book import rule as rule_named
from samite.services.calc_tables import Sourced
from samite.tables.fibre_names import find_fibre

P = ParamSpec("P")


def _sourced(function: Callable[P, Ruling]) -> Callable[P, Sourced]:
    """Let a rule answer with its words and evidence, under its own name and docstring."""

    @functools.wraps(function)
    def answer(*args: P.args, **kwargs: P.kwargs) -> Sourced:
        ruling = function(*args, **kwargs)
        return Sourced(ruling.value, "", ruling.evidence)

    answer.__module__ = __name__
    return answer


burn_class = _sourced(flammability.burn_class)
burn_class_range = _sourced(flammability.burn_class_range)
unrefurbished_mark = _sourced(flammability.unrefurbished_mark)
play_costume_spread = _sourced(flammability.play_costume_spread)
retail_code_spread = _sourced(flammability.retail_code_spread)
us_drawstring = _sourced(cords.us_drawstring)
eu_hood_cords = _sourced(cords.eu_hood_cords)
eu_cord_scope = _sourced(cords.eu_cord_scope)
us_minor_fibre = _sourced(content.us_minor_fibre)
us_decoration = _sourced(content.us_decoration)
us_elastic = _sourced(content.us_elastic)
us_ornamentation = _sourced(content.us_ornamentation)
eu_decorative = _sourced(content.eu_decorative)
eu_antistatic = _sourced(content.eu_antistatic)
eu_other_fibres = _sourced(content.eu_other_fibres)
label_tolerance = _sourced(content.label_tolerance)
infant_garment = _sourced(nightwear.infant_garment)
char_length = _sourced(nightwear.char_length)


def exemption_from_test(*, surface: str, mass_per_area_gsm: float, fibres: str = "") -> Sourced:
    """Return whether a clothing textile is exempt from the burning test.

    Parameters
    ----------
    surface : str
        ``plain`` or ``raised``.
    mass_per_area_gsm : float
        Mass per area [g/m2].
    fibres : str
        Everything that it is made of, parted by commas: ``"polyester, elastane"``.

    Returns
    -------
    Sourced
        ``exempt (fibre list)``, ``exempt (mass)`` or ``not exempt (test needed)``.

    Raises
    ------
    UnknownNameError
        If a fibre or the surface is not known.
    OutOfRangeError
        If the mass is impossible.

    References
    ----------
    ``cfr-16-1610``: 1610.1(d).
    """
    words = [word.strip() for word in re.split(r"[,;/]|\band\b", fibres) if word.strip()]
    ruling = flammability.exemption_from_test(
        surface=surface,
        mass_per_area_gsm=mass_per_area_gsm,
        fibres=[find_fibre(word).fibre_key for word in words],
    )
    return Sourced(ruling.value, "", ruling.evidence)


def law_in_words(*, rule: str) -> Sourced:
    """Return a rule of law or of a standard in words, with its limits.

    Parameters
    ----------
    rule : str
        Name of the rule, ``"eu-other-fibres"``.

    Returns
    -------
    Sourced
        The rule in our own words.

    Raises
    ------
    UnknownNameError
        If there is no such rule; the hint carries close names.

    References
    ----------
    ``definition``: the source of the rule is given with the answer.
    """
    found = rule_named(rule)
    return Sourced(found.text, "", found.evidence)


_READ = Grade.PUBLICATION
_MEMORY = Grade.FROM_MEMORY

CALC_RULES: dict[str, tuple[str, Grade]] = {
    name: (f"{__name__}:{function}", grade)
    for name, function, grade in (
        ("burn-class", "burn_class", _READ),
        ("burn-class-range", "burn_class_range", _READ),
        ("burn-test-exemption", "exemption_from_test", _READ),
        ("unrefurbished-mark", "unrefurbished_mark", _READ),
        ("play-costume-spread", "play_costume_spread", _READ),
        ("retail-code-spread", "retail_code_spread", _READ),
        ("us-drawstring", "us_drawstring", _READ),
        ("eu-hood-cords", "eu_hood_cords", _READ),
        ("eu-cord-scope", "eu_cord_scope", _READ),
        ("us-minor-fibre", "us_minor_fibre", _READ),
        ("us-decoration", "us_decoration", _READ),
        ("us-elastic", "us_elastic", _READ),
        ("us-ornamentation", "us_ornamentation", _MEMORY),
        ("eu-decorative", "eu_decorative", _READ),
        ("eu-antistatic", "eu_antistatic", _READ),
        ("eu-other-fibres", "eu_other_fibres", _MEMORY),
        ("label-tolerance", "label_tolerance", _MEMORY),
        ("infant-garment", "infant_garment", _READ),
        ("char-length", "char_length", _MEMORY),
        ("law-in-words", "law_in_words", _READ),
    )
}
"""Place and grade by the name that a person types."""
