"""What is the same in every way to join the same cloths: plies, forces of the cloths, load."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.seam import traits
from samite.seam.bulk import PRESSED_SHARE, stack_thickness_mm
from samite.seam.candidate import Candidate, Settled
from samite.seam.forces import cloth_limit_n_per_cm, load_n_per_cm
from samite.seam.gathering import gathering_class, gathering_ratio
from samite.seam.sides import sewn_cloths
from samite.seam.stacking import joint_stacks
from samite.seam.wants import Wants


@dataclass(frozen=True)
class Ground:
    """What is the same in every way to join the same cloths, computed once.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    settled : Settled
        Needle and thread.
    use : Use
        What the seam has to bear.
    """

    wants: tuple[Wants, ...]
    settled: Settled
    use: Use

    @cached_property
    def cloths(self) -> tuple[Cloth, ...]:
        """The cloths."""
        return tuple(one.cloth for one in self.wants)

    @cached_property
    def sewn_mm(self) -> float:
        """Thickness under the stitch, pressed [mm]."""
        plies = plies_mm(sewn_cloths(self.cloths, self.settled.behind), self.use)
        return stack_thickness_mm(thicknesses_mm=plies, pressed_share=PRESSED_SHARE)

    @cached_property
    def load(self) -> float:
        """Load that the seam has to bear [N/cm]."""
        return load_n_per_cm(self.cloths, self.use)

    @cached_property
    def limits(self) -> dict[float, dict[str, float]]:
        """Force at which each cloth breaks along its holes, by stitch length, filled as asked."""
        return {}

    @cached_property
    def stacks(self) -> dict[str, list[float]]:
        """Plies at the thickest place, by form, filled as asked."""
        return {}

    @cached_property
    def kind(self) -> str:
        """Class under which the table gives minutes."""
        return minutes_class(self.cloths)

    def limits_of(self, candidate: Candidate) -> dict[str, float]:
        """Return the force at which each cloth breaks along the needle's holes.

        Parameters
        ----------
        candidate : Candidate
            The seam.

        Returns
        -------
        dict of str to float
            By the cloth in words [N/cm].
        """
        length = candidate.stitch.length_mm
        if length not in self.limits:
            self.limits[length] = {
                one.name: cloth_limit_n_per_cm(one.cloth, candidate, self.settled)
                for one in self.wants
            }
        return self.limits[length]

    def stack_of(self, candidate: Candidate) -> list[float]:
        """Return the plies at the thickest place.

        Parameters
        ----------
        candidate : Candidate
            The seam.

        Returns
        -------
        list of float
            From the iron down [mm].
        """
        if candidate.form not in self.stacks:
            layers = thickest_layers(candidate, self.cloths, self.use)
            self.stacks[candidate.form] = [mm for _, mm in layers]
        return self.stacks[candidate.form]


def plies_mm(plies: tuple[Cloth, ...], use: Use) -> list[float]:
    """Return the thickness of each ply in the seam line; the lightest cloth is the gathered one.

    Parameters
    ----------
    plies : tuple of Cloth
        The cloth of each ply.
    use : Use
        What the seam has to bear.

    Returns
    -------
    list of float
        One a ply [mm].
    """
    found = [traits.sewn_thickness_mm(cloth) for cloth in plies]
    if use.gathered:
        light = min(plies, key=lambda cloth: cloth.mass_per_area_gsm.value)
        fuller = gathering_ratio(cloth_class=gathering_class(light)).value
        first = next(index for index, cloth in enumerate(plies) if cloth is light)
        found[first] *= fuller
    return found


def thickest_layers(
    candidate: Candidate, cloths: tuple[Cloth, ...], use: Use
) -> list[tuple[Cloth, float]]:
    """Return the plies of a pressed joint where it is thickest, as they truly lie.

    Parameters
    ----------
    candidate : Candidate
        The seam.
    cloths : tuple of Cloth
        The cloths.
    use : Use
        What the seam has to bear.

    Returns
    -------
    list of (Cloth, float)
        Cloth and thickness of each ply from the iron down [mm].
    """
    stacks = joint_stacks(candidate.form, cloths, upper=candidate.upper, behind=candidate.behind)
    found = []
    for stack in stacks:
        plies = tuple(layer.cloth for layer in stack.layers)
        found.append(list(zip(plies, plies_mm(plies, use), strict=True)))
    return max(found, key=lambda layers: sum(mm for _, mm in layers))


def minutes_class(cloths: tuple[Cloth, ...]) -> str:
    """Return the class under which the table gives minutes.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths; the slowest decides.

    Returns
    -------
    str
        ``plain``, ``slippery``, ``pile``, ``sequins`` or ``sheet``.
    """
    if any(traits.is_sewn_hard(cloth) for cloth in cloths):
        return "sequins"
    if any(cloth.has(PartKind.PILE) for cloth in cloths):
        return "pile"
    if any(traits.is_sheet(cloth) for cloth in cloths):
        return "sheet"
    slides = any(cloth.slippery >= 2 or cloth.sheer for cloth in cloths)
    return "slippery" if slides else "plain"
