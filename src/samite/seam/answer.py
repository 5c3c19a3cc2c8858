"""The answer to a joint, and what it says in a line."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.kernel.reasons import Reason
from samite.seam import traits
from samite.seam.candidate import Settled
from samite.seam.forms import RuledOut
from samite.seam.on_hand import Purchase
from samite.seam.rank import Ranked
from samite.seam.trouble import Trouble
from samite.seam.wants import Wants


@dataclass(frozen=True, slots=True)
class JointAnswer:
    """How to join the cloths.

    Parameters
    ----------
    status : str
        ``works``, ``compromise`` or ``cannot``.
    why : tuple of str
        What makes it a compromise, or the contradiction.
    nearest : tuple of str
        The nearest thing that works, where it cannot be done as asked.
    wants : tuple of Wants
        The cloths.
    settled : Settled
        What they share, whatever the seam.
    ways : tuple of Ranked
        Best first, three at most; empty if it cannot be done.
    ruled_out : tuple of RuledOut
        What does not work, and why.
    trouble : Trouble or None
        What may go wrong in the best way.
    buy : tuple of Purchase
        What is not on hand.
    changes : tuple of tuple of (str, str)
        What would change the answer, and to what.
    """

    status: str
    why: tuple[str, ...]
    nearest: tuple[str, ...]
    wants: tuple[Wants, ...]
    settled: Settled
    ways: tuple[Ranked, ...]
    ruled_out: tuple[RuledOut, ...]
    trouble: Trouble | None
    buy: tuple[Purchase, ...]
    changes: tuple[tuple[str, str], ...]

    @property
    def cloths(self) -> tuple[Cloth, ...]:
        """The cloths in the order given."""
        return tuple(one.cloth for one in self.wants)


def answer_words(answer: JointAnswer) -> str:
    """Return the best way in a line.

    Parameters
    ----------
    answer : JointAnswer
        An answer with at least one way.

    Returns
    -------
    str
        Seam, stitch, finish and needle.
    """
    best = answer.ways[0].candidate
    stitch = best.stitch
    wide = f", {stitch.width_mm:g} mm wide" if stitch.width_mm else ""
    finishes = "/".join(dict.fromkeys(edge.finish for edge in best.finishes))
    name = best.seam.as_dict()["name"]
    return (
        f"{name} {best.lies}, {stitch.type} {stitch.length_mm:g} mm{wide}, finish {finishes}, "
        f"{answer.settled.needle.point} {answer.settled.needle.size_nm}"
    )


def joint_reason(answer: JointAnswer) -> Reason:
    """Return why the best way is best.

    Parameters
    ----------
    answer : JointAnswer
        An answer with at least one way.

    Returns
    -------
    Reason
        One leaf a criterion, with what it counts.
    """
    best = answer.ways[0]
    leaves = tuple(
        Reason(f"{score.criterion}, {score.share:.2f} x {score.weight:g}", (score.reason,))
        for score in best.scores
    )
    return Reason(f"best of what works: {best.total:.2f} of 1", leaves, traits.GUESS)
