"""The numbers of the heat-and-moisture scheme, free of anything that takes long to load."""

from __future__ import annotations

LANES = 4
"""Stacks stepped together, with steps of their own."""

WATER_J_KGK = 4180.0
"""Specific heat of water [J/(kg K)]."""

STEAM_J_KGK = 1900.0
"""Specific heat of water vapour [J/(kg K)]."""

BOILING_C = 100.0
"""Boiling point at the pressure below [C]."""

VAPORISATION_J_KG = 2.2565e6
"""Heat of vaporisation at 100 C [J/kg]."""

STEAM_AT_BOILING_J_KG = WATER_J_KGK * BOILING_C + VAPORISATION_J_KG
"""Enthalpy of steam at 100 C over that of water at 0 C [J/kg]."""

ATMOSPHERE_PA = 101325.0
"""Pressure of the room [Pa]."""

AIR_LEFT = 0.1
"""Share of air that Stefan's factor never goes below: steam then flows 10 times as easily [-]."""

STEFAN_EASE = 0.2
"""Width over which it gets there, in shares of the room's pressure [-]."""

EASE_PA = 3000.0
"""Width over which the way out sideways opens [Pa]."""

REGAIN_SHAPE = (0.578, 0.321, 1.262)
"""Factor and two poles of the regain curve: u = f (a + b) phi / ((a + phi)(b - phi)) [-]."""

SORPTION_J_KG = 1.16e6
"""Heat of sorption of the first water, on top of vaporisation [J/kg]."""

SORPTION_FALL = 0.85
"""Water, in regains at 65 %, at which the heat of sorption has sunk to a quarter [-]."""

SATURATION_ROOT = (
    4.224388217682022,
    1.8844513311785591,
    -0.1582380944410161,
    -0.02307958316462627,
    0.019376106241490443,
    -0.00515562493890228,
    0.0005498756297979135,
)
"""Coefficients of the eighth root of saturation pressure [Pa] in powers of (T - 100 C)/100 K."""

COLDEST_C = -40.0
HOTTEST_C = 350.0
"""Temperatures that the polynomial is held at beyond [C]."""

SATURATED = 2.64
"""Water from which it is free, as drops between the fibres: the regain curve's end [regains]."""

FREE_EASE = 0.5
"""Width over which water comes free [regains]."""

ACTIVITY_EASE = 0.2
"""Width over which the activity of water bends over to 1 [-]."""

LEAST_REGAIN = 1.0e-4
"""Regain that stands for none [kg/kg]."""

WET_CONTACT_LIMIT = 2.0
"""Water in kg/kg from which contact and conduction rise no more [-]."""

# RODAS3: four stages, third order, stiffly accurate, one matrix (Sandu and others 1997, from memory;
# the order is measured in the tests).
DIAGONAL = 0.5
