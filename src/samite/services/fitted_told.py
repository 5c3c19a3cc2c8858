"""What is told of fitted pieces, as JSON and as lines of text."""

from __future__ import annotations

import math
from typing import Any

from samite.services.fitted import TRIAL_WIDTH_MM, FitTold, OptionCost


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
            "shear_deg": report.limits.shear_deg, "grade": "guess",
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


def _option(one: OptionCost) -> dict[str, Any]:
    option = one.option
    laid = math.isfinite(option.use)
    return {
        "name": option.name, "fits": option.fits, "pieces": option.pieces,
        "seams_m": round(option.seam_length_mm / 1000.0, 3), "minutes": round(one.minutes, 1),
        "use": round(option.use, 3) if laid else None, "where": option.region,
        "worst_percent": _percent(option.worst_strain) if laid else None,
    }  # fmt: skip


def fit_lines(told: FitTold) -> list[str]:
    """Return what is told of fitted pieces as lines of text.

    Parameters
    ----------
    told : FitTold
        What is told.

    Returns
    -------
    list of str
        Cloth, ways, strains, girths, eases, pressures, bones, trial.
    """
    report = told.report
    lines = ["", "CLOTH", f"  {told.cloth} [guess]", "", "WAYS TO PART IT"]
    for one in told.costs:
        option = one.option
        if not math.isfinite(option.use):
            lines.append(f"  {option.name}: cannot be laid flat ({option.region})")
            continue
        mark = "taken" if option.name == report.chosen else "fits" if option.fits else "too few"
        lines.append(
            f"  {option.name}: {option.pieces} pieces, {option.seam_length_mm / 1000:.2f} m of seams,"
            f" about {one.minutes:.0f} min; {option.region} takes {option.use:.2f} of what the cloth"
            f" gives: {mark}"
        )
    lines += ["", "STRAIN (along, across, shear; most of each region)"]
    lines += [
        f"  {one.name}: {100 * one.warp[0]:+.1f} to {100 * one.warp[1]:+.1f} %,"
        f" {100 * one.weft[0]:+.1f} to {100 * one.weft[1]:+.1f} %, {one.shear_deg:.1f} degrees"
        f"{'  PULLS' if report.limits.use(one) > 1.0 else ''}"
        for one in report.regions
    ]
    lines += ["", "GIRTHS (body, garment, flat pieces)"]
    lines += [
        f"  {one.name} {one.body_mm / 10:.1f}, {one.asked_mm / 10:.1f}, {one.flat_mm / 10:.2f} cm"
        for one in report.girths
    ]
    lines += ["", "NATURAL EASE of seams, were nothing held"]
    lines += [
        f"  {' '.join(one.second)} {one.ease_mm:+.1f} mm against {' '.join(one.first)}"
        for one in report.eases
    ]
    if report.pressures:
        lines += ["", "PRESSURE on the skin [guess]"]
        lines += [
            f"  {one.name}: {one.middle_kpa:.2f} kPa, {one.tightest_kpa:.2f} at the sharpest turn;"
            f" discomfort over {one.limit_kpa:g}"
            for one in report.pressures
        ]
    if report.bones:
        lines += ["", "BONES"]
        lines += [
            f"  {one.count} of {one.length_mm / 10:.1f} cm, {one.name}" for one in report.bones
        ]
    metres = told.trial_metres
    lines += ["", "TRIAL", f"  {report.trial}",
              f"  {metres.value:.1f} m ({metres.low:.1f} to {metres.high:.1f}) of a cloth 140 cm wide"]  # fmt: skip
    lines += [
        f"  altered: {one.alteration.said}: {one.parameter.replace('_', ' ')} {one.amount:+g}"
        for one in told.changes
    ]
    return lines
