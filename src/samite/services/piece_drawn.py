"""A person's own drawing made into pieces, once what it leaves open is answered."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from samite.kernel.errors import InputError, UnknownNameError
from samite.kernel.units import parse_quantity
from samite.pieces.allowance import CutLine
from samite.pieces.drawn import (
    gap_mm,
    moved_in,
    ring_edges,
    with_allowances,
    with_drawn_notches,
    with_folds,
)
from samite.pieces.edge import KINDS, Edge
from samite.pieces.finish import Finish, FinishedPiece, finish
from samite.pieces.fitting import Fitted, apply_alterations
from samite.pieces.fitting_words import read_alterations
from samite.pieces.outline import Mark, Piece, Rule
from samite.pieces.plane import Point
from samite.pieces.walk import Mate, Walked, piece_named, walk, with_notches
from samite.readers.svg_file import Drawn
from samite.readers.svg_found import ReadPiece, ReadPieces
from samite.readers.svg_pieces import recognise
from samite.services.piece import derived_pieces
from samite.services.piece_ask import PieceAsk
from samite.services.piece_hang import hang_pieces, with_room

WAYS = {"up": 90.0, "down": -90.0, "across": 0.0, "bias": 45.0}
YES, NO = ("yes", "y", "true"), ("no", "n", "false")
TAKES = {
    "scale": "yes, or the side of the test square: 50 mm",
    "grain": "up, across, bias, or degrees from the x axis",
    "allowance": "a length, 0 if the line that is drawn is the stitch line",
    "stitch": "yes or no",
    "rest": "yes or no",
}
"""What may be answered, by what is asked."""

EXTRA = ("copies", "mirrored", "cloth", "name")
"""What may be said of a piece without being asked."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question with the key of its answer.

    Parameters
    ----------
    key : str
        ``scale``, or the piece's name, a point and what is asked.
    asks : str
        The question.
    takes : str
        What may be answered.
    answer : str
        What was answered; empty if nothing yet.
    """

    key: str
    asks: str
    takes: str
    answer: str


@dataclass(frozen=True, slots=True)
class DrawnPieces:
    """Pieces made of a drawing, as far as it was answered.

    Parameters
    ----------
    read : ReadPieces
        What was recognised.
    asked : tuple of Asked
        What the drawing leaves open.
    pieces : tuple of FinishedPiece
        The pieces; empty until all is answered.
    walked : tuple of Walked
        Seams that were named.
    fittings : tuple of Fitted
        What was altered.
    notes : tuple of str
        What was mended or must be minded.
    """

    read: ReadPieces
    asked: tuple[Asked, ...]
    pieces: tuple[FinishedPiece, ...] = ()
    walked: tuple[Walked, ...] = ()
    fittings: tuple[Fitted, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def unanswered(self) -> tuple[Asked, ...]:
        """Questions without an answer."""
        return tuple(one for one in self.asked if not one.answer)


def drawn_pieces(
    drawn: Drawn,
    answers: Mapping[str, str],
    *,
    unit_mm: float = 0.0,
    how: Finish | None = None,
    sewn: Sequence[str] = (),
    ask: PieceAsk | None = None,
) -> DrawnPieces:
    """Make pieces of a drawing.

    Parameters
    ----------
    drawn : Drawn
        The drawing.
    answers : mapping of str to str
        Answers by key; a key without a piece holds for all.
    unit_mm : float
        Millimetres in a unit of the drawing; 0 if it tells [mm].
    how : Finish or None
        How they are finished; None leaves the cut lines as they are drawn.
    sewn : sequence of str
        Seams, ``front:edge 2 = back:edge 4``.
    ask : PieceAsk or None
        Holds what was pinned, linings, facings and the hang.

    Returns
    -------
    DrawnPieces
        Questions, and the pieces if all are answered.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    said = {key.strip().casefold(): text.strip() for key, text in answers.items()}
    read = _scaled(drawn, recognise(drawn, unit_mm), said)
    asked = _asked(read, said)
    _check_keys(read, said)
    result = DrawnPieces(read, asked)
    if result.unanswered:
        return result
    ask = ask or PieceAsk("")
    made = [_piece(one, said) for one in read.pieces]
    mates = [_mate(text, made) for text in sewn]
    pieces, fittings = _fitted(made, mates, ask.alterations)
    last = fittings[-1] if fittings else None
    seams = last.mates if last else tuple(mates)
    pieces, hung, why = hang_pieces(pieces, seams, ask.hang, ask.cloth)
    noticed = with_notches(pieces, seams)
    wanted = with_room(how or Finish(), noticed, hung)
    finished = finish((*noticed, *derived_pieces(noticed, ask)), wanted, check=how is not None)
    if how is None and not fittings and not hung:
        own = [_as_drawn(one, drawn_) for one, drawn_ in zip(finished, read.pieces, strict=False)]
        finished = (*own, *finished[len(own) :])
    walked = walk(noticed, seams)
    notes = [
        *(f"{one.name}: {text}" for one in read.pieces for text in one.mended),
        *(text for one in finished for text in one.cut.mended),
        *(one.claim for one in why),
        *(
            f"{' '.join(w.mate.second)} is {w.difference_mm:+.1f} mm against"
            f" {' '.join(w.mate.first)}"
            for w in walked
            if not w.equal
        ),
    ]
    return replace(
        result, pieces=finished, walked=walked, fittings=tuple(fittings), notes=tuple(notes)
    )


