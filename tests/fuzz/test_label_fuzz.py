"""No text whatever makes the label reader fail otherwise than by a refusal."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from samite.cloth.label import read_label
from samite.cloth.reading import LabelReading
from samite.kernel.errors import SamiteError
from samite.kernel.keys import canonical_json

_TEXT = """polyester elastane spandex silk satin velvet 94% 6% 94/6 65/35 poly cotton cm mm m in oz gsm
    g/m2 momme pile back base flock glitter sequins stretch % with on 150 60" 58/60 iron dot do
    not cool wash repeat x per /m EUR € other fibres exclusive of decoration except warp weft
    lining: shell: pile: , ; ( ) - 20% off cross lengthwise 4-way one-way nap foil print
    metallic gold 100% 1/2 0 -5 1e9 999999 1/0 non-stretch frays does sheer knit woven ½ ² ㎡ ٪ ٣
    ß İ ﬁ"""
WORDS = tuple(_TEXT.split())


def read(text: str) -> LabelReading | SamiteError:
    try:
        return read_label(text)
    except SamiteError as error:
        return error


def check(text: str) -> None:
    first, second = read(text), read(text)
    if isinstance(first, SamiteError):
        assert isinstance(second, SamiteError)
        assert first.as_dict() == second.as_dict()
        assert first.message
        assert first.where
        assert first.hint
        return
    assert first == second
    assert canonical_json(first)
    for component in first.components:
        assert sum(one.percent for one in component.fibres) <= 100.001
        assert all(one.percent > 0.0 for one in component.fibres)


@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    check(text)


@given(st.text(alphabet=st.characters(codec="ascii", exclude_categories=["Cc"]), max_size=120))
def test_any_ascii(text: str) -> None:
    check(text)


@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=14), st.sampled_from([" ", "", ", "]))
def test_any_row_of_words_of_labels(words: list[str], gap: str) -> None:
    check(gap.join(words))


@given(st.sampled_from(WORDS), st.sampled_from(["", " ", ",", "/", ": "]))
def test_one_word_over_and_over(word: str, gap: str) -> None:
    check(((word + gap) * 2000)[:2000])


@given(st.binary(max_size=60))
def test_any_bytes_as_text(raw: bytes) -> None:
    check(raw.decode("utf-8", errors="surrogateescape"))
