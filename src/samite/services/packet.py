"""The packet of a costume job: everything for the workroom in one document."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from samite.services.costume import Costume, costume_svg
from samite.services.make import MadeJob
from samite.services.paper import cards_pdf
from samite.sheets.packet import Block, Chapter, Packet
from samite.sheets.page import print_cards, print_packet
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
    height = 190.0 / max(len(shown), 1)
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
        (f"{_amount(line)}  {line['what']}{_cost(line, sign)}", _why(line))
        for line in buy["lines"]
        if line["buy"] > 0
    )
    there = tuple(
        (f"{line['what']}: {_amount(line, 'needed')} is there", "")
        for line in buy["lines"]
        if line["buy"] <= 0 < line["needed"]
    )
    blocks = [Block("ticks", rows=rows)]
    if there:
        blocks += [Block("heading", "On hand"), Block("ticks", rows=there)]
    return Chapter("To buy", (*blocks, *_money(buy)))


def _amount(line: Mapping[str, Any], key: str = "buy") -> str:
    return f"{line[key]:.2f} m" if line["unit"] == "m" else f"{line[key]:.0f} ×"


def _cost(line: Mapping[str, Any], sign: str) -> str:
    return "" if line["cost"] is None else f", {line['cost']:.2f} {sign}"


def _why(line: Mapping[str, Any]) -> str:
    others = f"; or {', or '.join(line['alternatives'])}" if line["alternatives"] else ""
    return f"{line['reason']['claim']}{others}"


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
    blocks.append(Block("drawing", "change-overs over the sessions", svg=work["svg"], height_mm=80))
    days: dict[str, list[tuple[str, ...]]] = {}
    for line in plan["lines"]:
        days.setdefault(line["begin"][:10], []).append(_work_row(line))
    for day, rows in days.items():
        blocks += [
            Block("heading", f"{date.fromisoformat(day):%A %d %B}"),
            Block("ticks", rows=tuple(rows)),
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
    for name, answer in _piece_answers(made, costume).items():
        for one in answer.pieces[:PIECES_SHOWN]:
            piece = one.piece
            hands = ", in pairs" if piece.mirrored else ""
            fold = ", on the fold" if piece.on_fold else ""
            rows.append(
                (piece.name, f"{piece.copies}{hands}{fold}", piece.cloth, one.way_up, piece.note)
            )
        notes += [f"{name}: {note}" for note in answer.notes]
    seams = made.answer(f"seams/{costume}")
    notes += [gap.told for gap in (seams[1] if seams else ())]
    blocks = [Block("table", rows=tuple(rows), widths=(2.4, 1.4, 1, 1.6, 2.6))]
    if notes:
        blocks.append(Block("heading", "Mind"))
        blocks += [Block("words", note) for note in notes]
    return blocks


def _cutting(made: MadeJob) -> list[Chapter]:
    found = []
    for name, answer in made.all_of("lay").items():
        blocks = [block for lay in answer["lays"] for block in _lay_blocks(lay)]
        found.append(Chapter(f"Cutting: {name}", tuple(blocks)))
    return found


def _lay_blocks(lay: Mapping[str, Any]) -> list[Block]:
    laid = lay["lay"]
    width = f"{lay['width_mm'] / 10:.0f} cm wide"
    if laid["status"] == "infeasible":
        return [Block("words", f"{width}: cannot be laid. {laid['why']}")]
    layers = "folded along its length" if lay["folded"] else "single layer"
    face = "right side up" if lay["face"] == "up" else "wrong side up"
    way = ", every piece the same way" if lay["one_way"] else ""
    told = Block(
        "words",
        f"{width}, {layers}, {face}{way}: {laid['length_mm'] / 10:.0f} cm used, "
        f"{laid['bound_mm'] / 10:.0f} cm at best.",
    )
    svg = lay.get("svg", "")
    drawing = [Block("drawing", f"lay, {width}", svg=svg)] if svg else []
    steps = tuple((f"{number}  {name}", where) for number, name, where in lay.get("steps", ()))
    return [told, *drawing, *([Block("ticks", rows=steps)] if steps else [])]


def _seams(made: MadeJob) -> Chapter | None:
    blocks: list[Block] = []
    for costume in made.job.project.costumes:
        for key, pair in (made.answer(f"pairs/{costume.name}") or {}).items():
            blocks += _seam_blocks(f"{costume.name}: {key.replace('+', ' to ')}", pair)
    return Chapter("Seams", tuple(blocks)) if blocks else None


def _seam_blocks(title: str, pair: Mapping[str, Any]) -> list[Block]:
    seam = pair["seam"]
    if "needle" not in seam:
        return [Block("heading", title), Block("words", "; ".join(seam["why"]))]
    needle, thread, stitch, form = (seam[key] for key in ("needle", "thread", "stitch", "seam"))
    numbers = seam["numbers"]
    words = (
        f"Needle {needle['point']} Nm {needle['size_nm']}, {thread['name']} tex {thread['tex']:g}, "
        f"{stitch['name']} {stitch['length_mm']:g} mm; {form['name']}, allowance "
        f"{form['allowance_mm']:g} mm, finish {form['finish']}. {form['how']}. Holds about "
        f"{numbers['strength_n_per_cm']:.0f} N a cm; {numbers['gives_way']} gives way first."
    )
    why = "; ".join(seam["why"])
    return [
        Block("heading", title),
        Block("words", words),
        *([Block("small", why)] if why else []),
        Block("drawing", f"cross-section, {title}", svg=pair["svg"], height_mm=70.0),
    ]


def _fittings(made: MadeJob) -> Chapter | None:
    project = made.job.project
    days = project.hours.fittings
    rows = [
        (
            f"{c.name}" + (f", {days[c.name]:%d %B %Y}" if c.name in days else ""),
            f"{c.person}; pinned, by place and amount: ______________________________________",
        )
        for c in project.costumes
    ]
    done = [
        Block("words", f"{c.name}, {job.name}: {text}")
        for c in project.costumes
        for job in c.pieces
        for text in job.fittings
    ]
    if not rows:
        return None
    earlier = [Block("heading", "Already let into the pieces"), *done] if done else []
    return Chapter("Fittings", (Block("ticks", rows=tuple(rows)), *earlier))


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
