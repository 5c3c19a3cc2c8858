"""The work of a costume job as a file that can be planned: ``samite.work-problem.v1``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, time
from typing import Any

import tomlkit

from samite.cloth.model import Cloth
from samite.project.model import Hours, Project
from samite.project.seams import JobSeam
from samite.project.steps import CutFacts, SeamFacts, Step, Tools, cloth_steps, costume_steps
from samite.services.job_pieces import CutPiece

FORMAT = "samite.work-problem.v1"
DONE_BY = time(18, 0)
"""Hour at which a day due ends."""

USUAL_HOURS = {"saturday": (time(10, 0), time(16, 0)), "sunday": (time(14, 0), time(18, 0))}
"""Sessions where the job says none."""

HEATS = ("low", "medium", "high")


def job_steps(
    project: Project,
    cloths: Mapping[str, Cloth],
    pieces: Mapping[str, Sequence[CutPiece]],
    seams: Mapping[str, Sequence[tuple[JobSeam, Mapping[str, Any] | None]]],
) -> list[Step]:
    """Return every step of the work of a job.

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
    list of Step
        Cloths first, then costume by costume.
    """
    facts = _cut_facts(cloths, [one for own in pieces.values() for one in own])
    tools = {
        seam.cloths[0]: _tools(seam, card)
        for own in seams.values()
        for seam, card in reversed(own)
        if card
    }
    steps = cloth_steps(facts, tools)
    for costume in project.costumes:
        steps += costume_steps(costume, _seam_facts(seams.get(costume.name, ())), cloths)
    return _known_only(steps)


def _known_only(steps: Sequence[Step]) -> list[Step]:
    """Leave out what waits for a step that is not there, for example marks of an unused cloth."""
    names = {one.name for one in steps}
    return [
        replace(one, after=tuple(before for before in one.after if before.name in names))
        for one in steps
    ]


def _cut_facts(cloths: Mapping[str, Cloth], pieces: Sequence[CutPiece]) -> list[CutFacts]:
    found = []
    for name, cloth in cloths.items():
        own = [one for one in pieces if one.cloth == name]
        if own:
            rim = sum(_rim_mm(one) * one.copies for one in own)
            found.append(CutFacts(name, cloth, sum(one.copies for one in own), rim))
    return found


def _rim_mm(one: CutPiece) -> float:
    corners = one.finished.cut.points
    return sum(
        ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    )


def _seam_facts(
    seams: Sequence[tuple[JobSeam, Mapping[str, Any] | None]],
) -> list[SeamFacts]:
    return [
        SeamFacts(seam, _tools(seam, card), _overlocked(card), _heat(card)) for seam, card in seams
    ]


def _tools(seam: JobSeam, card: Mapping[str, Any] | None) -> Tools:
    if not card or "needle" not in card:
        return Tools("zigzag")
    needle, thread = card["needle"], card["thread"]
    hand = str(card["stitch"]["type"]).startswith("2")
    return Tools(
        "" if hand else ("overlocker" if str(card["stitch"]["type"]).startswith("5") else "zigzag"),
        f"{needle['point']} {needle['size_nm']}",
        f"{thread['fibre']} {thread['tex']:g} for {seam.cloths[0]}",
        str(card["feed"]["foot"]),
    )


def _overlocked(card: Mapping[str, Any] | None) -> bool:
    seam = card.get("seam", {}) if card else {}
    return seam.get("finish") == "overedge" and seam.get("finish_when") == "before-assembly"


def _heat(card: Mapping[str, Any] | None) -> str:
    press = card.get("press") if card else None
    heat = str(press.get("iron", "")) if press else ""
    return heat if heat in HEATS else ""


def work_file(project: Project, steps: Sequence[Step], today: date) -> str:
    """Return the work of a job as text that can be planned and changed by hand.

    Parameters
    ----------
    project : Project
        The job.
    steps : sequence of Step
        Its steps.
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
    document["maker"] = [_maker(project, begin)]
    fittings = project.hours.fittings
    document["operation"] = [_operation(project, one, fittings) for one in steps]
    return tomlkit.dumps(document)


def _machines(project: Project) -> list[dict[str, str]]:
    found = []
    for number, one in enumerate(project.workroom.machines):
        if one.kind != "hand":
            kind = "overlocker" if "504" in one.stitches else "zigzag"
            found.append({"name": f"{one.name} {number + 1}", "kind": kind})
    return [*found, {"name": "iron", "kind": "iron"}]


def _maker(project: Project, begin: date) -> dict[str, Any]:
    sessions = project.hours.sessions or USUAL_HOURS
    weekly = [f"{day} {a:%H:%M}-{b:%H:%M}" for day, (a, b) in sessions.items()]
    found: dict[str, Any] = {"name": "me", "weekly": weekly, "since": begin.isoformat()}
    if project.hours.closed:
        found["closed"] = [day.isoformat() for day in project.hours.closed]
    return found


def _operation(project: Project, step: Step, fittings: Mapping[str, date]) -> dict[str, Any]:
    found: dict[str, Any] = {"name": step.name, "element": step.element, "cloth": step.cloth_class}
    if step.costume:
        found["costume"] = step.costume
    if step.length_mm:
        found["length_m"] = round(max(step.length_mm / 1000.0, 0.05), 2)
    elif step.count > 1:
        found["pieces"] = step.count
    tools = step.tools
    for key in ("machine", "needle", "thread", "foot", "heat"):
        if getattr(tools, key):
            found[key] = getattr(tools, key)
    if step.after:
        found["after"] = [{"name": one.name, "rule": one.rule} for one in step.after]
    for key in ("leaves", "shuns"):
        if getattr(step, key):
            found[key] = list(getattr(step, key))
    if step.helper:
        found["helper"] = True
    if step.element == "fitting" and step.costume in fittings:
        found["at"] = f"{_fitting_hour(project.hours, fittings[step.costume]):%Y-%m-%d %H:%M}"
    return found


def _fitting_hour(hours: Hours, day: date) -> datetime:
    """Return the beginning of that day's session; ten o'clock where there is none."""
    session = hours.sessions.get(f"{day:%A}".lower())
    return datetime.combine(day, session[0] if session else time(10, 0))
