"""An update with 200 swatches of one cloth in under a second on two cores.

Run ``python bench/swatch.py``. The journal holds 200 pressings of a velvet: eight ways to press, from
1 to 12 s, some with the sole read, the outcome drawn from a made-up truth. The second learning is
timed: the first compiles. Beside it, one more swatch on draws that are there already.
"""

from __future__ import annotations

import time
from datetime import date
from os import getloadavg

import numpy as np

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.press.dials import Dial
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial, Swatch
from samite.swatch.update import Asked, Learnt, learn
from samite.tables.irons import household_iron

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


def told(name: str, wall_s: float, cpu_s: float) -> None:
    verdict = "holds" if min(wall_s, cpu_s / 2.0) < ALLOWED_S else "DOES NOT HOLD"
    print(
        f"{name:34} {wall_s:6.2f} s, {cpu_s:6.2f} s of processor; under {ALLOWED_S:.0f} s {verdict}"
    )


def main() -> None:
    book = journal()
    asked = Asked(build_cloth(read_label(LABEL)), household_iron())
    learn(asked, book)
    wall, cpu = time.perf_counter(), time.process_time()
    learnt: Learnt = learn(asked, book)
    told(f"learning from {SWATCHES}", time.perf_counter() - wall, time.process_time() - cpu)
    more = PressTrial(Dial.MEDIUM, "none", "dry", "wrong", 7.0)
    wall, cpu = time.perf_counter(), time.process_time()
    learnt.after(more, (Finding(Sign.SET_FLAT),))
    told("one more on the same draws", time.perf_counter() - wall, time.process_time() - cpu)
    taken = len(learnt.study.parts)
    print(f"worth {learnt.worth:.0f} of {learnt.study.draws.count} draws, taken {taken} times")
    print(f"load of the machine {getloadavg()[0]:.1f}")


if __name__ == "__main__":
    main()
