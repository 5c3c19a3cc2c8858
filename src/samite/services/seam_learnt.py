"""What sewn swatches taught a joint: its numbers and chances of trouble, before and after, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from samite.garment.use import Use
from samite.kernel.quantity import Quantity, round_shown
from samite.seam.answer import JointAnswer
from samite.seam.ranges import number_ranges
from samite.services.past import Past, past_of
from samite.sheets.before_after import draw_moved
from samite.sheets.learnt_views import MovedBar

if TYPE_CHECKING:
    from samite.swatch.seam_place import SeamPlace
    from samite.swatch.seam_taught import SeamTaught, TroubleChance

Pasts = Sequence[tuple[str, Past]]

LIKELY = 0.5
"""Chance from which a trouble makes an answer a compromise [-]."""

BARELY = 0.01
"""Change of a chance under which it is not told [-]."""

NUMBER_WORDS = {
    "strength_n_per_cm": "strength of the joint",
    "stitching_n_per_cm": "strength of the stitching",
    "weakest_cloth_n_per_cm": "strength of the cloth along the holes",
    "stretch_percent": "stretch along the seam",
}
"""Numbers that swatches move, in words."""


def seam_pasts(path: Path | None, labels: Sequence[str]) -> tuple[tuple[str, Past], ...]:
    """Return what the journal holds of the cloths of a joint.

    Parameters
    ----------
    path : Path or None
        File of the store; it need not be there.
    labels : sequence of str
        What the bolts say.

    Returns
    -------
    tuple of (str, Past)
        Label and journal, of those that have one.
    """
    texts = dict.fromkeys(text for text in labels if text.strip())
    found = [(text, past_of(path, text)) for text in texts]
    return tuple((text, past) for text, past in found if past is not None and past.sewn)


def place_in_wear(answer: JointAnswer) -> SeamPlace:
    """Return the best way of a joint, stretched and pulled as wear will.

    Parameters
    ----------
    answer : JointAnswer
        With at least one way.

    Returns
    -------
    SeamPlace
        What swatches are asked about.
    """
    from samite.swatch.seam_place import SeamPlace

    best, settled = answer.ways[0], answer.settled
    stretch = settled.needed_stretch_percent or None
    load = best.numbers.load_n_per_cm
    return SeamPlace(answer.wants, settled, best.candidate, stretch, load)


def learn_joint(
    answer: JointAnswer, labels: Mapping[str, str], pasts: Pasts
) -> tuple[JointAnswer, SeamTaught | None]:
    """Sharpen a joint by the swatches of its cloths.

    Parameters
    ----------
    answer : JointAnswer
        By the tables alone.
    labels : mapping of str to str
        The label as typed, by the text that each cloth was read from.
    pasts : sequence of tuple of (str, Past)
        What the journal holds, by label as typed.

    Returns
    -------
    tuple of (JointAnswer, SeamTaught or None)
        With learnt numbers, and with what likely goes wrong among its compromises; None if
        nothing was learnt, and the answer as it was.
    """
    if not answer.ways or not pasts:
        return answer, None
    from samite.seam.wants import each
    from samite.swatch.seam_learn import learn_sewn
    from samite.swatch.seam_taught import taught_of

    by_label = dict(pasts)
    known = []
    for one in each(answer.wants):
        text = one.cloth.reading.text
        past = by_label.get(labels.get(text, text), Past(()))
        known.append(learn_sewn(one.cloth, past.swatches, past.sewn_alike()))
    taught = taught_of(place_in_wear(answer), known, answer.ways[0].numbers)
    return (_sharpened(answer, taught), taught) if taught else (answer, None)


def _sharpened(answer: JointAnswer, taught: SeamTaught) -> JointAnswer:
    best = answer.ways[0]
    learnt: dict[str, Any] = {name: found.value for name, found in taught.ranges.items()}
    if taught.gives_way:
        learnt["gives_way"] = taught.gives_way
    numbers = replace(best.numbers, **learnt)
    why = answer.why + tuple(_why(item, taught) for item in taught.troubles if _newly(item))
    ways = (replace(best, numbers=numbers), *answer.ways[1:])
    return replace(answer, ways=ways, why=why, status="compromise" if why else answer.status)


def _newly(item: TroubleChance) -> bool:
    return item.after >= LIKELY and item.seen > 0


def _why(item: TroubleChance, taught: SeamTaught) -> str:
    said = (
        f"{item.seen} of {item.tried} swatches of {item.cloth} {item.sign.words}: so will this "
        f"seam in {100 * item.after:.0f} of 100"
    )
    return f"{said}; rather {taught.rather[0]}" if taught.rather else said


def seam_taught_json(
    taught: SeamTaught | None, answer: JointAnswer, use: Use
) -> dict[str, Any] | None:
    """Return what swatches taught a joint, as it stands in ``samite.seam.v1``.

    Parameters
    ----------
    taught : SeamTaught or None
        What they taught.
    answer : JointAnswer
        The joint with it.
    use : Use
        What the seam has to bear.

    Returns
    -------
    dict of str to object or None
        As documented in ``docs/faces/seam.md``; None if nothing was learnt.
    """
    if taught is None:
        return None
    return {
        "swatches": taught.swatches,
        "set_aside": taught.set_aside,
        "alike": taught.alike,
        "troubles": [_trouble_json(item) for item in taught.troubles],
        "numbers": _numbers_json(taught, answer, use),
        "rather": _rather_json(taught),
        "words": list(seam_taught_words(taught)),
    }


def _trouble_json(item: TroubleChance) -> dict[str, Any]:
    return {
        "trouble": item.sign.value,
        "words": item.sign.words,
        "cloth": item.cloth,
        "before": round(item.before, 4),
        "before_range": [round(end, 4) for end in item.before_range],
        "after": round(item.after, 4),
        "after_range": [round(end, 4) for end in item.after_range],
        "seen": item.seen,
        "tried": item.tried,
    }


def _numbers_json(
    taught: SeamTaught, answer: JointAnswer, use: Use
) -> dict[str, dict[str, list[object]]]:
    """Low, middle and high of each number that moved, by the tables alone and now."""
    if not taught.ranges:
        return {}
    before = number_ranges(answer.ways[0].candidate, taught.numbers, answer.cloths, use)
    return {
        name: {"before": _three(before[name]), "after": _three(after)}
        for name, after in taught.ranges.items()
    }


def _three(found: Quantity) -> list[object]:
    return [round_shown(end) for end in (found.low, found.value, found.high)]


def _rather_json(taught: SeamTaught) -> dict[str, object] | None:
    if taught.rather is None:
        return None
    way, now, then = taught.rather
    return {"way": way, "cost_now": round(now, 4), "cost_then": round(then, 4)}


def seam_taught_words(taught: SeamTaught) -> tuple[str, ...]:
    """Say in a few sentences what swatches taught a joint.

    Parameters
    ----------
    taught : SeamTaught
        What they taught.

    Returns
    -------
    tuple of str
        How many, the troubles that moved, and a better way if there is one.
    """
    count = taught.swatches
    said = f"learnt from {count} sewn swatch{'' if count == 1 else 'es'}"
    if taught.set_aside:
        said += f", {taught.set_aside} set aside"
    if taught.alike:
        said += f", {taught.alike} of cloths alike lend a part"
    lines = [said]
    moved = [item for item in taught.troubles if abs(item.after - item.before) >= BARELY]
    lines += [
        f"{item.sign.words}: {_percent(item.after)} of 100 ({_percent(item.after_range[0])} to "
        f"{_percent(item.after_range[1])}), before {_percent(item.before)}"
        for item in sorted(moved, key=lambda item: -abs(item.after - item.before))
    ]
    if taught.rather:
        way, now, then = taught.rather
        lines.append(f"rather {way}: {_percent(then)} instead of {_percent(now)} points of trouble")
    return tuple(lines)


def _percent(share: float) -> str:
    return f"{100 * share:.0f}" if share >= 0.095 else f"{100 * share:.1f}"


BARS = 8
"""Bars that are drawn."""


def seam_taught_svg(view: Mapping[str, Any]) -> str | None:
    """Return what moved as bars, before over after.

    Parameters
    ----------
    view : mapping of str to object
        ``learnt`` of a ``samite.seam.v1``.

    Returns
    -------
    str or None
        SVG; None if nothing moved.
    """
    bars = []
    for name, moved in view["numbers"].items():
        unit = "%" if name.endswith("percent") else "N/cm"
        spans = (tuple(moved["before"]), tuple(moved["after"]))
        bars.append(MovedBar(NUMBER_WORDS[name], unit, *spans))
    for item in view["troubles"]:
        if abs(item["after"] - item["before"]) >= BARELY:
            spans = (_span(item, "before"), _span(item, "after"))
            bars.append(MovedBar(f"{item['words']}, chance", "%", *spans))
    return draw_moved(bars[:BARS]) if bars else None


def _span(item: Mapping[str, Any], when: str) -> tuple[float, float, float]:
    low, high = item[f"{when}_range"]
    middle = min(max(item[when], low), high)
    return 100.0 * low, 100.0 * middle, 100.0 * high
