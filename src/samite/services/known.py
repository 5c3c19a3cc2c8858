"""What is known of a cloth from its swatches, gathered for the engine."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from samite.kernel.errors import InputError
from samite.services.journal_views import find_cloth
from samite.store.store import Store
from samite.swatch.trial import Swatch

if TYPE_CHECKING:
    from samite.cloth.model import Cloth
    from samite.swatch.update import Learnt
    from samite.tables.irons import Iron


@dataclass(frozen=True, slots=True)
class Known:
    """A cloth with its swatches.

    Parameters
    ----------
    key : str
        Its key in the store; empty if it is not kept.
    label : str
        What the bolt says.
    swatches : tuple of Swatch
        Its swatches, those set aside among them.
    iron_key : str
        Key of the iron that is asked about.
    maker : str
        Whose hand.
    """

    key: str
    label: str
    swatches: tuple[Swatch, ...] = ()
    iron_key: str = ""
    maker: str = ""

    @property
    def count(self) -> int:
        """Swatches that are not set aside [1]."""
        return sum(not item.set_aside for item in self.swatches)

    def learnt(self, cloth: Cloth, iron: Iron) -> Learnt:
        """Learn from the swatches.

        Parameters
        ----------
        cloth : Cloth
            The cloth.
        iron : Iron
            The iron that the answer is for.

        Returns
        -------
        Learnt
            What is known now.
        """
        from samite.swatch.update import Asked, learn

        return learn(Asked(cloth, iron, self.iron_key, self.maker), self.swatches)


def known_of(path: Path, label: str, *, iron_key: str = "", maker: str = "") -> Known:
    """Gather what is kept of a cloth.

    Parameters
    ----------
    path : Path
        File of the store; it need not be there.
    label : str
        What the bolt says, or a key.
    iron_key : str
        Key of the iron that is asked about.
    maker : str
        Whose hand.

    Returns
    -------
    Known
        Without swatches if none is kept.
    """
    try:
        with Store(path, write=False) as store:
            cloth = find_cloth(store, label)
            kept = store.swatches_of(cloth.key, most=max(store.count_of(cloth.key), 1))
            return Known(
                cloth.key, cloth.value.label, tuple(item.value for item in kept), iron_key, maker
            )
    except InputError:
        return Known("", label, (), iron_key, maker)
