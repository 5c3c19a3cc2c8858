"""What a search found, as an answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from samite.lay._told import use_percent
from samite.lay.problem import Lay

if TYPE_CHECKING:
    from samite.lay._model import Model, State
    from samite.lay.problem import Problem


def lay_of(model: Model, state: State, least: float) -> Lay:
    """Return a state of the search as an answer.

    Parameters
    ----------
    model : Model
        The problem made ready.
    state : State
        Where the items lie.
    least : float
        The bound [mm].

    Returns
    -------
    Lay
        Feasible, or optimal if it meets the bound.

    Notes
    -----
    The share used counts the whole width, folded cloth in both layers.
    """
    problem = model.problem
    length = model.length_of(state) - model.origin_mm
    return Lay(
        "optimal" if length <= least * (1.0 + 1e-9) + 1e-6 else "feasible",
        _note(problem),
        round(length, 6),
        round(min(least, length), 6),
        round(use_percent(problem, length), 4),
        placements=model.placements(state),
    )


def _note(problem: Problem) -> str:
    if not problem.folded:
        return ""
    spare = [p.name for p in problem.pieces if not p.on_fold and p.copies % 2]
    return f"Folded cloth cuts one to spare of {', '.join(spare)}." if spare else ""
