"""Quantities, reasons, errors and content keys behave and refuse as their names say."""

from __future__ import annotations

import json
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.kernel.errors import InputError, OutOfRangeError, SamiteError, TableError
from samite.kernel.evidence import Evidence, Grade, weakest
from samite.kernel.keys import canonical_json, content_key
from samite.kernel.quantity import (
    Quantity,
    between,
    exact,
    product,
    round_shown,
    spread,
)
from samite.kernel.reasons import Reason

GUESS = Evidence("guess", Grade.GUESS)
READ = Evidence("definition", Grade.STANDARD)


@st.composite
def quantities(draw: st.DrawFn) -> Quantity:
    value = draw(st.floats(0.01, 1e4))
    down, up = draw(st.floats(1.01, 3.0)), draw(st.floats(1.01, 3.0))
    return Quantity(value, value / down, value * up, "mm", GUESS)


@given(quantities())
def test_low_and_high_are_the_5th_and_95th_percentile(quantity: Quantity) -> None:
    drawn = quantity.draws(np.random.default_rng(1), 20_000)
    assert np.mean(drawn < quantity.low) == pytest.approx(0.05, abs=0.008)
    assert np.mean(drawn > quantity.high) == pytest.approx(0.05, abs=0.008)
    assert np.median(drawn) == pytest.approx(quantity.value, rel=0.05)


@given(quantities(), st.floats(-3.0, 3.0))
def test_score_is_the_inverse_of_at(quantity: Quantity, score: float) -> None:
    value = quantity.at(np.array(score))
    assert float(quantity.score(value)) == pytest.approx(score, abs=1e-9)


def test_a_spread_over_zero_is_drawn_on_a_plain_scale() -> None:
    quantity = Quantity(0.0, -2.0, 4.0, "C", GUESS)
    drawn = quantity.draws(np.random.default_rng(2), 50_000)
    assert np.mean(drawn < -2.0) == pytest.approx(0.05, abs=0.005)
    assert np.mean(drawn > 4.0) == pytest.approx(0.05, abs=0.005)


def test_a_quantity_without_spread_is_above_or_below() -> None:
    quantity = exact(5.0, "mm", READ)
    assert quantity.score(np.array([4.0, 6.0])).tolist() == [-np.inf, np.inf]


@pytest.mark.parametrize("numbers", [(1.0, 2.0, 3.0), (1.0, 0.5, 0.9), (float("nan"), 0.0, 1.0)])
def test_numbers_out_of_order_are_refused(numbers: tuple[float, float, float]) -> None:
    with pytest.raises(OutOfRangeError):
        Quantity(*numbers, "mm", GUESS)


def test_a_product_is_graded_like_its_weakest_factor_and_widens() -> None:
    found = product("mm2", spread(2.0, 0.1, "mm", READ), spread(3.0, 0.2, "mm", GUESS))
    assert found.value == pytest.approx(6.0)
    assert found.evidence.grade is Grade.GUESS
    assert found.high / found.value > 1.2
    assert found.high / found.value < 1.1 * 1.2


def test_a_range_alone_has_its_middle_for_median() -> None:
    assert between(4.0, 9.0, "mm", GUESS).value == pytest.approx(6.0)


@pytest.mark.parametrize(
    ("number", "shown"), [(0.0, 0.0), (1234.6, 1235.0), (0.012345, 0.0123), (-9.876, -9.88)]
)
def test_numbers_are_shown_to_three_figures(number: float, shown: float) -> None:
    assert round_shown(number) == shown


def test_grades_are_ordered_from_measured_to_guess() -> None:
    assert weakest(Grade.MEASURED_HERE, Grade.FROM_MEMORY, Grade.STANDARD) is Grade.FROM_MEMORY


def test_a_leaf_without_evidence_is_refused() -> None:
    with pytest.raises(TableError, match="neither evidence nor reasons"):
        Reason("because")


def test_a_tree_of_reasons_is_told_to_a_depth() -> None:
    tree = Reason("top", (Reason("under", (Reason("leaf", evidence=GUESS),)),))
    assert tree.lines(1) == ["top"]
    assert tree.lines(3) == ["top", "  under", "    leaf  [guess]"]
    assert tree.as_dict()["because"][0]["because"][0]["grade"] == "guess"  # type: ignore[index]


@dataclass(frozen=True)
class Thing:
    name: str
    size: float


def test_equal_things_have_equal_keys_whatever_their_order() -> None:
    assert canonical_json({"b": 1, "a": Thing("x", 2.0)}) == canonical_json(
        {"a": {"size": 2.0, "name": "x"}, "b": 1}
    )
    assert content_key({"a": 1}, "f/1") == content_key({"a": 1}, "f/1")
    keys = {
        content_key({"a": 1}, "f/1"),
        content_key({"a": 2}, "f/1"),
        content_key({"a": 1}, "f/2"),
    }
    assert len(keys | {content_key({"a": 1}, "f/1", "tables")}) == 4


def test_what_has_no_json_has_no_key() -> None:
    with pytest.raises(TypeError, match="object"):
        canonical_json(object())
    with pytest.raises(ValueError, match="JSON"):
        canonical_json(float("nan"))


def test_every_error_has_one_shape_and_an_exit_code() -> None:
    error = InputError("wrong", "here", "mend it")
    assert json.loads(json.dumps(error.as_dict())) == {
        "code": "bad-input",
        "message": "wrong",
        "where": "here",
        "hint": "mend it",
    }
    assert (SamiteError.exit_code, InputError.exit_code) == (1, 2)
