"""The pages of the work order, filled."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from markupsafe import Markup

from samite.services.work import WorkAnswer
from samite.services.work_paper import FOOTNOTE, slip_of, summary, work_svg
from samite.web.fill import fill_page
from samite.web.typed import Typed
from samite.work.plan import Line

HERE = "Work"


def jobs_page(
    kept: Sequence[tuple[str, str, int]],
    text: str,
    units: str,
    error: Mapping[str, Any] | None = None,
) -> str:
    """Return the page of all jobs, with a box for a new one.

    Parameters
    ----------
    kept : sequence of tuple of (str, str, int)
        Key, name and ticks of each.
    text : str
        What stands in the box.
    units : str
        Units of the page.
    error : mapping of str to str or None
        What is wrong with the job, in the one shape.

    Returns
    -------
    str
        HTML.
    """
    return fill_page(
        "work.html", HERE, Typed(units=units), kept=kept, text=text, error=error, slip=None, turn=""
    )


def slip_page(key: str, answer: WorkAnswer, units: str) -> str:
    """Return the rolling slip of a job.

    Parameters
    ----------
    key : str
        Key of the job.
    answer : WorkAnswer
        Its plan.
    units : str
        Units of the page.

    Returns
    -------
    str
        HTML.
    """
    plan = answer.plan
    lines = sorted(plan.lines, key=lambda one: one.begin)
    slip = slip_of(answer)
    rows = [row for session in slip.sessions for row in session.rows]
    last = max(reversed(answer.finished), key=lambda one: one.end, default=None)
    view = {
        "key": key,
        "name": plan.problem.name,
        "summary": summary(answer),
        "warnings": slip.warnings,
        "ways_out": slip.ways_out,
        "last": last,
        "now": _line(lines[0]) if lines else None,
        "next": _line(lines[1]) if len(lines) > 1 else None,
        "sessions": _sessions(answer),
        "done": sorted(answer.finished, key=lambda one: one.end, reverse=True),
        "learned": answer.learned,
        "total": len(answer.job.operations),
        "rows": len(rows),
        "strip": Markup(work_svg(answer)) if lines else "",  # noqa: S704
        "footnote": FOOTNOTE,
    }
    return fill_page(
        "work.html", HERE, Typed(units=units), kept=(), text="", error=None, slip=view, turn=""
    )


def _line(line: Line) -> dict[str, Any]:
    return {
        "name": line.operation.name,
        "costume": line.operation.costume,
        "maker": line.maker,
        "machine": line.machine,
        "when": f"{line.begin:%A} {line.begin.day} {line.begin:%B, %H:%M}",
        "until": f"{line.end:%H:%M}",
        "changes": [one.words for one in line.changes],
        "setting": line.operation.setting.words(),
        "minutes": f"{line.operation.minutes.value:.0f}",
        "range": f"{line.operation.minutes.low:.0f} to {line.operation.minutes.high:.0f}",
        "reasons": [
            f"after {one.name}: {one.reason}" for one in line.operation.after if one.reason
        ],
        "helper": line.operation.helper,
        "late": line.late,
    }


def _sessions(answer: WorkAnswer) -> list[tuple[str, list[dict[str, Any]]]]:
    held: dict[tuple[str, int], list[Line]] = {}
    for line in sorted(answer.plan.lines, key=lambda one: one.begin):
        held.setdefault((line.maker, line.session), []).append(line)
    titles = [session.title for session in slip_of(answer).sessions]
    return list(
        zip(titles, ([_line(one) for one in lines] for lines in held.values()), strict=True)
    )
