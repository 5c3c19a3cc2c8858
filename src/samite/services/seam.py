"""The seam between two or three cloths, from their labels to an answer that others can script against."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.garment.joint_stack import JointStack, apart
from samite.garment.use import Use, read_use
from samite.garment.workroom import Workroom, usual_workroom
from samite.kernel.errors import InputError, UnknownNameError
from samite.kernel.units import parse_quantity
from samite.labels.safety import Caution, find_cautions
from samite.seam.answer import JointAnswer
from samite.seam.around import Addition, choose_additions
from samite.seam.demands import Demands
from samite.seam.feed_aids import FeedAid, choose_feed_aids
from samite.seam.forms import FORMS
from samite.seam.practice import Practice
from samite.seam.rank import Ranked
from samite.seam.scraps import Trial, joint_trials
from samite.seam.sides import BEHIND
from samite.seam.special import special_practice
from samite.seam.stacking import joint_stacks
from samite.seam.stretch import body_movement, stretch_needed_percent
from samite.seam.together import choose_joint
from samite.seam.wants import RUNS
from samite.services.joint_press import JointPress, press_joint
from samite.services.seam_learnt import Pasts, learn_joint
from samite.services.workroom import read_workroom
from samite.swatch.seam_taught import SeamTaught
from samite.swatch.suggest import open_questions
from samite.tables.irons import Iron
from samite.tables.loader import did_you_mean
from samite.tables.sewing import sewing_entry, sewing_key


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
    trials : tuple of Trial
        What to try on scraps first, and what it settles.
    aids : tuple of FeedAid
        What helps the feed besides the foot.
    taught : SeamTaught or None
        What sewn swatches of the cloths taught; None if there are none.
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
    trials: tuple[Trial, ...]
    aids: tuple[FeedAid, ...]
    taught: SeamTaught | None = None

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
    behind : str
        Behind which of the first two a third lies: ``first``, ``second`` or ``both``; empty for
        the usual.
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
    behind: str = ""


def make_seam(
    question: SeamQuestion,
    *,
    window: bool = False,
    iron: Iron | None = None,
    pasts: Pasts = (),
) -> SeamSheet:
    """Answer how to join two or three cloths.

    Parameters
    ----------
    question : SeamQuestion
        Labels, use, workroom and what is insisted on.
    window : bool
        Compute the press window too, which takes longer.
    iron : Iron or None
        The iron at hand; an unmeasured household iron if None.
    pasts : sequence of tuple of (str, Past)
        What the journal holds of the cloths, by label; its sewn swatches are learnt from.

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
        iron=iron,
        pasts=pasts,
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
    iron: Iron | None = None,
    pasts: Pasts = (),
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
    iron : Iron or None
        The iron at hand; an unmeasured household iron if None.
    pasts : sequence of tuple of (str, Past)
        What the journal holds of the cloths, by label.

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
    texts = dict(zip((cloth.reading.text for cloth in cloths), labels or (), strict=False))
    answer, taught = learn_joint(choose_joint(cloths, use, room, runs, demands), texts, pasts)
    stacks: tuple[JointStack, ...] = ()
    press = None
    if answer.ways:
        best = answer.ways[0].candidate
        stacks = joint_stacks(best.form, cloths, upper=best.upper, behind=best.behind)
        press = press_joint(stacks, use, window=window, iron=iron)
    return SeamSheet(
        labels=labels or tuple(cloth.reading.text for cloth in cloths),
        use=use,
        workroom=room,
        answer=answer,
        stacks=stacks,
        press=press,
        additions=_additions(cloths, use),
        practice=special_practice(answer.wants, use),
        cautions=_cautions(cloths, use, ironed=bool(press and press.recipe.value.passes)),
        trials=_trials(answer),
        aids=_aids(answer),
        taught=taught,
    )


