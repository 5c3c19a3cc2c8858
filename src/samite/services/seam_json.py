"""A joint in the form that others script against, ``samite.seam.v1``, and in a line."""

from __future__ import annotations

from typing import Any

from samite.cloth.model import Cloth
from samite.kernel.quantity import round_shown
from samite.seam.answer import JointAnswer, joint_reason
from samite.seam.candidate import Settled
from samite.seam.needle import Needle, other_needles
from samite.seam.ranges import number_ranges
from samite.seam.rank import Ranked, trade_offs
from samite.seam.sides import third_words
from samite.services.card import cloth_json
from samite.services.seam import SeamSheet
from samite.services.seam_learnt import seam_taught_json
from samite.tables.sewing import sewing_entry

FORMAT = "samite.seam.v1"


def seam_json(sheet: SeamSheet) -> dict[str, Any]:
    """Return a joint in the form ``samite.seam.v1``.

    Parameters
    ----------
    sheet : SeamSheet
        The joint.

    Returns
    -------
    dict of str to object
        As documented in ``docs/faces/seam.md``.
    """
    answer = sheet.answer
    conflicts = [*answer.settled.conflicts, *(sheet.press.conflicts if sheet.press else ())]
    return {
        "format": FORMAT,
        "for": sheet.use.as_dict(),
        "status": answer.status,
        "why": list(answer.why),
        "nearest": list(answer.nearest),
        "labels": list(sheet.labels),
        "runs": [one.run for one in answer.wants],
        "third": _third_json(answer),
        "cloths": [cloth_json(cloth) for cloth in answer.cloths],
        "conflicts": [conflict.as_dict() for conflict in conflicts],
        **(_best_json(sheet, sheet.best) if sheet.best else {}),
        "ways": [_way_json(way, answer) for way in answer.ways],
        "ruled_out": [one.as_dict() for one in answer.ruled_out],
        "changes": [{"if": words, "then": then} for words, then in answer.changes],
        "workroom": {
            "stated": sheet.workroom.stated,
            "machines": [one.name for one in sheet.workroom.machines],
            "to_buy": [one.as_dict() for one in answer.buy],
        },
        "additions": [one.as_dict() for one in sheet.additions],
        "practice": [one.as_dict() for one in sheet.practice],
        "cautions": [one.as_dict() for one in sheet.cautions],
        "tests": [one.as_dict() for one in sheet.trials],
        "learnt": seam_taught_json(sheet.taught, answer, sheet.use),
    }


def _third_json(answer: JointAnswer) -> dict[str, str] | None:
    behind = answer.settled.behind
    if not behind:
        return None
    words = third_words(answer.cloths, behind)
    return {"cloth": answer.cloths[2].structure_name, "behind": behind, "words": words}


def _best_json(sheet: SeamSheet, best: Ranked) -> dict[str, Any]:
    settled, answer = sheet.answer.settled, sheet.answer
    foot = sewing_entry("foot", settled.foot.value)
    trouble = answer.trouble
    return {
        "needle": settled.needle.as_dict(),
        "needles": [one.as_dict() for one in needles_of(sheet, best)],
        "thread": thread_json(settled),
        "stitch": best.candidate.stitch.as_dict(),
        "seam": _seam_json(best),
        "holding": settled.holding.value.as_dict(),
        "feed": {
            "foot": foot.key,
            "name": foot.word("name"),
            "aids": [one.as_dict() for one in sheet.aids],
        },
        "numbers": best.numbers.as_dict(),
        "ranges": ranges_json(sheet, best),
        "trouble": trouble.as_dict() if trouble else {},
        "joint_stack": [
            [
                {"cloth": ply.cloth.structure_name, "role": ply.role, "face": ply.face}
                for ply in stack.layers
            ]
            for stack in sheet.stacks
        ],
        "press": sheet.press.as_dict() if sheet.press else None,
        "reasons": {
            "choice": joint_reason(answer).as_dict(),
            "needle": settled.point.reason.as_dict(),
            "size": settled.size.reason.as_dict(),
            "thread": settled.tex.reason.as_dict(),
            "length": settled.length.reason.as_dict(),
            "holding": settled.holding.reason.as_dict(),
            "feed": settled.foot.reason.as_dict(),
        },
    }


def ranges_json(sheet: SeamSheet, way: Ranked) -> dict[str, dict[str, object]]:
    """Return how far the numbers of a way may be off.

    Parameters
    ----------
    sheet : SeamSheet
        The joint.
    way : Ranked
        The way.

    Returns
    -------
    dict of str to dict
        Keys ``low``, ``high``, ``unit``, ``source`` and ``grade`` a number.
    """
    found = number_ranges(way.candidate, way.numbers, sheet.answer.cloths, sheet.use)
    if sheet.taught and way is sheet.best:
        found |= sheet.taught.ranges
    return {
        name: {
            "low": round_shown(one.low),
            "high": round_shown(one.high),
            "unit": one.unit,
            "source": one.evidence.source,
            "grade": one.evidence.grade.value,
        }
        for name, one in found.items()
    }


