"""The packet of a costume job: everything for the workroom in one document."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from samite.project.model import JobPiece
from samite.services.costume import Costume, costume_svg
from samite.services.job_units import sentence_words, tape_words
from samite.services.make import MadeJob
from samite.services.packet_back import (
    answers_of,
    caution_chapter,
    fitting_chapter,
    label_chapter,
    seam_chapter,
    source_chapter,
)
from samite.services.paper import cards_pdf
from samite.sheets.packet import Block, Chapter, Packet
from samite.sheets.page import print_cards, print_packet
from samite.sheets.tape import tape_unit
from samite.sheets.views import CardSheet
from samite.store.codec import from_plain

PIECES_SHOWN = 60


def packet_pdf(made: MadeJob, *, paper: str = "a4", dated: date | None = None) -> bytes:
    """Return the packet of a job as PDF.

    Parameters
    ----------
    made : MadeJob
        The job.
    paper : str
        ``a4`` or ``us-letter``.
    dated : datetime.date or None
        Date to print; none is printed without.

    Returns
    -------
    bytes
        PDF/UA-1.
    """
    return print_packet(job_packet(made), paper, dated)


def job_packet(made: MadeJob) -> Packet:
    """Put a job into chapters.

    Parameters
    ----------
    made : MadeJob
        The job.

    Returns
    -------
    Packet
        Cover, buying list, pieces and cutting, cards, seams, labels, reasons.
    """
    front = [_cover(made), _buying(made), _working(made), *_costumes(made), *_cutting(made)]
    back = [
        seam_chapter(made),
        fitting_chapter(made),
        label_chapter(made),
        caution_chapter(made),
        source_chapter(made),
    ]
    cards = tuple(_card_sheets(made).values())
    return Packet(
        made.job.project.title,
        tuple(one for one in front if one),
        cards,
        tuple(one for one in back if one),
    )


def _cover(made: MadeJob) -> Chapter:
    project = made.job.project
    due = f"due {project.due:%d %B %Y}" if project.due else "no day due"
    blocks = [Block("words", f"{len(project.costumes)} costumes, {due}.")]
    blocks += [
        Block("words", f"{c.name} for {c.person}" + (f": {c.wear}" if c.wear else ""))
        for c in project.costumes
    ]
    if made.problems:
        blocks.append(Block("heading", "To mend first"))
        rows = tuple((f"{one.place}: {one.what}", one.mend) for one in made.problems)
        blocks.append(Block("ticks", rows=rows))
    blocks += _pictures(made)
    return Chapter(project.title, tuple(blocks))


def _pictures(made: MadeJob) -> list[Block]:
    costumes = [(c.name, answers_of(made, c.name)) for c in made.job.project.costumes]
    shown = [(name, answers) for name, answers in costumes if answers]
    height = max(205.0 / max(len(shown), 1), 68.0)
    return [
        Block(
            "drawing",
            f"{name}: every piece to one scale beside the wearer's outline",
            svg=costume_svg(Costume(tuple(answers.values())), made.job.project.units),
            height_mm=height,
        )
        for name, answers in shown
    ]


def _buying(made: MadeJob) -> Chapter | None:
    buy = made.answer("buy")
    if not buy:
        return None
    sign = buy["currency"]
    rows = tuple(
        (f"{line['amount']}  {line['what']}{_cost(line, sign)}", _why(line))
        for line in buy["lines"]
        if line["buy"] > 0
    )
    there = tuple(
        (f"{line['what']}: {line['needs']} is there", line["stock"])
        for line in buy["lines"]
        if line["buy"] <= 0 < line["needed"]
    )
    blocks = [Block("ticks", rows=rows)]
    if there:
        blocks += [Block("heading", "On hand"), Block("ticks", rows=there)]
    return Chapter("To buy", (*blocks, *_money(buy)))


def _cost(line: Mapping[str, Any], sign: str) -> str:
    return "" if line["cost"] is None else f", {line['cost']:.2f} {sign}"


def _why(line: Mapping[str, Any]) -> str:
    others = f"; or {', or '.join(line['alternatives'])}" if line["alternatives"] else ""
    stock = f"; {line['stock']}" if line["stock"] else ""
    return f"{line['reason']['claim']}{stock}{others}"


def _money(buy: Mapping[str, Any]) -> list[Block]:
    sign, total = buy["currency"], buy["sum"]
    words = [f"Sum {total['gross']:.2f} {sign}"]
    if total["budget"] is not None:
        left = total["left"]
        words.append(
            f"{left:.2f} {sign} left of {total['budget']:.2f}"
            if left >= 0
            else f"{-left:.2f} {sign} over the budget of {total['budget']:.2f}"
        )
    if total["unpriced"]:
        words.append(f"without {', '.join(total['unpriced'])}, which have no price yet")
    blocks = [Block("words", "; ".join(words) + ".")]
    asked = buy["quotation"]
    if asked:
        low, high = asked["hours"]
        blocks += [
            Block("heading", "Quotation"),
            Block(
                "words",
                f"Materials {asked['materials']:.2f}, work {asked['work']:.2f} ({low:.0f} to "
                f"{high:.0f} hours), together {asked['total']:.2f} {sign}; "
                f"{asked['deposit']:.2f} in advance.",
            ),
        ]
    return blocks


def _working(made: MadeJob) -> Chapter | None:
    """Return the order of work, session by session, with boxes to tick."""
    work = made.answer("work")
    if not work:
        return None
    plan = work["plan"]
    blocks = [Block("words", work["words"])]
    if plan["why"] and plan["status"] in ("infeasible", "out-of-time"):
        blocks.append(Block("words", plan["why"]))
        blocks += [Block("words", f"Way out: {one['words']}") for one in plan["ways_out"]]
    blocks.append(
        Block("drawing", "change-overs over the sessions", svg=work["svg"], height_mm=130)
    )
    days: dict[str, list[tuple[str, ...]]] = {}
    for line in plan["lines"]:
        days.setdefault(line["begin"][:10], []).append(_work_row(line))
    for day, rows in days.items():
        blocks += [
            Block("heading", f"{date.fromisoformat(day):%A %d %B}"),
            Block("ticks", rows=tuple(rows), columns=2),
        ]
    return Chapter("Order of work", tuple(blocks))


def _work_row(line: Mapping[str, Any]) -> tuple[str, ...]:
    """Return when and what, and what to set or swap before it."""
    set_now = "; ".join(one["words"] for one in line["changes"])
    minutes = f"{line['minutes']['value']:.0f} min"
    return (
        f"{line['begin'][11:16]}  {line['operation']}",
        f"{minutes}, first: {set_now}" if set_now else minutes,
    )


def _costumes(made: MadeJob) -> list[Chapter]:
    return [
        Chapter(f"Pieces: {c.name}", tuple(_piece_blocks(made, c.name)))
        for c in made.job.project.costumes
        if answers_of(made, c.name)
    ]


def _piece_blocks(made: MadeJob, costume: str) -> list[Block]:
    rows: list[tuple[str, ...]] = [("piece", "cut", "cloth", "way up", "note")]
    notes: list[str] = []
    jobs = {
        job.name: job for c in made.job.project.costumes if c.name == costume for job in c.pieces
    }
    for name, answer in answers_of(made, costume).items():
        for one in answer.pieces[:PIECES_SHOWN]:
            piece = one.piece
            hands = ", in pairs" if piece.mirrored else ""
            fold = ", on the fold" if piece.on_fold else ""
            rows.append(
                (piece.name, f"{piece.copies}{hands}{fold}", _cloths_of(jobs[name], piece.cloth),
                 one.way_up, piece.note)
            )  # fmt: skip
        notes += [f"{name}: {note}" for note in answer.notes]
    seams = made.answer(f"seams/{costume}")
    notes += [gap.told for gap in (seams[1] if seams else ())]
    whole = Costume(tuple(answers_of(made, costume).values()))
    drawn = costume_svg(whole, made.job.project.units)
    blocks = [
        Block("drawing", f"{costume}: every piece to one scale", svg=drawn, height_mm=110.0),
        Block("table", rows=tuple(rows), widths=(2.0, 1.3, 1.6, 1.7, 2.4)),
    ]
    if notes:
        blocks.append(Block("heading", "Mind"))
        units = made.job.project.units
        blocks += [Block("words", sentence_words(note, units)) for note in notes]
    return blocks


def _cloths_of(job: JobPiece, part: str) -> str:
    """Return the cloths that a part of a shape is cut from, by name."""
    if part == "lining":
        return job.lining or job.cloth
    stiff = f", {job.interfacing} to stiffen it" if job.interfacing and part == "main" else ""
    return f"{job.cloth}{stiff}"


def _cutting(made: MadeJob) -> list[Chapter]:
    found = []
    for name, answer in made.all_of("lay").items():
        units = made.job.project.units
        blocks = [block for lay in answer["lays"] for block in _lay_blocks(lay, units)]
        found.append(Chapter(f"Cutting: {name}", tuple(blocks)))
    return found


def _lay_blocks(lay: Mapping[str, Any], units: str) -> list[Block]:
    laid = lay["lay"]
    width = f"{tape_words(lay['width_mm'], units)} wide"
    if laid["status"] == "infeasible":
        return [Block("words", f"{width}: cannot be laid. {sentence_words(laid['why'], units)}")]
    layers = "folded along its length" if lay["folded"] else "single layer"
    face = "right side up" if lay["face"] == "up" else "wrong side up"
    way = ", every piece the same way" if lay["one_way"] else ""
    told = Block(
        "lead",
        f"{width}, {layers}, {face}{way}: {tape_words(laid['length_mm'], units)} used, "
        f"{tape_words(laid['bound_mm'], units)} at best. Grain lines are measured from the right "
        f"rim and the cut end, in {tape_unit(units)}.",
    )
    svg = lay.get("svg", "")
    drawing = [Block("drawing", f"lay, {width}", svg=svg, height_mm=172.0)] if svg else []
    steps = tuple((f"{number}  {name}", where) for number, name, where in lay.get("steps", ()))
    return [told, *drawing, *([Block("ticks", rows=steps, columns=2)] if steps else [])]


def packet_files(made: MadeJob, *, paper: str = "a4") -> Iterator[tuple[str, bytes]]:
    """Yield the packet and the cards of a job on paper.

    Parameters
    ----------
    made : MadeJob
        The job.
    paper : str
        ``a4`` or ``us-letter``.

    Yields
    ------
    tuple of (str, bytes)
        Name under the folder, and content.
    """
    yield "packet.pdf", packet_pdf(made, paper=paper)
    sheets = _card_sheets(made)
    for name, sheet in sheets.items():
        yield f"cards/{name.replace('/', '-')}.pdf", print_cards((sheet,), paper)
    if sheets:
        title = made.job.project.title
        yield "cards.pdf", cards_pdf(title, "", list(sheets.values()), paper=paper)


def _card_sheets(made: MadeJob) -> dict[str, CardSheet]:
    return {
        name: from_plain(CardSheet, one["sheet"], name) for name, one in made.all_of("card").items()
    }
