"""Pieces and seams of a costume job: every shape asked as the pieces command asks it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.pieces.finish import FinishedPiece
from samite.pieces.shapes.registry import fitted_shapes
from samite.project.model import Costume, JobCloth, JobPiece, Person, Project
from samite.project.seams import Gap, JobSeam, seam_of_join, seams_of_piece
from samite.services.past import Past
from samite.services.piece import make_piece
from samite.services.piece_ask import PieceAnswer, PieceAsk
from samite.swatch.strain_told import stretched
from samite.swatch.trial import Swatch


@dataclass(frozen=True, slots=True)
class CutPiece:
    """A piece of a costume in the cloth that it is cut from.

    Parameters
    ----------
    costume : str
        Name of the costume.
    job : str
        Name of the shape in it.
    role : str
        ``shell``, ``lining`` or ``interfacing``.
    cloth : str
        Name of the cloth.
    finished : FinishedPiece
        What is cut.
    copies : int
        How many in all, mirrored ones counted [count].
    """

    costume: str
    job: str
    role: str
    cloth: str
    finished: FinishedPiece
    copies: int

    @property
    def name(self) -> str:
        """What is written on the lay."""
        return f"{self.costume} {self.finished.piece.name}"

    @property
    def area_mm2(self) -> float:
        """Area of all copies as cut, opened out [mm2]."""
        opened = 2.0 if self.finished.piece.on_fold else 1.0
        return self.finished.cut.area_mm2 * opened * self.copies


def piece_ask(
    job: JobPiece,
    person: Person,
    cloth: JobCloth,
    one_way: bool,
    dated: str,
    swatches: tuple[Swatch, ...] = (),
) -> PieceAsk:
    """Return what is asked of a shape.

    Parameters
    ----------
    job : JobPiece
        The shape in its costume.
    person : Person
        Who wears it.
    cloth : JobCloth
        Its shell cloth.
    one_way : bool
        Whether the cloth runs one way.
    dated : str
        Date for the label of the pieces; empty for none.
    swatches : tuple of Swatch
        Swatches of the cloth that tell a fitted shape how far it may be pulled.

    Returns
    -------
    PieceAsk
        As the pieces command asks it.
    """
    return PieceAsk(
        shape=job.shape,
        measures=person.measures,
        settings=job.settings,
        allowances=job.allowances,
        seams=job.seams,
        alterations=job.fittings,
        group=person.group,
        age=person.age,
        size=person.size,
        shrink=cloth.shrink,
        cloth=cloth.label if job.shape in fitted_shapes() else cloth.name,
        one_way=one_way,
        lining=bool(job.lining),
        facings=job.facings,
        dated=dated,
        swatches=swatches,
    )


def stretched_of(job: JobPiece, past: Past | None) -> tuple[Swatch, ...]:
    """Return the swatches that tell a fitted shape how far its cloth may be pulled.

    Parameters
    ----------
    job : JobPiece
        The shape in its costume.
    past : Past or None
        What the journal holds of its cloth.

    Returns
    -------
    tuple of Swatch
        None for other shapes, which no swatch changes.
    """
    return stretched(past.swatches) if past and job.shape in fitted_shapes() else ()


def ask_piece(
    project: Project,
    costume: Costume,
    job: JobPiece,
    cloth: Cloth,
    swatches: tuple[Swatch, ...] = (),
) -> PieceAnswer:
    """Compute one shape of a costume.

    Parameters
    ----------
    project : Project
        The job.
    costume : Costume
        The costume.
    job : JobPiece
        The shape.
    cloth : Cloth
        Its shell cloth.
    swatches : tuple of Swatch
        Swatches of the cloth that tell a fitted shape how far it may be pulled.

    Returns
    -------
    PieceAnswer
        Finished pieces and what they rest on.
    """
    person = project.person(costume.person) or Person(costume.person)
    bought = project.cloth(job.cloth) or JobCloth(job.cloth, "")
    return make_piece(piece_ask(job, person, bought, cloth.one_way, "", swatches))


def cut_pieces(costume: Costume, job: JobPiece, answer: PieceAnswer) -> tuple[CutPiece, ...]:
    """Return the pieces of a shape in every cloth that they are cut from.

    Parameters
    ----------
    costume : Costume
        The costume.
    job : JobPiece
        The shape.
    answer : PieceAnswer
        What it made.

    Returns
    -------
    tuple of CutPiece
        Shell with its facings, then lining, then interfacing.
    """
    found = []
    times = job.copies * costume.copies
    for role, name in job.cloths:
        for one in answer.pieces:
            if not _cut_from(one.piece.cloth, role):
                continue
            copies = one.piece.copies * times
            found.append(CutPiece(costume.name, job.name, role, name, one, copies))
    return tuple(found)


def _cut_from(part: str, role: str) -> bool:
    """Tell whether a part of a shape is cut from the cloth of a role."""
    return (
        part == "lining"
        if role == "lining"
        else part == "main" or (part == "facing" and role == "shell")
    )


def costume_seams(
    costume: Costume, made: Mapping[str, PieceAnswer]
) -> tuple[tuple[JobSeam, ...], tuple[Gap, ...]]:
    """Return all seams of a costume.

    Parameters
    ----------
    costume : Costume
        The costume.
    made : mapping of str to PieceAnswer
        What its shapes made, by name.

    Returns
    -------
    tuple of JobSeam
        Seams within shapes, then joins.
    tuple of Gap
        Joins whose edges differ in length.
    """
    pieces = {name: [one.piece for one in answer.pieces] for name, answer in made.items()}
    seams: list[JobSeam] = []
    gaps: list[Gap] = []
    for job in costume.pieces:
        if job.name in made:
            seams += seams_of_piece(job, pieces[job.name], made[job.name].walked)
    for join in costume.joins:
        if join.first[0] in made and join.second[0] in made:
            seam, gap = seam_of_join(costume, join, pieces)
            seams.append(seam)
            gaps += [gap] if gap else []
    return tuple(seams), tuple(gaps)


def mass_g(pieces: Sequence[CutPiece], cloth: Cloth) -> float:
    """Return what pieces weigh.

    Parameters
    ----------
    pieces : sequence of CutPiece
        Pieces of one cloth.
    cloth : Cloth
        The cloth.

    Returns
    -------
    float
        Area as cut times mass per area; allowances count, so it errs high by their trimming [g].
    """
    return sum(one.area_mm2 for one in pieces) * 1e-6 * cloth.mass_per_area_gsm.value
