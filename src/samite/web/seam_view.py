"""A joint in the words of the page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from samite.garment.joint_stack import apart
from samite.services.seam import SeamSheet
from samite.services.seam_json import seam_json, taken_words
from samite.web.words import in_units, number_words

STATUS_WORDS = {
    "works": "works",
    "compromise": "works, with a risk: scrap first",
    "cannot": "cannot be done so",
}
"""Status of a joint in words."""


@dataclass(frozen=True, slots=True)
class SeamLine:
    """One step of the joint.

    Parameters
    ----------
    key : str
        ``holding``, ``needle``, ``stitch``, ``seam`` or ``finish``.
    tag : str
        Its name.
    head : str
        What to read at a glance.
    rest : str
        What else to know.
    """

    key: str
    tag: str
    head: str
    rest: str


@dataclass(frozen=True, slots=True)
class SeamPage:
    """A joint as the page shows it.

    Parameters
    ----------
    names : tuple of str
        The cloths in words.
    status : str
        ``works``, ``compromise`` or ``cannot``.
    words : str
        The status in words.
    lines : tuple of SeamLine
        How to sew it, in working order.
    facts : tuple of tuple of (str, str)
        What the seam will do.
    table : tuple of tuple of str
        One row a criterion: its name, then the figure of each way.
    view : Mapping of str to object
        The whole answer, ``samite.seam.v1``.
    taken : tuple of tuple of (str, str)
        Each cloth and what it was taken for.
    """

    names: tuple[str, ...]
    status: str
    words: str
    lines: tuple[SeamLine, ...]
    facts: tuple[tuple[str, str], ...]
    table: tuple[tuple[str, ...], ...]
    view: Mapping[str, Any]
    taken: tuple[tuple[str, str], ...]


def seam_page_view(sheet: SeamSheet, units: str) -> SeamPage:
    """Put a joint into the words of the page.

    Parameters
    ----------
    sheet : SeamSheet
        The joint.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    SeamPage
        What the page shows.
    """
    view = seam_json(sheet)
    found = bool(view["ways"])
    return SeamPage(
        names=tuple(cloth["structure"] for cloth in view["cloths"]),
        status=view["status"],
        words=STATUS_WORDS[view["status"]],
        lines=_lines(view, units) if found else (),
        facts=_facts(view, units) if found else (),
        table=_table(view, units) if found else (),
        view=view,
        taken=tuple(
            (cloth.structure_name, in_units(taken_words(cloth), units))
            for cloth in apart(sheet.answer.cloths)
        ),
    )


def _lines(view: Mapping[str, Any], units: str) -> tuple[SeamLine, ...]:
    hold, needle, thread = view["holding"], view["needle"], view["thread"]
    stitch, seam = view["stitch"], view["seam"]
    note = f"; {needle['note']}" if needle["note"] else ""
    wide = f", {number_words(stitch['width_mm'], 'mm', units)} wide" if stitch["width_mm"] else ""
    finishes = dict.fromkeys(
        f"{edge['cloth']}: {edge['finish'].replace('-', ' ')}{_when(edge['when'])}"
        for edge in seam["finishes"]
    )
    allowance = number_words(seam["allowance_mm"], "mm", units)
    length = number_words(stitch["length_mm"], "mm", units)
    per_inch = f"{25.4 / stitch['length_mm']:.0f} to the inch, " if units == "imperial" else ""
    third = f"; {view['third']['words']}" if view["third"] else ""
    return (
        SeamLine(
            "holding",
            "Hold",
            f"{hold['method']}, {hold['where'].replace('-', ' ')}",
            in_units(hold["also"], units),
        ),
        SeamLine(
            "needle",
            "Needle and thread",
            f"{needle['point']} {needle['size_nm']}/{needle['size_us']}, {thread['name']} "
            f"tex {thread['tex']:g}",
            f"{needle['count']} for 10 m of seam{note}; {view['feed']['name']}",
        ),
        SeamLine(
            "stitch",
            "Stitch",
            f"{stitch['name']}, {length}{wide}",
            f"ISO 4915 type {stitch['type']}, {per_inch}on the {seam['machine']}",
        ),
        SeamLine(
            "seam",
            "Seam",
            f"{seam['name']}, {seam['lies']}",
            f"allowance {allowance}: {in_units(seam['how'], units)}{third}",
        ),
        SeamLine("finish", "Finish", "; ".join(finishes), ""),
    )


def _when(when: str) -> str:
    return "" if when == "none" else f", {when.replace('-', ' ')}"


def _facts(view: Mapping[str, Any], units: str) -> tuple[tuple[str, str], ...]:
    n, trouble = view["numbers"], view["trouble"]
    ranges = view["ranges"]

    def span(name: str) -> str:
        return f"({ranges[name]['low']:.2g} to {ranges[name]['high']:.2g})"

    def thick(name: str) -> str:
        low, high = (
            number_words(round(ranges[name][end], 1), "mm", units) for end in ("low", "high")
        )
        return f"({low} to {high})"

    pucker, slip = trouble["pucker"], trouble["slippage"]
    cure = (
        f": {in_units(pucker['cures'][0], units)}"
        if pucker["cures"] and pucker["risk"] != "none"
        else ""
    )
    helps = f": {in_units('; '.join(slip['remedies'][:3]), units)}" if slip["remedies"] else ""
    wanted = n["needed_stretch_percent"]
    stretch = f"{n['stretch_percent']:g} % {span('stretch_percent')} along the seam"
    thread = (
        f"{n['thread_ratio']:g} m {span('thread_ratio')} a metre of seam: {n['needle_thread_ratio']:g} m from the needle, "
        f"{n['other_thread_ratio']:g} m from below"
    )
    return (
        (
            "Strength",
            f"{n['strength_n_per_cm']:g} N/cm {span('strength_n_per_cm')}; such a seam may meet {n['load_n_per_cm']:g}. "
            f"First to give way: {n['gives_way']}",
        ),
        ("Stretch", stretch + (f"; wear asks for {wanted:g} %" if wanted else "; none is wanted")),
        (
            "Bulk",
            f"{number_words(round(n['thickness_mm'], 1), 'mm', units)} thick {thick('thickness_mm')}, "
            f"{number_words(round(n['crossing_mm'], 1), 'mm', units)} where two such seams cross; the foot lifts "
            f"{number_words(n['foot_lift_mm'], 'mm', units)}",
        ),
        ("Thread", thread),
        ("Pucker", pucker["risk"] + cure),
        ("Stitch length", _span(trouble["stitch_length"], units)),
        ("Slippage", "no risk seen" if slip["risk"] == "none" else f"{slip['risk']} risk{helps}"),
        (
            "Needle heat",
            f"in a long run keep under {trouble['needle_heat']['limit_per_min'] // 100 * 100:g} stitches a "
            f"minute: {trouble['needle_heat']['softens_first']} softens first",
        ),
        (
            "Minutes",
            f"about {n['minutes_per_m']:g} {span('minutes_per_m')} a metre, from holding to pressing",
        ),
    )


def _span(span: Mapping[str, float], units: str) -> str:
    longest = number_words(span["longest_mm"], "mm", units)
    if not span["shortest_mm"]:
        return f"no longer than {longest}, or an edge frays out of it"
    shortest = number_words(span["shortest_mm"], "mm", units)
    return (
        f"not under {shortest}, or it tears along the holes; not over {longest}, or the edge frays"
    )


def _table(view: Mapping[str, Any], units: str) -> tuple[tuple[str, ...], ...]:
    ways = view["ways"]

    def row(name: str, cell: Any) -> tuple[str, ...]:
        return (name, *(str(cell(way)) for way in ways))

    def millimetres(way: Mapping[str, Any], key: str) -> str:
        return number_words(round(way["numbers"][key], 1), "mm", units)

    return (
        row("Stitch", lambda way: f"{way['stitch']['name']} ({way['stitch']['type']})"),
        row("Finish", lambda way: way["seam"]["finish"].replace("-", " ")),
        row("From the right side", lambda way: way["seam"]["right_side"]),
        row("Strength, N/cm", lambda way: f"{way['numbers']['strength_n_per_cm']:g}"),
        row("Stretch, %", lambda way: f"{way['numbers']['stretch_percent']:g}"),
        row("Thick", lambda way: millimetres(way, "thickness_mm")),
        row("At a crossing", lambda way: millimetres(way, "crossing_mm")),
        row("Thread, m a metre", lambda way: f"{way['numbers']['thread_ratio']:g}"),
        row("Minutes a metre", lambda way: f"{way['numbers']['minutes_per_m']:g}"),
        row("Better", lambda way: in_units("; ".join(way["gains"]), units) or "-"),
        row("Worse", lambda way: in_units("; ".join(way["losses"]), units) or "-"),
        row("Marks of 1", lambda way: f"{way['score']:.2f}"),
    )
