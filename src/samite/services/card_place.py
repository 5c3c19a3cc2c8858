"""The seam of a card as a place that swatches are asked about."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.garment.workroom import OwnedThread
from samite.seam.forces import load_n_per_cm
from samite.swatch.seam_place import SeamPlace, thread_kind, usual_place

if TYPE_CHECKING:
    from samite.seam.choose import SewingAdvice


def card_place(cloth: Cloth, sewing: SewingAdvice, use: Use) -> SeamPlace | None:
    """Return a card's own seam, stretched and pulled as wear will.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    sewing : SewingAdvice
        How it is sewn.
    use : Use
        What the seam has to bear.

    Returns
    -------
    SeamPlace or None
        None where it is sewn by hand alone.
    """
    needle, thread = sewing.needle.value, sewing.thread.value
    if not needle.size_nm or not thread.tex:
        return None
    usual = usual_place(cloth)
    settled = usual.settled
    kind = thread_kind(thread.fibre, settled.thread.kind)
    return replace(
        usual,
        settled=replace(
            settled,
            needle=replace(settled.needle, point=needle.point, size_nm=needle.size_nm),
            thread=OwnedThread(kind, float(thread.tex)),
        ),
        candidate=replace(usual.candidate, stitch=sewing.stitch.value),
        stretch_percent=settled.needed_stretch_percent or None,
        load_n_per_cm=load_n_per_cm((cloth,), use),
    )
