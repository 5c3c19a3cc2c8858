"""The slip on paper: one page with the square, the cautions and the steps."""

from __future__ import annotations

from dataclasses import asdict
from datetime import date
from typing import Any

from samite.sheets.page import typeset
from samite.sheets.slip_picture import describe_slip, draw_slip
from samite.sheets.slip_views import SlipSheet
from samite.sheets.svg import CONTROL

LONGEST_LABEL = 200
SIZES_PT = (9.5, 8.0)
"""Size of the type for few steps and for many [pt]."""

FEW_STEPS = 9


def print_slip(sheet: SlipSheet, paper: str = "a4", dated: date | None = None) -> bytes:
    """Set the slip.

    Parameters
    ----------
    sheet : SlipSheet
        The slip.
    paper : str
        ``a4`` or ``us-letter``.
    dated : datetime.date or None
        Date to print; none is printed without.

    Returns
    -------
    bytes
        PDF/UA-1, the same for the same arguments.

    Raises
    ------
    UnknownNameError
        If the paper is not known.
    """
    slip: dict[str, Any] = asdict(sheet)
    slip["label"] = _cut(" ".join(sheet.label.translate(CONTROL).split()))
    data = {
        "paper": paper,
        "title": f"Slip: {slip['label'][:80]}",
        "dated": dated.isoformat() if dated else "",
        "size": SIZES_PT[0] if len(sheet.lines) <= FEW_STEPS else SIZES_PT[1],
        "slip": slip,
        "picture": draw_slip(sheet),
        "words": describe_slip(sheet),
    }
    return typeset(("slip.typ",), data, dated)


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_LABEL else text[: LONGEST_LABEL - 1].rstrip() + "…"
