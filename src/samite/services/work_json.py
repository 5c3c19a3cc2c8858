"""The order of work as JSON, ``samite.work.v1``."""

from __future__ import annotations

from typing import Any

from samite.kernel.quantity import round_shown
from samite.services.work import WorkAnswer
from samite.work.plan import Line, Score

FORMAT = "samite.work.v1"


def work_json(answer: WorkAnswer) -> dict[str, Any]:
    """Return the JSON form of a plan.

    Parameters
    ----------
    answer : WorkAnswer
        The plan.

    Returns
    -------
    dict of str to object
        In the form ``samite.work.v1``, see ``docs/faces/work.md``.
    """
    plan = answer.plan
    due = plan.problem.due
    simple = plan.simple
    return {
        "format": FORMAT,
        "name": plan.problem.name,
        "status": plan.status,
        "why": plan.why,
        "on_time": plan.on_time,
        "start": _moment(plan.problem.start),
        "finish": _moment(plan.finish),
        "due": _moment(due) if due else None,
        "margin_min": _minutes(plan.margin_min),
        "free_min": _minutes(plan.free_min),
        "slow_min": _minutes(plan.slow_min),
        "score": _score(plan.score),
        "bound_min": _minutes(plan.bound_min),
        "gap_percent": round(plan.gap_percent, 2),
        "lost_min": _minutes(plan.lost_min),
        "lost_bound_min": _minutes(plan.lost_bound_min),
        "simple": _score(simple) if simple else None,
        "saved_min": _minutes(simple.there_min - plan.score.there_min)
        if simple and plan.lines
        else None,
        "seed": plan.seed,
        "effort": plan.effort,
        "lines": [line_json(line) for line in plan.lines],
        "ways_out": [
            {
                "kind": one.kind,
                "words": one.words,
                "finish": _moment(one.finish),
                "minutes": _minutes(one.minutes),
                "operations": list(one.operations),
            }
            for one in plan.ways_out
        ],
        "done": [
            {"name": one.name, "end": _moment(one.end), "minutes": one.minutes}
            for one in answer.finished
        ],
        "learned": [
            {"kind": one.kind, "times": one.times, "factor": round_shown(one.factor)}
            for one in answer.learned
        ],
        "helper_can": [one.name for one in plan.problem.left() if one.helper],
        "change_overs": {name: one.as_dict() for name, one in plan.problem.change.minutes.items()},
    }


def line_json(line: Line) -> dict[str, Any]:
    """Return the JSON form of one line.

    Parameters
    ----------
    line : Line
        The line.

    Returns
    -------
    dict of str to object
        One item of ``lines``.
    """
    operation = line.operation
    return {
        "operation": operation.name,
        "costume": operation.costume,
        "kind": operation.kind,
        "maker": line.maker,
        "machine": line.machine,
        "begin": _moment(line.begin),
        "work": _moment(line.work),
        "end": _moment(line.end),
        "session": line.session,
        "minutes": operation.minutes.as_dict(),
        "minutes_from": operation.because,
        "setting": {
            name: getattr(operation.setting, name)
            for name in ("needle", "thread", "foot", "heat")
            if getattr(operation.setting, name)
        },
        "changes": [
            {
                "what": one.what,
                "old": one.old,
                "new": one.new,
                "minutes": one.minutes,
                "words": one.words,
            }
            for one in line.changes
        ],
        "after": [
            {"name": one.name, "because": one.reason, "wait_min": _minutes(one.wait_min)}
            for one in operation.after
        ],
        "waited_min": _minutes(line.waited_min),
        "helper": operation.helper,
        "late": line.late,
    }


def _score(score: Score) -> dict[str, Any]:
    return {
        "there_min": _minutes(score.there_min),
        "work_min": _minutes(score.work_min),
        "change_min": _minutes(score.change_min),
        "wait_min": _minutes(score.wait_min),
        "changes": score.changes,
    }


def _minutes(number: float) -> float:
    return round(number, 1)


def _moment(moment: Any) -> str:
    text: str = moment.isoformat(timespec="seconds")
    return text.removesuffix(":00") if moment.second == 0 else text
