"""Two or three cloths joined: constraints, conflicts, the best three ways, what would change it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.garment.workroom import OwnedThread, Workroom, machine
from samite.kernel.errors import InputError
from samite.kernel.reasons import Advice, Reason
from samite.seam import traits
from samite.seam.appraise import appraise
from samite.seam.candidate import Settled
from samite.seam.demands import Contradiction, Demands, check_demands, demanded
from samite.seam.forms import RuledOut
from samite.seam.make_candidates import make_candidates
from samite.seam.needle import STANDARD_SIZES, Needle, needle_count
from samite.seam.on_hand import Purchase, choose_owned_needle, choose_owned_thread, to_buy
from samite.seam.points import SharedPoint, shared_point
from samite.seam.rank import Ranked, rank
from samite.seam.settle import (
    point_conflict,
    settle_foot,
    settle_holding,
    settle_length,
    settle_size,
    settle_tex,
    size_conflict,
    thread_conflict,
)
from samite.seam.stretch_wanted import body_conflict, bounded_stretch_percent, stretch_conflict
from samite.seam.trouble import Trouble, find_trouble
from samite.seam.wants import Wants, each, wanted

SHOWN = 3
"""Ways shown: the best and its alternatives."""


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
    return replace(answer, changes=_changes(answer, use, workroom, runs, asked))


def _answer(
    cloths: tuple[Cloth, ...],
    use: Use,
    workroom: Workroom,
    runs: tuple[str, ...],
    asked: Demands,
) -> JointAnswer:
    wants = wanted(cloths, use, runs)
    settled = settle(wants, workroom, asked)
    against = [
        *check_demands(asked, wants, settled.tex.value, workroom),
        *_no_needle(wants, settled.point),
    ]
    made, out = make_candidates(wants, settled, use, workroom)
    numbered = tuple((one, appraise(one, wants, settled, use)) for one in made)
    overlocker = workroom.stated and workroom.overlocks
    ranked = rank(numbered, wants, use, own_overlocker=overlocker)
    kept, barred = demanded(ranked, out, asked)
    if against or not kept:
        return _cannot(wants, settled, against, barred, out, asked)
    ways = _best_three(kept)
    best = ways[0]
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
    asked: Demands,
) -> JointAnswer:
    why = [problem.why for problem in against or barred]
    why = why or ["no form of seam suits all of the cloths"]
    near = [problem.nearest for problem in (*against, *barred) if problem.nearest]
    near += _nearest(wants, asked)
    return JointAnswer("cannot", tuple(why), _unlike(near), wants, settled, (), out, None, (), ())


def settle(wants: tuple[Wants, ...], workroom: Workroom, asked: Demands) -> Settled:
    """Choose what the cloths share, whatever the seam.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    workroom : Workroom
        What is on hand.
    asked : Demands
        What the person insists on.

    Returns
    -------
    Settled
        Needle, thread, stitch length, holding, foot, and the conflicts between the cloths.
    """
    cloths = tuple(one.cloth for one in wants)
    point = shared_point(cloths)
    tex = settle_tex(wants)
    stretches = any(traits.is_stretch_knit(cloth) for cloth in cloths)
    thread = choose_owned_thread(tex.value, workroom, stretches=stretches)
    if asked.tex is not None:
        thread = OwnedThread(thread.kind, asked.tex)
    size = settle_size(wants, _bounded_tex(thread.linear_density_tex))
    length = settle_length(wants)
    needle = choose_owned_needle(wants, _needle(wants, point, size, length.value), workroom)
    found = (
        point_conflict(wants, point),
        size_conflict(wants, size),
        thread_conflict(wants, tex),
        stretch_conflict(wants),
        body_conflict(wants, asked.body_percent),
    )
    return Settled(
        point=point,
        size=size,
        tex=tex,
        thread=thread,
        needle=needle,
        length=length,
        holding=settle_holding(wants),
        foot=settle_foot(wants),
        needed_stretch_percent=bounded_stretch_percent(wants, asked.body_percent),
        conflicts=tuple(one for one in found if one),
    )


def _bounded_tex(tex: float) -> int:
    """Return a fineness for which there is a needle; what is coarser is refused elsewhere."""
    return round(min(tex, 90.0))


def _needle(
    wants: tuple[Wants, ...], point: SharedPoint, size: Advice[int], length_mm: float
) -> Needle:
    place = STANDARD_SIZES.index(size.value)
    span = (STANDARD_SIZES[max(place - 1, 0)], STANDARD_SIZES[min(place + 1, 11)])
    count = max(needle_count(one.cloth, length_mm).value for one in each(wants))
    tender = any(one.cloth.sheer or one.cloth.holes_show for one in wants)
    note = "new for this seam" if count > 1 or tender else ""
    return Needle("seam", point.point, size.value, span, count, note)


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
    found = []
    tender = min((one.needle.value.range_nm[1], one.name) for one in wants)
    if STANDARD_SIZES.index(settled.needle.size_nm) - STANDARD_SIZES.index(tender[0]) >= 2:
        found.append(
            f"Nm {settled.needle.size_nm} leaves large holes in the {tender[1]}, which wants Nm "
            f"{tender[0]} at most: sew once, or bind or underline its edge first"
        )
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


def _nearest(wants: tuple[Wants, ...], asked: Demands) -> Iterable[str]:
    """Say what works instead: the best pair by machine and the third by hand, or all by hand."""
    if len(wants) == 3:
        pairs = [(0, 1, 2), (0, 2, 1), (1, 2, 0)]
        for first, second, third in pairs:
            two = (wants[first].cloth, wants[second].cloth)
            if shared_point(two).common:
                names = f"{wants[first].name} to {wants[second].name}"
                yield (
                    f"join {names} by machine, then sew {wants[third].name} to that seam by hand "
                    "(backstitch, a sharp for the seam's cloth), or to a tape caught in the seam"
                )
                return
    if not asked.made_any and shared_point(tuple(o.cloth for o in wants)).common:
        return
    if not asked.made_any:
        yield "sew it by hand with a fine sharp, through punched holes in the sheet"


@dataclass(frozen=True, slots=True)
class Variant:
    """A question that asks what would change the answer.

    Parameters
    ----------
    words : str
        What would be different.
    use : Use
        Use in that case.
    workroom : Workroom
        Workroom in that case.
    """

    words: str
    use: Use
    workroom: Workroom


def _variants(use: Use, workroom: Workroom) -> tuple[Variant, ...]:
    strain = "if nothing strained it" if use.strain else "if the seam were strained"
    found = [Variant(strain, replace(use, strain=not use.strain), workroom)]
    if not use.curved:
        found.append(Variant("if it were curved", replace(use, curved=True), workroom))
    lined = "if it were not lined" if use.lined else "if it were lined"
    found.append(Variant(lined, replace(use, lined=not use.lined), workroom))
    if not use.short_lived:
        found.append(Variant("if it were worn once", replace(use, wearings=1), workroom))
    if not use.long_lived:
        found.append(Variant("if it were worn forty times", replace(use, wearings=40), workroom))
    if workroom.overlocks:
        fewer = tuple(one for one in workroom.machines if "504" not in one.stitches)
        found.append(Variant("without an overlocker", use, replace(workroom, machines=fewer)))
    else:
        more = replace(workroom, machines=(*workroom.machines, machine("overlocker")))
        found.append(Variant("with an overlocker", use, more))
    return tuple(found)


def _changes(
    answer: JointAnswer, use: Use, workroom: Workroom, runs: tuple[str, ...], asked: Demands
) -> tuple[tuple[str, str], ...]:
    now = _in_words(answer)
    found = []
    for variant in _variants(use, workroom):
        other = _answer(answer.cloths, variant.use, variant.workroom, runs, asked)
        then = _in_words(other) if other.ways else "it could not be done"
        if then != now:
            found.append((variant.words, then))
    return tuple(found)


def _in_words(answer: JointAnswer) -> str:
    best = answer.ways[0].candidate
    stitch = best.stitch
    wide = f", {stitch.width_mm:g} mm wide" if stitch.width_mm else ""
    finishes = "/".join(dict.fromkeys(edge.finish for edge in best.finishes))
    name = best.seam.as_dict()["name"]
    return (
        f"{name} {best.lies}, {stitch.type} {stitch.length_mm:g} mm{wide}, finish {finishes}, "
        f"{answer.settled.needle.point} {answer.settled.needle.size_nm}"
    )


def _unlike(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(texts))


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
