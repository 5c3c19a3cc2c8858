"""The lines of the card as the page shows them: a short head, the rest, and why."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.construction import PICTURE_QUESTION
from samite.kernel.evidence import Evidence
from samite.kernel.quantity import Quantity
from samite.kernel.reasons import Reason
from samite.services.card import Card
from samite.web.words import in_units, number_words, quantity_words, stitch_words


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the card.

    Parameters
    ----------
    key : str
        Name of the line, used for its icon and its place.
    tag : str
        The word before it.
    head : str
        What is read at a glance.
    text : str
        The rest.
    whys : tuple of (str, Reason)
        What is asked, and the reason.
    """

    key: str
    tag: str
    head: str
    text: str
    whys: tuple[tuple[str, Reason], ...] = ()


@dataclass(frozen=True, slots=True)
class Value:
    """One value that the card stands on.

    Parameters
    ----------
    name : str
        What it is.
    shown : str
        The value with its range.
    given : bool
        Whether the label gave it.
    evidence : Evidence or None
        Where it comes from.
    reason : Reason or None
        Why it is so.
    """

    name: str
    shown: str
    given: bool
    evidence: Evidence | None
    reason: Reason | None


def working_lines(card: Card, units: str) -> tuple[Line, ...]:
    """Return the lines before the press, in working order.

    Parameters
    ----------
    card : Card
        The card.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    tuple of Line
        Cut, hold, needle, stitch, seam.
    """
    made = (_cut(card), _hold(card), _needle(card, units), _stitch(card, units), _seam(card, units))
    return tuple(
        Line(line.key, line.tag, line.head, in_units(line.text, units), line.whys) for line in made
    )


def _cut(card: Card) -> Line:
    advice = card.sewing.cut
    detail = advice.value.as_dict()
    head = f"{detail['layers']} layer, face {detail['face']}"
    rest = advice.value.text.removeprefix(f"{head}, ").removeprefix(head)
    if rest == advice.value.text:
        head, _, rest = rest.partition(", ")
    return Line("cut", "Cut", head, rest, (("Why cut so?", advice.reason),))


def _hold(card: Card) -> Line:
    hold = card.sewing.holding.value
    head = f"{hold.method}, {hold.where.replace('-', ' ')}"
    return Line("hold", "Hold", head, hold.also, (("Why hold so?", card.sewing.holding.reason),))


def _needle(card: Card, units: str) -> Line:
    sewing = card.sewing
    needle, thread = sewing.needle.value, sewing.thread.value
    smallest, largest = needle.range_nm
    seam = "10 m" if units == "metric" else "11 yd"
    parts = [
        f"{thread.fibre} thread, tex {thread.tex}",
        f"{needle.count} needle{'s' if needle.count > 1 else ''} for {seam} of seam",
        f"Nm {smallest} to {largest} will do" if smallest else "",
        needle.note,
    ]
    whys = (("Why this needle?", sewing.needle.reason), ("Why this thread?", sewing.thread.reason))
    head = f"{needle.point} {needle.size_nm}/{needle.as_dict()['size_us']}"
    return Line("needle", "Needle", head, "; ".join(filter(None, parts)), whys)


def _stitch(card: Card, units: str) -> Line:
    stitch = card.sewing.stitch.value
    width = f", {number_words(stitch.width_mm, 'mm', units)} wide" if stitch.width_mm else ""
    instead = f"; or {stitch.instead}" if stitch.instead else ""
    name = stitch.as_dict()["name"]
    head = f"{name}, {stitch_words(stitch.length_mm, units)}{width}"
    text = f"stitch type {stitch.type}{instead}"
    return Line("stitch", "Stitch", head, text, (("Why this stitch?", card.sewing.stitch.reason),))


def _seam(card: Card, units: str) -> Line:
    seam = card.sewing.seam.value
    when = "" if seam.finish_when == "none" else f" ({seam.finish_when.replace('-', ' ')})"
    finish = "no finish" if seam.finish == "none" else f"finish: {seam.finish}{when}"
    name = seam.as_dict()["name"]
    head = f"{name}, allowance {number_words(seam.allowance_mm, 'mm', units)}"
    return Line(
        "seam",
        "Seam",
        head,
        f"{finish}; {seam.how}",
        (("Why this seam?", card.sewing.seam.reason),),
    )


def other_lines(card: Card, units: str) -> tuple[Line, ...]:
    """Return the lines beside the seam and the press.

    Parameters
    ----------
    card : Card
        The card.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    tuple of Line
        Prepare, mark, feed, hem, care, and the other needles.
    """
    sewing = card.sewing
    steps = (
        ("prepare", "Prepare", sewing.prepare.value.text, sewing.prepare.reason),
        ("mark", "Mark", sewing.mark.value.text, sewing.mark.reason),
        ("feed", "Feed", sewing.feed.value.text, sewing.feed.reason),
        ("hem", "Hem", sewing.hem.value.text, sewing.hem.reason),
        ("care", "Care", card.care.value.text, card.care.reason),
    )
    lines = [
        Line(key, tag, "", in_units(text, units), (("Why?", reason),))
        for key, tag, text, reason in steps
    ]
    return (*lines, Line("needles", "Other needles", "", _needles(card)))


