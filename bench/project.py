"""A costume job: a change against everything from scratch, and the scenario's packet.

Prints processor seconds of this process and of the two that compute ahead, and ratios; the clock
beside them depends on what else the machine does.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from samite.press.dials import Dial
from samite.services.demo import EFFORT, TODAY, write_demo
from samite.services.job import read_job
from samite.services.job_edit import set_value
from samite.services.job_store import demo_job_text
from samite.services.kept_answers import KeptAnswers
from samite.services.make import make_job
from samite.services.past import Past
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial, Swatch

CHANGES = {
    "a price": (("cloth", "night", "price"), "11.30/m"),
    "the day due": (("due",), "2031-02-09"),
    "the stock": (("cloth", "lining", "on_hand"), "90 cm"),
    "the budget": (("money", "budget"), "300"),
}


NIGHT = "crushed lame, 62% polyester 38% nylon, 112 cm, 95 g/m2"
PRESSED = Swatch(
    "night",
    date(2031, 1, 4),
    findings=(Finding(Sign.SET_FLAT),),
    press=PressTrial(dial=Dial.LOW, steam="none", press_cloth="dry", side="wrong", seconds=4.0),
)
"""A swatch of it; both invented."""


def spent() -> float:
    """Return processor seconds of this process and its ended children."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


def timed(
    folder: Path, text: str, pasts: Mapping[str, Past] | None = None
) -> tuple[float, float, int]:
    began, clock = spent(), time.perf_counter()
    job = replace(read_job(text, TODAY), pasts=pasts or {})
    made = make_job(job, known=KeptAnswers(folder), effort=EFFORT)
    return spent() - began, time.perf_counter() - clock, len(made.outcome.computed)


def main() -> None:
    text = demo_job_text()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / ".answers"
        whole, whole_clock, _ = timed(folder, text)
        print(
            f"from scratch: {whole_clock:.1f} s by the clock, {whole:.1f} s of processor",
            flush=True,
        )
        began, clock = spent(), time.perf_counter()
        _, written = write_demo(Path(name))
        print(
            f"the scenario's packet from there, {len(written)} files: "
            f"{time.perf_counter() - clock:.1f} s by the clock, {spent() - began:.1f} s of processor"
        )
        for what, (path, value) in CHANGES.items():
            cost, took, _ = timed(folder, set_value(text, path, value))
            print(f"{what} changed: {took:.2f} s by the clock, {whole / cost:.0f} times less work")
        cost, took, count = timed(folder, text, {NIGHT: Past((PRESSED,))})
        print(
            f"a pressed swatch kept: {took:.2f} s by the clock, {whole / cost:.0f} times less work, "
            f"{count} answers new"
        )


if __name__ == "__main__":
    main()
