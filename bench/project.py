"""A costume job: a change against everything from scratch, and the scenario's packet.

Prints processor seconds of this process and of the two that compute ahead, and ratios; the clock
beside them depends on what else the machine does.
"""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path

from samite.services.demo import EFFORT, TODAY, write_demo
from samite.services.job import read_job
from samite.services.job_edit import set_value
from samite.services.job_store import demo_job_text
from samite.services.kept_answers import KeptAnswers
from samite.services.make import make_job

CHANGES = {
    "a price": (("cloth", "night", "price"), "11.30/m"),
    "the day due": (("due",), "2031-02-09"),
    "the stock": (("cloth", "lining", "on_hand"), "90 cm"),
    "the budget": (("money", "budget"), "300"),
}


def spent() -> float:
    """Return processor seconds of this process and its ended children."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


def timed(folder: Path, text: str) -> tuple[float, float, int]:
    began, clock = spent(), time.perf_counter()
    made = make_job(read_job(text, TODAY), known=KeptAnswers(folder), effort=EFFORT)
    return spent() - began, time.perf_counter() - clock, len(made.outcome.computed)


def main() -> None:
    text = demo_job_text()
    with tempfile.TemporaryDirectory() as name:
        began, clock = spent(), time.perf_counter()
        _, written = write_demo(Path(name))
        print(
            f"the scenario's packet, {len(written)} files: {time.perf_counter() - clock:.1f} s by the "
            f"clock, {spent() - began:.1f} s of processor"
        )
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        whole, whole_clock, _ = timed(folder, text)
        print(f"from scratch: {whole_clock:.1f} s by the clock, {whole:.1f} s of processor")
        for what, (path, value) in CHANGES.items():
            cost, took, _ = timed(folder, set_value(text, path, value))
            print(f"{what} changed: {took:.2f} s by the clock, {whole / cost:.0f} times less work")


if __name__ == "__main__":
    main()
