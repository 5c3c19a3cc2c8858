"""Where the product answers a case in the words of `moist_problem`."""

from __future__ import annotations

from tests.oracles.press.moist_problem import MoistAnswer, MoistCase


def product_answer(case: MoistCase) -> MoistAnswer:
    """Return what the solver under test makes of a case, on the times and places of the case."""
    raise NotImplementedError(case.name)
