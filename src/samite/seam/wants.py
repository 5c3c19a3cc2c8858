"""What each cloth of a joint wants by itself."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.kernel.reasons import Advice
from samite.seam import traits
from samite.seam.handling import Step, feed
from samite.seam.holding import Holding, choose_holding
from samite.seam.joint import Seam, choose_seam
from samite.seam.needle import Needle, choose_needle
from samite.seam.stitch import Stitch, choose_stitch
from samite.seam.thread import Thread, choose_tex, choose_thread

BIAS_STRETCH_PERCENT = 20.0
"""Stretch along the bias of a weave without elastane (guess) [%]."""

RUNS = ("any", "along", "across", "bias")
"""How a seam may run in a cloth: along its length, across, on the bias; any takes the largest."""


@dataclass(frozen=True)
class Wants:
    """One cloth with what it wants by itself.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What the seam has to bear.
    run : str
        How the seam runs in it, one of `RUNS`.
    """

    cloth: Cloth
    use: Use
    run: str = "any"

    @property
    def name(self) -> str:
        """The cloth in words."""
        return self.cloth.structure_name

    @cached_property
    def tex(self) -> Advice[int]:
        """Fineness of its thread."""
        return choose_tex(self.cloth)

    @cached_property
    def stitch(self) -> Advice[Stitch]:
        """Its stitch."""
        return choose_stitch(self.cloth, self.use)

    @cached_property
    def needle(self) -> Advice[Needle]:
        """Its needle."""
        return choose_needle(self.cloth, self.tex.value, self.stitch.value.length_mm)

    @cached_property
    def thread(self) -> Advice[Thread]:
        """Its threads."""
        return choose_thread(self.cloth, self.tex)

    @cached_property
    def seam(self) -> Advice[Seam]:
        """Its seam and finish."""
        return choose_seam(self.cloth, self.use)

    @cached_property
    def holding(self) -> Advice[Holding]:
        """How it is held."""
        return choose_holding(self.cloth)

    @cached_property
    def feed(self) -> Advice[Step]:
        """How it is fed."""
        return feed(self.cloth)

    @cached_property
    def stretch_percent(self) -> float:
        """Stretch along the seam, in the direction that the seam runs [%]."""
        cloth = self.cloth
        along, across = cloth.stretch_length_percent.value, cloth.stretch_cross_percent.value
        if self.run == "along":
            return along
        if self.run == "across":
            return across
        if self.run == "bias":
            woven = cloth.construction == "woven" and not traits.is_sheet(cloth)
            return max(along, across, BIAS_STRETCH_PERCENT if woven else 0.0)
        return max(along, across)


def wanted(cloths: tuple[Cloth, ...], use: Use, runs: tuple[str, ...] = ()) -> tuple[Wants, ...]:
    """Return what each cloth wants by itself.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths; one that is named twice counts once in computing.
    use : Use
        What the seam has to bear.
    runs : tuple of str
        How the seam runs in each; ``any`` for those not said.

    Returns
    -------
    tuple of Wants
        In the order of the cloths.
    """
    found: list[Wants] = []
    for index, cloth in enumerate(cloths):
        run = runs[index] if index < len(runs) else "any"
        same = next((one for one in found if one.cloth is cloth and one.run == run), None)
        found.append(same or Wants(cloth, use, run))
    return tuple(found)


def each(wants: tuple[Wants, ...]) -> tuple[Wants, ...]:
    """Return each cloth once.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths, the same perhaps twice.

    Returns
    -------
    tuple of Wants
        In their order.
    """
    found: list[Wants] = []
    for one in wants:
        if not any(one is known for known in found):
            found.append(one)
    return tuple(found)
