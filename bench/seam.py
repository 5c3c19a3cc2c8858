"""How long joints take: one warm pair, and all 63 x 63 pairs on two cores, without the press window.

Run with the environment's own Python from the checkout: ``.venv/bin/python bench/seam.py``. The
cloths are the 63 of ``tests/practice/practice.csv``.
"""

from __future__ import annotations

import csv
import statistics
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.garment.workroom import usual_workroom
from samite.seam.together import choose_joint

ROWS = Path(__file__).parent.parent / "tests" / "practice" / "practice.csv"
PAIR_ALLOWED_S = 0.030
ALL_ALLOWED_S = 90.0
CORES = 2


def cloths() -> list[Cloth]:
    with ROWS.open(encoding="utf-8") as file:
        return [build_cloth(read_label(row["cloth"])) for row in csv.DictReader(file)]


def row_of_pairs(index: int) -> tuple[int, float]:
    """Join one cloth to all: how many ways were found, and the processor's time [s]."""
    found = cloths()
    room, use = usual_workroom(), Use()
    begin = time.process_time()
    ways = sum(len(choose_joint((found[index], other), use, room).ways) for other in found)
    return ways, time.process_time() - begin


def warm_pairs() -> list[float]:
    """Processor's time of single pairs, warm [s]."""
    found = cloths()
    room, use = usual_workroom(), Use()
    times = []
    for place, one in enumerate(found):
        other = found[(place + 17) % len(found)]
        begin = time.process_time()
        choose_joint((one, other), use, room)
        times.append(time.process_time() - begin)
    return times[5:]


def main() -> None:
    times = warm_pairs()
    middle, high = statistics.median(times), statistics.quantiles(times, n=20)[-1]
    print(f"a pair, warm: median {1000 * middle:.1f} ms, 95th percentile {1000 * high:.1f} ms")
    print(f"  of {1000 * PAIR_ALLOWED_S:.0f} ms allowed: {middle / PAIR_ALLOWED_S:.2f}")
    count = len(cloths())
    begin = time.perf_counter()
    with ProcessPoolExecutor(max_workers=CORES) as pool:
        rows = list(pool.map(row_of_pairs, range(count)))
    whole, ways = time.perf_counter() - begin, sum(found for found, _ in rows)
    busy = sum(seconds for _, seconds in rows)
    print(f"all {count} x {count} pairs on {CORES} cores: {whole:.1f} s by the clock ({ways} ways)")
    print(f"  of {ALL_ALLOWED_S:.0f} s allowed: {whole / ALL_ALLOWED_S:.2f}")
    print(
        f"  the processor worked {busy:.1f} s, {busy / CORES:.1f} s a core with nothing else on it"
    )


if __name__ == "__main__":
    main()
