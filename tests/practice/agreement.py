"""Compare a card with the advice columns of ``practice.csv`` (common practice, no source).

The columns are check values: they never ship. Where a practitioner's statement differs from the
table both are practice, and the accepted answer is the union (see `UNION_NOTE`).
"""

from __future__ import annotations

import csv
import re
from pathlib import Path
from typing import Any

PRACTICE = Path(__file__).with_name("practice.csv")

UNION_NOTE = (
    "practitioners press polyester cloths at one dot (table) and at two dots through a cloth "
    "(stated for velvet, organza and brocade of polyester): both count"
)

POINTS = {
    "fine sharp": "sharp",
    "sharp": "sharp",
    "universal": "universal",
    "ball": "ballpoint",
    "stretch": "stretch",
    "denim": "denim",
    "leather": "leather",
    "large-eye": "large-eye",
}
FINISH_WORDS = {
    "none": (
        "none",
        "raw",
        "enclosed?",
        "no edge finish",
        "trim",
        "cut round",
        "bars",
        "melt",
        "turned",
        "seal",
    ),
    "overedge": ("overedge", "504", "503", "overcast", "3-thread"),
    "zigzag": ("zigzag", "504", "overedge", "overcast"),
    "french": ("french", "enclosed"),
    "bound": ("bound", "bind", "hong kong", "taped", "tape"),
    "pinked": ("pink",),
    "narrow-double": ("narrow", "double"),
    "felled": ("fell",),
}
HOLD_WORDS = {
    "pins": ("pin",),
    "clips": ("clip",),
    "basting": ("baste",),
    "tape": ("tape",),
    "glue": ("glue", "cement"),
    "weights": ("weight",),
}
STEAM = {
    "none": ("none",),
    "hover": ("hover", "none"),
    "light": ("light", "ok", "often", "hover"),
    "full": ("ok", "light", "often"),
}
SIDES = {"wrong": {"wrong"}, "any": {"wrong", "right", "both"}, "none": {"wrong"}}
STEAM_OFF_STATED = {"poly_organza", "flocked_organza", "brocade", "lame_brocade"}
"""Cloths that the stated cases press without steam."""

COLUMNS = (
    "point",
    "size",
    "thread",
    "stitch",
    "length",
    "seam",
    "finish",
    "holding",
    "dots",
    "steam",
    "cloth",
    "side",
)


def practice_rows() -> list[dict[str, str]]:
    with PRACTICE.open(encoding="utf-8") as handle:
        return list(csv.DictReader(handle))


def agreement(card: dict[str, Any], row: dict[str, str]) -> dict[str, bool]:
    checks = {
        "point": _point(card, row),
        "size": _within(card["needle"]["size_nm"], row["nm_lo"], row["nm_hi"]),
        "thread": _thread(card["thread"]["tex"], row["thread"]),
        "stitch": _stitch(card, row),
        "length": _within(
            card["stitch"]["length_mm"], row["stitch_len_mm_lo"], row["stitch_len_mm_hi"]
        ),
        "seam": re.search(rf"\b{card['seam']['type']}\b", row["seam_type"]) is not None
        or (card["seam"]["type"] == "SSae" and "French" in row["seam_type"]),
        "finish": _finish(card, row),
        "holding": any(word in row["holding"] for word in HOLD_WORDS[card["holding"]["method"]]),
        "dots": _dots(card, row),
        "steam": _steam(card, row),
        "cloth": _cloth(card, row),
        "side": _side(card, row),
    }
    return {name: bool(checks[name]) for name in COLUMNS}


def _point(card: dict[str, Any], row: dict[str, str]) -> bool:
    text = row["needle_type"]
    return any(plain == card["needle"]["point"] for word, plain in POINTS.items() if word in text)


def _within(value: float, low: str, high: str) -> bool:
    return float(low or 0) <= value <= float(high or 0)


def _thread(tex: int, text: str) -> bool:
    found = re.findall(r"Tex (\d+)(?:-(\d+))?", text)
    if not found:
        return True
    ranges = [(int(a), int(b or a)) for a, b in found]
    return any(low - 3 <= tex <= high + 3 for low, high in ranges)


def _stitch(card: dict[str, Any], row: dict[str, str]) -> bool:
    kind = card["stitch"]["type"]
    text = row["stitch_iso"]
    return kind in text or (kind == "304" and "3-step" in text)


def _finish(card: dict[str, Any], row: dict[str, str]) -> bool:
    text = (row["edge_finish"] + " " + row["seam_type"]).lower()
    finish = card["seam"]["finish"]
    if finish == "none" and card["seam"]["type"] in ("LSa", "FSa"):
        return True
    return any(word in text for word in FINISH_WORDS[finish])


def _dots(card: dict[str, Any], row: dict[str, str]) -> bool:
    ours = {"none": 0, "low": 1, "medium": 2, "high": 3}[card["press"]["iron"]]
    accepted = {int(row["press_dots"])}
    if row["press_dots"] == "1" and "polyester" in row["typical_fibres"]:
        accepted.add(2)
    if row["steam"] == "hover" and card["press"]["steam"] == "hover":
        accepted.add(0)
    return ours in accepted


def _steam(card: dict[str, Any], row: dict[str, str]) -> bool:
    ours = card["press"]["steam"]
    if row["id"] in STEAM_OFF_STATED and ours == "none":
        return True
    return any(word in row["steam"] for word in STEAM[ours])


def _cloth(card: dict[str, Any], row: dict[str, str]) -> bool:
    if row["press_dots"] == "0" or card["press"]["iron"] == "none":
        return card["press"]["cloth"] is False or row["press_dots"] != "0"
    return card["press"]["cloth"] is (row["press_cloth"] != "none")


def _side(card: dict[str, Any], row: dict[str, str]) -> bool:
    stated = row["press_side"].split(",")[0]
    if card["press"]["iron"] == "none":
        return True
    return card["press"]["side"] in SIDES[stated]
