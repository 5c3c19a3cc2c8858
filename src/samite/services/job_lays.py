"""Lays of a costume job: one for every cloth and width, with what to buy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

from samite.cloth.model import Cloth
from samite.kernel.errors import InfeasibleError, SamiteError
from samite.lay.from_pieces import lay_problem
from samite.lay.problem import Lay, Problem
from samite.lay.rules import LayRules, find_lay_rules
from samite.lay.solve import solve
from samite.lay.verify import check_lay
from samite.pieces.finish import FinishedPiece
from samite.project.model import JobCloth
from samite.services.job_pieces import CutPiece

SEED = 1
USUAL_WIDTH_MM = 1400.0


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard a job is worked on.

    Parameters
    ----------
    lay_seconds : float
        Time to search for every lay [s].
    """

    lay_seconds: float = 2.0


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


def cloth_lay(
    pieces: Sequence[CutPiece], cloth: Cloth, width_mm: float, seconds: float
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

    Returns
    -------
    dict of str to object
        Lay, problem and reasons; ``status`` infeasible with the reason where it cannot be laid.

    Raises
    ------
    InfeasibleError
        If the lay that was found does not stand up to the check.
    """
    rules = find_lay_rules(cloth)
    problem, rules = _problem(pieces, rules, width_mm)
    lay = solve(problem, seconds=seconds, seed=SEED)
    if lay.placements:
        faults = check_lay(problem, lay)
        if faults:
            raise InfeasibleError(
                f"the lay does not stand up to its check: {faults[0]}", "lay", "tell the makers"
            )
    return {
        "width_mm": width_mm,
        "folded": problem.folded,
        "face": rules.face,
        "one_way": rules.one_way,
        "lay": asdict(lay),
        "problem": _plain(problem),
        "reasons": {name: reason.as_dict() for name, reason in rules.reasons},
    }


def _problem(
    pieces: Sequence[CutPiece], rules: LayRules, width_mm: float
) -> tuple[Problem, LayRules]:
    """Return the problem; in a single layer where the pieces cannot be cut from folded cloth."""
    finished = [_named(one) for one in pieces]
    try:
        return lay_problem(finished, rules, width_mm), rules
    except SamiteError:
        if not rules.folded:
            raise
        single = replace(rules, folded=False)
        return lay_problem(finished, single, width_mm), single


def _named(one: CutPiece) -> FinishedPiece:
    piece = replace(one.finished.piece, name=one.name, copies=one.copies)
    return replace(one.finished, piece=piece)


def _plain(problem: Problem) -> dict[str, Any]:
    return asdict(problem)


def read_lay(document: dict[str, Any]) -> tuple[Problem, Lay]:
    """Return problem and lay from a kept document.

    Parameters
    ----------
    document : dict of str to object
        From `cloth_lay`.

    Returns
    -------
    Problem
        What was asked.
    Lay
        How the pieces lie.
    """
    from samite.store.codec import from_plain

    return from_plain(Problem, document["problem"]), from_plain(Lay, document["lay"])
