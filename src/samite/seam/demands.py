"""What a person insists on, and the contradictions that it makes."""

from __future__ import annotations

from dataclasses import dataclass

from samite.garment.workroom import Workroom, machines_for
from samite.kernel.errors import OutOfRangeError
from samite.seam.forms import NOT_FOR_SEAMS, STITCHES_OF_FORM, RuledOut, form_name
from samite.seam.needle import STANDARD_SIZES
from samite.seam.needle_fit import eye_width_mm
from samite.seam.needle_size import EYE_TO_THREAD, minimum_size_nm, size_for_thread_nm
from samite.seam.rank import Ranked
from samite.seam.settle import seam_thread_diameter_mm, settle_size
from samite.seam.wants import Wants
from samite.tables.sewing import sewing_entry


@dataclass(frozen=True, slots=True)
class Demands:
    """What the person insists on.

    Parameters
    ----------
    stitch : str
        ISO 4915 number; empty for any.
    form : str
        Key in ``seams.csv``; empty for any.
    tex : float or None
        Linear density of the thread [tex]; None for any.
    body_percent : float or None
        Stretch that the body under the seam asks for [%]; None if it is not known.
    behind : str
        Behind which of the first two cloths a third lies; empty for the usual.
    """

    stitch: str = ""
    form: str = ""
    tex: float | None = None
    body_percent: float | None = None
    behind: str = ""

    @property
    def made_any(self) -> bool:
        """Whether anything is insisted on."""
        return bool(self.stitch or self.form or self.tex)


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Two things that cannot both be.

    Parameters
    ----------
    why : str
        Both, by name.
    nearest : str
        The nearest thing that works; may be empty.
    """

    why: str
    nearest: str


def check_demands(
    asked: Demands, wants: tuple[Wants, ...], tex: int, workroom: Workroom
) -> tuple[Contradiction, ...]:
    """Return what contradicts the thread or the stitch that is insisted on.

    Parameters
    ----------
    asked : Demands
        What the person insists on.
    wants : tuple of Wants
        The cloths.
    tex : int
        Linear density of the thread that the cloths want [tex].
    workroom : Workroom
        What is on hand.

    Returns
    -------
    tuple of Contradiction
        Empty if nothing does.

    Raises
    ------
    UnknownNameError
        If a stitch or a seam is not in the tables.
    """
    found = []
    if asked.tex is not None:
        found += _thread_problem(asked.tex, tex, settle_size(wants, tex).value)
    if asked.stitch:
        sewing_entry("stitch", asked.stitch)
        found += _stitch_problem(asked.stitch, workroom)
    if asked.form:
        sewing_entry("seam", asked.form)
    return tuple(found)


def _thread_problem(tex: float, own_tex: int, size_nm: int) -> list[Contradiction]:
    diameter = seam_thread_diameter_mm(tex)
    coarsest = STANDARD_SIZES[-1]
    try:
        needed = size_for_thread_nm(thread_diameter_mm=diameter)
    except OutOfRangeError:
        eye = minimum_size_nm(thread_diameter_mm=diameter, large_eye=True)
        large = (
            f"a large-eye needle Nm {_up(eye)}"
            if eye <= coarsest
            else "couch it down by hand, or wind it on the bobbin and sew with the face down"
        )
        widest = eye_width_mm(size_nm=coarsest) / EYE_TO_THREAD
        return [
            Contradiction(
                f"thread of tex {tex:g} is {diameter:.2f} mm thick; the eye of the coarsest needle, "
                f"Nm {coarsest}, takes {widest:.2f} mm",
                f"{large}; for the seam itself tex {own_tex}",
            )
        ]
    most = _shifted(size_nm, 1)
    if _shifted(needed, -1) <= most:
        return []
    return [
        Contradiction(
            f"thread of tex {tex:g} needs Nm {needed}; the cloths bear Nm {most} at most",
            f"tex {own_tex} with Nm {size_nm}",
        )
    ]


def _up(size: float) -> int:
    return next(one for one in STANDARD_SIZES if one >= size)


def _shifted(size: int, steps: int) -> int:
    place = STANDARD_SIZES.index(size) + steps
    return STANDARD_SIZES[min(max(place, 0), len(STANDARD_SIZES) - 1)]


def _stitch_problem(stitch: str, workroom: Workroom) -> list[Contradiction]:
    name = sewing_entry("stitch", stitch).word("name")
    if stitch in NOT_FOR_SEAMS:
        return [Contradiction(f"{name} ({stitch}) makes no seam: {NOT_FOR_SEAMS[stitch]}", "")]
    if workroom.makes(stitch):
        return []
    owned = ", ".join(one.name for one in workroom.machines)
    makers = " or ".join(machines_for(stitch)) or "no machine of the table"
    return [Contradiction(f"{name} ({stitch}) is made by {makers}; here are: {owned}", "")]


def demanded(
    ranked: tuple[Ranked, ...], out: tuple[RuledOut, ...], asked: Demands
) -> tuple[tuple[Ranked, ...], list[Contradiction]]:
    """Keep what the person insists on, or say what works nearest to it.

    Parameters
    ----------
    ranked : tuple of Ranked
        Everything that works, best first.
    out : tuple of RuledOut
        What does not, and why.
    asked : Demands
        What the person insists on.

    Returns
    -------
    tuple of (tuple of Ranked, list of Contradiction)
        What is left, and why nothing is.
    """
    kept = tuple(
        one
        for one in ranked
        if asked.stitch in ("", one.candidate.stitch.type)
        and asked.form in ("", one.candidate.form)
    )
    if kept or not (asked.stitch or asked.form) or not ranked:
        return kept, []
    wanted = [form_name(asked.form)] if asked.form else []
    wanted += [asked.stitch] if asked.stitch else []
    why = f"{' by '.join(wanted)} does not work here: {_why_not(asked, out)}"
    return (), [Contradiction(why, _nearest(ranked, asked))]


def _why_not(asked: Demands, out: tuple[RuledOut, ...]) -> str:
    """Say why a form or a stitch is ruled out, the form's own reason first."""
    if asked.form:
        of_form = [one.why for one in out if one.what == form_name(asked.form)]
        if of_form:
            return of_form[0]
        if asked.stitch and asked.stitch not in STITCHES_OF_FORM[asked.form]:
            return f"{asked.stitch} does not make a {form_name(asked.form)}"
    words = [f"({asked.stitch})"] if asked.stitch else []
    words += [form_name(asked.form)] if asked.form else []
    found = [one.why for one in out if all(word in one.what for word in words)]
    fits = [form for form, made in STITCHES_OF_FORM.items() if asked.stitch in made]
    blocked = [one.why for one in out if one.what in [form_name(form) for form in fits]]
    return "; ".join(dict.fromkeys([*found, *blocked][:2])) or "no seam of these cloths takes it"


def _nearest(ranked: tuple[Ranked, ...], asked: Demands) -> str:
    near = next(
        (
            one.candidate
            for one in ranked
            if one.candidate.form == asked.form or one.candidate.stitch.type == asked.stitch
        ),
        ranked[0].candidate,
    )
    stitch = sewing_entry("stitch", near.stitch.type)
    return f"{form_name(near.form)} by {stitch.word('name')} ({near.stitch.type})"
