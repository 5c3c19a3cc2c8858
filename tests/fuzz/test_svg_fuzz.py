"""Any drawing and any words are answered or refused in the one way, never with a defect."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import given
from hypothesis import strategies as st

from samite.kernel.errors import SamiteError
from samite.pieces.fitting_words import read_alterations
from samite.readers.svg_pieces import read_pieces
from samite.services.metres import read_counter
from samite.services.piece import PieceAsk, make_piece

NUMBER = st.one_of(
    st.integers(-999, 999).map(str),
    st.floats(-1e4, 1e4).map(lambda x: f"{x:.3g}"),
    st.sampled_from(["0", "1e9", "-1e300", "1e999", ".", "nan", "1e-300", "50", "100"]),
)
DATA = st.lists(
    st.one_of(st.sampled_from(list("MmLlHhVvCcSsQqTtAaZz, ")), NUMBER.map(lambda n: f" {n} ")),
    max_size=40,
).map("".join)
TRANSFORM = st.tuples(
    st.sampled_from(["matrix", "translate", "scale", "rotate", "skewX", "skewY", "turn"]),
    st.lists(NUMBER, max_size=7).map(" ".join),
).map(lambda pair: f"{pair[0]}({pair[1]})")
NAME = st.sampled_from(["", "cut", "stitch", "grain", "notch", "fold", "test-square", "moon"])
PATH = st.tuples(DATA, TRANSFORM, NAME).map(
    lambda t: f'<path d="{t[0]}" transform="{t[1]}" class="{t[2]}"/>'
)
RECT = st.tuples(NUMBER, NUMBER, NUMBER, NAME).map(
    lambda t: f'<rect x="{t[0]}" width="{t[1]}" height="{t[2]}" id="{t[3]}"/>'
)
HEAD = st.tuples(
    NUMBER, st.sampled_from(["mm", "cm", "in", "px", "", "pt"]), st.lists(NUMBER, max_size=5)
).map(lambda t: f'width="{t[0]}{t[1]}" viewBox="{" ".join(t[2])}"')


def refusal(work: Callable[[], object]) -> SamiteError | None:
    """Return how it was refused; None if it was answered. Anything else is a defect."""
    try:
        work()
    except SamiteError as error:
        return error
    return None


def told(error: SamiteError | None) -> bool:
    return error is None or bool(error.message and error.hint)


@given(
    head=HEAD, inside=st.lists(st.one_of(PATH, RECT), max_size=6), unit=st.sampled_from([0.0, 1.0])
)
def test_any_drawing_is_read_or_refused(head: str, inside: list[str], unit: float) -> None:
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{"".join(inside)}</svg>'
    assert told(refusal(lambda: read_pieces(text.encode(), unit)))


@given(data=st.binary(max_size=200))
def test_any_bytes_are_refused(data: bytes) -> None:
    assert told(refusal(lambda: read_pieces(b"<svg>" + data)))


@given(text=st.text(max_size=60))
def test_any_note_of_a_fitting_is_read_or_refused(text: str) -> None:
    for said in (text, f"hem {text} up 2 cm", f"{text} mm out at the waist"):
        assert told(refusal(lambda said=said: read_alterations(said)))


@given(text=st.text(max_size=60))
def test_any_words_at_the_counter_are_read_or_refused(text: str) -> None:
    assert told(refusal(lambda: read_counter(f"tunic {text}")))


@given(
    value=st.one_of(NUMBER, st.text(max_size=12)),
    name=st.sampled_from(["waist", "fraction", "panels"]),
)
def test_any_setting_is_taken_or_refused(value: str, name: str) -> None:
    ask = PieceAsk("circle-skirt", {"waist_girth": "70"}, {name: value})
    assert told(refusal(lambda: make_piece(ask)))
