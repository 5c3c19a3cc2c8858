"""The plies of a joint in their true order, as the seam hands them to the press."""

from __future__ import annotations

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
        found: list[Cloth] = []
        for layer in self.layers:
            if not any(layer.cloth is known for known in found):
                found.append(layer.cloth)
        return tuple(found)
