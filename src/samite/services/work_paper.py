"""The order of work as a drawing and as a printed slip."""

from __future__ import annotations

from samite.services.work import WorkAnswer
from samite.sheets.change_strip import Bar, draw_strip
from samite.sheets.slip import Slip, SlipRow, SlipSession, minutes_shown, print_slip
from samite.work.plan import Line, came
from samite.work.problem import TABLE

FOOTNOTE = (
    "Minutes and change-overs are guesses until your own times are logged: note what each took."
    " Hot irons: stand them on their heel and switch them off between sessions; let a sole cool"
    " before it is cleaned. Clear sequins from the seam before stitching; needles break on them."
)


def work_svg(answer: WorkAnswer) -> str:
    """Return the strip of change-overs.

    Parameters
    ----------
    answer : WorkAnswer
        The plan.

    Returns
    -------
    str
        SVG.
    """
    lines = answer.plan.lines
    begins: dict[tuple[str, int], Line] = {}
    for line in sorted(lines, key=lambda one: one.begin):
        begins.setdefault((line.maker, line.session), line)
    many = len({line.maker for line in lines}) > 1
    bars = [_bar(line, begins[line.maker, line.session], many) for line in lines]
    used = {bar.row for bar in bars}
    order = [*(one.name for one in answer.job.machines), TABLE]
    bars.sort(key=lambda bar: list(begins.values()).index(_first(begins, bar, many)))
    return draw_strip(answer.job.name, bars, [one for one in order if one in used])


def _bar(line: Line, first: Line, many: bool) -> Bar:
    def since(moment: object) -> float:
        return float((moment - came([first])).total_seconds() / 60.0)  # type: ignore[operator]

    return Bar(
        line.machine,
        _stretch(first, many),
        since(line.begin),
        since(line.work),
        since(line.end),
        line.operation.setting.words(),
        line.operation.name,
        any(one.what not in ("move", "on") for one in line.changes),
        line.late,
        any(one.what == "on" for one in line.changes),
    )


def _stretch(first: Line, many: bool) -> str:
    day = f"{first.begin:%a} {first.begin.day} {first.begin:%b %H:%M}"
    return f"{day} {first.maker}" if many else day


def _first(begins: dict[tuple[str, int], Line], bar: Bar, many: bool) -> Line:
    return next(one for one in begins.values() if _stretch(one, many) == bar.stretch)


def work_pdf(answer: WorkAnswer, paper: str = "a4") -> bytes:
    """Return the printed slip.

    Parameters
    ----------
    answer : WorkAnswer
        The plan.
    paper : str
        ``a4`` or ``us-letter``.

    Returns
    -------
    bytes
        PDF.
    """
    return print_slip(slip_of(answer), paper)


def slip_of(answer: WorkAnswer) -> Slip:
    """Return what the slip says.

    Parameters
    ----------
    answer : WorkAnswer
        The plan.

    Returns
    -------
    Slip
        By session.
    """
    plan = answer.plan
    held: dict[tuple[str, int], list[Line]] = {}
    for line in sorted(plan.lines, key=lambda one: one.begin):
        held.setdefault((line.maker, line.session), []).append(line)
    sessions = tuple(
        SlipSession(
            f"{lines[0].begin:%A} {lines[0].begin.day} {lines[0].begin:%B}, {came(lines):%H:%M}"
            f" to {lines[-1].end:%H:%M} · {maker}",
            tuple(_row(line) for line in lines),
        )
        for (maker, _), lines in held.items()
    )
    warnings = () if plan.status not in ("infeasible", "out-of-time") else (plan.why,)
    ways = tuple(one.words for one in plan.ways_out)
    return Slip(plan.problem.name, summary(answer), warnings, sessions, ways, FOOTNOTE)


def summary(answer: WorkAnswer) -> str:
    """Return in one paragraph when it ends, what it takes and how good that is.

    Parameters
    ----------
    answer : WorkAnswer
        The plan.

    Returns
    -------
    str
        Plain words.
    """
    plan = answer.plan
    if not plan.lines:
        return "Nothing is left to do." if not plan.problem.left() else plan.why
    score = plan.score
    end = plan.finish
    parts = [
        f"Ends {end:%A} {end.day} {end:%B} at {end:%H:%M}.",
        f"{score.there_min:.0f} min at the bench: {score.work_min:.0f} of work, {score.change_min:.0f} of"
        f" change-overs ({score.changes}), {score.wait_min:.0f} of waiting.",
    ]
    if plan.problem.due is not None:
        due = plan.problem.due
        parts.append(
            f"Due {due:%A} {due.day} {due:%B} at {due:%H:%M}; {plan.free_min:.0f} min of sessions stay free,"
            f" {plan.margin_min:.0f} are the margin; if all goes slowly it takes {plan.slow_min:.0f} min more."
        )
    proved = (
        "proved to be the least"
        if plan.status == "optimal"
        else f"at most {plan.gap_percent:.1f} % above the least"
    )
    parts.append(f"Time at the bench is {proved} ({plan.bound_min:.0f} min).")
    if plan.status == "feasible":
        parts.append(
            f"Of {plan.lost_min:.0f} min of change-overs and waiting nobody can spare"
            f" {plan.lost_bound_min:.0f}."
        )
    if plan.simple:
        saved = plan.simple.there_min - score.there_min
        parts.append(
            f"First come, first served would take {abs(saved):.0f} min {'more' if saved >= 0 else 'less'}."
        )
    return " ".join(parts)


def _row(line: Line) -> SlipRow:
    sets = "; ".join(one.words for one in line.changes)
    reasons = [f"after {one.name}: {one.reason}" for one in line.operation.after if one.reason]
    notes = [*reasons[:2], *(["a helper can do this"] if line.operation.helper else [])]
    minutes = line.operation.minutes
    name = line.operation.name
    costume = line.operation.costume
    told = f"{name} ({costume})" if costume and costume not in name else name
    return SlipRow(
        f"{line.begin:%H:%M}",
        told,
        sets,
        "; ".join(notes),
        minutes_shown(minutes.low, minutes.high),
    )
