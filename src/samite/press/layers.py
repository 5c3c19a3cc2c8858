"""A stack of layers between two boundaries: what the press solvers answer for."""

from __future__ import annotations

import math
from dataclasses import dataclass

from samite.kernel.errors import InputError, OutOfRangeError

WATER_SPECIFIC_HEAT_J_KGK = 4180.0
"""Liquid water, as counted in a damp layer [J/(kg K)]."""

MM = 1.0e-3
"""One millimetre [m]."""


@dataclass(frozen=True, slots=True)
class Held:
    """A face held at one temperature, as by a perfect contact.

    Parameters
    ----------
    held_c : float
        Temperature of the face [C].
    """

    held_c: float


@dataclass(frozen=True, slots=True)
class Conductance:
    """A face that meets a sole, air or another surrounding through a conductance.

    Parameters
    ----------
    surrounding_c : float
        Temperature of the sole or the air [C].
    conductance_w_m2k : float
        Contact or surface conductance [W/(m2 K)]; positive.
    """

    surrounding_c: float
    conductance_w_m2k: float


@dataclass(frozen=True, slots=True)
class Insulated:
    """A face that lets no heat through."""


Boundary = Held | Conductance | Insulated


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the stack with constant properties.

    Parameters
    ----------
    name : str
        Name, unlike those of the other layers if one reads in it by name.
    thickness_mm : float
        Thickness [mm]; positive.
    conductivity_w_mk : float
        Conductivity through the layer [W/(m K)]; positive.
    density_kg_m3 : float
        Dry bulk density [kg/m3]; positive.
    specific_heat_j_kgk : float
        Specific heat of the dry matter [J/(kg K)]; positive.
    water_kg_kg : float
        Water per dry mass [kg/kg]; not negative.
    start_c : float or None
        Temperature at the start [C]; None takes the stack's.

    Raises
    ------
    OutOfRangeError
        If a property is not positive and finite.

    Notes
    -----
    Water counts as heat capacity only (4180 J/(kg K) for each kg of water), it neither conducts
    nor evaporates: above 100 C a damp layer is really cooler than computed (errs hot).
    """

    name: str
    thickness_mm: float
    conductivity_w_mk: float
    density_kg_m3: float
    specific_heat_j_kgk: float
    water_kg_kg: float = 0.0
    start_c: float | None = None

    def __post_init__(self) -> None:
        for field in POSITIVE:
            _check_positive(getattr(self, field), f"layer {self.name}: {field}")
        if not 0.0 <= self.water_kg_kg < math.inf:
            raise OutOfRangeError(
                f"{self.water_kg_kg:g} is not a share of water",
                f"layer {self.name}: water_kg_kg",
                "give the water per dry mass, 0 for a dry layer",
            )

    @property
    def heat_capacity_j_m3k(self) -> float:
        """Heat capacity by volume [J/(m3 K)], water included."""
        damp = self.specific_heat_j_kgk + self.water_kg_kg * WATER_SPECIFIC_HEAT_J_KGK
        return self.density_kg_m3 * damp

    @property
    def resistance_m2k_w(self) -> float:
        """Resistance to steady heat flow [m2 K/W]."""
        return self.thickness_mm * MM / self.conductivity_w_mk


POSITIVE = ("thickness_mm", "conductivity_w_mk", "density_kg_m3", "specific_heat_j_kgk")
"""The properties of a layer that must be positive."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Layers from the iron's side down, what they meet, and how they touch.

    Parameters
    ----------
    start_c : float
        Temperature at the start of layers that have none of their own [C].
    top : Held or Conductance or Insulated
        What the first layer meets.
    bottom : Held or Conductance or Insulated
        What the last layer meets.
    layers : tuple of Layer
        At least one, the iron's side first.
    contact_w_m2k : float or tuple of (float or None) or None
        Conductance between neighbours [W/(m2 K)]: one number for every interface, one number
        or None an interface, or None where layers touch perfectly.

    Raises
    ------
    InputError
        If there is no layer, or not one contact an interface.
    OutOfRangeError
        If a conductance is not positive or a temperature not finite.
    """

    start_c: float
    top: Boundary
    bottom: Boundary
    layers: tuple[Layer, ...]
    contact_w_m2k: float | tuple[float | None, ...] | None = None

    def __post_init__(self) -> None:
        if not self.layers:
            raise InputError("a stack needs at least one layer", "layers", "give one or more")
        if isinstance(self.contact_w_m2k, tuple) and len(self.contact_w_m2k) != self.interfaces:
            raise InputError(
                f"{len(self.contact_w_m2k)} contacts for {self.interfaces} interfaces",
                "contact_w_m2k",
                "give one number an interface, one for all, or null for perfect contact",
            )
        for conductance in self.contacts:
            if conductance is not None:
                _check_positive(conductance, "contact_w_m2k")
        for name, boundary in (("top", self.top), ("bottom", self.bottom)):
            _check_boundary(boundary, name)
        if not all(math.isfinite(start) for start in self.starts_c):
            raise OutOfRangeError("a start temperature is not finite", "start_c", "give degrees C")

    @property
    def interfaces(self) -> int:
        """How many pairs of neighbours there are."""
        return len(self.layers) - 1

    @property
    def contacts(self) -> tuple[float | None, ...]:
        """Conductance of each interface [W/(m2 K)], None where it is perfect."""
        if isinstance(self.contact_w_m2k, tuple):
            return self.contact_w_m2k
        return (self.contact_w_m2k,) * self.interfaces

    @property
    def starts_c(self) -> tuple[float, ...]:
        """Temperature of each layer at the start [C]."""
        return tuple(
            self.start_c if layer.start_c is None else layer.start_c for layer in self.layers
        )

    @property
    def span_c(self) -> tuple[float, float]:
        """Lowest and highest of all given temperatures [C]; no answer lies outside."""
        given = [*self.starts_c]
        for boundary in (self.top, self.bottom):
            if isinstance(boundary, Held):
                given.append(boundary.held_c)
            elif isinstance(boundary, Conductance):
                given.append(boundary.surrounding_c)
        return min(given), max(given)


@dataclass(frozen=True, slots=True)
class ReadingPlace:
    """A depth in a layer at which the temperature is wanted.

    Parameters
    ----------
    layer : int
        Position of the layer, 0 for the one under the iron.
    depth : float
        Share of the layer's thickness from the iron's side, 0 to 1 [-].

    Raises
    ------
    OutOfRangeError
        If the depth is outside 0 to 1 or the position negative.
    """

    layer: int
    depth: float

    def __post_init__(self) -> None:
        if self.layer < 0 or not 0.0 <= self.depth <= 1.0:
            raise OutOfRangeError(
                f"there is no depth {self.depth:g} in layer {self.layer}",
                "read_at",
                "depth runs from 0 on the iron's side to 1",
            )


def _check_positive(number: float, where: str) -> None:
    if not 0.0 < number < math.inf:
        raise OutOfRangeError(
            f"{number:g} is not a positive number", where, "give a number above 0"
        )


def _check_boundary(boundary: Boundary, where: str) -> None:
    if isinstance(boundary, Insulated):
        return
    if isinstance(boundary, Held):
        temperature = boundary.held_c
    else:
        temperature = boundary.surrounding_c
        _check_positive(boundary.conductance_w_m2k, f"{where}.conductance_w_m2k")
    if not math.isfinite(temperature):
        raise OutOfRangeError("the temperature is not finite", where, "give degrees C")
