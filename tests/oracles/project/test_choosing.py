"""Choosing among cloths, against plain enumeration."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.kernel.errors import InputError
from samite.project.choosing import Choice, Criterion, weigh_choices

CRITERIA = (
    Criterion("cost", "cost of the cloth", "EUR", "less"),
    Criterion("window", "width of the safe window", "s", "more"),
)
NUMBERS = st.floats(0.0, 100.0, allow_nan=False)


def choice(name: str, cost: float, window: float) -> Choice:
    return Choice(name, {"cost": cost, "window": window})


def dominates(one: Choice, other: Choice) -> bool:
    """Pareto dominance as its definition says it."""
    pairs = [
        (-one.values["cost"], -other.values["cost"]),
        (one.values["window"], other.values["window"]),
    ]
    return all(a >= b for a, b in pairs) and any(a > b for a, b in pairs)


@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=1, max_size=6), NUMBERS, NUMBERS)
def test_who_is_beaten_is_who_is_dominated(
    offers: list[tuple[float, float]], cost: float, window: float
) -> None:
    choices = [choice(str(number), *offer) for number, offer in enumerate(offers)]
    weights = {"cost": cost + 0.1, "window": window + 0.1}
    weighed = weigh_choices(choices, CRITERIA, weights)
    for one in weighed:
        expected = tuple(
            o.name for o in choices if o is not one.choice and dominates(o, one.choice)
        )
        assert one.beaten_by == expected
    places = {one.choice.name: place for place, one in enumerate(weighed)}
    for one, other in itertools.permutations(choices, 2):
        if dominates(one, other):
            assert places[one.name] < places[other.name]


def test_the_score_is_the_weighted_mean_worked_by_hand() -> None:
    # Costs 10, 20, 30: places 1, 0.5, 0. Windows 2, 6, 4: places 0, 1, 0.5. Weights 3 and 1.
    offers = [choice("a", 10.0, 2.0), choice("b", 20.0, 6.0), choice("c", 30.0, 4.0)]
    weighed = weigh_choices(offers, CRITERIA, {"cost": 3.0, "window": 1.0})
    assert {one.choice.name: one.score for one in weighed} == pytest.approx(
        {"a": 0.75, "b": 0.625, "c": 0.125}
    )


def test_nothing_known_is_the_middle_and_beats_nobody() -> None:
    offers = [choice("a", 10.0, 2.0), Choice("b", {"cost": 5.0})]
    weighed = {one.choice.name: one for one in weigh_choices(offers, CRITERIA, {})}
    assert weighed["b"].parts["window"] == 0.5
    assert weighed["a"].beaten_by == ()


def test_weights_that_mean_nothing_are_refused() -> None:
    with pytest.raises(InputError, match="nothing that counts"):
        weigh_choices([choice("a", 1, 1)], CRITERIA, {"drape": 1.0})
    with pytest.raises(InputError, match="nothing matters"):
        weigh_choices([choice("a", 1, 1)], CRITERIA, {"cost": 0.0, "window": 0.0})
