"""What is kept in the store and serves a job, each thing deducted once."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Generic, TypeVar

from samite.buy.stock import laid_on_remnants_mm
from samite.garment.stock import ThreadSpool
from samite.project.model import Drawer
from samite.services.job_units import metres_words, thread_words
from samite.store.kinds import NEEDLE, REMNANT, THREAD
from samite.store.store import Store

NARROWER_MM = 20.0
"""How much narrower than the lay a remnant may be: a selvedge [mm] (guess)."""

ALIKE = 0.15
"""How far the fineness of a thread may be off and it serves [-] (guess)."""


def drawer_of(path: Path) -> Drawer:
    """Return what the store holds that a job could use up.

    Parameters
    ----------
    path : Path
        File of the store.

    Returns
    -------
    Drawer
        Empty if there is no store.
    """
    if not path.exists():
        return Drawer()
    with Store(path, write=False) as store:
        return Drawer(
            tuple(item.value for item in store.all(REMNANT)),
            tuple(item.value for item in store.all(THREAD)),
            tuple(item.value for item in store.all(NEEDLE)),
        )


@dataclass(frozen=True, slots=True)
class Had:
    """What of one line is there.

    Parameters
    ----------
    amount : float
        How much of it serves [m or count].
    words : str
        What is said beside the line; empty if there is nothing.
    """

    amount: float = 0.0
    words: str = ""


Item = TypeVar("Item")


@dataclass(slots=True)
class _Left(Generic[Item]):
    """A kept thing, and how much of it no line has taken yet."""

    amount: float
    item: Item


class Stock:
    """The drawer while a list is made: what one line has taken is gone for the next.

    Parameters
    ----------
    drawer : Drawer
        What is kept.
    units : str
        ``metric`` or ``imperial``.
    """

    def __init__(self, drawer: Drawer, units: str) -> None:
        self._units = units
        self._lengths = [
            (*one.size_mm, " ".join(one.label.split()).casefold())
            for one in drawer.remnants
            for _ in range(one.count)
        ]
        self._threads = [_Left(one.length_m, one) for one in drawer.threads]
        self._needles = [_Left(float(one.count), one) for one in drawer.needles]

    def cloth(self, label: str, lay: Mapping[str, Any], straighten_mm: float) -> Had:
        """Take the remnants of a cloth that pieces of its lay go on.

        Parameters
        ----------
        label : str
            What the bolt says.
        lay : mapping of str to object
            Its lay in one width, with the spans of its pieces.
        straighten_mm : float
            Cloth lost at each end [mm].

        Returns
        -------
        Had
            Length of the lay that need not be bought [m].
        """
        key = " ".join(label.split()).casefold()
        own = [one for one in self._lengths if one[2] == key]
        wide = [one for one in own if one[1] >= lay["width_mm"] - NARROWER_MM]
        wide.sort(key=lambda one: -one[0])
        repeat = lay["problem"]["repeat_mm"]
        taken = laid_on_remnants_mm(
            spans_mm=[(begin, end) for begin, end in lay.get("spans_mm", ())],
            lengths_mm=[one[0] for one in wide],
            gap_mm=lay["problem"]["gap_mm"],
            straighten_mm=straighten_mm,
            whole=bool(repeat["along"] or repeat["across"]),
        )
        for one, length in zip(wide, taken, strict=True):
            if length:
                self._lengths.remove(one)
        whole = sum(one[0] for one in own) / 1000.0
        if not own:
            return Had()
        used = sum(taken) / 1000.0
        there = f"have {metres_words(whole, self._units, down=True)} in stock"
        if used:
            return Had(
                used, f"{there}: {metres_words(used, self._units, down=True)} of the lay goes on it"
            )
        return Had(0.0, f"{there}: no section of the lay goes on it; a piece may")

    def thread(self, fibre: str, tex: float, colour: str, metres: float) -> Had:
        """Take thread of a fibre, fineness and colour.

        Parameters
        ----------
        fibre : str
            What it is spun from.
        tex : float
            Its fineness [tex].
        colour : str
            Colour of the cloth, in words; empty if nobody said.
        metres : float
            How much is wanted [m].

        Returns
        -------
        Had
            What is taken [m]; where a colour is not said nothing is, but it is told.
        """
        alike = [
            one
            for one in self._threads
            if one.item.fibre.casefold() == fibre.casefold()
            and math.isclose(one.item.linear_density_tex, tex, rel_tol=ALIKE)
            and one.amount > 0.0
        ]
        wanted = colour.strip().casefold()
        matching = [one for one in alike if wanted and _colour(one.item) == wanted]
        there = sum(one.amount for one in matching)
        if matching:
            taken = _take(matching, metres)
            return Had(taken, f"have {thread_words(there, self._units)} in stock")
        if not alike:
            return Had()
        told = ", ".join(
            f"{thread_words(one.amount, self._units)} {one.item.colour or 'of a colour not said'}"
            for one in alike
        )
        return Had(0.0, f"in stock, if its colour serves: {told}")

    def needles(self, point: str, size: int, wanted: float) -> Had:
        """Take needles of a point and size.

        Parameters
        ----------
        point : str
            Their point.
        size : int
            Their size [Nm].
        wanted : float
            How many are wanted [count].

        Returns
        -------
        Had
            What is taken [count].
        """
        own = [one for one in self._needles if (one.item.point, one.item.size_nm) == (point, size)]
        whole = sum(one.amount for one in own)
        return Had(_take(own, wanted), f"have {whole:.0f} in stock") if whole else Had()


def _take(held: Sequence[_Left[Any]], wanted: float) -> float:
    """Take what is wanted, as far as it is there, and return how much that was."""
    left = wanted
    for one in held:
        used = min(left, one.amount)
        one.amount -= used
        left -= used
    return wanted - left


def _colour(spool: ThreadSpool) -> str:
    return spool.colour.strip().casefold()


def spans_of(steps: Sequence[Any]) -> list[list[float]]:
    """Return from where to where the pieces of a lay reach along the cloth.

    Parameters
    ----------
    steps : sequence of CutStep
        The lay as it is cut.

    Returns
    -------
    list of list of float
        Begin and end of each [mm].
    """
    return [[round(end, 3) for end in step.ends_mm] for step in steps]
