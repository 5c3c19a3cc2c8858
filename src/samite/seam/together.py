"""Two or three cloths joined: constraints, conflicts, the best three ways, what would change it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from samite.cloth.construction import PICTURE_QUESTION
from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.garment.workroom import Workroom
from samite.kernel.errors import InputError
from samite.seam import traits
from samite.seam.answer import JointAnswer
from samite.seam.appraise import appraise
from samite.seam.candidate import Settled
from samite.seam.changes import find_changes
from samite.seam.demands import Contradiction, Demands, check_demands, demanded
from samite.seam.forms import RuledOut
from samite.seam.ground import Ground
from samite.seam.make_candidates import make_candidates
from samite.seam.needle import STANDARD_SIZES
from samite.seam.on_hand import to_buy
from samite.seam.points import SharedPoint, shared_point
from samite.seam.rank import Ranked, rank
from samite.seam.share import settle
from samite.seam.trouble import Trouble, find_trouble
from samite.seam.wants import Wants, each, wanted

SHOWN = 3
"""Ways shown: the best and its alternatives."""


def choose_joint(
    cloths: tuple[Cloth, ...],
    use: Use,
    workroom: Workroom,
    runs: tuple[str, ...] = (),
    demands: Demands | None = None,
) -> JointAnswer:
    """Choose how to join two or three cloths.

    Parameters
    ----------
    cloths : tuple of Cloth
        Two or three; the same twice for a cloth joined to itself.
    use : Use
        What the seam has to bear.
    workroom : Workroom
        What is on hand.
    runs : tuple of str
        How the seam runs in each cloth: ``any``, ``along``, ``across`` or ``bias``.
    demands : Demands or None
        What the person insists on.

    Returns
    -------
    JointAnswer
        The best three ways with trade-offs, conflicts and what would change the answer; or the
        contradiction and the nearest thing that works.

    Raises
    ------
    InputError
        If there are fewer than two cloths or more than three.
    """
    if not 2 <= len(cloths) <= 3:
        raise InputError(
            f"a seam joins two or three cloths, not {len(cloths)}", "LABEL", "name two or three"
        )
    asked = demands or Demands()
    answer = _answer(cloths, use, workroom, runs, asked)
    if not answer.ways:
        return answer

    def again(other_use: Use, other_room: Workroom) -> JointAnswer:
        return _answer(cloths, other_use, other_room, runs, asked, brief=True)

    return replace(answer, changes=find_changes(answer, use, workroom, again))


def _answer(
    cloths: tuple[Cloth, ...],
    use: Use,
    workroom: Workroom,
    runs: tuple[str, ...],
    asked: Demands,
    *,
    brief: bool = False,
) -> JointAnswer:
    """Answer once; `brief` leaves out what only the answer that is shown needs."""
    wants = wanted(cloths, use, runs)
    settled = settle(wants, workroom, asked)
    against = [
        *check_demands(asked, wants, settled.tex.value, workroom),
        *_no_needle(wants, settled.point),
    ]
    made, out = make_candidates(wants, settled, use, workroom)
    ground = Ground(wants, settled, use)
    numbered = tuple((one, appraise(one, ground)) for one in made)
    overlocker = workroom.stated and workroom.overlocks
    ranked = rank(numbered, wants, use, own_overlocker=overlocker)
    kept, barred = demanded(ranked, out, asked)
    if against or not kept:
        return _cannot(wants, settled, against, barred, out)
    ways = _best_three(kept)
    best = ways[0]
    if brief:
        return JointAnswer("works", (), (), wants, settled, ways, out, None, (), ())
    trouble = find_trouble(best.candidate, best.numbers, settled, cloths, use)
    buy = to_buy(
        settled.needle,
        settled.thread,
        settled.foot.value,
        tuple(edge.finish for edge in best.candidate.finishes),
        workroom,
    )
    why = _compromises(wants, settled, best, trouble)
    status = "compromise" if why else "works"
    return JointAnswer(status, why, (), wants, settled, ways, out, trouble, buy, ())


def _cannot(
    wants: tuple[Wants, ...],
    settled: Settled,
    against: list[Contradiction],
    barred: list[Contradiction],
    out: tuple[RuledOut, ...],
) -> JointAnswer:
    why = [problem.why for problem in against or barred]
    why = why or ["no form of seam suits all of the cloths"]
    near = [problem.nearest for problem in (*against, *barred) if problem.nearest]
    near += _nearest(wants, settled.point)
    near = near or ["set each on a tape or strip of lining first, then join the strips"]
    return JointAnswer("cannot", tuple(why), _unlike(near), wants, settled, (), out, None, (), ())


def _no_needle(wants: tuple[Wants, ...], point: SharedPoint) -> list[Contradiction]:
    if point.common:
        return []
    sayings = [
        f"{one.name}: {objection.claim}"
        for one, objection in zip(wants, point.objections, strict=True)
        if objection.level >= 2
    ]
    why = f"no needle serves all: even a {point.point} point is wrong, {'; '.join(sayings)}"
    return [Contradiction(why, "")]


def _best_three(ranked: tuple[Ranked, ...]) -> tuple[Ranked, ...]:
    """Return the best way, the best of another form, and the best of what is left."""
    best = ranked[0]
    form = best.candidate.form
    other = next((one for one in ranked[1:] if one.candidate.form != form), None)
    rest = [one for one in ranked[1:] if one is not other]
    shown = [best, *([other] if other else []), *rest[: SHOWN - 1 - bool(other)]]
    return tuple(sorted(shown, key=lambda one: -one.total))


def _compromises(
    wants: tuple[Wants, ...], settled: Settled, best: Ranked, trouble: Trouble
) -> tuple[str, ...]:
    numbers = best.numbers
    found = [
        f"nothing says what kind of cloth the {one.name} is: it is taken for {one.cloth.construction}, "
        "middling in all; pull a scrap before you believe any of this"
        for one in each(wants)
        if "structure" in one.cloth.assumed and PICTURE_QUESTION in one.cloth.unknown
    ]
    found += _large_holes(wants, settled.needle.size_nm)
    if settled.point.worst >= 2:
        found.append("the needle's point is a risk in one of the cloths: sew a scrap of both first")
    if numbers.strength_n_per_cm < numbers.load_n_per_cm:
        found.append(
            f"{numbers.gives_way} gives way at {numbers.strength_n_per_cm:.0f} N/cm, before the "
            f"{numbers.load_n_per_cm:.0f} N/cm that such a seam may meet: no strain on it"
        )
    if numbers.thickness_mm > numbers.foot_lift_mm:
        found.append("the seam is thicker than the foot lifts: turn the hand wheel, or grade it")
    if trouble.perforation_warns:
        found.append("the holes lie close: lengthen the stitch or take a finer needle")
    return tuple(found)


def _large_holes(wants: tuple[Wants, ...], size_nm: int) -> list[str]:
    """Name the cloth in which the holes stay, if the needle is two sizes over what it bears."""
    marked = [(one.needle.value.range_nm[1], one.name) for one in wants if _keeps_holes(one.cloth)]
    if not marked:
        return []
    most, name = min(marked)
    if STANDARD_SIZES.index(size_nm) - STANDARD_SIZES.index(most) < 2:
        return []
    return [
        f"Nm {size_nm} leaves large holes in the {name}, which wants Nm {most} at most: sew once, "
        "or bind or underline its edge first"
    ]


def _keeps_holes(cloth: Cloth) -> bool:
    return cloth.holes_show or traits.is_sheer_weave(cloth) or traits.is_sheet(cloth)


def _nearest(wants: tuple[Wants, ...], point: SharedPoint) -> Iterable[str]:
    """Say what works where no needle is common: two by machine and the third by hand, or all by hand."""
    if point.common:
        return
    for first, second, third in ((0, 1, 2), (0, 2, 1), (1, 2, 0)):
        if len(wants) == 3 and shared_point((wants[first].cloth, wants[second].cloth)).common:
            yield (
                f"join {wants[first].name} to {wants[second].name} by machine, then sew "
                f"{wants[third].name} to that seam by hand (backstitch, a sharp for the seam's "
                "cloth), or to a tape caught in the seam"
            )
            return
    yield "sew it by hand with a fine sharp, through punched holes in a skin or film"


def _unlike(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(texts))
