"""Every way to join the cloths that works, and why the others do not."""

from __future__ import annotations

import math
from dataclasses import replace

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.garment.workroom import Machine, Workroom, machines_for
from samite.seam import traits
from samite.seam.candidate import Candidate, EdgeFinish, Settled
from samite.seam.forms import (
    FORMS,
    NOT_FOR_SEAMS,
    STITCHES_OF_FORM,
    RuledOut,
    form_bar,
    form_name,
    stitch_bar,
    upper_ply,
)
from samite.seam.joint import Seam
from samite.seam.sides import resting_side, sewn_cloths
from samite.seam.stitch import THREAD_EXTENSION_PERCENT, Stitch
from samite.seam.stretch import seam_stretch_percent, zigzag_width_mm
from samite.seam.wants import Wants
from samite.tables.sewing import sewing_entries, sewing_entry

FINISHES = ("none", "pinked", "narrow-double", "zigzag", "overedge", "bound")
"""Finishes from the least to the strictest; French and felled enclose the edges by themselves."""

OPENS_MM = 6.0
"""A shorter allowance is not opened [mm]."""


def make_candidates(
    wants: tuple[Wants, ...], settled: Settled, use: Use, workroom: Workroom
) -> tuple[tuple[Candidate, ...], tuple[RuledOut, ...]]:
    """Return every way to join the cloths, and what was ruled out.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    settled : Settled
        What they share.
    use : Use
        What the seam has to bear.
    workroom : Workroom
        Which machines there are.

    Returns
    -------
    tuple of (tuple of Candidate, tuple of RuledOut)
        Those that work, and those that do not with the reason.
    """
    out: list[RuledOut] = []
    forms = []
    for form in FORMS:
        why = form_bar(form, wants, use, settled.behind)
        if why:
            out.append(RuledOut(form_name(form), why))
        else:
            forms.append(form)
    machines = {}
    for stitch in sorted(set().union(*STITCHES_OF_FORM.values()) - set(NOT_FOR_SEAMS)):
        made_by = workroom.makes(stitch)
        if made_by is None:
            out.append(RuledOut(_stitch_name(stitch), _no_machine(stitch)))
        else:
            machines[stitch] = made_by
    found: list[Candidate] = []
    for form in forms:
        for stitch, made_by in machines.items():
            if stitch in STITCHES_OF_FORM[form]:
                made = _candidate(form, stitch, made_by, wants, settled, use, workroom)
                if isinstance(made, Candidate):
                    found.append(made)
                else:
                    out.append(made)
    return tuple(found), _once(out)


def _once(out: list[RuledOut]) -> tuple[RuledOut, ...]:
    return tuple({(one.what, one.why): one for one in out}.values())


def _stitch_name(stitch: str) -> str:
    return f"{sewing_entry('stitch', stitch).word('name')} ({stitch})"


def _no_machine(stitch: str) -> str:
    kinds = machines_for(stitch)
    return f"no machine here makes it; a {kinds[0]} does" if kinds else "no machine here makes it"


def _candidate(
    form: str,
    stitch: str,
    machine: Machine,
    wants: tuple[Wants, ...],
    settled: Settled,
    use: Use,
    workroom: Workroom,
) -> Candidate | RuledOut:
    cloths = tuple(one.cloth for one in wants)
    what = f"{form_name(form)} by {_stitch_name(stitch)}"
    why = stitch_bar(stitch, form, cloths) or _idle_bar(
        stitch, form, wants, use, settled.needed_stretch_percent
    )
    if why:
        return RuledOut(what, why)
    made = joint_stitch(form, stitch, wants, settled)
    too_long = made.length_mm > machine.stitch_length_mm
    too_wide = made.width_mm > machine.stitch_width_mm + 0.01
    if machine.kind != "hand" and (too_long or too_wide):
        return RuledOut(what, f"{machine.name} makes no stitch of that size")
    needed = settled.needed_stretch_percent
    given = stretch_of(made, wants, settled.behind)
    if given < needed:
        return RuledOut(
            what, f"its thread breaks at {given:.0f} % stretch; {needed:.0f} % are wanted"
        )
    upper = upper_ply(cloths) or 0
    finishes = edge_finishes(form, stitch, wants, workroom)
    return Candidate(
        form=form,
        stitch=made,
        seam=_overlocked(_seam(form, wants, finishes, upper), stitch),
        finishes=finishes,
        lies=where_it_lies(form, cloths, settled.behind),
        machine=machine,
        upper=upper,
        behind=settled.behind,
    )


