"""Where fitted pieces pull or press, and what would help."""

from __future__ import annotations

from samite.pieces.fitted.report import FitReport


def pulls_of(report: FitReport) -> tuple[str, ...]:
    """Return what must be minded of pulls and pressures.

    Parameters
    ----------
    report : FitReport
        Strains against limits, pressures against the published one.

    Returns
    -------
    tuple of str
        First what would help, then one sentence a part that pulls and a place that is pressed.
    """
    limits = report.limits
    notes = [
        f"{one.name} pulls: it asks {100 * limits.use(one):.0f} % of what the cloth gives; hatched"
        for one in report.pulls
    ]
    if notes and not report.pressures:
        worst = max(limits.use(one) for one in report.pulls)
        count = len(notes)
        notes.insert(
            0,
            f"{report.chosen} was taken, for whole pieces keep within what the cloth gives, yet {count}"
            f" {'part' if count == 1 else 'parts'} of them {'asks' if count == 1 else 'ask'} more, up to"
            f" {100 * worst:.0f} % of it: a panel or a dart more there (--set panels=N), more ease, or a"
            " cloth that gives more would help; try it in the trial first"
            if _fits(report)
            else f"{report.chosen} asks more than the cloth gives, up to {100 * worst:.0f} % of it:"
            " try it on a swatch and in the trial first; more panels or darts (--set panels=N), more ease, or a cloth that gives more would help",
        )
    notes += [
        f"{one.name}: {one.tightest_kpa:.1f} kPa on the skin, over {one.limit_kpa:g} kPa is felt as"
        " discomfort: use less of the stretch; never sleep in it, take it off if anything goes numb"
        for one in report.pressures
        if one.tightest_kpa > one.limit_kpa
    ]
    return tuple(notes)


def _fits(report: FitReport) -> bool:
    return any(one.fits for one in report.options if one.name == report.chosen)
