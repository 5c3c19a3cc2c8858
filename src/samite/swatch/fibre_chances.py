"""Which fibre an unlabelled cloth is likely to be, from what simple tests have shown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.kernel.errors import InputError, UnknownNameError
from samite.kernel.quantity import Quantity
from samite.press.draws import normal_cdf, normal_score
from samite.swatch.value import worth_of_test
from samite.tables.close_names import did_you_mean
from samite.tables.fibre_tests import (
    FibreTest,
    candidate_fibres,
    fibre_test_share,
    fibre_tests,
    misread_chance,
    questions,
    sign_chances,
    water_density_g_cm3,
)
from samite.tables.fibres import fibre
from samite.tables.irons import Iron, household_iron
from samite.tables.press_limits import press_limit

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

MIXTURE = "mixture"
"""Key of the supposition that it is a blend."""

STICKING_GROUPS = ("synthetic", "elastomer")
"""Groups of fibres that soften under an iron even where they do not melt, as acrylic does."""

DOTS = ("low", "medium", "high")
NODES = 41


@dataclass(frozen=True, slots=True)
class FibreChances:
    """How likely each fibre is.

    Parameters
    ----------
    chances : mapping of str to float
        By fibre, `MIXTURE` among them; they sum to 1, the likeliest first [-].
    surprise : float
        How unlikely the answers were together, under all fibres [-].
    """

    chances: Mapping[str, float]
    surprise: float

    @property
    def likeliest(self) -> str:
        """The likeliest fibre, or `MIXTURE`."""
        return next(iter(self.chances))


def fibre_prior(cloth: Cloth | None = None) -> dict[str, float]:
    """Return how likely each fibre is before any test.

    Parameters
    ----------
    cloth : Cloth or None
        What is known of the cloth; None if nothing is.

    Returns
    -------
    dict of str to float
        By fibre, `MIXTURE` among them; they sum to 1 [-].

    Notes
    -----
    Usual shares among unlabelled cloths; where the label names a structure, half of the trust
    goes to what that structure is usually made of; where it names fibres, nine tenths to those.
    A fibre that the table of tests does not know is left out. All shares are guesses.
    """
    usual = dict(candidate_fibres())
    blend = fibre_test_share("mixture_share")
    known = _known_shares(cloth, usual) if cloth else {}
    if known and cloth is not None:
        stated = any(part.stated and part.fibres for part in cloth.parts)
        trust = fibre_test_share("label_trust" if stated else "structure_trust")
        usual = {key: (1.0 - trust) * usual[key] + trust * known.get(key, 0.0) for key in usual}
    return {key: (1.0 - blend) * share for key, share in usual.items()} | {MIXTURE: blend}


def _known_shares(cloth: Cloth, usual: Mapping[str, float]) -> dict[str, float]:
    """Return the fibres that a cloth's ground is said or believed to be made of."""
    found = {item.fibre: item.percent for item in cloth.base.fibres if item.fibre in usual}
    whole = sum(found.values())
    return {key: percent / whole for key, percent in found.items()} if whole else {}


def answer_chances(question: str, fibre_key: str, iron: Iron | None = None) -> dict[str, float]:
    """Return how likely each answer is if the cloth is of one fibre.

    Parameters
    ----------
    question : str
        What is asked, one of `samite.tables.fibre_tests.questions`.
    fibre_key : str
        Key in the fibre table.
    iron : Iron or None
        The iron that touches; an unmeasured household iron if None.

    Returns
    -------
    dict of str to float
        By answer; they sum to 1 [-].

    Raises
    ------
    UnknownNameError
        If no test asks that.

    Notes
    -----
    The float test follows from the fibre's density against water, the iron test from where the
    fibre is hurt against the sole at each dot, the burn test from the table. Every sign may be
    misread with the chance of its test, and is then any of the answers.

    References
    ----------
    morton-hearle-2008-t5.1, densities.

    derivation, docs/models/swatch-tests.md.
    """
    if question not in questions():
        raise UnknownNameError(
            f"no test asks {question!r}", question, did_you_mean(question, questions())
        )
    return dict(_answer_chances(question, fibre_key, iron or household_iron()))


@cache
def _answer_chances(question: str, fibre_key: str, iron: Iron) -> dict[str, float]:
    test, asked = questions()[question]
    if question == "float":
        raw = _float_chances(fibre_key)
    elif question == "iron":
        raw = _iron_chances(fibre_key, iron)
    else:
        raw = dict(sign_chances(question)[fibre_key])
    slip, count = misread_chance(test.key), len(asked.answers)
    return {key: (1.0 - slip) * raw[key] + slip / count for key in asked.answers}


def _float_chances(fibre_key: str) -> dict[str, float]:
    density = fibre(fibre_key).quantity("density_g_cm3")
    up = float(normal_cdf(density.score(np.array([water_density_g_cm3()])))[0])
    return {"floats": up, "sinks": 1.0 - up}