def _aids(answer: JointAnswer) -> tuple[FeedAid, ...]:
    if not answer.ways:
        return ()
    best = answer.ways[0]
    return choose_feed_aids(apart(answer.cloths), best.numbers, best.candidate.stitch.width_mm)


def _additions(cloths: tuple[Cloth, ...], use: Use) -> tuple[Addition, ...]:
    """What goes with the outer cloths; a third cloth is the lining or underlining already."""
    found = choose_additions(apart(cloths[:2]), use)
    backed = ("lining", "underlining") if len(cloths) > 2 else ()
    return tuple(one for one in found if one.role not in backed)


def _trials(answer: JointAnswer) -> tuple[Trial, ...]:
    """What the labels leave open first, then the joint's own trials."""
    asked = [
        Trial(f"{cloth.structure_name}: {one.test}", one.settles)
        for cloth in apart(answer.cloths)
        for one in open_questions(cloth)
    ]
    if answer.ways and answer.trouble:
        asked += joint_trials(answer.ways[0], answer.trouble, answer.wants, answer.settled)
    return tuple(asked)


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
    stitch = sewing_key("stitch", question.stitch) if question.stitch.strip() else ""
    if stitch:
        sewing_entry("stitch", stitch)
    form = sewing_key("seam", question.form) if question.form.strip() else ""
    if form and form not in FORMS:
        raise UnknownNameError(
            f"{form[:40]!r} is no seam that joins",
            "seam",
            f"{did_you_mean(form, FORMS)}; known: "
            + ", ".join(f"{key} ({sewing_entry('seam', key).word('name')})" for key in FORMS),
        )
    behind = _behind(question)
    tex = parse_quantity(question.thread, "tex") if question.thread.strip() else None
    if tex is not None and not 1.0 <= tex <= 5000.0:
        raise InputError(f"a thread of tex {tex:g} is impossible", "thread", "write tex 27")
    return Demands(stitch, form, tex, _body_percent(question), behind)


def _behind(question: SeamQuestion) -> str:
    word = question.behind.strip().lower()
    if word and word not in BEHIND:
        raise UnknownNameError(
            f"{word[:40]!r} is no side of a joint", "behind", f"known: {', '.join(BEHIND)}"
        )
    if word and len([text for text in question.labels if text.strip()]) < 3:
        raise InputError(
            "only a third cloth lies behind another", "behind", "name three labels, or leave it out"
        )
    return word


def _body_percent(question: SeamQuestion) -> float | None:
    """Return the stretch that the body asks for, from its movement and the negative ease."""
    if not (question.place.strip() or question.negative_ease.strip()):
        return None
    ease = parse_quantity(question.negative_ease, "%") if question.negative_ease.strip() else 0.0
    if not 0.0 <= ease <= 60.0:
        raise InputError(f"a negative ease of {ease:g} % is impossible", "ease", "0 to 60 %")
    moves = body_movement(
        place=sewing_key("movement", question.place) if question.place.strip() else "none"
    ).value
    return stretch_needed_percent(negative_ease_percent=ease, movement_percent=moves)


def _cautions(cloths: tuple[Cloth, ...], use: Use, *, ironed: bool) -> tuple[Caution, ...]:
    """What to mind in all the cloths, what is said of several of them once."""
    found: dict[tuple[str, str], Caution] = {}
    for cloth in cloths:
        for caution in find_cautions(cloth, use, ironed=ironed):
            key = (caution.kind, "" if caution.kind == "heat" else caution.text)
            if key in found and caution.kind == "heat":
                found[key] = replace(found[key], text=_joined(found[key].text, caution.text))
            found.setdefault(key, caution)
    return tuple(found.values())


def _joined(one: str, other: str) -> str:
    """Two cautions with what both say said once; numbers do not make a clause another."""
    clauses = {re.sub(r"[\d.]+", "", clause): clause for clause in other.split("; ")}
    clauses |= {re.sub(r"[\d.]+", "", clause): clause for clause in one.split("; ")}
    return "; ".join(clauses.values())
