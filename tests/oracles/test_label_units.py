"""Measures of labels against a general-purpose library of units."""

from __future__ import annotations

import pint
import pytest

from samite.cloth.label import read_label

UNITS = pint.UnitRegistry()


@pytest.mark.parametrize("ounces", ["4", "7.7", "8", "8 1/2", "12", "21"])
@pytest.mark.parametrize(
    "unit", ["oz/yd2", "oz/yd²", "oz/sq yd", "oz per square yard", "osy", "oz"]
)
def test_ounces_per_square_yard(ounces: str, unit: str) -> None:
    number = 8.5 if ounces == "8 1/2" else float(ounces)
    wanted = (number * UNITS.ounce / UNITS.yard**2).to("g/m**2").magnitude
    mass = read_label(f"denim {ounces} {unit}").mass_per_area_gsm
    assert mass is not None
    assert mass.value == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize("momme", [4, 8, 12, 16, 19, 22.5, 40])
@pytest.mark.parametrize("unit", ["momme", "mm", "m/m"])
def test_momme_is_the_mass_in_pounds_of_100_yards_of_45_inches(momme: float, unit: str) -> None:
    area = 100 * UNITS.yard * 45 * UNITS.inch
    wanted = (momme * UNITS.pound / area).to("g/m**2").magnitude
    mass = read_label(f"silk habotai {momme:g} {unit}").mass_per_area_gsm
    assert mass is not None
    assert mass.value == pytest.approx(wanted, rel=1e-9)


def test_ounces_per_linear_yard_over_the_width() -> None:
    wanted = (18 * UNITS.ounce / UNITS.yard / (60 * UNITS.inch)).to("g/m**2").magnitude
    mass = read_label('melton, 18 oz per linear yard, 60" wide').mass_per_area_gsm
    assert mass is not None
    assert mass.value == pytest.approx(wanted, rel=1e-9)


def test_pounds_per_square_yard() -> None:
    wanted = (1.5 * UNITS.pound / UNITS.yard**2).to("g/m**2").magnitude
    mass = read_label("plush 1.5 lb/yd2").mass_per_area_gsm
    assert mass is not None
    assert mass.value == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize("inches", [36, 44.5, 54, 60, 118])
@pytest.mark.parametrize("unit", ["in", '"', "inches", "inch"])
def test_inches_of_width(inches: float, unit: str) -> None:
    width = read_label(f"lawn {inches:g} {unit}").width_cm
    assert width is not None
    assert width.value == pytest.approx((inches * UNITS.inch).to("cm").magnitude)


@pytest.mark.parametrize("mils", [4, 12, 20, 30])
def test_mils_of_thickness(mils: float) -> None:
    thickness = read_label(f"clear vinyl {mils} mil").thickness_mm
    assert thickness is not None
    assert thickness.value == pytest.approx((mils * UNITS.thou).to("mm").magnitude)
