"""The seams of a costume, found from the edges of its pieces that are sewn together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from samite.pieces.edge import Edge
from samite.pieces.outline import Piece
from samite.pieces.walk import Mate, Walked, piece_named
from samite.project.model import Costume, JobPiece, Join

EASED_SHARE = 0.1
"""From this share on a longer edge counts as gathered, not eased [-] (common practice)."""

PARTS = ("main", "facing", "lining")


@dataclass(frozen=True, slots=True)
class JobSeam:
    """One seam of a costume.

    Parameters
    ----------
    name : str
        Where it is, in words.
    kind : str
        ``seam``, ``gathered``, ``hem`` or ``edge``.
    cloths : tuple of str
        Names of the cloths that meet there, in the job's words; one for a hem.
    pieces : tuple of str
        Pieces that meet.
    length_mm : float
        Length of all of it in one costume [mm].
    after : tuple of str
        Names of seams that come before it.
    """

    name: str
    kind: str
    cloths: tuple[str, ...]
    pieces: tuple[str, ...]
    length_mm: float
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Gap:
    """Two edges that are meant to be sewn together and differ in length.

    Parameters
    ----------
    join : str
        Name of the join.
    first_mm : float
        Length of the one [mm].
    second_mm : float
        Length of the other [mm].
    """

    join: str
    first_mm: float
    second_mm: float

    @property
    def told(self) -> str:
        """The gap in words."""
        gap = self.second_mm - self.first_mm
        longer, shorter = ("second", "first") if gap > 0 else ("first", "second")
        share = abs(gap) / max(min(self.first_mm, self.second_mm), 1.0)
        way = "gather it" if share > EASED_SHARE else "ease it in, or true both"
        return (
            f"{self.join}: the {longer} edge is {abs(gap):.0f} mm longer than the {shorter} "
            f"({self.first_mm:.0f} and {self.second_mm:.0f} mm): {way}"
        )


def seams_of_piece(
    job: JobPiece, pieces: Sequence[Piece], walked: Iterable[Walked]
) -> tuple[JobSeam, ...]:
    """Return the seams within one shape, and its hems and edges.

    Parameters
    ----------
    job : JobPiece
        The shape in its costume.
    pieces : sequence of Piece
        What it made, with linings and facings.
    walked : iterable of Walked
        Pairs of edges that are sewn together.

    Returns
    -------
    tuple of JobSeam
        Seams first, then hems.

    Notes
    -----
    A pair of edges of one piece is counted once a copy, as in a closed ring of panels; a front that
    stays open has one less, so the length errs long. Linings have the seams of what they line.

    References
    ----------
    ``derivation``: lengths of mating edges times their copies.
    """
    seams = [_mated(job, pieces, one.mate) for one in walked]
    lined = [_lining_seam(job, pieces, seam) for seam in seams] if job.lining else []
    hems = [
        JobSeam(
            f"{job.name}: {piece.name} {edge.name}",
            "hem",
            (job.cloth,),
            (piece.name,),
            _count(piece) * edge.length_mm * job.copies,
        )
        for piece in pieces
        if piece.cloth == "main"
        for edge in piece.edges
        if edge.kind in ("hem", "edge")
    ]
    return (*seams, *(one for one in lined if one), *hems)


def _count(piece: Piece) -> int:
    return piece.copies * (2 if piece.on_fold else 1)


def _mated(job: JobPiece, pieces: Sequence[Piece], mate: Mate) -> JobSeam:
    (first, edge), (second, other) = mate.first, mate.second
    piece = piece_named(pieces, first)
    gathered = mate.ease_mm > EASED_SHARE * piece.edge(edge).length_mm
    return JobSeam(
        f"{job.name}: {first} {edge} to {second} {other}",
        "gathered" if gathered else "seam",
        (job.cloth, job.cloth),
        (first, second),
        _count(piece) * piece.edge(edge).length_mm * job.copies,
    )


def _lining_seam(job: JobPiece, pieces: Sequence[Piece], seam: JobSeam) -> JobSeam | None:
    names = {piece.name for piece in pieces}
    if any(f"{name} lining" not in names for name in seam.pieces):
        return None
    return JobSeam(
        f"{seam.name}, lining",
        seam.kind,
        (job.lining, job.lining),
        tuple(f"{name} lining" for name in seam.pieces),
        seam.length_mm,
    )


def seam_of_join(
    costume: Costume, join: Join, made: Mapping[str, Sequence[Piece]]
) -> tuple[JobSeam, Gap | None]:
    """Return the seam between two shapes, and by how much its edges differ.

    Parameters
    ----------
    costume : Costume
        The costume.
    join : Join
        The join.
    made : mapping of str to sequence of Piece
        What every shape of the costume made, by its name.

    Returns
    -------
    JobSeam
        The seam, as long as the shorter edge.
    Gap or None
        None if the edges agree to a millimetre.

    Raises
    ------
    UnknownNameError
        If a shape has no such edge.

    Notes
    -----
    All edges of that name that the shape's pieces have are taken together, each as often as it is
    cut: a waist is the sum of its panels.

    References
    ----------
    ``derivation``: sums of edges.
    """
    jobs = {job.name: job for job in costume.pieces}
    (first, edge), (second, other) = join.first, join.second
    lengths = [_edge_length(made[first], edge), _edge_length(made[second], other)]
    cloths = (jobs[first].cloth, jobs[second].cloth)
    gap = Gap(join.name, *lengths) if abs(lengths[0] - lengths[1]) > 1.0 else None
    share = abs(lengths[1] - lengths[0]) / max(min(lengths), 1.0)
    gathered = share > EASED_SHARE or edge == "gathered" or other == "gathered"
    kind = "gathered" if gathered else "seam"
    seam = JobSeam(
        f"{join.name}: {first} {edge} to {second} {other}",
        kind,
        cloths,
        (first, second),
        min(lengths),
        join.after,
    )
    return seam, gap


def _edge_length(pieces: Sequence[Piece], name: str) -> float:
    named: list[tuple[Piece, Edge]] = [
        (piece, edge)
        for piece in pieces
        if piece.cloth == "main"
        for edge in piece.edges
        if name in (edge.name, edge.kind)
    ]
    if not named:
        return piece_edge(pieces, name)
    return sum(_count(piece) * edge.length_mm for piece, edge in named)


def piece_edge(pieces: Sequence[Piece], name: str) -> float:
    """Return the length of an edge that is named with its piece.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces of one shape.
    name : str
        ``"hood side/neck"``: piece and edge.

    Returns
    -------
    float
        As often as it is cut [mm].

    Raises
    ------
    UnknownNameError
        If there is no such piece or edge.

    References
    ----------
    ``derivation``: length times copies.
    """
    owner, _, edge = name.rpartition("/")
    piece = piece_named(pieces, owner) if owner else pieces[0]
    return _count(piece) * piece.edge(edge).length_mm


def cloth_pairs(seams: Iterable[JobSeam]) -> dict[tuple[str, ...], float]:
    """Return every pairing of cloths and how much seam it has.

    Parameters
    ----------
    seams : iterable of JobSeam
        Seams of a costume or a whole job.

    Returns
    -------
    dict of tuple of str to float
        Length by the cloths that meet, in sorted order; hems are left out [mm].

    References
    ----------
    ``derivation``: a sum.
    """
    pairs: dict[tuple[str, ...], float] = {}
    for seam in seams:
        if seam.kind in ("seam", "gathered"):
            key = tuple(sorted(seam.cloths))
            pairs[key] = pairs.get(key, 0.0) + seam.length_mm
    return pairs
