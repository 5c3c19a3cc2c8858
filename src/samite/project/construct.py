"""What a costume is made of, put as its order of work asks: cloths, pieces, seams, the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.project.model import Costume, Extra
from samite.project.seams import JobSeam
from samite.work.construction import ClothWork, Construction, ExtraWork, PieceWork, SeamWork
from samite.work.operation import Setting

HANGS = ("circle-skirt", "cape", "hooded-cloak", "train", "gored-skirt", "peplum", "flounce")
"""Shapes that drop on the bias before they are hemmed (common practice)."""

SHRINKS = ("cotton", "linen", "viscose", "wool", "hemp")
"""Fibres that shrink when they are first wetted (common practice)."""

CLINGS = ("glitter", "fur", "dark-fluff")
FUR_MM = 5.0
"""From this height on a pile sheds like a fur [mm] (guess)."""

SEQUINNED = (PartKind.SEQUINS, PartKind.BEADS)


@dataclass(frozen=True, slots=True)
class PieceFacts:
    """A piece as it is cut.

    Parameters
    ----------
    job : str
        Name of the shape in its costume.
    role : str
        ``shell``, ``lining`` or ``interfacing``.
    name : str
        Name of the piece.
    cloth : str
        Name of its cloth.
    outline_m : float
        Length of the cut line of one [m].
    count : int
        How many [count].
    area_m2 : float
        Area of one [m2].
    """

    job: str
    role: str
    name: str
    cloth: str
    outline_m: float
    count: int
    area_m2: float


@dataclass(frozen=True, slots=True)
class SeamFacts:
    """How one seam or hem is sewn.

    Parameters
    ----------
    seam : JobSeam
        The seam.
    setting : Setting
        What the machine is set to.
    machines : tuple of str
        Kinds of machine that can sew it; empty for the hand.
    overlocked : bool
        Whether single edges are overlocked before anything is joined.
    baste : bool
        Whether it is basted first.
    heat : str
        Heat of the iron; empty if it is not pressed.
    """

    seam: JobSeam
    setting: Setting
    machines: tuple[str, ...]
    overlocked: bool = False
    baste: bool = False
    heat: str = ""


def cloth_class(cloth: Cloth) -> str:
    """Return the class by which the table of minutes knows a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    str
        ``sequins``, ``sheet``, ``pile``, ``slippery`` or ``plain``.

    Notes
    -----
    By what slows the work most.

    References
    ----------
    ``common-practice``: classes of cloth at the machine.
    """
    if cloth.has(*SEQUINNED):
        return "sequins"
    if cloth.construction in ("film", "leather", "foam"):
        return "sheet"
    if cloth.pile_height_mm > 0.0:
        return "pile"
    return "slippery" if cloth.slippery >= 2 or cloth.sheer else "plain"


def leavings(cloth: Cloth) -> tuple[str, ...]:
    """Return what a cloth leaves on the table and the iron when it is cut.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    tuple of str
        ``glitter``, ``fur`` or ``dark-fluff``; empty for a clean one.

    Notes
    -----
    The colour of a pile is not known, so all short fluff counts as dark.

    References
    ----------
    ``common-practice``: glitter and fluff travel to the next cloth.
    """
    found = ["glitter"] if cloth.has(PartKind.GLITTER, PartKind.DOTS, *SEQUINNED) else []
    if cloth.pile_height_mm > 0.0:
        found.append("fur" if cloth.pile_height_mm >= FUR_MM else "dark-fluff")
    return tuple(found)


def construct(
    costume: Costume,
    cloths: Mapping[str, Cloth],
    pieces: Sequence[PieceFacts],
    seams: Sequence[SeamFacts],
    fitting: datetime | None,
) -> Construction:
    """Put a costume as its order of work asks.

    Parameters
    ----------
    costume : Costume
        The costume.
    cloths : mapping of str to Cloth
        Its cloths by name.
    pieces : sequence of PieceFacts
        What is cut.
    seams : sequence of SeamFacts
        Its seams and hems.
    fitting : datetime or None
        When it is fitted; None for any time.

    Returns
    -------
    Construction
        Seams of one shape in the same cloths are one seam.

    Notes
    -----
    A join crosses the seams of the shapes that it joins. A shape is worked as one piece, so what
    could be sewn while another part of it waits is not told apart: errs towards fewer, longer
    operations.

    References
    ----------
    ``common-practice``: parts first, then what joins them.
    """
    groups = _groups(seams)
    used = {(one.job, one.role, one.cloth) for one in pieces if one.cloth in cloths}
    shapes = {job.name: job.shape for job in costume.pieces}
    return Construction(
        costume.name,
        tuple(
            _cloth_work(name, cloths[name], seams)
            for name in dict.fromkeys(cloth for _, _, cloth in sorted(used))
        ),
        tuple(_piece_works(costume, pieces, cloths, shapes)),
        tuple(_seam_works(costume, groups, cloths)),
        tuple(_extras(costume, seams)),
        ((f"{costume.name} fitting", fitting),),
    )


def _cloth_work(name: str, cloth: Cloth, seams: Sequence[SeamFacts]) -> ClothWork:
    own = [one for one in seams if name in one.seam.cloths and one.seam.kind != "hem"]
    first = own[0].setting if own else Setting()
    overlocked = any(one.overlocked for one in own)
    heats = [one.heat for one in own]
    return ClothWork(
        name,
        cloth_class(cloth),
        heats[0] if heats else "medium",
        first,
        first.thread if overlocked else "",
        any(cloth.share(fibre) >= 30 for fibre in SHRINKS),
        leavings(cloth),
        CLINGS if cloth.sheer or cloth.slippery >= 2 else (),
    )


def _piece_works(
    costume: Costume,
    pieces: Sequence[PieceFacts],
    cloths: Mapping[str, Cloth],
    shapes: Mapping[str, str],
) -> list[PieceWork]:
    """Return one entry a shape and role: its pieces are handled together."""
    found = []
    stiff = {one.job: one.area_m2 * one.count for one in pieces if one.role == "interfacing"}
    for job in costume.pieces:
        for role in ("shell", "lining", "interfacing"):
            own = [one for one in pieces if (one.job, one.role) == (job.name, role)]
            if own and own[0].cloth in cloths:
                outline = sum(one.outline_m * one.count for one in own)
                found.append(
                    PieceWork(
                        part_name(job.name, role),
                        own[0].cloth,
                        outline,
                        1,
                        interfaced_m2=stiff.get(job.name, 0.0) if role == "shell" else 0.0,
                        hangs=shapes.get(job.name) in HANGS and role == "shell",
                    )
                )
    return found


def part_name(job: str, role: str) -> str:
    """Return what the pieces of a shape in one role are called at work.

    Parameters
    ----------
    job : str
        Name of the shape.
    role : str
        ``shell``, ``lining`` or ``interfacing``.

    Returns
    -------
    str
        ``skirt`` or ``skirt lining``.

    References
    ----------
    ``definition``: names of the job.
    """
    return job if role == "shell" else f"{job} {role}"


def _groups(seams: Sequence[SeamFacts]) -> dict[str, list[SeamFacts]]:
    """Put the seams of one shape in the same cloth together, hems left out."""
    groups: dict[str, list[SeamFacts]] = {}
    for one in seams:
        if one.seam.kind in ("seam", "gathered"):
            owner = one.seam.name.partition(":")[0]
            lining = one.seam.name.endswith(", lining")
            groups.setdefault(part_name(owner, "lining" if lining else "shell"), []).append(one)
    return groups


def _seam_works(
    costume: Costume, groups: Mapping[str, Sequence[SeamFacts]], cloths: Mapping[str, Cloth]
) -> list[SeamWork]:
    joins = {join.name: join for join in costume.joins}
    order = sorted(groups, key=lambda name: name in joins)
    found = []
    for name in order:
        first = groups[name][0]
        join = joins.get(name)
        parts = (join.first[0], join.second[0]) if join else (name,)
        crossed = [part for part in parts if part in groups and part != name]
        lined = [f"{part} lining" for part in parts if join and f"{part} lining" in groups]
        found.append(
            SeamWork(
                name,
                tuple(dict.fromkeys(parts)),
                sum(one.seam.length_mm for one in groups[name]) / 1000.0 * costume.copies,
                first.setting,
                first.machines or ("zigzag",),
                tuple(dict.fromkeys((*crossed, *lined))),
                tuple(other for other in (join.after if join else ()) if other in groups),
                first.baste,
                any(cloths[c].has(*SEQUINNED) for c in first.seam.cloths if c in cloths),
            )
        )
    return found


def _extras(costume: Costume, seams: Sequence[SeamFacts]) -> list[ExtraWork]:
    names = {job.name for job in costume.pieces}
    found = [_fastening(one, costume, names) for one in costume.fastenings]
    hems: dict[str, list[SeamFacts]] = {}
    for one in seams:
        if one.seam.kind == "hem":
            hems.setdefault(one.seam.name.partition(":")[0], []).append(one)
    for owner, group in hems.items():
        length = sum(one.seam.length_mm for one in group) / 1000.0 * costume.copies
        found.append(
            ExtraWork(
                f"hem {owner}", "narrow-hem", (owner,), length, 1.0, group[0].setting,
                group[0].machines,
            )
        )  # fmt: skip
    found += [
        ExtraWork(f"sew on {one.name}", "trim", (_place(one, costume, names),), 0.0,
                  _times(one, costume), may_drop=f"the {one.kind}")
        for one in costume.trims
    ]  # fmt: skip
    return found


def _fastening(one: Extra, costume: Costume, names: set[str]) -> ExtraWork:
    element = "zip" if "zip" in one.kind else "finish"
    return ExtraWork(
        f"{one.kind} at {one.name}", element, (_place(one, costume, names),), 0.0,
        _times(one, costume),
    )  # fmt: skip


def _place(one: Extra, costume: Costume, names: set[str]) -> str:
    owner = one.at.partition(".")[0]
    return owner if owner in names else costume.pieces[0].name


def _times(one: Extra, costume: Costume) -> float:
    return (max(one.amount, 1.0) if one.unit == "each" else 1.0) * costume.copies
