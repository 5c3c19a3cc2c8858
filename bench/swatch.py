"""An update with 200 swatches of one cloth in under a second on two cores.

Run ``python bench/swatch.py``. The journal holds 200 pressings of a velvet: eight ways to press, from
1 to 12 s, some with the sole read, the outcome drawn from a made-up truth. The second learning is
timed: the first presses the tables' draws, which are kept. Beside it, one more swatch on draws that are
there already, and learning how the cloth sews from 200 seams; `bench/store.py` opens a journal of 50,000.

What is told to hold is told by the clock. On a machine that others use it may say that nothing does: the
time of the processor and the load stand beside it, so that both can be judged.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import date
from os import getloadavg
from typing import TypeVar

import numpy as np

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.press.dials import Dial
from samite.swatch.seam_learn import learn_sewn
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial, SewTrial, Swatch
from samite.swatch.update import Asked, Learnt, learn
from samite.tables.irons import household_iron

T = TypeVar("T")
ALLOWED_S = 1.0
SWATCHES = 200
LABEL = "polyester velvet, 250 gsm"
DAY = date(2031, 2, 3)
WAYS = (
    (Dial.LOW, "none", "dry"),
    (Dial.LOW, "none", "none"),
    (Dial.MEDIUM, "none", "dry"),
    (Dial.MEDIUM, "none", "none"),
    (Dial.MEDIUM, "light", "dry"),
    (Dial.MEDIUM, "none", "damp"),
    (Dial.HIGH, "none", "dry"),
    (Dial.HIGH, "none", "none"),
)


def journal() -> list[Swatch]:
    generator = np.random.default_rng(5)
    found = []
    for number in range(SWATCHES):
        dial, steam, cloth = WAYS[number % len(WAYS)]
        seconds = float(generator.integers(1, 13))
        sole = 150.0 + generator.normal(0.0, 6.0) if number % 40 == 2 else None
        trial = PressTrial(dial, steam, cloth, "wrong", seconds, sole_c=sole)
        heat = dial.dots + (cloth == "none") + 0.1 * seconds + generator.normal(0.0, 0.3)
        signs = [Sign.SET_FLAT] if heat > 2.6 else []
        signs += [Sign.SHINE] if heat > 4.4 else []
        findings = tuple(Finding(sign) for sign in signs) or (Finding(Sign.NOTHING),)
        found.append(Swatch("cloth", DAY, findings, press=trial))
    return found


def told(name: str, allowed_s: float, run: Callable[[], T]) -> T:
    """Run once and tell the clock, the processor and whether the clock kept to what is allowed."""
    wall, cpu = time.perf_counter(), time.process_time()
    found = run()
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    verdict = "holds" if wall < allowed_s else "DOES NOT HOLD"
    print(
        f"{name:36} clock {wall:7.3f} s, processor {cpu:7.3f} s; under {allowed_s:g} s by the clock "
        f"{verdict}"
    )
    return found


def sewn_journal() -> list[Swatch]:
    """Return 200 seams, each needle and stitch length a few times, some of them puckered."""
    generator = np.random.default_rng(6)
    found = []
    for number in range(SWATCHES):
        size, length = (70, 75, 80, 90)[number % 4], 2.0 + 0.1 * (number % 11)
        trial = SewTrial(2, "stretch", size, "polyester", 27.0, "304", length, 1.5, hung_kg=3.0)
        sign = Sign.PUCKERED if generator.random() < 0.2 else Sign.NOTHING
        found.append(Swatch("cloth", DAY, (Finding(sign),), sew=trial))
    return found


def main() -> None:
    book = journal()
    asked = Asked(build_cloth(read_label(LABEL)), household_iron())
    learn(asked, book)
    learnt: Learnt = told(f"learning from {SWATCHES}", ALLOWED_S, lambda: learn(asked, book))
    more = PressTrial(Dial.MEDIUM, "none", "dry", "wrong", 7.0)
    seen = (Finding(Sign.SET_FLAT),)
    told("one more on the same draws", ALLOWED_S, lambda: learnt.after(more, seen))
    seams = sewn_journal()
    told(f"how it sews, from {SWATCHES}", ALLOWED_S, lambda: learn_sewn(asked.cloth, seams))
    taken = len(learnt.study.parts)
    print(f"worth {learnt.worth:.0f} of {learnt.study.draws.count} draws, taken {taken} times")
    print(f"load of the machine {getloadavg()[0]:.1f}")


if __name__ == "__main__":
    main()
