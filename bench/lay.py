"""Lays of published garment outlines, as a share of the best use known, and how fast they come.

Run ``python bench/lay.py [SECONDS ...] [--engine-alone] [--own]``; 10 and 60 s unless told. Every lay is
verified before it counts. Instances and best lengths: `tests/published/lay`, with their source.
Seconds are wall-clock seconds on two cores that nothing else uses; the load is printed beside them.
"""

from __future__ import annotations

import argparse
import csv
import statistics
import time
from dataclasses import replace
from os import getloadavg
from pathlib import Path

import numpy as np

from samite.lay._improve import first_lay
from samite.lay._model import corners_for, model_of
from samite.lay.problem import Lay, LayPiece, Problem
from samite.lay.solve import lay_of, solve
from samite.lay.solvers.engine import Engine
from samite.lay.verify import check_lay
from samite.readers.lay_file import read_lay_problem

FOLDER = Path(__file__).resolve().parent.parent / "tests" / "published" / "lay"
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


def shares(seconds: float, seeds: int, how: str) -> None:
    wanted = WANTED.get(seconds, (0.0, 0.0))
    medians = []
    for name, best_mm in ((n, b) for n, b in records().items() if n in GARMENTS):
        problem = instance(name)
        found = []
        for seed in range(1, seeds + 1):
            began = time.process_time()
            if how == "engine alone":
                lay = engine_alone(problem, seconds, seed)
            else:
                lay = solve(problem, seconds=seconds, seed=seed, engine=how != "own")
            found.append((share(problem, lay, best_mm), time.process_time() - began))
        middle = statistics.median(one for one, _ in found)
        medians.append(middle)
        cpu = statistics.fmean(one for _, one in found)
        print(
            f"{how:12} {name:9} {seconds:4.0f} s: {middle:.4f} of the best use (wanted {wanted[0]}),"
            f" {min(f for f, _ in found):.4f} to {max(f for f, _ in found):.4f},"
            f" own processor {cpu:.1f} s, load {getloadavg()[0]:.1f}",
            flush=True,
        )
    print(
        f"{how:12} mean      {seconds:4.0f} s: {statistics.fmean(medians):.4f} (wanted {wanted[1]})"
    )


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
    print(
        f"first lay of 60 different pieces: {told[0][0]:.2f} s, {told[0][1]:.2f} s of processor (wanted 1 s)"
    )


def plain_and_ruled() -> None:
    """Compare the time for one construction with flaws, a fold or a repeat to the plain one."""
    plain = instance("albano")
    marked = tuple(replace(p, motif_mm=p.outline_mm[0]) for p in plain.pieces)
    flaw = tuple(
        ((300.0 * k, 200.0 * k), (300.0 * k + 40.0, 200.0 * k), (300.0 * k, 200.0 * k + 40.0))
        for k in (1, 2, 3)
    )
    ruled = {
        "plain": plain,
        "flaws": replace(plain, holes=flaw),
        "repeat": replace(plain, pieces=marked, repeat_along_mm=80.0, repeat_across_mm=60.0),
        "fold": replace(
            plain,
            width_mm=2000.0,
            fold="lengthwise",
            pieces=tuple(replace(p, copies=2 * p.copies, mirror="pairs") for p in plain.pieces),
        ),
    }
    times = {}
    for name, problem in ruled.items():
        best = np.inf
        for _ in range(3):
            began = time.process_time()
            first_lay(model_of(problem, corners_for(problem, 10.0)))
            best = min(best, time.process_time() - began)
        times[name] = best
        print(
            f"made ready and laid once, {name:7}: {best:.3f} s, {best / times['plain']:.2f} of plain (wanted under 3)"
        )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("seconds", nargs="*", type=float, default=[10.0, 60.0])
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--engine-alone", action="store_true")
    parser.add_argument("--own", action="store_true")
    wish = parser.parse_args()
    first_of_sixty()
    plain_and_ruled()
    for seconds in wish.seconds:
        shares(seconds, wish.seeds, "samite")
        if wish.own:
            shares(seconds, wish.seeds, "own")
        if wish.engine_alone:
            shares(seconds, wish.seeds, "engine alone")


if __name__ == "__main__":
    main()
