"""Press cloths, supports, holds and irons."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TypeVar

from samite.kernel.errors import TableError, UnknownNameError
from samite.kernel.quantity import Quantity
from samite.tables.fibres import Fibre, fibre
from samite.tables.loader import Row, did_you_mean, read_table, rows_by_key

T = TypeVar("T")

PRESS_TABLES = ("press_cloths.csv", "supports.csv", "irons.csv")
"""The files that answers of this module rest on, for `table_hash`."""


@dataclass(frozen=True, slots=True)
class PressCloth:
    """A cloth laid between the iron and the work.

    Parameters
    ----------
    key : str
        Key in ``press_cloths.csv``.
    name : str
        How a card names it.
    fibre : Fibre
        What it is made of; its regain and heat follow.
    mass_per_area_gsm : Quantity
        Dry mass per area [g/m2].
    thickness_mm : Quantity
        Thickness at 1 kPa [mm].
    damp_water_percent : Quantity
        Water when damp, share of the dry mass [%]; 0 means never damp.
    """

    key: str
    name: str
    fibre: Fibre
    mass_per_area_gsm: Quantity
    thickness_mm: Quantity
    damp_water_percent: Quantity


@dataclass(frozen=True, slots=True)
class PressTool:
    """What the work lies on, or what is held on it while it cools.

    Parameters
    ----------
    key : str
        Key in ``supports.csv``.
    name : str
        How a card names it.
    role : str
        ``support`` or ``hold``.
    material : str
        What it is made of.
    thickness_mm : Quantity
        Thickness under the work [mm].
    conductivity_w_mk : Quantity
        Conductivity [W/(m K)].
    density_kg_m3 : Quantity
        Density [kg/m3].
    specific_heat_j_gk : Quantity
        Specific heat [J/(g K)].
    pressure_kpa : Quantity or None
        Pressure on the work [kPa]; only for a hold.
    regain_percent : Quantity
        Water at 65 % relative humidity, of dry mass [%].
    open_share : Quantity
        Vapour permeability over that of still air [1].
    pile_spared : Quantity or None
        Chance that no placement of a costume crushes a pile laid into it [1]; only for a support.
    """

    key: str
    name: str
    role: str
    material: str
    thickness_mm: Quantity
    conductivity_w_mk: Quantity
    density_kg_m3: Quantity
    specific_heat_j_gk: Quantity
    pressure_kpa: Quantity | None
    regain_percent: Quantity
    open_share: Quantity
    pile_spared: Quantity | None


@dataclass(frozen=True, slots=True)
class IronSetting:
    """A setting of the iron by dots.

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
class Iron:
    """A household iron.

    Parameters
    ----------
    key : str
        Key in ``irons.csv``.
    swing_c : Quantity
        Half of the thermostat's swing about the set point [K].
    overshoot_c : Quantity
        First overshoot after switching on [K].
    cycle_s : Quantity
        Length of the thermostat's cycle [s].
    mass_kg : Quantity
        Mass [kg].
    sole_area_cm2 : Quantity
        Area of the sole plate [cm2].
    hand_force_n : Quantity
        Force of the hand on it [N].
    steam_from_c : Quantity
        Lowest setting that makes steam [C].
    steam_light_g_min : Quantity
        Steam on the lower setting [g/min].
    steam_full_g_min : Quantity
        Steam on the higher setting [g/min].
    conductance_dry_w_m2k : Quantity
        Contact conductance between sole and dry cloth [W/(m2 K)].
    conductance_damp_w_m2k : Quantity
        The same with damp cloth [W/(m2 K)].
    conductance_wet_w_m2k : Quantity
        The same with wet cloth [W/(m2 K)].
    """

    key: str
    swing_c: Quantity
    overshoot_c: Quantity
    cycle_s: Quantity
    mass_kg: Quantity
    sole_area_cm2: Quantity
    hand_force_n: Quantity
    steam_from_c: Quantity
    steam_light_g_min: Quantity
    steam_full_g_min: Quantity
    conductance_dry_w_m2k: Quantity
    conductance_damp_w_m2k: Quantity
    conductance_wet_w_m2k: Quantity


class _Card:
    """The rows of one key, asked by property and condition."""

    def __init__(self, table: str, key: str, rows: tuple[Row, ...]) -> None:
        self._where = f"{table}: {key}"
        self._rows = {(row.property, row.condition): row for row in rows}
        self._any = {row.property: row for row in rows}

    def has(self, name: str) -> bool:
        return name in self._any

    def number(self, name: str, condition: str | None = None) -> Quantity:
        return self._row(name, condition).number

    def word(self, name: str) -> str:
        return self._row(name, None).word

    def _row(self, name: str, condition: str | None) -> Row:
        row = self._any.get(name) if condition is None else self._rows.get((name, condition))
        if row is None:
            under = f" at {condition}" if condition else ""
            raise TableError(f"{self._where} lacks {name}{under}", self._where, "Add the row.")
        return row


