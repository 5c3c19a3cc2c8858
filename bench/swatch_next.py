"""A suggestion of what to test next under 3 s with 200 swatches of one cloth, on two cores.

Run ``python bench/swatch_next.py``. 200 swatches of a satin are kept in a temporary store: every dial and
seconds that its card allows, seen as a satin would show it. The suggestion is the whole answer of
``samite swatch next``: card, learning, choice, trials, slip. Clock and processor are told apart; what
holds is told by the clock, of the first answer after set-up has compiled and of the middle one. On a machine that
others use it may say that it does not: the load stands beside it.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from statistics import median
from typing import Any

from samite.press.dials import Dial
from samite.services.journal import Entry, record_swatch
from samite.services.learnt import learnt_view
from samite.services.next_test import next_view
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial
from samite.swatch.warm_up import warm_up

ALLOWED_S = 3.0
SWATCHES = 200
LABEL = "polyester satin, 150 cm, 150 g/m2"
DAY = date(2031, 2, 3)
COUNT = 3


def fill(place: Path) -> None:
    """Keep 200 swatches: cool and short ones lie unset, hot and long ones are flat."""
    for number in range(SWATCHES):
        dial = (Dial.LOW, Dial.MEDIUM)[number % 2]
        seconds = 1.0 + number % 13
        flat = dial is Dial.MEDIUM and seconds >= 4.0
        trial = PressTrial(dial, "none", "dry", "wrong", seconds)
        sign = Sign.SET_FLAT if flat else Sign.NOTHING
        made_on = DAY - timedelta(days=number)
        record_swatch(place, Entry(LABEL, made_on, (Finding(sign),), press=trial), DAY)


def timed(what: str, run: Callable[[], Any]) -> float:
    walls, works = [], []
    for _ in range(COUNT):
        wall, work = time.perf_counter(), time.process_time()
        run()
        walls.append(time.perf_counter() - wall)
        works.append(time.process_time() - work)
    load = os.getloadavg()[0]
    print(
        f"{what}: {median(walls):.2f} s (worst {max(walls):.2f}, first {walls[0]:.2f}), processor "
        f"{median(works):.2f} s, load {load:.1f}"
    )
    return max(median(walls), walls[0])


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "store.sqlite"
        fill(place)
        warm_up()
        took = timed(f"next, {SWATCHES} swatches", lambda: next_view(place, LABEL))
        timed("learnt, before and after", lambda: learnt_view(place, LABEL))
        verdict = "holds" if took < ALLOWED_S else "DOES NOT HOLD"
        print(f"under {ALLOWED_S:g} s by the clock, the first included: {verdict}")


if __name__ == "__main__":
    main()
