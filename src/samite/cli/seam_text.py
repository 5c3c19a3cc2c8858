"""A joint for the terminal: how to sew it first, then what it does, then the other ways."""

from __future__ import annotations

import textwrap
from collections.abc import Callable

import click

from samite.garment.joint_stack import apart
from samite.seam.answer import JointAnswer
from samite.seam.rank import Ranked, trade_offs
from samite.seam.settle import Conflict
from samite.seam.sides import third_words
from samite.services.inches import in_imperial
from samite.services.joint_press import joint_press_words
from samite.services.seam import SeamSheet
from samite.services.seam_json import ranges_json, taken_words, thread_json
from samite.services.seam_learnt import seam_taught_words
from samite.tables.sewing import sewing_entry

WIDTH = 78
TAG = 9
Put = Callable[[str, str], list[str]]
"""Sets a tag and a text beside it, in the person's units."""


def seam_text(
    sheet: SeamSheet,
    *,
    why: bool = False,
    bold: bool = False,
    cautions: bool = True,
    units: str = "metric",
) -> str:
    """Return a joint as text.

    Parameters
    ----------
    sheet : SeamSheet
        The joint.
    why : bool
        Show what counted, and what was ruled out.
    bold : bool
        Whether the terminal shows bold type.
    cautions : bool
        Say what to mind as well; False below a card that has said it.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """

    def put(tag: str, text: str) -> list[str]:
        return wrapped(tag, in_imperial(text) if units == "imperial" else text, bold)

    answer = sheet.answer
    names = " to ".join(cloth.structure_name.upper() for cloth in answer.cloths)
    lines = ["=" * WIDTH, *textwrap.wrap(f"SEAM  {names}", WIDTH), "=" * WIDTH]
    lines += _taken(answer, put)
    lines += _status(answer, put)
    if sheet.best:
        lines += _sewing(sheet, sheet.best, put)
        lines += ["-" * WIDTH, *_numbers(sheet, sheet.best, put)]
    lines += _learnt(sheet, put)
    lines += _conflicts(sheet, put)
    lines += _ways(answer, put)
    lines += _rest(sheet, put, cautions=cautions)
    if why:
        lines += _why(answer, put)
    return "\n".join(lines)


def wrapped(tag: str, text: str, bold: bool = False) -> list[str]:
    """Return a tag and a text beside it, wrapped.

    Parameters
    ----------
    tag : str
        Word before the first line.
    text : str
        The text.
    bold : bool
        Whether the tag is bold.

    Returns
    -------
    list of str
        Lines of at most 78 columns.
    """
    first, *rest = textwrap.wrap(text, WIDTH - TAG) or [""]
    head = f"{tag:<{TAG}}" if len(tag) < TAG else f"{tag} "
    shown = click.style(head, bold=True) if bold else head
    return [shown + first, *(" " * TAG + line for line in rest)]


def _taken(answer: JointAnswer, put: Put) -> list[str]:
    lines = []
    for cloth in apart(answer.cloths):
        words = f"{cloth.structure_name}: {taken_words(cloth)}"
        lines += put("TAKEN", words)
    return lines


def _status(answer: JointAnswer, put: Put) -> list[str]:
    if answer.status == "works":
        return []
    word = "CANNOT" if answer.status == "cannot" else "MIND"
    lines = [line for text in answer.why for line in put(word, text)]
    for text in answer.nearest:
        lines += put("NEAREST", text)
    return lines


def _sewing(sheet: SeamSheet, best: Ranked, put: Put) -> list[str]:
    settled, candidate = sheet.answer.settled, best.candidate
    third = third_words(sheet.answer.cloths, settled.behind)
    needle, hold, seam = settled.needle, settled.holding.value, candidate.seam
    thread = thread_json(settled)
    us = needle.as_dict()["size_us"]
    note = f", {needle.note}" if needle.note else ""
    foot = sewing_entry("foot", settled.foot.value).word("name")
    finishes = "; ".join(
        dict.fromkeys(f"{e.cloth}: {e.finish}{_when(e.when)}" for e in candidate.finishes)
    )
    rows = [
        (
            "1 HOLD",
            f"{hold.method}, {hold.where.replace('-', ' ')}{f'; {hold.also}' if hold.also else ''}",
        ),
        (
            "2 NEEDLE",
            f"{needle.point} {needle.size_nm}/{us} ({needle.count} for 10 m{note}); "
            f"{thread['name']}, tex {thread['tex']:g}; {foot}",
        ),
        ("3 STITCH", f"{stitch_words(best)} on the {candidate.machine.name}"),
        (
            "4 SEAM",
            f"{sewing_entry('seam', candidate.form).word('name')}, {candidate.lies}, allowance "
            f"{seam.allowance_mm:g} mm: {seam.how}{f'; {third}' if third else ''}",
        ),
        ("5 FINISH", finishes),
        ("6 PRESS", joint_press_words(sheet.press.recipe.value) if sheet.press else "-"),
    ]
    lines = [line for tag, text in rows for line in put(tag, text)]
    for aid in sheet.aids:
        entry = aid.entry
        text = (
            f"{entry.word('name')} ({aid.reason.claim}): {entry.word('how')}; {entry.word('mind')}"
        )
        lines += put("  AID", text)
    for rule in sheet.press.recipe.value.never if sheet.press else ():
        lines += put("  NEVER", rule.removeprefix("never "))
    return lines


