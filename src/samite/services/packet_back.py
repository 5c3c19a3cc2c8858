"""The back of a packet: seams, fittings, labels, cautions, reasons and sources."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from samite.kernel.units import convert
from samite.project.model import Costume
from samite.services.job_units import sentence_words, tape_words
from samite.services.make import MadeJob
from samite.sheets.packet import Block, Chapter


def answers_of(made: MadeJob, costume: str) -> dict[str, Any]:
    """Return what the shapes of a costume made.

    Parameters
    ----------
    made : MadeJob
        The job.
    costume : str
        Name of the costume.

    Returns
    -------
    dict of str to PieceAnswer
        By name of the shape.
    """
    head = f"{costume}/"
    return {
        name.removeprefix(head): answer
        for name, answer in made.all_of("piece").items()
        if name.startswith(head)
    }


def seam_chapter(made: MadeJob) -> Chapter | None:
    """Return the seam cards, a page each.

    Parameters
    ----------
    made : MadeJob
        The job.

    Returns
    -------
    Chapter or None
        None if there is no seam.
    """
    blocks: list[Block] = []
    for costume in made.job.project.costumes:
        for key, pair in (made.answer(f"pairs/{costume.name}") or {}).items():
            title = f"{costume.name}: {key.replace('+', ' to ')}"
            blocks += _seam_blocks(title, pair, made.job.project.units)
    return Chapter("Seams", tuple(blocks)) if blocks else None


def _seam_blocks(title: str, pair: Mapping[str, Any], units: str) -> list[Block]:
    seam = pair["seam"]
    if "needle" not in seam:
        return [Block("heading", title), Block("words", "; ".join(seam["why"]))]
    needle, thread, stitch, form = (seam[key] for key in ("needle", "thread", "stitch", "seam"))
    numbers = seam["numbers"]
    words = (
        f"Needle {needle['point']} Nm {needle['size_nm']}, {thread['name']} tex {thread['tex']:g}, "
        f"{stitch['name']} {stitch['length_mm']:g} mm; {form['name']}, allowance "
        f"{_allowance(form['allowance_mm'], units)}, finish {form['finish']}. {form['how']}. Holds about "
        f"{_strength(numbers['strength_n_per_cm'], units)}; {numbers['gives_way']} gives way first."
    )
    why = "; ".join(seam["why"])
    return [
        Block("heading", title),
        Block("lead", f"{words} {why}".strip()),
        Block("drawing", f"cross-section, {title}", svg=pair["svg"], height_mm=200.0),
    ]


def _allowance(length_mm: float, units: str) -> str:
    return tape_words(length_mm, units) if units == "imperial" else f"{length_mm:g} mm"


def _strength(n_per_cm: float, units: str) -> str:
    if units == "imperial":
        return f"{convert(n_per_cm, 'N/cm', 'lbf/in'):.0f} lbf an inch"
    return f"{n_per_cm:.0f} N a cm"


def fitting_chapter(made: MadeJob) -> Chapter | None:
    """Return what to look at when costumes are tried on, and room to write.

    Parameters
    ----------
    made : MadeJob
        The job.

    Returns
    -------
    Chapter or None
        None without costumes.
    """
    project = made.job.project
    days = project.hours.fittings
    rows = [_fitting_blocks(made, c, days.get(c.name)) for c in project.costumes]
    done = [
        Block("words", f"{c.name}, {job.name}: {text}")
        for c in project.costumes
        for job in c.pieces
        for text in job.fittings
    ]
    if not rows:
        return None
    earlier = [Block("heading", "Already let into the pieces"), *done] if done else []
    return Chapter("Fittings", (*(block for blocks in rows for block in blocks), *earlier))


def _fitting_blocks(made: MadeJob, costume: Costume, day: date | None) -> list[Block]:
    """Return what to look at when a costume is tried on, and room to write."""
    when = f", {day:%d %B %Y}" if day else ""
    guessed = [
        f"{name}: {one.told()}"
        for name, one in {
            e.name.replace("_", " "): e
            for answer in answers_of(made, costume.name).values()
            for e in answer.estimates
        }.items()
        if not one.given
    ]
    told = sentence_words("; ".join(guessed), made.job.project.units)
    measure = [Block("small", f"Measure now what was estimated: {told}.")]
    looks = "; ".join(
        f"{job.name} in {job.cloth}" + (f", lined with {job.lining}" if job.lining else "")
        for job in costume.pieces
    )
    return [
        Block("heading", f"{costume.name} on {costume.person}{when}"),
        Block("words", f"Try {looks}. Pin at both sides, write the place and the amount:"),
        Block("lines", columns=5),
        *(measure if guessed else []),
    ]


def label_chapter(made: MadeJob) -> Chapter | None:
    """Return care and content labels of every costume.

    Parameters
    ----------
    made : MadeJob
        The job.

    Returns
    -------
    Chapter or None
        None if there are none.
    """
    blocks: list[Block] = []
    for name, labels in made.all_of("labels").items():
        care = labels["care"]
        blocks += [
            Block("heading", name),
            Block("drawing", care["words"], svg=care["symbols_svg"], height_mm=14.0),
            Block("words", f"{care['words']}. {'; '.join(care['notes'])}."),
            Block("small", f"Symbols after {care['edition']}."),
        ]
        for region, content in labels["content"].items():
            blocks.append(Block("words", f"{region.upper()}: {'; '.join(content['lines'])}"))
        blocks += [Block("small", f"{one['kind']}: {one['text']}") for one in labels["cautions"]]
        blocks.append(Block("small", labels["defer"]))
    return Chapter("Labels and cautions", tuple(blocks)) if blocks else None


def caution_chapter(made: MadeJob) -> Chapter | None:
    """Return every caution of every card in full: a card shortens what it has no room for.

    Parameters
    ----------
    made : MadeJob
        The job.

    Returns
    -------
    Chapter or None
        None if there are none.
    """
    told: dict[tuple[str, str], list[str]] = {}
    for name, one in made.all_of("card").items():
        for caution in one["card"]["cautions"]:
            told.setdefault((caution["kind"], caution["text"]), []).append(name.partition("/")[0])
    if not told:
        return None
    blocks = [
        Block("small", f"{kind}: {text} ({', '.join(dict.fromkeys(cloths))})")
        for (kind, text), cloths in told.items()
    ]
    return Chapter("Cautions in full", tuple(blocks))


def source_chapter(made: MadeJob) -> Chapter | None:
    """Return why, at the back: reasons of every card, with source and grade.

    Parameters
    ----------
    made : MadeJob
        The job.

    Returns
    -------
    Chapter or None
        None if there are no cards.
    """
    rows: list[tuple[str, ...]] = [("where", "because", "source", "grade")]
    for name, one in made.all_of("card").items():
        for line, reason in one["card"]["reasons"].items():
            if not line.startswith("cloth."):
                rows += _reason_rows(f"{name} {line}", reason)
    if len(rows) == 1:
        return None
    told = Block("words", "Every line rests on these. A guess is a guess: the swatch decides.")
    return Chapter(
        "Reasons and sources",
        (told, Block("table", rows=tuple(rows), widths=(1.4, 3.4, 1.2, 0.9))),
    )


def _reason_rows(where: str, reason: Mapping[str, Any]) -> list[tuple[str, ...]]:
    below = _leaves(reason.get("because") or ())
    return [_reason_row(where, reason), *(_reason_row("", one) for one in below)]


def _reason_row(where: str, reason: Mapping[str, Any]) -> tuple[str, ...]:
    source, grade = reason.get("source") or "", reason.get("grade") or ""
    return (where, str(reason["claim"]), str(source), str(grade))


def _leaves(reasons: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    found: list[Mapping[str, Any]] = []
    for reason in reasons:
        below = reason.get("because") or ()
        found += _leaves(below) if below else [reason]
    return found
