"""What a seam will do: thread, strength, stretch, bulk, pucker, needles and minutes, computed."""

from __future__ import annotations

from dataclasses import dataclass, fields

from samite.cloth.model import Cloth
from samite.kernel.quantity import round_shown
from samite.seam.bulk import PRESSED_SHARE, crossing_thickness_mm, stack_thickness_mm
from samite.seam.candidate import Candidate, Settled
from samite.seam.consumption import needle_thread_share, thread_ratio
from samite.seam.forces import (
    stitching_strength_n_per_cm,
)
from samite.seam.ground import Ground, minutes_class
from samite.seam.joint_strength import (
    joint_strength_n_per_cm,
)
from samite.seam.make_candidates import stretch_of
from samite.seam.minutes import element_minutes_per_m
from samite.seam.needle_size import perforation_share
from samite.seam.settle import seam_thread_diameter_mm
from samite.tables.sewing import sewing_entry


@dataclass(frozen=True, slots=True)
class Numbers:
    """What a seam will do.

    Parameters
    ----------
    thread_ratio : float
        Thread over seam length, all threads [-].
    needle_thread_ratio : float
        Needle threads alone [-].
    other_thread_ratio : float
        Bobbin or looper threads [-].
    stitching_n_per_cm : float
        Force at which the stitching breaks, all rows [N/cm].
    weakest_cloth_n_per_cm : float
        Force at which the weaker cloth breaks along its holes [N/cm].
    strength_n_per_cm : float
        Force at which the joint gives way [N/cm].
    load_n_per_cm : float
        Load that it has to bear [N/cm].
    gives_way : str
        ``stitching`` or the name of the cloth that breaks first.
    stretch_percent : float
        Stretch along the seam before the thread breaks [%].
    needed_stretch_percent : float
        Stretch that wear asks for [%].
    thickness_mm : float
        Thickness of the pressed seam at its thickest line [mm].
    crossing_mm : float
        Thickness where two such seams cross [mm].
    foot_lift_mm : float
        Room under the raised foot of the machine [mm].
    perforation : float
        Largest share of the stitch line in holes [-].
    minutes_per_m : float
        Sewing, finishing, holding and pressing of a metre [min/m].
    """

    thread_ratio: float
    needle_thread_ratio: float
    other_thread_ratio: float
    stitching_n_per_cm: float
    weakest_cloth_n_per_cm: float
    strength_n_per_cm: float
    load_n_per_cm: float
    gives_way: str
    stretch_percent: float
    needed_stretch_percent: float
    thickness_mm: float
    crossing_mm: float
    foot_lift_mm: float
    perforation: float
    minutes_per_m: float

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            One key a field, three figures.
        """
        found: dict[str, object] = {}
        for item in fields(self):
            value = getattr(self, item.name)
            found[item.name] = round_shown(value) if isinstance(value, float) else value
        return found


def appraise(candidate: Candidate, ground: Ground) -> Numbers:
    """Compute what a seam will do.

    Parameters
    ----------
    candidate : Candidate
        The seam.
    ground : Ground
        Cloths, needle, thread and use.

    Returns
    -------
    Numbers
        Thread, strength, stretch, bulk and minutes.

    Notes
    -----
    Every number is the middle of a wide spread: strength within about 40 %, minutes within half.
    """
    wants, settled, thick = ground.wants, ground.settled, ground.sewn_mm
    ratio, needle_ratio = _thread(candidate, thick)
    stitching = stitching_strength_n_per_cm(candidate, settled)
    by_cloth = ground.limits_of(candidate)
    weak_name = min(by_cloth, key=lambda name: by_cloth[name])
    limits = [*by_cloth.values(), *by_cloth.values()]
    strength = joint_strength_n_per_cm(
        stitching_n_per_cm=stitching,
        cloth_n_per_cm=min(limits),
        other_cloth_n_per_cm=max(limits),
    )
    stack = ground.stack_of(candidate)
    return Numbers(
        thread_ratio=ratio,
        needle_thread_ratio=needle_ratio,
        other_thread_ratio=ratio - needle_ratio,
        stitching_n_per_cm=stitching,
        weakest_cloth_n_per_cm=by_cloth[weak_name],
        strength_n_per_cm=strength,
        load_n_per_cm=ground.load,
        gives_way="stitching" if stitching <= by_cloth[weak_name] else weak_name,
        stretch_percent=stretch_of(candidate.stitch, wants, settled.behind),
        needed_stretch_percent=settled.needed_stretch_percent,
        thickness_mm=stack_thickness_mm(thicknesses_mm=stack, pressed_share=PRESSED_SHARE),
        crossing_mm=crossing_thickness_mm(
            ply_thickness_mm=sum(stack) / len(stack), plies=len(stack), other_plies=len(stack)
        ),
        foot_lift_mm=candidate.machine.foot_lift_mm,
        perforation=perforation_share(
            size_nm=settled.needle.size_nm, stitch_length_mm=candidate.stitch.length_mm
        ),
        minutes_per_m=minutes_per_m(candidate, ground.cloths, ground.kind),
    )


def _thread(candidate: Candidate, thickness_mm: float) -> tuple[float, float]:
    """Return thread of all rows over seam length, and the needle's part of it."""
    rows = sewing_entry("seam", candidate.form).number("rows")
    stitch = candidate.stitch
    whole = thread_ratio(
        stitch_type=stitch.type,
        thickness_mm=thickness_mm,
        stitch_length_mm=stitch.length_mm,
        width_mm=stitch.width_mm,
    )
    rows = 2.0 if candidate.form == "SSae" else rows
    if stitch.type == "202":
        return rows * whole, rows * whole
    share = needle_thread_share(
        stitch_type=stitch.type,
        thickness_mm=thickness_mm,
        stitch_length_mm=stitch.length_mm,
        width_mm=stitch.width_mm,
    )
    return rows * whole, rows * whole * share


def minutes_per_m(candidate: Candidate, cloths: tuple[Cloth, ...], kind: str = "") -> float:
    """Return the minutes of a metre of seam, from holding to pressing.

    Parameters
    ----------
    candidate : Candidate
        The seam.
    cloths : tuple of Cloth
        The cloths.
    kind : str
        Class under which the table gives minutes; empty to find it.

    Returns
    -------
    float
        Minutes for a metre [min/m].

    Notes
    -----
    Element times of the table, a guess: replace them with logged times.
    """
    kind = kind or minutes_class(cloths)
    seam = sewing_entry("seam", candidate.form)
    stitch = sewing_entry("stitch", candidate.stitch.type)

    def element(name: str) -> float:
        return element_minutes_per_m(element=name, cloth_class=kind).value

    sewing = element("sew") * seam.number("time_factor") * stitch.number("time_factor")
    finishing = sum(
        sewing_entry("finish", edge.finish).number("minutes_per_m") / 2.0
        for edge in candidate.finishes
        if edge.when != "with-seam"
    )
    clearing = element("clear") if kind == "sequins" else 0.0
    return clearing + element("hold") + sewing + finishing + element("press")


def thread_diameter_of(settled: Settled) -> float:
    """Return the diameter of the thread used.

    Parameters
    ----------
    settled : Settled
        With its thread.

    Returns
    -------
    float
        Diameter [mm].
    """
    return seam_thread_diameter_mm(settled.thread.linear_density_tex)