def _needles(card: Card) -> str:
    shown = []
    for needle in card.sewing.other_needles:
        size = f" {needle.size_nm}/{needle.as_dict()['size_us']}" if needle.size_nm else ""
        note = f" ({needle.note})" if needle.note else ""
        shown.append(f"{needle.use}: {needle.point}{size}{note}")
    return "; ".join(shown)


def cloth_facts(card: Card, units: str) -> tuple[str, ...]:
    """Return what the cloth is, shortly.

    Parameters
    ----------
    card : Card
        The card.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    tuple of str
        Construction, mass, thickness, width, stretch.
    """
    cloth = card.cloth
    stretch = cloth.stretch_cross_percent.value
    guessed = PICTURE_QUESTION in cloth.unknown
    facts = [
        f"taken for {cloth.construction}" if guessed else cloth.construction,
        _middle(cloth.mass_per_area_gsm, units),
        f"{_middle(cloth.thickness_mm, units)} thick",
        f"{_middle(cloth.width_cm, units)} wide" if cloth.width_cm else "",
        f"stretch {stretch:.0f} % across" if stretch >= 5 else "",
    ]
    return tuple(filter(None, facts))


def _middle(quantity: Quantity, units: str) -> str:
    return quantity_words(quantity, units).partition(" (")[0]


def cloth_parts(card: Card) -> tuple[tuple[str, str], ...]:
    """Return each part of the cloth with its fibres.

    Parameters
    ----------
    card : Card
        The card.

    Returns
    -------
    tuple of (str, str)
        Part and fibres.
    """
    return tuple(
        (
            part.kind.value,
            ", ".join(
                f"{item.percent:.0f} % {item.fibre.replace('-', ' ')}" for item in part.fibres
            )
            or "material not known",
        )
        for part in card.cloth.parts
    )


SCALES = {
    "frays": ("ready to fray", ("never", "a little", "readily", "to nothing")),
    "slippery": ("slippery", ("stays put", "a little", "slides", "slides off the table")),
    "stiffness": ("stiff", ("limp", "soft", "firm", "stands by itself")),
}
"""Steps of the handle, in words."""


def cloth_values(card: Card, units: str) -> tuple[Value, ...]:
    """Return every value that the card stands on, with its grade.

    Parameters
    ----------
    card : Card
        The card.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    tuple of Value
        Measures first, then the handle.
    """
    cloth = card.cloth
    measures = (
        ("mass", "mass_per_area_gsm", cloth.mass_per_area_gsm),
        ("thickness", "thickness_mm", cloth.thickness_mm),
        ("width", "width_cm", cloth.width_cm),
        ("stretch across", "stretch_percent", cloth.stretch_cross_percent),
        ("stretch along", "stretch_percent", cloth.stretch_length_percent),
        ("moisture it holds", "regain_percent", cloth.regain_percent),
        ("conductivity", "conductivity_w_mk", cloth.conductivity_w_mk),
        ("specific heat", "specific_heat_j_kgk", cloth.specific_heat_j_kgk),
    )
    values = [
        Value(
            name,
            quantity_words(quantity, units),
            quantity.given,
            quantity.evidence,
            cloth.reasons.get(key),
        )
        for name, key, quantity in measures
        if quantity
    ]
    return (_construction(card), *values, *_handle(card))


def _construction(card: Card) -> Value:
    reason = card.cloth.reasons.get("construction")
    evidence = reason.evidence if reason else None
    given = card.cloth.reading.construction is not None
    return Value("construction", card.cloth.construction, given, evidence, reason)


def _handle(card: Card) -> list[Value]:
    values = []
    for key, (name, steps) in SCALES.items():
        reason = card.cloth.reasons.get(key)
        step = steps[getattr(card.cloth, key)]
        values.append(Value(name, step, False, reason.evidence if reason else None, reason))
    for key, name in (("sheer", "sheer"), ("one_way", "one way"), ("holes_show", "holes show")):
        reason = card.cloth.reasons.get(key)
        answer = "yes" if getattr(card.cloth, key) else "no"
        values.append(Value(name, answer, False, reason.evidence if reason else None, reason))
    return values


@dataclass(frozen=True, slots=True)
class Question:
    """A question whose answers are pictures.

    Parameters
    ----------
    text : str
        The question.
    answers : tuple of (str, str)
        Name of the drawing, and the words that the answer adds to the label.
    """

    text: str
    answers: tuple[tuple[str, str], ...]


def picture_questions(card: Card) -> tuple[Question, ...]:
    """Return the questions that a look at the cloth would answer.

    Parameters
    ----------
    card : Card
        The card.

    Returns
    -------
    tuple of Question
        Empty if the label hides nothing that a picture could settle.
    """
    reading = card.cloth.reading
    if PICTURE_QUESTION not in card.cloth.unknown or reading.construction:
        return ()
    found = []
    if reading.stretches is None:
        answers = (("stretches", "stretches"), ("rigid", "does not stretch"))
        found.append(Question("Pull a scrap across. Does it stretch?", answers))
    if reading.ravels is None:
        answers = (("ravels", "ravels"), ("clean", "does not ravel"))
        found.append(Question("Pick at a cut edge. Do threads come out?", answers))
    known = Question("Or look closely. Which is it?", (("woven", "woven"), ("knit", "knit")))
    return (*found, known)
