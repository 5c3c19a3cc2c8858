"""Cases of pressing with water, for any solver of heat and water through a stack of layers.

The numbers are of the right size for the cloth named, from memory and common practice; no test
takes them for measured. Contacts: a gap of 0.1 to 0.2 mm of air lets 1 to 2e-6 kg/(m2 s Pa) pass.
"""

from __future__ import annotations

from dataclasses import replace

from tests.oracles.press.moist_problem import (
    Air,
    Bottom,
    Clapper,
    MoistCase,
    MoistContact,
    MoistLayer,
    MoistPhase,
    MoistPlace,
    Sole,
)

ROOM_PA = 1170.0
"""Vapour pressure of a room of 20 C and 50 % relative humidity [Pa]."""

# thickness, k, k per water, dry density, c, regain, permeability, escape, start, water, wicking
MUSLIN = MoistLayer(0.35, 0.050, 0.30, 360, 1340, 0.075, 7e-11, 1e-7, 20, 0.060)
LAWN = MoistLayer(0.18, 0.050, 0.30, 420, 1340, 0.075, 7e-11, 6e-8, 20, 0.060)
COTTON = MoistLayer(0.32, 0.060, 0.30, 470, 1340, 0.075, 6e-11, 1e-7, 20, 0.060)
POLYESTER = MoistLayer(0.25, 0.050, 0.20, 650, 1150, 0.004, 5e-11, 1e-7, 20, 0.003)
WOOL = MoistLayer(0.57, 0.045, 0.25, 410, 1360, 0.140, 7e-11, 2e-7, 20, 0.110)
COATING = MoistLayer(2.2, 0.045, 0.25, 230, 1360, 0.140, 1e-10, 6e-7, 20, 0.110)
SILK = MoistLayer(0.15, 0.050, 0.25, 450, 1380, 0.105, 6e-11, 5e-8, 20, 0.085)
ORGANZA = MoistLayer(0.08, 0.045, 0.20, 260, 1380, 0.105, 1e-10, 3e-8, 20, 0.085)
VELVET = MoistLayer(1.4, 0.045, 0.25, 140, 1400, 0.120, 1.2e-10, 5e-7, 20, 0.095)
FILM = MoistLayer(0.05, 0.200, 0.00, 1390, 1170, 0.004, 3e-16, 0.0, 20, 0.003, 0.0)
PAPER = MoistLayer(0.06, 0.080, 0.30, 750, 1340, 0.070, 2e-11, 2e-8, 20, 0.055)
BOARD = MoistLayer(3.0, 0.040, 0.20, 150, 1350, 0.075, 1e-10, 1e-6, 20, 0.060)
NEEDLES = MoistLayer(3.0, 0.100, 0.10, 250, 700, 0.010, 1.5e-10, 3e-6, 20, 0.008)
RUBBER = MoistLayer(8.0, 0.200, 0.00, 450, 1400, 0.001, 1e-15, 0.0, 20, 0.0005, 0.0)
WOOD = MoistLayer(40.0, 0.172, 0.40, 706, 1660, 0.115, 4e-12, 0.0, 20, 0.090)

CLOTH_ON_CLOTH = MoistContact(600, 1000, 1.5e-6, 0.02)
CLOTH_ON_BOARD = MoistContact(400, 600, 1.0e-6, 0.02)
FILM_ON_CLOTH = MoistContact(500, 0, 1.0e-6)
UNDER_IRON = MoistContact(500, 955, 0.0)
WOOD_ON_CLOTH = MoistContact(600, 800, 1.0e-6, 0.02)
ON_NEEDLES = MoistContact(250, 300, 2e-6, 0.02)
ROOM = Air(20, ROOM_PA, MoistContact(12, 0, 7e-8))
UNDER_BOARD = Bottom(20, ROOM_PA, 8, 5e-8)


def iron(sole_c: float, *, heat_j_m2k: float = 20000.0, steam: float = 0.0) -> Sole:
    """Return a household iron in its swing's middle: 15 to 20 kJ/(m2 K), back within half a minute."""
    return Sole(sole_c, sole_c, heat_j_m2k, 30.0, UNDER_IRON, steam)


def case(name, layers, contacts, phases, times, places, bottom=UNDER_BOARD) -> MoistCase:
    return MoistCase(
        name,
        tuple(layers),
        tuple(contacts),
        bottom,
        tuple(MoistPhase(*one) for one in phases),
        tuple(times),
        tuple(MoistPlace(*one) for one in places),
    )


def holding(layer: MoistLayer, water_kg_kg: float) -> MoistLayer:
    return replace(layer, start_water_kg_kg=water_kg_kg)


TWO = (CLOTH_ON_CLOTH, CLOTH_ON_BOARD)
FACES = ((0, 0.0), (0, 1.0), (1, 0.0), (1, 0.5), (1, 1.0), (2, 0.0))
GATHERED = ((0, 0.0), (0, 0.5), (0, 1.0), (1, 0.0))

