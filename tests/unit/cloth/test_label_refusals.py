"""What the label reader refuses, and how it says so."""

from __future__ import annotations

import pytest

from samite.cloth.label import LABEL_LIMIT, read_label
from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError


@pytest.mark.parametrize(
    ("label", "total"),
    [
        ("94% polyester 8% elastane", "102"),
        ("90% polyester", "90"),
        ("50% silk 44% cotton", "94"),
        ("100% polyester 100% nylon", "200"),
        ("80/30 nylon spandex", "110"),
        ("80 nylon 30 spandex", "110"),
        ("pile: 100% viscose; ground: 60% silk", "60"),
    ],
)
def test_shares_that_do_not_add_up_name_both_sides(label: str, total: str) -> None:
    with pytest.raises(InputError) as caught:
        read_label(label)
    assert f"{total} %" in caught.value.message
    assert "100 %" in caught.value.message
    assert caught.value.exit_code == 2


@pytest.mark.parametrize(
    ("label", "passes"), [("94.9", False), ("95", True), ("101", True), ("101.1", False)]
)
def test_the_limits_of_a_sum(label: str, passes: bool) -> None:
    text = f"50% silk {float(label) - 50:.4g}% cotton"
    if passes:
        assert read_label(text).components
    else:
        with pytest.raises(InputError, match="add to"):
            read_label(text)


@pytest.mark.parametrize(
    ("label", "word", "close"),
    [
        ("94% polyestr 6% elastane", "polyestr", "polyester"),
        ("polyestr 94%, elastane 6%", "polyestr", "polyester"),
        ("60% wibble 40% cotton", "wibble", ""),
        ("100% spandx", "spandx", "spandex"),
        ("vizcose 100 %", "vizcose", "viscose"),
    ],
)
def test_an_unknown_word_beside_a_percentage_is_refused(label: str, word: str, close: str) -> None:
    with pytest.raises(UnknownNameError) as caught:
        read_label(label)
    assert word in caught.value.message
    assert close in caught.value.hint
    assert word in caught.value.where


@pytest.mark.parametrize(
    "label",
    [
        "0% polyester 100% cotton",
        "150% polyester",
        "-5% elastane 105% cotton",
        "95% cotton -5% elastane",
    ],
)
def test_impossible_shares_are_refused(label: str) -> None:
    with pytest.raises(OutOfRangeError):
        read_label(label)


def test_a_percentage_of_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="of what"):
        read_label("94%")


def test_a_percentage_of_a_cloth_names_no_fibre() -> None:
    reading = read_label("100% velvet")
    assert reading.structure == "velvet"
    assert reading.components == ()
    assert any("names no fibre" in note for note in reading.notes)


def test_a_ratio_without_enough_fibres_is_refused() -> None:
    with pytest.raises(InputError, match="2 shares"):
        read_label("50/50 wool")


@pytest.mark.parametrize("label", ["", "   ", "\n\t", "--- ... ---"])
def test_an_empty_label_is_refused(label: str) -> None:
    with pytest.raises(InputError, match="empty"):
        read_label(label)


@pytest.mark.parametrize("size", [LABEL_LIMIT + 1, 1_000_000])
def test_a_long_text_is_refused_with_its_length(size: int) -> None:
    with pytest.raises(InputError) as caught:
        read_label("x" * size)
    assert str(size) in caught.value.message
    assert str(LABEL_LIMIT) in caught.value.message


def test_a_text_of_the_greatest_length_is_read() -> None:
    filler = "velvet " * 400
    assert read_label(filler[:LABEL_LIMIT]).structure == "velvet"


@pytest.mark.parametrize("letter", ["\x00", "\x07", "\x1b", "\x7f", "\x85", "\ud800"])
def test_control_characters_are_refused_with_their_place(letter: str) -> None:
    with pytest.raises(InputError) as caught:
        read_label(f"100% cotton{letter}")
    assert f"U+{ord(letter):04X}" in caught.value.message
    assert caught.value.where == "label, character 12"


def test_line_breaks_and_tabs_are_no_control_characters() -> None:
    assert read_label("100% cotton\r\n\tlawn").structure == "lawn"


def test_bullets_are_no_minus_signs() -> None:
    reading = read_label("-95% cotton\n-5% elastane\n-150 cm")
    assert reading.components[0].fibres[0].percent == 95.0


def test_the_place_counts_letters_of_the_text_as_typed() -> None:
    with pytest.raises(UnknownNameError) as caught:
        read_label("Crêpe ½ Straße: 94 % polyestr")
    assert caught.value.where == "label, character 17: '94 % polyestr'"