@cache
def press_cloths() -> Mapping[str, PressCloth]:
    """Return the press cloths by key.

    Returns
    -------
    mapping of str to PressCloth
        In the order of ``press_cloths.csv``.

    Raises
    ------
    TableError
        If a press cloth lacks a value.
    """
    cards = _cards("press_cloths.csv", "press_cloth")
    return MappingProxyType({key: _press_cloth(key, card) for key, card in cards.items()})


def press_cloth(key: str) -> PressCloth:
    """Return one press cloth.

    Parameters
    ----------
    key : str
        Key in ``press_cloths.csv``.

    Returns
    -------
    PressCloth
        The cloth.

    Raises
    ------
    UnknownNameError
        If there is none of that key.
    """
    return _known(press_cloths(), key, "press cloth")


@cache
def press_tools() -> Mapping[str, PressTool]:
    """Return supports and holds by key.

    Returns
    -------
    mapping of str to PressTool
        In the order of ``supports.csv``.

    Raises
    ------
    TableError
        If one lacks a value.
    """
    cards = _cards("supports.csv", "support")
    return MappingProxyType({key: _press_tool(key, card) for key, card in cards.items()})


def press_tool(key: str) -> PressTool:
    """Return one support or hold.

    Parameters
    ----------
    key : str
        Key in ``supports.csv``: ``board``, ``needle-board``, ``towel``, ``self``, ``ham``,
        ``seam-roll``, ``clapper``, ``weight`` or ``hand``.

    Returns
    -------
    PressTool
        The tool.

    Raises
    ------
    UnknownNameError
        If there is none of that key.
    """
    return _known(press_tools(), key, "support or hold")


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
    cards = _cards("irons.csv", "iron")
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
    return _known(iron_settings(), key, "iron setting")


@cache
def household_iron() -> Iron:
    """Return the iron taken where the person has not described one.

    Returns
    -------
    Iron
        Mass, area, thermostat, steam and contact, with their spread.

    Raises
    ------
    TableError
        If a value is missing.
    """
    card = _cards("irons.csv", "iron")["household"]
    return Iron(
        key="household",
        swing_c=card.number("swing_c"),
        overshoot_c=card.number("overshoot_c"),
        cycle_s=card.number("cycle_s"),
        mass_kg=card.number("mass_kg"),
        sole_area_cm2=card.number("sole_area_cm2"),
        hand_force_n=card.number("hand_force_n"),
        steam_from_c=card.number("steam_from_c"),
        steam_light_g_min=card.number("steam_g_min", "light"),
        steam_full_g_min=card.number("steam_g_min", "full"),
        conductance_dry_w_m2k=card.number("contact_conductance_w_m2k", "dry"),
        conductance_damp_w_m2k=card.number("contact_conductance_w_m2k", "damp"),
        conductance_wet_w_m2k=card.number("contact_conductance_w_m2k", "wet"),
    )


def _cards(table: str, key: str) -> dict[str, _Card]:
    groups = rows_by_key(read_table(table, key))
    return {name: _Card(table, name, rows) for name, rows in groups.items()}


def _press_cloth(key: str, card: _Card) -> PressCloth:
    return PressCloth(
        key=key,
        name=card.word("name"),
        fibre=fibre(card.word("fibre")),
        mass_per_area_gsm=card.number("mass_per_area_gsm"),
        thickness_mm=card.number("thickness_mm"),
        damp_water_percent=card.number("damp_water_percent"),
    )


def _press_tool(key: str, card: _Card) -> PressTool:
    return PressTool(
        key=key,
        name=card.word("name"),
        role=card.word("role"),
        material=card.word("material"),
        thickness_mm=card.number("thickness_mm"),
        conductivity_w_mk=card.number("conductivity_w_mk"),
        density_kg_m3=card.number("density_kg_m3"),
        specific_heat_j_gk=card.number("specific_heat_j_gk"),
        pressure_kpa=card.number("pressure_kpa") if card.word("role") == "hold" else None,
        regain_percent=card.number("regain_65rh_percent"),
        open_share=card.number("open_share"),
        pile_spared=card.number("pile_spared") if card.word("role") == "support" else None,
    )


def _setting(key: str, card: _Card) -> IronSetting:
    return IronSetting(
        key=key,
        dots=round(card.number("dots").value),
        dial_word=card.word("dial_word"),
        sole_limit_c=card.number("sole_limit_c"),
        dial_c=card.number("dial_c"),
    )


def _known(table: Mapping[str, T], key: str, what: str) -> T:
    found = table.get(key)
    if found is None:
        raise UnknownNameError(f"no {what} is called {key!r}", key, did_you_mean(key, table))
    return found