def taken_words(cloth: Cloth) -> str:
    """Say what a cloth was taken for, and what of it nobody said.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    str
        Mass, thickness and what is assumed, unknown or not used.
    """
    mass, thick = cloth.mass_per_area_gsm, cloth.thickness_mm
    text = (
        f"{cloth.construction}, {mass.value:.0f} g/m2 ({mass.low:.0f} to {mass.high:.0f} g/m2), "
        f"{thick.value:.2g} mm ({thick.low:.2g} to {thick.high:.2g} mm)"
    )
    told = (
        ("assumed", [ASSUMED[name] for name in cloth.assumed if name in ASSUMED]),
        ("cannot be known from the label", list(cloth.unknown)),
        ("not used", list(cloth.reading.ignored)),
    )
    return "; ".join((text, *(f"{word}: {', '.join(some)}" for word, some in told if some)))


ASSUMED = {
    "fibres": "fibres",
    "structure": "what kind of cloth it is",
    "mass_per_area_gsm": "mass",
    "thickness_mm": "thickness",
    "stretch_percent": "stretch",
}
"""What a label may leave unsaid that the seam depends on, in words."""


def needles_of(sheet: SeamSheet, best: Ranked) -> tuple[Needle, ...]:
    """Return the needle of the seam and the other needles of the job.

    Parameters
    ----------
    sheet : SeamSheet
        The joint.
    best : Ranked
        The way that is sewn.

    Returns
    -------
    tuple of Needle
        Seam, topstitching, overlocker and hand.
    """
    needle = sheet.answer.settled.needle
    overlock = any(edge.finish == "overedge" for edge in best.candidate.finishes)
    thread = [one.thread.value.topstitch for one in sheet.answer.wants]
    tender = max(sheet.answer.cloths, key=lambda cloth: cloth.frays)
    others = other_needles(tender, needle, metallic_topstitch=any(thread), overlock=overlock)
    return (needle, *others)


def thread_json(settled: Settled) -> dict[str, object]:
    """Return the thread of a joint.

    Parameters
    ----------
    settled : Settled
        What the cloths share.

    Returns
    -------
    dict of str to object
        Keys ``fibre``, ``kind``, ``name``, ``tex`` and ``ticket``.
    """
    thread = settled.thread
    entry = sewing_entry("thread", thread.kind)
    return {
        "fibre": entry.word("fibre"),
        "kind": thread.kind,
        "name": entry.word("name"),
        "tex": round_shown(thread.linear_density_tex),
        "ticket": round(3000.0 / thread.linear_density_tex),
    }


def joint_words(sheet: SeamSheet) -> str:
    """Return a joint in one line, for a card.

    Parameters
    ----------
    sheet : SeamSheet
        The joint.

    Returns
    -------
    str
        Needle, thread, stitch, seam, finish and conflicts; or the contradiction.
    """
    best, settled = sheet.best, sheet.answer.settled
    if best is None:
        return "; ".join((*sheet.answer.why, *sheet.answer.nearest))
    candidate, stitch = best.candidate, best.candidate.stitch
    wide = f" x {stitch.width_mm:g}" if stitch.width_mm else ""
    finishes = "/".join(dict.fromkeys(edge.finish for edge in candidate.finishes))
    conflicts = [*settled.conflicts, *(sheet.press.conflicts if sheet.press else ())]
    mind = f"; they disagree on {', '.join(one.about for one in conflicts)}" if conflicts else ""
    return (
        f"{settled.needle.point} {settled.needle.size_nm}, tex "
        f"{settled.thread.linear_density_tex:g}; {stitch.type} {stitch.length_mm:g}{wide} mm; "
        f"{sewing_entry('seam', candidate.form).word('name')}, {candidate.lies}; finish {finishes}; "
        f"holds {best.numbers.strength_n_per_cm:.0f} N/cm{mind}"
    )


def _seam_json(way: Ranked) -> dict[str, object]:
    candidate = way.candidate
    entry = sewing_entry("seam", candidate.form)
    return {
        **candidate.seam.as_dict(),
        "form": candidate.form,
        "name": entry.word("name"),
        "iso_4916": entry.word("iso_number"),
        "lies": candidate.lies,
        "right_side": entry.word("right_side"),
        "finishes": [edge.as_dict() for edge in candidate.finishes],
        "machine": candidate.machine.name,
    }


def _way_json(way: Ranked, answer: JointAnswer) -> dict[str, object]:
    gains, losses = trade_offs(way, answer.ways[0])
    return {
        "seam": _seam_json(way),
        "stitch": way.candidate.stitch.as_dict(),
        "numbers": way.numbers.as_dict(),
        "score": round(way.total, 3),
        "scores": [
            {
                "criterion": score.criterion,
                "share": round(score.share, 3),
                "weight": score.weight,
                "because": score.reason.as_dict(),
            }
            for score in way.scores
        ],
        "gains": list(gains),
        "losses": list(losses),
    }
