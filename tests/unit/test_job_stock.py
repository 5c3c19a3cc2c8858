"""What is kept is taken once, told beside the line, and left alone where it does not serve."""

from __future__ import annotations

from typing import Any

import pytest

from samite.garment.stock import NeedlePacket, Remnant, ThreadSpool
from samite.project.model import Drawer
from samite.services.job_stock import Stock
from samite.services.job_units import metres_words, sentence_words, tape_words, thread_words

LABEL = "100% cotton lawn, 140 cm, 90 g/m2"


def remnant(length_mm: float, width_mm: float, count: int = 1, label: str = LABEL) -> Remnant:
    corners = ((0.0, 0.0), (length_mm, 0.0), (length_mm, width_mm), (0.0, width_mm))
    return Remnant(label, corners, count)


def lay(*spans: tuple[float, float], along: float = 0.0) -> dict[str, Any]:
    repeat = {"along": along, "across": 0.0}
    problem = {"gap_mm": 0.0, "repeat_mm": repeat}
    return {"width_mm": 1400.0, "problem": problem, "spans_mm": [list(span) for span in spans]}


def test_a_remnant_serves_one_lay_and_is_gone_for_the_next() -> None:
    stock = Stock(Drawer((remnant(1200.0, 1400.0),)), "metric")
    had = stock.cloth(f"  {LABEL.upper()} ", lay((0.0, 900.0), (900.0, 1500.0)), 50.0)
    assert had.amount == pytest.approx(0.9)
    assert had.words == "have 1.20 m in stock: 0.90 m of the lay goes on it"
    assert stock.cloth(LABEL, lay((0.0, 100.0)), 50.0).amount == 0.0


@pytest.mark.parametrize(
    "kept", [remnant(1200.0, 900.0), remnant(500.0, 1400.0), remnant(900.0, 1400.0)]
)
def test_a_remnant_that_no_section_goes_on_is_told_and_not_taken(kept: Remnant) -> None:
    had = Stock(Drawer((kept,)), "metric").cloth(LABEL, lay((0.0, 900.0)), 50.0)
    assert had.amount == 0.0
    assert "no section of the lay goes on it" in had.words


def test_other_cloth_is_no_stock_and_a_print_is_not_cut_apart() -> None:
    other = Stock(Drawer((remnant(2000.0, 1400.0, label="silk"),)), "metric")
    assert other.cloth(LABEL, lay((0.0, 900.0)), 50.0).words == ""
    matched = Stock(Drawer((remnant(1200.0, 1400.0),)), "metric")
    assert matched.cloth(LABEL, lay((0.0, 900.0), (900.0, 1500.0), along=300.0), 0.0).amount == 0.0


def test_thread_is_taken_by_colour_and_only_told_where_that_is_not_known() -> None:
    spool = ThreadSpool("polyester", 27.0, 150.0, "White")
    stock = Stock(Drawer(threads=(spool,)), "metric")
    unknown = stock.thread("polyester", 27.0, "", 40.0)
    assert (unknown.amount, unknown.words) == (0.0, "in stock, if its colour serves: 150 m White")
    assert stock.thread("polyester", 27.0, "white ", 120.0).amount == 120.0
    assert stock.thread("polyester", 27.0, "white", 40.0).amount == pytest.approx(30.0)
    assert stock.thread("polyester", 40.0, "white", 40.0).words == ""
    assert stock.thread("cotton", 27.0, "white", 40.0).words == ""


def test_needles_are_taken_once() -> None:
    stock = Stock(Drawer(needles=(NeedlePacket("sharp", 70, 3),)), "metric")
    first = stock.needles("sharp", 70, 2.0)
    assert (first.amount, first.words) == (2.0, "have 3 in stock")
    assert stock.needles("sharp", 70, 2.0).amount == 1.0
    assert stock.needles("sharp", 80, 2.0).words == ""


def test_lengths_are_told_as_a_shop_is_asked() -> None:
    # An eighth of a yard is 114.3 mm: what is bought is rounded up to it, what is there down.
    assert metres_words(0.9144, "imperial") == "1 yd"
    assert metres_words(1.0, "imperial") == "1 1/8 yd"
    assert metres_words(1.0, "imperial", down=True) == "1 yd"
    assert metres_words(0.05, "imperial") == "1/8 yd"
    assert metres_words(1.299, "metric", down=True) == "1.29 m"
    assert metres_words(1.3, "metric") == "1.30 m"
    assert tape_words(1120.0, "metric") == "112 cm"
    assert tape_words(1143.0, "imperial") == "45 in"
    assert sentence_words("25 mm longer (765 and 790 mm), +- 3.3 cm", "imperial") == (
        "1 in longer (30 1/8 and 31 1/8 in), +- 1 1/4 in"
    )
    assert sentence_words("0.14 mm of cloth; 110 g/m2", "imperial") == "0.14 mm of cloth; 110 g/m2"
    assert sentence_words("25 mm", "metric") == "25 mm"
    assert thread_words(100.0, "imperial") == "109 yd"
