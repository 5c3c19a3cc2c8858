"""The graph of a costume job: every answer with what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.kernel.errors import InputError
from samite.pieces.shapes.registry import fitted_shapes
from samite.project.check import usable_person
from samite.project.graph import Task
from samite.project.model import Costume, JobCloth, JobPiece, Person, Project
from samite.project.seams import JobSeam
from samite.services.job_buy import buying_json, buying_list
from samite.services.job_candidates import compare_tasks
from samite.services.job_card_tasks import card_task, pair_task
from samite.services.job_cards import uses_of_cloth
from samite.services.job_labels import costume_labels
from samite.services.job_lays import (
    TRIAL_LABELS,
    Effort,
    cloth_lay,
    leave_of,
    test_lay,
    widths_of,
)
from samite.services.job_pieces import CutPiece, ask_piece, costume_seams, cut_pieces, stretched_of
from samite.services.job_work import job_operations, plan_job, work_text
from samite.services.past import Past
from samite.tables.loader import every_table_hash
from samite.work.operation import Operation

Answers = Mapping[str, Any]


def job_tasks(
    project: Project, effort: Effort, today: date, pasts: Mapping[str, Past] | None = None
) -> list[Task]:
    """Return every answer that a job asks for.

    Parameters
    ----------
    project : Project
        The job; what it names and does not have is left out.
    effort : Effort
        How long to search.
    today : date
        Today.
    pasts : mapping of str to Past or None
        What the journal holds of cloths, by label.

    Returns
    -------
    list of Task
        A graph without circles.
    """
    pasts = pasts or {}
    project = _whole(project)
    tasks = [_cloth_task(cloth) for cloth in project.cloths]
    for costume in project.costumes:
        tasks += [_piece_task(project, costume, job, pasts) for job in costume.pieces]
        tasks.append(_seams_task(costume))
        tasks.append(_labels_task(project, costume))
        tasks += _pair_tasks(project, costume)
    for cloth in project.cloths:
        tasks += [
            card_task(
                f"card/{cloth.name}/{costume.name}",
                cloth,
                costume,
                role,
                project.units,
                pasts.get(cloth.label),
            )
            for costume, role in uses_of_cloth(project, cloth.name)
        ]
        if uses_of_cloth(project, cloth.name):
            tasks.append(_lay_task(project, cloth, effort))
    for costume in project.costumes:
        test = _test_task(project, costume, effort)
        tasks += [test] if test else []
        tasks += compare_tasks(project, costume, effort, pasts)
    if project.costumes:
        tasks += [_operations_task(project), _work_task(project, effort, today)]
        tasks.append(_buy_task(project))
    tables = every_table_hash()
    return [replace(task, tables=tables) for task in tasks]


def _whole(project: Project) -> Project:
    """Leave out what cannot be: pieces without cloth or shape, joins without piece, wrong measures."""
    known = {cloth.name for cloth in project.cloths if cloth.label}
    costumes = []
    for costume in project.costumes:
        pieces = tuple(
            _only(job, known) for job in costume.pieces if job.shape and job.cloth in known
        )
        names = {job.name for job in pieces}
        joins = tuple(j for j in costume.joins if {j.first[0], j.second[0]} <= names)
        if pieces:
            costumes.append(replace(costume, pieces=pieces, joins=joins))
    cloths = tuple(cloth for cloth in project.cloths if cloth.name in known)
    people = tuple(usable_person(person) for person in project.people)
    return replace(project, costumes=tuple(costumes), cloths=cloths, people=people)


def _only(job: JobPiece, known: set[str]) -> JobPiece:
    lining = job.lining if job.lining in known else ""
    stiff = job.interfacing if job.interfacing in known else ""
    return replace(job, lining=lining, interfacing=stiff)


def _cloth_task(cloth: JobCloth) -> Task:
    return Task(
        f"cloth/{cloth.name}",
        "cloth/1",
        cloth.label,
        (),
        lambda _: build_cloth(read_label(cloth.label)),
    )


def _piece_task(
    project: Project, costume: Costume, job: JobPiece, pasts: Mapping[str, Past]
) -> Task:
    need = f"cloth/{job.cloth}"
    person = project.person(costume.person)
    bought = project.cloth(job.cloth)
    told = stretched_of(job, pasts.get(bought.label) if bought else None)
    sold = bought and (bought.name, bought.label, bought.shrink)
    facts = [replace(job, copies=1), person, sold, told]
    return Task(
        piece_name(costume, job),
        "piece/4",
        facts,
        (need,),
        lambda had: ask_piece(project, costume, job, had[need], told),
    )


def piece_name(costume: Costume, job: JobPiece) -> str:
    """Return the name of the task of a shape.

    Parameters
    ----------
    costume : Costume
        The costume.
    job : JobPiece
        The shape.

    Returns
    -------
    str
        ``piece/COSTUME/SHAPE``.
    """
    return f"piece/{costume.name}/{job.name}"


def _piece_needs(costume: Costume) -> tuple[str, ...]:
    return tuple(piece_name(costume, job) for job in costume.pieces)


def _made(costume: Costume, had: Answers) -> dict[str, Any]:
    return {job.name: had[piece_name(costume, job)] for job in costume.pieces}


def _all_cut(costume: Costume, had: Answers) -> list[CutPiece]:
    made = _made(costume, had)
    return [one for job in costume.pieces for one in cut_pieces(costume, job, made[job.name])]


def _seams_task(costume: Costume) -> Task:
    facts = [costume.joins, [job.cloths for job in costume.pieces]]
    return Task(
        f"seams/{costume.name}",
        "seams/1",
        facts,
        _piece_needs(costume),
        lambda had: costume_seams(costume, _made(costume, had)),
    )


def _cloth_names(costume: Costume) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for job in costume.pieces for _, name in job.cloths))


def _labels_task(project: Project, costume: Costume) -> Task:
    names = _cloth_names(costume)
    person = project.person(costume.person) or Person(costume.person)

    def compute(had: Answers) -> dict[str, Any]:
        cloths = {name: had[f"cloth/{name}"] for name in names}
        return costume_labels(costume, person, _all_cut(costume, had), cloths)

    needs = (*(f"cloth/{name}" for name in names), *_piece_needs(costume))
    return Task(f"labels/{costume.name}", "labels/2", [costume.wear, person], needs, compute)


def _pair_names(costume: Costume) -> dict[str, tuple[str, str]]:
    """Return every pairing of cloths that the seams of a costume can have."""
    jobs = {job.name: job for job in costume.pieces}
    pairs = [(name, name) for job in costume.pieces for name in (job.cloth, job.lining) if name]
    pairs += [(jobs[join.first[0]].cloth, jobs[join.second[0]].cloth) for join in costume.joins]
    named: dict[str, tuple[str, str]] = {}
    for pair in pairs:
        named.setdefault("+".join(sorted(pair)), pair)
    return named


def _pair_tasks(project: Project, costume: Costume) -> list[Task]:
    """Return the seam cards of a costume, one a pairing of cloths, and those that it has seams for.

    A card rests on its cloths and on what the seam has to bear, so that a measure or a length
    leaves it as it is.
    """
    named = _pair_names(costume)
    seams = f"seams/{costume.name}"
    tasks = [
        pair_task(f"pair/{costume.name}/{key}", project, costume, pair)
        for key, pair in named.items()
    ]

    def compute(had: Answers) -> dict[str, Any]:
        keys = dict.fromkeys(
            pair_key(seam) for seam in had[seams][0] if seam.kind in ("seam", "gathered")
        )
        return {key: had[f"pair/{costume.name}/{key}"] for key in keys if key in named}

    needs = (seams, *(task.name for task in tasks))
    return [*tasks, Task(f"pairs/{costume.name}", "pairs/2", sorted(named), needs, compute)]


def pair_key(seam: JobSeam) -> str:
    """Return the name of a pairing of cloths.

    Parameters
    ----------
    seam : JobSeam
        A seam.

    Returns
    -------
    str
        Names of its cloths in their order, joined by a plus.
    """
    return "+".join(sorted(seam.cloths))


def _lay_task(project: Project, cloth: JobCloth, effort: Effort) -> Task:
    costumes = [c for c in project.costumes if cloth.name in _cloth_names(c)]
    need = f"cloth/{cloth.name}"
    leave = leave_of(costumes)
    jobs = [
        (costume, job)
        for costume in costumes
        for job in costume.pieces
        if cloth.name in {name for _, name in job.cloths}
    ]

    def compute(had: Answers) -> dict[str, Any]:
        known: Cloth = had[need]
        pieces = [
            one
            for costume, job in jobs
            for one in cut_pieces(costume, job, had[piece_name(costume, job)])
            if one.cloth == cloth.name
        ]
        lays = [
            cloth_lay(pieces, known, width, effort.lay_seconds, leave, project.units)
            for width in widths_of(cloth, known)
        ]
        return {"cloth": cloth.name, "lays": lays}

    facts = [
        cloth.widths_mm,
        effort,
        leave,
        project.units,
        [[costume.name, costume.copies, job.name, job.copies] for costume, job in jobs],
    ]
    needs = (need, *(piece_name(costume, job) for costume, job in jobs))
    return Task(f"lay/{cloth.name}", "lay/6", facts, tuple(dict.fromkeys(needs)), compute)


def _operations_task(project: Project) -> Task:
    """Return the operations: what they rest on are pieces and seams, not days or prices."""

    def compute(had: Answers) -> tuple[Operation, ...]:
        cloths = {c.name: had[f"cloth/{c.name}"] for c in project.cloths}
        pieces = {c.name: _all_cut(c, had) for c in project.costumes}
        seams = {
            c.name: _seam_cards(had[f"seams/{c.name}"][0], had[f"pairs/{c.name}"])
            for c in project.costumes
        }
        return job_operations(project, cloths, pieces, seams)

    facts = [
        [[c.name, c.copies, c.joins, _worked(c)] for c in project.costumes],
        project.hours,
    ]
    needs = (
        *(f"cloth/{c.name}" for c in project.cloths),
        *(name for c in project.costumes for name in _piece_needs(c)),
        *(f"{kind}/{c.name}" for c in project.costumes for kind in ("seams", "pairs")),
    )
    return Task("operations", "operations/1", facts, needs, compute)


def _worked(costume: Costume) -> list[Any]:
    """Return what of fastenings and trims the work rests on: not their prices."""
    extras = (*costume.fastenings, *costume.trims)
    return [[one.name, one.kind, one.amount, one.unit, one.at] for one in extras]


def _work_task(project: Project, effort: Effort, today: date) -> Task:
    def compute(had: Answers) -> dict[str, Any]:
        text = work_text(project, had["operations"], today)
        return plan_job(text, today, effort.work_effort)

    facts = [
        project.title, project.begin, project.due, project.hours, project.workroom,
        effort.work_effort, max(project.begin or today, today),
    ]  # fmt: skip
    return Task("work", "work/1", facts, ("operations",), compute)


def _buy_task(project: Project) -> Task:
    tests = [c for c in project.costumes if _tested(c)]
    used = [cloth for cloth in project.cloths if uses_of_cloth(project, cloth.name)]

    def compute(had: Answers) -> dict[str, Any]:
        pairs = {
            c.name: _seam_cards(had[f"seams/{c.name}"][0], had[f"pairs/{c.name}"])
            for c in project.costumes
        }
        lays = {cloth.name: had[f"lay/{cloth.name}"]["lays"] for cloth in used}
        cloths = {cloth.name: had[f"cloth/{cloth.name}"] for cloth in used}
        minutes = [one.minutes for one in had["operations"]]
        worked = (
            sum(one.value for one in minutes),
            sum(one.low for one in minutes),
            sum(one.high for one in minutes),
        )
        pieces = {c.name: list(_made(c, had).values()) for c in project.costumes}
        tried = {c.name: had[f"test/{c.name}"] for c in tests}
        lines = buying_list(project, cloths, lays, pairs, pieces, tried)
        return buying_json(project, lines, worked)

    needs = (
        *(f"cloth/{cloth.name}" for cloth in used),
        *(f"lay/{cloth.name}" for cloth in used),
        *(f"seams/{c.name}" for c in project.costumes),
        *(f"pairs/{c.name}" for c in project.costumes),
        *(name for c in project.costumes for name in _piece_needs(c)),
        *(f"test/{c.name}" for c in tests),
        "operations",
    )
    extras = [[c.fastenings, c.trims, c.notions, c.copies, c.test] for c in project.costumes]
    facts = [
        project.purse, project.cloths, extras, project.workroom, project.spares_percent,
        project.units, project.have, project.drawer if project.use_stock else None,
    ]  # fmt: skip
    return Task("buy", "buy/2", facts, tuple(dict.fromkeys(needs)), compute)


def _tested(costume: Costume) -> tuple[JobPiece, ...]:
    """Return the shapes that a test garment is sewn of: fitted ones unless the job says more."""
    if costume.test == "none":
        return ()
    fitted = fitted_shapes()
    return tuple(job for job in costume.pieces if costume.test or job.shape in fitted)


def _test_task(project: Project, costume: Costume, effort: Effort) -> Task | None:
    """Return the lay of a test garment; None where none is wanted."""
    jobs = _tested(costume)
    if not jobs:
        return None
    named = project.cloth(costume.test)
    needs = (*(piece_name(costume, job) for job in jobs), f"cloth/{jobs[0].cloth}")

    def compute(had: Answers) -> dict[str, Any]:
        shell: Cloth = had[needs[-1]]
        label = named.label if named else TRIAL_LABELS[shell.construction == "knit"]
        pieces = [
            one
            for job in jobs
            for one in cut_pieces(costume, job, had[piece_name(costume, job)])
            if one.role == "shell"
        ]
        cloth = build_cloth(read_label(label))
        return test_lay(costume, jobs, pieces, cloth, effort, project.units)

    facts = [
        [job.name for job in jobs],
        named and named.label,
        effort,
        costume.copies,
        project.units,
    ]
    return Task(f"test/{costume.name}", "test/1", facts, needs, compute)


def _seam_cards(
    seams: Sequence[JobSeam], cards: Mapping[str, Any]
) -> list[tuple[JobSeam, Mapping[str, Any] | None]]:
    """Return every seam with its card; a hem takes the card of its cloth with itself."""
    found = []
    for seam in seams:
        key = pair_key(seam) if len(seam.cloths) > 1 else "+".join(seam.cloths * 2)
        card = cards.get(key)
        found.append((seam, card["seam"] if card else None))
    return found


def refuse_nothing(tasks: Sequence[Task]) -> None:
    """Refuse a job in which nothing can be computed.

    Parameters
    ----------
    tasks : sequence of Task
        The graph.

    Raises
    ------
    InputError
        If there is no costume in it.
    """
    if not any(task.name.startswith("piece/") for task in tasks):
        raise InputError(
            "there is no costume with a piece and its cloth",
            "costume",
            "docs/faces/project.md shows a whole one",
        )
