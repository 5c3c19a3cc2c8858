"""What helps the feed of a joint besides the foot: tissue, tape, a shim, silicone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.reasons import Reason
from samite.seam import traits
from samite.seam.appraise import Numbers
from samite.tables.sewing import Entry, sewing_entry

LIMP = 0
"""Stiffness of cloth that hangs like water [-]."""

WATER_MARKED = ("silk", "viscose", "acetate", "triacetate", "cupro")
"""Fibres that water may mark."""

THICK_SKIN_MM = 1.5
"""From this thickness on a skin or film is pricked first [mm] (guess)."""

STEP_MM = 2.5
"""A start of this height tips the foot [mm] (guess)."""

MOST = 4
"""Aids named for a joint: more are not read."""


@dataclass(frozen=True, slots=True)
class FeedAid:
    """One aid.

    Parameters
    ----------
    entry : Entry
        Row of ``feed_aids.csv``.
    reason : Reason
        Why.
    """

    entry: Entry
    reason: Reason

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``key``, ``name``, ``how``, ``mind`` and ``because``.
        """
        return {
            "key": self.entry.key,
            "name": self.entry.word("name"),
            "how": self.entry.word("how"),
            "mind": self.entry.word("mind"),
            "because": self.reason.as_dict(),
        }


def choose_feed_aids(
    cloths: tuple[Cloth, ...], numbers: Numbers, stitch_width_mm: float
) -> tuple[FeedAid, ...]:
    """Choose what helps the feed of a joint.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths, each once.
    numbers : Numbers
        What the seam will do.
    stitch_width_mm : float
        Width of the stitch, 0 for a straight one [mm].

    Returns
    -------
    tuple of FeedAid
        The most telling first, four at most.
    """
    picks = (
        _first(_thick_skin, "pricked-holes", cloths, "a household needle bends in so thick a skin"),
        _first(_no_pins, "basting-tape", cloths, "pins leave holes in it"),
        _first(_glued, "needle-silicone", cloths, "glue and film drag at the needle"),
        _first(
            _light, "single-hole-plate", cloths if not stitch_width_mm else (), "drawn into a slot"
        ),
        _first(_grips, "tissue", cloths, "it is caught by the feed or sticks to the foot"),
        _first(_starched, "starch", cloths, "limp, and it may be washed"),
        _first(_pressed_out, "light-pressure", cloths, "a hard foot pushes it ahead"),
        _stepped(numbers),
        _first(_elastic, "wash-away", cloths, "its edge stretches under the foot"),
    )
    return tuple(pick for pick in picks if pick)[:MOST]


def _first(
    holds: Callable[[Cloth], bool], key: str, cloths: tuple[Cloth, ...], why: str
) -> FeedAid | None:
    found = [cloth.structure_name for cloth in cloths if holds(cloth)]
    if not found:
        return None
    return FeedAid(sewing_entry("feed-aid", key), traits.practice(f"{' and '.join(found)}: {why}"))


def _thick_skin(cloth: Cloth) -> bool:
    skin = cloth.construction in ("leather", "film")
    return skin and cloth.thickness_mm.value >= THICK_SKIN_MM


def _no_pins(cloth: Cloth) -> bool:
    return traits.is_sheet(cloth) and cloth.construction != "foam"


def _glued(cloth: Cloth) -> bool:
    return cloth.has(PartKind.DOTS, PartKind.GLITTER, PartKind.FILM)


def _light(cloth: Cloth) -> bool:
    return cloth.construction == "woven" and (cloth.sheer or cloth.slippery >= 3)


def _grips(cloth: Cloth) -> bool:
    return cloth.sheer or traits.has_film_face(cloth) or cloth.construction in ("net", "lace")


def _starched(cloth: Cloth) -> bool:
    limp = cloth.stiffness <= LIMP and cloth.construction == "woven" and cloth.slippery >= 2
    return limp and cloth.share(*WATER_MARKED) < 5.0 and not traits.has_film_face(cloth)


def _pressed_out(cloth: Cloth) -> bool:
    return cloth.has(PartKind.PILE) or traits.is_stretch_knit(cloth)


def _elastic(cloth: Cloth) -> bool:
    return traits.is_stretch_knit(cloth) and not cloth.has(PartKind.PILE)


def _stepped(numbers: Numbers) -> FeedAid | None:
    high = numbers.crossing_mm > numbers.foot_lift_mm
    if numbers.thickness_mm < STEP_MM and not high:
        return None
    thick = numbers.crossing_mm if high else numbers.thickness_mm
    why = f"{thick:.1f} mm {'at a crossing' if high else 'of seam'} tips the foot"
    return FeedAid(sewing_entry("feed-aid", "shim"), traits.guess(why))