def _idle_bar(
    stitch: str, form: str, wants: tuple[Wants, ...], use: Use, needed_percent: float
) -> str:
    """Say that a stitch gives something that nothing here asks for."""
    if needed_percent > 0.0:
        return ""
    if stitch == "301-triple" and not use.strain:
        return "nothing strains or stretches the seam: three passes only stiffen it"
    if stitch != "304" or form == "FSa" or all(o.stitch.value.type == "304" for o in wants):
        return ""
    return "the firmer cloth does not stretch: a zigzag grins where the seam is pulled"


def joint_stitch(form: str, stitch: str, wants: tuple[Wants, ...], settled: Settled) -> Stitch:
    """Return a stitch with the length and width that the cloths want.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.
    stitch : str
        ISO 4915 number.
    wants : tuple of Wants
        The cloths.
    settled : Settled
        Stitch length, and the stretch that the seam must give.

    Returns
    -------
    Stitch
        Width 0 for straight stitches.
    """
    length_mm = settled.length.value
    entry = sewing_entry("stitch", stitch)
    if stitch == "304" and form != "FSa":
        own = [one.stitch.value.width_mm for one in wants if one.stitch.value.type == "304"]
        needed = settled.needed_stretch_percent
        exact = zigzag_width_mm(
            stretch_percent=needed,
            stitch_length_mm=length_mm,
            thread_extension_percent=THREAD_EXTENSION_PERCENT,
        )
        wide = min(max(math.ceil(2.0 * exact) / 2.0, 1.0), 4.0)
        if not needed and own:
            wide = max(own)
        return Stitch(stitch, length_mm, wide)
    if form == "FSa" and stitch == "304":
        own = [one.stitch.value.width_mm for one in wants]
        return Stitch(stitch, length_mm, min(max(*own, 3.0), 5.0))
    width = entry.number("width_mm") if entry.has("width_mm") else 0.0
    return Stitch(stitch, length_mm, min(width, 5.0) if entry.has("zigzag_steps") else width)


def stretch_of(stitch: Stitch, wants: tuple[Wants, ...], behind: str = "") -> float:
    """Return how far a stitch lets the seam stretch.

    Parameters
    ----------
    stitch : Stitch
        The stitch.
    wants : tuple of Wants
        The cloths.
    behind : str
        Behind which of the first two a third lies.

    Returns
    -------
    float
        Stretch along the seam [%].
    """
    cloths = sewn_cloths(tuple(one.cloth for one in wants), behind)
    soft = any(one.cloth.construction == "knit" or one.cloth.has(PartKind.PILE) for one in wants)
    return seam_stretch_percent(
        stitch_type=stitch.type,
        thickness_mm=sum(traits.sewn_thickness_mm(cloth) for cloth in cloths),
        stitch_length_mm=stitch.length_mm,
        stitch_width_mm=stitch.width_mm,
        thread_extension_percent=THREAD_EXTENSION_PERCENT,
        thickness_left=0.6 if soft else 1.0,
    )


def edge_finishes(
    form: str, stitch: str, wants: tuple[Wants, ...], workroom: Workroom
) -> tuple[EdgeFinish, ...]:
    """Return how the allowance of each cloth is finished.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.
    stitch : str
        ISO 4915 number.
    wants : tuple of Wants
        The cloths.
    workroom : Workroom
        What there is to finish with.

    Returns
    -------
    tuple of EdgeFinish
        One a cloth.
    """
    entry = sewing_entry("seam", form)
    if form in ("SSae", "LSc"):
        word = "french" if form == "SSae" else "felled"
        return tuple(EdgeFinish(one.name, word, "with-seam") for one in wants)
    if stitch in ("504", "514", "516"):
        return tuple(EdgeFinish(one.name, "overedge", "with-seam") for one in wants)
    if form in ("LSa", "FSa") or entry.word("encloses_edges") == "yes":
        return tuple(_lap_finish(one, form) for one in wants)
    own = tuple(_own_finish(one, workroom) for one in wants)
    if form == "SSa-closed":
        strict = max(own, key=lambda edge: FINISHES.index(edge.finish))
        return tuple(
            edge if _stays_itself(one, edge, strict) else replace(strict, cloth=edge.cloth)
            for one, edge in zip(wants, own, strict=True)
        )
    return own


