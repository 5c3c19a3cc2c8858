"""How long a card takes: ratios to a bare start of Python, and the peak memory.

Run with the environment's own Python: ``.venv/bin/python bench/card.py``.
"""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys
import time

LABEL = "94% polyester 6% elastane velvet with stuck-on glitter, 150 cm, 290 g/m2"
FACE = "import sys; from samite.cli import main; main(sys.argv[1:])"


def cold(*words: str) -> float:
    """Best of five starts [s]."""
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        subprocess.run([sys.executable, *words], check=True, capture_output=True)
        times.append(time.perf_counter() - begin)
    return min(times)


def warm(*, window: bool) -> float:
    """Middle of 15 answers in one process [s]."""
    from samite.services.card import card_json, make_card

    card_json(make_card(LABEL, window=window))
    times = []
    for _ in range(15):
        begin = time.perf_counter()
        card_json(make_card(LABEL, window=window))
        times.append(time.perf_counter() - begin)
    return statistics.median(times)


def main() -> None:
    cold("-c", FACE, "card", LABEL, "--json")
    bare = cold("-c", "pass")
    print(f"bare Python start                {1000 * bare:7.0f} ms")
    rows = (
        ("samite --help", cold("-c", FACE, "--help")),
        ("samite card LABEL --json, cold", cold("-c", FACE, "card", LABEL, "--json")),
        ("card without window, warm", warm(window=False)),
        ("card with window, warm", warm(window=True)),
    )
    for name, seconds in rows:
        print(f"{name:32} {1000 * seconds:7.0f} ms {seconds / bare:8.2f} of a bare start")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory                      {peak:7.0f} MB")


if __name__ == "__main__":
    main()
