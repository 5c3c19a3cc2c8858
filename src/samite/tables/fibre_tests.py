"""Tests that tell a fibre: their steps and cautions, and how likely each sign is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from samite.kernel.errors import TableError, UnknownNameError
from samite.tables.close_names import did_you_mean
from samite.tables.fibres import fibre
from samite.tables.loader import Row, read_table, read_toml

TABLE = "fibre_tests.csv"
FILE = "fibre_tests.toml"


@dataclass(frozen=True, slots=True)
class FibreQuestion:
    """One thing that a test asks.

    Parameters
    ----------
    key : str
        Its name.
    asks : str
        The beginning of a sentence.
    answers : mapping of str to str
        Ends of the sentence, by name.
    """

    key: str
    asks: str
    answers: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class FibreTest:
    """One test on threads or a scrap.

    Parameters
    ----------
    key : str
        ``burn``, ``iron`` or ``float``.
    name : str
        In words.
    minutes : float
        How long it takes [min].
    cloth_cm2 : float
        Cloth that it uses up [cm2].
    cost : str
        The same in words.
    needs : tuple of str
        What has to be at hand.
    cautions : tuple of str
        What to mind, the gravest not left out.
    steps : tuple of str
        In order.
    questions : tuple of FibreQuestion
        What is looked for.
    """

    key: str
    name: str
    minutes: float
    cloth_cm2: float
    cost: str
    needs: tuple[str, ...]
    cautions: tuple[str, ...]
    steps: tuple[str, ...]
    questions: tuple[FibreQuestion, ...]


@cache
def fibre_tests() -> Mapping[str, FibreTest]:
    """Return the tests that tell a fibre.

    Returns
    -------
    mapping of str to FibreTest
        The harmless ones first.
    """
    return MappingProxyType({key: _test(key, item) for key, item in read_toml(FILE).items()})


def _test(key: str, item: Mapping[str, Any]) -> FibreTest:
    questions = tuple(
        FibreQuestion(name, asked["asks"], MappingProxyType(dict(asked["answers"])))
        for name, asked in item["questions"].items()
    )
    return FibreTest(
        key,
        item["name"],
        float(item["minutes"]),
        float(item["cloth_cm2"]),
        item["cost"],
        tuple(item["needs"]),
        tuple(item["cautions"]),
        tuple(item["steps"]),
        questions,
    )


@cache
def questions() -> Mapping[str, tuple[FibreTest, FibreQuestion]]:
    """Return every question with the test that asks it.

    Returns
    -------
    mapping of str to tuple of (FibreTest, FibreQuestion)
        By the question's name.
    """
    return MappingProxyType(
        {asked.key: (test, asked) for test in fibre_tests().values() for asked in test.questions}
    )


@cache
def candidate_fibres() -> Mapping[str, float]:
    """Return the fibres that an unlabelled cloth may be.

    Returns
    -------
    mapping of str to float
        Usual share of each; they sum to 1.

    Raises
    ------
    TableError
        If one is not in the fibre table.
    """
    shares = {row.key: row.number.value for row in _rows("usual_share")}
    for key in shares:
        try:
            fibre(key)
        except UnknownNameError:
            raise TableError(f"{TABLE}: no fibre {key}", TABLE, "mend the key") from None
    whole = sum(shares.values())
    return MappingProxyType({key: share / whole for key, share in shares.items()})


@cache
def sign_chances(question: str) -> Mapping[str, Mapping[str, float]]:
    """Return how likely each answer to a question of the burn test is, by fibre.

    Parameters
    ----------
    question : str
        ``near``, ``after``, ``smell`` or ``left``.

    Returns
    -------
    mapping of str to mapping of str to float
        By fibre, then by answer; the answers of a fibre sum to 1 [-].

    Raises
    ------
    UnknownNameError
        If there is no such question.
    TableError
        If the table names no such answer, or its chances pass 1.

    Notes
    -----
    Answers that the table leaves out share what is left evenly.
    """
    if question not in questions():
        raise UnknownNameError(
            f"no test asks {question!r}", question, did_you_mean(question, questions())
        )
    answers = tuple(questions()[question][1].answers)
    found: dict[str, dict[str, float]] = {}
    for row in _rows("sign_chance"):
        asked, _, answer = row.condition.partition(": ")
        if asked == question:
            if answer not in answers:
                raise TableError(f"{TABLE}: no answer {row.condition!r}", TABLE, "mend the row")
            found.setdefault(row.key, {})[answer] = row.number.value
    filled = {key: _filled(key, chances, answers) for key, chances in found.items()}
    shared = {row.key: row.word for row in _rows("signs_like")}
    return MappingProxyType(
        {key: filled[shared.get(key, key)] for key in candidate_fibres() if filled}
    )


def _filled(key: str, chances: Mapping[str, float], answers: tuple[str, ...]) -> dict[str, float]:
    left = 1.0 - sum(chances.values())
    if left < -1e-9:
        raise TableError(f"{TABLE}: chances of {key} pass 1", TABLE, "mend the rows")
    unsaid = [answer for answer in answers if answer not in chances]
    if not unsaid:
        return {answer: chances[answer] / (1.0 - left) for answer in answers}
    return {answer: chances.get(answer, max(left, 0.0) / len(unsaid)) for answer in answers}


def misread_chance(test: str) -> float:
    """Return the chance that a sign of a test is misread.

    Parameters
    ----------
    test : str
        ``burn``, ``iron`` or ``float``.

    Returns
    -------
    float
        Chance [-].
    """
    found = {row.condition: row.number.value for row in _rows("misread_chance")}
    return found[test]


def fibre_test_share(name: str) -> float:
    """Return one of the shares that hold for all fibres.

    Parameters
    ----------
    name : str
        ``mixture_share``, ``structure_trust`` or ``label_trust``.

    Returns
    -------
    float
        Share [-].
    """
    return _rows(name)[0].number.value


def water_density_g_cm3() -> float:
    """Return the density of tap water at 20 C.

    Returns
    -------
    float
        Density [g/cm3].
    """
    return _rows("density_g_cm3")[0].number.value


def _rows(name: str) -> tuple[Row, ...]:
    return tuple(row for row in read_table(TABLE, "fibre") if row.property == name)