def _fitted(
    made: Sequence[Piece], mates: Sequence[Mate], said: Sequence[str]
) -> tuple[tuple[Piece, ...], list[Fitted]]:
    pieces, seams = tuple(made), tuple(mates)
    fittings: list[Fitted] = []
    for text in said:
        earlier = fittings[-1] if fittings else None
        fittings.append(apply_alterations(pieces, read_alterations(text), seams, earlier))
        pieces, seams = fittings[-1].after, fittings[-1].mates
    return pieces, fittings


def _scaled(drawn: Drawn, read: ReadPieces, said: Mapping[str, str]) -> ReadPieces:
    """Read again where the answer about the scale is another side of the test square."""
    answer = said.get("scale", "")
    if not answer or answer.casefold() in YES:
        return read
    if answer.casefold() in NO:
        raise InputError(
            "then the scale is not known", "scale", "answer with the side of the test square: 50 mm"
        )
    side = parse_quantity(answer, "mm")
    if not read.square_mm:
        raise InputError(
            "there is no test square to measure", "scale", "answer yes, or give the unit's length"
        )
    return recognise(drawn, read.unit_mm * side / read.square_mm)


def _asked(read: ReadPieces, said: Mapping[str, str]) -> tuple[Asked, ...]:
    found = [Asked("scale", q.asks, TAKES["scale"], said.get("scale", "")) for q in read.questions]
    for one in read.pieces:
        for q in one.questions:
            answer = _said(said, one.name, q.about)
            found.append(Asked(f"{one.name}.{q.about}", q.asks, TAKES[q.about], answer))
        if any(q.about == "stitch" for q in one.questions) and _is_no(said, one.name):
            ask = "then how wide are the allowances?"
            answer = _said(said, one.name, "allowance")
            found.append(Asked(f"{one.name}.allowance", ask, TAKES["allowance"], answer))
    return tuple(found)


def _is_no(said: Mapping[str, str], name: str) -> bool:
    return _said(said, name, "stitch").casefold() in NO


def _said(said: Mapping[str, str], name: str, about: str) -> str:
    return said.get(f"{name}.{about}".casefold(), said.get(about, ""))


def _check_keys(read: ReadPieces, said: Mapping[str, str]) -> None:
    names = {one.name.casefold() for one in read.pieces}
    known = {*TAKES, *EXTRA}
    for key in said:
        piece, _, about = key.rpartition(".")
        if key in known or (piece in names and about):
            continue
        told = (
            f"{', '.join(known)}; or a piece, a point and one of these: {', '.join(sorted(names))}"
        )
        raise UnknownNameError(f"nothing asks for {key!r}", key, told)


def _piece(one: ReadPiece, said: Mapping[str, str]) -> Piece:
    """Make a piece of what was recognised and answered."""
    if _said(said, one.name, "rest").casefold() in NO:
        raise InputError(
            f"{one.name}: the outline crosses itself and cannot be mended",
            one.name,
            "draw it again",
        )
    cut = one.cut
    if one.stitch and not _is_no(said, one.name):
        edges = with_folds(ring_edges(one.stitch), one.folds)
        edges = _named(one, with_allowances(edges, cut), said)
    else:
        edges = _named(one, with_folds(ring_edges(cut), one.folds), said)
        width = _length(_said(said, one.name, "allowance") or "0", f"{one.name}.allowance")
        wanted = {
            e.name: 0.0 if e.kind == "fold" else width if e.allowance_mm is None else e.allowance_mm
            for e in edges
        }
        edges = moved_in(edges, wanted)
    copies, mirrored = _copies(one, said)
    inside = (*one.others, *(f for f in one.folds if not _is_edge(f, edges)))
    rules = tuple(Rule("fold" if line in one.folds else "line", line) for line in inside)
    rules += tuple(Rule("cut out", (*ring, ring[0])) for ring in one.openings)
    piece = Piece(
        _said(said, one.name, "name") or one.name, edges, _grain(one, said), copies=copies,
        mirrored=mirrored, marks=tuple(Mark(f"mark {k}", p) for k, p in enumerate(one.marks, 1)),
        rules=rules, cloth=_said(said, one.name, "cloth") or "main",
    )  # fmt: skip
    return with_drawn_notches(piece, [_near_end(line, cut) for line in one.notches])


