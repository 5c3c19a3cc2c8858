"""The buying list of a costume job: cloth, thread, needles, fastenings, trims, and the money."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from samite.buy.line import KINDS, BuyLine, bought_amount, spare_count
from samite.buy.quote import Quotation, Sum, add_up, quote
from samite.cloth.model import Cloth
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Reason
from samite.lay.buying import length_needed_mm
from samite.project.model import Drawer, JobCloth, Project
from samite.project.model import Extra as Extras
from samite.services.job_notions import Pieces, notion_lines, test_line
from samite.services.job_stock import Stock
from samite.services.job_threads import COMPUTED, PRACTICE, Pairs, needle_lines, thread_lines
from samite.services.job_units import amount_words, metres_words, tape_words
from samite.services.lay_buy import Extra, extra_for, usual_step_mm
from samite.tables.lay import lay_rule
from samite.tables.sewing import sewing_entries

FORMAT = "samite.buy.v1"
GIVEN = Evidence("common-practice", Grade.COMMON_PRACTICE, "as the job says")


def buying_list(
    project: Project,
    cloths: Mapping[str, Cloth],
    lays: Mapping[str, Sequence[Mapping[str, Any]]],
    pairs: Pairs,
    pieces: Pieces,
    tried: Mapping[str, Mapping[str, Any]],
) -> tuple[BuyLine, ...]:
    """Return everything that a job needs from the shop.

    Parameters
    ----------
    project : Project
        The job.
    cloths : mapping of str to Cloth
        Cloths by name.
    lays : mapping of str to sequence of mapping
        Lays of every cloth, one a width.
    pairs : mapping of str to sequence of (JobSeam, mapping or None)
        By costume: every seam with the seam card of its cloths; None where there is none.
    pieces : mapping of str to sequence of PieceAnswer
        By costume: what its shapes made.
    tried : mapping of str to mapping
        By costume: lay of its test garment, where it has one.

    Returns
    -------
    tuple of BuyLine
        Cloth, thread, needles, fastenings, trims, notions.
    """
    stock = Stock(project.drawer if project.use_stock else Drawer(), project.units)
    lines = [
        _cloth_line(project, cloth, cloths[cloth.name], lays[cloth.name], stock)
        for cloth in project.cloths
        if lays.get(cloth.name)
    ]
    tests = (test_line(project, c, tried[c.name]) for c in project.costumes if c.name in tried)
    lines += [line for line in tests if line]
    lines += thread_lines(project, pairs, stock)
    lines += needle_lines(project, pairs, stock)
    for costume in project.costumes:
        for kind, extras in (
            ("fastening", costume.fastenings),
            ("trim", costume.trims),
            ("notion", costume.notions),
        ):
            lines += [_extra_line(project, kind, one, costume.copies) for one in extras]
    lines += notion_lines(project, pairs, pieces)
    return tuple(sorted(lines, key=lambda line: KINDS.index(line.kind)))


def _cloth_line(
    project: Project,
    cloth: JobCloth,
    known: Cloth,
    lays: Sequence[Mapping[str, Any]],
    stock: Stock,
) -> BuyLine:
    options = sorted(
        ((bought_m(cloth, known, lay), lay) for lay in lays if lay["lay"]["length_mm"] > 0.0),
        key=lambda one: (one[0], one[1]["width_mm"]),
    )
    name = f"{cloth.name}: {known.structure_name}"
    if not options:
        why = lays[0]["lay"]["why"] or "it cannot be laid"
        return BuyLine("cloth", name, 0.0, "m", cloth.on_hand_mm / 1000.0, 0.0,
                       cloth.price_per_m, Reason(why, evidence=COMPUTED))  # fmt: skip
    _, lay = options[0]
    extra = _extra(cloth, known)
    length = lay["lay"]["length_mm"]
    needed = _needed_m(length, extra)
    had = stock.cloth(cloth.label, lay, extra.straighten_mm)
    saved = needed - _needed_m(length - had.amount * 1000.0, extra)
    there = max(cloth.on_hand_mm / 1000.0, saved)
    step = cloth.increment_mm / 1000.0
    units = project.units
    others = tuple(
        f"{metres_words(other, units)} of {tape_words(one['width_mm'], units)} wide"
        for other, one in options[1:]
    )
    return BuyLine(
        "cloth",
        f"{name}, {tape_words(lay['width_mm'], units)} wide",
        needed,
        "m",
        min(there, needed),
        bought_amount(needed=needed, on_hand=there, increment=step),
        cloth.price_per_m,
        _cloth_reason(lay, needed, extra, units),
        others,
        had.words,
    )


def _cloth_reason(lay: Mapping[str, Any], needed: float, extra: Extra, units: str) -> Reason:
    length = lay["lay"]["length_mm"]
    return Reason(
        f"{tape_words(length, units)} laid at {tape_words(lay['width_mm'], units)} wide, "
        f"{tape_words(needed * 1000.0 - length, units)} for shrinkage, straight ends, flaws and a "
        f"swatch; no lay is shorter than {tape_words(lay['lay']['bound_mm'], units)}",
        (*extra.reasons, Reason("a swatch for needle and press tests", evidence=PRACTICE)),
        COMPUTED,
    )


def bought_m(cloth: JobCloth, known: Cloth, lay: Mapping[str, Any]) -> float:
    """Return how much of a cloth to buy for a lay.

    Parameters
    ----------
    cloth : JobCloth
        The cloth of the job.
    known : Cloth
        What its label says.
    lay : mapping of str to object
        Its lay.

    Returns
    -------
    float
        In steps that the shop cuts, what is there deducted [m].
    """
    return bought_amount(
        needed=_needed_m(lay["lay"]["length_mm"], _extra(cloth, known)),
        on_hand=cloth.on_hand_mm / 1000.0,
        increment=cloth.increment_mm / 1000.0,
    )


def _extra(cloth: JobCloth, known: Cloth) -> Extra:
    """Return what is bought beyond a lay; pieces that allow for shrinkage need it only once."""
    return extra_for(known, pretreated=bool(cloth.shrink))


def _needed_m(length_mm: float, extra: Extra) -> float:
    if length_mm <= 1.0:
        return 0.0
    swatch = lay_rule("swatch", "swatch_mm").value
    needed = length_needed_mm(
        length_mm=length_mm,
        shrink_along_percent=extra.shrink_along_percent,
        straighten_mm=extra.straighten_mm,
        flaw_allowance_percent=extra.flaw_allowance_percent,
    )
    return (needed + swatch) / 1000.0


def _extra_line(project: Project, kind: str, extra: Extras, copies: int) -> BuyLine:
    entries = sewing_entries("fastening")
    said = entries[extra.kind].word("name") if extra.kind in entries else extra.kind
    at = f" at {extra.at}" if extra.at else ""
    price = extra.price if extra.price is not None else project.purse.prices.get(extra.kind)
    if extra.unit == "mm":
        metres = extra.amount * copies / 1000.0
        step = usual_step_mm(project.units) / 1000.0
        buy = bought_amount(needed=metres, on_hand=0.0, increment=step)
        return BuyLine(kind, f"{said}{at}", metres, "m", 0.0, buy, price,
                       Reason("as long as the job says", evidence=GIVEN))  # fmt: skip
    count = spare_count(count=extra.amount * copies, spares_percent=project.spares_percent)
    spares = count - extra.amount * copies
    why = f"{extra.amount * copies:g} sewn on" + (f", {spares:g} to spare" if spares else "")
    return BuyLine(kind, f"{said}{at}", float(count), "each", 0.0, float(count), price,
                   Reason(why, evidence=GIVEN))  # fmt: skip


def buying_json(
    project: Project, lines: Sequence[BuyLine], minutes: tuple[float, float, float] | None
) -> dict[str, Any]:
    """Return a buying list in the form ``samite.buy.v1``.

    Parameters
    ----------
    project : Project
        The job.
    lines : sequence of BuyLine
        The list.
    minutes : tuple of (float, float, float) or None
        Minutes of work, likely, least and most; None if they are not known [min].

    Returns
    -------
    dict of str to object
        Lines, sum, and a quotation where a rate is given.
    """
    purse = project.purse
    spent = add_up(lines, tax_percent=purse.tax_percent, budget=purse.budget)
    asked = None
    if purse.hourly_rate is not None and minutes is not None:
        asked = quote(
            spent,
            minutes=minutes,
            hourly_rate=purse.hourly_rate,
            deposit_percent=purse.deposit_percent,
        )
    return {
        "format": FORMAT,
        "currency": purse.currency,
        "units": project.units,
        "lines": [_line_json(line, project.units) for line in lines],
        "sum": _sum_json(spent, purse.budget),
        "quotation": _quote_json(asked) if asked else None,
    }


def _line_json(line: BuyLine, units: str) -> dict[str, Any]:
    return {
        "kind": line.kind,
        "what": line.what,
        "needed": round(line.needed, 3),
        "unit": line.unit,
        "on_hand": round(line.on_hand, 3),
        "buy": round(line.buy, 3),
        "price": line.price,
        "cost": None if line.cost is None else round(line.cost, 2),
        "reason": line.reason.as_dict(),
        "alternatives": list(line.alternatives),
        "stock": line.stock,
        "amount": amount_words(line.buy, line.unit, units),
        "needs": amount_words(line.needed, line.unit, units),
    }


def _sum_json(spent: Sum, budget: float | None) -> dict[str, Any]:
    return {
        "net": spent.net,
        "tax": spent.tax,
        "gross": round(spent.gross, 2),
        "budget": budget,
        "left": spent.left,
        "unpriced": list(spent.unpriced),
    }


def _quote_json(asked: Quotation) -> dict[str, Any]:
    return {
        "materials": asked.materials,
        "work": asked.work,
        "work_range": list(asked.work_range),
        "hours": [round(hours, 1) for hours in asked.hours],
        "total": round(asked.total, 2),
        "deposit": asked.deposit,
    }
