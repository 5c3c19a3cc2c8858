"""The packing engine as an improver of plain lays, in a child process that may be killed.

It knows strips of one layer without flaws, repeats, kept pieces, mirrors left free and pieces on
the fold; its answers differ from run to run, since it stops by the clock. What it finds is
pressed together and checked by our own code before it counts.
"""

from __future__ import annotations

import json
import math
import subprocess
import sys
import threading
from typing import TYPE_CHECKING

from samite.lay.fits import usable_width_mm
from samite.lay.outline import tidy_outline
from samite.lay.problem import placements_of

if TYPE_CHECKING:
    from samite.lay._model import Model, State
    from samite.lay._shapes import Option
    from samite.lay.problem import LayPiece, Problem

SLACK = 1e-5
"""Share of the width that the engine is given more: it fails on a piece that just fits."""


def engine_fits(problem: Problem) -> bool:
    """Tell whether the engine can state a problem.

    Parameters
    ----------
    problem : Problem
        The question.

    Returns
    -------
    bool
        Whether it is a plain strip.
    """
    bound = any(piece.motif_mm for piece in problem.pieces) or problem.matches
    repeats = max(problem.repeat_along_mm, problem.repeat_across_mm) > 0.0 and bound
    special = any(p.on_fold or p.fixed or p.mirror == "free" for p in problem.pieces)
    return not (repeats or special or problem.holes or problem.outline_mm is not None)


class Engine:
    """One run of the engine; `lays` gives what it has found since it was last asked.

    Parameters
    ----------
    model : Model
        The problem made ready.
    seconds : float
        Time for the run [s].
    seed : int
        Start of the engine's random numbers.
    workers : int
        Threads that it may use.
    """

    def __init__(self, model: Model, *, seconds: float, seed: int, workers: int = 1) -> None:
        self.model = model
        self._found: list[str] = []
        self._options: dict[tuple[int, bool, float], Option] = {}
        self._lock = threading.Lock()
        self._child: subprocess.Popen[str] | None = None
        self._reader: threading.Thread | None = None
        self._wish = json.dumps(_wish(model.problem, seconds, seed, workers)) + "\n"

    def begin(self) -> None:
        """Start the child process; where that fails there is simply no engine."""
        command = [sys.executable, "-m", "samite.lay.solvers._engine_child"]
        try:
            self._child = subprocess.Popen(  # noqa: S603 - our own module
                command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
            )
        except OSError:
            return
        self._reader = threading.Thread(target=self._read, args=(self._child,), daemon=True)
        self._reader.start()

    def _read(self, child: subprocess.Popen[str]) -> None:
        if child.stdin is None or child.stdout is None:
            return
        try:
            with child.stdout:
                with child.stdin:
                    child.stdin.write(self._wish)
                for line in child.stdout:
                    with self._lock:
                        self._found = [line]
        except (OSError, ValueError):  # the child is gone: it has said what it had to say
            return

    def running(self) -> bool:
        """Tell whether the engine still works.

        Returns
        -------
        bool
            Whether.
        """
        return self._child is not None and self._child.poll() is None

    def end(self) -> None:
        """Stop the engine at once."""
        if self._child is not None and self._child.poll() is None:
            self._child.kill()
        if self._child is not None:
            self._child.wait()
        if self._reader is not None:
            self._reader.join()

    def lay(self) -> State | None:
        """Return the last lay that came since the last call, as a state of the search.

        Returns
        -------
        State or None
            Not checked yet; None if there is nothing new.
        """
        with self._lock:
            line = self._found.pop() if self._found else ""
        if not line:
            return None
        try:
            placed = json.loads(line)["placed"]
            return self._state(placed)
        except (ValueError, KeyError, IndexError):
            return None

    def _state(self, placed: list[list[float]]) -> State:
        model, problem = self.model, self.model.problem
        state = model.stays.copy()
        waiting: dict[tuple[int, bool], list[int]] = {}
        for i, item in enumerate(model.items):
            hand = item.options[0].mirrored
            waiting.setdefault((item.piece, hand), []).append(i)
        low = 0.0 if problem.folded else problem.edge_mm
        for name, angle, x, y in placed:
            number, odd = divmod(int(name), 2)
            i = waiting[number, odd == 1].pop()
            option = self._option(number, mirrored=odd == 1, angle=angle)
            extent = model.geometry.extent[option.shape]
            state.shape[i], state.opt[i] = option.shape, model.way(i, option.shape)
            state.x[i] = max(x - problem.gap_mm + option.middle[0], -extent[0])
            middle = y - problem.gap_mm + low + option.middle[1]
            start, high = model.rules.strip[1], model.rules.strip[2]
            state.y[i] = min(
                max(middle, start - extent[1]), max(high - extent[3], start - extent[1])
            )
        return state

    def _option(self, number: int, *, mirrored: bool, angle: float) -> Option:
        key = (number, mirrored, round(angle % 360.0, 6) % 360.0)
        if key not in self._options:
            angles = self.model.problem.pieces[number].angles_deg or (0.0,)
            near = min(angles, key=lambda a: abs((a - angle + 180.0) % 360.0 - 180.0))
            self._options[key] = self.model.option(number, near, mirrored=mirrored)
        return self._options[key]


def _wish(problem: Problem, seconds: float, seed: int, workers: int) -> dict[str, object]:
    items = []
    for number, piece in enumerate(problem.pieces):
        for mirrored, demand in _demands(piece, problem):
            outline = tidy_outline(piece.outline_mm)
            shape = [(x, -y if mirrored else y) for x, y in outline]
            items.append(
                {
                    "id": str(2 * number + mirrored),
                    "shape": shape[::-1] if mirrored else shape,
                    "demand": demand,
                    "angles": list(piece.angles_deg or (0.0,)),
                }
            )
    height = (usable_width_mm(problem) + 2.0 * problem.gap_mm) * (1.0 + SLACK)
    return {
        "items": items,
        "height": height,
        "gap": problem.gap_mm,
        "seconds": max(1, math.floor(seconds)),
        "seed": seed % 2**32,
        "workers": workers,
    }


def _demands(piece: LayPiece, problem: Problem) -> list[tuple[bool, int]]:
    count = placements_of(piece, folded=problem.folded)
    if piece.mirror == "pairs" and not problem.folded:
        return [(False, count - count // 2), (True, count // 2)]
    return [(False, count)]
