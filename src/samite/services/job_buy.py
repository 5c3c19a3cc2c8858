"""The buying list of a costume job: cloth, thread, needles, fastenings, trims, and the money."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from samite.buy.line import BuyLine, bought_amount, spare_count
from samite.buy.quote import Quotation, Sum, add_up, quote
from samite.buy.spools import choose_spools
from samite.cloth.model import Cloth
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Reason
from samite.project.model import Extra, JobCloth, Project
from samite.project.seams import JobSeam
from samite.seam.thread_amount import thread_with_ends_m
from samite.tables.lay import lay_rule
from samite.tables.sewing import sewing_entries

FORMAT = "samite.buy.v1"
PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
COMPUTED = Evidence("derivation", Grade.DERIVED)
GIVEN = Evidence("common-practice", Grade.COMMON_PRACTICE, "as the job says")
OVERLOCK = ("503", "504", "505", "512", "514")
TURNED_SHARE = 2.5
"""Thread of hems over their length: a lockstitch through two to three thin plies [-] (practice)."""


def buying_list(
    project: Project,
    cloths: Mapping[str, Cloth],
    lays: Mapping[str, Sequence[Mapping[str, Any]]],
    pairs: Mapping[str, Sequence[tuple[JobSeam, Mapping[str, Any] | None]]],
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

    Returns
    -------
    tuple of BuyLine
        Cloth, thread, needles, fastenings, trims, notions.
    """
    lines = [
        _cloth_line(cloth, cloths[cloth.name], lays[cloth.name])
        for cloth in project.cloths
        if lays.get(cloth.name)
    ]
    lines += _thread_lines(project, pairs)
    lines += _needle_lines(project, pairs)
    for costume in project.costumes:
        for kind, extras in (("fastening", costume.fastenings), ("trim", costume.trims)):
            lines += [_extra_line(project, kind, one, costume.copies) for one in extras]
    return tuple(lines)


