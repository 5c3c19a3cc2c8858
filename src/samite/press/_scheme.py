"""The numbers of the batch solver's scheme, free of anything that takes long to load."""

from __future__ import annotations

WIDTH = 16
"""Stacks stepped together: as many as keep one step within the first cache."""

BOILING_C = 100.0
"""Temperature that a node with water does not pass [C]."""

WATER_J_KGK = 4180.0
"""Specific heat of water [J/(kg K)]."""

VAPORISATION_J_KG = 2.2565e6
"""Heat of vaporisation at 1 atm [J/kg]."""

GAMMA = 2.0 - 2.0**0.5
"""Share of the step that the trapezoidal stage takes; with it both stages share one matrix."""

OLD_SHARE = -((1.0 - GAMMA) ** 2) / (GAMMA * (2.0 - GAMMA))
STAGE_SHARE = 1.0 / (GAMMA * (2.0 - GAMMA))
