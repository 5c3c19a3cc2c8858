"""Where on the repeat matched pieces meet: several places are tried, the shortest lay decides."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from samite.lay._improve import first_lay

if TYPE_CHECKING:
    from collections.abc import Iterator

    from samite.lay._lattice import Lattice
    from samite.lay._model import Model, State

MOST_TRIES = 16
"""Phases that are tried at most."""

PLACEMENTS = 480
"""Placements that all trial lays together may make; the more pieces, the fewer trials."""


def best_phase(model: Model) -> tuple[Model, State | None]:
    """Return the model with the phases that give the shortest first lay, and that lay."""
    best, found = model, first_lay(model)
    if not model.lattice.loose:
        return best, found
    length = math.inf if found is None else model.length_of(found)
    tries = min(MOST_TRIES, PLACEMENTS // max(model.movable, 1))
    for lattice in _shifted(model.lattice, tries):
        other = model.on_lattice(lattice)
        lay = first_lay(other)
        if lay is not None and other.length_of(lay) < length - 1e-6:
            best, found, length = other, lay, other.length_of(lay)
    return best, found


def _shifted(lattice: Lattice, tries: int) -> Iterator[Lattice]:
    """Yield lattices whose loose phases lie elsewhere on the repeat, spread evenly."""
    for k in range(1, tries):
        phase = dict(lattice.phase)
        for number, (root, (along, across)) in enumerate(lattice.loose.items()):
            x, y = phase[root]
            phase[root] = (
                x + along * lattice.repeat[0] * _even(k + 7 * number, 2),
                y + across * lattice.repeat[1] * _even(k + 7 * number, 3),
            )
        yield replace(lattice, phase=phase)


def _even(k: int, base: int) -> float:
    """Return the k-th of numbers from 0 to 1 that fill it evenly: the digits of k mirrored."""
    value, size = 0.0, 1.0
    while k > 0:
        size /= base
        k, digit = divmod(k, base)
        value += digit * size
    return value
