"""Pages and drawings against the model behind them: ratios of time, and sizes.

Run ``python bench/paper.py``. Prints one line a claim.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from statistics import median

from samite.services.card import Card, make_card
from samite.services.paper import cards_pdf, press_svg
from samite.services.paper_press import card_views
from samite.services.paper_words import card_sheet
from samite.services.press import press_window_view
from samite.sheets.layers_picture import draw_layers
from samite.sheets.page import print_cards
from samite.sheets.views import CardSheet

LABEL = "93% polyester 7% elastane velvet knit, glued glitter, 150 cm, 280 g/m2"


def seconds(work: Callable[[], object], repeats: int = 7) -> float:
    """Return the middle time of several runs after one to warm up [s]."""
    work()
    spans = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        spans.append(time.perf_counter() - begin)
    return median(spans)


def numbered(card: Card) -> Callable[[], object]:
    """Return the setting of a page that is never the same, so that nothing is remembered."""
    sheet, made = card_sheet(card), iter(range(1000))

    def work() -> object:
        return print_cards((replace(sheet, label=f"{sheet.label} {next(made)}"),))

    return work


def _renamed(sheets: Sequence[CardSheet], number: int) -> list[CardSheet]:
    return [replace(sheet, label=f"{sheet.role} {number}") for sheet in sheets]


def main() -> None:
    card = make_card(LABEL, window=True)
    view = press_window_view(LABEL)
    (_, stack) = card_views(card) or sys.exit("nothing is pressed")
    model = seconds(lambda: make_card(LABEL, window=True), 3)
    page = seconds(numbered(card))
    sheets = [card_sheet(card, role=f"role {number}") for number in range(8)]
    made = iter(range(1000))
    book = seconds(lambda: cards_pdf("bench", "cards", _renamed(sheets, next(made))), 3)
    print(
        f"a page, warm, new each time: {page * 1000:.0f} ms, {page / model:.2f} of its window's time"
    )
    print(f"index and eight cards, warm: {book * 1000:.0f} ms, {book / page:.1f} pages' time")
    curve, layers = seconds(lambda: press_svg(view)), seconds(lambda: draw_layers(stack))
    print(f"curve {curve * 1000:.1f} ms, layers {layers * 1000:.1f} ms")
    pdf = print_cards((card_sheet(card),))
    print(f"a page takes {len(pdf) / 1000:.0f} kB")


if __name__ == "__main__":
    main()
