"""What is told of fitted pieces, as JSON and as lines of text."""

from __future__ import annotations

import math
from typing import Any

from samite.services.fitted import TRIAL_WIDTH_MM, FitTold, OptionCost
from samite.services.fitted_parts import FOUNDATION, fit_parts, part_lines


def fit_json(told: FitTold) -> dict[str, Any]:
    """Return the JSON form of what is told of fitted pieces.

    Parameters
    ----------
    told : FitTold
        What is told.

    Returns
    -------
    dict of str to object
        The key ``fit`` of ``samite.piece.v1``.
    """
    report = told.report
    return {
        "cloth": told.cloth,
        "chosen": report.chosen,
        "limits": {
            "warp_percent": _percent(report.limits.warp), "weft_percent": _percent(report.limits.weft),
            "surplus_percent": _percent(report.limits.surplus),
            "shear_deg": report.limits.shear_deg, "grade": told.grade,
            "swatches": list(told.swatches),
        },
        "options": [_option(one) for one in told.costs],
        "regions": [
            {
                "name": one.name, "warp_percent": [_percent(x) for x in one.warp],
                "weft_percent": [_percent(x) for x in one.weft],
                "shear_deg": round(one.shear_deg, 2), "use": round(report.limits.use(one), 3),
            }
            for one in report.regions
        ],
        "natural_ease": [
            {"first": list(one.first), "second": list(one.second), "ease_mm": round(one.ease_mm, 2)}
            for one in report.eases
        ],
        "girths": [
            {"name": one.name, "body_mm": round(one.body_mm, 2), "asked_mm": round(one.asked_mm, 2),
             "flat_mm": round(one.flat_mm, 2)}
            for one in report.girths
        ],
        "pressure": [
            {"name": one.name, "middle_kpa": round(one.middle_kpa, 3),
             "tightest_kpa": round(one.tightest_kpa, 3), "discomfort_kpa": one.limit_kpa,
             "grade": "guess"}
            for one in report.pressures
        ],
        "bones": [
            {"name": one.name, "length_mm": round(one.length_mm, 1), "count": one.count}
            for one in report.bones
        ],
        "foundation": FOUNDATION if report.bones else None,
        "raised_arms": _arms(told),
        "guesses": list(report.guesses),
        "trial": {
            "says": report.trial, "metres": told.trial_metres.value, "low": told.trial_metres.low,
            "high": told.trial_metres.high, "width_mm": TRIAL_WIDTH_MM,
        },
        "altered": [
            {"said": one.alteration.said, "parameter": one.parameter, "amount": round(one.amount, 3)}
            for one in told.changes
        ],
    }  # fmt: skip


def _percent(share: float) -> float:
    return round(100.0 * share, 3)


def _arms(told: FitTold) -> dict[str, float] | None:
    """Return how far arms can be lifted; None without a sleeve."""
    names = ("lift_without_pull_deg", "pull_at_lift_90_mm")
    found = {name: round(told.values[name], 2) for name in names if name in told.values}
    return found or None


def _option(one: OptionCost) -> dict[str, Any]:
    option = one.option
    laid = math.isfinite(option.use)
    return {
        "name": option.name, "fits": option.fits, "pieces": option.pieces,
        "seams_m": round(option.seam_length_mm / 1000.0, 3), "minutes": round(one.minutes, 1),
        "use": round(option.use, 3) if laid else None, "where": option.region,
        "worst_percent": _percent(option.worst_strain) if laid else None,
    }  # fmt: skip


def fit_lines(told: FitTold, units: str = "metric") -> list[str]:
    """Return what is told of fitted pieces as lines of text.

    Parameters
    ----------
    told : FitTold
        What is told.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    list of str
        Cloth, ways, strains, girths, eases, pressures, bones, raised arms, trial, fittings.
    """
    return part_lines(fit_parts(told, units))
