"""The work of a costume job as a file that can be planned: ``samite.work-problem.v1``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date, datetime, time
from math import dist
from typing import Any

import tomlkit

from samite.cloth.model import Cloth
from samite.project.construct import PieceFacts, SeamFacts, construct
from samite.project.model import Costume, Hours, Project
from samite.project.seams import JobSeam
from samite.services.job_pieces import CutPiece
from samite.services.work import plan_file
from samite.services.work_json import work_json
from samite.services.work_paper import summary, work_svg
from samite.work.generate import operations_of
from samite.work.operation import HEATS, After, Operation, Setting
from samite.work.schedule import Budget

FORMAT = "samite.work-problem.v1"
DONE_BY = time(18, 0)
"""Hour at which a day due ends."""

USUAL_HOURS = {"saturday": (time(10, 0), time(16, 0)), "sunday": (time(14, 0), time(18, 0))}
"""Sessions where the job says none."""

SeamCards = Sequence[tuple[JobSeam, Mapping[str, Any] | None]]


def job_operations(
    project: Project,
    cloths: Mapping[str, Cloth],
    pieces: Mapping[str, Sequence[CutPiece]],
    seams: Mapping[str, SeamCards],
) -> tuple[Operation, ...]:
    """Return every operation of a job.

    Parameters
    ----------
    project : Project
        The job.
    cloths : mapping of str to Cloth
        Cloths by name.
    pieces : mapping of str to sequence of CutPiece
        By costume: what is cut.
    seams : mapping of str to sequence of (JobSeam, mapping or None)
        By costume: every seam with its seam card.

    Returns
    -------
    tuple of Operation
        Costume by costume.
    """
    return tuple(
        operation
        for costume in project.costumes
        if pieces.get(costume.name)
        for operation in operations_of(
            construct(
                costume,
                cloths,
                [_piece_facts(one) for one in pieces[costume.name]],
                [_seam_facts(seam, card) for seam, card in seams.get(costume.name, ())],
                _fitting(project, costume),
            )
        )
    )


def _piece_facts(one: CutPiece) -> PieceFacts:
    corners = one.finished.cut.points
    outline = sum(dist(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))
    return PieceFacts(
        one.job,
        one.role,
        one.finished.piece.name,
        one.cloth,
        outline / 1000.0,
        one.copies,
        one.area_mm2 / one.copies * 1e-6,
    )


def _seam_facts(seam: JobSeam, card: Mapping[str, Any] | None) -> SeamFacts:
    if not card or "needle" not in card:
        return SeamFacts(seam, Setting(), ("zigzag",), heat="low")
    needle, thread, stitch = card["needle"], card["thread"], str(card["stitch"]["type"])
    setting = Setting(
        f"{needle['point']} {needle['size_nm']}",
        f"{thread['fibre']} {thread['tex']:g} for {seam.cloths[0]}",
        str(card["feed"]["foot"]),
    )
    machines = ("overlocker",) if stitch.startswith("5") else ("zigzag",)
    form = card["seam"]
    press = card.get("press") or {}
    heat = str(press.get("iron", ""))
    return SeamFacts(
        seam,
        setting,
        () if stitch.startswith("2") else machines,
        form["finish"] == "overedge" and form["finish_when"] == "before-assembly",
        card["holding"]["method"] == "basting",
        heat if heat in HEATS else "",
    )


def _fitting(project: Project, costume: Costume) -> datetime | None:
    day = project.hours.fittings.get(costume.name)
    return _first_hour(project.hours, day) if day else None


def _first_hour(hours: Hours, day: date) -> datetime:
    """Return the beginning of that day's session; ten o'clock where there is none."""
    session = hours.sessions.get(f"{day:%A}".lower())
    return datetime.combine(day, session[0] if session else time(10, 0))


def plan_job(text: str, today: date, effort: float) -> dict[str, Any]:
    """Return the plan of a job's work.

    Parameters
    ----------
    text : str
        In the form ``samite.work-problem.v1``.
    today : date
        Today.
    effort : float
        How hard to look [-].

    Returns
    -------
    dict of str to object
        ``text``, ``plan`` in the form ``samite.work.v1``, ``svg``, ``words``, and ``minutes``:
        likely, least and most of all operations.
    """
    answer = plan_file(text, datetime.combine(today, time(0, 0)), budget=Budget(effort))
    minutes = [one.minutes for one in answer.job.operations]
    return {
        "text": text,
        "plan": work_json(answer),
        "svg": work_svg(answer),
        "words": summary(answer),
        "minutes": [
            sum(one.value for one in minutes),
            sum(one.low for one in minutes),
            sum(one.high for one in minutes),
        ],
    }


def work_text(project: Project, operations: Sequence[Operation], today: date) -> str:
    """Return the work of a job as text that can be planned and changed by hand.

    Parameters
    ----------
    project : Project
        The job.
    operations : sequence of Operation
        What is to be done.
    today : date
        Today; work begins then, or on the job's own first day if that is later.

    Returns
    -------
    str
        In the form ``samite.work-problem.v1``.
    """
    begin = max(project.begin or today, today)
    document: dict[str, Any] = {
        "format": FORMAT,
        "name": project.title,
        "today": f"{datetime.combine(begin, time(0, 0)):%Y-%m-%d %H:%M}",
    }
    if project.due:
        document["due"] = f"{datetime.combine(project.due, DONE_BY):%Y-%m-%d %H:%M}"
    document["machine"] = _machines(project)
    document["maker"] = [_maker(project)]
    document["operation"] = [_operation(one) for one in operations]
    return tomlkit.dumps(document)


def _machines(project: Project) -> list[dict[str, str]]:
    found = []
    for number, one in enumerate(project.workroom.machines, 1):
        if one.kind != "hand":
            kind = "overlocker" if "504" in one.stitches else "zigzag"
            found.append({"name": f"{one.name} {number}", "kind": kind})
    return [*found, {"name": "iron", "kind": "iron"}]


def _maker(project: Project) -> dict[str, Any]:
    sessions = project.hours.sessions or USUAL_HOURS
    weekly = [f"{day} {a:%H:%M}-{b:%H:%M}" for day, (a, b) in sessions.items()]
    found: dict[str, Any] = {"name": "me", "weekly": weekly}
    if project.hours.closed:
        found["closed"] = [day.isoformat() for day in project.hours.closed]
    return found


def _operation(one: Operation) -> dict[str, Any]:
    found: dict[str, Any] = {
        "name": one.name,
        "kind": one.kind,
        "minutes": round(max(one.minutes.value, 0.5), 1),
        "minutes_low": round(max(one.minutes.low, 0.5), 1),
        "minutes_high": round(max(one.minutes.high, 0.5), 1),
    }
    if one.costume:
        found["costume"] = one.costume
    if one.machines:
        found["machine"] = list(one.machines)
    found |= {key: value for key, value in asdict(one.setting).items() if value}
    if one.after:
        found["after"] = [_after(item) for item in one.after]
    for key, words in (("leaves", one.leaves), ("shuns", one.shuns)):
        if words:
            found[key] = list(words)
    if one.helper:
        found["helper"] = True
    if one.at:
        found["at"] = f"{one.at:%Y-%m-%d %H:%M}"
    if one.may_drop:
        found["may_drop"] = one.may_drop
    return found


def _after(item: After) -> dict[str, str]:
    found = {"name": item.name}
    if item.reason:
        found["because"] = item.reason
    if item.wait_min:
        found["wait"] = f"{item.wait_min:g} min"
    return found