def _cloth_line(cloth: JobCloth, known: Cloth, lays: Sequence[Mapping[str, Any]]) -> BuyLine:
    options = sorted(
        ((bought_m(cloth, known, lay), lay) for lay in lays if lay["lay"]["length_mm"] > 0.0),
        key=lambda one: (one[0], one[1]["width_mm"]),
    )
    name = f"{cloth.name}: {known.structure_name}"
    if not options:
        why = lays[0]["lay"]["why"] or "it cannot be laid"
        return BuyLine("cloth", name, 0.0, "m", cloth.on_hand_mm / 1000.0, 0.0,
                       cloth.price_per_m, Reason(why, evidence=COMPUTED))  # fmt: skip
    amount, lay = options[0]
    length, extra = lay["lay"]["length_mm"], _extra_mm(known)
    others = tuple(
        f"{other:.2f} m of {one['width_mm'] / 10:.0f} cm wide" for other, one in options[1:]
    )
    reason = Reason(
        f"{length / 10:.0f} cm laid at {lay['width_mm'] / 10:.0f} cm wide, {extra / 10:.0f} cm for "
        f"straight ends, flaws and a swatch; no lay is shorter than {lay['lay']['bound_mm'] / 10:.0f} cm",
        (Reason("ends, flaws and swatch by usual practice", evidence=PRACTICE),),
        COMPUTED,
    )
    return BuyLine(
        "cloth",
        f"{name}, {lay['width_mm'] / 10:.0f} cm wide",
        (length + extra) / 1000.0,
        "m",
        cloth.on_hand_mm / 1000.0,
        amount,
        cloth.price_per_m,
        reason,
        others,
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
    needed = (lay["lay"]["length_mm"] + _extra_mm(known)) / 1000.0
    return bought_amount(
        needed=needed,
        on_hand=cloth.on_hand_mm / 1000.0,
        increment=cloth.increment_mm / 1000.0,
    )


def _extra_mm(known: Cloth) -> float:
    kind = "woven" if known.construction == "woven" else "other"
    ends = lay_rule("straighten", "straighten_mm", kind).value
    return ends + lay_rule("swatch", "swatch_mm").value


def _thread_lines(
    project: Project, pairs: Mapping[str, Sequence[tuple[JobSeam, Mapping[str, Any] | None]]]
) -> list[BuyLine]:
    """Return one line a thread and colour; the colour is that of the first cloth of the seam."""
    amounts: dict[tuple[str, float, str], float] = {}
    cones: dict[tuple[str, float, str], int] = {}
    for costume in project.costumes:
        for seam, card in pairs.get(costume.name, ()):
            if card is None or "thread" not in card:
                continue
            thread = card["thread"]
            key = (str(thread["name"]), float(thread["tex"]), seam.cloths[0])
            metres = _thread_m(seam, card) * costume.copies
            amounts[key] = amounts.get(key, 0.0) + metres
            overlocked = card["stitch"]["type"] in OVERLOCK
            cones[key] = max(cones.get(key, 1), 3 if overlocked else 1)
    lines = []
    for (name, tex, cloth), metres in amounts.items():
        on_hand = _threads_on_hand(project, name, tex)
        spools = choose_spools(thread_m=metres, cones=cones[name, tex, cloth])
        buy = 0 if on_hand else spools.count
        lines.append(
            BuyLine(
                "thread",
                f"{name}, tex {tex:g}, to match {cloth}: spool of {spools.thread_m:.0f} m",
                float(spools.count),
                "each",
                float(min(on_hand, spools.count)),
                float(buy),
                project.purse.spool_price,
                Reason(f"{metres:.0f} m of thread, ends and waste counted", evidence=COMPUTED),
            )
        )
    return lines


def _thread_m(seam: JobSeam, card: Mapping[str, Any]) -> float:
    ratio = TURNED_SHARE if seam.kind == "hem" else float(card["numbers"]["thread_ratio"])
    return thread_with_ends_m(thread_ratio=ratio, seam_length_m=seam.length_mm / 1000.0)


def _threads_on_hand(project: Project, name: str, tex: float) -> int:
    kinds = {key for key, entry in sewing_entries("thread").items() if entry.word("name") == name}
    return sum(
        one.kind in kinds and math.isclose(one.linear_density_tex, tex, rel_tol=0.15)
        for one in project.workroom.threads
    )


def _needle_lines(
    project: Project, pairs: Mapping[str, Sequence[tuple[JobSeam, Mapping[str, Any] | None]]]
) -> list[BuyLine]:
    """Return needles by point and size, used up by the metres that they sew."""
    worn: dict[tuple[str, int], float] = {}
    for costume in project.costumes:
        for seam, card in pairs.get(costume.name, ()):
            needle = card.get("needle") if card else None
            if needle:
                key = (str(needle["point"]), int(needle["size_nm"]))
                share = seam.length_mm / 10_000.0 * float(needle["count"]) * costume.copies
                worn[key] = worn.get(key, 0.0) + share
    lines = []
    for (point, size), count in worn.items():
        needed = math.ceil(count - 1e-9) + 1
        there = sum((one.point, one.size_nm) == (point, size) for one in project.workroom.needles)
        lines.append(
            BuyLine(
                "needle", f"{point} needle Nm {size}", float(needed), "each", float(there),
                float(max(needed - there, 0)),
                project.purse.needle_price,
                Reason(f"{count:.1f} used up by these seams, and one to spare", evidence=PRACTICE),
            )
        )  # fmt: skip
    return lines


def _extra_line(project: Project, kind: str, extra: Extra, copies: int) -> BuyLine:
    entries = sewing_entries("fastening")
    said = entries[extra.kind].word("name") if extra.kind in entries else extra.kind
    at = f" at {extra.at}" if extra.at else ""
    if extra.unit == "mm":
        metres = extra.amount * copies / 1000.0
        buy = bought_amount(needed=metres, on_hand=0.0, increment=0.1)
        return BuyLine(kind, f"{said}{at}", metres, "m", 0.0, buy, extra.price,
                       Reason("as long as the job says", evidence=GIVEN))  # fmt: skip
    count = spare_count(count=extra.amount * copies, spares_percent=project.spares_percent)
    return BuyLine(kind, f"{said}{at}", float(count), "each", 0.0, float(count), extra.price,
                   Reason("as many as the job says, with spares", evidence=GIVEN))  # fmt: skip


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
        "lines": [_line_json(line) for line in lines],
        "sum": _sum_json(spent, purse.budget),
        "quotation": _quote_json(asked) if asked else None,
    }


def _line_json(line: BuyLine) -> dict[str, Any]:
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
