"""Lengths in the text of a label, and what each of them measures."""

from __future__ import annotations

import re
from dataclasses import dataclass

from samite.cloth._reader.measures import (
    PILE_RANGE_MM,
    THICKNESS_RANGE_MM,
    WIDTH_RANGE_CM,
    agreed_lengths,
    ends,
)
from samite.cloth._reader.text import BLANK, NUMBER, LabelText, number
from samite.kernel.errors import OutOfRangeError
from samite.kernel.quantity import Quantity
from samite.kernel.units import convert

_UNITS = {
    "mm": r"mm|millimet(?:er|re)s?",
    "cm": r"cms?|centimet(?:er|re)s?|zentimeter",
    "m": r"m|mtrs?|met(?:er|re)s?|metros?|metri",
    "in": r"inches|inch|ins?|zoll|\"|''|pouces?|pulgadas?",
    "yd": r"yards?|yds?|y",
    "ft": r"ft|feet|foot",
    "mil": r"mils?|thou",
}
_UNIT = "|".join(f"(?P<{name}>{pattern})" for name, pattern in _UNITS.items())
_TWO = rf"(?P<low>{NUMBER})\s*(?:\"|''|in|cm)?\s*(?:-|to|bis|/|~)\s*(?P<high>{NUMBER})"
_LENGTH = re.compile(
    rf"(?<![\w.,/])(?P<sign>-)?(?:{_TWO}|(?P<one>{NUMBER}))[\s-]?\s?(?:{_UNIT})(?![\w/])"
)
_METRE_MIDDLE = re.compile(r"(?<![\w.,])([1-5])m([0-9]{2})(?!\w)")
_BY = re.compile(
    rf"(?<![\w.,/])(?P<one>{NUMBER})(?:\s?(?:cm|mm|in|\"))?\s*(?:\([vh]\)|[vh]\b)?\s*x\s*(?={NUMBER})"
)
_BARE_WIDTH = re.compile(
    rf"\b(?:width|wide|breite|largeur|laize|ancho|larghezza)\s*[:=]?\s*(?P<one>{NUMBER})(?!\w|[.,]\d|[/\"'%])"
)

_REPEAT = r"(?:repeats?|rapporto?|raccord|wiederholung|motif repeat)"
_PILE = r"(?:pile|florhohe|hair|nap|flor|fur|poil|pelo)"
_WIDE = r"(?:wide|width|breite?|largeur|large|laize|larghezza|ancho|anchura|w|wd|usable|cuttable)"
_THICK = r"(?:thick|thickness|dick|dicke|starke|epaisseur|epais|spessore|grosor|espesor)"
_DECOR = (
    r"(?:(?:round|flat|glued|stuck[ -]on|gold|silver|black|metallic|plastic|foil|cup)\s+){0,2}"
    r"(?:sequins?|paillettes?|dots?|spots?|beads?|pearls?|stripes?|checks?|squares?|holes?|mesh|"
    r"flowers?|motifs?|stones?|rhinestones?|studs?|scales?|wales?|ribs?|pleats?|diamonds?|stars?|"
    r"gingham|spangles?|discs?)"
)
_IS = r"\s*(?:of|is|:|=|approx\.?|ca\.?|about)?\s*\(?\s*"
_SOLD = (
    r"(?:per|by(?: the)?|each|every|min(?:imum)?|sample|length|remnant|piece|cut|coupon|je|sold)"
)
_KINDS = (
    ("repeat", rf"\b{_REPEAT}{_IS}$", rf"^\s*\(?[vh]?\)?\s*(?:[a-z]+ ){{0,2}}{_REPEAT}\b"),
    (
        "pile",
        rf"\b{_PILE}\s*(?:height|length|depth)?{_IS}$",
        rf"^\s*(?:(?:long|high|deep|short|cut)[\s-]*)?{_PILE}\b",
    ),
    ("thickness", rf"\b{_THICK}{_IS}$", rf"^\s*{_THICK}\b"),
    ("width", rf"\b{_WIDE}{_IS}$", rf"^\s*\(?{_WIDE}\b"),
    ("decor", r"(?!)", rf"^\s*(?:diameter\s*)?{_DECOR}\b"),
    ("sold", rf"\b{_SOLD}\s*$", r"^\s*(?:remnant|piece|length|long|coupon|cut|sample|off)\b"),
)
_CONTEXTS = tuple((kind, re.compile(a), re.compile(b)) for kind, a, b in _KINDS)
_NARROW = re.compile(
    r"\b(?:ribbon|elastic|tape|braid|webbing|fringe|trim|bias binding|petersham|cord|band)\b"
)
_FUR = re.compile(r"\b(?:fur|plush|pelz|pile|sherpa|teddy|minky|boa|fellimitat|fourrure)\b")
_USABLE = re.compile(r"\b(?:usable|cuttable|useable|nutzbar|utile)\b")


