"""A card in the words of its sheet: what is read from across the bench, and what up close."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from samite.kernel.evidence import Grade, weakest
from samite.kernel.quantity import Quantity, round_shown
from samite.kernel.reasons import Reason
from samite.kernel.units import convert
from samite.services.iron import iron_words
from samite.services.paper_press import card_views
from samite.services.press_words import SUPPORT_WORDS, TOOL_WORDS
from samite.sheets.layers_picture import describe_layers, draw_layers
from samite.sheets.press_curve import describe_curve, draw_press_curve
from samite.sheets.views import CardSheet, Note, Picture, PressBlock, PressPass, WorkLine

if TYPE_CHECKING:
    from samite.press.recipe import Pass, Recipe
    from samite.services.card import Card

GRADE_WORDS = {
    Grade.MEASURED_HERE: "measured",
    Grade.STANDARD: "standard",
    Grade.PUBLICATION: "published",
    Grade.DERIVED: "computed",
    Grade.COMMON_PRACTICE: "practice",
    Grade.FROM_MEMORY: "from memory",
    Grade.GUESS: "guess",
}
"""The grade of a line's weakest reason, in one or two words for its tag."""

STEAM_WORDS = {
    "none": "no steam: button off",
    "light": "light steam: short puffs",
    "full": "full steam: button held",
    "hover": "steam from 2 cm, never touching",
}
MOTION_WORDS = {"lift": "lift and lower", "stroke": "keep it moving"}
STATE_WORDS = {
    "safe": "",
    "compromise": "not proved safe: swatch first",
    "do-not-press": "do not press",
}


def card_sheet(
    card: Card,
    *,
    role: str = "",
    units: str = "metric",
) -> CardSheet:
    """Put a card into the words of the sheet.

    Parameters
    ----------
    card : Card
        The card.
    role : str
        What the cloth becomes; may be empty.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    CardSheet
        Words and drawings.
    """
    cloth, recipe = card.cloth, card.press.value
    views = card_views(card)
    tests = [Note("test", f"{item.test} ({item.settles})") for item in card.swatches]
    return CardSheet(
        title=cloth.structure_name,
        role=role,
        label=" ".join(card.label.split()),
        facts=_facts(card, units),
        lines=_lines(card, units),
        press=_press_block(card, recipe),
        nevers=tuple(text.removeprefix("never ") for text in recipe.never),
        test_first=card.swatches[0].test if card.swatches else "",
        notes=(*_notes(card), *tests[1:]),
        cautions=tuple(Note(item.kind, item.text, item.source) for item in card.cautions),
        doubts=_doubts(card),
        curve=Picture(draw_press_curve(views[0], small=True), describe_curve(views[0]))
        if views
        else None,
        layers=Picture(draw_layers(views[1], small=True), describe_layers(views[1]))
        if views
        else None,
    )


def grade_word(reason: Reason) -> str:
    """Return the grade of the weakest leaf of a reason, in one or two words.

    Parameters
    ----------
    reason : Reason
        The reason.

    Returns
    -------
    str
        For a tag.
    """
    return GRADE_WORDS[weakest(*_grades(reason))]


def _grades(reason: Reason) -> list[Grade]:
    own = [reason.evidence.grade] if reason.evidence else []
    return own + [grade for under in reason.because for grade in _grades(under)]


def _facts(card: Card, units: str) -> tuple[str, ...]:
    cloth = card.cloth
    found = [
        cloth.construction,
        _shown(cloth.mass_per_area_gsm, units, "g/m2", "oz/yd2"),
        _shown(cloth.thickness_mm, units, "mm", "in") + " thick",
    ]
    if cloth.width_cm:
        found.append(_shown(cloth.width_cm, units, "cm", "in") + " wide")
    if cloth.stretch_cross_percent.value >= 5:
        found.append(f"stretch {cloth.stretch_cross_percent.value:.0f} % across")
    for part in cloth.parts:
        fibres = ", ".join(f"{i.percent:.0f} % {i.fibre.replace('-', ' ')}" for i in part.fibres)
        found.append(f"{part.kind.value}: {fibres or 'unknown'}")
    return tuple(found)


def _shown(quantity: Quantity, units: str, metric: str, imperial: str) -> str:
    unit = metric if units == "metric" else imperial
    low, middle, high = (
        round_shown(convert(value, metric, unit))
        for value in (quantity.low, quantity.value, quantity.high)
    )
    words = f"{middle:g} {unit.replace('m2', 'm²').replace('yd2', 'yd²')}"
    return (
        words
        if quantity.given
        else f"{words} ({low:g} to {high:g}, {GRADE_WORDS[quantity.evidence.grade]})"
    )


def _length(millimetres: float, units: str) -> str:
    if units == "metric":
        return f"{millimetres:g} mm"
    return f"{convert(millimetres, 'mm', 'in'):.2f} in"


def _lines(card: Card, units: str) -> tuple[WorkLine, ...]:
    sewing, reasons = card.sewing, card.reasons()
    rows = (
        ("CUT", *_parted(sewing.cut.value.text), "cut"),
        ("HOLD", *_hold_words(card), "holding"),
        ("NEEDLE", *_needle_words(card), "needle"),
        ("STITCH", *_stitch_words(card, units), "stitch"),
        ("SEAM", *_seam_words(card, units), "seam"),
    )
    return tuple(
        WorkLine(tag, big, detail, grade_word(reasons[key])) for tag, big, detail, key in rows
    )


