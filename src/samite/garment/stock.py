"""What is in the drawer: cloths as bought, remnants, needles and threads."""

from __future__ import annotations

from dataclasses import dataclass

from samite.garment.bench import require_words
from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between

NEEDLE_SIZES_NM = (30, 250)
"""Smallest and largest needle: blade diameter in hundredths of a millimetre."""

THREADS_TEX = (3.0, 400.0)
"""Finest and thickest thread that a machine or hand sews with [tex]."""


@dataclass(frozen=True, slots=True)
class KeptCloth:
    """A cloth as bought.

    Parameters
    ----------
    label : str
        What the bolt says.
    name : str
        What its owner calls it; may be empty.
    note : str
        Anything else.

    Raises
    ------
    InputError
        If the label is empty.
    """

    label: str
    name: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        require_words(label=self.label)

    @property
    def label_key(self) -> str:
        """The label without what does not change its meaning: space and capitals."""
        return " ".join(self.label.split()).casefold()


@dataclass(frozen=True, slots=True)
class NeedlePacket:
    """Needles in stock.

    Parameters
    ----------
    point : str
        Point, ``universal``, ``stretch`` and so on.
    size_nm : int
        Blade diameter in hundredths of a millimetre [Nm].
    count : int
        How many are left [1].
    note : str
        Anything else.

    Raises
    ------
    OutOfRangeError
        If there is no such size or number.
    """

    point: str
    size_nm: int
    count: int
    note: str = ""

    def __post_init__(self) -> None:
        require_words(point=self.point)
        require_between(*NEEDLE_SIZES_NM, size_nm=self.size_nm)
        require_between(0, 100_000, count=self.count)


@dataclass(frozen=True, slots=True)
class ThreadSpool:
    """Thread in stock.

    Parameters
    ----------
    fibre : str
        What it is spun from.
    linear_density_tex : float
        Mass of a kilometre of it [tex].
    length_m : float
        How much is left [m].
    colour : str
        In words; may be empty.
    note : str
        Anything else.

    Raises
    ------
    OutOfRangeError
        If there is no such thread or length.
    """

    fibre: str
    linear_density_tex: float
    length_m: float
    colour: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        require_words(fibre=self.fibre)
        require_between(*THREADS_TEX, linear_density_tex=self.linear_density_tex)
        require_between(0.0, 1e6, length_m=self.length_m)


@dataclass(frozen=True, slots=True)
class Remnant:
    """What is left of a cloth and worth keeping.

    Parameters
    ----------
    label : str
        What the bolt said.
    outline_mm : tuple of (float, float)
        Its outline, the lengthwise grain along x [mm].
    count : int
        How many there are of it.
    one_way : bool
        Whether its nap or figure runs along x.
    note : str
        Anything else.

    Raises
    ------
    InputError
        If the outline has fewer than three corners.
    OutOfRangeError
        If it is impossibly large, or there is none of it.
    """

    label: str
    outline_mm: tuple[tuple[float, float], ...]
    count: int = 1
    one_way: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        require_words(label=self.label)
        require_between(1, 1000, count=self.count)
        if len(self.outline_mm) < 3 or any(len(point) != 2 for point in self.outline_mm):
            raise InputError("no outline", "outline_mm", "give at least three corners [x, y]")
        for x, y in self.outline_mm:
            require_between(-1e5, 1e5, outline_mm=x)
            require_between(-1e5, 1e5, outline_mm=y)

    @property
    def size_mm(self) -> tuple[float, float]:
        """Its length and width [mm]."""
        xs, ys = zip(*self.outline_mm, strict=True)
        return max(xs) - min(xs), max(ys) - min(ys)
