"""Whose a doubt is: of the cloth, the iron, the day or the bench; and how others see it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from samite.press.draws import Draws
from samite.tables.learning import learning_value

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Real = NDArray[np.float64]

OF_THE_IRON = frozenset(
    {
        "sole temperature at this dial",
        "thermostat's swing",
        "mass of the sole",
        "recovery of the sole",
        "steam output",
    }
)
"""Doubts that belong to one iron."""

OF_THE_DAY = frozenset(
    {
        "room temperature",
        "humidity of the room",
        "air over the cloth",
        "water in the press cloth",
        "share of hover steam that reaches the cloth",
        "strokes",
    }
)
"""Doubts that are others tomorrow: nothing that was learnt of them is kept."""

OF_THE_CLOTH = (
    "of the cloth",
    "contact of iron and cloth",
    "contact between plies",
    "contact when wet",
    "wicking",
    "vapour between plies",
    "escape of steam",
    "limit of the",
    "glass transition of the",
    "marks from drops",
)
"""Words that doubts about one cloth begin with, or contain."""


def owner_of(doubt: str) -> str:
    """Return whose a doubt is.

    Parameters
    ----------
    doubt : str
        Its name.

    Returns
    -------
    str
        ``cloth``, ``iron``, ``day`` or ``bench``: press cloth, support, laws of vapour.
    """
    if doubt in OF_THE_IRON:
        return "iron"
    if doubt in OF_THE_DAY:
        return "day"
    return "cloth" if any(words in doubt for words in OF_THE_CLOTH) else "bench"


def kind_share() -> float:
    """Return what cloths of one kind share of the variance of a doubt.

    Returns
    -------
    float
        Share, which is the correlation between two of them [-].
    """
    return learning_value("cloth kind_share_percent").value / 100.0


class SeenFrom(Draws):
    """Draws as another cloth of the kind, or another iron, has them.

    Parameters
    ----------
    whole : Draws
        The draws of the cloth and iron that are asked about.
    cloth_key : str
        Key of the other cloth; empty for the same.
    iron_key : str
        Key of the other iron; empty for the same.

    Notes
    -----
    Two cloths of one kind have a part of each doubt in common, with a correlation of `kind_share`
    between any two; another iron has doubts of its own.
    """

    def __init__(self, whole: Draws, *, cloth_key: str = "", iron_key: str = "") -> None:
        super().__init__(whole.count, whole.seed)
        self.whole, self.other = whole, (cloth_key, iron_key)
        self._whole, self._cloth, self._iron = whole, cloth_key, iron_key

    def score(self, name: str) -> Real:
        """Return the scores of a doubt as the other has it.

        Parameters
        ----------
        name : str
            What is in doubt.

        Returns
        -------
        ndarray of float, shape (count,)
            Standard normal scores.
        """
        owner = owner_of(name)
        if owner == "iron" and self._iron:
            return self._whole.score(f"{name}, iron {self._iron}")
        if owner == "cloth" and self._cloth:
            return self._of_the_kind(name)
        return self._whole.score(name)

    def _of_the_kind(self, name: str) -> Real:
        common, own = math.sqrt(kind_share()), math.sqrt(1.0 - kind_share())
        kind = common * self._whole.score(name) + own * self._whole.score(f"{name}, its kind")
        return common * kind + own * self._whole.score(f"{name}, cloth {self._cloth}")