def _iron_chances(fibre_key: str, iron: Iron) -> dict[str, float]:
    """Return at which dot it first sticks: the limit's own spread against each dot's sole."""
    kind = fibre(fibre_key)
    if not kind.melts and kind.group not in STICKING_GROUPS:
        return {"1": 0.0, "2": 0.0, "3": 0.0, "never": 1.0}
    limits = _quantiles(press_limit(fibre_key))
    past = [_past(iron.dial_c(key), limits) for key in DOTS]
    ever = np.zeros(NODES)
    found = {}
    for dots, chance in enumerate(past, start=1):
        reached = np.maximum(ever, chance)
        found[str(dots)] = float((reached - ever).mean())
        ever = reached
    return found | {"never": float((1.0 - ever).mean())}


def _quantiles(quantity: Quantity) -> Real:
    return quantity.at(normal_score((np.arange(NODES) + 0.5) / NODES))


def _past(sole_c: Quantity, limits_c: Real) -> Real:
    return 1.0 - normal_cdf(sole_c.score(limits_c))


def fibre_chances(
    prior: Mapping[str, float],
    answers: Mapping[str, str],
    iron: Iron | None = None,
) -> FibreChances:
    """Return how likely each fibre is after what the tests have shown.

    Parameters
    ----------
    prior : mapping of str to float
        Chances before, from `fibre_prior` [-].
    answers : mapping of str to str
        Answers by question; none at all gives the prior back.
    iron : Iron or None
        The iron that touched; an unmeasured household iron if None.

    Returns
    -------
    FibreChances
        Bayes' rule over the fibres; a blend shows at each question the sign of one of its fibres.

    Raises
    ------
    UnknownNameError
        If there is no such question.
    InputError
        If there is no such answer.

    Notes
    -----
    Answers are taken as independent within a fibre; those of one flame are not quite, so that it
    errs to too sure. Blends defeat these tests: signs that contradict each other raise the chance
    of a blend rather than of any fibre.

    References
    ----------
    derivation, docs/models/swatch-tests.md.
    """
    _check_answers(answers)
    pure = {key: share for key, share in prior.items() if key != MIXTURE}
    whole = sum(pure.values())
    found = dict(prior)
    for question, answer in answers.items():
        likely = {key: answer_chances(question, key, iron)[answer] for key in pure}
        mixed = sum(pure[key] / whole * likely[key] for key in pure)
        found = {key: share * likely.get(key, mixed) for key, share in found.items()}
    total = sum(found.values())
    ordered = sorted(found, key=lambda key: -found[key])
    return FibreChances({key: found[key] / total for key in ordered}, 1.0 - total)


def _check_answers(answers: Mapping[str, str]) -> None:
    for question, answer in answers.items():
        if question not in questions():
            raise UnknownNameError(
                f"no test asks {question!r}", question, did_you_mean(question, questions())
            )
        asked = questions()[question][1]
        if answer not in asked.answers:
            known = ", ".join(f"{key} ({words})" for key, words in asked.answers.items())
            raise InputError(f"{answer[:40]!r} is no answer", question, f"say {known}")


def next_fibre_tests(
    found: FibreChances, answers: Sequence[str], iron: Iron | None = None
) -> list[tuple[FibreTest, float]]:
    """Rank the tests that are not made yet by how much surer each is expected to make.

    Parameters
    ----------
    found : FibreChances
        What is known so far.
    answers : sequence of str
        Questions that are answered already.
    iron : Iron or None
        The iron at hand.

    Returns
    -------
    list of tuple of (FibreTest, float)
        Each test with the expected gain in the chance of naming the fibre rightly, best first;
        of two that gain alike (within a hundredth) the harmless one first [-].

    References
    ----------
    raiffa-schlaifer-1961, chapter 4.
    """
    keys = list(found.chances)
    weights = np.array([found.chances[key] for key in keys])
    weights = weights / weights.sum()
    gains = []
    for place, test in enumerate(fibre_tests().values()):
        open_ones = [asked.key for asked in test.questions if asked.key not in answers]
        if open_ones:
            outcomes = _joint_outcomes(open_ones, keys, weights, iron)
            gains.append((worth_of_test(weights, np.eye(len(keys)), outcomes), place, test))
    gains.sort(key=lambda item: (-round(item[0], 2), item[1]))
    return [(test, gain) for gain, _, test in gains]


def _joint_outcomes(
    asked: Sequence[str], keys: Sequence[str], weights: Real, iron: Iron | None
) -> Real:
    """Return the chance of every combination of answers, a row a fibre."""
    joint = np.ones((len(keys), 1))
    for question in asked:
        pure = [
            [0.0] * len(questions()[question][1].answers)
            if key == MIXTURE
            else list(answer_chances(question, key, iron).values())
            for key in keys
        ]
        table = np.array(pure)
        if MIXTURE in keys:
            shares = np.where([key == MIXTURE for key in keys], 0.0, weights)
            whole = shares.sum()
            mean = shares @ table / whole if whole else table.sum(axis=0) / (len(keys) - 1)
            table[list(keys).index(MIXTURE)] = mean
        joint = (joint[:, :, np.newaxis] * table[:, np.newaxis, :]).reshape(len(keys), -1)
    return joint