@dataclass(frozen=True, slots=True)
class Lengths:
    """The lengths that a label gives.

    Parameters
    ----------
    width_cm : Quantity or None
        Open width [cm].
    thickness_mm : Quantity or None
        Thickness [mm].
    pile_height_mm : float or None
        Pile height [mm].
    repeat_along_mm : float or None
        Repeat along [mm].
    repeat_across_mm : float or None
        Repeat across [mm].
    notes : tuple of str
        What was done with the numbers.
    """

    width_cm: Quantity | None
    thickness_mm: Quantity | None
    pile_height_mm: float | None
    repeat_along_mm: float | None
    repeat_across_mm: float | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Length:
    low_mm: float
    high_mm: float
    unit: str
    kind: str
    across: bool
    start: int
    end: int


def take_lengths(label: LabelText) -> Lengths:
    """Take every length from a label and say what it measures.

    Parameters
    ----------
    label : LabelText
        The label; what is read is blanked out.

    Returns
    -------
    Lengths
        What the label gives.

    Raises
    ------
    InputError
        If two widths or thicknesses contradict each other.
    OutOfRangeError
        If a length is impossible.
    """
    notes: list[str] = []
    found = _pairs(label) + [_length(label, match) for match in label.take(_LENGTH)]
    found += [_metre(match) for match in label.take(_METRE_MIDDLE)]
    found += _bare_widths(label, notes)
    found.sort(key=lambda length: length.start)
    along, across = _repeat(found, notes)
    return Lengths(
        _width(label, found),
        _thickness(label, found),
        _pile(label, found),
        along,
        across,
        tuple(notes),
    )


def _length(label: LabelText, found: re.Match[str]) -> _Length:
    unit = next(name for name in _UNITS if found[name] is not None)
    low, high = _ends(found)
    start, end = found.start(), found.end()
    kind = _kind(label, start, end)
    if kind == "pile" and unit in ("cm", "in") and _mm(low, unit) > PILE_RANGE_MM[1]:
        kind = "other"
    if found["sign"] and kind != "other":
        raise OutOfRangeError(
            f"a {kind} below zero ({found[0].strip()}) is impossible",
            label.place(start, end),
            "give it without a minus sign",
        )
    after = label.whole[end : end + 14]
    across = bool(re.match(r"\s*\(?(?:h\b|horizontal|across|wide|width)", after))
    across |= bool(re.search(r"\b(?:horizontal|across|h)\b[^,;]{0,12}$", label.whole[:start][-22:]))
    return _Length(_mm(low, unit), _mm(high, unit), unit, kind, across, start, end)


def _ends(found: re.Match[str]) -> tuple[float, float]:
    """Return the ends of a length; 58/60 is a range, 1/16 a fraction."""
    if found["low"] and "/" in found[0] and number(found["low"]) < 10.0:
        fraction = number(found["low"]) / max(number(found["high"]), 1.0)
        return fraction, fraction
    return ends(found["low"] or found["one"], found["high"])


def _mm(value: float, unit: str) -> float:
    return round(convert(value, unit, "mm"), 6)


def _kind(label: LabelText, start: int, end: int) -> str:
    before = label.rest[max(0, start - 40) : start].replace(BLANK, "\x02")
    before = re.split(r"[;|\n]", before)[-1]
    after = label.rest[end : end + 40].replace(BLANK, "\x02")
    for kind, ahead, behind in _CONTEXTS:
        if behind.search(after):
            return kind
        if ahead.search(before) and not (kind == "width" and behind.search(after)):
            return kind
    return "other"


def _pairs(label: LabelText) -> list[_Length]:
    """Take the first half of "64 x 32 cm"; the second is an ordinary length."""
    firsts: list[_Length] = []
    for found in list(_BY.finditer(label.rest)):
        second = _LENGTH.match(label.rest, found.end())
        if second is None:
            continue
        unit = next(name for name in _UNITS if second[name] is not None)
        value = _mm(number(found["one"]), unit)
        before = _kind(label, found.start(), second.end())
        kind = before if before in ("repeat", "decor") else "sold"
        firsts.append(_Length(value, value, unit, kind, False, found.start(), found.end()))
        low, high = ends(second["low"] or second["one"], second["high"])
        firsts.append(
            _Length(_mm(low, unit), _mm(high, unit), unit, kind, True, second.start(), second.end())
        )
        label.blank(found.start(), second.end())
    return firsts


