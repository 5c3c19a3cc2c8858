"""Our own search, in threads that let each other run: no process has to be started."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from samite.lay._improve import Stream, Tuning

if TYPE_CHECKING:
    from samite.lay._model import Model, State


BEHIND = 0.004
"""A search this share longer than the best takes that up [-]."""


class Runner:
    """Several searches of one problem side by side.

    Parameters
    ----------
    model : Model
        The problem made ready.
    first : State or None
        The lay to start from.
    seeds : tuple of int
        One search for each.
    """

    def __init__(self, model: Model, first: State | None, seeds: tuple[int, ...]) -> None:
        self.stop = threading.Event()
        self.failed: list[BaseException] = []
        # the second looks once where the first looks twice: quicker, and stuck elsewhere
        self.streams = [
            Stream(model, seed, Tuning(picks=1 + k % 2)) for k, seed in enumerate(seeds)
        ]
        for stream in self.streams:
            if first is not None:
                stream.take(first)
        self._threads: list[threading.Thread] = []

    def begin(self, number: int | None = None) -> None:
        """Start all searches that have not begun, or the first `number` of all.

        Parameters
        ----------
        number : int or None
            How many searches are to run.
        """
        wanted = len(self.streams) if number is None else min(number, len(self.streams))
        for stream in self.streams[len(self._threads) : wanted]:
            thread = threading.Thread(target=self._work, args=(stream,), daemon=True)
            self._threads.append(thread)
            thread.start()

    def offer(self, state: State) -> None:
        """Give a lay from elsewhere to all searches; each takes it up if it is better.

        Parameters
        ----------
        state : State
            Where the items lie; may overlap a little.
        """
        for stream in self.streams:
            stream.offered = state

    def _work(self, stream: Stream) -> None:
        try:
            for _ in stream.run():
                if self.stop.is_set():
                    return
        except BaseException as error:
            self.failed.append(error)
            raise

    def best(self) -> tuple[float, State | None]:
        """Return the shortest length so far [mm] and its lay.

        Returns
        -------
        tuple of (float, State or None)
            Infinite and None before the first.
        """
        found = [stream.kept for stream in self.streams]
        return min(found, key=lambda pair: pair[0])

    def share(self, *, last: bool) -> None:
        """Hand the best lay to searches that are far behind it, at the last to all.

        One that has begun anew is left to itself till then.

        Parameters
        ----------
        last : bool
            Whether none may begin anew from now on.
        """
        length, state = self.best()
        for stream in self.streams:
            stream.last_life = stream.last_life or last
            far = stream.born_at == 0 and stream.best_mm > length * (1.0 + BEHIND)
            if state is not None and (far or (last and stream.best is not state)):
                stream.offered = state

    def running(self) -> bool:
        """Tell whether any search still runs.

        Returns
        -------
        bool
            Whether.
        """
        return any(thread.is_alive() for thread in self._threads)

    def end(self) -> None:
        """Stop all searches and wait for them; each looks up after a few hundredths of a second."""
        self.stop.set()
        for thread in self._threads:
            if thread.ident is not None:
                thread.join()
