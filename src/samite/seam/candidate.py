"""One way to join the cloths, and what is the same in all ways."""

from __future__ import annotations

from dataclasses import dataclass

from samite.garment.workroom import Machine, OwnedThread
from samite.kernel.reasons import Advice, Reason
from samite.seam.holding import Holding
from samite.seam.joint import Seam
from samite.seam.needle import Needle
from samite.seam.points import SharedPoint
from samite.seam.settle import Conflict
from samite.seam.stitch import Stitch


@dataclass(frozen=True, slots=True)
class Settled:
    """What the cloths share, whatever the seam.

    Parameters
    ----------
    point : SharedPoint
        Needle point with the objections to it.
    size : Advice of int
        Needle size.
    tex : Advice of int
        Fineness of the thread.
    thread : OwnedThread
        Thread used: one on hand if it suits.
    needle : Needle
        Needle used, with how many 10 m of seam wear out.
    length : Advice of float
        Stitch length.
    holding : Advice of Holding
        How the plies are held.
    foot : Advice of str
        Key in ``feet.csv``.
    needed_stretch_percent : float
        Stretch that the seam must give in wear [%].
    conflicts : tuple of Conflict
        Where the cloths want different things.
    behind : str
        Behind which of the first two cloths a third lies; empty without one.
    """

    point: SharedPoint
    size: Advice[int]
    tex: Advice[int]
    thread: OwnedThread
    needle: Needle
    length: Advice[float]
    holding: Advice[Holding]
    foot: Advice[str]
    needed_stretch_percent: float
    conflicts: tuple[Conflict, ...]
    behind: str = ""


@dataclass(frozen=True, slots=True)
class EdgeFinish:
    """How the allowance of one cloth is finished.

    Parameters
    ----------
    cloth : str
        The cloth in words.
    finish : str
        Key in ``edge_finishes.csv``.
    when : str
        ``none``, ``before-assembly``, ``with-seam`` or ``after``.
    """

    cloth: str
    finish: str
    when: str

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form.

        Returns
        -------
        dict of str to str
            Keys ``cloth``, ``finish`` and ``when``.
        """
        return {"cloth": self.cloth, "finish": self.finish, "when": self.when}


@dataclass(frozen=True, slots=True)
class Candidate:
    """One way to join the cloths.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.
    stitch : Stitch
        Stitch with length and width.
    seam : Seam
        Seam with allowance and the strictest finish.
    finishes : tuple of EdgeFinish
        Finish of each cloth's own allowance.
    lies : str
        Where the allowances lie, in words.
    machine : Machine
        What sews it.
    upper : int
        Which side lies on top of a lap, 0 or 1; 0 where none laps.
    behind : str
        Behind which of the first two cloths a third lies; empty without one.
    """

    form: str
    stitch: Stitch
    seam: Seam
    finishes: tuple[EdgeFinish, ...]
    lies: str
    machine: Machine
    upper: int = 0
    behind: str = ""

    @property
    def key(self) -> tuple[str, str]:
        """Form and stitch, by which candidates differ."""
        return self.form, self.stitch.type


@dataclass(frozen=True, slots=True)
class Score:
    """How good a candidate is by one criterion.

    Parameters
    ----------
    criterion : str
        Its name.
    share : float
        0 worst to 1 best [-].
    weight : float
        What it counts [-].
    reason : Reason
        Why.
    """

    criterion: str
    share: float
    weight: float
    reason: Reason
