"""Lays of published garment outlines, as a share of the best use known, and how fast they come.

Run ``python bench/lay.py``: everything that is wanted of lays, each with whether it holds, in under
15 minutes. Or ``python bench/lay.py [SECONDS ...] [--seeds N] [--engine-alone] [--own]`` for some of
it. Every lay is verified before it counts. Instances and best lengths: `tests/published/lay`, with
their source. Seconds are wall-clock seconds on two cores that nothing else uses; the load is printed
beside them.
"""

from __future__ import annotations

import argparse
import csv
import statistics
import sys
import time
from dataclasses import replace
from os import getloadavg
from pathlib import Path

import numpy as np

from samite.lay._improve import first_lay
from samite.lay._model import model_of
from samite.lay.answer import lay_of
from samite.lay.problem import Lay, LayPiece, Problem
from samite.lay.solve import solve
from samite.lay.solvers.engine import Engine
from samite.lay.verify import check_lay
from samite.lay.warm_up import warm_up
from samite.readers.lay_file import read_lay_problem

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))
from tests.oracles.lay.solved import rectangle, shortest_of_rectangles  # noqa: E402

FOLDER = ROOT / "tests" / "published" / "lay"
GARMENTS = ("albano", "marques", "shirts", "trousers")
WANTED = {10.0: (0.95, 0.965), 60.0: (0.96, 0.975), 30.0: (0.93, 0.93)}


def records() -> dict[str, float]:
    with (FOLDER / "records.csv").open(encoding="utf-8", newline="") as file:
        return {r["instance"]: float(r["best_known_length_mm"]) for r in csv.DictReader(file)}


def instance(name: str) -> Problem:
    return read_lay_problem((FOLDER / f"{name}.json").read_text(encoding="utf-8"))


def share(problem: Problem, lay: Lay, best_mm: float) -> float:
    faults = check_lay(problem, lay)
    return 0.0 if faults or not lay.placements else best_mm / lay.length_mm


def engine_alone(problem: Problem, seconds: float, seed: int) -> Lay:
    """Return what the engine finds with all the time, not pressed together by us."""
    model = model_of(problem)
    helper = Engine(model, seconds=seconds, seed=seed, workers=2)
    helper.begin()
    best = None
    until = time.monotonic() + seconds
    while time.monotonic() < until and helper.running():
        time.sleep(0.05)
        best = helper.lay() or best
    helper.end()
    best = helper.lay() or best
    return Lay("out-of-time") if best is None else lay_of(model, best, 0.0)


def tell(what: str, value: str, *, holds: bool) -> None:
    """Print one wanted thing, what was measured, and whether it holds."""
    print(f"{'holds' if holds else 'FALLS SHORT':11} {what}: {value}", flush=True)


def shares(seconds: float, seeds: int, how: str) -> dict[str, float]:
    """Return the median share of each instance; prints every one, and its spread."""
    each, mean = WANTED.get(seconds, (0.0, 0.0))
    medians = {}
    for name, best_mm in ((n, b) for n, b in records().items() if n in GARMENTS):
        problem = instance(name)
        found = []
        began = time.process_time()
        for seed in range(1, seeds + 1):
            if how == "engine alone":
                lay = engine_alone(problem, seconds, seed)
            else:
                lay = solve(problem, seconds=seconds, seed=seed, engine=how != "own")
            found.append(share(problem, lay, best_mm))
        medians[name] = statistics.median(found)
        print(
            f"{how:12} {name:9} {seconds:4.0f} s: median {medians[name]:.4f} of {seeds},"
            f" {min(found):.4f} to {max(found):.4f}, own processor"
            f" {(time.process_time() - began) / seeds:.1f} s, load {getloadavg()[0]:.1f}",
            flush=True,
        )
    middle = statistics.fmean(medians.values())
    if how != "engine alone" and mean:
        told = f"{min(medians.values()):.4f} (wanted {each})"
        tell(f"{how}, {seconds:.0f} s, least", told, holds=min(medians.values()) >= each)
        tell(f"{how}, {seconds:.0f} s, mean", f"{middle:.4f} (wanted {mean})", holds=middle >= mean)
    else:
        print(f"{how:12} mean      {seconds:4.0f} s: {middle:.4f}")
    return medians


def against_engine(ours: dict[str, float], engine: dict[str, float]) -> None:
    """Compare medians with those of the engine that had all the time and both cores."""
    behind = max(engine[name] - ours[name] for name in ours)
    ahead = statistics.fmean(ours.values()) - statistics.fmean(engine.values())
    tell(
        "behind the engine at most", f"{100 * behind:.2f} points (wanted 0.3)", holds=behind <= 3e-3
    )
    tell("ahead of the engine on the mean", f"{100 * ahead:.2f} points", holds=ahead > 0.0)


