"""A problem made ready for the search: items, their options, obstacles and no-fit regions."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from samite.kernel.errors import InfeasibleError
from samite.lay._lattice import Lattice, lattice_of
from samite.lay._nofit import geometry_of
from samite.lay._parts import convex_parts, safe, simpler
from samite.lay._search_kernel import LINES, PLACES, Geometry, Rules, pair_depth
from samite.lay._shapes import Fineness, Option, Shapes, obstacle, options_of
from samite.lay._told import by_piece
from samite.lay.outline import signed_area_mm2, tidy_outline
from samite.lay.problem import Placement, placements_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from numpy.typing import NDArray

    from samite.lay.problem import LayPiece, Outline, Problem

ROWS = 80
"""Rows of the grid of places across the cloth."""

LOOSE_MM = 1.0
"""A kept place this much off is still kept: outlines of the search may be a little wide [mm]."""

MOST_CORNERS = 40
"""Corners that the search looks at in one outline."""

FEW_CORNERS = 14
"""With no more corners than this outlines are made convex, for a first lay at once."""

MOST_CELLS = 4_000_000
"""Cells of all pictures of depth together; a coarser grid is taken above, one for the first lay."""


@dataclass(frozen=True, slots=True)
class Item:
    """One placement to be found or kept."""

    piece: int
    copy: int
    options: tuple[Option, ...]
    fixed: bool = False


@dataclass(slots=True)
class State:
    """Where all items lie: movable ones first, then those that stay."""

    x: NDArray[np.float64]
    y: NDArray[np.float64]
    shape: NDArray[np.int64]
    opt: NDArray[np.int64]

    def copy(self) -> State:
        """Return the same with arrays of its own."""
        return State(self.x.copy(), self.y.copy(), self.shape.copy(), self.opt.copy())


@dataclass(slots=True)
class Model:
    """What the search works on."""

    problem: Problem
    items: list[Item]
    movable: int
    count: int
    shapes: Shapes
    options: list[tuple[Item, Option]]
    geometry: Geometry
    rules: Rules
    lattice: Lattice
    stays: State
    area: NDArray[np.float64]
    limit_mm: float
    start_mm: float
    step_mm: float
    fineness: Fineness
    facts: dict[str, float] = field(default_factory=dict)

    def placements(self, state: State) -> tuple[Placement, ...]:
        """Return placements of a state, in the order of pieces and copies."""
        found = [
            self._placement(self.options[state.opt[i]][1], self.items[i], state.x[i], state.y[i])
            for i in range(self.movable)
        ]
        found += [
            Placement(piece.name, copy, f.x_mm, f.y_mm, f.angle_deg, f.mirrored)
            for piece in self.problem.pieces
            for copy, f in enumerate(piece.fixed)
        ]
        return by_piece(self.problem, found)

    def _placement(self, option: Option, item: Item, x: float, y: float) -> Placement:
        return Placement(
            self.problem.pieces[item.piece].name,
            item.copy,
            round(float(x) - option.middle[0], 7) + 0.0,
            round(float(y) - option.middle[1], 7) + 0.0,
            option.angle_deg,
            option.mirrored,
        )

    def option(self, piece: int, angle_deg: float, *, mirrored: bool) -> Option:
        """Return one way of laying a piece, also one whose shape equals another's."""
        one = replace(self.problem.pieces[piece], angles_deg=(angle_deg,))
        return options_of(one, self.shapes, (mirrored,), self.fineness)[0]

    def way(self, item: int, shape: int) -> int:
        """Return the number of the option of an item that has a shape."""
        ways = range(int(self.rules.opt_at[item]), int(self.rules.opt_at[item + 1]))
        return next(o for o in ways if self.rules.opt_shape[o] == shape)

    def on_lattice(self, lattice: Lattice) -> Model:
        """Return the same with its items on another lattice."""
        strip = (*self.rules.strip.tolist(), self.limit_mm)
        rules = rules_of(self.problem, self.items, lattice, strip)
        return replace(self, lattice=lattice, rules=rules)

    @property
    def origin_mm(self) -> float:
        """Where the cloth starts [mm]."""
        return min((x for x, _ in self.problem.outline_mm or ()), default=0.0)

    def length_of(self, state: State) -> float:
        """Return the right end of the last item that can move or is kept [mm]."""
        ends = state.x[: self.movable] + self.geometry.extent[state.shape[: self.movable], 2]
        return max(float(ends.max(initial=0.0)), self.facts.get("kept_mm", 0.0))


