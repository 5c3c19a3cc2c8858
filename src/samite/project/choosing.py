"""Choosing among cloths: what counts, by how much, and which choice another beats in everything."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between


@dataclass(frozen=True, slots=True)
class Criterion:
    """One thing that counts in a choice.

    Parameters
    ----------
    key : str
        Its name.
    says : str
        What it is, in words.
    unit : str
        Unit of its values; empty for a grade without one.
    better : str
        ``less`` or ``more``.
    """

    key: str
    says: str
    unit: str
    better: str


@dataclass(frozen=True, slots=True)
class Choice:
    """One cloth that could be taken.

    Parameters
    ----------
    name : str
        Its name.
    values : mapping of str to float
        What it comes to, by criterion; one that is not known is left out.
    """

    name: str
    values: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Weighed:
    """A choice with its place.

    Parameters
    ----------
    choice : Choice
        The choice.
    score : float
        Weighted mean of its places between the worst and the best of every criterion [-].
    parts : mapping of str to float
        Place in every criterion: 0 is the worst on offer, 1 the best [-].
    beaten_by : tuple of str
        Choices that are as good in everything and better in something.
    """

    choice: Choice
    score: float
    parts: Mapping[str, float]
    beaten_by: tuple[str, ...]


def weigh_choices(
    choices: Sequence[Choice], criteria: Sequence[Criterion], weights: Mapping[str, float]
) -> tuple[Weighed, ...]:
    """Order choices by what matters to the person.

    Parameters
    ----------
    choices : sequence of Choice
        What is on offer.
    criteria : sequence of Criterion
        What counts.
    weights : mapping of str to float
        How much each criterion matters; those left out matter 1 [-].

    Returns
    -------
    tuple of Weighed
        Best first; among equals in the order given.

    Raises
    ------
    InputError
        If a weight is for no criterion, or all are nothing.
    OutOfRangeError
        If a weight is negative.

    Notes
    -----
    Places are linear between the worst and the best on offer, so adding a poor choice moves the
    others: the score orders this offer and means nothing alone. A value that is not known counts
    as the middle. A choice beaten in everything by another never stands before it.

    References
    ----------
    ``derivation``: weighted sum of places; Pareto dominance.
    """
    named = {one.key for one in criteria}
    for key, weight in weights.items():
        if key not in named:
            raise InputError(f"{key!r} is nothing that counts", key, f"one of {', '.join(named)}")
        require_between(0.0, 1000.0, weight=weight)
    shares = {one.key: weights.get(one.key, 1.0) for one in criteria}
    whole = sum(shares.values())
    if criteria and whole <= 0.0:
        raise InputError("nothing matters at all", "weights", "let at least one thing matter")
    places = {one.key: _places(choices, one) for one in criteria}
    weighed = []
    for number, choice in enumerate(choices):
        parts = {key: row[number] for key, row in places.items()}
        score = sum(shares[key] * part for key, part in parts.items()) / whole if whole else 0.0
        beaten = tuple(
            other.name
            for other in choices
            if other is not choice and _beats(other, choice, criteria)
        )
        weighed.append(Weighed(choice, score, parts, beaten))
    return tuple(sorted(weighed, key=lambda one: (-one.score, len(one.beaten_by))))


def _places(choices: Sequence[Choice], criterion: Criterion) -> list[float]:
    sign = -1.0 if criterion.better == "less" else 1.0
    values = [
        None if criterion.key not in one.values else sign * one.values[criterion.key]
        for one in choices
    ]
    known = [value for value in values if value is not None]
    if not known or max(known) <= min(known):
        return [0.5] * len(choices)
    low, span = min(known), max(known) - min(known)
    return [0.5 if value is None else (value - low) / span for value in values]


def _beats(one: Choice, other: Choice, criteria: Sequence[Criterion]) -> bool:
    """Tell whether a choice is as good in everything that is known and better in something."""
    better = False
    for criterion in criteria:
        mine, theirs = one.values.get(criterion.key), other.values.get(criterion.key)
        if mine is None or theirs is None:
            if mine is not theirs:
                return False
            continue
        gain = theirs - mine if criterion.better == "less" else mine - theirs
        if gain < 0.0:
            return False
        better = better or gain > 0.0
    return better
