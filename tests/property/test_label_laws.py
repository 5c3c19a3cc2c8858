"""Laws that the reading of any label obeys."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.cloth.label import read_label
from samite.cloth.reading import LabelReading
from samite.kernel.errors import InputError

FIBRES = (
    "polyester", "cotton", "silk", "wool", "viscose", "nylon", "elastane", "acrylic", "modal",
)  # fmt: skip
CLAUSES = (
    "94% polyester 6% elastane", "stretch velvet", "150 cm", "260 g/m2", "14.90/m", "cool iron",
    "glued foil print", "with nap", "does not fray", "stretch 50%",
)  # fmt: skip


def said(reading: LabelReading) -> dict[str, object]:
    """Return a reading without its text and notes, parts in a fixed order."""
    return {
        "parts": sorted((one.part.value, one.fibres, one.stated) for one in reading.components),
        "structure": reading.structure,
        "construction": reading.construction,
        "mass": reading.mass_per_area_gsm,
        "width": reading.width_cm,
        "stretch": reading.stretch_cross_percent,
        "stretches": reading.stretches,
        "ravels": reading.ravels,
        "one_way": reading.one_way,
        "price": reading.price,
        "dots": reading.care_dots,
        "surfaces": reading.surfaces,
    }


@st.composite
def compositions(draw: st.DrawFn) -> list[tuple[float, str]]:
    names = draw(st.lists(st.sampled_from(FIBRES), min_size=1, max_size=4, unique=True))
    cuts = draw(
        st.lists(st.integers(1, 99), min_size=len(names) - 1, max_size=len(names) - 1, unique=True)
    )
    ends = [0, *sorted(cuts), 100]
    return [(float(b - a), name) for a, b, name in zip(ends, ends[1:], names, strict=False)]


@given(st.permutations(CLAUSES))
def test_the_order_of_the_clauses_does_not_matter(clauses: list[str]) -> None:
    assert said(read_label(", ".join(clauses))) == said(read_label(", ".join(CLAUSES)))


@given(compositions())
def test_every_style_of_composition_says_the_same(shares: list[tuple[float, str]]) -> None:
    before = " ".join(f"{share:g}% {name}" for share, name in shares)
    after = ", ".join(f"{name} {share:g} %" for share, name in shares)
    colons = "; ".join(f"{name.upper()}: {share:g}%" for share, name in shares)
    comma = " / ".join(f"{share:.1f} %".replace(".", ",") + f" {name}" for share, name in shares)
    readings = [read_label(text) for text in (before, after, colons, comma)]
    if len(shares) > 1:
        ratio = "/".join(f"{share:g}" for share, _ in shares)
        readings.append(read_label(f"{ratio} {'/'.join(name for _, name in shares)}"))
    assert all(reading.components == readings[0].components for reading in readings)
    assert sum(one.percent for one in readings[0].components[0].fibres) == pytest.approx(100.0)


@given(compositions())
def test_shares_stand_in_falling_order(shares: list[tuple[float, str]]) -> None:
    text = " ".join(f"{share:g}% {name}" for share, name in shares)
    percents = [one.percent for one in read_label(text).components[0].fibres]
    assert percents == sorted(percents, reverse=True)


@given(st.floats(1.0, 200.0).map(lambda total: round(total, 1)))
def test_a_sum_is_read_from_95_to_101_and_refused_elsewhere(total: float) -> None:
    half = min(100.0, round(total / 2, 1))
    rest = round(total - half, 1)
    if not 0.0 < rest <= 100.0 or half <= 0.0:
        return
    text = f"{half:g}% silk {rest:g}% cotton"
    if 95.0 <= half + rest <= 101.0:
        reading = read_label(text)
        named = sum(one.percent for one in reading.components[0].fibres)
        assert named + reading.other_fibres_percent == pytest.approx(100.0)
    else:
        with pytest.raises(InputError):
            read_label(text)


@given(st.integers(4, 4990))
def test_a_mass_is_read_as_it_is_printed(gsm: int) -> None:
    mass = read_label(f"velvet {gsm} g/m2").mass_per_area_gsm
    assert mass is not None
    assert mass.value == gsm
