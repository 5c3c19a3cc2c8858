"""All lays of a costume: every cloth, every width, with what to buy and what is left."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from samite.services.lay import LayAnswer, lay_json, problem_json, solve_lay
from samite.services.lay_buy import buy_json, length_to_lay_mm
from samite.services.lay_cases import LayAsk, LayCase, lay_cases
from samite.services.lay_keep import lay_offcuts, offcut_json
from samite.services.lay_options import case_options, option_json

FORMAT = "samite.lays.v1"


@dataclass(frozen=True, slots=True)
class SolvedCase:
    """A lay of a costume, solved.

    Parameters
    ----------
    case : LayCase
        What was asked.
    answer : LayAnswer
        The lay.
    buy : dict of str to object or None
        What to buy; None where there is no lay.
    """

    case: LayCase
    answer: LayAnswer
    buy: dict[str, Any] | None

    @property
    def there_mm(self) -> float:
        """Length of cloth that is there to lay once it is bought, squared and shrunk [mm]."""
        if self.buy is None:
            return 0.0
        left = length_to_lay_mm(self.buy["buy_mm"], self.case.extra)
        return max(left, self.answer.lay.length_mm)

    @property
    def title(self) -> str:
        """What it is called on paper."""
        cloth = f" of {self.case.label}" if self.case.label else ""
        return f"Lay of the {self.case.kind}{cloth}"[:90]


def solve_costume(
    ask: LayAsk,
    *,
    seconds: float,
    seed: int,
    on_case: Callable[[LayCase, int, int], None] | None = None,
    on_better: Callable[[float, float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[SolvedCase, ...]:
    """Solve every lay of a costume.

    Parameters
    ----------
    ask : LayAsk
        What was asked.
    seconds : float
        Time to search for each lay [s].
    seed : int
        Start of the random numbers.
    on_case : callable or None
        Called before each lay, with its number from 1 and how many there are.
    on_better : callable or None
        Called with length and bound of every better lay [mm].
    cancelled : callable or None
        Whether to stop.

    Returns
    -------
    tuple of SolvedCase
        In the order of `lay_cases`.
    """
    cases = lay_cases(ask)
    return tuple(
        _solved(case, number, len(cases), seconds, seed, on_case, on_better, cancelled)
        for number, case in enumerate(cases, 1)
    )


def _solved(
    case: LayCase, number: int, count: int, seconds: float, seed: int,
    on_case: Callable[[LayCase, int, int], None] | None,
    on_better: Callable[[float, float], None] | None,
    cancelled: Callable[[], bool] | None,
) -> SolvedCase:  # fmt: skip
    if on_case:
        on_case(case, number, count)
    told = on_better
    answer = solve_lay(
        case.problem,
        seconds=seconds,
        seed=seed,
        on_better=(lambda lay: told(lay.length_mm, lay.bound_mm)) if told else None,
        cancelled=cancelled,
    )
    buy = None
    if answer.found:
        buy = buy_json(answer.lay.length_mm, answer.lay.bound_mm, case.extra, case.price)
    return SolvedCase(case, answer, buy)


def costume_json(
    ask: LayAsk,
    solved: tuple[SolvedCase, ...],
    *,
    options_seconds: float = 0.0,
    seed: int = 0,
    cancelled: Callable[[], bool] | None = None,
) -> dict[str, Any]:
    """Return the JSON form of all lays of a costume.

    Parameters
    ----------
    ask : LayAsk
        What was asked.
    solved : tuple of SolvedCase
        The lays.
    options_seconds : float
        Time to search for each other choice; 0 leaves them out [s].
    seed : int
        Start of the random numbers.
    cancelled : callable or None
        Whether to stop.

    Returns
    -------
    dict of str to object
        Format ``samite.lays.v1``.
    """
    lays = []
    for one in solved:
        told = _case_json(one)
        if options_seconds > 0.0 and one.buy is not None:
            told["options"] = [
                option_json(
                    option,
                    one.case.extra,
                    one.case.price,
                    one.answer,
                    seconds=options_seconds,
                    seed=seed,
                    cancelled=cancelled,
                )
                for option in case_options(ask, one.case)
            ]
        lays.append(told)
    return {"format": FORMAT, "units": ask.units, "lays": lays}


def _case_json(one: SolvedCase) -> dict[str, Any]:
    case, rules = one.case, one.case.rules
    left = []
    if one.buy is not None:
        left = [
            offcut_json(item) for item in lay_offcuts(case.problem, one.answer.lay, one.there_mm)
        ]
    return {
        "kind": case.kind,
        "cloth": case.label,
        "width_mm": case.width_mm,
        "laid_width_mm": round(case.problem.width_mm, 3),
        "rules": {
            "one_way": rules.one_way,
            "folded": rules.folded,
            "face": rules.face,
            "gap_mm": rules.gap_mm,
            "edge_mm": rules.edge_mm,
            "repeat_mm": {"along": rules.repeat_along_mm, "across": rules.repeat_across_mm},
        },
        "reasons": {
            **{name: why.as_dict() for name, why in rules.reasons},
            "extra": [why.as_dict() for why in case.extra.reasons],
        },
        "notes": list(case.notes),
        "problem": problem_json(case.problem),
        "lay": lay_json(one.answer),
        "buy": one.buy,
        "options": [],
        "remnants": left,
    }
