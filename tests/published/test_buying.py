"""Money and amounts of a buying list, worked by hand."""

from __future__ import annotations

import pytest

from samite.buy.line import BuyLine, bought_amount, spare_count
from samite.buy.paper import roll_length_mm
from samite.buy.quote import add_up, quote
from samite.buy.spools import choose_spools
from samite.buy.stock import clean_sections_mm, laid_on_remnants_mm
from samite.kernel.errors import InputError, OutOfRangeError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Reason

WHY = Reason("worked by hand", evidence=Evidence("derivation", Grade.DERIVED))


def line(buy: float, price: float | None) -> BuyLine:
    return BuyLine("cloth", f"{buy} m", buy, "m", 0.0, buy, price, WHY)


def test_what_is_missing_is_bought_in_steps() -> None:
    # Arithmetic: 2.31 m needed, 0.60 m there, steps of 0.10 m: 1.71 m missing, 1.80 m bought.
    assert bought_amount(needed=2.31, on_hand=0.60, increment=0.10) == 1.8
    assert bought_amount(needed=2.0, on_hand=2.5, increment=0.10) == 0.0
    assert bought_amount(needed=0.3, on_hand=0.0, increment=0.1) == 0.3
    # An eighth of a yard is 114.3 mm (36 in of 25.4 mm over 8): 1 m takes nine of them.
    assert bought_amount(needed=1.0, on_hand=0.0, increment=0.1143) == pytest.approx(1.0287)


def test_spares_are_whole() -> None:
    # Arithmetic: 10 % of 12 is 1.2, so 14; no spares asked, none bought.
    assert spare_count(count=12, spares_percent=10.0) == 14
    assert spare_count(count=12, spares_percent=0.0) == 12


def test_the_sum_has_its_tax_and_what_is_left() -> None:
    # Arithmetic: 2 m at 10 and 1.5 m at 8 are 32; 20 % on top are 6.40; 50 less 38.40 is 11.60.
    spent = add_up([line(2.0, 10.0), line(1.5, 8.0)], tax_percent=20.0, budget=50.0)
    assert (spent.net, spent.tax, spent.gross, spent.left) == (32.0, 6.4, 38.4, 11.6)
    over = add_up([line(2.0, 10.0)], budget=15.0)
    assert over.left == -5.0


def test_what_has_no_price_is_named_not_counted_as_nothing() -> None:
    spent = add_up([line(2.0, 10.0), line(3.0, None), line(0.0, None)])
    assert spent.net == 20.0
    assert spent.unpriced == ("3.0 m",)


def test_a_quotation_is_hours_by_rate_and_materials() -> None:
    # Arithmetic: 600 min at 18 an hour are 180; with 38.40 of materials 218.40; 50 % are 109.20.
    spent = add_up([line(2.0, 10.0), line(1.5, 8.0)], tax_percent=20.0)
    asked = quote(spent, minutes=(600.0, 480.0, 900.0), hourly_rate=18.0, deposit_percent=50.0)
    assert asked.total == pytest.approx(218.4)
    assert asked.work_range == (144.0, 270.0)
    assert asked.hours == (8.0, 15.0)
    assert asked.deposit == pytest.approx(109.2)


def test_the_deposit_covers_the_materials() -> None:
    # Common practice, no source: materials are paid before they are cut.
    spent = add_up([line(10.0, 20.0)])
    asked = quote(spent, minutes=(60.0, 60.0, 60.0), hourly_rate=10.0, deposit_percent=10.0)
    assert asked.deposit == 200.0


@pytest.mark.parametrize(
    ("metres", "cones", "count", "held"),
    [(90.0, 1, 1, 100.0), (150.0, 1, 1, 200.0), (450.0, 1, 1, 500.0), (2600.0, 1, 3, 1000.0)],
)
def test_spools_hold_what_is_needed(metres: float, cones: int, count: int, held: float) -> None:
    # Common practice, no source: spools of 100, 200, 500 m, cones of 1000 and 5000 m.
    spools = choose_spools(thread_m=metres, cones=cones)
    assert (spools.count, spools.thread_m) == (count, held)


def test_an_overlocker_takes_a_spool_for_every_thread() -> None:
    # Common practice, no source: three or four threads run at once, each from its own spool.
    spools = choose_spools(thread_m=300.0, cones=3)
    assert spools.count % 3 == 0
    assert spools.count * spools.thread_m >= 300.0


def test_a_lay_is_cut_apart_where_no_piece_lies() -> None:
    # Worked by hand: pieces from 0 to 40, 30 to 90 and 95 to 150 cm: two sections, cut at 92 cm.
    spans = [(950.0, 1500.0), (0.0, 400.0), (300.0, 900.0)]
    assert clean_sections_mm(spans) == ((0.0, 900.0), (950.0, 1500.0))
    assert clean_sections_mm([(0.0, 10.0), (10.0, 20.0)]) == ((0.0, 10.0), (10.0, 20.0))
    assert clean_sections_mm([]) == ()
    with pytest.raises(InputError):
        clean_sections_mm([(5.0, 1.0)])


def test_remnants_take_whole_sections() -> None:
    # Worked by hand: sections of 90 and 55 cm; remnants of 100 and 60 cm take one each, with 1 cm
    # to a neighbour and 2 cm at each end; one of 80 cm takes the shorter; 50 cm takes none.
    spans = [(0.0, 900.0), (950.0, 1500.0)]
    ends = {"gap_mm": 10.0, "straighten_mm": 20.0}
    assert laid_on_remnants_mm(spans_mm=spans, lengths_mm=[1000.0, 600.0], **ends) == (910.0, 560.0)
    assert laid_on_remnants_mm(spans_mm=spans, lengths_mm=[800.0], **ends) == (560.0,)
    assert laid_on_remnants_mm(spans_mm=spans, lengths_mm=[500.0], **ends) == (0.0,)
    # A matched print is not cut apart: all of it, 150 cm, or nothing.
    assert laid_on_remnants_mm(spans_mm=spans, lengths_mm=[1400.0], whole=True, **ends) == (0.0,)
    assert laid_on_remnants_mm(spans_mm=spans, lengths_mm=[1600.0], whole=True, **ends) == (1510.0,)
    with pytest.raises(OutOfRangeError):
        laid_on_remnants_mm(spans_mm=spans, lengths_mm=[-1.0], **ends)


def test_paper_is_as_long_as_its_rows() -> None:
    # Worked by hand on a roll of 90 cm: 80 by 30 and 40 by 20 do not go side by side, so 50 cm; two
    # of 40 by 20 do, so 20 cm; 120 by 50 lies along the roll, 120 cm; 120 by 100 takes two strips.
    assert roll_length_mm(sizes_mm=[(800.0, 300.0), (200.0, 400.0)], roll_width_mm=900.0) == 500.0
    assert roll_length_mm(sizes_mm=[(400.0, 200.0)] * 2, roll_width_mm=900.0) == 200.0
    assert roll_length_mm(sizes_mm=[(1200.0, 500.0)], roll_width_mm=900.0) == 1200.0
    assert roll_length_mm(sizes_mm=[(1200.0, 1000.0)], roll_width_mm=900.0) == 2400.0
    assert roll_length_mm(sizes_mm=[], roll_width_mm=900.0) == 0.0
    with pytest.raises(OutOfRangeError):
        roll_length_mm(sizes_mm=[(1.0, 1.0)], roll_width_mm=10.0)
