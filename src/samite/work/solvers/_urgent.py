"""How far a plan is bound to be late: work that must be over by a moment against time till then."""

from __future__ import annotations

from bisect import bisect_right

from samite.work.solvers._model import FAR, Model
from samite.work.solvers._rest import in_order
from samite.work.solvers._steps import Node


class Urgent:
    """Moments by which work must be over, each with the work that it waits for."""

    def __init__(self, model: Model) -> None:
        self._model = model
        self._ends = [[close for _, close in one] for one in model.sessions]
        before = ancestors(model)
        moments: dict[int, int] = {}
        for number, op in enumerate(model.ops):
            if op.fixed is not None:
                moments[op.fixed] = moments.get(op.fixed, 0) | before[number]
            if op.deadline < FAR:
                moments[op.deadline] = moments.get(op.deadline, 0) | before[number] | 1 << number
        self.moments = tuple(sorted(moments.items()))
        self._weights = [self._work_in(mask) for _, mask in self.moments]
        self._room = [self._rooms(moment) for moment, _ in self.moments]

    def _work_in(self, mask: int) -> int:
        return sum(op.ticks for number, op in enumerate(self._model.ops) if mask >> number & 1)

    def _rooms(self, moment: int) -> list[list[int]]:
        """Time of the sessions from each session on, till the moment, by maker."""
        found = []
        for sessions in self._model.sessions:
            rest = [0] * (len(sessions) + 1)
            for k in range(len(sessions) - 1, -1, -1):
                opens, closes = sessions[k]
                rest[k] = rest[k + 1] + max(0, min(closes, moment) - opens)
            found.append(rest)
        return found

    def first(self) -> list[int]:
        """Return the work left for every moment when nothing is done."""
        return list(self._weights)

    def less(self, left: list[int], number: int) -> list[int]:
        """Return the work left once an operation is done."""
        ticks = self._model.ops[number].ticks
        return [
            work - ticks if mask >> number & 1 else work
            for work, (_, mask) in zip(left, self.moments, strict=True)
        ]

    def lack(self, node: Node, left: list[int]) -> int:
        """Return by how much the time till some moment falls short at least [ticks]."""
        worst = 0
        for work, (moment, _), rooms in zip(left, self.moments, self._room, strict=True):
            if not work:
                continue
            room = 0
            for maker, rest in enumerate(rooms):
                clock = node.clock[maker]
                at = bisect_right(self._ends[maker], clock)
                if at >= len(rest) - 1:
                    continue
                opens = self._model.sessions[maker][at][0]
                room += rest[at] - max(0, min(clock, moment) - opens)
            worst = max(worst, work - room)
        return worst


def ancestors(model: Model) -> list[int]:
    """Return for each operation the bits of all that must be earlier."""
    found = [0] * len(model.ops)
    for number in in_order(model):
        for earlier, _ in model.ops[number].before:
            found[number] |= found[earlier] | 1 << earlier
    return found
