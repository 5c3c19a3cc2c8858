"""What is recognised in a drawing: pieces, and the questions that it leaves open."""

from __future__ import annotations

from dataclasses import dataclass

from samite.pieces.plane import Point, signed_area_mm2


@dataclass(frozen=True, slots=True)
class Question:
    """Something that the drawing leaves open.

    Parameters
    ----------
    about : str
        One of ``scale``, ``grain``, ``allowance``, ``stitch`` and ``rest``.
    asks : str
        The question.
    """

    about: str
    asks: str


@dataclass(frozen=True, slots=True)
class ReadPiece:
    """A piece that was recognised.

    Parameters
    ----------
    name : str
        Its name.
    cut : tuple of tuple of (float, float)
        Cut line, anticlockwise [mm].
    stitch : tuple of tuple of (float, float)
        Stitch line; empty if there is none [mm].
    openings : tuple of tuple of Point
        Rings inside that are cut out [mm].
    notches : tuple of tuple of Point
        Notches [mm].
    grain : tuple of tuple of (float, float)
        Ends of the grain line; empty if there is none [mm].
    folds : tuple of tuple of Point
        Fold lines [mm].
    others : tuple of tuple of Point
        Lines that are drawn, not cut [mm].
    mended : tuple of str
        What was mended.
    questions : tuple of Question
        What the person must answer.
    marks : tuple of tuple of (float, float)
        Drill points [mm].
    words : tuple of str
        Texts inside.
    """

    name: str
    cut: tuple[Point, ...]
    stitch: tuple[Point, ...] = ()
    openings: tuple[tuple[Point, ...], ...] = ()
    notches: tuple[tuple[Point, ...], ...] = ()
    grain: tuple[Point, ...] = ()
    folds: tuple[tuple[Point, ...], ...] = ()
    others: tuple[tuple[Point, ...], ...] = ()
    mended: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    marks: tuple[Point, ...] = ()
    words: tuple[str, ...] = ()

    @property
    def area_mm2(self) -> float:
        """Area inside the cut line [mm2]."""
        return signed_area_mm2(self.cut)


@dataclass(frozen=True, slots=True)
class ReadPieces:
    """All pieces of a drawing.

    Parameters
    ----------
    pieces : tuple of ReadPiece
        The good ones.
    problems : tuple of str
        What could not be read.
    questions : tuple of Question
        What the person must answer about the whole.
    unit_mm : float
        Millimetres in a unit of the drawing.
    proved : str
        What proves the scale; empty if nothing does.
    square_mm : float
        Side of the test square by that unit; 0 if there is none [mm].
    """

    pieces: tuple[ReadPiece, ...]
    problems: tuple[str, ...]
    questions: tuple[Question, ...]
    unit_mm: float
    proved: str
    square_mm: float = 0.0
