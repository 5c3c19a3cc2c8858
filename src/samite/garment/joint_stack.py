"""The plies of a joint in their true order, as the seam hands them to the press."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from samite.cloth.model import Cloth


@dataclass(frozen=True, slots=True)
class JointLayer:
    """One ply of a joint.

    Parameters
    ----------
    cloth : Cloth
        What the ply is of.
    role : str
        ``allowance`` or ``garment``.
    face : str
        ``up`` or ``down``: where its right side looks while the wrong side of the garment is up.
    """

    cloth: Cloth
    role: str
    face: str

    @property
    def name(self) -> str:
        """The ply in words."""
        return f"{self.cloth.structure_name}, {self.role}"


@dataclass(frozen=True, slots=True)
class JointStack:
    """The plies where a joint is thickest and pressed.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.
    layers : tuple of JointLayer
        From the side that the iron meets (wrong side up) down to the face.
    """

    form: str
    layers: tuple[JointLayer, ...]

    @property
    def thickness_mm(self) -> float:
        """Thickness of all plies, loose [mm]."""
        return sum(layer.cloth.thickness_mm.value for layer in self.layers)

    @property
    def cloths(self) -> tuple[Cloth, ...]:
        """Each cloth once, in the order of the plies."""
        return apart(layer.cloth for layer in self.layers)


def apart(cloths: Iterable[Cloth]) -> tuple[Cloth, ...]:
    """Return each cloth once.

    Parameters
    ----------
    cloths : iterable of Cloth
        The cloths, the same perhaps several times.

    Returns
    -------
    tuple of Cloth
        In their order.
    """
    found: list[Cloth] = []
    for cloth in cloths:
        if not any(cloth is known for known in found):
            found.append(cloth)
    return tuple(found)