def _parted(text: str) -> tuple[str, str]:
    """Part ``"single layer, face up, shears; ..."`` into what to see and what to read."""
    pieces = text.replace("; ", ", ").split(", ")
    return ", ".join(pieces[:2]), ", ".join(pieces[2:])


def _hold_words(card: Card) -> tuple[str, str]:
    hold = card.sewing.holding.value
    return f"{hold.method}, {hold.where.replace('-', ' ')}", hold.also


def _needle_words(card: Card) -> tuple[str, str]:
    needle, thread = card.sewing.needle.value, card.sewing.thread.value
    us_size = f"/{needle.as_dict()['size_us']}" if needle.size_nm else ""
    size = f" {needle.size_nm}{us_size}" if needle.size_nm else ""
    note = f"; {needle.note}" if needle.note else ""
    worn = f"{needle.count} for 10 m of seam" if needle.size_nm else ""
    return f"{needle.point}{size}", f"{worn}{note}; {thread.fibre} thread tex {thread.tex}"


def _stitch_words(card: Card, units: str) -> tuple[str, str]:
    stitch = card.sewing.stitch.value
    wide = f" × {_length(stitch.width_mm, units)}" if stitch.width_mm else ""
    name = str(stitch.as_dict()["name"]).replace("straight lockstitch", "straight")
    measure = "length × width; " if wide else ""
    other = f"; or {stitch.instead}" if stitch.instead else ""
    return f"{name} {_length(stitch.length_mm, units)}{wide}", f"{measure}type {stitch.type}{other}"


def _seam_words(card: Card, units: str) -> tuple[str, str]:
    seam = card.sewing.seam.value
    when = f"finish {seam.finish_when.replace('-', ' ')}: " if seam.finish_when != "none" else ""
    big = f"{seam.as_dict()['name']} {_length(seam.allowance_mm, units)}"
    finish = "no finish" if seam.finish == "none" else seam.finish.replace("-", " ")
    return (big if seam.finish == "french" else f"{big}, {finish}"), when + seam.how


def _press_block(card: Card, recipe: Recipe) -> PressBlock:
    hold = f"hold under {TOOL_WORDS.get(recipe.hold_tool, recipe.hold_tool)}"
    odds = ""
    if recipe.chance_set is not None and recipe.chance_damage is not None:
        odds = f"seam set {recipe.chance_set:.0%}, harm on the whole costume {recipe.chance_damage:.1%}"
    return PressBlock(
        passes=tuple(_pass_words(step, recipe) for step in recipe.passes),
        support=SUPPORT_WORDS.get(recipe.support, f"on {recipe.support}"),
        hold=""
        if recipe.hold_tool == "none"
        else f"{hold} {recipe.hold_seconds:.0f} s, until cool",
        also=_cloth_words(recipe)[1] if recipe.uses_cloth else "",
        instead=recipe.instead,
        state=STATE_WORDS.get(recipe.status, recipe.status),
        odds=odds,
        grade=grade_word(card.press.reason),
    )


def _cloth_words(recipe: Recipe) -> tuple[str, str]:
    """Part the press cloth from what is said besides."""
    kind = recipe.cloth_kind or "a press cloth"
    first = re.split("[;:]", kind)[0]
    return first, kind.removeprefix(first).strip(";: ")


def _pass_words(step: Pass, recipe: Recipe) -> PressPass:
    hovers = step.steam == "hover"
    through = f"through {_cloth_words(recipe)[0]}" if step.cloth else "no press cloth"
    dial = "iron hot enough to steam" if hovers else step.iron.words.split(",")[0]
    return PressPass(
        where=f"{step.side} side, {'no press cloth' if hovers else through}",
        dial=dial,
        dots=0 if hovers else step.iron.dots,
        steam=STEAM_WORDS[step.steam],
        motion="keep it moving" if hovers else MOTION_WORDS[step.motion],
        count_s=step.seconds[0],
        stop_s=step.seconds[1],
    )


def _notes(card: Card) -> tuple[Note, ...]:
    sewing = card.sewing
    return (
        Note("prepare", sewing.prepare.value.text),
        Note("mark", sewing.mark.value.text),
        Note("feed", sewing.feed.value.text),
        Note("hem", sewing.hem.value.text),
        Note("care", card.care.value.text),
    )


def _doubts(card: Card) -> tuple[Note, ...]:
    cloth = card.cloth
    found = []
    for tag, items in (("assumed", cloth.assumed), ("unknown", cloth.unknown)):
        if items:
            found.append(Note(tag, ", ".join(_plain(item) for item in items)))
    if card.press.value.passes:
        found.append(Note("iron", f"counted for: {iron_words(card.iron)}"))
    return (*found, *(Note("label", note) for note in cloth.reading.notes))


def _plain(name: str) -> str:
    words = name.removesuffix("_gsm").removesuffix("_mm").removesuffix("_percent")
    return words.removesuffix("_cm").replace("_", " ")
