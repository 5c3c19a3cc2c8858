"""The order of work as text for the terminal."""

from __future__ import annotations

from samite.services.work import WorkAnswer
from samite.services.work_paper import slip_of


def work_text(answer: WorkAnswer) -> str:
    """Return the slip as text.

    Parameters
    ----------
    answer : WorkAnswer
        The plan.

    Returns
    -------
    str
        Several lines.
    """
    slip = slip_of(answer)
    lines = [slip.title.upper(), slip.summary, *(f"! {text}" for text in slip.warnings)]
    for session in slip.sessions:
        lines += ["", session.title]
        for row in session.rows:
            if row.set:
                lines.append(f"      > {row.set}")
            lines.append(f"  [ ] {row.time}  {row.name}  ({row.minutes} min)")
            if row.note:
                lines.append(f"             {row.note}")
    if slip.ways_out:
        lines += ["", "Ways out, least lost first:", *(f"  - {text}" for text in slip.ways_out)]
    for one in answer.learned:
        lines.append(f"Logged: {one.kind}, {one.times} times, now {one.factor:.2f} of the table.")
    return "\n".join([*lines, "", slip.footnote])
