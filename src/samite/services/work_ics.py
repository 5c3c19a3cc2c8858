"""The order of work as a calendar file (RFC 5545): a session an event, its operations in the text."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime

from samite.services.work import WorkAnswer
from samite.work.plan import Line, came

LONGEST_LINE = 75
"""Octets of a line before it is folded."""


def work_ics(answer: WorkAnswer) -> str:
    """Return the plan as a calendar.

    Parameters
    ----------
    answer : WorkAnswer
        The plan.

    Returns
    -------
    str
        iCalendar with local times that float, one event a session, an appointment of its own for
        every fitting, and the day itself.
    """
    plan = answer.plan
    stamp = plan.problem.start.replace(tzinfo=UTC)
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//samite//work order//EN",
        "CALSCALE:GREGORIAN",
    ]
    for held in _by_session(plan.lines):
        lines += _session_event(plan.problem.name, held, stamp)
    for line in plan.lines:
        if line.operation.at is not None:
            told = f"{plan.problem.name}: {line.operation.name}"
            lines += _event(told, line.work, line.end, f"with {line.maker}", stamp)
    if plan.problem.due is not None:
        lines += _event(
            f"{plan.problem.name}: due", plan.problem.due, plan.problem.due, plan.why, stamp
        )
    lines.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for line in lines for part in _folded(line))


def _by_session(lines: tuple[Line, ...]) -> list[list[Line]]:
    found: dict[tuple[str, int], list[Line]] = {}
    for line in lines:
        found.setdefault((line.maker, line.session), []).append(line)
    return sorted(found.values(), key=lambda held: (held[0].begin, held[0].maker))


def _session_event(name: str, held: list[Line], stamp: datetime) -> list[str]:
    text = []
    for line in held:
        changes = "; ".join(one.words for one in line.changes if one.what != "move")
        text.append(
            f"{line.begin:%H:%M} {line.operation.name} ({line.machine})"
            + (f" - {changes}" if changes else "")
        )
    title = f"{name}: {held[0].maker}, {len(held)} operation{'s' * (len(held) > 1)}"
    begin, end = came(held), max(one.end for one in held)
    return _event(title, begin, end, "\n".join(text), stamp)


def _event(title: str, begin: datetime, end: datetime, text: str, stamp: datetime) -> list[str]:
    key = hashlib.sha256(f"{title}|{begin.isoformat()}|{end.isoformat()}".encode()).hexdigest()[:24]
    lines = [
        "BEGIN:VEVENT",
        f"UID:{key}@samite",
        f"DTSTAMP:{stamp:%Y%m%dT%H%M%SZ}",
        f"DTSTART:{begin:%Y%m%dT%H%M%S}",
    ]
    if end > begin:
        lines.append(f"DTEND:{end:%Y%m%dT%H%M%S}")
    return [*lines, f"SUMMARY:{_escaped(title)}", f"DESCRIPTION:{_escaped(text)}", "END:VEVENT"]


def _escaped(text: str) -> str:
    plain = "".join(sign if sign.isprintable() or sign == "\n" else " " for sign in text)
    for sign in ("\\", ";", ","):
        plain = plain.replace(sign, f"\\{sign}")
    return plain.replace("\n", "\\n")


def _folded(line: str) -> list[str]:
    """Fold a line after 75 octets, never inside a character."""
    parts, part, size = [], "", 0
    for sign in line:
        octets = len(sign.encode("utf-8"))
        if size + octets > LONGEST_LINE:
            parts.append(part)
            part, size = " ", 1
        part += sign
        size += octets
    return [*parts, part]
