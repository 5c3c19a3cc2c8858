"""The bare solver with water that boils off, against a lumped body and an energy balance."""

from __future__ import annotations

import math

import numpy as np
import pytest

from samite.press.boiling import boil
from samite.press.layers import Conductance, Insulated, Layer, ReadingPlace, Stack

H, SOLE, START = 400.0, 180.0, 20.0
CLOTH_KG_M2, SPECIFIC, WATER = 0.12, 1340.0, 0.8
MIDDLE = [ReadingPlace(0, 0.5)]


def lump() -> Stack:
    """So good a conductor that it has one temperature."""
    layer = Layer("lump", 0.3, 200.0, CLOTH_KG_M2 / 0.3e-3, SPECIFIC, water_kg_kg=WATER)
    return Stack(START, Conductance(SOLE, H), Insulated(), (layer,))


def test_lump_heats_boils_and_heats_again_as_three_closed_forms_say() -> None:
    """Exponential to 100 C; water / (h (sole - 100) / 2.2565e6 J/kg); exponential again."""
    wet = CLOTH_KG_M2 * (SPECIFIC + 4180.0 * WATER)
    warming = wet / H * math.log((SOLE - START) / (SOLE - 100.0))
    boiling = CLOTH_KG_M2 * WATER * 2.2565e6 / (H * (SOLE - 100.0))
    drying = CLOTH_KG_M2 * SPECIFIC / H
    late = warming + boiling + 3.0 * drying
    times = [0.5 * warming, warming + 0.5 * boiling, warming + 0.98 * boiling, late]
    answer = boil(lump(), times, MIDDLE)
    early = SOLE - (SOLE - START) * math.exp(-0.5 * warming * H / wet)
    assert answer.temperature_c[0, 0] == pytest.approx(early, abs=0.05)
    assert answer.temperature_c[1:3, 0] == pytest.approx([100.0, 100.0], abs=0.05)
    dry = SOLE - (SOLE - 100.0) * math.exp(-3.0)
    assert answer.temperature_c[3, 0] == pytest.approx(dry, abs=1.5)
    left = CLOTH_KG_M2 * WATER * np.array([1.0, 0.5, 0.02])
    assert answer.water_kg_m2[:3, 0] == pytest.approx(left, abs=0.02 * left[0])


def test_heat_that_the_sole_gave_is_in_cloth_water_and_vapour() -> None:
    """Energy balance: the sole's flux, integrated, against what is stored and boiled off."""
    layer = Layer("wet cloth", 0.4, 0.06, 400.0, SPECIFIC, water_kg_kg=0.5)
    stack = Stack(START, Conductance(SOLE, H), Insulated(), (layer,))
    times = list(np.linspace(0.02, 12.0, 600))
    depths = np.linspace(0.0, 1.0, 101)
    answer = boil(stack, times, [ReadingPlace(0, float(depth)) for depth in depths])
    top = answer.temperature_c[:, 0]
    given = np.trapezoid(H * (SOLE - top), times) + H * (SOLE - START) * times[0]
    dry = 0.4e-3 * 400.0 * SPECIFIC
    mean = np.trapezoid(answer.temperature_c[-1], depths)
    water = answer.water_kg_m2[:, 0]
    boiled = (0.4e-3 * 400.0 * 0.5) - water[-1]
    left = float(water[-1])
    warmed = dry * (mean - START) + 4180.0 * (boiled + left) * (100.0 - START)
    assert given == pytest.approx(warmed + boiled * 2.2565e6, rel=0.02)
