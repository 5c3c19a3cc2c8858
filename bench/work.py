"""How near the order of work comes to its bound, and what it saves. Seconds of this process.

python bench/work.py            60 operations of the demo's kind and 400
python bench/work.py --long     and 400 with sixty times the effort, for the ratio
"""

from __future__ import annotations

import random
import sys
import time
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


def show(problem: WorkProblem, effort: float, seed: int) -> Plan:
    begin = time.process_time()
    plan = plan_work(problem, Budget(effort))
    spent = time.process_time() - begin
    assert check_plan(problem, plan.lines) == []  # noqa: S101
    score, least = plan.score, plan.bound_min - plan.score.work_min
    over = score.there_min - score.work_min
    simple = plan.simple
    saved = f"{simple.there_min - score.there_min:6.1f}" if simple else "  none"
    print(
        f"{problem.name:16} seed {seed} effort {effort:5g}  {plan.status:9} {spent:7.1f} s"
        f"  there {score.there_min:7.1f} bound {plan.bound_min:7.1f} ({plan.gap_percent:4.2f} %)"
        f"  change-overs and waiting {over:6.1f} bound {least:6.1f}  saved against simple {saved} min",
        flush=True,
    )
    return plan


def main() -> None:
    for seed in range(4):
        show(job(seed, 3, 4, 20), 1.0, seed)
    for seed in range(2):
        problem = job(seed, 13, 7, 60)
        short = show(problem, 1.0, seed)
        if "--long" in sys.argv:
            long = show(problem, 20.0, seed)
            print(f"  ratio to the long run {short.score.there_min / long.score.there_min:.4f}")


if __name__ == "__main__":
    main()