def hands_of(piece: LayPiece, copy: int, *, folded: bool) -> tuple[bool, ...]:
    """Return the hands that one placement of a piece may have.

    Folded cloth cuts both hands at once, so that a pair may lie either way up.
    """
    if piece.mirror == "free" or (folded and piece.mirror == "pairs"):
        return (False, True)
    return (copy % 2 == 1,) if piece.mirror == "pairs" else (False,)


def items_of(problem: Problem, shapes: Shapes, fineness: Fineness) -> list[Item]:
    """Return one item for every placement that is not kept, with its options."""
    items = []
    cache: dict[tuple[int, tuple[bool, ...]], tuple[Option, ...]] = {}
    for number, piece in enumerate(problem.pieces):
        kept = list(range(len(piece.fixed)))
        hands_left = _hands_left(piece, folded=problem.folded)
        for copy in range(len(kept), placements_of(piece, folded=problem.folded)):
            hands = hands_left(copy)
            key = (number, hands)
            if key not in cache:
                cache[key] = (
                    _fold_options(piece, shapes, fineness)
                    if piece.on_fold
                    else options_of(piece, shapes, hands, fineness)
                )
            items.append(Item(number, copy, cache[key]))
    return items


def _hands_left(piece: LayPiece, *, folded: bool) -> Callable[[int], tuple[bool, ...]]:
    """Return the hands by copy, kept pairs counted whatever their order."""
    if piece.mirror != "pairs" or folded or not piece.fixed:
        return lambda copy: hands_of(piece, copy, folded=folded)
    left = piece.copies // 2 - sum(f.mirrored for f in piece.fixed)
    first = len(piece.fixed)
    return lambda copy: (copy - first < left,)


def _fold_options(piece: LayPiece, shapes: Shapes, fineness: Fineness) -> tuple[Option, ...]:
    """Return the options of a half piece on the fold: as drawn, or end for end."""
    angles = {a % 360.0 for a in piece.angles_deg or (0.0,)}
    found: list[Option] = []
    if 0.0 in angles:
        one = replace(piece, angles_deg=(0.0,))
        found += options_of(one, shapes, (False,), fineness)
    if 180.0 in angles and (piece.mirror != "none" or not found):
        other = replace(piece, angles_deg=(180.0,))
        found += options_of(other, shapes, (True,), fineness)
    return tuple({option.shape: option for option in reversed(found)}.values())


def fineness_of(problem: Problem, corners: int) -> Fineness:
    """Return how outlines with many corners may be widened for the search."""
    width = problem.lying_width_mm
    if corners <= FEW_CORNERS:
        return Fineness(corners, width / 400.0, width / 30.0, convex=True)
    return Fineness(corners, max(0.05, width / 2000.0), width / 100.0)


def model_of(problem: Problem, corners: int = MOST_CORNERS) -> Model:
    """Make a problem ready for the search."""
    shapes = Shapes()
    fineness = fineness_of(problem, corners)
    items = items_of(problem, shapes, fineness)
    kept = _kept(problem, shapes, fineness)
    pieces = len(shapes.found)
    blocks = list(_blocks(problem))
    places = []
    obstacles: list[tuple[int, float]] = []
    for parts, gap in blocks:
        shape, middle = obstacle(parts)
        shapes.found.append(shape)
        obstacles.append((len(shapes.found) - 1, gap))
        places.append((len(shapes.found) - 1, middle))
    strip = _strip(problem)
    step = _step(problem, shapes, pieces, corners)
    clip = {}
    for number, middle in places:
        clip[number] = (
            strip[0] - middle[0], strip[1] - middle[1],
            min(strip[3], 1e7) - middle[0], strip[2] - middle[1],
        )  # fmt: skip
    clip = clip if math.isfinite(strip[3]) else {}
    geometry = geometry_of(shapes, pieces, obstacles, problem.gap_mm, step, clip)
    lattice = lattice_of(problem, items)
    options = [(item, option) for item in items for option in item.options]
    still = [(o.shape, x, y) for o, x, y in kept] + [(n, *m) for n, m in places]
    count = len(items) + len(still)
    stays = State(
        np.zeros(count), np.zeros(count), np.zeros(count, np.int64), np.zeros(count, np.int64)
    )
    for k, (shape_number, x, y) in enumerate(still):
        at = len(items) + k
        stays.x[at], stays.y[at], stays.shape[at], stays.opt[at] = x, y, shape_number, -1
    area = np.array([abs(signed_area_mm2(problem.pieces[i.piece].outline_mm)) for i in items])
    kept_mm = max((x + shapes.found[o.shape].half_x for o, x, _ in kept), default=0.0)
    model = Model(
        problem, items, len(items), count, shapes, options, geometry,
        rules_of(problem, items, lattice, strip), lattice, stays, area,
        strip[3], strip[0],
        step,
        fineness,
    )  # fmt: skip
    model.facts["kept_mm"] = kept_mm
    check_kept(model, len(kept))
    return model


