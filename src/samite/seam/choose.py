"""All sewing choices for one cloth, joined to another piece of itself."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.kernel.reasons import Advice
from samite.seam.handling import Step, cut, feed, hem, mark, prepare
from samite.seam.holding import Holding, choose_holding
from samite.seam.joint import Seam, choose_seam
from samite.seam.needle import Needle, choose_needle, other_needles
from samite.seam.stitch import Stitch, choose_stitch
from samite.seam.thread import Thread, choose_tex, choose_thread


@dataclass(frozen=True, slots=True)
class SewingAdvice:
    """Everything that is decided before and under the needle.

    Parameters
    ----------
    prepare : Advice of Step
        Before cutting.
    cut : Advice of Step
        Cutting.
    mark : Advice of Step
        Marking.
    needle : Advice of Needle
        Needle for the seams.
    other_needles : tuple of Needle
        Needles for topstitching, overlocker and hand.
    thread : Advice of Thread
        Threads.
    stitch : Advice of Stitch
        Stitch.
    seam : Advice of Seam
        Seam and finish.
    holding : Advice of Holding
        Pins, clips and so on.
    feed : Advice of Step
        Foot and feed.
    hem : Advice of Step
        Hem.
    """

    prepare: Advice[Step]
    cut: Advice[Step]
    mark: Advice[Step]
    needle: Advice[Needle]
    other_needles: tuple[Needle, ...]
    thread: Advice[Thread]
    stitch: Advice[Stitch]
    seam: Advice[Seam]
    holding: Advice[Holding]
    feed: Advice[Step]
    hem: Advice[Step]


def choose_sewing(cloth: Cloth, use: Use) -> SewingAdvice:
    """Make all sewing choices for a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What the garment has to bear.

    Returns
    -------
    SewingAdvice
        Each choice with its reason.
    """
    tex = choose_tex(cloth)
    stitch = choose_stitch(cloth, use)
    needle = choose_needle(cloth, tex.value, stitch.value.length_mm)
    thread = choose_thread(cloth, tex)
    seam = choose_seam(cloth, use)
    overlock = seam.value.finish == "overedge" or stitch.value.type == "304"
    return SewingAdvice(
        prepare=prepare(cloth),
        cut=cut(cloth),
        mark=mark(cloth),
        needle=needle,
        other_needles=other_needles(
            cloth,
            needle.value,
            metallic_topstitch=thread.value.topstitch is not None,
            overlock=overlock,
        ),
        thread=thread,
        stitch=stitch,
        seam=seam,
        holding=choose_holding(cloth),
        feed=feed(cloth),
        hem=hem(cloth, use),
    )
