"""What a lay leaves over goes back to the stock, with its outline."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from samite.garment.stock import Remnant
from samite.lay.problem import Lay, Problem
from samite.lay.remnants import Offcut, check_offcut, offcuts
from samite.store.kinds import REMNANT
from samite.store.store import Store

LEAST_MM = 120.0
"""Nothing narrower or shorter is worth keeping [mm]."""


def lay_offcuts(problem: Problem, lay: Lay, bought_mm: float) -> tuple[Offcut, ...]:
    """Return what is left of the cloth and worth keeping, each checked against the lay.

    Parameters
    ----------
    problem : Problem
        The cloth.
    lay : Lay
        What is cut from it.
    bought_mm : float
        Length of the cloth [mm].

    Returns
    -------
    tuple of Offcut
        The largest first.
    """
    found = offcuts(problem, lay, bought_mm=bought_mm, least_mm=LEAST_MM)
    return tuple(one for one in found if check_offcut(problem, lay, one))


def offcut_json(offcut: Offcut) -> dict[str, Any]:
    """Return the JSON form of an offcut.

    Parameters
    ----------
    offcut : Offcut
        The offcut.

    Returns
    -------
    dict of str to object
        ``outline_mm``, where it lies, how many layers it has and how many pieces it is.
    """
    return {
        "outline_mm": [list(point) for point in offcut.outline_mm],
        "low_mm": list(offcut.low_mm),
        "length_mm": offcut.length_mm,
        "width_mm": offcut.width_mm,
        "layers": offcut.layers,
        "on_fold": offcut.on_fold,
        "pieces": offcut.pieces,
    }


def keep_offcuts(
    path: Path, label: str, found: Sequence[Offcut], on: date, *, one_way: bool
) -> list[str]:
    """Put offcuts into the stock.

    Parameters
    ----------
    path : Path
        File of the store.
    label : str
        The cloth as its label says.
    found : sequence of Offcut
        The offcuts.
    on : date
        Today.
    one_way : bool
        Whether the cloth runs one way.

    Returns
    -------
    list of str
        Their keys.
    """
    if not found:
        return []
    with Store(path) as store, store.act(f"remnants of {label[:60] or 'cloth'}", on) as changes:
        return [
            changes.add(
                REMNANT,
                Remnant(label or "cloth", one.outline_mm, one.pieces, one_way, "left by a lay"),
            ).key
            for one in found
        ]
