"""Units against a general-purpose unit library (pint), every pair of every dimension it knows."""

from __future__ import annotations

import itertools
import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from samite.kernel.errors import InputError
from samite.kernel.unit_table import DIMENSIONS
from samite.kernel.units import convert, parse_quantity

REGISTRY = pint.UnitRegistry()
REGISTRY.define("momme = pound / (100 yard * 45 inch)")  # the trade's definition
REGISTRY.define("TMU = 1e-5 hour")  # work study's definition
REGISTRY.define("metric_count = meter / gram")
REGISTRY.define("cotton_count = 840 yard / pound")  # hanks a pound
TICKET = 3.0  # ticket number over metric count, the trade's definition

IN_PINT = {
    "in": "inch", "ft": "foot", "yd": "yard", "mil": "thou", "um": "micrometer",
    "1/mm": "1/mm", "1/cm": "1/cm", "1/in": "1/inch",
    "mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "in2": "inch**2", "ft2": "foot**2",
    "yd2": "yard**2", "g/m2": "g/m**2", "kg/m2": "kg/m**2", "oz/yd2": "oz/yard**2",
    "g/m": "g/m", "kg/m": "kg/m", "oz/yd": "oz/yard", "mtex": "millitex", "den": "denier",
    "C": "degC", "F": "degF", "K": "kelvin", "delta K": "delta_degC", "delta F": "delta_degF",
    "gf/cm2": "gram_force/cm**2", "kgf/cm2": "kilogram_force/cm**2", "atm": "atmosphere",
    "gf": "gram_force", "kgf": "kilogram_force", "lbf": "pound_force", "cN": "centinewton",
    "N/m": "N/m", "N/cm": "N/cm", "N/mm": "N/mm", "gf/cm": "gram_force/cm",
    "lbf/in": "pound_force/inch", "cN/tex": "cN/tex", "cN/dtex": "cN/dtex", "N/tex": "N/tex",
    "gf/den": "gram_force/denier", "gf/tex": "gram_force/tex", "W/mK": "W/m/K",
    "mW/mK": "mW/m/K", "cal/(s cm K)": "cal/s/cm/K", "W/m2K": "W/m**2/K", "W/m2": "W/m**2",
    "kW/m2": "kW/m**2", "W/cm2": "W/cm**2", "J/m2": "J/m**2", "kJ/m2": "kJ/m**2",
    "J/cm2": "J/cm**2", "J/gK": "J/g/K", "J/kgK": "J/kg/K", "cal/gK": "cal/g/K",
    "kJ/kg": "kJ/kg", "J/kg": "J/kg", "cal/g": "cal/g", "g/cm3": "g/cm**3", "kg/m3": "kg/m**3",
    "lb/ft3": "pound/foot**3", "m2/s": "m**2/s", "mm2/s": "mm**2/s", "min": "minute",
    "h": "hour", "d": "day", "mm/s": "mm/s", "cm/s": "cm/s", "m/s": "m/s", "m/min": "m/minute",
    "m/h": "m/hour", "in/s": "inch/s", "in/min": "inch/minute", "yd/min": "yard/minute",
    "1/s": "1/s", "1/min": "1/minute", "deg": "degree", "1": "", "%": "percent",
}  # fmt: skip
PINT_COUNTS = {"Nm": "metric_count", "Ne": "cotton_count"}
OWN = {"needle Nm", "needle mm", "needle in", "tkt"}

PAIRS = [
    (first.symbol, second.symbol)
    for units in DIMENSIONS.values()
    for first, second in itertools.permutations(units, 2)
    if not {first.symbol, second.symbol} & OWN
]


def in_pint(value: float, start: str, end: str) -> float:
    """Convert with pint; its yarn counts are lengths per mass."""
    if start in PINT_COUNTS:
        quantity = 1.0 / (value * REGISTRY(PINT_COUNTS[start]))
    else:
        quantity = REGISTRY.Quantity(value, IN_PINT.get(start, start))
    if end in PINT_COUNTS:
        return float((1.0 / quantity).to(PINT_COUNTS[end]).magnitude)
    return float(quantity.to(IN_PINT.get(end, end)).magnitude)


@pytest.mark.parametrize(("start", "end"), PAIRS, ids=lambda unit: unit.replace("/", " per "))
def test_every_pair_agrees_with_pint(start: str, end: str) -> None:
    for value in (0.37, 4.0, 1234.5):
        assert convert(value, start, end) == pytest.approx(in_pint(value, start, end), rel=1e-9)


@given(value=st.floats(0.01, 1e5), index=st.integers(0, len(PAIRS) - 1))
def test_there_and_back_gives_the_same_number(value: float, index: int) -> None:
    start, end = PAIRS[index]
    back = convert(convert(value, start, end), end, start)
    assert back == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(value=st.floats(0.01, 1e5), index=st.integers(0, len(PAIRS) - 1))
def test_what_is_written_with_a_symbol_is_read_back(value: float, index: int) -> None:
    start, end = PAIRS[index]
    read = parse_quantity(f"{value!r} {'' if start == '1' else start}", end)
    if start == "1":  # a bare number is taken in the unit wanted
        assert read == pytest.approx(value)
        return
    assert read == pytest.approx(convert(value, start, end), rel=1e-12, abs=1e-12)


@given(value=st.floats(0.01, 1e4))
def test_the_ticket_number_is_three_times_the_metric_count(value: float) -> None:
    assert convert(value, "Nm", "tkt") == pytest.approx(TICKET * value)


@given(size=st.floats(1.0, 500.0))
def test_a_needle_size_is_hundredths_of_a_millimetre(size: float) -> None:
    assert convert(size, "needle Nm", "needle mm") == pytest.approx(size / 100.0)
    assert convert(size, "needle Nm", "needle in") == pytest.approx(size / 2540.0)


@given(text=st.text(max_size=20))
def test_any_text_is_read_or_refused_but_never_breaks(text: str) -> None:
    try:
        read = parse_quantity(text, "mm", stitches=True)
    except InputError:
        return
    assert math.isfinite(read)
