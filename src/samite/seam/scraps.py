"""What to try on scraps of the cloths before the joint is sewn, and what each trial settles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from samite.seam import traits
from samite.seam.candidate import Settled
from samite.seam.forces import GRAB_MM
from samite.seam.rank import Ranked
from samite.seam.trouble import Trouble
from samite.seam.wants import Wants, each

KILOGRAM_N = 9.81
"""Weight of a kilogram [N]."""

POUND_N = 4.448
"""Weight of a pound [N]."""


@dataclass(frozen=True, slots=True)
class Trial:
    """One trial on a scrap.

    Parameters
    ----------
    test : str
        What to do and what to look for.
    settles : str
        Which number or choice it settles.
    """

    test: str
    settles: str

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form.

        Returns
        -------
        dict of str to str
            Keys ``test`` and ``settles``.
        """
        return {"test": self.test, "settles": self.settles}


def joint_trials(
    best: Ranked, trouble: Trouble, wants: tuple[Wants, ...], settled: Settled
) -> tuple[Trial, ...]:
    """Return what to try on scraps before a joint is sewn.

    Parameters
    ----------
    best : Ranked
        The way that is sewn.
    trouble : Trouble
        What may go wrong in it.
    wants : tuple of Wants
        The cloths.
    settled : Settled
        Needle, thread and stitch length.

    Returns
    -------
    tuple of Trial
        The most telling first; always at least two.
    """
    return (
        *_sewn(wants, settled),
        *_pulled(best, trouble),
        *_stretched(best),
        *_shrunk(trouble),
        *_bulky(best),
    )


def _sewn(wants: tuple[Wants, ...], settled: Settled) -> Iterator[Trial]:
    looks = ["skipped stitches", "waves along the seam"]
    if any(one.cloth.holes_show or traits.is_sheet(one.cloth) for one in wants):
        looks.append("holes when a hand's breadth is unpicked")
    if settled.point.worst >= 1:
        looks.append("cut loops or yarns, seen through a glass")
    names = " and ".join(one.name for one in each(wants))
    yield Trial(
        f"sew 20 cm of {names} with this needle, thread and stitch; look for {', '.join(looks)}",
        "needle point and size, stitch length, pucker",
    )


def _pulled(best: Ranked, trouble: Trouble) -> Iterator[Trial]:
    load_n = best.numbers.load_n_per_cm * GRAB_MM / 10.0
    yield Trial(
        f"clamp {GRAB_MM:g} mm of a sewn scrap between two strips of wood and hang "
        f"{load_n / KILOGRAM_N:.1f} kg ({load_n / POUND_N:.0f} lb) from it, over the floor, feet away, for a minute: does a "
        "thread break, a hole tear, a gap open at the seam?",
        f"strength ({best.numbers.gives_way} is expected to give way first) and "
        f"slippage (risk: {trouble.slippage.as_dict()['risk']})",
    )


def _stretched(best: Ranked) -> Iterator[Trial]:
    wanted = best.numbers.needed_stretch_percent
    if wanted > 0.0:
        yield Trial(
            f"mark 100 mm on the sewn scrap and pull it to {100 + wanted:.0f} mm ten times: does "
            "a stitch crack?",
            "stretch of the seam",
        )


def _shrunk(trouble: Trouble) -> Iterator[Trial]:
    if any("shrink" in cause for cause, excess in trouble.pucker_causes if excess > 0.0):
        yield Trial(
            "mark 200 mm on a scrap of each cloth, steam or wash as the garment will be, dry, "
            "measure again",
            "how unlike the cloths shrink, which puckers the seam later",
        )


def _bulky(best: Ranked) -> Iterator[Trial]:
    if best.numbers.crossing_mm > best.numbers.foot_lift_mm:
        yield Trial(
            "lay two sewn scraps crosswise under the raised foot; if they do not go under, grade "
            "the allowances or clip them out of the crossing",
            "bulk at a crossing",
        )
