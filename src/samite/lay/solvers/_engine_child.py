"""Run the packing engine in a process of its own: one JSON line in, one line out for each lay.

The engine panics on what it cannot place and cannot be told to stop; here both end this process
only.
"""

from __future__ import annotations

import json
import sys
import threading
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable


def _tell(solution: Any) -> None:
    placed = [[item.id, item.rotation, *item.translation] for item in solution.placed_items]
    sys.stdout.write(json.dumps({"width": solution.width, "placed": placed}) + "\n")
    sys.stdout.flush()


def _tell_best(reports: Iterable[tuple[Any, Any]], best: float, feasible: tuple[Any, ...]) -> float:
    found = [solution for kind, solution in reports if kind in feasible and solution.width < best]
    if not found:
        return best
    solution = min(found, key=lambda one: one.width)
    _tell(solution)
    return float(solution.width)


def main() -> None:
    """Solve the problem on standard input."""
    import spyrrow

    wish = json.loads(sys.stdin.readline())
    items = [
        spyrrow.Item(one["id"], [tuple(p) for p in one["shape"]], one["demand"], one["angles"])
        for one in wish["items"]
    ]
    instance = spyrrow.StripPackingInstance("lay", wish["height"], items)
    config = spyrrow.StripPackingConfig(
        early_termination=False,
        min_items_separation=wish["gap"] or None,
        total_computation_time=wish["seconds"],
        num_workers=wish["workers"],
        seed=wish["seed"],
    )
    queue = spyrrow.ProgressQueue()
    kinds = spyrrow.ReportType
    feasible = (kinds.ExplFeas, kinds.CmprFeas, kinds.Final)
    done = threading.Event()
    answer: list[Any] = []

    def work() -> None:
        try:
            answer.append(instance.solve(config, queue))
        finally:
            done.set()

    threading.Thread(target=work, daemon=True).start()
    best = float("inf")
    while not done.wait(0.1):
        best = _tell_best(queue.drain(), best, feasible)
    if answer and answer[0].width < best:
        _tell(answer[0])


if __name__ == "__main__":
    main()