def _metre(found: re.Match[str]) -> _Length:
    value = 1000.0 * float(found[1]) + 10.0 * float(found[2])
    return _Length(value, value, "cm", "width", False, found.start(), found.end())


def _bare_widths(label: LabelText, notes: list[str]) -> list[_Length]:
    """A width without a unit can only be centimetres if it is 90 or more."""
    widths: list[_Length] = []
    for found in label.take(_BARE_WIDTH):
        value = number(found["one"])
        if 90.0 <= value <= WIDTH_RANGE_CM[1]:
            notes.append(f"the width {value:g} without a unit is taken as cm")
            widths.append(
                _Length(10 * value, 10 * value, "cm", "width", False, found.start(), found.end())
            )
        else:
            notes.append(f"the width {value:g} has no unit and is not used: write cm or in")
    return widths


def _width(label: LabelText, found: list[_Length]) -> Quantity | None:
    narrow = bool(_NARROW.search(label.whole))
    stated = [length for length in found if length.kind == "width"]
    usable = [
        length
        for length in stated
        if _USABLE.search(re.split(r"[,;]", label.whole[: length.start])[-1])
        or _USABLE.match(label.whole[length.end :].lstrip(" ("))
    ]
    stated = usable or stated
    if not stated:
        stated = _likely_widths([length for length in found if length.kind == "other"], narrow)
    least, most = WIDTH_RANGE_CM
    for length in stated:
        if not least <= length.low_mm / 10 <= length.high_mm / 10 <= most:
            raise OutOfRangeError(
                f"no cloth is {length.low_mm / 10:g} cm wide; widths run to {most:g} cm",
                label.place(length.start, length.end),
                "check the number and its unit",
            )
    return agreed_lengths(
        label,
        [(item.low_mm / 10, item.high_mm / 10, item.start, item.end) for item in stated],
        "cm",
        "widths",
    )


def _likely_widths(found: list[_Length], narrow: bool) -> list[_Length]:
    if narrow:
        return [item for item in found if item.unit in ("mm", "cm", "in")][:1]
    likely = [item for item in found if item.unit in ("cm", "in") or item.low_mm >= 300.0]
    likely = [item for item in likely if item.unit not in ("yd", "ft", "mil")]
    wide = [item for item in likely if item.low_mm >= 400.0 and item.unit != "m"]
    if wide:
        return wide
    metres = [item for item in likely if item.unit == "m" and 500.0 <= item.low_mm <= 3600.0]
    zero = [item for item in likely if item.low_mm == 0.0 and item.unit in ("cm", "in")]
    return metres[:1] or zero


def _thickness(label: LabelText, found: list[_Length]) -> Quantity | None:
    stated = [item for item in found if item.kind == "thickness"]
    if not stated and not _NARROW.search(label.whole) and not _FUR.search(label.whole):
        stated = [
            item
            for item in found
            if item.kind == "other" and item.unit in ("mm", "mil") and item.high_mm <= 15.0
        ][:1]
    least, most = THICKNESS_RANGE_MM
    for item in stated:
        if not least <= item.low_mm <= item.high_mm <= most:
            raise OutOfRangeError(
                f"no cloth is {item.low_mm:g} mm thick; cloths run from {least:g} to {most:g} mm",
                label.place(item.start, item.end),
                "check the number and its unit",
            )
    return agreed_lengths(
        label,
        [(item.low_mm, item.high_mm, item.start, item.end) for item in stated],
        "mm",
        "thicknesses",
    )


def _pile(label: LabelText, found: list[_Length]) -> float | None:
    stated = [item for item in found if item.kind == "pile"]
    if not stated and _FUR.search(label.whole):
        stated = [item for item in found if item.kind == "other" and item.unit == "mm"][:1]
    least, most = PILE_RANGE_MM
    for item in stated:
        if not least <= item.low_mm <= item.high_mm <= most:
            raise OutOfRangeError(
                f"no pile is {item.low_mm:g} mm high; piles run from {least:g} to {most:g} mm",
                label.place(item.start, item.end),
                "check the number and its unit",
            )
    return 0.5 * (stated[0].low_mm + stated[0].high_mm) if stated else None


def _repeat(found: list[_Length], notes: list[str]) -> tuple[float | None, float | None]:
    repeats = [item for item in found if item.kind == "repeat" and item.high_mm > 0.0]
    along = next((item for item in repeats if not item.across), None)
    across = next((item for item in repeats if item.across), None)
    if along is not None and across is not None and across.start - along.end < 2:
        notes.append("of a repeat given as two lengths the first is taken along the cloth")
    return (
        along.high_mm if along is not None else None,
        across.high_mm if across is not None else None,
    )
