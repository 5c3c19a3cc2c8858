"""The packet of a costume job: everything for the workroom in one document."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from samite.kernel.units import convert
from samite.project.model import Costume as JobCostume
from samite.project.model import JobPiece
from samite.services.costume import Costume, costume_svg
from samite.services.job_units import tape_words
from samite.services.make import MadeJob
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
    back = [_seams(made), _fittings(made), _labels(made), _cautions(made), _sources(made)]
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
    costumes = [(c.name, _piece_answers(made, c.name)) for c in made.job.project.costumes]
    shown = [(name, answers) for name, answers in costumes if answers]
    height = max(205.0 / max(len(shown), 1), 68.0)
    return [
        Block(
            "drawing",
            f"{name}: every piece to one scale beside the wearer's outline",
            svg=costume_svg(Costume(tuple(answers.values()))),
            height_mm=height,
        )
        for name, answers in shown
    ]


def _piece_answers(made: MadeJob, costume: str) -> dict[str, Any]:
    head = f"{costume}/"
    return {
        name.removeprefix(head): answer
        for name, answer in made.all_of("piece").items()
        if name.startswith(head)
    }


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
        if _piece_answers(made, c.name)
    ]


def _piece_blocks(made: MadeJob, costume: str) -> list[Block]:
    rows: list[tuple[str, ...]] = [("piece", "cut", "cloth", "way up", "note")]
    notes: list[str] = []
    jobs = {
        job.name: job for c in made.job.project.costumes if c.name == costume for job in c.pieces
    }
    for name, answer in _piece_answers(made, costume).items():
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
    drawn = costume_svg(Costume(tuple(_piece_answers(made, costume).values())))
    blocks = [
        Block("drawing", f"{costume}: every piece to one scale", svg=drawn, height_mm=110.0),
        Block("table", rows=tuple(rows), widths=(2.0, 1.3, 1.6, 1.7, 2.4)),
    ]
    if notes:
        blocks.append(Block("heading", "Mind"))
        blocks += [Block("words", note) for note in notes]
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
        return [Block("words", f"{width}: cannot be laid. {laid['why']}")]
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
    drawing = [Block("drawing", f"lay, {width}", svg=svg, height_mm=195.0)] if svg else []
    steps = tuple((f"{number}  {name}", where) for number, name, where in lay.get("steps", ()))
    return [told, *drawing, *([Block("ticks", rows=steps, columns=2)] if steps else [])]


def _seams(made: MadeJob) -> Chapter | None:
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


def _fittings(made: MadeJob) -> Chapter | None:
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


def _fitting_blocks(made: MadeJob, costume: JobCostume, day: date | None) -> list[Block]:
    """Return what to look at when a costume is tried on, and room to write."""
    when = f", {day:%d %B %Y}" if day else ""
    guessed = [
        f"{name}: {one.told()}"
        for name, one in {
            e.name.replace("_", " "): e
            for answer in _piece_answers(made, costume.name).values()
            for e in answer.estimates
        }.items()
        if not one.given
    ]
    measure = [Block("small", f"Measure now what was estimated: {'; '.join(guessed)}.")]
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


def _labels(made: MadeJob) -> Chapter | None:
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


def _cautions(made: MadeJob) -> Chapter | None:
    """Return every caution of every card in full: a card shortens what it has no room for."""
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


def _sources(made: MadeJob) -> Chapter | None:
    """Return why, at the back: reasons of every card, with source and grade."""
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