def check_kept(model: Model, kept: int) -> None:
    """Refuse kept places that lie off the cloth, in each other or in a flaw.

    Raises
    ------
    InfeasibleError
        If one does; the first that is found.
    """
    names = [piece.name for piece in model.problem.pieces for _ in piece.fixed]
    s, g, first = model.stays, model.geometry, model.movable
    start, low, high = model.rules.strip
    for k in range(first, first + kept):
        e, name = g.extent[s.shape[k]], names[k - first]
        off = max(
            start - s.x[k] - e[0], s.x[k] + e[2] - model.limit_mm,
            low - s.y[k] - e[1], s.y[k] + e[3] - high,
        )  # fmt: skip
        if off > LOOSE_MM:
            raise InfeasibleError(
                f"the kept place of {name!r} lies {off:.1f} mm off the cloth",
                "pieces",
                "move it, or let it be laid anew",
            )
        for other in [*range(first, k), *range(first + kept, model.count)]:
            places = (s.shape[other], s.x[other], s.y[other], s.shape[k], s.x[k], s.y[k])
            if pair_depth(g, *places) > LOOSE_MM:
                what = repr(names[other - first]) if other < first + kept else "a flaw or the rim"
                raise InfeasibleError(
                    f"the kept place of {name!r} lies in or too near {what}",
                    "pieces",
                    "move it, or let it be laid anew",
                )


def _strip(problem: Problem) -> tuple[float, float, float, float]:
    """Return start, lower and upper side, and end of the box that holds all places."""
    low = 0.0 if problem.folded else problem.edge_mm
    high = problem.lying_width_mm - problem.edge_mm
    if problem.outline_mm is None:
        return 0.0, low, high, math.inf
    xs = [x for x, _ in problem.outline_mm]
    ys = [y for _, y in problem.outline_mm]
    base = min(ys) if problem.folded else min(ys) + problem.edge_mm
    return (
        min(xs) + problem.edge_mm,
        max(base, 0.0 if problem.folded else -math.inf),
        max(ys) - problem.edge_mm,
        max(xs) - problem.edge_mm,
    )


def _blocks(
    problem: Problem,
) -> Iterator[tuple[tuple[tuple[tuple[float, float], ...], ...], float]]:
    """Yield what no piece may touch inside, in convex parts, with the distance to keep."""
    for hole in problem.holes:
        simple = safe(simpler(tidy_outline(hole), most=60, tolerance_mm=0.5), hole)
        yield convex_parts(simple), 0.0
    if problem.outline_mm is not None:
        yield _around(problem.outline_mm, folded=problem.folded), problem.edge_mm