def _is_edge(fold: Sequence[Point], edges: Sequence[Edge]) -> bool:
    return any(
        edge.kind == "fold" for edge in with_folds([e for e in edges if e.kind == "fold"], [fold])
    )


def _near_end(line: Sequence[Point], cut: Sequence[Point]) -> Point:
    return min((line[0], line[-1]), key=lambda p: gap_mm(p, cut))


def _named(one: ReadPiece, edges: Sequence[Edge], said: Mapping[str, str]) -> tuple[Edge, ...]:
    """Give edges the names, kinds and allowances that were said: ``hem, hem, 40 mm``."""
    return tuple(
        _said_of(edge, said.get(f"{one.name}.{edge.name}".casefold(), ""), one.name)
        for edge in edges
    )


def _said_of(edge: Edge, text: str, piece: str) -> Edge:
    name, kind, allowance = edge.name, edge.kind, edge.allowance_mm
    for part in (p.strip() for p in text.split(",") if p.strip()):
        if re.match(r"[\d.]", part):
            allowance = _length(part, f"{piece}.{edge.name}")
        elif part in KINDS:
            kind = part
        else:
            name = part
    if name in KINDS and kind == "seam":
        kind = name
    corner = "mirror" if kind == "hem" else edge.corner
    return replace(edge, name=name, kind=kind, allowance_mm=allowance, corner=corner)


def _length(text: str, where: str) -> float:
    if text.strip() in {"0", "none"}:
        return 0.0
    try:
        return parse_quantity(text, "mm")
    except InputError as error:
        raise type(error)(error.message, where, error.hint) from None


def _grain(one: ReadPiece, said: Mapping[str, str]) -> float:
    text = _said(said, one.name, "grain").casefold()
    if text in WAYS:
        return WAYS[text]
    if text:
        try:
            return float(text.removesuffix("degrees").removesuffix("deg").strip())
        except ValueError:
            raise InputError(f"{text!r} is no way", f"{one.name}.grain", TAKES["grain"]) from None
    (x0, y0), (x1, y1) = one.grain[0], one.grain[-1]
    return math.degrees(math.atan2(y1 - y0, x1 - x0))


def _copies(one: ReadPiece, said: Mapping[str, str]) -> tuple[int, bool]:
    """Return how many are cut, from what was said or is written on the piece."""
    words = " ".join(one.words).casefold()
    found = re.search(r"\bcut (\d{1,3})\b", words)
    told = _said(said, one.name, "copies") or (found[1] if found else "1")
    if not told.isdigit() or not 1 <= int(told) <= 500:
        raise InputError(f"{told!r} is no number of copies", f"{one.name}.copies", "1 to 500")
    answer = _said(said, one.name, "mirrored").casefold()
    mirrored = answer in YES if answer else "mirrored" in words and "not the same" not in words
    return int(told), mirrored and int(told) > 1


def _mate(text: str, pieces: Sequence[Piece]) -> Mate:
    """Read a seam, ``front:edge 2 = back:edge 4``; ``gathered`` after it lets the second be longer."""
    sides = [side.rpartition(":") for side in text.split("=")]
    if len(sides) != 2 or any(not (piece and edge) for piece, _, edge in sides):
        raise InputError(f"{text!r} is no seam", "sew", 'for example "front:edge 2 = back:edge 4"')
    ends = [(piece.strip(), edge.strip()) for piece, _, edge in sides]
    for piece, edge in ends:
        piece_named(pieces, piece).edge(edge)
    return Mate(ends[0], ends[1])


def _as_drawn(one: FinishedPiece, read: ReadPiece) -> FinishedPiece:
    """Keep the cut line as it was drawn."""
    return replace(one, cut=_own(one.cut, read))


def _own(cut: CutLine, read: ReadPiece) -> CutLine:
    return CutLine(read.cut, MappingProxyType(dict(cut.allowances_mm)), ())
