"""How near the order of work comes to its bound, and what it saves. Seconds of this process.

python bench/work.py            57 operations of the demo's kind, four jobs
python bench/work.py --large    and 403 operations, two jobs
python bench/work.py --long     and those with 24 times the effort, some ten minutes each

Each target is printed with what was measured. Leaves with 1 if one does not hold.
"""

from __future__ import annotations

import random
import sys
import time
from dataclasses import dataclass
from datetime import datetime, timedelta

from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import spread
from samite.work.operation import After, Operation, Setting
from samite.work.plan import Plan
from samite.work.problem import Machine, Maker, Session, WorkProblem
from samite.work.replay import check_plan
from samite.work.schedule import Budget, plan_work
from samite.work.setup import usual_change_overs

GUESS = Evidence("guess", Grade.GUESS)
MONDAY = datetime.fromisoformat("2031-01-06T00:00")
THREADS = ("black", "red", "white")
NEEDLES = ("sharp 70", "universal 80", "stretch 75")
HEATS = ("low", "medium", "high")


def costume(generator: random.Random, number: int, pieces: int) -> list[Operation]:
    """Return one invented costume: pretreat, test, cut, overlock, sew, press, hang, hem, finish."""
    name, thread = f"costume {number}", generator.choice(THREADS)
    cloths = [(generator.choice(NEEDLES), generator.choice(HEATS)) for _ in range(2)]
    machine = {"machines": ("lockstitch",)}

    def make(what: str, minutes: float, *after: After, **more: object) -> Operation:
        told = spread(minutes, 0.5, "min", GUESS)
        return Operation(
            f"{name} {what}", told, what.split(maxsplit=1)[0], name, tuple(after), **more
        )  # type: ignore[arg-type]

    def behind(what: str, wait: float = 0.0) -> After:
        return After(f"{name} {what}", "", wait)

    first = Setting(cloths[0][0], thread, "standard")
    made = [
        make("pretreat", 20),
        make("test", 15, behind("pretreat", 240), **machine, setting=first),
    ]
    for piece in range(pieces):
        dirt = {"leaves": ("glitter",)} if number == 2 else {}
        clean = {"shuns": ("glitter",)} if number == 0 else {}
        made.append(
            make(f"cut {piece}", 5 + generator.randrange(10), behind("test"), **dirt, **clean)
        )
        made.append(
            make(f"overlock {piece}", 3 + generator.randrange(5), behind(f"cut {piece}"),
                 machines=("overlocker",), setting=Setting(thread=thread))
        )  # fmt: skip
    crossed = None
    for seam in range(pieces - 1):
        needle, heat = cloths[seam % 2]
        after = [behind(f"overlock {seam}"), behind(f"overlock {seam + 1}")]
        after += [behind(crossed)] if crossed and generator.random() < 0.5 else []
        foot = generator.choice(("standard", "zip")) if seam == 1 else "standard"
        made.append(
            make(
                f"seam {seam}",
                4 + generator.randrange(12),
                *after,
                **machine,
                setting=Setting(needle, thread, foot),
            )
        )
        made.append(
            make(
                f"press {seam}",
                2 + generator.randrange(6),
                behind(f"seam {seam}"),
                machines=("iron",),
                setting=Setting(heat=heat),
            )
        )
        crossed = f"press {seam}"
    made.append(
        make(
            "close",
            12,
            *(behind(f"press {k}") for k in range(pieces - 1)),
            **machine,
            setting=first,
        )
    )
    made.append(make("hem", 40, behind("close", 1440)))
    return [*made, make("finish", 10, behind("hem"))]


def job(seed: int, costumes: int, pieces: int, days: int) -> WorkProblem:
    generator = random.Random(seed)  # noqa: S311
    operations = [one for k in range(costumes) for one in costume(generator, k, pieces)]
    sessions = tuple(
        Session(MONDAY + timedelta(days=d, hours=17), MONDAY + timedelta(days=d, hours=21))
        for d in range(days)
    )
    machines = (
        Machine("sewing machine", "lockstitch"),
        Machine("overlocker", "overlocker"),
        Machine("iron", "iron"),
    )
    return WorkProblem(
        f"{len(operations)} operations", MONDAY + timedelta(hours=8), MONDAY + timedelta(days=days),
        tuple(operations), machines, (Maker("Ida", sessions),), usual_change_overs(),
    )  # fmt: skip


@dataclass(frozen=True)
class Run:
    """A plan, and the seconds that it took."""

    plan: Plan
    seconds: float


def show(problem: WorkProblem, effort: float, seed: int) -> Run:
    begin = time.process_time()
    plan = plan_work(problem, Budget(effort))
    run = Run(plan, time.process_time() - begin)
    assert check_plan(problem, plan.lines) == []  # noqa: S101
    simple = plan.simple
    saved = f"{simple.there_min - plan.score.there_min:6.1f}" if simple else "  none"
    print(
        f"{problem.name:16} seed {seed} effort {effort:5g}  {plan.status:9} {run.seconds:7.1f} s"
        f"  there {plan.score.there_min:7.1f} bound {plan.bound_min:7.1f} ({plan.gap_percent:4.2f} %)"
        f"  change-overs and waiting {run.plan.lost_min:6.1f} bound {run.plan.lost_bound_min:6.1f}"
        f"  saved against simple {saved} min",
        flush=True,
    )
    return run


def holds(target: str, good: bool, measured: str) -> bool:
    print(f"  {'holds   ' if good else 'DOES NOT'}  {target}: {measured}", flush=True)
    return good


def small() -> bool:
    runs = [show(job(seed, 3, 4, 20), 1.0, seed) for seed in range(4)]
    slowest = max(run.seconds for run in runs)
    gap = max(run.plan.gap_percent for run in runs)
    proved = sum(run.plan.status == "optimal" for run in runs)
    return all(
        [
            holds("57 operations within 5 % of the bound in 10 s", gap <= 5.0 and slowest <= 10.0,
                  f"{gap:.2f} % in {slowest:.1f} s at worst"),
            holds("57 operations proved in 60 s", proved == len(runs) and slowest <= 60.0,
                  f"{proved} of {len(runs)} in {slowest:.1f} s at worst"),
        ]
    )  # fmt: skip


def large(*, long: bool) -> bool:
    good = []
    for seed in range(2):
        problem = job(seed, 13, 7, 60)
        run = show(problem, 1.0, seed)
        gap = run.plan.gap_percent
        share = 100.0 * run.plan.lost_bound_min / run.plan.lost_min
        good.append(holds("403 operations within 10 % of the bound", gap <= 10.0, f"{gap:.2f} %"))
        best = run.plan.bound_min
        against = "the bound, below which no run comes"
        if long:
            best = show(problem, 24.0, seed).plan.score.there_min
            against = "a run with 24 times the effort"
        over = 100.0 * (run.plan.score.there_min / best - 1.0)
        words = "403 operations within 3 % of a run of ten minutes"
        good.append(holds(words, over <= 3.0, f"{over:.2f} % over {against}"))
        print(
            f"            of change-overs and waiting the bound explains {share:.0f} %", flush=True
        )
    return all(good)


def main() -> int:
    good = small()
    if "--large" in sys.argv or "--long" in sys.argv:
        good = large(long="--long" in sys.argv) and good
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