def first_of_sixty() -> None:
    """Time the first lay of sixty different pieces with curved sides."""
    rng = np.random.default_rng(2)
    turn = np.linspace(0.0, 2.0 * np.pi, 120, endpoint=False)
    pieces = []
    for number in range(60):
        wave = sum(rng.uniform(0, 0.2) * np.sin(k * turn + rng.uniform(0, 6)) for k in (2, 3, 4))
        radius = rng.uniform(80.0, 300.0) * (1.0 + wave)
        outline = zip(
            (1.4 * radius * np.cos(turn)).tolist(), (radius * np.sin(turn)).tolist(), strict=True
        )
        pieces.append(LayPiece(f"piece {number}", tuple(outline), 1, (0.0, 180.0)))
    problem = Problem(1400.0, tuple(pieces), gap_mm=3.0, edge_mm=10.0)
    told: list[tuple[float, float]] = []
    began, cpu = time.monotonic(), time.process_time()
    solve(
        problem,
        seconds=10.0,
        seed=1,
        on_better=lambda _: told.append((time.monotonic() - began, time.process_time() - cpu)),
        cancelled=lambda: bool(told),
    )
    spent = f"{told[0][0]:.2f} s, {told[0][1]:.2f} s of processor (wanted 1 s)"
    tell("first lay of 60 different pieces", spent, holds=told[0][0] <= 1.0)


def ruled() -> dict[str, Problem]:
    """Return one garment plain, with flaws, on a repeat, and folded."""
    plain = instance("albano")
    marked = tuple(replace(p, motif_mm=p.outline_mm[0]) for p in plain.pieces)
    flaw = tuple(
        ((300.0 * k, 200.0 * k), (300.0 * k + 40.0, 200.0 * k), (300.0 * k, 200.0 * k + 40.0))
        for k in (1, 2, 3)
    )
    doubled = tuple(replace(p, copies=2 * p.copies, mirror="pairs") for p in plain.pieces)
    return {
        "plain": plain,
        "flaws": replace(plain, holes=flaw),
        "repeat": replace(plain, pieces=marked, repeat_along_mm=80.0, repeat_across_mm=60.0),
        "fold": replace(plain, width_mm=2000.0, fold="lengthwise", pieces=doubled),
    }


def time_to_gap(problem: Problem, seconds: float, seed: int) -> float:
    """Return when the lay was first within 3 % of the shortest that the time brought [s]."""
    told: list[tuple[float, float]] = []
    began = time.monotonic()
    last = solve(
        problem,
        seconds=seconds,
        seed=seed,
        on_better=lambda lay: told.append((time.monotonic() - began, lay.length_mm)),
    )
    return next(at for at, length in told if length <= 1.03 * last.length_mm)


def plain_and_ruled(seconds: float = 6.0, seeds: int = 3) -> None:
    """Compare the time to the same gap with flaws, a fold or a repeat to the plain problem."""
    times = {}
    for name, problem in ruled().items():
        first_lay(model_of(problem))
        times[name] = statistics.median(
            time_to_gap(problem, seconds, seed) for seed in range(1, seeds + 1)
        )
        ratio = times[name] / times["plain"]
        told = f"{times[name]:.2f} s, {ratio:.2f} of plain (wanted 3)"
        tell(f"within 3 % of its best, {name}", told, holds=ratio <= 3.0)


def folded_to_proved(cases: int = 5) -> None:
    """Compare folded lays of few rectangles with the shortest that trying everything finds."""
    worst = 0.0
    for case in range(cases):
        rng = np.random.default_rng(100 + case)
        sizes = [(float(a), float(b)) for a, b in rng.integers(20, 60, (5, 2))]
        pieces = tuple(
            LayPiece(str(k), rectangle(*size), 1 if k < 2 else 2, on_fold=k < 2)
            for k, size in enumerate(sizes)
        )
        problem = Problem(200.0, pieces, fold="lengthwise")
        shortest = shortest_of_rectangles(sizes, 100.0, {0, 1})
        lay = solve(problem, seconds=2.0, seed=1)
        worst = max(worst, lay.length_mm / shortest - 1.0 if not check_lay(problem, lay) else 9.9)
    told = f"{100 * worst:.2f} % of {cases} cases (wanted 2 %)"
    tell("folded lay longer than the proved shortest by at most", told, holds=worst <= 0.02)


def everything() -> None:
    """Measure all that is wanted, in under 15 minutes."""
    first_of_sixty()
    folded_to_proved()
    plain_and_ruled()
    ours = shares(10.0, 5, "samite")
    against_engine(ours, shares(10.0, 5, "engine alone"))
    shares(60.0, 1, "samite")
    shares(30.0, 1, "own")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("seconds", nargs="*", type=float)
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--engine-alone", action="store_true")
    parser.add_argument("--own", action="store_true")
    wish = parser.parse_args()
    warm_up()
    if not wish.seconds:
        everything()
    for seconds in wish.seconds:
        ours = shares(seconds, wish.seeds, "samite")
        if wish.own:
            shares(seconds, wish.seeds, "own")
        if wish.engine_alone:
            against_engine(ours, shares(seconds, wish.seeds, "engine alone"))


if __name__ == "__main__":
    main()
