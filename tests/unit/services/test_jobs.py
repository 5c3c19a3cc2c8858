"""The runner of long work."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from tests.unit.services import working

from samite.kernel.errors import InputError, UnknownNameError
from samite.services import jobs as runner
from samite.services.jobs import Jobs, JobView


@pytest.fixture
def jobs() -> Iterator[Jobs]:
    made = Jobs()
    yield made
    made.close()


def finish(jobs: Jobs, key: str) -> JobView:
    view = jobs.look(key)
    while not view.finished:
        view = jobs.wait(key, view.turn, 30.0)
    return view


def test_work_reports_and_its_result_is_kept(jobs: Jobs) -> None:
    view = finish(jobs, jobs.start(working.count, 3))
    assert (view.state, view.progress, view.result) == ("done", 2, 3)
    assert view.seconds > 0.0
    assert jobs.look(view.key).result == 3


def test_the_same_question_is_not_worked_out_twice(jobs: Jobs) -> None:
    first = finish(jobs, jobs.start(working.count, 2, "same"))
    assert jobs.start(working.count, 2, "same") == "same"
    assert jobs.look("same").turn == first.turn


def test_work_that_is_asked_to_stop_hands_in_what_it_has(jobs: Jobs) -> None:
    key = jobs.start(working.last_until_stopped, None)
    while jobs.look(key).progress != "begun":
        jobs.wait(key, jobs.look(key).turn, 5.0)
    jobs.cancel(key)
    view = finish(jobs, key)
    assert (view.state, view.result) == ("cancelled", "best so far")


def test_work_that_does_not_listen_is_ended_and_its_progress_stays(
    jobs: Jobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(runner, "GRACE_S", 0.1)
    key = jobs.start(working.never_listen, None)
    while jobs.look(key).progress is None:
        jobs.wait(key, jobs.look(key).turn, 5.0)
    jobs.cancel(key)
    view = finish(jobs, key)
    assert (view.state, view.progress, view.result) == ("cancelled", "best so far", None)


def test_one_waits_for_the_other_and_can_be_cancelled_before_it_begins(jobs: Jobs) -> None:
    first, second = jobs.start(working.last_until_stopped, None), jobs.start(working.count, 1)
    assert jobs.look(second).state == "waiting"
    third = jobs.start(working.count, 1)
    assert jobs.cancel(third).state == "cancelled"
    jobs.cancel(first)
    assert finish(jobs, second).state == "done"


def test_what_is_wrong_is_told_in_the_one_shape(jobs: Jobs) -> None:
    view = finish(jobs, jobs.start(working.refuse, None))
    assert view.state == "failed"
    assert view.error is not None
    assert (view.error["message"], view.error["hint"]) == ("no cloth", "give one")


def test_work_that_falls_over_is_told_as_such(jobs: Jobs) -> None:
    view = finish(jobs, jobs.start(working.fall_over, None))
    assert view.state == "failed"
    assert view.error is not None
    assert "code 7" in view.error["message"]


def test_an_unknown_job_and_too_many_are_refused(
    jobs: Jobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(UnknownNameError):
        jobs.look("nothing")
    monkeypatch.setattr(runner, "MOST_WAITING", 1)
    jobs.start(working.last_until_stopped, None)
    jobs.start(working.count, 1)
    with pytest.raises(InputError):
        jobs.start(working.count, 1)
