"""How long the press window takes, and whether screening finds the same best.

``.venv/bin/python bench/window.py [--all]`` compares screen and refinement with the full run of
all draws for every practice cloth (``--all``) or every fifth.
"""

from __future__ import annotations

import csv
import resource
import statistics
import sys
import time
from pathlib import Path

from samite.press.decide import press_window
from samite.press.window import seam_of, usual_bench
from samite.services.card import Card, make_card, seam_order

PRACTICE = Path(__file__).parents[1] / "tests/practice/practice.csv"


def cards() -> list[Card]:
    with PRACTICE.open(encoding="utf-8") as file:
        names = [row["cloth"] for row in csv.DictReader(file)]
    step = 1 if "--all" in sys.argv else 5
    made = [make_card(name) for name in names[::step]]
    return [card for card in made if card.press.value.passes]


def main() -> None:
    chosen = cards()
    quick_times, full_times, same = [], [], 0
    for index, card in enumerate(chosen):
        recipe = card.press.value
        bench = usual_bench(recipe.support if recipe.support != "none" else "board")
        seam = seam_of(card.cloth, seam_order(card.sewing))
        if index == 0:
            press_window(seam, recipe, bench)
        begin = time.perf_counter()
        quick = press_window(seam, recipe, bench)
        middle = time.perf_counter()
        full = press_window(seam, recipe, bench, full=True)
        quick_times.append(middle - begin)
        full_times.append(time.perf_counter() - middle)
        names = [item.best.technique if item.best else None for item in (quick, full)]
        same += names[0] == names[1]
    quick_s, full_s = statistics.median(quick_times), statistics.median(full_times)
    print(f"all 55 techniques and the recipe {quick_s:6.2f} s (slowest {max(quick_times):.2f})")
    print(f"all 55 with all draws            {full_s:6.2f} s, {full_s / quick_s:.1f} times that")
    print(f"same best technique              {same} of {len(chosen)} cloths")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory                      {peak:6.0f} MB")


if __name__ == "__main__":
    main()