def _around(outline: Outline, *, folded: bool) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return what lies around a remnant, in convex parts; below the fold nothing is in the way."""
    inner = tidy_outline(outline)
    xs, ys = [x for x, _ in inner], [y for _, y in inner]
    far = 2.0 * max(max(xs) - min(xs), max(ys) - min(ys)) + 10.0
    left, right, top = min(xs) - far, max(xs) + far, max(ys) + far
    bottom = min(ys) - far
    start = min(range(len(inner)), key=lambda k: (inner[k][0], inner[k][1]))
    ring = inner[start:] + inner[:start]
    bridge = (left, ring[0][1])
    frame = [
        bridge, (left, bottom), (right, bottom), (right, top), (left, top), bridge,
        ring[0], *ring[:0:-1], ring[0],
    ]  # fmt: skip
    parts = convex_parts(tuple(frame))
    if folded:
        parts = tuple(part for part in parts if max(y for _, y in part) > 1e-6)
    return parts


def _kept(
    problem: Problem, shapes: Shapes, fineness: Fineness
) -> list[tuple[Option, float, float]]:
    found = []
    for piece in problem.pieces:
        for place in piece.fixed:
            one = replace(piece, angles_deg=(place.angle_deg,))
            option = options_of(one, shapes, (place.mirrored,), fineness)[0]
            found.append((option, place.x_mm + option.middle[0], place.y_mm + option.middle[1]))
    return found


def _step(problem: Problem, shapes: Shapes, pieces: int, corners: int) -> float:
    """Return the grid of the pictures of depth: fine, but not more cells than memory is for."""
    step = problem.lying_width_mm / ROWS
    xs = np.array([s.half_x for s in shapes.found[:pieces]])
    ys = np.array([s.half_y for s in shapes.found[:pieces]])
    cells = float((2 * np.add.outer(xs, xs) * 2 * np.add.outer(ys, ys)).sum()) / 3.0 / step**2
    return step * max(
        1.0, math.sqrt(cells / (MOST_CELLS / 8 if corners <= FEW_CORNERS else MOST_CELLS))
    )


def rules_of(
    problem: Problem, items: list[Item], lattice: Lattice, strip: tuple[float, float, float, float]
) -> Rules:
    """Return the options of all items and the lattices that they lie on."""
    starts = np.zeros(len(items) + 1, np.int64)
    starts[1:] = np.cumsum([len(item.options) for item in items])
    shape, opt = [], []
    for item in items:
        piece = problem.pieces[item.piece]
        for option in item.options:
            shape.append(option.shape)
            (ox, px), (oy, py) = lattice.axes(item.piece, option)
            if piece.on_fold:
                lowest = min(y for _, y in piece.outline_mm)
                oy, py = option.middle[1] - lowest, -1.0
            opt.append((ox, oy, px, py))
    return Rules(
        opt_at=starts,
        opt_shape=np.array(shape, np.int64),
        opt=np.array(opt, float).reshape(-1, 4),
        strip=np.array(strip[:3], dtype=float),
    )


def buffers(model: Model, length_mm: float) -> tuple[object, ...]:
    """Return the working arrays of the search for lays up to some length."""
    along, across = (
        int(size / _cell_mm(model.step_mm, repeat)) + 8
        for size, repeat in (
            (length_mm, model.problem.repeat_along_mm),
            (model.problem.width_mm, model.problem.repeat_across_mm),
        )
    )
    return (
        np.zeros(across * along, np.float32),
        np.zeros(along),
        np.zeros(across),
        np.zeros((model.count + 1, 5)),
        np.zeros((LINES, 3)),
        np.zeros(LINES),
        np.zeros(across, np.float32),
        np.zeros(4),
        np.zeros((PLACES, 4)),
    )


def _cell_mm(step_mm: float, repeat_mm: float) -> float:
    """Return the least distance of two places along one axis: a repeat may be finer than the grid."""
    return min(step_mm, max(repeat_mm, step_mm / 4.0)) if repeat_mm > 0.0 else step_mm


def work_s(problem: Problem, corners: int) -> float:
    """Return about how long it takes to make a problem ready, on one core [s]."""
    hands = {"none": 1, "pairs": 2, "free": 2}
    shapes = size = 0.0
    for piece in problem.pieces:
        ways = hands[piece.mirror] * max(len(piece.angles_deg), 1)
        shapes += ways
        size += ways * min(len(piece.outline_mm), corners)
    return (
        shapes**2 / 4.0 * 1e-4 + (shapes / 2.0) ** 2 * (size / max(shapes, 1.0) / 64.0) ** 3 * 3e-3
    )


def corners_for(problem: Problem, seconds: float) -> int:
    """Return how many corners may be looked at so that making ready leaves time to search."""
    corners = MOST_CORNERS
    while corners > FEW_CORNERS + 2 and work_s(problem, corners) > 0.15 * seconds:
        corners -= 2
    return corners
