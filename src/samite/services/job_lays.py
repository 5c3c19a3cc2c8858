"""Lays of a costume job: one for every cloth and width, with what to buy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from samite.cloth.model import Cloth
from samite.kernel.errors import SamiteError
from samite.lay.from_pieces import lay_problem
from samite.lay.problem import Problem
from samite.lay.rules import LayRules, find_lay_rules
from samite.pieces.finish import FinishedPiece
from samite.project.model import Costume, JobCloth, JobPiece
from samite.services.job_pieces import CutPiece
from samite.services.job_stock import spans_of
from samite.services.lay import LayAnswer, lay_json, problem_json, solve_lay
from samite.services.lay_cases import joined_from_two
from samite.services.lay_paper import draw_svg, lay_picture, steps_of

SEED = 1
USUAL_WIDTH_MM = 1400.0
TALLEST_MM = 165.0
"""Height that a lay is drawn in, so that its steps have room on the same page [mm]."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard a job is worked on.

    Parameters
    ----------
    lay_seconds : float
        Time to search for every lay [s].
    work_effort : float
        How hard to look for the order of work [-].
    """

    lay_seconds: float = 2.0
    work_effort: float = 0.3


def widths_of(cloth: JobCloth, known: Cloth) -> tuple[float, ...]:
    """Return the widths in which a cloth is on offer.

    Parameters
    ----------
    cloth : JobCloth
        The cloth of the job.
    known : Cloth
        What its label says.

    Returns
    -------
    tuple of float
        Those of the file, else that of the label, else 140 cm [mm].
    """
    if cloth.widths_mm:
        return tuple(sorted(set(cloth.widths_mm)))
    return (known.width_cm.value * 10.0,) if known.width_cm else (USUAL_WIDTH_MM,)


@dataclass(frozen=True, slots=True)
class Leave:
    """What may be done so that pieces go on a cloth.

    Parameters
    ----------
    crosswise : tuple of str
        Names of pieces that may be cut across the cloth.
    joined : tuple of str
        Names of pieces that may be joined from two, with ``@0.4`` for where.
    """

    crosswise: tuple[str, ...] = ()
    joined: tuple[str, ...] = ()


def leave_of(costumes: Sequence[Costume]) -> Leave:
    """Return what the pieces of costumes may bear.

    Parameters
    ----------
    costumes : sequence of Costume
        Costumes.

    Returns
    -------
    Leave
        Names as they stand on the lay.
    """
    named = [(c.name, job) for c in costumes for job in c.pieces]
    return Leave(
        tuple(f"{costume} {name}" for costume, job in named for name in job.crosswise),
        tuple(f"{costume} {name}" for costume, job in named for name in job.joined),
    )


def cloth_lay(
    pieces: Sequence[CutPiece],
    cloth: Cloth,
    width_mm: float,
    seconds: float,
    leave: Leave,
    units: str = "metric",
) -> dict[str, Any]:
    """Lay all pieces of a job that are cut from one cloth.

    Parameters
    ----------
    pieces : sequence of CutPiece
        The pieces.
    cloth : Cloth
        The cloth.
    width_mm : float
        Its width [mm].
    seconds : float
        Time to search [s].
    leave : Leave
        What may be done so that they go on it.
    units : str
        ``metric`` or ``imperial``, of the drawing and its steps.

    Returns
    -------
    dict of str to object
        Lay, problem, drawing and reasons; ``status`` infeasible with the reason where it cannot
        be laid.
    """
    rules = find_lay_rules(cloth)
    if cloth.construction == "net":  # no grain, so every piece may turn
        leave = replace(leave, crosswise=tuple(one.name for one in pieces))
    problem, rules = _problem(pieces, rules, width_mm, leave)
    answer = solve_lay(problem, seconds=seconds, seed=SEED)
    if not answer.found and rules.folded:
        problem, rules = _problem(pieces, replace(rules, folded=False), width_mm, leave)
        answer = solve_lay(problem, seconds=seconds, seed=SEED)
    return {
        "width_mm": width_mm,
        "folded": problem.folded,
        "face": rules.face,
        "one_way": rules.one_way,
        "lay": lay_json(answer),
        "problem": problem_json(problem),
        **(_drawn(answer, rules, pieces[0].cloth, units) if answer.found else {}),
        "reasons": {name: reason.as_dict() for name, reason in rules.reasons},
    }


def _drawn(answer: LayAnswer, rules: LayRules, name: str, units: str) -> dict[str, Any]:
    picture = lay_picture(
        answer, f"Lay of {name}", face=rules.face, nap=rules.one_way, cloth=name, units=units
    )
    return {
        "svg": draw_svg(picture, tallest_mm=TALLEST_MM),
        "steps": [list(step) for step in steps_of(picture)],
        "spans_mm": spans_of(picture.steps),
    }


TRIAL_LABELS = {
    False: "100% cotton calico, 140 cm, 140 g/m2",
    True: "95% cotton 5% elastane jersey knit, 150 cm, 200 g/m2, 50% stretch across",
}
"""What a test garment is sewn from where the job names no cloth, by whether the cloth stretches."""


def test_lay(
    costume: Costume,
    jobs: Sequence[JobPiece],
    pieces: Sequence[CutPiece],
    cloth: Cloth,
    effort: Effort,
    units: str,
) -> dict[str, Any]:
    """Lay the pieces of a test garment, each as often as one costume has it.

    Parameters
    ----------
    costume : Costume
        The costume.
    jobs : sequence of JobPiece
        Its shapes that are tried.
    pieces : sequence of CutPiece
        Their pieces of the shell.
    cloth : Cloth
        What the test garment is sewn from.
    effort : Effort
        How long to search.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    dict of str to object
        ``cloth`` by name, ``width_mm``, ``length_mm`` or 0 if it cannot be laid, ``shapes``,
        ``stretch``.
    """
    once = [replace(one, copies=max(one.copies // costume.copies, 1)) for one in pieces]
    width = cloth.width_cm.value * 10.0 if cloth.width_cm else USUAL_WIDTH_MM
    lay = cloth_lay(once, cloth, width, effort.lay_seconds / 2.0, leave_of((costume,)), units)
    return {
        "cloth": cloth.structure_name,
        "width_mm": width,
        "length_mm": lay["lay"]["length_mm"],
        "shapes": [job.name for job in jobs],
        "stretch": cloth.construction == "knit",
    }


def _problem(
    pieces: Sequence[CutPiece], rules: LayRules, width_mm: float, leave: Leave
) -> tuple[Problem, LayRules]:
    """Return the problem; in a single layer where the pieces cannot be cut from folded cloth."""
    finished = [_named(one) for one in pieces]
    try:
        problem = lay_problem(finished, rules, width_mm, crosswise=leave.crosswise)
    except SamiteError:
        if not rules.folded:
            raise
        rules = replace(rules, folded=False)
        problem = lay_problem(finished, rules, width_mm, crosswise=leave.crosswise)
    names = {one.name for one in pieces}
    for written in leave.joined:
        if written.partition("@")[0].strip() in names:
            problem = joined_from_two(problem, written)
    return problem, rules


def _named(one: CutPiece) -> FinishedPiece:
    piece = replace(one.finished.piece, name=one.name, copies=one.copies)
    return replace(one.finished, piece=piece)
