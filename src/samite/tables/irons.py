"""Irons: dial, thermostat, steam, pressure, contact with cloth, and what goes with them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from samite.kernel.evidence import Evidence, weakest
from samite.kernel.quantity import Quantity
from samite.kernel.unit_table import STANDARD_GRAVITY_M_S2
from samite.tables._keyed import KeyedRows, keyed_rows, known_entry

if TYPE_CHECKING:
    from samite.tables.press_tools import PressTool

HOUSEHOLD = "household"
KINDS = ("iron", "hand steamer", "heat press")
"""What may be described: an iron, a steamer that never touches, a press that never slides."""


@dataclass(frozen=True, slots=True)
class IronSetting:
    """A setting of the iron by dots, as standards have it.

    Parameters
    ----------
    key : str
        ``low``, ``medium`` or ``high``.
    dots : int
        Dots of the care symbol [1].
    dial_word : str
        Word on most dials.
    sole_limit_c : Quantity
        Highest sole-plate temperature that the symbol allows [C].
    dial_c : Quantity
        Sole-plate temperature that a dial set there may give [C].
    """

    key: str
    dots: int
    dial_word: str
    sole_limit_c: Quantity
    dial_c: Quantity


@dataclass(frozen=True, slots=True)
class DialPosition:
    """One position of the dial of one iron.

    Parameters
    ----------
    key : str
        ``low``, ``medium`` or ``high``.
    dots : int
        Dots of the care symbol that it stands for [1].
    word : str
        Word on the dial.
    sole_c : Quantity
        Sole-plate temperature there, middle of the thermostat's swing [C].
    measured : bool
        Whether the person measured it; else the standard's tolerance stands.
    """

    key: str
    dots: int
    word: str
    sole_c: Quantity
    measured: bool


@dataclass(frozen=True, slots=True)
class Iron:
    """An iron, a hand steamer or a heat press.

    Parameters
    ----------
    key : str
        ``household``, or ``own`` for one that the person described.
    name : str
        How an answer names it.
    kind : str
        ``iron``, ``hand steamer`` or ``heat press``.
    settings : tuple of DialPosition
        ``low``, ``medium`` and ``high``, from the coolest to the hottest.
    swing_c : Quantity
        Half of the thermostat's swing about the set point [K].
    overshoot_c : Quantity
        First overshoot after switching on [K].
    cycle_s : Quantity
        Length of the thermostat's cycle [s].
    recovery_s : Quantity
        How long the sole takes to regain its heat after a placement [s].
    mass_kg : Quantity
        Mass [kg].
    sole_area_cm2 : Quantity
        Area of the sole plate [cm2].
    hand_force_n : Quantity
        Force of the hand on it [N].
    stated_pressure_kpa : Quantity or None
        Pressure of a heat press [kPa]; None where it follows from mass, force and area.
    sole_heat_capacity_j_m2k : Quantity
        Heat capacity of the sole plate by its area [J/(m2 K)].
    steams_from : str or None
        Lowest dial position at which it steams and does not spit; None if it never steams.
    steam_light_g_min : Quantity
        Steam on the lower setting [g/min].
    steam_full_g_min : Quantity
        Steam on the higher setting [g/min].
    conductance_dry_w_m2k : Quantity
        Contact conductance between sole and dry cloth [W/(m2 K)].
    conductance_per_water_w_m2k : Quantity
        What it gains for each kg of water in a kg of the cloth that it touches [W/(m2 K)].
    has_clapper : bool
        Whether a wood clapper is at hand.
    board : PressTool or None
        What the work lies on where nothing else is called for; None is the usual board.
    """

    key: str
    name: str
    kind: str
    settings: tuple[DialPosition, ...]
    swing_c: Quantity
    overshoot_c: Quantity
    cycle_s: Quantity
    recovery_s: Quantity
    mass_kg: Quantity
    sole_area_cm2: Quantity
    hand_force_n: Quantity
    stated_pressure_kpa: Quantity | None
    sole_heat_capacity_j_m2k: Quantity
    steams_from: str | None
    steam_light_g_min: Quantity
    steam_full_g_min: Quantity
    conductance_dry_w_m2k: Quantity
    conductance_per_water_w_m2k: Quantity
    has_clapper: bool
    board: PressTool | None = None

    def setting(self, key: str) -> DialPosition:
        """Return one position of the dial.

        Parameters
        ----------
        key : str
            ``low``, ``medium`` or ``high``.

        Returns
        -------
        DialPosition
            The position.

        Raises
        ------
        UnknownNameError
            If there is none of that key.
        """
        return known_entry({item.key: item for item in self.settings}, key, "iron setting")

    def dial_c(self, key: str) -> Quantity:
        """Return the sole-plate temperature at one position of the dial.

        Parameters
        ----------
        key : str
            ``low``, ``medium`` or ``high``.

        Returns
        -------
        Quantity
            Temperature with its spread [C].

        Raises
        ------
        UnknownNameError
            If there is none of that key.
        """
        return self.setting(key).sole_c

    def steams_at(self, key: str) -> bool:
        """Say whether it steams at one position of the dial.

        Parameters
        ----------
        key : str
            ``low``, ``medium`` or ``high``.

        Returns
        -------
        bool
            False below the lowest position that steams: it spits there.

        Raises
        ------
        UnknownNameError
            If there is none of that key.
        """
        if self.steams_from is None:
            return False
        return self.setting(key).dots >= self.setting(self.steams_from).dots

    @property
    def measured(self) -> bool:
        """Whether any position of the dial was measured."""
        return any(item.measured for item in self.settings)

    @property
    def pressure_kpa(self) -> Quantity:
        """Pressure on the work [kPa].

        Of a heat press as stated; else weight and hand over the sole's area, the ends of its
        spread from the ends of all three: errs to a wide spread.
        """
        if self.stated_pressure_kpa:
            return self.stated_pressure_kpa
        mass, force, area = self.mass_kg, self.hand_force_n, self.sole_area_cm2
        grade = weakest(*(item.evidence.grade for item in (mass, force, area)))
        return Quantity(
            _pressure_kpa(mass.value, force.value, area.value),
            _pressure_kpa(mass.low, force.low, area.high),
            _pressure_kpa(mass.high, force.high, area.low),
            "kPa",
            Evidence("derivation", grade, "weight and hand over the sole"),
        )


def _pressure_kpa(mass_kg: float, force_n: float, area_cm2: float) -> float:
    return (mass_kg * STANDARD_GRAVITY_M_S2 + force_n) / (area_cm2 * 1.0e-4) / 1000.0


@cache
def iron_settings() -> Mapping[str, IronSetting]:
    """Return the settings ``low``, ``medium`` and ``high``.

    Returns
    -------
    mapping of str to IronSetting
        From the coolest to the hottest.

    Raises
    ------
    TableError
        If one lacks a value.
    """
    cards = keyed_rows("irons.csv", "iron")
    return MappingProxyType(
        {key: _setting(key, card) for key, card in cards.items() if card.has("dots")}
    )


def iron_setting(key: str) -> IronSetting:
    """Return one setting of the iron.

    Parameters
    ----------
    key : str
        ``low``, ``medium`` or ``high``.

    Returns
    -------
    IronSetting
        The setting.

    Raises
    ------
    UnknownNameError
        If there is none of that key.
    """
    return known_entry(iron_settings(), key, "iron setting")


@cache
def household_iron() -> Iron:
    """Return the iron taken where the person has not described one.

    Returns
    -------
    Iron
        Nothing about it is measured.

    Raises
    ------
    TableError
        If a value is missing.
    """
    card = keyed_rows("irons.csv", "iron")[HOUSEHOLD]
    return Iron(
        key=HOUSEHOLD,
        name="household iron",
        kind="iron",
        settings=tuple(
            DialPosition(item.key, item.dots, item.dial_word, item.dial_c, measured=False)
            for item in iron_settings().values()
        ),
        swing_c=card.number("swing_c"),
        overshoot_c=card.number("overshoot_c"),
        cycle_s=card.number("cycle_s"),
        recovery_s=card.number("recovery_s"),
        mass_kg=card.number("mass_kg"),
        sole_area_cm2=card.number("sole_area_cm2"),
        hand_force_n=card.number("hand_force_n"),
        stated_pressure_kpa=None,
        sole_heat_capacity_j_m2k=card.number("sole_heat_capacity_j_m2k"),
        steams_from=_steams_from(card.number("steam_from_c").value),
        steam_light_g_min=card.number("steam_g_min", "light"),
        steam_full_g_min=card.number("steam_g_min", "full"),
        conductance_dry_w_m2k=card.number("contact_conductance_w_m2k", "dry"),
        conductance_per_water_w_m2k=card.number("conductance_per_water_w_m2k"),
        has_clapper=True,
    )


@cache
def heat_press_pressure() -> Quantity:
    """Return the pressure of a heat press that does not state it.

    Returns
    -------
    Quantity
        Pressure on the work [kPa].

    Raises
    ------
    TableError
        If the value is missing.
    """
    return keyed_rows("irons.csv", "iron")["heat-press"].number("pressure_kpa")


@cache
def probe_error(kind: str) -> Quantity:
    """Return an error of what reads a sole.

    Parameters
    ----------
    kind : str
        ``offset`` (of a probe, at every reading), ``scatter`` (from reading to reading) or
        ``strip`` (of a mark).

    Returns
    -------
    Quantity
        Half of its 90 % range [K].

    Raises
    ------
    TableError
        If the value is missing.
    """
    return keyed_rows("irons.csv", "iron")["probe"].number("probe_error_c", kind)


def _steams_from(steam_from_c: float) -> str:
    """Return the lowest setting whose limit reaches a temperature."""
    return next(
        item.key for item in iron_settings().values() if item.sole_limit_c.value >= steam_from_c
    )


def _setting(key: str, card: KeyedRows) -> IronSetting:
    return IronSetting(
        key=key,
        dots=round(card.number("dots").value),
        dial_word=card.word("dial_word"),
        sole_limit_c=card.number("sole_limit_c"),
        dial_c=card.number("dial_c"),
    )
