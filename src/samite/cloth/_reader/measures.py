"""Mass, width, thickness, repeat and pile height in the text of a label."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from samite.cloth._reader.text import NUMBER, LabelText, number
from samite.kernel.errors import InputError, OutOfRangeError
from samite.kernel.evidence import GIVEN
from samite.kernel.quantity import Quantity, between, spread
from samite.kernel.units import convert, running_mass_to_area

MILL_TOLERANCE = 0.04
"""Half-width of the 90 % range of a printed mass, width or thickness, as a share."""

AGREE = 1.05
"""Two statements of one thing that differ by no more than this factor agree."""

MASS_RANGE_GSM = (3.0, 5000.0)
WIDTH_RANGE_CM = (0.2, 500.0)
THICKNESS_RANGE_MM = (0.005, 100.0)
PILE_RANGE_MM = (0.1, 200.0)

_RANGE = rf"(?<![\w.,/])(?P<sign>-)?(?P<low>{NUMBER})(?:\s*(?:-|to|bis|~)\s*(?P<high>{NUMBER}))?"
_TOLERANCE = r"(?:\s*\(?\s*(?:\+\s*/?\s*-|\u00b1)\s*\d{1,2}(?:[.,]\d+)?\s*%\s*\)?)?"
_GRAM = r"(?:grammes?|gramm|grams?|grammi|gramos|grs?|gms?|g)\.?"
_PER = r"\s*(?:/|per|pro|par|por|al|a|je|p)\s*"
_SQUARE_M = (
    r"(?:m\s?\^?\s?2|sq\.?\s?m(?:et(?:er|re)s?|trs?)?|square\s+met(?:er|re)s?|qm|mq|"
    r"quadratmeter|m(?:etre)?s?\s+carres?|metros?\s+(?:quadro|cuadrado)s?|m\s?q)"
)
_SQUARE_YD = r"(?:yds?\s?\^?\s?2|y\s?2|sq\.?\s?y(?:ar)?ds?|square\s+y(?:ar)?ds?)"
_RUNNING_M = (
    r"(?:l\.?m|lfm|lfd\.?\s?m|m\.?l|r\.?m(?:t)?|(?:lin(?:ear)?|running|run)\.?\s?m(?:et(?:er|re)s?)?"
    r"|laufmeter|laufenden?\s+meter|metre\s+lineaire|metro\s+lineale?|m(?:et(?:er|re))?)"
)
_MASS_UNITS = (
    ("g/m2", rf"{_GRAM}{_PER}{_SQUARE_M}|gsm|g\.s\.m\.?|gm2|g/m\^2"),
    ("kg/m2", rf"kg{_PER}{_SQUARE_M}"),
    ("oz running", rf"(?:oz|ounces?)\.?{_PER}(?:lin(?:ear)?|running)\.?\s?y(?:ar)?ds?"),
    ("oz/yd2", rf"(?:oz|ounces?)\.?(?:{_PER}{_SQUARE_YD}|{_PER}y(?:ar)?ds?)?|osy"),
    ("g/m", rf"{_GRAM}{_PER}{_RUNNING_M}|glm"),
    ("kg/m", rf"kg{_PER}{_RUNNING_M}"),
    ("momme", r"mommes?|mommen|m/m|mme"),
    ("lb/yd2", rf"(?:lbs?|pounds?){_PER}{_SQUARE_YD}"),
    ("g", _GRAM),
)
_MASS = re.compile(
    _RANGE
    + r"[\s-]?\s?(?:"
    + "|".join(f"(?P<u{index}>{unit})" for index, (_, unit) in enumerate(_MASS_UNITS))
    + rf")(?![\w/]){_TOLERANCE}"
)
_MASS_BEFORE = re.compile(
    rf"\b(?:gsm|g/m2|weight|gewicht|poids|grammage|gramaje|peso|mass)\b\s*\(?\s*"
    rf"(?P<unit>gsm|g/m2|oz/yd2|oz)?\s*\)?\s*[:=]?\s*(?P<low>{NUMBER})"
    rf"(?:\s*-\s*(?P<high>{NUMBER}))?(?P<sign>)(?![\w.,/%])"
)
_SILK = re.compile(
    r"\b(?:silk|seide|soie|seta|seda|habotai|habutai|charmeuse|dupioni?|crepe de chine)\b"
)
_MOMME_MM = re.compile(
    rf"{_RANGE}\s?mm(?![\w/])(?!\s*(?:thick|wide|width|pile|long|repeat|high|dots?|sequins?|beads?))"
)


@dataclass(frozen=True, slots=True)
class Mass:
    """A mass as printed.

    Parameters
    ----------
    low : float
        Lower end, in `unit`.
    high : float
        Upper end, in `unit`.
    unit : str
        ``g/m2``, ``g/m`` or ``momme`` and so on.
    start : int
        First letter in the folded text [1].
    end : int
        One past the last letter [1].
    """

    low: float
    high: float
    unit: str
    start: int
    end: int


def take_masses(label: LabelText) -> list[Mass]:
    """Take every mass from a label.

    Parameters
    ----------
    label : LabelText
        The label; what is read is blanked out.

    Returns
    -------
    list of Mass
        In the order of the text.

    Raises
    ------
    OutOfRangeError
        If a mass is negative.
    """
    masses = [_mass(label, found) for found in label.take(_MASS, _is_mass)]
    if _SILK.search(label.whole):
        taken = label.take(_MOMME_MM, lambda found: 3 <= number(found["low"]) <= 60)
        masses += [_mass(label, found, "momme") for found in taken]
    before = label.take(_MASS_BEFORE, lambda found: number(found["low"], thousands=True) >= 3)
    masses += [_mass(label, found, found["unit"] or "g/m2") for found in before]
    return sorted(masses, key=lambda mass: mass.start)


def mass_per_area(
    label: LabelText, masses: list[Mass], width_cm: Quantity | None
) -> tuple[Quantity | None, list[str]]:
    """Return the one mass per area that a label gives.

    Parameters
    ----------
    label : LabelText
        The label, for the messages.
    masses : list of Mass
        What it prints.
    width_cm : Quantity or None
        Width, needed for a mass per running metre [cm].

    Returns
    -------
    tuple of (Quantity or None, list of str)
        Mass per area [g/m2] and notes.

    Raises
    ------
    InputError
        If two masses differ by more than 5 %.
    OutOfRangeError
        If a mass is impossible.
    """
    notes: list[str] = []
    found: list[tuple[Quantity, Mass]] = []
    for mass in masses:
        area = _per_area(mass, width_cm)
        if area is None:
            notes.append(
                f"{label.whole[mass.start : mass.end].strip()} is a mass per running length; "
                "without the width it says nothing about the mass per area"
            )
            continue
        _check(label, mass, area)
        found.append((_quantity(*area, "g/m2"), mass))
        notes += _mass_notes(label, mass, area)
    one = _agreed(label, [(quantity, mass.start, mass.end) for quantity, mass in found], "masses")
    return one, notes


def _is_mass(found: re.Match[str]) -> bool:
    bare = found[f"u{len(_MASS_UNITS) - 1}"] is not None
    return not bare or number(found["high"] or found["low"], thousands=True) >= 15


def _mass(label: LabelText, found: re.Match[str], unit: str = "") -> Mass:
    if found["sign"]:
        raise OutOfRangeError(
            f"a mass below zero ({found[0].strip()}) is impossible",
            label.place(found.start(), found.end()),
            "give the mass without a minus sign",
        )
    if not unit:
        groups = enumerate(_MASS_UNITS)
        unit = next(name for index, (name, _) in groups if found[f"u{index}"] is not None)
    low, high = ends(found["low"], found["high"], thousands=True)
    return Mass(low, high, unit, found.start(), found.end())


def _per_area(mass: Mass, width_cm: Quantity | None) -> tuple[float, float] | None:
    if mass.unit in ("g/m", "kg/m", "oz running"):
        if width_cm is None:
            return None
        unit = {"oz running": "oz/yd"}.get(mass.unit, mass.unit)
        low, high = (convert(end, unit, "g/m") for end in (mass.low, mass.high))
        return (
            running_mass_to_area(running_mass_g_per_m=low, width_cm=width_cm.value),
            running_mass_to_area(running_mass_g_per_m=high, width_cm=width_cm.value),
        )
    if mass.unit == "lb/yd2":
        return 16 * convert(mass.low, "oz/yd2", "g/m2"), 16 * convert(mass.high, "oz/yd2", "g/m2")
    unit = {"g": "g/m2", "oz": "oz/yd2"}.get(mass.unit, mass.unit)
    return convert(mass.low, unit, "g/m2"), convert(mass.high, unit, "g/m2")


def _mass_notes(label: LabelText, mass: Mass, area: tuple[float, float]) -> list[str]:
    printed = label.whole[mass.start : mass.end].strip()
    if mass.unit == "g":
        return [f"{printed} is taken as g/m2"]
    if mass.unit in ("g/m", "kg/m", "oz running"):
        return [f"{printed} divided by the width is {area[0]:.0f} g/m2"]
    if mass.unit == "oz/yd2" and "2" not in printed.split("oz")[-1]:
        return [f"{printed} is taken as ounces per square yard, {area[0]:.0f} g/m2"]
    if mass.unit == "momme" and "mm" in printed and "momm" not in printed:
        return [f"{printed} is taken as momme, the mass of silk, {area[0]:.0f} g/m2"]
    return []


def _check(label: LabelText, mass: Mass, area: tuple[float, float]) -> None:
    least, most = MASS_RANGE_GSM
    if not (least <= area[0] and area[1] <= most):
        raise OutOfRangeError(
            f"no cloth weighs {area[0]:g} g/m2; cloths weigh {least:g} to {most:g} g/m2",
            label.place(mass.start, mass.end),
            "check the number and its unit",
        )


def ends(low: str, high: str | None, *, thousands: bool = False) -> tuple[float, float]:
    """Return the two ends of a printed range; a falling pair is not a range.

    Parameters
    ----------
    low : str
        First number.
    high : str or None
        Second number, if any.
    thousands : bool
        As for `number`.

    Returns
    -------
    tuple of (float, float)
        Low and high, equal for a single number.
    """
    last = number(high or low, thousands=thousands)
    first = number(low, thousands=thousands)
    return (first, last) if first <= last else (last, last)


def _quantity(low: float, high: float, unit: str) -> Quantity:
    if high > low:
        return replace(between(low, high, unit, GIVEN), given=True)
    return spread(low, MILL_TOLERANCE, unit, GIVEN, given=True)


def _agreed(label: LabelText, found: list[tuple[Quantity, int, int]], what: str) -> Quantity | None:
    """Return the first of several statements, all of which must agree with it."""
    if not found:
        return None
    first, start, end = found[0]
    for other, other_start, other_end in found[1:]:
        larger = max(first.value, other.value)
        apart = larger / min(first.value, other.value) > AGREE * (1 + 1e-9)
        overlap = first.low <= other.high and other.low <= first.high
        ranged = first.high / first.low > 1.09 or other.high / other.low > 1.09
        if apart and not (overlap and ranged):
            one = label.whole[start:end].strip()
            two = label.whole[other_start:other_end].strip()
            raise InputError(
                f"the label gives two {what}: {one} ({first.value:.4g} {first.unit}) and "
                f"{two} ({other.value:.4g} {other.unit})",
                label.place(other_start, other_end),
                "keep the right one; two that agree within 5 % are taken as one",
            )
    return first


def agreed_lengths(
    label: LabelText, found: list[tuple[float, float, int, int]], unit: str, what: str
) -> Quantity | None:
    """Return the one length that several statements of it agree on.

    Parameters
    ----------
    label : LabelText
        The label, for the messages.
    found : list of (float, float, int, int)
        Low and high, in `unit`, and the place of each statement.
    unit : str
        Their unit.
    what : str
        How the message names them, ``"widths"``.

    Returns
    -------
    Quantity or None
        None if there is none.

    Raises
    ------
    InputError
        If two differ by more than 5 %.
    """
    return _agreed(
        label, [(_quantity(low, high, unit), start, end) for low, high, start, end in found], what
    )
