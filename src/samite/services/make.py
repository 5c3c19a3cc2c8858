"""A whole costume job computed: cards, pieces, lays, lists, labels, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from samite.project.graph import Outcome, Trouble, compute, needed_for
from samite.project.model import Project
from samite.readers.problem import Problem, refuse
from samite.services.job import Job, read_job
from samite.services.job_lays import Effort
from samite.services.job_tasks import job_tasks, refuse_nothing
from samite.services.job_work import work_text
from samite.services.kept_answers import KeptAnswers
from samite.services.make_ahead import compute_ahead
from samite.services.piece_json import piece_json

FORMAT = "samite.make.v1"
OnStep = Callable[[int, int, str], None]


@dataclass(frozen=True, slots=True)
class MadeJob:
    """A job with every answer that could be had.

    Parameters
    ----------
    job : Job
        The job as read.
    outcome : Outcome
        Answers by name of the task.
    problems : tuple of Problem
        Everything that is wrong, in the order of the file.
    """

    job: Job
    outcome: Outcome
    problems: tuple[Problem, ...]

    def answer(self, name: str) -> Any:
        """Return an answer.

        Parameters
        ----------
        name : str
            Name of its task.

        Returns
        -------
        object
            None if it could not be had.
        """
        return self.outcome.answers.get(name)

    def all_of(self, kind: str) -> dict[str, Any]:
        """Return all answers of a kind.

        Parameters
        ----------
        kind : str
            First word of the tasks' names, ``"lay"``.

        Returns
        -------
        dict of str to object
            By the rest of the name.
        """
        head = f"{kind}/"
        return {
            name.removeprefix(head): answer
            for name, answer in self.outcome.answers.items()
            if name.startswith(head)
        }


def make_job(
    job: Job,
    *,
    known: KeptAnswers | None = None,
    effort: Effort | None = None,
    on_step: OnStep | None = None,
    wanted: Sequence[str] = (),
    ahead: bool = True,
) -> MadeJob:
    """Compute a job: everything that can be, once.

    Parameters
    ----------
    job : Job
        The job as read.
    known : KeptAnswers or None
        Answers from before.
    effort : Effort or None
        How long to search.
    on_step : callable or None
        Told before each answer that is computed: done, of how many, and its name.
    wanted : sequence of str
        Answers that are asked for, with what they rest on; all if empty.
    ahead : bool
        Whether slow answers may be missing, so that several processes look for them.

    Returns
    -------
    MadeJob
        Answers and problems.

    Raises
    ------
    InputError
        If there is nothing to compute.
    """
    tasks = job_tasks(job.project, effort or Effort(), job.today, job.pasts)
    if job.problems and not any(task.name.startswith("piece/") for task in tasks):
        return MadeJob(job, Outcome({}, (), (), {}), job.problems)
    refuse_nothing(tasks)
    if ahead and known is not None and job.text and not wanted:
        compute_ahead(job, known, effort or Effort(), on_step)
    tasks = needed_for(tasks, wanted) if wanted else tasks
    outcome = compute(tasks, known if known is not None else KeptAnswers(), on_step)
    found = [_located(job, trouble) for trouble in outcome.troubles if trouble.error]
    problems = [*job.problems, *found, *_not_laid(job, outcome)]
    problems.sort(key=lambda item: item.line)
    return MadeJob(job, outcome, tuple(dict.fromkeys(problems)))


def _not_laid(job: Job, outcome: Outcome) -> Iterator[Problem]:
    """Yield a problem for every cloth whose pieces go on it in no width."""
    for name, answer in outcome.answers.items():
        if name.startswith("lay/") and not any(one["lay"]["length_mm"] for one in answer["lays"]):
            why = answer["lays"][-1]["lay"]["why"]
            mend = "another width, more panels, crosswise = [...] or joined = [...] at the piece"
            yield job.problem(("cloth", name.removeprefix("lay/")), why, mend)


def _located(job: Job, trouble: Trouble) -> Problem:
    """Return a trouble at its place in the file."""
    kind, _, rest = trouble.task.partition("/")
    name, _, inner = rest.partition("/")
    if kind in ("cloth", "card", "lay"):
        path: tuple[str, ...] = ("cloth", name)
    elif kind == "piece":
        path = ("costume", name, "piece", inner)
    elif rest:
        path = ("costume", name)
    else:
        path = ()
    error = trouble.error
    if error is None:
        return job.problem(path, "it rests on what could not be had", "mend that first")
    return job.problem(path, error.message, error.hint)


def make_json(made: MadeJob) -> dict[str, Any]:
    """Return a job in the form ``samite.make.v1``.

    Parameters
    ----------
    made : MadeJob
        The job.

    Returns
    -------
    dict of str to object
        Everything that was computed, and the problems.
    """
    project = made.job.project
    return {
        "format": FORMAT,
        "title": project.title,
        "due": project.due.isoformat() if project.due else None,
        "problems": [problem_json(one) for one in made.problems],
        "costumes": [_costume_json(made, project, c.name) for c in project.costumes],
        "cards": {name: one["card"] for name, one in made.all_of("card").items()},
        "lays": {name: one["lays"] for name, one in made.all_of("lay").items()},
        "compare": made.all_of("compare"),
        "buy": made.answer("buy"),
        "work": (made.answer("work") or {}).get("plan"),
        "computed": list(made.outcome.computed),
    }


def _costume_json(made: MadeJob, project: Project, name: str) -> dict[str, Any]:
    costume = next(one for one in project.costumes if one.name == name)
    seams = made.answer(f"seams/{name}")
    pairs = made.answer(f"pairs/{name}") or {}
    pieces = {
        job.name: made.answer(f"piece/{name}/{job.name}")
        for job in costume.pieces
        if made.answer(f"piece/{name}/{job.name}")
    }
    return {
        "name": name,
        "person": costume.person,
        "for": costume.wear,
        "pieces": {job: piece_json(answer) for job, answer in pieces.items()},
        "seams": [
            {"name": s.name, "kind": s.kind, "cloths": list(s.cloths), "length_mm": s.length_mm}
            for s in (seams[0] if seams else ())
        ],
        "gaps": [gap.told for gap in (seams[1] if seams else ())],
        "pairs": {key: one["seam"] for key, one in pairs.items()},
        "labels": made.answer(f"labels/{name}"),
    }


def problem_json(problem: Problem) -> dict[str, Any]:
    """Return a problem as a document.

    Parameters
    ----------
    problem : Problem
        What is wrong.

    Returns
    -------
    dict of str to object
        Keys ``line``, ``where``, ``what`` and ``mend``.
    """
    return {
        "line": problem.line,
        "where": problem.where,
        "what": problem.what,
        "mend": problem.mend,
    }


def work_of_job(text: str, today: date, on_step: OnStep | None = None) -> str:
    """Return the work of a costume job as a file that can be planned.

    Parameters
    ----------
    text : str
        The job in the form ``samite.project.v1``.
    today : date
        Today.
    on_step : callable or None
        Told before each answer that is computed.

    Returns
    -------
    str
        In the form ``samite.work-problem.v1``.

    Raises
    ------
    InputError
        If anything is wrong with the job, so that operations or sessions would be missing.
    """
    job = read_job(text, today)
    made = make_job(job, on_step=on_step, wanted=("operations",))
    operations = made.answer("operations")
    if operations is None:
        raise refuse(
            made.problems or [job.problem((), "it holds no costume", "add one")], "the job"
        )
    times = [one for one in made.problems if one.where.split(".")[0] in ("hours", "due", "begin")]
    if times:  # A session that is left out unseen would make another plan.
        raise refuse(times, "the job")
    return work_text(job.project, operations, today)
