"""The one runner of long work: progress, cancel, a child process for each, results kept.

Work is a function of a module that takes its argument, a way to report and a way to ask whether it
should stop. It runs in a process of its own, so that it can be ended whatever it is doing, and so
that pages go on answering meanwhile.
"""

from __future__ import annotations

import atexit
import contextlib
import itertools
import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from typing import Any

from samite.kernel.errors import InputError, SamiteError, UnknownNameError

Report = Callable[[Any], None]
Asked = Callable[[], bool]
Work = Callable[[Any, Report, Asked], Any]

MOST_KEPT = 40
"""Finished jobs whose results are kept; the oldest goes first."""

MOST_WAITING = 12
"""Jobs that may wait for their turn."""

GRACE_S = 3.0
"""How long work that was asked to stop may take to hand in its best [s]."""

FINISHED = frozenset({"done", "cancelled", "failed"})


@dataclass(frozen=True, slots=True)
class JobView:
    """A job as it stands.

    Parameters
    ----------
    key : str
        Its key.
    state : str
        ``waiting``, ``running``, ``stopping``, ``done``, ``cancelled`` or ``failed``.
    turn : int
        Counts what has changed since it began.
    seconds : float
        How long it has run [s].
    progress : object
        What was reported last.
    result : object
        What it gave; also after a cancel, if it handed in what it had.
    error : dict of str to str or None
        What went wrong, in the one shape.
    """

    key: str
    state: str
    turn: int
    seconds: float
    progress: Any = None
    result: Any = None
    error: dict[str, str] | None = None

    @property
    def finished(self) -> bool:
        """Whether nothing more will come."""
        return self.state in FINISHED


@dataclass(slots=True)
class _Job:
    """What the runner knows of a job; only touched under the lock."""

    key: str
    work: Work
    argument: Any
    state: str = "waiting"
    turn: int = 0
    began: float = 0.0
    ended: float = 0.0
    progress: Any = None
    result: Any = None
    error: dict[str, str] | None = None
    process: Any = None
    stop: Any = field(default=None)

    def view(self) -> JobView:
        until = self.ended or time.monotonic()
        seconds = until - self.began if self.began else 0.0
        return JobView(
            self.key, self.state, self.turn, seconds, self.progress, self.result, self.error
        )


