"""Our own search, in threads that let each other run: no process has to be started."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from samite.lay.improve import Stream

if TYPE_CHECKING:
    from samite.lay._model import Model, State


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
        self.streams = [Stream(model, seed) for seed in seeds]
        for stream in self.streams:
            if first is not None:
                stream.take(first)
        self._threads = [
            threading.Thread(target=self._work, args=(stream,), daemon=True)
            for stream in self.streams
        ]

    def begin(self) -> None:
        """Start all searches."""
        for thread in self._threads:
            thread.start()

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
