"""What the pages of a costume job show."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from samite.kernel.errors import SamiteError
from samite.project.model import Project
from samite.services import job_store
from samite.services.costume import Costume, costume_svg
from samite.services.job import Job
from samite.services.job_compare import CRITERIA, weigh_again
from samite.services.job_edit import raw_values
from samite.services.job_lays import Effort
from samite.services.job_units import sentence_words, tape_words
from samite.services.kept_answers import KeptAnswers
from samite.services.make import MadeJob, make_job
from samite.services.make_ahead import slow_tasks
from samite.services.make_work import answers_folder, look_at
from samite.web.job_form import Sent, Sheet, filled, unplaced
from samite.web.job_sheets import (
    cloth_sheet,
    costume_sheets,
    head_sheets,
    new_sheets,
    person_sheet,
    workroom_values,
)

BLANK = """\
format = "samite.project.v1"
title = {title}

[money]
currency = "EUR"

[hours]
saturday = "10:00-16:00"
"""


def blank_job(title: str) -> str:
    """Return the file of a job that is just begun.

    Parameters
    ----------
    title : str
        What it is called.

    Returns
    -------
    str
        TOML.
    """
    clean = "".join(c for c in title.strip() if c.isprintable() and c not in '"\\')[:80]
    return BLANK.format(title=f'"{clean or "A costume job"}"')


def list_values(store: Path, today: date) -> dict[str, Any]:
    """Return what the list of jobs shows.

    Parameters
    ----------
    store : Path
        File of the store.
    today : date
        Today.

    Returns
    -------
    dict of str to object
        For the template.
    """
    jobs = []
    for kept in job_store.all_jobs(store) if store.exists() else []:
        project = job_store.read_kept(store, kept, today).project
        jobs.append(
            {
                "key": kept.key,
                "title": kept.value.title,
                "due": _day(project.due),
                "costumes": [c.name for c in project.costumes],
            }
        )
    return {"jobs": jobs}


def made_job(store: Path, key: str, today: date, seconds: float) -> MadeJob | None:
    """Return a kept job as far as it is known.

    Parameters
    ----------
    store : Path
        File of the store.
    key : str
        Key of the job.
    today : date
        Today.
    seconds : float
        Time that each lay was searched [s].

    Returns
    -------
    MadeJob or None
        None while slow answers are missing.
    """
    job = job_store.read_kept(store, job_store.job_named(store, key), today)
    return look_at(job, KeptAnswers(answers_folder(store)), Effort(seconds))


def job_values(
    store: Path, key: str, today: date, weights: Mapping[str, str], seconds: float
) -> dict[str, Any]:
    """Return what the page of a job shows.

    Parameters
    ----------
    store : Path
        File of the store.
    key : str
        Key of the job.
    today : date
        Today.
    weights : mapping of str to str
        How much each criterion of a comparison matters, as sent.
    seconds : float
        Time to search for each lay [s].

    Returns
    -------
    dict of str to object
        For the template.
    """
    kept = job_store.job_named(store, key)
    job = job_store.read_kept(store, kept, today)
    known = KeptAnswers(answers_folder(store))
    missing, trouble = _missing(job, known, seconds)
    made = None
    if not missing and not trouble and job.project.costumes:
        made = make_job(job, known=known, effort=Effort(seconds), ahead=False)
    problems = made.problems if made else job.problems
    return {
        "key": kept.key,
        "version": kept.version,
        "title": kept.value.title,
        "due": _day(job.project.due),
        "problems": problems,
        "missing": missing,
        "trouble": trouble,
        "costumes": [_costume(made, c.name, c.person, c.wear) for c in job.project.costumes]
        if made
        else [],
        "compares": _compares(made, weights) if made else [],
        "lays": _lays(made) if made else [],
        "units": job.project.units,
        "buy": made.answer("buy") if made else None,
        "ticked": set(kept.value.ticked),
        "nothing": not job.project.costumes,
    }


def _missing(job: Job, known: KeptAnswers, seconds: float) -> tuple[tuple[str, ...], str]:
    try:
        return slow_tasks(job, known, Effort(seconds)), ""
    except SamiteError as error:
        return (), f"{error.message} ({error.hint})"


def _costume(made: MadeJob, name: str, person: str, wear: str) -> dict[str, Any]:
    answers = [answer for key, answer in made.all_of("piece").items() if key.startswith(f"{name}/")]
    seams = made.answer(f"seams/{name}")
    pairs = made.answer(f"pairs/{name}") or {}
    units = made.job.project.units
    return {
        "name": name,
        "person": person,
        "wear": wear,
        "svg": costume_svg(Costume(tuple(answers)), units) if answers else "",
        "pieces": [one for answer in answers for one in answer.pieces],
        "notes": [sentence_words(note, units) for answer in answers for note in answer.notes],
        "gaps": [gap.told for gap in (seams[1] if seams else ())],
        "pairs": [
            {"name": key.replace("+", " to "), "seam": one["seam"], "svg": one["svg"]}
            for key, one in pairs.items()
        ],
        "labels": made.answer(f"labels/{name}"),
        "cards": [
            {"cloth": key.partition("/")[0], "card": one["card"]}
            for key, one in made.all_of("card").items()
            if key.endswith(f"/{name}")
        ],
    }


def _compares(made: MadeJob, written: Mapping[str, str]) -> list[dict[str, Any]]:
    known = {one.key for one in CRITERIA}
    weights = {
        key: min(max(_number(text), 0.0), 10.0) for key, text in written.items() if key in known
    }
    if weights and not any(weights.get(key, 1.0) for key in known):
        weights = {}
    return [weigh_again(one, weights) for one in made.all_of("compare").values()]


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return 1.0


def _lays(made: MadeJob) -> list[dict[str, Any]]:
    units = made.job.project.units
    return [
        {
            "cloth": name,
            "width": tape_words(one["width_mm"], units),
            "length": tape_words(one["lay"]["length_mm"], units),
            "bound": tape_words(one["lay"]["bound_mm"], units),
            **one,
        }
        for name, answer in made.all_of("lay").items()
        for one in answer["lays"]
    ]


def edit_values(store: Path, key: str, today: date, sent: Sent | None = None) -> dict[str, Any]:
    """Return what the page for changing a job shows.

    Parameters
    ----------
    store : Path
        File of the store.
    key : str
        Key of the job.
    today : date
        Today.
    sent : Sent or None
        A form that was refused, to be shown as it was typed.

    Returns
    -------
    dict of str to object
        For the template.
    """
    kept = job_store.job_named(store, key)
    job = job_store.read_kept(store, kept, today)
    document = raw_values(kept.value.text)
    groups = {
        name: [filled(sheet, document, job.problems, sent) for sheet in sheets]
        for name, sheets in _sheets(job.project).items()
    }
    every = [sheet for sheets in groups.values() for sheet in sheets]
    lost = sent if sent and not any(sheet.problem == sent.refused for sheet in every) else None
    return {
        "key": kept.key,
        "version": kept.version,
        "title": kept.value.title,
        "text": sent.text if sent and sent.text else kept.value.text,
        "problems": job.problems,
        "unplaced": unplaced(every, job.problems),
        "refused": lost.refused if lost else "",
        "groups": groups,
        "workroom": workroom_values(document) | _typed_room(sent),
        "room_problems": [one for one in job.problems if one.where.startswith("workroom")],
    }


def _typed_room(sent: Sent | None) -> dict[str, str]:
    return dict(sent.values) if sent and sent.path == ("workroom",) else {}


def _sheets(project: Project) -> dict[str, list[Sheet]]:
    new = new_sheets(project)
    return {
        "": head_sheets(project),
        "People": [*(person_sheet(one) for one in project.people), new["person"]],
        "Cloths": [*(cloth_sheet(one.name) for one in project.cloths), new["cloth"]],
        "Costumes": [
            *(sheet for one in project.costumes for sheet in costume_sheets(project, one)),
            new["costume"],
        ],
    }


def _day(day: date | None) -> str:
    return f"{day:%d %B %Y}" if day else ""
