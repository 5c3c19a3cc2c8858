"""Where the seam may not lie flat: pressed as sewn, only along its line, as cool as sets it."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING

from samite.press.decide import LONGEST_S, WORTH_TRYING, Plan
from samite.press.pressing import Bench, Placement
from samite.press.techniques import STEAMS, Technique
from samite.press.window import DAMAGE_ALLOWED, SET_WANTED, Chances, press_chances, seam_of

if TYPE_CHECKING:
    from samite.cloth.model import Cloth
    from samite.press.decide import Window

EDGE_DRAWS = 64
"""Draws that the techniques are compared with."""

TOLD_DRAWS = 300
"""Draws that the chosen one is computed again with."""

AT_ONCE = 4
"""Techniques that are computed before asking whether one of them will do."""

HOPELESS = 0.2
"""Chance of damage after the first second from which a technique is not tried along the line [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class EdgePress:
    """The coolest press along the line of the seam that harms nothing.

    Parameters
    ----------
    plan : tuple of Placement
        Its passes; the seconds of the last are left open.
    chances : Chances
        What they do, second by second.
    index : int
        Which of the seconds is told.
    """

    plan: Plan
    chances: Chances
    index: int

    @property
    def chance_set(self) -> float:
        """Chance that the stitches are set into the cloth along the line [-]."""
        return float(self.chances.chance_set[self.index])

    @property
    def chance_damage(self) -> float:
        """Chance that the costume's pressing hurts some part [-]."""
        return float(self.chances.chance_damage[self.index])

    @property
    def sets(self) -> bool:
        """Whether it sets as surely as a press that is called safe."""
        return self.chance_set >= SET_WANTED


def edge_press(cloth: Cloth, window: Window, bench: Bench, *, stroked: bool) -> EdgePress | None:
    """Find the coolest press along the line that sets, with harm at most as allowed.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    window : Window
        The press window: what it bars stays barred, its plan is tried too.
    bench : Bench
        Iron, press cloth and support.
    stroked : bool
        Whether the iron moves.

    Returns
    -------
    EdgePress or None
        The coolest that sets; else the one that sets most often, if that is worth trying; None
        if there is none, or nothing may touch.

    Notes
    -----
    Two plies, faces together, as the seam comes from the machine; heat reaches its line through
    one ply. Damage is told for the whole costume, as everywhere.
    """
    wanted: list[Plan] = [
        (Placement(t, 0.0, stroked=stroked),) for t in sorted(_hopeful(window), key=_coolness)
    ]
    if window.best and window.before:
        wanted.append((*window.before, Placement(window.best.technique, 0.0, stroked=stroked)))
    seam = seam_of(cloth, "edge")

    def tried(plan: Plan, draws: int) -> EdgePress | None:
        chances = press_chances(seam, plan, bench, window.draws_of(draws, window.seed))
        index = _best_second(chances)
        return EdgePress(plan, chances, index) if index is not None else None

    found: list[EdgePress] = []
    with ThreadPoolExecutor(max_workers=2) as pool:
        for first in range(0, len(wanted), AT_ONCE):
            few = pool.map(lambda plan: tried(plan, EDGE_DRAWS), wanted[first : first + AT_ONCE])
            found += [item for item in few if item]
            if any(item.sets for item in found):
                break
    setting = [item for item in found if item.sets]
    chosen = setting[0] if setting else max(found, key=lambda e: e.chance_set, default=None)
    if chosen is None or chosen.chance_set < WORTH_TRYING:
        return None
    told = tried(chosen.plan, TOLD_DRAWS)
    return told if told and told.chance_set >= WORTH_TRYING else None


def _hopeful(window: Window) -> list[Technique]:
    """Return what touches, is not barred, and does not harm the opened seam at once."""
    return [
        chances.technique
        for chances in window.chances
        if chances.technique not in window.barred
        and not chances.technique.hovers
        and chances.damage_bound[0] <= HOPELESS
    ]


def _coolness(technique: Technique) -> tuple[int, int, int]:
    """Cooler first; of the same dial drier first, then through a cloth before bare."""
    clothed = {"dry": 0, "none": 1, "damp": 2}[technique.press_cloth]
    return technique.iron.dots, STEAMS.index(technique.steam), clothed


def _best_second(chances: Chances) -> int | None:
    """Return the first second that sets among those that harm nothing, else the one nearest to it."""
    harmless = [
        index
        for index, second in enumerate(chances.seconds)
        if second <= LONGEST_S and chances.damage_bound[index] <= DAMAGE_ALLOWED
    ]
    setting = [index for index in harmless if chances.chance_set[index] >= SET_WANTED]
    if setting:
        return setting[0]
    return max(harmless, key=lambda index: float(chances.chance_set[index]), default=None)
