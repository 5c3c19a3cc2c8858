"""Small random jobs for the twins of the work order."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import datetime, timedelta

from samite.kernel.evidence import Evidence, Grade
from samite.kernel.quantity import Quantity, exact
from samite.work.operation import After, Operation, Setting
from samite.work.problem import Machine, Maker, Session, WorkProblem
from samite.work.setup import CHANGES, ChangeOvers, usual_change_overs

EVIDENCE = Evidence("guess", Grade.GUESS)
DAY = datetime.fromisoformat("2031-03-03T00:00")
MINUTES = dict(zip(CHANGES, (3, 2, 1, 1, 0.5, 0.5, 2, 14), strict=True))


def minutes(number: float) -> Quantity:
    return exact(number, "min", EVIDENCE)


def change_overs() -> ChangeOvers:
    """Change-overs in whole half minutes, so that no twin has to round."""
    usual = usual_change_overs().contaminations
    rounded = {
        name: type(one)(name, one.place, minutes(6), one.mind, one.evidence)
        for name, one in usual.items()
    }
    return ChangeOvers({name: minutes(value) for name, value in MINUTES.items()}, rounded)


def moment(day: int, hours: float) -> datetime:
    return DAY + timedelta(days=day, hours=hours)


MACHINES = (
    Machine("sewing machine", "lockstitch", Setting(needle="sharp 70")),
    Machine("overlocker", "overlocker"),
    Machine("iron", "iron"),
)


def sort_of(generator: random.Random, irons: bool) -> tuple[tuple[str, ...], Setting]:
    pick = generator.random()
    if pick < 0.45:
        needle = generator.choice(("sharp 70", "stretch 75", ""))
        return ("lockstitch",), Setting(
            needle, generator.choice(("black", "white")), generator.choice(("standard", ""))
        )
    if pick < 0.6:
        return ("overlocker",), Setting(thread=generator.choice(("black", "white")))
    if pick < 0.85:
        wanted = ("iron", "steamer") if irons and generator.random() < 0.5 else ("iron",)
        return wanted, Setting(heat=generator.choice(("low", "medium", "high")))
    return (), Setting()


def random_job(seed: int, count: int, makers: int = 1) -> WorkProblem:
    generator = random.Random(seed)  # noqa: S311
    irons = generator.random() < 0.4
    machines = MACHINES
    if irons:
        second = Machine("small iron", "iron") if generator.random() < 0.5 else None
        machines = (*MACHINES, second or Machine("steamer", "steamer"))
    operations = []
    for number in range(count):
        wanted, setting = sort_of(generator, irons)
        after = tuple(
            After(f"op {k}", "so", generator.choice((0, 0, 0, 20, 90)))
            for k in range(number)
            if generator.random() < 1.2 / max(number, 1)
        )
        tags = generator.random()
        operations.append(
            Operation(
                f"op {number}",
                minutes(generator.randrange(2, 20)),
                after=after,
                machines=wanted,
                setting=setting,
                leaves=("glitter",) if tags < 0.1 else ("glue",) if tags < 0.18 else (),
                shuns=("glitter", "glue") if tags > 0.85 else (),
                helper=generator.random() < 0.5,
                by=moment(0, 10.25) if generator.random() < 0.04 else None,
                at=moment(1, 9.5) if number == count - 1 and generator.random() < 0.2 else None,
            )
        )
    people = [
        Maker("Ida", (Session(moment(0, 9), moment(0, 10.5)), Session(moment(1, 9), moment(1, 11))))
    ]
    if makers > 1:
        people.append(
            Maker("Ove", (Session(moment(0, 9), moment(0, 10)),), helper=generator.random() < 0.5)
        )
    return WorkProblem(
        f"job {seed}", moment(0, 8), moment(2, 0), tuple(operations), machines, tuple(people),
        change_overs(), margin_share=0.0,
    )  # fmt: skip


def tangled_job(seed: int, count: int) -> WorkProblem:
    """Two threads, two needles, two heats in chains, and change-overs that cost this or that."""
    generator = random.Random(seed)  # noqa: S311
    costs = {name: minutes(generator.choice((0.5, 1, 1.5, 2, 3, 5))) for name in CHANGES}
    job = random_job(seed, count)
    operations = []
    for number, one in enumerate(job.operations):
        pick = generator.random()
        wanted, setting = (), Setting()
        if pick < 0.6:
            needle, thread = generator.choice(("sharp 70", "stretch 75")), "black"
            thread = generator.choice((thread, "white"))
            wanted, setting = ("lockstitch",), Setting(needle, thread)
        elif pick < 0.85:
            wanted, setting = ("iron",), Setting(heat=generator.choice(("low", "high")))
        after = tuple(
            After(f"op {k}") for k in range(number) if generator.random() < 1.3 / max(number, 1)
        )
        operations.append(
            replace(
                one, machines=wanted, setting=setting, after=after, leaves=(), shuns=(), by=None
            )
        )
    change = ChangeOvers(costs, change_overs().contaminations)
    kept = (MACHINES[0], MACHINES[2])
    return replace(job, operations=tuple(operations), machines=kept, change=change)
