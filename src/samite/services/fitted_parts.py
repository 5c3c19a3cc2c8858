"""What is told of fitted pieces, in parts: a heading, sentences, a table."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from samite.kernel.units import convert
from samite.pieces.fitted.report import FitReport
from samite.services.fitted import TRIAL_WIDTH_MM, FitTold, OptionCost

FOUNDATION = (
    "bones stand on a foundation: the same pieces cut once more of a firm cloth that gives less than the"
    " outer one, sewn to it at the edges; linings draw its pieces too"
)
"""What bones stand on; common practice."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of what is told.

    Parameters
    ----------
    head : str
        Its heading.
    says : tuple of str
        Sentences.
    columns : tuple of str
        Heads of its table; empty if it has none.
    rows : tuple of tuple of str
        Rows of the table.
    """

    head: str
    says: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()


def fit_parts(told: FitTold, units: str = "metric") -> tuple[Part, ...]:
    """Return what is told of fitted pieces.

    Parameters
    ----------
    told : FitTold
        What is told.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    tuple of Part
        Cloth, ways to part it, strains, girths, eases, pressures, bones, raised arms, trial, fittings.
    """
    report, unit = told.report, "cm" if units == "metric" else "in"
    parts = [
        _cloth(told), _ways(told, units), _strain(report), _girths(report, unit),
        _eases(report, units), _pressure(report), _bones(report, unit), _arms(told, units),
        _trial(told, units), _altered(told, units),
    ]  # fmt: skip
    return tuple(part for part in parts if part.says or part.rows)


def _length(value_mm: float, unit: str, places: int = 1) -> str:
    return f"{convert(value_mm, 'mm', unit):.{places + (unit == 'in')}f}"


def _small(value_mm: float, units: str, sign: str = "") -> str:
    """Return a small length: in millimetres, or in inches by the hundredth."""
    if units == "metric":
        return f"{value_mm:{sign}.1f} mm"
    return f"{convert(value_mm, 'mm', 'in'):{sign}.2f} in"


def _cloth(told: FitTold) -> Part:
    says = [f"{told.cloth} [{told.grade}]"]
    if told.grade == "guess" and not told.report.pressures:
        says.append(
            "to sharpen it: mark a length along and one across on a swatch, pull each until it ripples,"
            " thins or stays longer, and give by how many per cent it had grown just before that as"
            " warp_limit (along) and weft_limit (across); swatches of the journal that were stretched count"
            " by themselves"
        )
    elif told.grade == "guess":
        says.append(
            "to sharpen it: mark a length along and one across on a swatch, pull as a hand pulls, and give"
            " by how many per cent each grows as stretch_along and stretch_across"
        )
    return Part("Cloth", tuple(says))


def _ways(told: FitTold, units: str) -> Part:
    unit = "m" if units == "metric" else "yd"
    rows = tuple(_way(one, told.report.chosen, unit) for one in told.costs)
    columns = (
        "way",
        "pieces",
        f"seams ({unit})",
        "about (min)",
        "of what the cloth gives",
        "most in",
        "",
    )
    says = (
        "judged by whole pieces, of which the worst twentieth is left out; small spots that pull more are"
        " hatched on them",
    )
    return Part("Ways to part it", says, columns, rows)


def _way(one: OptionCost, chosen: str, unit: str) -> tuple[str, ...]:
    option = one.option
    if not math.isfinite(option.use):
        return (option.name, "", "", "", "", option.region, "cannot be laid flat")
    mark = "taken" if option.name == chosen else "fits" if option.fits else "too few"
    return (
        option.name, str(option.pieces), f"{convert(option.seam_length_mm, 'mm', unit):.2f}",
        f"{one.minutes:.0f}", f"{100 * option.use:.0f} %", option.region, mark,
    )  # fmt: skip


def _strain(report: FitReport) -> Part:
    columns = (
        "region",
        "along (%)",
        "across (%)",
        "shear (degrees)",
        "of what the cloth gives",
        "",
    )
    rows = tuple(
        (
            one.name, _span(one.warp), _span(one.weft), f"{one.shear_deg:.1f}",
            f"{100 * report.limits.use(one):.0f} %",
            "PULLS, hatched" if report.limits.use(one) > 1.0 else "",
        )
        for one in report.regions
    )  # fmt: skip
    limits = report.limits
    says = (
        "from the lowest to the highest of nine tenths of each region; + is stretched, - has too much;"
        f" allowed {100 * limits.warp:.1f} along, {100 * limits.weft:.1f} across,"
        f" {100 * limits.surplus:.1f} too much, {limits.shear_deg:.0f} degrees of shear",
    )
    return Part("Strain", says, columns, rows)


def _span(ends: tuple[float, float]) -> str:
    # One that rounds to nothing has no sign: -0.0 would read as a little too much.
    low, high = (round(100 * end, 1) or 0.0 for end in ends)
    return " to ".join("0.0" if end == 0.0 else f"{end:+.1f}" for end in (low, high))


def _girths(report: FitReport, unit: str) -> Part:
    columns = ("at", f"body ({unit})", f"garment ({unit})", f"flat pieces ({unit})")
    rows = tuple(
        (one.name, _length(one.body_mm, unit), _length(one.asked_mm, unit),
         _length(one.flat_mm, unit, 2))
        for one in report.girths
    )  # fmt: skip
    return Part("Girths", (), columns, rows)


def _eases(report: FitReport, units: str) -> Part:
    says = (
        "how much longer the second side would lie if nothing were held: ease it in between notches",
    )
    rows = tuple(
        (" ".join(one.first), " ".join(one.second), _small(one.ease_mm, units, "+"))
        for one in report.eases
    )
    return Part("Natural ease of seams", says if rows else (), ("first", "second", "ease"), rows)


def _pressure(report: FitReport) -> Part:
    columns = ("at", "mean (kPa)", "at the sharpest turn (kPa)", "")
    rows = tuple(
        (one.name, f"{one.middle_kpa:.2f}", f"{one.tightest_kpa:.2f}",
         "OVER" if one.tightest_kpa > one.limit_kpa else "below")
        for one in report.pressures
    )  # fmt: skip
    if not rows:
        return Part("Pressure on the skin")
    limit = report.pressures[0].limit_kpa
    says = (
        f"a guess; over {limit:g} kPa was felt as discomfort; a maker's check, not a medical one",
    )
    return Part("Pressure on the skin", says, columns, rows)


def _bones(report: FitReport, unit: str) -> Part:
    rows = tuple((one.name, str(one.count), _length(one.length_mm, unit)) for one in report.bones)
    return Part(
        "Bones and foundation",
        (FOUNDATION,) if rows else (),
        ("where", "how many", f"length ({unit})"),
        rows,
    )


def _arms(told: FitTold, units: str) -> Part:
    values = told.values
    if "lift_without_pull_deg" not in values:
        return Part("Raised arms")
    missing = values["pull_at_lift_90_mm"]
    says = (
        f"the arm is lifted to {values['lift_without_pull_deg']:.0f} degrees before the sleeve pulls",
        f"lifted level, {_small(missing, units)} are missing along the underarm: the hem of the bodice"
        " rises by about as much; lift=60 and the like makes the sleeve so wide and its cap so flat that"
        " the arm can be lifted that far",
    )
    return Part("Raised arms", says if missing > 0.0 else says[:1])


def _trial(told: FitTold, units: str) -> Part:
    metres, unit = told.trial_metres, "m" if units == "metric" else "yd"
    low, value, high = (convert(x, "m", unit) for x in (metres.low, metres.value, metres.high))
    wide = f"{convert(TRIAL_WIDTH_MM, 'mm', 'cm'):.0f} cm" if units == "metric" else "55 in"
    says = (
        told.report.trial,
        f"{value:.1f} {unit} ({low:.1f} to {high:.1f}) of a cloth {wide} wide",
        "pin what is too wide or too tight, and enter it as a fitting by place and amount: the pieces"
        " are then computed anew",
    )
    return Part("Trial", says)


def _altered(told: FitTold, units: str) -> Part:
    rows = tuple(
        (one.alteration.said, one.parameter.replace("_", " "), _small(one.amount, units, "+"))
        for one in told.changes
    )
    return Part("Fittings put back in", (), ("pinned", "changes", "by"), rows)


def part_lines(parts: Sequence[Part]) -> list[str]:
    """Return parts as lines of text, tables with aligned columns.

    Parameters
    ----------
    parts : sequence of Part
        The parts.

    Returns
    -------
    list of str
        Headings in capitals, an empty line before each.
    """
    lines: list[str] = []
    for part in parts:
        lines += ["", part.head.upper(), *(f"  {sentence}" for sentence in part.says)]
        if not part.rows:
            continue
        table = (part.columns, *part.rows)
        widths = [max(len(row[k]) for row in table) for k in range(len(part.columns))]
        lines += [
            "  " + "  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip()
            for row in table
        ]
    return lines
