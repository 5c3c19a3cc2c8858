"""One shape from measures and settings to finished pieces, as every face shows it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from samite.garment.body import Body
from samite.kernel.errors import UnknownNameError
from samite.kernel.keys import content_key
from samite.kernel.reasons import Reason
from samite.pieces.derive import facing_of, lining_of
from samite.pieces.finish import FinishedPiece, finish
from samite.pieces.fitting import Fitted, apply_alterations
from samite.pieces.fitting_words import read_alterations
from samite.pieces.measure_beliefs import Estimate
from samite.pieces.measure_doubts import Doubt, find_doubts
from samite.pieces.outline import Piece
from samite.pieces.shape import Made, reason
from samite.pieces.shapes.registry import every_shape, fitted_shapes, shape_named
from samite.pieces.walk import Break, Walked, check_smooth, walk, with_notches
from samite.services.piece_ask import PieceAnswer, PieceAsk
from samite.services.piece_build import build_for, taken_whole
from samite.services.piece_effects import effects_of
from samite.services.piece_hang import hang_pieces, with_room
from samite.services.piece_read import finish_asked, read_body, read_settings, width_asked
from samite.tables.bodies import BODY_TABLES, measure_entry
from samite.tables.hangs import TABLE as HANG_TABLE
from samite.tables.loader import table_hash


def make_piece(ask: PieceAsk) -> PieceAnswer:
    """Compute the pieces of a shape.

    Parameters
    ----------
    ask : PieceAsk
        What was asked.

    Returns
    -------
    PieceAnswer
        Finished pieces and what they rest on.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    shape = shape_named(ask.shape)
    if shape.name in fitted_shapes():
        from samite.services.fitted import make_fitted

        return make_fitted(shape, ask)
    body = read_body(ask)
    settings = read_settings(shape, ask.settings)
    used: dict[str, Estimate] = {}
    numbers, made = build_for(shape, body, settings, used)
    made = _turned_to_bias(made) if ask.bias else made
    fittings = _fitted(made, ask.alterations)
    last = fittings[-1] if fittings else None
    mates, smooths = (last.mates, last.smooths) if last else (made.mates, made.smooths)
    before = last.after if last else made.pieces
    pieces, hung, why = hang_pieces(before, mates, ask.hang, ask.cloth)
    noticed = with_notches(pieces, mates)
    how = with_room(finish_asked(ask), noticed, hung)
    finished = finish((*noticed, *derived_pieces(noticed, ask)), how)
    walked, breaks = walk(noticed, mates), check_smooth(noticed, smooths)
    doubts = find_doubts(body)
    return PieceAnswer(
        shape, body, tuple(used.values()), doubts, numbers, made.values, finished, walked, breaks,
        tuple(fittings), (*reasons_of(made, used), *why),
        notes_of(finished, walked, breaks, doubts, body, taken_whole(shape, body, used)),
        content_key(ask, "make_piece/4", table_hash(*BODY_TABLES, HANG_TABLE)),
        effects_of(fittings, made.mates, how, width_asked(ask.width)), hung,
    )  # fmt: skip


def _fitted(made: Made, said: Sequence[str]) -> list[Fitted]:
    """Apply fittings one after the other; each keeps the one before."""
    pieces, mates, smooths = made.pieces, made.mates, made.smooths
    fittings: list[Fitted] = []
    for text in said:
        earlier = fittings[-1] if fittings else None
        fitted = apply_alterations(pieces, read_alterations(text), mates, earlier, smooths)
        fittings.append(fitted)
        pieces, mates, smooths = fitted.after, fitted.mates, fitted.smooths
    return fittings


def _turned_to_bias(made: Made) -> Made:
    """Turn the grain of all pieces by 45 degrees."""
    return replace(
        made, pieces=tuple(replace(p, grain_deg=p.grain_deg + 45.0) for p in made.pieces)
    )


def derived_pieces(pieces: Sequence[Piece], ask: PieceAsk) -> list[Piece]:
    """Return the linings and facings that are asked for.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.
    ask : PieceAsk
        Says whether linings are wanted, and which edges are faced.

    Returns
    -------
    list of Piece
        Linings, then facings.

    Raises
    ------
    UnknownNameError
        If no piece has such an edge.
    InputError
        If a piece is narrower than its facing.
    """
    made = [lining_of(piece) for piece in pieces] if ask.lining else []
    for wanted in ask.facings:
        owners = [p for p in pieces if wanted in {e.name for e in p.edges}]
        if not owners:
            names = sorted({e.name for p in pieces for e in p.edges})
            raise UnknownNameError(f"no piece has an edge {wanted!r}", wanted, ", ".join(names))
        made += [facing_of(piece, wanted) for piece in owners]
    return made


def reasons_of(made: Made, used: Mapping[str, Estimate]) -> tuple[Reason, ...]:
    """Return the reasons of a shape and of every measure that was estimated.

    Parameters
    ----------
    made : Made
        The shape.
    used : mapping of str to Estimate
        Measures.

    Returns
    -------
    tuple of Reason
        The reasons.
    """
    guessed = [
        reason(
            f"{measure_entry(name).says}: {found.value_mm / 10:.1f} cm, {found.told()}",
            found.evidence,
        )
        for name, found in used.items()
        if not found.given
    ]
    return (*made.reasons, *guessed)


def notes_of(
    finished: Sequence[FinishedPiece],
    walked: Sequence[Walked],
    breaks: Sequence[Break],
    doubts: Sequence[Doubt],
    body: Body,
    as_one: Sequence[str] = (),
) -> tuple[str, ...]:
    """Return what was mended or must be minded.

    Parameters
    ----------
    finished : sequence of FinishedPiece
        The pieces.
    walked : sequence of Walked
        Seams walked.
    breaks : sequence of Break
        Lines over seams.
    doubts : sequence of Doubt
        Strange measures.
    body : Body
        The body.
    as_one : sequence of str
        Girths whose halves were measured, though the shape takes them whole.

    Returns
    -------
    tuple of str
        One sentence each.
    """
    notes = [mended for one in finished for mended in one.cut.mended]
    notes += [doubt.told() for doubt in doubts]
    for one in walked:
        if not one.equal:
            a, b = " ".join(one.mate.first), " ".join(one.mate.second)
            notes.append(f"{b} is {one.difference_mm:+.1f} mm against {a}: true both, or ease it")
    notes += [
        f"{' '.join(one.smooth.first)}: the line breaks by {one.break_deg:.1f} degrees over the seam"
        for one in breaks
        if not one.runs_smooth
    ]
    notes += [
        f"front and back of the {measure_entry(name).says} were measured apart; this shape has no"
        " side seam there, so only the whole girth matters"
        for name in as_one
    ]
    if body.layers_mm:
        notes.append(
            f"girths enlarged by 2 pi times {body.layers_mm:g} mm for what is worn beneath"
        )
    return tuple(notes)


def shape_list() -> list[dict[str, object]]:
    """Return all shapes with their parameters.

    Returns
    -------
    list of dict of str to object
        Name, what it is, and parameters with unit, range and default.
    """
    return [
        {
            "name": shape.name,
            "says": shape.says,
            "parameters": [
                {
                    "name": p.name,
                    "unit": p.unit,
                    "low": p.low,
                    "high": p.high,
                    "default": p.told_default(),
                    "choices": list(p.choices),
                    "says": p.says,
                }
                for p in shape.parameters
            ],
        }
        for shape in every_shape().values()
    ]
