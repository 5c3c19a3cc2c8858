"""What a lay means at the shop: length to ask for, price, and what was added on top."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from samite.cloth.model import Cloth
from samite.cloth.reading import Price
from samite.kernel.reasons import Reason
from samite.lay.buying import YARD_MM, length_needed_mm, rounded_up_mm
from samite.lay.rules import PRACTICE
from samite.seam.handling import prepare
from samite.tables.lay import lay_rule


@dataclass(frozen=True, slots=True)
class Extra:
    """What is bought beyond the lay, each a stated choice.

    Parameters
    ----------
    shrink_along_percent : float
        Shrinkage along, before cutting [%].
    shrink_across_percent : float
        Shrinkage across, before cutting [%].
    straighten_mm : float
        Cloth lost to squaring each end [mm].
    flaw_allowance_percent : float
        More for flaws that were not looked for [%].
    step_mm : float
        What the shop cuts by [mm].
    pretreat : str
        ``wash``, ``steam``, ``relax`` or ``none``.
    reasons : tuple of Reason
        Why.
    """

    shrink_along_percent: float = 0.0
    shrink_across_percent: float = 0.0
    straighten_mm: float = 0.0
    flaw_allowance_percent: float = 0.0
    step_mm: float = 100.0
    pretreat: str = "none"
    reasons: tuple[Reason, ...] = ()


def usual_step_mm(units: str) -> float:
    """Return what shops cut by.

    Parameters
    ----------
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    float
        Step [mm].
    """
    return lay_rule("step", "buying_step_mm", units).value


def extra_for(
    cloth: Cloth, *, units: str = "metric", pretreated: bool = False, flaws_seen: bool = False
) -> Extra:
    """Return what is bought beyond the lay for a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    units : str
        ``metric`` or ``imperial``.
    pretreated : bool
        Whether it is shrunk already.
    flaws_seen : bool
        Whether the length was looked over.

    Returns
    -------
    Extra
        With its reasons.
    """
    step = prepare(cloth)
    kind = "none" if pretreated else dict(step.value.details).get("pretreat", "none")
    woven = "woven" if cloth.construction == "woven" else "other"
    along = lay_rule("shrink", "shrink_along_percent", kind)
    straighten = lay_rule("straighten", "straighten_mm", woven)
    flaws = lay_rule("flaws", "flaw_allowance_percent")
    reasons = [
        Reason("shrunk already", evidence=PRACTICE)
        if pretreated
        else Reason(f"before cutting: {step.value.text}", (step.reason,), PRACTICE),
        Reason(
            f"{straighten.value:g} mm at each end to square it"
            if straighten.value
            else "no weft to square the ends by",
            evidence=PRACTICE,
        ),
        Reason(
            "the length was looked over for flaws"
            if flaws_seen
            else f"{flaws.value:g} % for flaws that were not looked for",
            evidence=PRACTICE,
        ),
    ]
    return Extra(
        0.0 if pretreated else along.value,
        0.0 if pretreated else lay_rule("shrink", "shrink_across_percent", kind).value,
        straighten.value,
        0.0 if flaws_seen else flaws.value,
        usual_step_mm(units),
        kind,
        tuple(reasons),
    )


def length_to_lay_mm(bought_mm: float, extra: Extra) -> float:
    """Return what is left to lay of a length that was bought.

    Parameters
    ----------
    bought_mm : float
        As it comes from the shop [mm].
    extra : Extra
        What is lost before it is laid.

    Returns
    -------
    float
        Squared and shrunk [mm]; nothing is taken off for flaws.
    """
    return (bought_mm - 2.0 * extra.straighten_mm) * (1.0 - extra.shrink_along_percent / 100.0)


def buy_json(
    length_mm: float, bound_mm: float, extra: Extra, price: Price | None = None
) -> dict[str, Any]:
    """Return what to buy for a lay.

    Parameters
    ----------
    length_mm : float
        Length of the lay [mm].
    bound_mm : float
        No lay is shorter [mm].
    extra : Extra
        What is added.
    price : Price or None
        As the label prints it.

    Returns
    -------
    dict of str to object
        ``lay_mm``, ``best_mm``, ``needed_mm``, ``buy_mm``, ``buy_yd``, ``best_buy_mm``, ``step_mm``,
        what was added, and ``price``.
    """
    needed = _needed(length_mm, extra)
    bought = rounded_up_mm(length_mm=needed, step_mm=extra.step_mm)
    at_best = rounded_up_mm(length_mm=_needed(max(bound_mm, 1.0), extra), step_mm=extra.step_mm)
    return {
        "lay_mm": round(length_mm, 3),
        "best_mm": round(bound_mm, 3),
        "needed_mm": round(needed, 3),
        "buy_mm": round(bought, 3),
        "buy_yd": round(bought / YARD_MM, 4),
        "best_buy_mm": round(at_best, 3),
        "step_mm": round(extra.step_mm, 3),
        "shrink_along_percent": extra.shrink_along_percent,
        "shrink_across_percent": extra.shrink_across_percent,
        "straighten_mm": extra.straighten_mm,
        "flaw_allowance_percent": extra.flaw_allowance_percent,
        "pretreat": extra.pretreat,
        "price": _cost(bought, price),
    }


def _needed(length_mm: float, extra: Extra) -> float:
    return length_needed_mm(
        length_mm=length_mm,
        shrink_along_percent=extra.shrink_along_percent,
        straighten_mm=extra.straighten_mm,
        flaw_allowance_percent=extra.flaw_allowance_percent,
    )


def _cost(bought_mm: float, price: Price | None) -> dict[str, Any] | None:
    if price is None or price.per not in {"m", "yd"}:
        return None
    lengths = bought_mm / (1000.0 if price.per == "m" else YARD_MM)
    return {"amount": round(lengths * price.amount, 2), "currency": price.currency}
