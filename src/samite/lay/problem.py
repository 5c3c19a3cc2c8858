"""The frozen problem of a lay and its answer.

x runs along the cloth, y across it from 0. A placement mirrors the outline first (y to -y) when
`mirrored`, turns it anticlockwise about (0, 0), then moves it.
"""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float]
Outline = tuple[Point, ...]

FOLDS = ("none", "lengthwise")
"""How the cloth lies: open, or folded along its length with the fold at y = 0."""

MIRRORS = ("none", "pairs", "free")
"""Hands of a piece: all as drawn, half of them mirrored, or as it falls out."""

STATUSES = ("feasible", "optimal", "infeasible", "out-of-time")
"""How an answer stands: found, proved the shortest, impossible, or nothing found in the time."""


@dataclass(frozen=True, slots=True)
class Fixed:
    """A place to be kept, such as that of a piece already cut.

    Parameters
    ----------
    x_mm : float
        Along the cloth [mm].
    y_mm : float
        Across the cloth [mm].
    angle_deg : float
        Turn, anticlockwise [deg].
    mirrored : bool
        Whether the outline is mirrored first.
    copy : int or None
        Number of the copy that lies there, from 0; None if that is left open.
    """

    x_mm: float
    y_mm: float
    angle_deg: float = 0.0
    mirrored: bool = False
    copy: int | None = None


@dataclass(frozen=True, slots=True)
class LayPiece:
    """One pattern piece to be cut, with its rules.

    Parameters
    ----------
    name : str
        Unique in the problem.
    outline_mm : tuple of (float, float)
        Corners, either way round, the first not repeated; the lengthwise grain is x [mm].
    copies : int
        Pieces wanted, all hands together.
    angles_deg : tuple of float
        Turns allowed, anticlockwise; empty means 0 only [deg].
    mirror : str
        One of `MIRRORS`.
    on_fold : bool
        Whether the outline is half of the piece, its fold edge on y = 0.
    motif_mm : tuple of (float, float) or None
        A point that must fall on the lattice of the repeat [mm].
    fixed : tuple of Fixed
        Places to be kept, one each of the first copies.
    grain_tolerance_deg : float
        How far the piece could be tilted off its grain where that is asked for; `angles_deg` alone
        says what is allowed [deg].
    """

    name: str
    outline_mm: Outline
    copies: int = 1
    angles_deg: tuple[float, ...] = (0.0,)
    mirror: str = "none"
    on_fold: bool = False
    motif_mm: Point | None = None
    fixed: tuple[Fixed, ...] = ()
    grain_tolerance_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Match:
    """Two points, of two pieces, that must fall on the same place of the repeat.

    Parameters
    ----------
    piece : str
        Name of the one.
    at_mm : tuple of (float, float)
        Point on it [mm].
    with_piece : str
        Name of the other.
    to_mm : tuple of (float, float)
        Point on the other [mm].
    """

    piece: str
    at_mm: Point
    with_piece: str
    to_mm: Point


@dataclass(frozen=True, slots=True)
class Problem:
    """Pieces to be laid on one cloth.

    Parameters
    ----------
    width_mm : float
        From selvedge to selvedge, open [mm].
    pieces : tuple of LayPiece
        What is to be cut.
    fold : str
        One of `FOLDS`.
    edge_mm : float
        Kept free along each selvedge, or all round a remnant; never at the fold, and not at the
        cut ends of a bolt [mm].
    gap_mm : float
        Least distance between two pieces [mm].
    outline_mm : tuple of (float, float) or None
        Outline of a remnant; None for an open bolt [mm].
    holes : tuple of tuple of (float, float)
        Flaws and holes that no piece may touch inside [mm].
    repeat_along_mm : float
        Repeat along the cloth, 0 for none [mm].
    repeat_across_mm : float
        Repeat across the cloth, 0 for none [mm].
    matches : tuple of Match
        Points that meet on the repeat.
    """

    width_mm: float
    pieces: tuple[LayPiece, ...]
    fold: str = "none"
    edge_mm: float = 0.0
    gap_mm: float = 0.0
    outline_mm: Outline | None = None
    holes: tuple[Outline, ...] = ()
    repeat_along_mm: float = 0.0
    repeat_across_mm: float = 0.0
    matches: tuple[Match, ...] = ()

    @property
    def folded(self) -> bool:
        """Whether one placement cuts two layers."""
        return self.fold == "lengthwise"

    @property
    def lying_width_mm(self) -> float:
        """Width of the cloth as it lies on the table: half of it when folded [mm]."""
        return self.width_mm / 2.0 if self.folded else self.width_mm


@dataclass(frozen=True, slots=True)
class Placement:
    """Where one piece lies; one that is doubled or on the fold cuts both layers.

    Parameters
    ----------
    piece : str
        Name of the piece.
    copy : int
        Number of the placement of this piece, from 0.
    x_mm : float
        Along the cloth [mm].
    y_mm : float
        Across the cloth [mm].
    angle_deg : float
        Turn, anticlockwise [deg].
    mirrored : bool
        Whether the outline is mirrored first.
    """

    piece: str
    copy: int
    x_mm: float
    y_mm: float
    angle_deg: float = 0.0
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class Lay:
    """An answer: how the pieces lie, and how good that is at least.

    Parameters
    ----------
    status : str
        One of `STATUSES`.
    why : str
        What stands in the way, or what is to be known, in words.
    length_mm : float
        Cloth used, from its start to the end of the last piece [mm].
    bound_mm : float
        No lay of these pieces can be shorter [mm].
    use_percent : float
        Area of all pieces as a share of the cloth used [-].
    seconds : float
        Time taken [s].
    seed : int
        Start of the random numbers.
    placements : tuple of Placement
        One for every cut.
    """

    status: str
    why: str = ""
    length_mm: float = 0.0
    bound_mm: float = 0.0
    use_percent: float = 0.0
    seconds: float = 0.0
    seed: int = 0
    placements: tuple[Placement, ...] = ()


def placements_of(piece: LayPiece, *, folded: bool) -> int:
    """Return how many placements cut all copies of a piece.

    Parameters
    ----------
    piece : LayPiece
        The piece.
    folded : bool
        Whether the cloth lies folded along its length.

    Returns
    -------
    int
        One for every piece on the fold or on open cloth; on folded cloth one for two others, the
        last of an odd number cutting one to spare.
    """
    if piece.on_fold or not folded:
        return piece.copies
    return (piece.copies + 1) // 2
