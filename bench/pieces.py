"""How long pieces take in processor time: one piece, a costume of twenty, its tiled pages, the answer at the counter.

Run ``python bench/pieces.py``. Prints one line a claim.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from statistics import median

from samite.pieces.shapes.registry import shapes
from samite.services.costume import costume_pdf, costume_svg, make_costume
from samite.services.metres import metres
from samite.services.piece import make_piece
from samite.services.piece_ask import PieceAnswer, PieceAsk
from samite.services.piece_paper import pieces_dxf, pieces_pdf, pieces_svg

COSTUME = (
    "tunic",
    "trousers",
    "hooded-cloak",
    "poet-sleeve",
    "tiered-skirt",
    "gored-skirt",
    "waistband",
    "standing-collar",
    "cuff",
)
MEASURES = {
    "stature": "168 cm",
    "bust_girth": "92 cm",
    "waist_girth": "74 cm",
    "hip_girth": "98 cm",
}


def seconds(work: Callable[[], object], repeats: int = 9) -> float:
    """Return the middle processor time of several runs after one to warm up [s]."""
    work()
    spans = []
    for _ in range(repeats):
        begin = time.process_time()
        work()
        spans.append(time.process_time() - begin)
    return median(spans)


def ask(shape: str, waist: float = 74.0) -> PieceAsk:
    return PieceAsk(shape, {**MEASURES, "waist_girth": f"{waist} cm"}, group="women")


def costume(waist: float) -> list[PieceAnswer]:
    return [make_piece(ask(shape, waist)) for shape in COSTUME]


def main() -> None:
    fresh = count(700)
    times = {}
    for name in shapes():
        made = make_piece(ask(name))
        span = seconds(lambda name=name: make_piece(ask(name, next(fresh) / 10.0)), 5)
        times[name] = span / len(made.pieces)
    worst = max(times, key=lambda name: times[name])
    print(
        f"a piece: {median(times.values()) * 1000:.1f} ms, worst {times[worst] * 1000:.1f} ms ({worst})"
    )
    pieces = sum(len(answer.pieces) for answer in costume(74.0))
    whole = seconds(lambda: costume(next(fresh) / 10.0), 5)
    print(f"a costume of {pieces} pieces with allowances: {whole:.2f} s")
    answers = costume(74.0)
    together = replace(answers[0], pieces=tuple(p for answer in answers for p in answer.pieces))
    pages = pieces_pdf(together).count(b"/Type /Page ")
    print(f"its PDF, {pages} pages of A4: {seconds(lambda: pieces_pdf(together), 3):.2f} s")
    print(
        f"its SVG {seconds(lambda: pieces_svg(together), 3) * 1000:.0f} ms,"
        f" DXF {seconds(lambda: pieces_dxf(together), 3) * 1000:.0f} ms"
    )
    sheet = make_costume(ask(COSTUME[0]), COSTUME[1:])
    print(
        f"on one sheet: SVG {seconds(lambda: costume_svg(sheet), 3) * 1000:.0f} ms,"
        f" PDF {seconds(lambda: costume_pdf(sheet), 3) * 1000:.0f} ms"
    )
    said = ("right shoulder down 8 mm, hem up 20 mm at the left",)
    fitted = seconds(
        lambda: make_piece(replace(ask("tunic", next(fresh) / 10.0), alterations=said)), 5
    )
    print(f"a fitting that flows through a tunic, with its lay: {fitted:.2f} s")
    counter = seconds(lambda: metres("hooded cloak, tall adult, 140 cm velvet"), 3)
    print(f"the shop counter, warm: {counter:.2f} s")


if __name__ == "__main__":
    main()
