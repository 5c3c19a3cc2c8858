"""The bench card for the terminal: 80 columns, six lines in working order first."""

from __future__ import annotations

import textwrap

import click

from samite.kernel.quantity import Quantity, round_shown
from samite.kernel.units import convert
from samite.press.recipe import Pass, Recipe
from samite.services.card import Card
from samite.services.iron import iron_words
from samite.services.press_words import TOOL_WORDS
from samite.tables.fibres import fibre

WIDTH = 78
TAG = 9
"""Columns of the word before each line."""


def card_text(card: Card, *, depth: int = 0, units: str = "metric", bold: bool = False) -> str:
    """Return a card as text.

    Parameters
    ----------
    card : Card
        The card.
    depth : int
        Levels of reasons to show, 0 for none.
    units : str
        ``metric`` or ``imperial``.
    bold : bool
        Whether the terminal shows bold type.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    lines = [*_head(card, units, bold), *_working_lines(card, units, bold, depth)]
    lines += ["-" * WIDTH, *_rest(card, bold, depth)]
    return "\n".join(lines)


def _head(card: Card, units: str, bold: bool) -> list[str]:
    cloth = card.cloth
    fibres = " / ".join(
        f"{part.kind.value}: "
        + (", ".join(f"{i.percent:.0f} % {fibre(i.fibre).name}" for i in part.fibres) or "unknown")
        for part in cloth.parts
    )
    facts = [
        cloth.construction,
        _shown(cloth.mass_per_area_gsm, units, "g/m2", "oz/yd2"),
        _shown(cloth.thickness_mm, units, "mm", "in"),
    ]
    if cloth.width_cm:
        facts.append(_shown(cloth.width_cm, units, "cm", "in") + " wide")
    if cloth.stretch_cross_percent.value >= 5:
        facts.append(f"stretch {cloth.stretch_cross_percent.value:.0f} % across")
    title = cloth.structure_name.upper()
    lines = ["=" * WIDTH, _strong(title, bold)]
    lines += _wrap("", "; ".join(facts))
    lines += _wrap("", fibres)
    return [*lines, "=" * WIDTH]


def _shown(quantity: Quantity, units: str, metric: str, imperial: str) -> str:
    unit = metric if units == "metric" else imperial
    low, mid, high = (
        round_shown(convert(number, metric, unit))
        for number in (quantity.low, quantity.value, quantity.high)
    )
    span = "" if low == high else f" ({low:g} to {high:g})"
    given = "" if quantity.given else f" [{quantity.evidence.grade.value}]"
    return f"{mid:g} {unit}{span}{given}"


def _working_lines(card: Card, units: str, bold: bool, depth: int) -> list[str]:
    sewing, press = card.sewing, card.press.value
    seam, stitch, thread = sewing.seam.value, sewing.stitch.value, sewing.thread.value
    needle, hold = sewing.needle.value, sewing.holding.value
    width = f", {_length(stitch.width_mm, units)} wide" if stitch.width_mm else ""
    us_size = f"/{needle.as_dict()['size_us']}" if needle.size_nm else ""
    rows = [
        ("CUT", sewing.cut.value.text, "cut"),
        (
            "HOLD",
            f"{hold.method}, {hold.where.replace('-', ' ')}"
            + (f"; {hold.also}" if hold.also else ""),
            "holding",
        ),
        (
            "NEEDLE",
            f"{needle.point} {needle.size_nm}{us_size} ({needle.count} for 10 m of seam); "
            f"{thread.fibre} thread tex {thread.tex}",
            "needle",
        ),
        (
            "STITCH",
            f"{stitch.as_dict()['name']} ({stitch.type}), {_length(stitch.length_mm, units)} long{width}"
            + (f"; or {stitch.instead}" if stitch.instead else ""),
            "stitch",
        ),
        (
            "SEAM",
            f"{seam.as_dict()['name']}, allowance {_length(seam.allowance_mm, units)}; "
            f"finish {seam.finish}{_when(seam.finish_when)}. {seam.how}",
            "seam",
        ),
        ("PRESS", _press_line(card), "press"),
    ]
    lines = []
    for number, (tag, text, key) in enumerate(rows, start=1):
        lines += _wrap(f"{number} {tag}", text, bold)
        lines += _why(card, key, depth)
    lines += _chance_lines(press, bold)
    lines += _wrap("  IRON", f"counted for: {iron_words(card.iron)}", bold)
    for told in learnt_lines(card):
        lines += _wrap("  LEARNT", told, bold)
    if card.sewn:
        lines += _wrap("  SEWN", _sewn_words(card), bold)
    for step in press.never:
        lines += _wrap("  NEVER", step.removeprefix("never "), bold)
    return lines


def learnt_lines(card: Card) -> tuple[str, ...]:
    """Return what swatches taught a card, in sentences.

    Parameters
    ----------
    card : Card
        The card.

    Returns
    -------
    tuple of str
        Empty if nothing was learnt.
    """
    if card.taught is None:
        return ()
    from samite.services.learning import taught_words

    return taught_words(card.taught)


def _sewn_words(card: Card) -> str:
    tried = card.sewn[0].tried
    seen = [f"{item.sign.words} {item.seen}" for item in card.sewn if item.seen]
    told = ", ".join(seen) or "no trouble"
    worst = max(card.sewn, key=lambda item: item.chance)
    return (
        f"{tried} of your swatches sewn like this: {told}; likeliest next: {worst.sign.words}, "
        f"{worst.low:.0%} to {worst.high:.0%}"
    )


def _press_line(card: Card) -> str:
    press = card.press.value
    if not press.passes:
        return f"no iron. {press.instead}"
    steps = "; then ".join(_pass_text(step) for step in press.passes)
    hold = f"; hold under {_tool(press.hold_tool)} {press.hold_seconds:.0f} s, until cool"
    under = press.support.replace("-", " ")
    instead = f"; {press.instead}" if press.instead else ""
    return f"{steps}; on {under}{hold}{instead}"


def _tool(tool: str) -> str:
    return TOOL_WORDS.get(tool, tool)


def _pass_text(step: Pass) -> str:
    if step.steam == "hover":
        return (
            f"steam from the {step.side} side without touching, "
            f"{_count(step)}, iron hot enough to steam"
        )
    through = "through a cloth" if step.cloth else "directly"
    motion = "lift and lower" if step.motion == "lift" else "keep it moving"
    return (
        f"{step.side} side {through}, {step.iron.words}, steam {step.steam}, "
        f"{_count(step)}, {motion}"
    )


def _count(step: Pass) -> str:
    return f"count {step.seconds[0]:.0f}, stop by {step.seconds[1]:.0f}"


def _chance_lines(press: Recipe, bold: bool) -> list[str]:
    if press.chance_set is None or press.chance_damage is None:
        return []
    text = (
        f"{press.status.replace('-', ' ')}: chance of a set seam {press.chance_set:.0%}, of harm "
        f"somewhere on the whole costume {press.chance_damage:.1%}"
    )
    return _wrap("  ODDS", text, bold)


def _when(when: str) -> str:
    return "" if when == "none" else f" ({when.replace('-', ' ')})"


def _length(millimetres: float, units: str) -> str:
    if units == "metric":
        return f"{millimetres:g} mm"
    return f"{convert(millimetres, 'mm', 'in'):.2f} in"


def _rest(card: Card, bold: bool, depth: int) -> list[str]:
    sewing = card.sewing
    rows = [
        ("prepare", sewing.prepare.value.text, "prepare"),
        ("mark", sewing.mark.value.text, "mark"),
        ("feed", sewing.feed.value.text, "feed"),
        ("hem", sewing.hem.value.text, "hem"),
        ("care", card.care.value.text, "care"),
    ]
    lines = []
    for tag, text, key in rows:
        lines += _wrap(tag, text, bold)
        lines += _why(card, key, depth)
    for swatch in card.swatches:
        lines += _wrap("test", f"{swatch.test} (settles: {swatch.settles})", bold)
    for caution in card.cautions:
        lines += _wrap("mind", f"{caution.text} [{caution.source}]", bold)
    for tag, items in (("assumed", card.cloth.assumed), ("unknown", card.cloth.unknown)):
        if items:
            lines += _wrap(tag, ", ".join(item.replace("_", " ") for item in items), bold)
    for note in card.cloth.reading.notes:
        lines += _wrap("label", note, bold)
    return lines


def _why(card: Card, key: str, depth: int) -> list[str]:
    if not depth:
        return []
    lines = []
    for line in card.reasons()[key].lines(depth):
        indent = len(line) - len(line.lstrip())
        lines += textwrap.wrap(
            line.strip(),
            WIDTH - TAG - indent - 2,
            initial_indent=" " * (TAG + indent) + ": ",
            subsequent_indent=" " * (TAG + indent + 2),
        )
    return lines


def _wrap(tag: str, text: str, bold: bool = False) -> list[str]:
    body = textwrap.wrap(text, WIDTH - TAG if tag else WIDTH, break_long_words=True) or [""]
    if not tag:
        return body
    head = _strong(tag.ljust(TAG), bold)
    return [head + body[0], *(" " * TAG + line for line in body[1:])]


def _strong(text: str, bold: bool) -> str:
    return click.style(text, bold=True) if bold else text
