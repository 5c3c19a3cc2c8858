"""Units: exact definitions and the reading of quantities as people write them."""

from __future__ import annotations

import pytest

from samite.kernel.errors import InputError, OutOfRangeError
from samite.kernel.unit_table import DIMENSIONS
from samite.kernel.units import (
    convert,
    dimension_of,
    parse_quantity,
    running_mass_to_area,
    units_of,
)

# Expected numbers follow from the exact definitions: 1 in = 25.4 mm, 1 lb = 453.59237 g,
# 840 yd hanks a pound (Ne), 1000 m/kg (Nm), ticket = 3 Nm, 1 momme = 1 lb per 100 yd of 45 in.
WRITTEN = [
    ("2.5 mm", "mm", 2.5),
    ("2.5mm", "mm", 2.5),
    ("2 1/2 yd", "cm", 228.6),
    ("2-1/2 yards", "cm", 228.6),
    ("2½ yd", "cm", 228.6),
    ("½ in", "mm", 12.7),
    ('3/8"', "mm", 9.525),
    ('60"', "cm", 152.4),
    ("60″", "cm", 152.4),
    ("60 inches", "cm", 152.4),
    ("5 ft 10 in", "cm", 177.8),
    ("5'10\"", "cm", 177.8),
    ("1 h 30 min", "min", 90.0),
    ("0,65 mm", "mm", 0.65),
    ("0.65", "mm", 0.65),
    (".5 in", "mm", 12.7),
    ("1e-3 m", "mm", 1.0),
    ("8 oz/yd2", "g/m2", 271.24598),
    ("8 oz/yd²", "g/m2", 271.24598),
    ("8 oz", "g/m2", 271.24598),
    ("8 oz per sq. yd", "g/m2", 271.24598),
    ("260 gsm", "g/m2", 260.0),
    ("260 g/m²", "g/m2", 260.0),
    ("1 momme", "g/m2", 4.339936),
    ("19 mm", "momme", 19.0),
    ("400 g/m", "g/m", 400.0),
    ("400 g per running metre", "g/m", 400.0),
    ("Tex 27", "tex", 27.0),
    ("27 tex", "tex", 27.0),
    ("Nm 120/3", "tex", 25.0),
    ("120/3 Nm", "Nm", 40.0),
    ("Ne 40/2", "tex", 29.52706),
    ("tkt 120", "tex", 25.0),
    ("No. 120", "tex", 25.0),
    ("40 wt", "tex", 25.0),
    ("150 den", "dtex", 166.66667),
    ("20 C", "K", 293.15),
    ("20 °C", "F", 68.0),
    ("390 F", "C", 198.88889),
    ("-40 F", "C", -40.0),
    ("−40 °F", "C", -40.0),
    ("90 F", "delta K", 50.0),
    ("50 C", "delta K", 50.0),
    ("50 gf/cm2", "kPa", 4.903325),
    ("1 psi", "Pa", 6894.757293),
    ("2.6 lbf", "N", 11.565376),
    ("46.8 lbf/in", "N/cm", 81.95934),
    ("1 g/den", "cN/tex", 8.825985),
    ("4.62e-4 cal/(s cm K)", "W/mK", 0.1933008),
    ("0.05 W/(m·K)", "W/mK", 0.05),
    ("1.3 J/(g K)", "J/kgK", 1300.0),
    ("400 TMU", "min", 0.24),
    ("65 %", "1", 0.65),
    ("80/12", "needle Nm", 80.0),
    ("Nm 90", "needle Nm", 90.0),
    ("0.9 mm", "needle Nm", 90.0),
    ("12 stitches per inch", "1/cm", 4.7244094),
]

REFUSED = [
    ("", "mm"),
    ("wide", "mm"),
    ("nan", "mm"),
    ("inf mm", "mm"),
    ("1.5.2 mm", "mm"),
    ("1/0 in", "mm"),
    ("5 ft -2 in", "mm"),
    ("8-10 oz", "g/m2"),
    ("5 furlongs", "mm"),
    ("5 C", "mm"),
    ("12 spi", "mm"),
    ("400 g/m", "g/m2"),
    ("1,000 m", "m"),
    ("1.234,5 m", "m"),
    ("150/2 den", "tex"),
    ("60 in wide", "cm"),
]


@pytest.mark.parametrize(("text", "unit", "expected"), WRITTEN)
def test_a_quantity_is_read_as_people_write_it(text: str, unit: str, expected: float) -> None:
    assert parse_quantity(text, unit) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(("text", "unit"), REFUSED)
def test_what_is_no_quantity_is_refused_with_the_units_accepted(text: str, unit: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_quantity(text, unit)
    assert caught.value.hint
    assert all(symbol in caught.value.hint for symbol in units_of(dimension_of(unit)))


def test_a_mass_per_running_metre_asked_as_mass_per_area_is_told_to_need_the_width() -> None:
    with pytest.raises(InputError, match="g/m") as caught:
        parse_quantity("400 g/m", "g/m2")
    assert "width" in caught.value.hint


def test_a_stitch_length_may_be_given_as_stitches_per_inch_where_allowed() -> None:
    assert parse_quantity("12 spi", "mm", stitches=True) == pytest.approx(25.4 / 12)
    assert parse_quantity("2.5 mm", "1/in", stitches=True) == pytest.approx(10.16)


@pytest.mark.parametrize(
    ("value", "start", "end"),
    [(0.0, "Nm", "tex"), (-1.0, "Ne", "tex"), (0.0, "tex", "tkt"), (0.0, "mm", "1/in")],
)
def test_a_count_or_density_that_is_not_positive_cannot_be_inverted(
    value: float, start: str, end: str
) -> None:
    with pytest.raises(OutOfRangeError):
        convert(value, start, end)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_number_that_is_not_finite_is_refused(value: float) -> None:
    with pytest.raises(OutOfRangeError):
        convert(value, "mm", "in")


def test_an_unknown_unit_is_refused_with_close_names() -> None:
    with pytest.raises(InputError) as caught:
        convert(1.0, "momms_", "g/m2")
    assert "momme" in caught.value.hint


def test_a_spelling_with_several_meanings_is_refused_where_no_dimension_decides() -> None:
    with pytest.raises(InputError, match="several meanings"):
        convert(1.0, "degc", "K")


def test_two_dimensions_are_not_converted_into_each_other() -> None:
    with pytest.raises(InputError, match="length"):
        convert(1.0, "mm", "tex")


def test_a_mass_per_running_metre_is_divided_by_the_width() -> None:
    assert running_mass_to_area(running_mass_g_per_m=400.0, width_cm=160.0) == pytest.approx(250.0)
    with pytest.raises(OutOfRangeError):
        running_mass_to_area(running_mass_g_per_m=400.0, width_cm=0.0)


def test_every_symbol_is_unique_and_every_spelling_unique_in_its_dimension() -> None:
    symbols = [unit.symbol for units in DIMENSIONS.values() for unit in units]
    assert len(symbols) == len(set(symbols))
    for units in DIMENSIONS.values():
        spellings = [word for unit in units for word in unit.aliases.split("|") if word]
        spellings += [unit.symbol.casefold() for unit in units]
        assert len(spellings) == len(set(spellings))


def test_an_unknown_dimension_is_refused() -> None:
    with pytest.raises(InputError):
        units_of("colour")
