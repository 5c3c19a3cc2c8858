"""A lay solved, verified and told: nothing is shown that the verifier has not passed."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from samite.kernel.errors import SamiteError
from samite.lay.kept import why_kept_cannot_stay, with_kept_numbers
from samite.lay.problem import Lay, Placement, Problem
from samite.lay.solve import solve
from samite.lay.verify import Fault, check_lay, use_percent
from samite.readers.lay_file import FORMAT as PROBLEM_FORMAT
from samite.readers.lay_file import lay_problem_of

FORMAT = "samite.lay.v1"
USUAL_SECONDS = 10.0
MOST_SECONDS = 3600.0
LOOK_SHARE = 12.0
"""After a look at a lay the search has so many times as long for itself, before the next look."""

PLACES = 9
"""Digits behind the point of millimetres and degrees in the JSON."""


@dataclass(frozen=True, slots=True)
class LayAnswer:
    """A lay that can be cut, or why there is none.

    Parameters
    ----------
    problem : Problem
        What was asked.
    lay : Lay
        The shortest that was found and passed.
    refused : tuple of Fault
        Faults of shorter lays that the solver offered and that do not pass; empty as a rule.
    """

    problem: Problem
    lay: Lay
    refused: tuple[Fault, ...] = ()

    @property
    def found(self) -> bool:
        """Whether there is anything to cut."""
        return bool(self.lay.placements)

    @property
    def spare_percent(self) -> float:
        """How much of the length could be saved at most [%]."""
        if self.lay.length_mm <= 0.0 or not self.found:
            return 0.0
        return max(0.0, 100.0 * (1.0 - self.lay.bound_mm / self.lay.length_mm))


class _Best:
    """Keeps the shortest lay that passes."""

    def __init__(self, problem: Problem, on_better: Callable[[Lay], None] | None) -> None:
        self.problem, self.on_better = problem, on_better
        self.lay: Lay | None = None
        self.refused: tuple[Fault, ...] = ()
        self._free_at = 0.0

    def hear(self, lay: Lay) -> None:
        """Take a lay while the search goes on, unless looking at it would slow the search."""
        began = time.monotonic()
        if began < self._free_at:
            return
        self.offer(lay)
        ended = time.monotonic()
        self._free_at = ended + LOOK_SHARE * (ended - began)

    def offer(self, lay: Lay) -> bool:
        """Take a lay if it passes and is no longer than the best."""
        if not lay.placements:
            return False
        if self.lay is not None and _same_places(lay, self.lay):
            return True
        faults = check_lay(self.problem, lay)
        if faults:
            self.refused = faults
            return False
        if self.lay is None or lay.length_mm < self.lay.length_mm:
            self.lay = lay
            if self.on_better:
                self.on_better(lay)
        return True


def _same_places(one: Lay, other: Lay) -> bool:
    return one.placements == other.placements and one.length_mm == other.length_mm


def solve_lay(
    problem: Problem,
    *,
    seconds: float = USUAL_SECONDS,
    seed: int = 0,
    on_better: Callable[[Lay], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> LayAnswer:
    """Solve a lay and verify it.

    Parameters
    ----------
    problem : Problem
        What is asked.
    seconds : float
        Time to search [s].
    seed : int
        Start of the random numbers.
    on_better : callable or None
        Called with every better lay that passes.
    cancelled : callable or None
        Asked often; once it answers True the best so far is returned.

    Returns
    -------
    LayAnswer
        The best that passes.

    Raises
    ------
    SamiteError
        If the solver offered lays and none of them passes, which is a defect of samite.
    """
    why = why_kept_cannot_stay(problem)
    if why:
        return LayAnswer(problem, Lay("infeasible", why, seed=seed))
    best = _Best(problem, on_better)
    lay = solve(problem, seconds=seconds, seed=seed, on_better=best.hear, cancelled=cancelled)
    if not lay.placements and best.lay is None and not best.refused:
        return LayAnswer(problem, lay)
    passed = best.offer(lay)
    if passed and best.lay is not None and lay.length_mm <= best.lay.length_mm:
        return LayAnswer(problem, with_kept_numbers(problem, lay))
    if best.lay is None:
        raise SamiteError(
            f"the lay that was found cannot be cut: {best.refused[0].text}",
            "lay",
            "this is a defect of samite: keep the problem and tell its makers",
        )
    kept = replace(
        best.lay, status="feasible", bound_mm=lay.bound_mm, seconds=lay.seconds, why=lay.why
    )
    return LayAnswer(problem, with_kept_numbers(problem, kept), best.refused)


def lay_json(answer: LayAnswer) -> dict[str, Any]:
    """Return the JSON form of a lay.

    Parameters
    ----------
    answer : LayAnswer
        The lay.

    Returns
    -------
    dict of str to object
        Format ``samite.lay.v1``.
    """
    lay, problem = answer.lay, answer.problem
    return {
        "format": FORMAT,
        "status": lay.status,
        "why": lay.why,
        "length_mm": _n(lay.length_mm),
        "bound_mm": _n(lay.bound_mm),
        "use_percent": round(use_percent(problem, lay.length_mm), 6) if answer.found else 0.0,
        "seconds": round(lay.seconds, 3),
        "seed": lay.seed,
        "placements": [placement_json(one) for one in lay.placements],
        "verified": answer.found,
        "spare_percent": round(answer.spare_percent, 3),
    }


def placement_json(one: Placement) -> dict[str, Any]:
    """Return the JSON form of a placement.

    Parameters
    ----------
    one : Placement
        The placement.

    Returns
    -------
    dict of str to object
        Keys of ``samite.lay.v1``.
    """
    return {
        "piece": one.piece,
        "copy": one.copy,
        "x_mm": _n(one.x_mm),
        "y_mm": _n(one.y_mm),
        "angle_deg": _n(one.angle_deg),
        "mirrored": one.mirrored,
    }


def lay_of(document: dict[str, Any]) -> Lay:
    """Return a lay from its JSON form, as this program wrote it.

    Parameters
    ----------
    document : dict of str to object
        Format ``samite.lay.v1``.

    Returns
    -------
    Lay
        The lay.
    """
    return Lay(
        str(document["status"]),
        str(document["why"]),
        float(document["length_mm"]),
        float(document["bound_mm"]),
        float(document["use_percent"]),
        float(document["seconds"]),
        int(document["seed"]),
        tuple(Placement(**one) for one in document["placements"]),
    )


def problem_json(problem: Problem) -> dict[str, Any]:
    """Return the JSON form of a problem.

    Parameters
    ----------
    problem : Problem
        The problem.

    Returns
    -------
    dict of str to object
        Format ``samite.lay-problem.v1``; read back it is the same problem.
    """
    return {
        "format": PROBLEM_FORMAT,
        "width_mm": problem.width_mm,
        "fold": problem.fold,
        "edge_mm": problem.edge_mm,
        "gap_mm": problem.gap_mm,
        "outline_mm": _points(problem.outline_mm) if problem.outline_mm else None,
        "holes": [_points(hole) for hole in problem.holes],
        "repeat_mm": {"along": problem.repeat_along_mm, "across": problem.repeat_across_mm},
        "pieces": [
            {
                "name": piece.name,
                "outline_mm": _points(piece.outline_mm),
                "copies": piece.copies,
                "angles_deg": list(piece.angles_deg),
                "mirror": piece.mirror,
                "on_fold": piece.on_fold,
                "motif_mm": list(piece.motif_mm) if piece.motif_mm else None,
                "fixed": [
                    {
                        "x_mm": place.x_mm,
                        "y_mm": place.y_mm,
                        "angle_deg": place.angle_deg,
                        "mirrored": place.mirrored,
                        **({} if place.copy is None else {"copy": place.copy}),
                    }
                    for place in piece.fixed
                ]
                or None,
                "grain_tolerance_deg": piece.grain_tolerance_deg,
            }
            for piece in problem.pieces
        ],
        "matches": [
            {
                "piece": one.piece,
                "at_mm": list(one.at_mm),
                "with": one.with_piece,
                "to_mm": list(one.to_mm),
            }
            for one in problem.matches
        ],
    }


def work_on_lay(
    argument: dict[str, Any],
    report: Callable[[Any], None],
    cancelled: Callable[[], bool],
) -> dict[str, Any]:
    """Solve a lay as a job.

    Parameters
    ----------
    argument : dict of str to object
        ``problem`` in the form ``samite.lay-problem.v1``, ``seconds`` and ``seed``.
    report : callable
        Takes every better lay in the form ``samite.lay.v1``.
    cancelled : callable
        Whether it should stop.

    Returns
    -------
    dict of str to object
        Format ``samite.lay.v1``.
    """
    problem = lay_problem_of(argument["problem"])
    answer = solve_lay(
        problem,
        seconds=float(argument["seconds"]),
        seed=int(argument["seed"]),
        on_better=lambda lay: report(lay_json(LayAnswer(problem, lay))),
        cancelled=cancelled,
    )
    return lay_json(answer)


def _points(points: tuple[tuple[float, float], ...]) -> list[list[float]]:
    return [[x, y] for x, y in points]


def _n(value: float) -> float:
    return round(value, PLACES) + 0.0
