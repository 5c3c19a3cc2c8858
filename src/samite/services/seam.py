"""The seam between two or three cloths, from their labels to an answer that others can script against."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.garment.joint_stack import JointStack, apart
from samite.garment.use import Use, read_use
from samite.garment.workroom import Workroom, usual_workroom
from samite.kernel.errors import InputError, UnknownNameError
from samite.kernel.quantity import round_shown
from samite.kernel.units import parse_quantity
from samite.labels.safety import Caution, find_cautions
from samite.seam.around import Addition, choose_additions
from samite.seam.candidate import Settled
from samite.seam.demands import Demands
from samite.seam.forms import FORMS
from samite.seam.needle import Needle, other_needles
from samite.seam.rank import Ranked, trade_offs
from samite.seam.special import Practice, special_practice
from samite.seam.stacking import joint_stacks
from samite.seam.stretch import body_movement, stretch_needed_percent
from samite.seam.together import JointAnswer, choose_joint, joint_reason
from samite.seam.wants import RUNS
from samite.services.card import cloth_json
from samite.services.joint_press import JointPress, press_joint
from samite.services.workroom import read_workroom
from samite.tables.loader import did_you_mean
from samite.tables.sewing import sewing_entry

FORMAT = "samite.seam.v1"


@dataclass(frozen=True, slots=True)
class SeamSheet:
    """Everything about one joint.

    Parameters
    ----------
    labels : tuple of str
        The labels as typed.
    use : Use
        What the seam has to bear.
    workroom : Workroom
        What is on hand.
    answer : JointAnswer
        How to join.
    stacks : tuple of JointStack
        The plies that the iron meets; empty if the cloths cannot be joined.
    press : JointPress or None
        How to press; None if the cloths cannot be joined.
    additions : tuple of Addition
        Hem, fastening, lining and stays that go with it.
    practice : tuple of Practice
        What the trade does besides.
    cautions : tuple of Caution
        What to mind.
    """

    labels: tuple[str, ...]
    use: Use
    workroom: Workroom
    answer: JointAnswer
    stacks: tuple[JointStack, ...]
    press: JointPress | None
    additions: tuple[Addition, ...]
    practice: tuple[Practice, ...]
    cautions: tuple[Caution, ...]

    @property
    def best(self) -> Ranked | None:
        """The best way; None if there is none."""
        return self.answer.ways[0] if self.answer.ways else None


@dataclass(frozen=True, slots=True)
class SeamQuestion:
    """What is asked about a joint.

    Parameters
    ----------
    labels : tuple of str
        One to three labels; one means the cloth joined to itself.
    use : str
        What the seam has to bear, in words.
    workroom : str
        TOML in the form ``samite.workroom.v1``; empty for the usual one.
    runs : str
        How the seam runs in each cloth, ``"along, bias"``; empty for any.
    stitch : str
        ISO 4915 number insisted on; empty for any.
    form : str
        Seam insisted on, a key of ``seams.csv``; empty for any.
    thread : str
        Thread insisted on, ``"tex 40"``; empty for any.
    place : str
        Place on the body, a key of ``movement.csv``; empty if it is not said.
    negative_ease : str
        How much smaller than the body the pieces are cut, ``"10 %"``; empty for none.
    """

    labels: tuple[str, ...]
    use: str = ""
    workroom: str = ""
    runs: str = ""
    stitch: str = ""
    form: str = ""
    thread: str = ""
    place: str = ""
    negative_ease: str = ""


def make_seam(question: SeamQuestion, *, window: bool = False) -> SeamSheet:
    """Answer how to join two or three cloths.

    Parameters
    ----------
    question : SeamQuestion
        Labels, use, workroom and what is insisted on.
    window : bool
        Compute the press window too, which takes longer.

    Returns
    -------
    SeamSheet
        The answer.

    Raises
    ------
    InputError
        If a label, the use, the workroom or a demand is malformed.
    """
    texts = [text for text in question.labels if text.strip()]
    if not 1 <= len(texts) <= 3:
        raise InputError(
            f"a seam joins one to three labels, not {len(texts)}",
            "LABEL",
            'samite seam "silk organza" "stretch velvet, 95% polyester 5% elastane"',
        )
    known = {text: build_cloth(read_label(text)) for text in dict.fromkeys(texts)}
    cloths = tuple(known[text] for text in texts)
    return seam_of(
        (cloths[0], cloths[0]) if len(cloths) == 1 else cloths,
        read_use(question.use),
        read_workroom(question.workroom),
        runs=read_runs(question.runs),
        demands=_demands(question),
        labels=tuple(texts),
        window=window,
    )


def seam_of(
    cloths: tuple[Cloth, ...],
    use: Use,
    workroom: Workroom | None = None,
    *,
    runs: tuple[str, ...] = (),
    demands: Demands | None = None,
    labels: tuple[str, ...] = (),
    window: bool = False,
) -> SeamSheet:
    """Answer how to join cloths that are known already.

    Parameters
    ----------
    cloths : tuple of Cloth
        Two or three.
    use : Use
        What the seam has to bear.
    workroom : Workroom or None
        What is on hand; None for the usual workroom.
    runs : tuple of str
        How the seam runs in each cloth.
    demands : Demands or None
        What the person insists on.
    labels : tuple of str
        The labels as typed.
    window : bool
        Compute the press window too.

    Returns
    -------
    SeamSheet
        The answer.

    Raises
    ------
    InputError
        If there are fewer than two cloths or more than three.
    """
    room = workroom or usual_workroom()
    answer = choose_joint(cloths, use, room, runs, demands)
    stacks: tuple[JointStack, ...] = ()
    press = None
    if answer.ways:
        stacks = joint_stacks(answer.ways[0].candidate, cloths)
        press = press_joint(stacks, use, window=window)
    return SeamSheet(
        labels=labels or tuple(cloth.reading.text for cloth in cloths),
        use=use,
        workroom=room,
        answer=answer,
        stacks=stacks,
        press=press,
        additions=choose_additions(apart(cloths), use),
        practice=special_practice(answer.wants, use),
        cautions=_cautions(cloths, use, ironed=bool(press and press.recipe.value.passes)),
    )


def read_runs(text: str) -> tuple[str, ...]:
    """Read how a seam runs in each cloth.

    Parameters
    ----------
    text : str
        Words parted by commas: ``any``, ``along``, ``across`` or ``bias``.

    Returns
    -------
    tuple of str
        The words.

    Raises
    ------
    UnknownNameError
        If a word is none of these.
    """
    words = [word.strip().lower() for word in text.split(",") if word.strip()]
    for word in words:
        if word not in RUNS:
            raise UnknownNameError(
                f"{word[:40]!r} is no way for a seam to run", "run", f"known: {', '.join(RUNS)}"
            )
    return tuple(words)


def _demands(question: SeamQuestion) -> Demands:
    stitch = question.stitch.strip()
    if stitch:
        sewing_entry("stitch", stitch)
    form = question.form.strip()
    if form and form not in FORMS:
        raise UnknownNameError(
            f"{form[:40]!r} is no seam that joins",
            "seam",
            f"{did_you_mean(form, FORMS)}; known: {', '.join(FORMS)}",
        )
    tex = parse_quantity(question.thread, "tex") if question.thread.strip() else None
    if tex is not None and not 1.0 <= tex <= 5000.0:
        raise InputError(f"a thread of tex {tex:g} is impossible", "thread", "write tex 27")
    return Demands(stitch, form, tex, _body_percent(question))


def _body_percent(question: SeamQuestion) -> float | None:
    """Return the stretch that the body asks for, from its movement and the negative ease."""
    if not (question.place.strip() or question.negative_ease.strip()):
        return None
    ease = parse_quantity(question.negative_ease, "%") if question.negative_ease.strip() else 0.0
    if not 0.0 <= ease <= 60.0:
        raise InputError(f"a negative ease of {ease:g} % is impossible", "ease", "0 to 60 %")
    moves = body_movement(place=question.place.strip() or "none").value
    return stretch_needed_percent(negative_ease_percent=ease, movement_percent=moves)


def _cautions(cloths: tuple[Cloth, ...], use: Use, *, ironed: bool) -> tuple[Caution, ...]:
    found: dict[tuple[str, str], Caution] = {}
    for cloth in cloths:
        for caution in find_cautions(cloth, use, ironed=ironed):
            found.setdefault((caution.kind, caution.text), caution)
    return tuple(found.values())


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
    }


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
        "feed": {"foot": foot.key, "name": foot.word("name")},
        "numbers": best.numbers.as_dict(),
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
