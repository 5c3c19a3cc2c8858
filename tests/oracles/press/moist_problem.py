"""What a case of coupled heat and water is, in words that belong to no solver."""

from __future__ import annotations

from dataclasses import dataclass

SEALED = 0.0


@dataclass(frozen=True)
class MoistLayer:
    """One layer; water is counted in kg per kg of dry cloth, the regain is that at 65 % humidity."""

    thickness_mm: float
    conductivity_w_mk: float
    conductivity_per_water: float
    dry_density_kg_m3: float
    specific_heat_j_kgk: float
    regain_kg_kg: float
    vapour_permeability_kg_mspa: float
    escape_kg_m2spa: float = 0.0
    start_c: float = 20.0
    start_water_kg_kg: float = 0.0
    wicking_m2_s: float = 1e-7

    @property
    def dry_mass_kg_m2(self) -> float:
        return self.thickness_mm * 1e-3 * self.dry_density_kg_m3

    @property
    def wicking_kg_ms(self) -> float:
        return self.wicking_m2_s * self.dry_density_kg_m3


@dataclass(frozen=True)
class MoistContact:
    """Between two layers, or a layer and what presses on it; the rise is per kg/kg of water."""

    conductance_w_m2k: float
    rise_per_water: float = 0.0
    permeance_kg_m2spa: float = SEALED
    wicking_kg_m2s: float = 0.0


@dataclass(frozen=True)
class Sole:
    """Hot sole, sealed; it goes back to its set point with a time constant, if that is finite."""

    start_c: float
    set_c: float
    heat_j_m2k: float
    recovery_s: float
    contact: MoistContact
    steam_kg_m2s: float = 0.0


@dataclass(frozen=True)
class Air:
    """Air over the stack, with or without steam blown into the first face."""

    air_c: float
    vapour_pa: float
    contact: MoistContact
    steam_kg_m2s: float = 0.0


@dataclass(frozen=True)
class Clapper:
    """A slab put on top, insulated and sealed on its back; it keeps its own state."""

    layer: MoistLayer
    contact: MoistContact


Top = Sole | Air | Clapper


@dataclass(frozen=True)
class Bottom:
    """What lies under the last layer."""

    surrounding_c: float
    vapour_pa: float
    conductance_w_m2k: float
    permeance_kg_m2spa: float = SEALED


@dataclass(frozen=True)
class MoistPhase:
    duration_s: float
    top: Top


@dataclass(frozen=True)
class MoistPlace:
    """A place of reading: a layer and the depth in it, 0 its upper face and 1 its lower."""

    layer: int
    depth: float


@dataclass(frozen=True)
class MoistCase:
    name: str
    layers: tuple[MoistLayer, ...]
    contacts: tuple[MoistContact, ...]
    bottom: Bottom
    phases: tuple[MoistPhase, ...]
    times_s: tuple[float, ...]
    places: tuple[MoistPlace, ...]


@dataclass(frozen=True)
class MoistAnswer:
    """Readings; the last axis of the first two is that of the places, of the third that of layers."""

    temperature_c: object
    water_kg_kg: object
    layer_water_kg_m2: object
    sole_c: object
