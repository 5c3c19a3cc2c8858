"""Several shapes for one body: asked together, told together, on one sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from samite.kernel.errors import OutOfRangeError
from samite.pieces.edge import KINDS
from samite.pieces.finish import FinishedPiece
from samite.pieces.measures import estimate
from samite.pieces.shapes.registry import every_shape, shape_named
from samite.services.piece import make_piece
from samite.services.piece_ask import PieceAnswer, PieceAsk
from samite.sheets.overview import overview_svg
from samite.sheets.overview_pdf import overview_pdf

MOST_SHAPES = 16
"""Most shapes of one costume."""

USUAL_HIP = 0.6
"""Hip girth over stature of the figure that is drawn."""


@dataclass(frozen=True, slots=True)
class Costume:
    """Shapes of one costume, for one body.

    Parameters
    ----------
    answers : tuple of PieceAnswer
        One a shape, the first the main one.
    """

    answers: tuple[PieceAnswer, ...]

    @property
    def title(self) -> str:
        """The names of its shapes."""
        return ", ".join(answer.shape.name for answer in self.answers)

    @property
    def pieces(self) -> tuple[FinishedPiece, ...]:
        """All pieces; where there are several shapes, each is named after its own."""
        if len(self.answers) == 1:
            return self.answers[0].pieces
        return tuple(_named(one, answer) for answer in self.answers for one in answer.pieces)


def _named(one: FinishedPiece, answer: PieceAnswer) -> FinishedPiece:
    name = f"{answer.shape.name}: {one.piece.name}"
    label = tuple(name if line == one.piece.name else line for line in one.label)
    return replace(one, piece=replace(one.piece, name=name), label=label)


def costume_asks(ask: PieceAsk, others: Sequence[str]) -> tuple[PieceAsk, ...]:
    """Return one question a shape.

    Parameters
    ----------
    ask : PieceAsk
        About the main shape; a setting, allowance, seam, facing or alteration that begins with
        the name of another shape, ``trousers.hem`` or ``trousers: hem up 2 cm``, is about that.
    others : sequence of str
        Names of the other shapes.

    Returns
    -------
    tuple of PieceAsk
        The main one first; the others share body, cloth, shrinkage, nap and hang, and allowances
        by the kind of an edge.

    Raises
    ------
    OutOfRangeError
        If there are too many shapes.
    UnknownNameError
        If there is no such shape.
    """
    names = list(dict.fromkeys([ask.shape, *(shape_named(name).name for name in others)]))
    if len(names) > MOST_SHAPES:
        raise OutOfRangeError(
            f"{len(names)} shapes are more than one costume", "with", f"at most {MOST_SHAPES}"
        )
    return tuple(_own(ask, name, main=name == ask.shape) for name in names)


def _own(ask: PieceAsk, shape: str, *, main: bool) -> PieceAsk:
    return replace(
        ask,
        shape=shape,
        settings=_under(ask.settings, shape, main=main),
        allowances=_under(ask.allowances, shape, main=main, shared=True),
        seams=_under(ask.seams, shape, main=main, shared=True),
        corners=_under(ask.corners, shape, main=main, shared=True),
        facings=tuple(_under(dict.fromkeys(ask.facings, ""), shape, main=main)),
        alterations=tuple(_said(ask.alterations, shape, main=main)),
    )


def _under(
    given: Mapping[str, str], shape: str, *, main: bool, shared: bool = False
) -> dict[str, str]:
    """Return what is about a shape, without its name."""
    found: dict[str, str] = {}
    for key, value in given.items():
        owner, dot, rest = key.partition(".")
        if dot and owner in every_shape():
            if owner == shape:
                found[rest] = value
        elif main or (shared and key in KINDS):
            found.setdefault(key, value)
    return found


def _said(alterations: Sequence[str], shape: str, *, main: bool) -> list[str]:
    found = []
    for text in alterations:
        owner, colon, rest = text.partition(":")
        if colon and owner.strip().casefold() in every_shape():
            if owner.strip().casefold() == shape:
                found.append(rest.strip())
        elif main:
            found.append(text)
    return found


def make_costume(ask: PieceAsk, others: Sequence[str] = ()) -> Costume:
    """Compute the pieces of a costume.

    Parameters
    ----------
    ask : PieceAsk
        About the main shape and the body.
    others : sequence of str
        Names of the other shapes.

    Returns
    -------
    Costume
        All shapes.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    return Costume(tuple(make_piece(one) for one in costume_asks(ask, others)))


def _body(costume: Costume) -> tuple[float, float]:
    """Return stature, and widths over those of the figure that is drawn."""
    body = costume.answers[0].body
    stature = estimate(body, "stature").value_mm
    return stature, estimate(body, "hip_girth").value_mm / (USUAL_HIP * stature)


def costume_svg(costume: Costume, units: str = "metric") -> str:
    """Return all pieces of a costume on one sheet, the wearer's outline beside them.

    Parameters
    ----------
    costume : Costume
        The costume.
    units : str
        ``metric`` or ``imperial``, of the bar that shows the scale.

    Returns
    -------
    str
        SVG.
    """
    return overview_svg(costume.title, costume.pieces, *_body(costume), units=units)


def costume_pdf(costume: Costume, paper: str = "a4") -> bytes:
    """Return the same on one page of paper.

    Parameters
    ----------
    costume : Costume
        The costume.
    paper : str
        ``a4``, ``us-letter``, ``a3`` or ``a0``.

    Returns
    -------
    bytes
        PDF.

    Raises
    ------
    UnknownNameError
        If there is no such paper.
    """
    return overview_pdf(costume.title, costume.pieces, *_body(costume), paper)
