"""The graph of what depends on what."""

from __future__ import annotations

from typing import Any

import pytest

from samite.kernel.errors import InfeasibleError, InputError
from samite.project.graph import Task, compute, task_keys
from samite.project.order import construction_order, find_circle


def graph(price: float = 3.0, length: float = 2.0, broken: bool = False) -> list[Task]:
    def lay(_: Any) -> float:
        if broken:
            raise InputError("the piece is wider than the cloth", "skirt", "join it")
        return length * 2.0

    return [
        Task("cost", "cost/1", price, ("lay",), lambda had: had["lay"] * price),
        Task("lay", "lay/1", length, (), lay),
        Task("seam", "seam/1", None, (), lambda _: "french"),
        Task("packet", "packet/1", None, ("cost", "seam"), lambda had: (had["cost"], had["seam"])),
    ]


def test_every_answer_is_computed_after_what_it_needs() -> None:
    outcome = compute(graph(), {})
    assert outcome.answers["packet"] == (12.0, "french")
    assert outcome.computed.index("lay") < outcome.computed.index("cost")


def test_only_what_depends_on_a_change_is_computed_again() -> None:
    known: dict[str, Any] = {}
    compute(graph(), known)
    assert compute(graph(), known).computed == ()
    assert set(compute(graph(price=4.0), known).computed) == {"cost", "packet"}
    assert set(compute(graph(length=5.0), known).computed) == {"lay", "cost", "packet"}


def test_a_change_and_its_undoing_give_what_was_there() -> None:
    known: dict[str, Any] = {}
    before = compute(graph(), known).answers
    compute(graph(price=9.0), known)
    assert compute(graph(), known).answers == before


def test_a_task_that_fails_takes_only_what_needs_it() -> None:
    outcome = compute(graph(broken=True), {})
    assert outcome.answers == {"seam": "french"}
    assert {one.task: one.missing for one in outcome.troubles} == {
        "lay": (),
        "cost": ("lay",),
        "packet": ("cost",),
    }


def test_progress_counts_what_is_to_be_done() -> None:
    told: list[tuple[int, int, str]] = []
    compute(graph(), {}, lambda done, whole, name: told.append((done, whole, name)))
    assert [done for done, _, _ in told] == [0, 1, 2, 3]
    assert {whole for _, whole, _ in told} == {4}


def test_keys_change_with_facts_and_with_what_is_below() -> None:
    one, other = task_keys(graph()), task_keys(graph(length=5.0))
    assert one["seam"] == other["seam"]
    assert all(one[name] != other[name] for name in ("lay", "cost", "packet"))


def test_a_circle_is_named() -> None:
    before = {"hem": ("side",), "side": ("waist",), "waist": ("hem",), "neck": ()}
    assert find_circle(before) == ("hem", "side", "waist", "hem")
    with pytest.raises(InfeasibleError, match="hem after side after waist after hem"):
        construction_order(before)


def test_order_keeps_what_nothing_forbids() -> None:
    assert construction_order({"c": (), "b": ("a",), "a": ()}) == ("c", "a", "b")
