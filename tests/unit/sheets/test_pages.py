"""The page: one sheet, six lines, the number to stop at, and room for the swatch."""

from __future__ import annotations

import re
from datetime import date

import numpy as np
import pytest
from tests.unit.sheets.hand_made import HOSTILE, LONG, a_card, a_pass
from tests.unit.sheets.pages import colours, fonts, grey, letters, sizes_mm, text_of

from samite.kernel.errors import UnknownNameError
from samite.sheets.page import print_cards
from samite.sheets.views import CardSheet, IndexRow, IndexSheet

# ISO 216 A4; ANSI/ASME Y14.1 A size (US letter), both as published.
PAPERS = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}
CASES: dict[str, CardSheet] = {
    "plain": a_card(),
    "two passes": a_card(passes=(a_pass(1.0, 2.0), a_pass(2.0, 4.0))),
    "three passes": a_card(passes=(a_pass(), a_pass(12.0, 30.0), a_pass())),
    "no iron": a_card(passes=()),
    "fourteen cautions": a_card(cautions=14, words="keep it from flames and heaters " * 8),
    "long label": a_card(label=LONG * 50),
    "hostile label": a_card(label=HOSTILE),
    "no drawings": a_card(pictures=False),
}
SIX = ("CUT", "HOLD", "NEEDLE", "STITCH", "SEAM", "PRESS")


@pytest.fixture(scope="module")
def printed() -> dict[str, bytes]:
    return {name: print_cards((card,)) for name, card in CASES.items()}


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", CASES)
def test_a_card_is_one_page_of_its_paper(name: str, paper: str) -> None:
    (size,) = sizes_mm(print_cards((CASES[name],), paper))
    assert size == pytest.approx(PAPERS[paper], abs=0.01)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", CASES)
def test_nothing_leaves_the_margins_or_is_drawn_over_the_foot(name: str, paper: str) -> None:
    pdf = print_cards((CASES[name],), paper)
    width, height = PAPERS[paper]
    for letter in letters(pdf):
        assert 8.5 <= letter.left <= letter.right <= width - 8.5, letter
        assert 8.0 <= letter.bottom <= letter.top <= height - 8.0, letter


@pytest.mark.parametrize("name", CASES)
def test_the_six_lines_stand_in_working_order(name: str, printed: dict[str, bytes]) -> None:
    text = text_of(printed[name])
    places = [text.find(f"{number} {tag}") for number, tag in enumerate(SIX, start=1)]
    assert -1 not in places
    assert places == sorted(places)
    for line in CASES[name].lines:
        assert line.big in text
    assert "NEVER set an iron on the pile: the mark stays" in text


def test_the_number_to_stop_by_is_the_biggest_thing(printed: dict[str, bytes]) -> None:
    for name, number in (("plain", "9"), ("two passes", "24"), ("three passes", "9309")):
        found = letters(printed[name])
        largest = max(letter.size for letter in found)
        big = [letter for letter in found if letter.size > 0.98 * largest]
        assert "".join(letter.sign for letter in big) == number
        rest = max(letter.size for letter in found if letter not in big)
        assert largest > 1.4 * rest
    assert "count 4, stop by 9" in text_of(printed["plain"])
    assert "count 2, stop by 4" in text_of(printed["two passes"])


def test_the_lines_are_read_from_across_the_bench(printed: dict[str, bytes]) -> None:
    # Common practice, no source: tall letters of 1/300 of the distance at least, 5 mm at 1.5 m.
    found = letters(printed["plain"])
    text = "".join(letter.sign for letter in found)
    for words in ("singlelayer", "clips,", "stretch75", "zigzag2.8", "plainseam10"):
        start = text.index(words)
        shown = found[start : start + len(words)]
        tall = max(letter.top for letter in shown) - min(letter.bottom for letter in shown)
        assert tall >= 5.0, words
    assert min(found[text.index(tag)].size for tag in SIX) >= 18.0