class Jobs:
    """Runs long work, a few at a time, in the order in which it came.

    Parameters
    ----------
    at_once : int
        How many run at the same time.
    """

    def __init__(self, at_once: int = 1) -> None:
        self._context = multiprocessing.get_context("spawn")
        self._jobs: dict[str, _Job] = {}
        self._changed = threading.Condition()
        self._numbers = itertools.count(1)
        self._free = at_once
        self._closed = False
        atexit.register(self.close)

    def start(self, work: Work, argument: Any, key: str = "") -> str:
        """Start work, or wait for its turn.

        Parameters
        ----------
        work : callable
            A function of a module: ``work(argument, report, is_cancelled)``.
        argument : object
            What it works on.
        key : str
            Key to know it by, for the same question asked again; a new one if empty.

        Returns
        -------
        str
            Its key; work of that key that is there and has not failed is not begun anew.

        Raises
        ------
        InputError
            If too much waits already.
        """
        with self._changed:
            there = self._jobs.get(key)
            if there is not None and there.state in {"waiting", "running", "done"}:
                return key
            if sum(job.state == "waiting" for job in self._jobs.values()) >= MOST_WAITING:
                raise InputError("too much is waiting already", "job", "wait, or cancel some of it")
            name = key or f"job-{next(self._numbers)}"
            self._jobs.pop(name, None)
            self._jobs[name] = _Job(name, work, argument)
            self._forget_oldest()
            self._begin_next()
            return name

    def look(self, key: str) -> JobView:
        """Return a job as it stands.

        Parameters
        ----------
        key : str
            Its key.

        Returns
        -------
        JobView
            The job.
        """
        with self._changed:
            return self._found(key).view()

    def newest(self, start: str) -> JobView | None:
        """Return the job that was begun last among those whose keys begin alike.

        Parameters
        ----------
        start : str
            How the keys begin.

        Returns
        -------
        JobView or None
            None if there is none.
        """
        with self._changed:
            found = [job for job in self._jobs.values() if job.key.startswith(start)]
            return found[-1].view() if found else None

    def wait(self, key: str, seen: int, patience_s: float) -> JobView:
        """Wait until a job changes.

        Parameters
        ----------
        key : str
            Its key.
        seen : int
            Turn that was seen last; -1 for none.
        patience_s : float
            How long to wait at most [s].

        Returns
        -------
        JobView
            The job, changed or not.
        """
        with self._changed:
            self._changed.wait_for(
                lambda: key not in self._jobs or self._jobs[key].turn != seen, patience_s
            )
            return self._found(key).view()

    def cancel(self, key: str) -> JobView:
        """Ask a job to stop; end it if it does not.

        Parameters
        ----------
        key : str
            Its key.

        Returns
        -------
        JobView
            The job as it stands now; what it had found stays its result or its progress.
        """
        with self._changed:
            job = self._found(key)
            if job.state == "waiting":
                self._end(job, "cancelled")
            elif job.state == "running":
                self._change(job, "stopping")
                job.stop.set()
                timer = threading.Timer(GRACE_S, _kill, [job.process])
                timer.daemon = True
                timer.start()
            return job.view()

    def close(self) -> None:
        """End everything that still runs."""
        with self._changed:
            self._closed = True
            running = [job for job in self._jobs.values() if job.process is not None]
            for job in self._jobs.values():
                if job.state == "waiting":
                    self._end(job, "cancelled")
        for job in running:
            _kill(job.process)

    def _found(self, key: str) -> _Job:
        if key not in self._jobs:
            raise UnknownNameError(
                f"no job {key[:40]!r} is known here", "job", "it is too long ago: ask again"
            )
        return self._jobs[key]

    def _change(self, job: _Job, state: str) -> None:
        job.state = state
        job.turn += 1
        self._changed.notify_all()

    def _end(self, job: _Job, state: str) -> None:
        job.ended = time.monotonic()
        job.process = job.stop = None
        job.argument = None
        self._change(job, state)

    def _forget_oldest(self) -> None:
        finished = [job.key for job in self._jobs.values() if job.state in FINISHED]
        for key in finished[: max(0, len(finished) - MOST_KEPT)]:
            del self._jobs[key]

    def _begin_next(self) -> None:
        for job in self._jobs.values():
            if self._free > 0 and job.state == "waiting" and not self._closed:
                self._free -= 1
                self._begin(job)

    def _begin(self, job: _Job) -> None:
        here, there = self._context.Pipe(duplex=False)
        job.stop = self._context.Event()
        job.process = self._context.Process(
            target=_run, args=(job.work, job.argument, there, job.stop), daemon=False
        )
        job.began = time.monotonic()
        self._change(job, "running")
        job.process.start()
        there.close()
        threading.Thread(target=self._follow, args=(job, here), daemon=True).start()

    def _follow(self, job: _Job, here: Connection) -> None:
        """Take what a job sends until it ends."""
        process = job.process
        with contextlib.suppress(EOFError, OSError):
            while True:
                kind, value = here.recv()
                with self._changed:
                    setattr(job, kind, value)
                    self._change(job, job.state)
        process.join()
        here.close()
        with self._changed:
            if job.state == "stopping":
                state = "cancelled"
            elif job.error is None and process.exitcode == 0:
                state = "done"
            else:
                job.error = job.error or _died(process.exitcode)
                state = "failed"
            self._end(job, state)
            self._free += 1
            self._begin_next()


def _died(code: int | None) -> dict[str, str]:
    error = SamiteError(
        f"the work ended by itself (code {code})", "job", "try it again; with less at once"
    )
    return error.as_dict()


def _run(work: Work, argument: Any, pipe: Connection, stop: Any) -> None:
    """Do the work in the child process."""
    with contextlib.suppress(AttributeError, OSError):
        os.setsid()  # so that children of its own end with it
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        result = work(argument, lambda value: pipe.send(("progress", value)), stop.is_set)
        pipe.send(("result", result))
    except SamiteError as error:
        pipe.send(("error", error.as_dict()))
    finally:
        pipe.close()


def _kill(process: Any) -> None:
    """End a process and the children that it has started."""
    if process is None or not process.is_alive():
        return
    try:
        os.killpg(process.pid, signal.SIGKILL)
    except (AttributeError, OSError):
        process.kill()
