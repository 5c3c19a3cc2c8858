"""What is told of the chosen plan: chances on other draws than those that chose it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from samite.press.window import Chances

TOLD_AFTER = 1
"""How far the seed of the draws that tell lies after that of the draws that choose."""


def careful(chances: Chances) -> Chances:
    """Return chances whose damage has its own standard error added.

    Parameters
    ----------
    chances : Chances
        On draws that chose nothing.

    Returns
    -------
    Chances
        The same, with harm as it is told.

    Notes
    -----
    A mean over few draws is as often under the truth as over it; one standard error more puts it under in
    one case of six. Errs to the careful side, most where few draws are left after many swatches.

    References
    ----------
    derivation, docs/models/press.md.
    """
    told = np.minimum(chances.chance_damage + chances.standard_error, 1.0)
    return replace(chances, chance_damage=told)


def told_apart(chooser: Chances, again: Chances) -> tuple[Chances, Chances]:
    """Return what chose and what is told of it, of one mind about the window.

    Parameters
    ----------
    chooser : Chances
        A plan on the draws that chose it: the luckiest of many estimates, so too good as a rule.
    again : Chances
        The same plan on other draws.

    Returns
    -------
    Chances
        What chose; its window holds only the seconds that both draws allow.
    Chances
        What is told, with the same window.

    References
    ----------
    derivation, docs/models/press.md.
    """
    return replace(chooser, agreed=again.holds), replace(careful(again), agreed=chooser.holds)