def test_there_is_a_frame_to_pin_the_swatch_in(printed: dict[str, bytes]) -> None:
    for name, pdf in printed.items():
        page = grey(pdf, dots_per_mm=4.0) < 128
        half = page[:, page.shape[1] // 2 :]
        tall = [column for column in range(half.shape[1]) if _run(half[:, column]) >= 55 * 4]
        wide = [row for row in range(half.shape[0]) if _run(half[row]) >= 55 * 4]
        wide = [row for row in wide if _run(half[row]) <= 65 * 4]
        assert tall, name
        assert wide, name
        inside = half[wide[0] + 40 : wide[-1] - 4, tall[0] + 4 : tall[-1] - 4]
        assert tall[-1] - tall[0] >= 55 * 4, name
        assert wide[-1] - wide[0] >= 55 * 4, name
        assert inside.mean() < 0.03, name


def _run(line: np.ndarray) -> int:
    """Return the longest run of ink."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(int), [0]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))


def test_it_is_black_on_white(printed: dict[str, bytes]) -> None:
    for name, pdf in printed.items():
        page = grey(pdf)
        assert page.min() <= 5, name
        assert (page > 250).mean() > 0.6, name
        assert ((page < 60) | (page > 200)).mean() > 0.9, name
        assert colours(pdf) <= 12, name


def test_it_is_tagged_and_named(printed: dict[str, bytes]) -> None:
    pdf = printed["plain"]
    assert b"/MarkInfo" in pdf or b"/StructTreeRoot" in pdf
    assert b"pdfuaid" in pdf
    assert b"Bench card: stretch velvet" in pdf


def test_a_hostile_label_is_printed_as_it_stands(printed: dict[str, bytes]) -> None:
    text = text_of(printed["hostile label"])
    assert "<script>alert('&')</script>" in text
    assert "#panic() $x$" in text


def test_a_long_label_ends_in_an_ellipsis(printed: dict[str, bytes]) -> None:
    text = text_of(printed["long label"])
    assert "a cloth of many words" in text
    assert "…" in text


def test_what_has_no_room_is_counted() -> None:
    card = a_card(cautions=60, words="keep it from flames and heaters " * 8)
    text = text_of(print_cards((card,)))
    left = re.search(r"and (\d+) more on the page of this cloth", text)
    assert left
    shown = len(re.findall(r"heat keep it", text))
    assert shown + int(left[1]) == 60 + 3


def test_cautions_in_full_go_before_drawings() -> None:
    words = "keep it from flames and heaters " * 5
    many = text_of(print_cards((a_card(cautions=12, words=words),)))
    assert many.count(words.strip()) == 12


def test_the_same_card_gives_the_same_bytes() -> None:
    assert print_cards((a_card(),)) == print_cards((a_card(),))
    dated = print_cards((a_card(),), dated=date(2031, 2, 3))
    assert "2031-02-03" in text_of(dated)
    assert "20" not in re.sub(r"[^0-9-]", "", text_of(print_cards((a_card(),))))[-6:]


def test_only_the_font_that_is_shipped_is_used(printed: dict[str, bytes]) -> None:
    assert fonts(printed["plain"]) == {"AtkinsonHyperlegible-Regular", "AtkinsonHyperlegible-Bold"}


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(UnknownNameError, match="no paper"):
        print_cards((a_card(),), "foolscap")


def test_the_index_lists_each_card_with_its_page() -> None:
    rows = tuple(
        IndexRow(f"role {n}", f"cloth {n}", "sharp 70/10", "no iron", "9") for n in range(3)
    )
    pdf = print_cards((a_card(),) * 3, index=IndexSheet("Procession", "Three cloths.", rows))
    assert len(sizes_mm(pdf)) == 4
    text = text_of(pdf)
    for number in range(3):
        assert f"{number + 2} role {number} cloth {number} sharp 70/10 no iron 9" in text
    assert "1 CUT" in text_of(pdf, 3)


def test_an_index_of_forty_cards_is_one_page() -> None:
    rows = tuple(IndexRow(f"role {n}", "brocade", "sharp 70/10", "no iron", "9") for n in range(40))
    pdf = print_cards((a_card(),), index=IndexSheet("Many", "Forty cloths.", rows))
    assert len(sizes_mm(pdf)) == 2
