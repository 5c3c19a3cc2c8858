"""The press window of a cloth, computed for the card and for the press page."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.press.recipe import Recipe
from samite.tables.irons import Iron

if TYPE_CHECKING:
    from samite.press.decide import Window
    from samite.services.learning import Taught

FINALISTS_SHOWN = 4
FINALISTS_ON_CARD = 2
"""Plans computed with all draws, on the press page and on the card."""

KEPT = 32
"""Windows kept: a bench asks again for the cloth it has just asked for, in other words."""


def compute_window(
    cloth: Cloth,
    recipe: Recipe,
    iron: Iron,
    *,
    order: str = "open",
    everything: bool = False,
    taught: Taught | None = None,
) -> Window:
    """Compute the press window of a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    recipe : Recipe
        The recipe from limits.
    iron : Iron
        The iron at hand.
    order : str
        How the seam lies: ``open``, ``to one side``, ``french`` or ``edge``.
    everything : bool
        Compute the techniques too that the limits bar.
    taught : Taught or None
        What swatches taught of the cloth.

    Returns
    -------
    Window
        Chances of the techniques, and the best.
    """
    from samite.press.decide import press_window
    from samite.press.window import seam_of, usual_bench

    support = recipe.support if recipe.support != "none" else "board"
    bench = usual_bench(support, iron)
    finalists = FINALISTS_SHOWN if everything else FINALISTS_ON_CARD
    if taught is None:
        return press_window(
            seam_of(cloth, order), recipe, bench, everything=everything, finalists=finalists
        )
    return press_window(
        seam_of(cloth, order),
        recipe,
        bench,
        everything=everything,
        finalists=finalists,
        draws_of=taught.learnt.draws_of,
        experience=taught.caution,
    )


@lru_cache(maxsize=KEPT)
def kept_window(
    label: str, recipe: Recipe, iron: Iron, *, order: str = "open", everything: bool = False
) -> Window:
    """Compute the press window of a cloth by its label alone, and keep it for who asks the same.

    Parameters
    ----------
    label : str
        What the bolt says.
    recipe : Recipe
        The recipe from limits.
    iron : Iron
        The iron at hand.
    order : str
        How the seam lies: ``open``, ``to one side``, ``french`` or ``edge``.
    everything : bool
        Compute the techniques too that the limits bar.

    Returns
    -------
    Window
        Chances of the techniques, and the best; no swatch was learnt from.
    """
    cloth = build_cloth(read_label(label))
    return compute_window(cloth, recipe, iron, order=order, everything=everything)
