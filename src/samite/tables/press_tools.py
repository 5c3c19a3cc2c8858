"""Press cloths, supports and holds; irons from `samite.tables.irons`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from samite.kernel.quantity import Quantity
from samite.tables._keyed import KeyedRows, keyed_rows, known_entry
from samite.tables.fibres import Fibre, fibre
from samite.tables.irons import (
    DialPosition,
    Iron,
    IronSetting,
    household_iron,
    iron_setting,
    iron_settings,
)

__all__ = [
    "PRESS_TABLES",
    "DialPosition",
    "Iron",
    "IronSetting",
    "PressCloth",
    "PressTool",
    "household_iron",
    "iron_setting",
    "iron_settings",
    "press_cloth",
    "press_cloths",
    "press_tool",
    "press_tools",
]

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
    cards = keyed_rows("press_cloths.csv", "press_cloth")
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
    return known_entry(press_cloths(), key, "press cloth")


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
    cards = keyed_rows("supports.csv", "support")
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
    return known_entry(press_tools(), key, "support or hold")


def _press_cloth(key: str, card: KeyedRows) -> PressCloth:
    return PressCloth(
        key=key,
        name=card.word("name"),
        fibre=fibre(card.word("fibre")),
        mass_per_area_gsm=card.number("mass_per_area_gsm"),
        thickness_mm=card.number("thickness_mm"),
        damp_water_percent=card.number("damp_water_percent"),
    )


def _press_tool(key: str, card: KeyedRows) -> PressTool:
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
