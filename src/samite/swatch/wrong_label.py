"""What if the label is wrong: each limit of a fibre may be that of another, with a small chance."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from samite.cloth.model import Cloth
from samite.press.draws import normal_cdf
from samite.press.weakness import Weakness, weaknesses
from samite.swatch.limits import EDGES, PRIOR
from samite.tables.learning import learning_value
from samite.tables.press_limits import press_limits, shrink_limits

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from samite.swatch.study import Study

    Real = NDArray[np.float64]

CLASSES = (
    "acetate",
    "acrylic",
    "cotton",
    "linen",
    "modacrylic",
    "polyamide",
    "polyester",
    "polypropylene",
    "silk",
    "triacetate",
    "viscose",
    "wool",
)
"""Fibres that cloth is sold of, each as likely where a label is wrong (guess)."""

TOLD_FROM = 0.2
"""Chance from which it is told that a label may be wrong [-]."""


@dataclass(frozen=True, slots=True)
class LabelDoubt:
    """A part that behaves unlike the fibre on its label.

    Parameters
    ----------
    part : str
        The part in words, with the fibre that the label names.
    hurt : str
        How it is hurt.
    chance : float
        Chance that the label is wrong of it [-].
    before : float
        The same before any swatch [-].
    like : tuple of tuple of (str, float)
        Fibres that it behaves like and what of the chance is theirs, the likeliest first [-].
    """

    part: str
    hurt: str
    chance: float
    before: float
    like: tuple[tuple[str, float], ...]


def priors_of(cloth: Cloth) -> dict[str, Real]:
    """Return the chance of each cell of the limits that a wrong label would move.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    dict of str to ndarray of float, shape (cells,)
        By doubt; what is not there has the table's own [-].

    Notes
    -----
    The label is right but for a stated chance; then any other fibre of `CLASSES` is as likely, with
    its own limit as the tables have it. Parts are doubted each by itself. Heat, thickness and the
    setting of the seam stay those of the label: what is moved is what hurts.

    References
    ----------
    derivation, docs/models/swatch.md.
    """
    wrong = wrong_share()
    found = {}
    for part in weaknesses(cloth):
        others = _others(part)
        if others:
            cells = np.mean(list(others.values()), axis=0)
            found[part.doubt] = (1.0 - wrong) * PRIOR + wrong * cells
    return found


def wrong_share() -> float:
    """Return the chance that a label is wrong of a part before anything was pressed.

    Returns
    -------
    float
        Chance [-].
    """
    return learning_value("label wrong_percent").value / 100.0


def _others(part: Weakness) -> dict[str, Real]:
    """Return the chance of each cell of a part's limit, were it of another fibre."""
    fibre = part.name.partition(": ")[2]
    table = {"glazes": press_limits(), "scorches": press_limits(), "shrinks": shrink_limits()}
    limits = table.get(part.hurt, {})
    if fibre not in CLASSES or fibre not in limits or part.limit_c.low >= part.limit_c.high:
        return {}
    at = part.limit_c.at(EDGES)
    found = {}
    for name in CLASSES:
        if name in limits and name != fibre:
            cells = np.diff(normal_cdf(limits[name].score(at)))
            found[name] = cells / max(float(cells.sum()), 1e-300)
    return found


def label_doubts(known: Study, cloth: Cloth) -> tuple[LabelDoubt, ...]:
    """Return the parts of which the swatches contradict the label.

    Parameters
    ----------
    known : Study
        What was weighed.
    cloth : Cloth
        The cloth that was asked about.

    Returns
    -------
    tuple of LabelDoubt
        The likeliest first; only those that are worth telling, and likelier than before.

    References
    ----------
    derivation, docs/models/swatch.md.
    """
    found = [
        doubt
        for part in weaknesses(cloth)
        if part.doubt in known.limits.doubts and (doubt := _doubt(known, part))
    ]
    return tuple(sorted(found, key=lambda item: -item.chance))


def _doubt(known: Study, part: Weakness) -> LabelDoubt | None:
    others = _others(part)
    if not others:
        return None
    wrong, table = wrong_share(), known.limits.below[known.limits.doubts.index(part.doubt)]
    cells = np.diff(known.weights @ table)
    apiece = wrong / len(others)
    prior = (1.0 - wrong) * PRIOR + apiece * np.sum(list(others.values()), axis=0)
    chances: Mapping[str, float] = {
        name: float(cells @ (apiece * shape / prior)) for name, shape in others.items()
    }
    chance = sum(chances.values())
    if chance < TOLD_FROM:
        return None
    like = sorted(chances.items(), key=lambda item: -item[1])
    kept = tuple((name, share) for name, share in like if share >= 0.05 * chance)
    return LabelDoubt(part.name, part.hurt, chance, wrong, kept)
