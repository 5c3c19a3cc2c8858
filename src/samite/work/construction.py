"""What a costume is made of, as far as its order of work asks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from samite.work.operation import Setting
from samite.work.problem import UNKNOWN


@dataclass(frozen=True, slots=True)
class ClothWork:
    """A cloth and how it is worked.

    Parameters
    ----------
    name : str
        Its name.
    cloth_class : str
        ``plain``, ``slippery``, ``pile``, ``sequins`` or ``sheet``.
    heat : str
        Heat at which it is pressed, ``low``, ``medium`` or ``high``; empty if it bears no iron.
    swatches : Setting
        What the machine is set to for its tests.
    overlock_thread : str
        Thread of the overlocker for its edges; empty if they are not overlocked.
    washed : bool
        Whether it is washed before cutting, and has to dry.
    leaves : tuple of str
        What cutting and sewing it leaves behind.
    shuns : tuple of str
        What must not lie about when it is worked.
    """

    name: str
    cloth_class: str = "plain"
    heat: str = "medium"
    swatches: Setting = UNKNOWN
    overlock_thread: str = ""
    washed: bool = True
    leaves: tuple[str, ...] = ()
    shuns: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PieceWork:
    """A piece, or several that are alike.

    Parameters
    ----------
    name : str
        Its name.
    cloth : str
        Name of its cloth.
    outline_m : float
        Length of the cut line of one [m].
    count : int
        How many [1].
    curve_m : float
        Curved edge to staystitch, of one [m].
    interfaced_m2 : float
        Area that is interfaced, of one [m2].
    hangs : bool
        Whether it drops on the bias before it is hemmed.
    """

    name: str
    cloth: str
    outline_m: float
    count: int = 1
    curve_m: float = 0.0
    interfaced_m2: float = 0.0
    hangs: bool = False


@dataclass(frozen=True, slots=True)
class SeamWork:
    """A seam.

    Parameters
    ----------
    name : str
        Its name.
    pieces : tuple of str
        Pieces that it joins.
    length_m : float
        Its length [m].
    setting : Setting
        What the machine is set to.
    machines : tuple of str
        Machines or kinds that can sew it.
    crosses : tuple of str
        Seams that it crosses.
    after : tuple of str
        Seams that come before it for any other reason.
    baste : bool
        Whether it is basted first.
    clear : bool
        Whether sequins or beads are cleared out of it first.
    """

    name: str
    pieces: tuple[str, ...]
    length_m: float
    setting: Setting = UNKNOWN
    machines: tuple[str, ...] = ("lockstitch", "zigzag")
    crosses: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    baste: bool = False
    clear: bool = False


@dataclass(frozen=True, slots=True)
class ExtraWork:
    """A zip, a sleeve set in, a hem, a trim: work at pieces that is no plain seam.

    Parameters
    ----------
    name : str
        Its name.
    element : str
        ``zip``, ``sleeve``, ``narrow-hem``, ``hand-hem``, ``trim`` or another of the table.
    pieces : tuple of str
        Pieces that it is done at.
    length_m : float
        Length, for what is counted by the metre [m].
    count : float
        Number, for what is counted by the piece [1].
    setting : Setting
        What the machine is set to.
    machines : tuple of str
        Machines or kinds that can do it; empty for the hand.
    before : tuple of str
        Seams that come after it: a zip goes in flat.
    may_drop : str
        What is lost if it is left out; empty if it cannot be.
    """

    name: str
    element: str
    pieces: tuple[str, ...]
    length_m: float = 0.0
    count: float = 1.0
    setting: Setting = UNKNOWN
    machines: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    may_drop: str = ""


@dataclass(frozen=True, slots=True)
class Construction:
    """A costume.

    Parameters
    ----------
    name : str
        Its name.
    cloths : tuple of ClothWork
        Its cloths.
    pieces : tuple of PieceWork
        Its pieces.
    seams : tuple of SeamWork
        Its seams.
    extras : tuple of ExtraWork
        Zips, sleeves, hems, trims.
    fittings : tuple of (str, datetime or None)
        Name of each fitting and its appointment.
    """

    name: str
    cloths: tuple[ClothWork, ...]
    pieces: tuple[PieceWork, ...]
    seams: tuple[SeamWork, ...]
    extras: tuple[ExtraWork, ...] = ()
    fittings: tuple[tuple[str, datetime | None], ...] = ()
