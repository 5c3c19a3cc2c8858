"""The fields of a swatch as a person fills them in: read, every mistake beside its field."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from samite.kernel.errors import InputError, SamiteError
from samite.kernel.units import parse_quantity
from samite.press.dials import Dial
from samite.services.journal import Entry
from samite.swatch.seen import Finding, Sign, Sureness, check_findings
from samite.swatch.trial import PressTrial, SewTrial, Swatch

TRIED = ("press", "sewing", "both")
"""What can have been tried."""

PRESS_FIELDS = {
    "dial": "dial",
    "steam": "steam",
    "press_cloth": "press_cloth",
    "side": "side",
    "seconds": "seconds",
    "sole": "sole_c",
    "hold_tool": "hold_tool",
    "hold_seconds": "hold_seconds",
    "support": "support",
    "piece": "piece",
}
"""Fields of a pressing, and what each becomes."""

SEW_FIELDS = {
    "layers": "layers",
    "needle_point": "needle_point",
    "needle_size": "needle_size_nm",
    "thread_fibre": "thread_fibre",
    "thread_tex": "thread_tex",
    "stitch_type": "stitch_type",
    "stitch_length": "stitch_length_mm",
    "stitch_width": "stitch_width_mm",
    "tension": "tension",
    "stretched": "stretch_percent",
    "hung": "hung_kg",
}
"""Fields of a seam, and what each becomes."""

UNITS = {
    "seconds": "s",
    "sole": "C",
    "hold_seconds": "s",
    "thread_tex": "tex",
    "stitch_length": "mm",
    "stitch_width": "mm",
    "tension": "1",
    "stretched": "%",
    "hung": "kg",
    "shrunk": "mm",
    "cracked": "%",
}
"""Units in which the number of a field is taken."""

WHOLE = ("layers", "needle_size")
"""Fields that take a whole number."""

NEEDED = frozenset(
    {"dial", "steam", "press_cloth", "side", "seconds", "layers", "needle_point"}
) | {
    "needle_size",
    "thread_fibre",
    "thread_tex",
    "stitch_type",
    "stitch_length",
}
"""Fields that a trial cannot do without."""

OTHER_FIELDS = ("tried", "iron", "board", "shrunk", "cracked", "note", "maker", "made_on", "label")
"""Fields besides those of a trial."""


@dataclass(frozen=True, slots=True)
class Filled:
    """What a person filled in.

    Parameters
    ----------
    fields : mapping of str to str
        Text of every field.
    seen : tuple of str
        Signs that were clearly seen.
    doubtful : tuple of str
        Signs that were seen doubtfully; one that is in both is doubtful.
    photos : tuple of bytes
        Photos.
    """

    fields: Mapping[str, str]
    seen: tuple[str, ...] = ()
    doubtful: tuple[str, ...] = ()
    photos: tuple[bytes, ...] = field(default=(), repr=False)

    def text(self, name: str) -> str:
        """Return the text of a field.

        Parameters
        ----------
        name : str
            The field.

        Returns
        -------
        str
            Without space around it; empty if there is none.
        """
        return self.fields.get(name, "").strip()


def read_form(filled: Filled, on: date) -> tuple[Entry | None, dict[str, SamiteError]]:
    """Read what a person filled in.

    Parameters
    ----------
    filled : Filled
        The fields.
    on : date
        Today, the day of the test unless a field says another.

    Returns
    -------
    tuple of (Entry or None, dict of str to SamiteError)
        The swatch, if it is one, and what is wrong, by field.
    """
    problems: dict[str, SamiteError] = {}
    tried = filled.text("tried") or TRIED[0]
    press = sew = None
    if tried not in TRIED:
        problems["tried"] = InputError(
            f"{tried[:40]!r} is no trial", "tried", f"say {', '.join(TRIED)}"
        )
    if tried in ("press", "both"):
        press = _read_trial(PressTrial, PRESS_FIELDS, filled, problems)
    if tried in ("sewing", "both"):
        sew = _read_trial(SewTrial, SEW_FIELDS, filled, problems)
    findings = _read_findings(filled, problems)
    made_on = _read_day(filled.text("made_on"), on, problems)
    if not filled.text("label"):
        problems["label"] = InputError("no label is given", "label", "write what the bolt says")
    if problems:
        return None, problems
    return _entry(filled, made_on, findings, press, sew, problems), problems


def _entry(
    filled: Filled,
    made_on: date,
    findings: tuple[Finding, ...],
    press: PressTrial | None,
    sew: SewTrial | None,
    problems: dict[str, SamiteError],
) -> Entry | None:
    try:
        Swatch("cloth", made_on, findings, press=press, sew=sew, note=filled.text("note"))
    except SamiteError as error:
        problems[error.where] = error
        return None
    return Entry(
        label=filled.text("label"),
        made_on=made_on,
        findings=findings,
        press=press,
        sew=sew,
        iron=filled.text("iron"),
        board=filled.text("board"),
        note=filled.text("note"),
        maker=filled.text("maker"),
        photos=filled.photos,
    )


def _read_trial(
    cls: type[Any], names: Mapping[str, str], filled: Filled, problems: dict[str, SamiteError]
) -> Any:
    values: dict[str, Any] = {}
    before = len(problems)
    for name, parameter in names.items():
        text = filled.text(name)
        try:
            if text:
                values[parameter] = _read_value(name, text)
            elif name in NEEDED:
                raise InputError(f"{_shown(name)} is missing", name, "give it")
        except SamiteError as error:
            problems[name] = error
    if len(problems) > before:
        return None
    try:
        return cls(**values)
    except SamiteError as error:
        back = {parameter: name for name, parameter in names.items()}
        name = back.get(error.where, error.where)
        problems[name] = type(error)(
            _in_form_words(error.message, error.where, name), name, error.hint
        )
        return None


def _in_form_words(message: str, parameter: str, name: str) -> str:
    return message.replace(f"{parameter} =", f"{_shown(name)} =", 1)


def _shown(name: str) -> str:
    return name.replace("_", " ")


def _read_value(name: str, text: str) -> Any:
    if name == "dial":
        return _read_dial(text)
    if name in WHOLE:
        return _read_whole(name, text)
    if name in UNITS:
        return _read_number(name, text)
    return text


def _read_dial(text: str) -> Dial:
    try:
        return Dial(text)
    except ValueError:
        known = ", ".join(Dial)
        raise InputError(f"{text[:40]!r} is no dial position", "dial", f"say {known}") from None


def _read_whole(name: str, text: str) -> int:
    """Read a whole number; of a needle its first size, ``80/12`` or ``Nm 80``."""
    wanted = r"(?:nm\s*)?(\d{1,6})(?:/\d{1,2})?" if name == "needle_size" else r"([+-]?\d{1,6})"
    found = re.fullmatch(wanted, text, re.IGNORECASE | re.ASCII)
    if not found:
        raise InputError(f"{text[:40]!r} is no whole number", name, "write digits alone")
    return int(found[1])


def _read_number(name: str, text: str) -> float:
    if name == "tension":
        return _read_plain(text)
    try:
        return parse_quantity(text, UNITS[name], stitches=name == "stitch_length")
    except SamiteError as error:
        raise type(error)(error.message, name, error.hint) from None


def _read_plain(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise InputError(f"{text[:40]!r} is no number", "tension", "write digits alone") from None


def _read_findings(filled: Filled, problems: dict[str, SamiteError]) -> tuple[Finding, ...]:
    found: dict[Sign, Finding] = {}
    for sureness, words in ((Sureness.CLEAR, filled.seen), (Sureness.DOUBTFUL, filled.doubtful)):
        for word in words:
            try:
                sign = read_sign(word)
                found[sign] = Finding(sign, sureness, **_amounts(sign, filled))
            except SamiteError as error:
                name = _amount_field(error.where)
                message = _in_form_words(error.message, error.where, name)
                problems[name] = type(error)(message, name, error.hint)
    findings = tuple(found.values())
    _check_lone_amounts(filled, findings, problems)
    try:
        if not problems.keys() & {"seen", "shrunk", "cracked"}:
            check_findings(findings)
    except SamiteError as error:
        problems["seen"] = error
    return findings


AMOUNTS = {"shrunk": (Sign.SHRUNK, "shrunk_mm"), "cracked": (Sign.CRACKED, "stretch_percent")}
"""Fields that hold the amount of a sign."""


def _amounts(sign: Sign, filled: Filled) -> dict[str, float]:
    return {
        parameter: _read_number(name, filled.text(name))
        for name, (owner, parameter) in AMOUNTS.items()
        if sign is owner and filled.text(name)
    }


def _amount_field(where: str) -> str:
    back = {parameter: name for name, (_, parameter) in AMOUNTS.items()}
    return back.get(where, where)


def _check_lone_amounts(
    filled: Filled, findings: Sequence[Finding], problems: dict[str, SamiteError]
) -> None:
    """Refuse an amount whose sign was not chosen: it would be lost in silence."""
    signs = {item.sign for item in findings}
    for name, (sign, _) in AMOUNTS.items():
        if filled.text(name) and sign not in signs and name not in problems:
            problems[name] = InputError(
                f"an amount is given, but {sign.words!r} is not chosen",
                name,
                "choose it, or leave the amount out",
            )


def read_sign(text: str) -> Sign:
    """Return the sign that a word names.

    Parameters
    ----------
    text : str
        Its key or its words.

    Returns
    -------
    Sign
        The sign.

    Raises
    ------
    InputError
        If there is none.
    """
    word = " ".join(text.replace("-", " ").split()).lower()
    for sign in Sign:
        if word in (sign.value.replace("-", " "), sign.words):
            return sign
    known = ", ".join(sign.value for sign in Sign)
    raise InputError(f"{text[:40]!r} is no sign", "seen", f"say one of {known}")


def _read_day(text: str, on: date, problems: dict[str, SamiteError]) -> date:
    if not text:
        return on
    try:
        day = date.fromisoformat(text)
    except ValueError:
        problems["made_on"] = InputError(
            f"{text[:40]!r} is no date", "made_on", "write it as 2031-02-03"
        )
        return on
    if day > on:
        problems["made_on"] = InputError(
            f"{day} is yet to come", "made_on", "give the day of the test"
        )
    return day