def _stays_itself(one: Wants, edge: EdgeFinish, strict: EdgeFinish) -> bool:
    """Whether an allowance keeps its own finish beside a stricter one.

    Finished together both get it; finished before they are joined, an edge that does not fray
    stays as cut, and no knife goes through sequins, beads or a skin.
    """
    steady = edge.finish == "none" and strict.when == "before-assembly"
    hard = traits.is_sewn_hard(one.cloth) or traits.is_sheet(one.cloth)
    return steady or (hard and strict.finish == "overedge")


def _lap_finish(one: Wants, form: str) -> EdgeFinish:
    if one.cloth.frays == 0 or form == "FSa" or _bound_by_lap(one.cloth):
        return EdgeFinish(one.name, "none", "none")
    return EdgeFinish(one.name, "overedge", "before-assembly")


def _bound_by_lap(cloth: Cloth) -> bool:
    return traits.is_sheet(cloth) or cloth.construction in ("lace", "nonwoven")


def _own_finish(one: Wants, workroom: Workroom) -> EdgeFinish:
    seam = one.seam.value
    finish, when = seam.finish, seam.finish_when
    if finish in ("french", "felled"):
        finish, when = "narrow-double", "after"
    if finish == "overedge" and not workroom.overlocks:
        finish = "zigzag" if workroom.zigzags else "pinked"
    if finish not in FINISHES:
        finish = "overedge"
    return EdgeFinish(one.name, finish, when)


WHENS = ("none", "after", "with-seam", "before-assembly")


def _seam(
    form: str, wants: tuple[Wants, ...], finishes: tuple[EdgeFinish, ...], upper: int
) -> Seam:
    entry = sewing_entry("seam", form)
    strict = max(finishes, key=_severity)
    when = max((edge.when for edge in finishes), key=WHENS.index)
    letters = "SSa" if form == "SSa-closed" else form
    same = [one.seam.value for one in wants if one.seam.value.type == letters]
    span = entry.quantity("seam_allowance_mm")
    allowance = max((seam.allowance_mm for seam in same), default=0.0)
    if not same:
        wanted = max(one.seam.value.allowance_mm for one in wants)
        allowance = min(max(wanted, span.low), span.high)
    how = same[0].how if len(same) == len(wants) and form != "SSa-closed" else entry.word("how")
    if form == "LSa" and len(same) < len(wants):
        how = f"{wants[upper].name} on top: {how}"
    return Seam(letters, allowance, strict.finish, when, how)


OVERLOCKED_ALLOWANCE_MM = 10.0
"""Allowance that an overlocker is given; its knife leaves the width of the stitch [mm]."""


def _overlocked(seam: Seam, stitch: str) -> Seam:
    """An overlocker trims while it sews: a wide allowance is only cloth under its knife."""
    if stitch not in ("504", "514", "516"):
        return seam
    how = "both edges through the overlocker, whose knife trims them to the stitch"
    return replace(seam, allowance_mm=min(seam.allowance_mm, OVERLOCKED_ALLOWANCE_MM), how=how)


def _severity(edge: EdgeFinish) -> int:
    return FINISHES.index(edge.finish) if edge.finish in FINISHES else len(FINISHES)


def where_it_lies(form: str, cloths: tuple[Cloth, ...], behind: str = "") -> str:
    """Say where the allowances lie.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.
    cloths : tuple of Cloth
        The cloths.
    behind : str
        Behind which of the first two a third lies.

    Returns
    -------
    str
        In words.
    """
    if form == "SSa":
        return "one allowance to each side"
    if form in ("SSa-closed", "SSae", "LSc", "LSq"):
        return f"toward the {cloths[resting_side(cloths, behind)].structure_name}"
    if form == "LSa":
        return f"{cloths[upper_ply(cloths) or 0].structure_name} on top"
    return "edge to edge"


def known_stitches() -> tuple[str, ...]:
    """Return every stitch type of the table.

    Returns
    -------
    tuple of str
        ISO 4915 numbers.
    """
    return tuple(sewing_entries("stitch"))