CASES = (
    case(
        "dry press cloth, two plies of polyester, board",
        (MUSLIN, POLYESTER, POLYESTER, BOARD),
        (CLOTH_ON_CLOTH, CLOTH_ON_CLOTH, CLOTH_ON_BOARD),
        [(10.0, iron(150))],
        (0.5, 1.0, 2.0, 5.0, 10.0),
        [(0, 0.0), (1, 0.0), (1, 1.0), (2, 0.0), (2, 1.0), (3, 0.0)],
    ),
    case(
        "damp cotton press cloth on wool",
        (holding(MUSLIN, 0.7), WOOL, BOARD),
        TWO,
        [(12.0, iron(180))],
        (0.5, 2.0, 5.0, 8.0, 12.0),
        FACES,
    ),
    case(
        "wet cloth on cotton",
        (holding(MUSLIN, 1.5), COTTON, BOARD),
        TWO,
        [(15.0, iron(200))],
        (1.0, 3.0, 7.0, 11.0, 15.0),
        FACES,
    ),
    case(
        "light steam into silk",
        (LAWN, SILK, BOARD),
        TWO,
        [(2.0, iron(140, steam=0.010)), (6.0, iron(135))],
        (0.5, 2.0, 3.0, 5.0, 8.0),
        FACES,
    ),
    case(
        "full steam into silk",
        (LAWN, SILK, BOARD),
        TWO,
        [(3.0, iron(150, steam=0.030)), (7.0, iron(145))],
        (0.5, 2.0, 3.0, 6.0, 10.0),
        FACES,
    ),
    case(
        "steam held over velvet, then air",
        (VELVET, NEEDLES),
        (ON_NEEDLES,),
        [(4.0, Air(100, 90000.0, MoistContact(40, 0, 3e-7), 0.008)), (8.0, ROOM)],
        (0.5, 2.0, 4.0, 6.0, 12.0),
        GATHERED,
    ),
    case(
        "film that bars vapour between damp cloth and polyester",
        (holding(MUSLIN, 0.6), FILM, POLYESTER, BOARD),
        (FILM_ON_CLOTH, FILM_ON_CLOTH, CLOTH_ON_BOARD),
        [(12.0, iron(180))],
        (0.5, 2.0, 5.0, 8.0, 12.0),
        [(0, 0.0), (0, 1.0), (1, 0.5), (2, 0.0), (2, 1.0), (3, 0.0)],
    ),
    case(
        "one ply of organza under paper",
        (PAPER, ORGANZA, BOARD),
        TWO,
        [(1.0, iron(120)), (3.0, ROOM)],
        (0.1, 0.3, 1.0, 1.5, 4.0),
        FACES,
    ),
    case(
        "heavy wool coating under a damp cloth",
        (holding(MUSLIN, 0.9), COATING, BOARD),
        TWO,
        [(20.0, iron(190))],
        (1.0, 4.0, 8.0, 14.0, 20.0),
        FACES,
    ),
    case(
        "velvet face down on a needle board, steam through its back",
        (LAWN, VELVET, NEEDLES),
        (CLOTH_ON_CLOTH, ON_NEEDLES),
        [(3.0, iron(140, steam=0.012)), (5.0, ROOM)],
        (0.5, 1.5, 3.0, 5.0, 8.0),
        FACES,
    ),
    case(
        "thin sole that cools and recovers",
        (holding(COTTON, 0.30), BOARD),
        (CLOTH_ON_BOARD,),
        [(20.0, Sole(190, 180, 4000.0, 12.0, UNDER_IRON))],
        (0.5, 2.0, 5.0, 10.0, 20.0),
        GATHERED,
    ),
    case(
        "iron, air, then a wooden clapper",
        (holding(LAWN, 0.5), WOOL, BOARD),
        TWO,
        [(5.0, iron(170)), (2.0, ROOM), (8.0, Clapper(WOOD, WOOD_ON_CLOTH))],
        (2.0, 5.0, 7.0, 8.0, 15.0),
        FACES,
    ),
    case(
        "French seam, five plies of silk",
        (LAWN, *[SILK] * 5, BOARD),
        (*[CLOTH_ON_CLOTH] * 6, CLOTH_ON_BOARD)[1:],
        [(8.0, iron(140))],
        (0.5, 1.0, 2.0, 4.0, 8.0),
        [(0, 1.0), (1, 0.0), (3, 0.5), (5, 1.0), (6, 0.0)],
    ),
    case(
        "heat press on a fused front",
        (PAPER, WOOL, COTTON, RUBBER),
        (CLOTH_ON_CLOTH, CLOTH_ON_CLOTH, MoistContact(800, 0, 0.0)),
        [(15.0, Sole(160, 160, 60000.0, 20.0, MoistContact(1200, 955))), (5.0, ROOM)],
        (1.0, 4.0, 10.0, 15.0, 20.0),
        [(1, 0.0), (1, 1.0), (2, 0.0), (2, 1.0), (3, 0.0)],
        Bottom(30, ROOM_PA, 100, 0.0),
    ),
)


def named(name: str) -> MoistCase:
    """Return the one case whose name starts so."""
    (found,) = [one for one in CASES if one.name.startswith(name)]
    return found
