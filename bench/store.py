"""A journal of 50,000 swatches gives a cloth's page its data in under 50 ms.

Run ``python bench/store.py``. Two journals are made in a temporary folder: one with 1,000 cloths
of 50 swatches, one with all 50,000 of one cloth, the worst case. Each is opened anew for every
reading, as the page does.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from statistics import median, quantiles

from samite.garment.stock import KeptCloth
from samite.press.dials import Dial
from samite.services.journal import Entry, record_swatch
from samite.services.journal_views import PAGE, list_cloths, list_swatches
from samite.store.kinds import CLOTH, SWATCH
from samite.store.store import Store
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial, Swatch

ALLOWED_S = 0.05
SWATCHES = 50_000
COUNT = 60
DAY = date(2031, 2, 3)
PRESS = PressTrial(Dial.MEDIUM, "light", "dry", "wrong", 6.0, hold_tool="clapper", hold_seconds=8.0)
SEEN = (Finding(Sign.SET_FLAT),)


def fill(place: Path, cloths: int) -> None:
    with Store(place) as store, store.act("many", DAY) as changes:
        keys = [
            changes.add(CLOTH, KeptCloth(f"wool number {number}")).key for number in range(cloths)
        ]
        for number in range(SWATCHES):
            made_on = DAY - timedelta(days=number % 1000)
            swatch = Swatch(keys[number % cloths], made_on, SEEN, PRESS, note=f"number {number}")
            changes.add(SWATCH, swatch)


def spans(read: Callable[[int], object]) -> list[float]:
    """Return the times of readings, after some to warm up [s]."""
    found = []
    for number in range(COUNT + 3):
        began = time.perf_counter()
        read(number)
        found.append(time.perf_counter() - began)
    return found[3:]


def told(name: str, found: list[float], allowed_s: float | None = ALLOWED_S) -> None:
    late = quantiles(found, n=20)[-1]
    verdict = ""
    if allowed_s:
        holds = "holds" if late < allowed_s else "DOES NOT HOLD"
        verdict = f": under {1000 * allowed_s:.0f} ms {holds}"
    print(
        f"{name:<34} {1000 * median(found):6.1f} ms; 19 of 20 under {1000 * late:.1f} ms{verdict}"
    )


def measure(place: Path, cloths: int) -> None:
    began = time.perf_counter()
    fill(place, cloths)
    print(f"{SWATCHES} swatches, {cloths} cloths: made in {time.perf_counter() - began:.0f} s")
    label, last = "wool number 0", SWATCHES // cloths - PAGE
    entry = Entry(label, DAY, SEEN, PRESS)
    page = spans(lambda number: list_swatches(place, f"wool number {number % cloths}"))
    told("  a cloth's page", page)
    told("  its oldest page", spans(lambda _: list_swatches(place, label, skip=last)))
    told("  list of all cloths", spans(lambda _: list_cloths(place)), None)
    told("  one more kept, on the disk", spans(lambda _: record_swatch(place, entry, DAY)), None)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        for cloths in (1000, 1):
            measure(Path(folder) / f"{cloths}.sqlite", cloths)


if __name__ == "__main__":
    main()
