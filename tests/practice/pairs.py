"""Every cloth of ``practice.csv`` joined to itself, to a lining and to one contrary partner."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from tests.practice.agreement import (
    HOLD_WORDS,
    _finish,
    _point,
    _stitch,
    _thread,
    practice_rows,
)

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.garment.workroom import usual_workroom
from samite.seam.answer import JointAnswer
from samite.seam.together import choose_joint
from samite.services.card import make_card

LINING = "acetate_lining"
ROWS = {row["id"]: row for row in practice_rows() if not row["needle_type"].startswith("none")}


@cache
def cloth(row_id: str) -> Cloth:
    return make_card(ROWS[row_id]["cloth"]).cloth


def contrary(row_id: str) -> str:
    """A partner that wants the opposite: sheer to knit, velvet to sheer, elastic to firm."""
    one = cloth(row_id)
    if one.construction in ("film", "leather", "foam"):
        return "swim_spandex"
    if one.construction == "knit":
        return "silk_organza"
    if one.sheer or one.construction in ("net", "lace"):
        return "rayon_silk_velvet"
    return "power_mesh"


def pairs() -> Iterator[tuple[str, str, str]]:
    for row_id in ROWS:
        yield "itself", row_id, row_id
        yield "lining", row_id, LINING
        yield "contrary", row_id, contrary(row_id)


@cache
def joined(one: str, other: str) -> JointAnswer:
    return choose_joint((cloth(one), cloth(other)), Use(), usual_workroom())


def as_card(answer: JointAnswer) -> dict[str, dict[str, object]]:
    best = answer.ways[0].candidate
    return {
        "needle": answer.settled.needle.as_dict(),
        "thread": {"tex": answer.settled.thread.linear_density_tex},
        "stitch": best.stitch.as_dict(),
        "seam": best.seam.as_dict(),
        "holding": answer.settled.holding.value.as_dict(),
    }


def lost_columns(answer: JointAnswer, one: dict[str, str], other: dict[str, str]) -> set[str]:
    """Columns in which neither cloth's row, nor anything between the two, accepts the answer."""
    card = as_card(answer)
    rows = (one, other)
    lost = {
        "point": any(_point(card, row) for row in rows),
        "size": _between(card["needle"]["size_nm"], rows, "nm_lo", "nm_hi"),
        "length": _between(
            card["stitch"]["length_mm"], rows, "stitch_len_mm_lo", "stitch_len_mm_hi"
        ),
        "thread": _thread_between(card["thread"]["tex"], rows),
        "stitch": any(_stitch(card, row) for row in rows),
        "seam": any(_seam(str(card["seam"]["type"]), row) for row in rows),
        "finish": any(_finish(card, row) for row in rows),
        "holding": any(
            word in row["holding"] for row in rows for word in HOLD_WORDS[card["holding"]["method"]]
        ),
    }
    return {name for name, accepted in lost.items() if not accepted}


def _between(value: float, rows: tuple[dict[str, str], ...], low: str, high: str) -> bool:
    return min(float(row[low]) for row in rows) <= value <= max(float(row[high]) for row in rows)


def _thread_between(tex: float, rows: tuple[dict[str, str], ...]) -> bool:
    found = [
        int(number)
        for row in rows
        for pair in re.findall(r"Tex (\d+)(?:-(\d+))?", row["thread"])
        for number in pair
        if number
    ]
    if not found or any(_thread(round(tex), row["thread"]) for row in rows):
        return True
    return min(found) - 3 <= tex <= max(found) + 3


def _seam(letters: str, row: dict[str, str]) -> bool:
    french = letters == "SSae" and "French" in row["seam_type"]
    return french or re.search(rf"\b{letters}\b", row["seam_type"]) is not None