def _when(when: str) -> str:
    return "" if when == "none" else f" {when.replace('-', ' ')}"


def stitch_words(way: Ranked) -> str:
    """Return a stitch in words.

    Parameters
    ----------
    way : Ranked
        A way to join.

    Returns
    -------
    str
        Name, number, length and width.
    """
    stitch = way.candidate.stitch
    name = sewing_entry("stitch", stitch.type).word("name")
    wide = f", {stitch.width_mm:g} mm wide" if stitch.width_mm else ""
    return f"{name} ({stitch.type}), {stitch.length_mm:g} mm{wide}"


def _numbers(sheet: SeamSheet, best: Ranked, put: Put) -> list[str]:
    n, trouble = best.numbers, sheet.answer.trouble
    ranges = ranges_json(sheet, best)

    def span(name: str) -> str:
        one = ranges[name]
        return f"{one['low']:.2g} to {one['high']:.2g}"

    stretch = f"stretches {n.stretch_percent:.0f} % ({span('stretch_percent')}"
    stretch += f"; {n.needed_stretch_percent:.0f} % wanted)" if n.needed_stretch_percent else ")"
    text = (
        f"holds {n.strength_n_per_cm:.0f} N/cm ({span('strength_n_per_cm')}; load "
        f"{n.load_n_per_cm:.0f}; {n.gives_way} gives way first); {stretch}; "
        f"{n.thickness_mm:.1f} mm thick ({span('thickness_mm')} mm), {n.crossing_mm:.1f} mm at a "
        f"crossing; {n.thread_ratio:.1f} m thread a metre ({span('thread_ratio')}; "
        f"{n.needle_thread_ratio:.1f} needle, {n.other_thread_ratio:.1f} below); about "
        f"{n.minutes_per_m:.0f} min a metre ({span('minutes_per_m')}); ranges are guesses"
        f"{', those that swatches moved are measured here' if sheet.taught else ''}"
    )
    lines = put("IT DOES", text)
    if trouble:
        lines += put(
            "PUCKER",
            f"{trouble.pucker}; {trouble.pucker_cures[0]}"
            if trouble.pucker_cures and trouble.pucker != "none"
            else trouble.pucker,
        )
        short, longest = trouble.span_mm
        least = f"not under {short:.1f} mm (holes), " if short else ""
        lines += put("LENGTH", f"{least}not over {longest:g} mm (fray)")
        slip = trouble.slippage
        helps = f": {'; '.join(slip.remedies[:3])}" if slip.remedies else ""
        risk = slip.as_dict()["risk"]
        said = "no risk seen" if risk == "none" else f"{risk} risk{helps}"
        lines += put("SLIPS", said)
    return lines


def _learnt(sheet: SeamSheet, put: Put) -> list[str]:
    if sheet.taught is None:
        return []
    text = "; ".join(seam_taught_words(sheet.taught))
    return put("LEARNT", text.removeprefix("learnt "))


def _conflicts(sheet: SeamSheet, put: Put) -> list[str]:
    found: tuple[Conflict, ...] = sheet.answer.settled.conflicts
    if sheet.press:
        found = (*found, *sheet.press.conflicts)
    lines = []
    for one in found:
        said = "; ".join(f"{cloth}: {want}" for cloth, want in one.wants)
        lines += put("CONFLICT", f"{one.about}. {said}. Settled: {one.settled}")
    return lines


def _ways(answer: JointAnswer, put: Put) -> list[str]:
    lines = []
    for number, way in enumerate(answer.ways[1:], start=2):
        gains, losses = trade_offs(way, answer.ways[0])
        name = sewing_entry("seam", way.candidate.form).word("name")
        text = f"{name} {way.candidate.lies}, {stitch_words(way)}"
        text += f". Better: {'; '.join(gains)}" if gains else ""
        text += f". Worse: {'; '.join(losses)}" if losses else ""
        lines += put(f"OR {number}", text)
    return lines


def _rest(sheet: SeamSheet, put: Put, *, cautions: bool) -> list[str]:
    lines = []
    for words, then in sheet.answer.changes:
        lines += put("CHANGES", f"{words}: {then}")
    for one in sheet.answer.buy:
        lines += put("BUY", f"{one.what} ({one.why})")
    for one_more in sheet.additions:
        entry = one_more.entry
        lines += put("WITH", f"{one_more.role}: {entry.word('name')} ({one_more.why})")
    for item in sheet.practice:
        lines += put("DO", f"{item.about}: {item.do}")
    for trial in sheet.trials:
        lines += put("TEST", f"{trial.test} (settles: {trial.settles})")
    for caution in sheet.cautions if cautions else ():
        lines += put("MIND", caution.text)
    return lines


def _why(answer: JointAnswer, put: Put) -> list[str]:
    lines = ["-" * WIDTH]
    for number, way in enumerate(answer.ways, start=1):
        text = "; ".join(
            f"{score.criterion} {score.share:.2f} x {score.weight:g} ({score.reason.claim})"
            for score in way.scores
        )
        lines += put(f"WHY {number}", f"{way.total:.2f} of 1: {text}")
    for out in answer.ruled_out:
        lines += put("OUT", f"{out.what}: {out.why}")
    return lines
