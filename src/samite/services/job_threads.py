"""Threads, bobbins and needles of a job's buying list."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from samite.buy.line import BuyLine
from samite.buy.spools import choose_spools
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Reason
from samite.project.model import Project
from samite.project.seams import JobSeam
from samite.seam.settle import seam_thread_diameter_mm
from samite.seam.thread_amount import bobbin_length_m, bobbins_needed, thread_with_ends_m
from samite.services.job_stock import Had, Stock
from samite.services.job_units import thread_words
from samite.tables.sewing import sewing_entries

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
COMPUTED = Evidence("derivation", Grade.DERIVED)
OVERLOCK = ("503", "504", "505", "512", "514")
LOCKED = ("301", "304")
"""Stitches that a bobbin makes with the needle."""

TURNED_SHARE = 2.5
"""Thread of hems over their length: a lockstitch through two to three thin plies [-] (practice)."""

Pairs = Mapping[str, Sequence[tuple[JobSeam, Mapping[str, Any] | None]]]
Key = tuple[str, float, str]


def thread_lines(project: Project, pairs: Pairs, stock: Stock) -> list[BuyLine]:
    """Return one line a thread and colour; the colour is that of the first cloth of the seam.

    Parameters
    ----------
    project : Project
        The job.
    pairs : mapping of str to sequence of (JobSeam, mapping or None)
        By costume: every seam with the seam card of its cloths.
    stock : Stock
        What is kept.

    Returns
    -------
    list of BuyLine
        Spools, then the bobbins to wind.
    """
    amounts: dict[Key, float] = {}
    bobbins: dict[Key, float] = {}
    cones: dict[Key, int] = {}
    fibres: dict[Key, str] = {}
    for costume in project.costumes:
        for seam, card in pairs.get(costume.name, ()):
            if card is None or "thread" not in card:
                continue
            thread = card["thread"]
            key = (str(thread["name"]), float(thread["tex"]), seam.cloths[0])
            metres = _thread_m(seam, card) * costume.copies
            amounts[key] = amounts.get(key, 0.0) + metres
            fibres[key] = str(thread["fibre"])
            overlocked = card["stitch"]["type"] in OVERLOCK
            cones[key] = max(cones.get(key, 1), 3 if overlocked else 1)
            if card["stitch"]["type"] in LOCKED:
                bobbins[key] = bobbins.get(key, 0.0) + metres * _under_share(card)
    lines = [
        _thread_line(project, key, metres, cones[key], fibres[key], stock)
        for key, metres in amounts.items()
    ]
    return lines + _bobbin_lines(project, bobbins)


def _thread_line(
    project: Project, key: Key, metres: float, cones: int, fibre: str, stock: Stock
) -> BuyLine:
    name, tex, cloth = key
    bought = project.cloth(cloth)
    colour = bought.colour if bought else ""
    spools = choose_spools(thread_m=metres, cones=cones)
    there = _threads_on_hand(project, name, tex)
    had = Had() if there else stock.thread(fibre, tex, colour, metres)
    left = metres - had.amount
    buy = 0 if there or left <= 1e-9 else choose_spools(thread_m=left, cones=cones).count
    held = thread_words(spools.thread_m, project.units)
    match = f"to match {cloth}" + (f", {colour}" if colour else "")
    others = [
        f"{count} of {thread_words(each, project.units)}"
        for each, count in _other_spools(metres, cones, spools.thread_m)
    ]
    return BuyLine(
        "thread",
        f"{name}, tex {tex:g}, {match}: {spools.name.replace('-', ' ')} spool of {held}",
        float(spools.count),
        "each",
        float(spools.count - buy),
        float(buy),
        project.purse.spool_price,
        Reason(
            f"{thread_words(metres, project.units)} of thread, ends and waste counted",
            evidence=COMPUTED,
        ),
        tuple(others),
        had.words or ("on hand, as the job says" if there else ""),
    )


def _other_spools(metres: float, cones: int, taken: float) -> list[tuple[float, int]]:
    """Return the next larger spool, which saves a change of spool."""
    sizes = sorted(entry.number("thread_m") for entry in sewing_entries("spool").values())
    larger = [size for size in sizes if taken < size <= 600.0]
    return [(larger[0], cones * math.ceil(metres / cones / larger[0]))] if larger else []


def _thread_m(seam: JobSeam, card: Mapping[str, Any]) -> float:
    ratio = TURNED_SHARE if seam.kind == "hem" else float(card["numbers"]["thread_ratio"])
    return thread_with_ends_m(thread_ratio=ratio, seam_length_m=seam.length_mm / 1000.0)


def _under_share(card: Mapping[str, Any]) -> float:
    numbers = card["numbers"]
    return float(numbers["other_thread_ratio"]) / max(float(numbers["thread_ratio"]), 1e-9)


def _bobbin_lines(project: Project, bobbins: Mapping[Key, float]) -> list[BuyLine]:
    """Return how many bobbins are wound: at least one a colour and thread."""
    wound = {
        key: bobbins_needed(
            bobbin_thread_m=metres,
            bobbin_length_m=bobbin_length_m(thread_diameter_mm=seam_thread_diameter_mm(key[1])),
        )
        for key, metres in bobbins.items()
        if metres > 0.0
    }
    if not wound:
        return []
    count = float(sum(wound.values()))
    told = ", ".join(
        f"{many} to match {cloth}, tex {tex:g}" for (_, tex, cloth), many in wound.items()
    )
    there = project.have.get("bobbin", 0.0)
    return [
        BuyLine(
            "notion", "bobbin, as the machine's book says", count, "each", min(there, count),
            max(count - there, 0.0), project.purse.prices.get("bobbin"),
            Reason(f"wound before the seams: {told}", evidence=COMPUTED),
            ("empty ones that are there",),
        )
    ]  # fmt: skip


def _threads_on_hand(project: Project, name: str, tex: float) -> int:
    kinds = {key for key, entry in sewing_entries("thread").items() if entry.word("name") == name}
    return sum(
        one.kind in kinds and math.isclose(one.linear_density_tex, tex, rel_tol=0.15)
        for one in project.workroom.threads
    )


def needle_lines(project: Project, pairs: Pairs, stock: Stock) -> list[BuyLine]:
    """Return needles by system, point and size, used up by the metres that they sew.

    Parameters
    ----------
    project : Project
        The job.
    pairs : mapping of str to sequence of (JobSeam, mapping or None)
        By costume: every seam with the seam card of its cloths.
    stock : Stock
        What is kept.

    Returns
    -------
    list of BuyLine
        One a system, point and size.
    """
    worn: dict[tuple[str, str, int], float] = {}
    spans: dict[tuple[str, str, int], tuple[int, int]] = {}
    for costume in project.costumes:
        for seam, card in pairs.get(costume.name, ()):
            needle = card.get("needle") if card else None
            if card and needle:
                key = (_system(card), str(needle["point"]), int(needle["size_nm"]))
                share = seam.length_mm / 10_000.0 * float(needle["count"]) * costume.copies
                worn[key] = worn.get(key, 0.0) + share
                spans[key] = (int(needle["range_nm"][0]), int(needle["range_nm"][1]))
    return [_needle_line(project, key, count, spans[key], stock) for key, count in worn.items()]


def _needle_line(
    project: Project,
    key: tuple[str, str, int],
    count: float,
    span: tuple[int, int],
    stock: Stock,
) -> BuyLine:
    system, point, size = key
    needed = float(math.ceil(count - 1e-9) + 1)
    said = sum((one.point, one.size_nm) == (point, size) for one in project.workroom.needles)
    had = stock.needles(point, size, needed)
    there = max(float(said), had.amount)
    sizes = [n for n in map(int, sewing_entries("needle")) if span[0] <= n <= span[1] and n != size]
    alternatives = (f"Nm {' or '.join(map(str, sizes))}",) if sizes else ()
    return BuyLine(
        "needle", f"needle {system}, {point}, Nm {size}/{_us(size)}", needed, "each",
        min(there, needed), max(needed - there, 0.0), project.purse.needle_price,
        Reason(f"{count:.1f} used up by these seams, and one to spare", evidence=PRACTICE),
        alternatives, had.words,
    )  # fmt: skip


def _us(size: int) -> str:
    entry = sewing_entries("needle").get(str(size))
    return f"{entry.number('size_us'):.0f}" if entry and entry.has("size_us") else "?"


def _system(card: Mapping[str, Any]) -> str:
    """Return the needle system of the machine that sews a seam."""
    name = card["seam"].get("machine", "")
    for entry in sewing_entries("machine").values():
        if entry.word("name") == name and entry.has("needle_system"):
            return entry.word("needle_system")
    return "for this machine"
