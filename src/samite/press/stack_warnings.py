"""What is unlikely about a stack: said, never refused."""

from __future__ import annotations

from samite.press._scheme import BOILING_C
from samite.press.layers import Layer, Stack

ABSOLUTE_ZERO_C = -273.15
CLOTH_CHARS_C = 300.0


USUAL = {
    "thickness_mm": (0.005, 100.0, "mm"),
    "conductivity_w_mk": (0.015, 430.0, "W/(m K)"),
    "density_kg_m3": (1.0, 22600.0, "kg/m3"),
    "specific_heat_j_kgk": (100.0, 5000.0, "J/(kg K)"),
    "water_kg_kg": (0.0, 3.0, "kg/kg"),
}
"""Low, high and unit of what cloth, wood, air and metal have."""


def may_boil(stack: Stack) -> bool:
    """Say whether a stack holds water that can reach its boiling point.

    Parameters
    ----------
    stack : Stack
        The stack asked about.

    Returns
    -------
    bool
        True if any layer holds water and any temperature passes 100 C.
    """
    return stack.span_c[1] > BOILING_C and any(x.water_kg_kg > 0.0 for x in stack.layers)


def stack_warnings(stack: Stack, *, boils: bool = True) -> tuple[str, ...]:
    """Name what is unlikely or outside the model.

    Parameters
    ----------
    stack : Stack
        The stack asked about.
    boils : bool
        Whether water boils off at 100 C; else it stays and counts as heat capacity.

    Returns
    -------
    tuple of str
        One sentence each; empty if there is nothing to say.
    """
    low, high = stack.span_c
    said: list[str] = []
    if low < ABSOLUTE_ZERO_C:
        said.append(f"{low:g} C is below absolute zero: computed, but nothing is that cold")
    if high > CLOTH_CHARS_C:
        said.append(
            f"{high:g} C: properties are held constant, but cloth chars or melts on the way there"
        )
    if any(layer.water_kg_kg > 0.0 for layer in stack.layers):
        said.extend(_water(low, high, boils=boils))
    for index, layer in enumerate(stack.layers):
        said.extend(_unusual(layer, index))
    return tuple(said)


def _water(low: float, high: float, *, boils: bool) -> list[str]:
    said = []
    if high > BOILING_C and boils:
        said.append(
            "water boils off at 100 C and its vapour leaves; that it condenses on colder layers "
            "and is bound to fibres is not in this solver: damp cloth heats faster under it, and "
            "holds its last water to above 100 C"
        )
    if high > BOILING_C and not boils:
        said.append(
            "water is counted as heat capacity only and does not evaporate: above 100 C a damp "
            "layer and what lies under it stay cooler than computed until it is dry"
        )
    if low < 0.0:
        said.append("water does not freeze here: below 0 C a damp layer is computed too cold")
    return said


def _unusual(layer: Layer, index: int) -> list[str]:
    said = []
    for name, (low, high, unit) in USUAL.items():
        number = getattr(layer, name)
        if not low <= number <= high:
            said.append(
                f"layers[{index}].{name}: {number:g} {unit} is outside {low:g} to {high:g}: "
                "check the unit and the decimal point"
            )
    return said
