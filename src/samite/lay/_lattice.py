"""Which places the repeat of the cloth leaves to each piece."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from samite.kernel.errors import InfeasibleError
from samite.lay.outline import cosine_and_sine

if TYPE_CHECKING:
    from collections.abc import Sequence

    from samite.lay._model import Item
    from samite.lay._shapes import Option
    from samite.lay.problem import Point, Problem

MISS_MM = 0.01
"""Two demands of the repeat agree if they miss each other by no more than this [mm]."""


@dataclass(slots=True)
class Lattice:
    """Places of the anchor of each piece: on the repeat, at a phase that matched pieces share."""

    repeat: Point
    anchors: dict[int, list[tuple[Point, int]]] = field(default_factory=dict)
    parent: list[int] = field(default_factory=lambda: [0])
    shift: list[Point] = field(default_factory=lambda: [(0.0, 0.0)])
    phase: dict[int, Point] = field(default_factory=dict)
    loose: dict[int, tuple[bool, bool]] = field(default_factory=dict)

    def root(self, number: int) -> tuple[int, Point]:
        """Return the phase that number hangs on and its distance from it."""
        x = y = 0.0
        while self.parent[number] != number:
            x, y = x + self.shift[number][0], y + self.shift[number][1]
            number = self.parent[number]
        return number, (x, y)

    def new(self) -> int:
        """Return the number of a new phase of its own."""
        self.parent.append(len(self.parent))
        self.shift.append((0.0, 0.0))
        return len(self.parent) - 1

    def tie(self, a: int, b: int, difference: Point) -> bool:
        """Say that phase a is phase b and a difference; tell whether that contradicts nothing."""
        ra, da = self.root(a)
        rb, db = self.root(b)
        off = (difference[0] + db[0] - da[0], difference[1] + db[1] - da[1])
        if ra == rb:
            return self.miss(off) <= MISS_MM
        if ra == 0:
            ra, rb, off = rb, ra, (-off[0], -off[1])
        self.parent[ra], self.shift[ra] = rb, off
        return True

    def miss(self, difference: Point) -> float:
        """Return how far a difference is from whole repeats [mm]."""
        return max(
            abs(d - r * round(d / r)) if r > 0.0 else 0.0
            for d, r in zip(difference, self.repeat, strict=True)
        )

    def agrees(self, piece: int, option: Option) -> bool:
        """Tell whether all anchors of a piece can lie on the repeat in one option."""
        first = None
        for point, number in self.anchors.get(piece, ()):
            root, off = self.root(number)
            turned = turned_point(point, option)
            here = (root, (off[0] - turned[0], off[1] - turned[1]))
            if first is None:
                first = here
            elif here[0] == first[0]:
                apart = (here[1][0] - first[1][0], here[1][1] - first[1][1])
                if self.miss(apart) > MISS_MM:
                    return False
        return True

    def axes(self, piece: int, option: Option) -> tuple[tuple[float, float], tuple[float, float]]:
        """Return (offset, period) along and across for the middle of an option; period 0: free."""
        if not self.anchors.get(piece):
            return (0.0, 0.0), (0.0, 0.0)
        point, number = self.anchors[piece][0]
        root, off = self.root(number)
        base = self.phase.get(root, (0.0, 0.0)) if root else (0.0, 0.0)
        turned = turned_point(point, option)
        return (
            (base[0] + off[0] - turned[0] + option.middle[0], self.repeat[0]),
            (base[1] + off[1] - turned[1] + option.middle[1], self.repeat[1]),
        )

    def free_phases(self) -> list[int]:
        """Return the phases that nothing has set yet."""
        roots = {self.root(n)[0] for anchors in self.anchors.values() for _, n in anchors}
        return sorted(roots - {0})


def turned_point(point: Point, option: Option) -> Point:
    """Return a point of the piece in an option, before it is moved."""
    c, s = cosine_and_sine(option.angle_deg)
    x, y = point[0], -point[1] if option.mirrored else point[1]
    return (c * x - s * y, s * x + c * y)


def lattice_of(problem: Problem, items: Sequence[Item]) -> Lattice:
    """Return the places that motifs and matches leave; narrows the items' options.

    Raises
    ------
    InfeasibleError
        If motifs and matches contradict each other.
    """
    lattice = Lattice((problem.repeat_along_mm, problem.repeat_across_mm))
    if max(lattice.repeat) <= 0.0:
        return lattice
    number = {piece.name: k for k, piece in enumerate(problem.pieces)}
    for k, piece in enumerate(problem.pieces):
        if piece.motif_mm is not None:
            lattice.anchors.setdefault(k, []).append((piece.motif_mm, 0))
    for match in problem.matches:
        phase = lattice.new()
        lattice.anchors.setdefault(number[match.piece], []).append((match.at_mm, phase))
        lattice.anchors.setdefault(number[match.with_piece], []).append((match.to_mm, phase))
    first_option = {item.piece: item.options[0] for item in reversed(items)}
    for k, anchors in lattice.anchors.items():
        option = first_option.get(k)
        if option is None:
            continue
        (p0, n0), *others = anchors
        t0 = turned_point(p0, option)
        for point, phase in others:
            t = turned_point(point, option)
            if not lattice.tie(phase, n0, (t[0] - t0[0], t[1] - t0[1])):
                raise InfeasibleError(
                    f"the matches of {problem.pieces[k].name!r} contradict each other on a repeat"
                    f" of {lattice.repeat[0]:g} by {lattice.repeat[1]:g} mm",
                    "matches",
                    "match fewer points, or move one of them by the miss",
                )
    _narrow(problem, lattice, items)
    _set_phases(problem, lattice, items)
    return lattice


def _narrow(problem: Problem, lattice: Lattice, items: Sequence[Item]) -> None:
    for item in items:
        left = tuple(o for o in item.options if lattice.agrees(item.piece, o))
        if not left:
            name = problem.pieces[item.piece].name
            raise InfeasibleError(
                f"no allowed turn of {name!r} meets all its matches",
                "matches",
                "match fewer points of it, or allow another turn",
            )
        object.__setattr__(item, "options", left)


def _set_phases(problem: Problem, lattice: Lattice, items: Sequence[Item]) -> None:
    """Let the largest piece of each free phase lie at the start and the lower edge.

    A piece on the fold sets the phase across; kept pieces set both. What only the largest piece
    sets is loose: it may lie anywhere else on the repeat.
    """
    by_size = sorted(items, key=lambda item: -_spread(problem, item))
    low = 0.0 if problem.folded else problem.edge_mm
    for piece_number, piece in enumerate(problem.pieces):
        for place in piece.fixed[:1]:
            for point, n in lattice.anchors.get(piece_number, ())[:1]:
                root, off = lattice.root(n)
                from samite.lay._shapes import Option

                kept = Option(-1, (0.0, 0.0), place.angle_deg, place.mirrored)
                t = turned_point(point, kept)
                if root and root not in lattice.phase:
                    lattice.phase[root] = (
                        place.x_mm + t[0] - off[0], place.y_mm + t[1] - off[1],
                    )  # fmt: skip
    for item in by_size:
        for point, n in lattice.anchors.get(item.piece, ())[:1]:
            root, off = lattice.root(n)
            if not root or root in lattice.phase:
                continue
            option = item.options[0]
            t = turned_point(point, option)
            outline = problem.pieces[item.piece].outline_mm
            turned = [turned_point(p, option) for p in outline]
            x = -min(p[0] for p in turned)
            y = low - min(p[1] for p in turned)
            lattice.phase[root] = (x + t[0] - off[0], y + t[1] - off[1])
            lattice.loose[root] = (lattice.repeat[0] > 0.0, lattice.repeat[1] > 0.0)
    _fold_phases(problem, lattice, items)


def _fold_phases(problem: Problem, lattice: Lattice, items: Sequence[Item]) -> None:
    """Let pieces on the fold set the phase across: they cannot move that way.

    Raises
    ------
    InfeasibleError
        If two of them, or one and the lattice of the motifs, want different phases.
    """
    if lattice.repeat[1] <= 0.0:
        return
    across: dict[int, float] = {0: 0.0}
    for item in items:
        piece = problem.pieces[item.piece]
        for point, n in lattice.anchors.get(item.piece, ()) if piece.on_fold else ():
            root, off = lattice.root(n)
            turned = turned_point(point, item.options[0])
            y = turned[1] - min(y for _, y in piece.outline_mm) - off[1]
            miss = lattice.miss((0.0, y - across.setdefault(root, y)))
            if miss > MISS_MM:
                raise InfeasibleError(
                    f"{piece.name!r} lies on the fold, and there its point misses the repeat of"
                    f" {lattice.repeat[1]:g} mm across by {miss:.1f} mm",
                    "pieces",
                    "fold the cloth on a line of the repeat that its point allows, move the"
                    " point, or lay the whole piece on open cloth",
                )
            if root:
                lattice.phase[root] = (lattice.phase[root][0], across[root])
                if root in lattice.loose:
                    lattice.loose[root] = (lattice.loose[root][0], False)


def _spread(problem: Problem, item: Item) -> float:
    outline = problem.pieces[item.piece].outline_mm
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return (max(xs) - min(xs)) * (max(ys) - min(ys))
