"""The drawing of a joint, from its answer."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.kernel.errors import InputError
from samite.seam import traits
from samite.seam.needle_fit import eye_width_mm
from samite.seam.needle_size import blade_diameter_mm
from samite.seam.rank import Ranked
from samite.seam.settle import seam_thread_diameter_mm
from samite.seam.sides import resting_side, third_words
from samite.seam.trouble import needle_and_yarn
from samite.services.inches import drawn_imperial
from samite.services.seam import SeamSheet
from samite.services.seam_json import thread_json
from samite.sheets.seam_picture import draw_seam
from samite.sheets.seam_views import PlyView, SeamView, WayView
from samite.tables.sewing import sewing_entry


def seam_svg(sheet: SeamSheet, units: str = "metric") -> str:
    """Draw a joint.

    Parameters
    ----------
    sheet : SeamSheet
        The joint.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        SVG.

    Raises
    ------
    InputError
        If the cloths cannot be joined, so that there is nothing to draw.
    """
    if not sheet.answer.ways:
        raise InputError(
            "these cloths cannot be joined so, and there is nothing to draw",
            "--svg",
            "; ".join((*sheet.answer.why, *sheet.answer.nearest)),
        )
    drawn = draw_seam(seam_view(sheet))
    return drawn_imperial(drawn) if units == "imperial" else drawn


def seam_view(sheet: SeamSheet) -> SeamView:
    """Return what the drawing of a joint needs.

    Parameters
    ----------
    sheet : SeamSheet
        The joint, with at least one way.

    Returns
    -------
    SeamView
        Plain values.
    """
    answer = sheet.answer
    settled = answer.settled
    cloths = answer.cloths
    names = [cloth.structure_name for cloth in cloths]
    thread = thread_json(settled)
    needle = settled.needle
    return SeamView(
        title=" to ".join(names),
        plies=tuple(_ply(cloth, needle.size_nm) for cloth in cloths),
        behind=settled.behind,
        third=third_words(cloths, settled.behind),
        ways=tuple(_way(way, sheet) for way in answer.ways),
        needle=f"{needle.point} Nm {needle.size_nm}",
        needle_mm=blade_diameter_mm(size_nm=needle.size_nm),
        eye_mm=eye_width_mm(size_nm=needle.size_nm),
        thread=f"tex {thread['tex']:g}",
        thread_mm=seam_thread_diameter_mm(settled.thread.linear_density_tex),
    )


def _ply(cloth: Cloth, size_nm: int) -> PlyView:
    fit = needle_and_yarn(cloth, size_nm)
    return PlyView(
        name=cloth.structure_name,
        thickness_mm=traits.sewn_thickness_mm(cloth),
        yarn_diameter_mm=fit.yarn_diameter_mm,
        yarn_spacing_mm=fit.yarn_spacing_mm,
        solid=traits.is_sheet(cloth),
    )


def _way(way: Ranked, sheet: SeamSheet) -> WayView:
    candidate, numbers = way.candidate, way.numbers
    stitch = candidate.stitch
    entry = sewing_entry("stitch", stitch.type)
    wide = f", {stitch.width_mm:g} mm wide" if stitch.width_mm else ""
    overlocked = entry.word("machine") == "overlocker"
    cloths = sheet.answer.cloths
    finishes = "/".join(dict.fromkeys(edge.finish for edge in candidate.finishes))
    stretch = f"stretches {numbers.stretch_percent:.0f} %"
    if numbers.needed_stretch_percent > 0:
        stretch += f", {numbers.needed_stretch_percent:.0f} % wanted"
    return WayView(
        form=candidate.form,
        title=sewing_entry("seam", candidate.form).word("name"),
        rest=resting_side(cloths, candidate.behind),
        upper=candidate.upper,
        stitch=stitch.type,
        stitch_words=f"{entry.word('name')} ({stitch.type}), {stitch.length_mm:g} mm{wide}",
        stitch_length_mm=stitch.length_mm,
        stitch_width_mm=stitch.width_mm,
        overedge=overlocked,
        allowance_mm=stitch.width_mm if overlocked else candidate.seam.allowance_mm,
        finishes=tuple(edge.finish for edge in candidate.finishes),
        lines=(
            f"finish {finishes}",
            f"holds {numbers.strength_n_per_cm:.0f} N/cm, load {numbers.load_n_per_cm:.0f}",
            stretch,
            f"{numbers.thickness_mm:.1f} mm thick, crossing {numbers.crossing_mm:.1f} mm",
            f"thread {numbers.thread_ratio:.1f} m a metre",
            f"{numbers.minutes_per_m:.0f} min a metre",
        ),
    )
