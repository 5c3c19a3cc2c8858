"""One shape from measures and settings to finished pieces, as every face shows it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from samite.garment.body import HALVES, SIDES, Body
from samite.kernel.errors import InputError, UnknownNameError
from samite.kernel.keys import content_key
from samite.kernel.ranges import require_between
from samite.kernel.reasons import Reason
from samite.kernel.unit_table import INCH_MM
from samite.kernel.units import parse_quantity
from samite.pieces.derive import facing_of, lining_of
from samite.pieces.finish import (
    Finish,
    FinishedPiece,
    check_corners,
    finish,
    seam_allowances,
)
from samite.pieces.fitting import Fitted, apply_alterations
from samite.pieces.fitting_words import read_alterations
from samite.pieces.hang import Hung
from samite.pieces.measures import Doubt, Estimate, check_possible, estimate, find_doubts
from samite.pieces.outline import Piece
from samite.pieces.shape import Made, Parameter, Shape, Values, fill_in, reason
from samite.pieces.shapes.registry import every_shape, fitted_shapes, shape_named
from samite.pieces.walk import Break, Walked, check_smooth, walk, with_notches
from samite.services.metres import USUAL_WIDTH_MM
from samite.services.piece_effects import Effect, effects_of
from samite.services.piece_hang import hang_pieces, with_room
from samite.tables.bodies import BODY_TABLES, measure_entry, size_girths
from samite.tables.hangs import TABLE as HANG_TABLE
from samite.tables.loader import table_hash

if TYPE_CHECKING:
    from samite.services.fitted import FitTold

UNITS_READ = {"mm": "mm", "deg": "deg", "%": "%", "1": "1", "count": "1"}


@dataclass(frozen=True, slots=True)
class PieceAsk:
    """What a person asks of a shape.

    Parameters
    ----------
    shape : str
        Name of the shape.
    measures : mapping of str to str
        Body measures as written.
    settings : mapping of str to str
        Parameters of the shape as written.
    allowances : mapping of str to str
        Allowance by kind or name of an edge, as written.
    seams : mapping of str to str
        Seam by kind or name of an edge.
    alterations : tuple of str
        What was pinned at fittings, oldest first.
    group : str
        Whose statistics fill in what was not measured.
    age : str
        Age of a child.
    size : str
        A women's size to start from.
    layers : str
        Thickness of what is worn beneath.
    shrink : str
        Shrinkage along and across, ``4 %`` or ``4 %; 2 %``.
    cloth : str
        Name of the cloth for the label.
    one_way : bool
        Whether the cloth runs one way.
    lining : bool
        Whether linings are wanted too.
    facings : tuple of str
        Edges that are faced.
    dated : str
        Date for the label.
    turn : str
        Turn of the cloth: what the outer of two layers needs more.
    width : str
        Width of the cloth, for what a fitting does to the lay.
    hang : str
        How the cloth hangs: a class, ``cloth`` for what `cloth` says, or measured values; empty
        leaves the hem as it is.
    bias : bool
        Whether the pieces are cut on the bias.
    corners : mapping of str to str
        How an allowance ends at its corners, by kind or name of an edge.
    """

    shape: str
    measures: Mapping[str, str] = field(default_factory=dict)
    settings: Mapping[str, str] = field(default_factory=dict)
    allowances: Mapping[str, str] = field(default_factory=dict)
    seams: Mapping[str, str] = field(default_factory=dict)
    alterations: tuple[str, ...] = ()
    group: str = "adult"
    age: str = ""
    size: str = ""
    layers: str = ""
    shrink: str = ""
    cloth: str = ""
    one_way: bool = False
    lining: bool = False
    facings: tuple[str, ...] = ()
    dated: str = ""
    turn: str = ""
    width: str = ""
    hang: str = ""
    bias: bool = False
    corners: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PieceAnswer:
    """Finished pieces and what they rest on.

    Parameters
    ----------
    shape : Shape
        The shape.
    body : Body
        The body.
    estimates : tuple of Estimate
        Every measure that was used.
    doubts : tuple of Doubt
        Measures that do not fit the others.
    numbers : Values
        Parameters as they were taken.
    values : mapping of str to float
        What was solved.
    pieces : tuple of FinishedPiece
        The pieces.
    walked : tuple of Walked
        Seams walked.
    breaks : tuple of Break
        Lines over seams.
    fittings : tuple of Fitted
        What was altered, oldest first; each keeps what was before.
    reasons : tuple of Reason
        Why.
    notes : tuple of str
        What was mended or must be minded.
    key : str
        Content key of the question.
    effects : tuple of Effect
        What each fitting did to seams, cloth and lay.
    hung : tuple of Hung
        How far the hems drop when they hang.
    fit : FitTold or None
        What is told of pieces that were computed from body and cloth.
    """

    shape: Shape
    body: Body
    estimates: tuple[Estimate, ...]
    doubts: tuple[Doubt, ...]
    numbers: Values
    values: Mapping[str, float]
    pieces: tuple[FinishedPiece, ...]
    walked: tuple[Walked, ...]
    breaks: tuple[Break, ...]
    fittings: tuple[Fitted, ...]
    reasons: tuple[Reason, ...]
    notes: tuple[str, ...]
    key: str
    effects: tuple[Effect, ...] = ()
    hung: tuple[Hung, ...] = ()
    fit: FitTold | None = None


def read_body(ask: PieceAsk) -> Body:
    """Read the body that is asked about.

    Parameters
    ----------
    ask : PieceAsk
        What was asked.

    Returns
    -------
    Body
        Measures in millimetres.

    Raises
    ------
    InputError
        If a measure cannot be read.
    OutOfRangeError
        If a measure is impossible.
    UnknownNameError
        If there is no such measure or size.
    """
    measures: dict[str, float] = {}
    if ask.size:
        measures |= {
            name: girth.value * INCH_MM
            for name, girth in size_girths(ask.size).items()
            if "." not in name
        }
    halves: dict[str, dict[str, float]] = {}
    for written, text in ask.measures.items():
        base, _, side = written.partition(".")
        if side in HALVES and measure_entry(base).run == "girth":
            halves.setdefault(measure_entry(base).name, {})[side] = _length(text, written)
            continue
        if side and side not in SIDES:
            told = "left or right; of a girth also front or back"
            raise UnknownNameError(f"{side!r} is no side", written, told)
        name = measure_entry(base).name + (f".{side}" if side else "")
        measures[name] = _length(text, written)
    shares = _front_shares(measures, halves)
    check_possible(measures)
    age = float(parse_quantity(ask.age, "1")) if ask.age else None
    layers = _length(ask.layers, "layers") if ask.layers else 0.0
    group = "women" if ask.size and ask.group == "adult" else ask.group
    return Body(MappingProxyType(measures), group, age, "", layers, MappingProxyType(shares))


def _front_shares(
    measures: dict[str, float], halves: Mapping[str, Mapping[str, float]]
) -> dict[str, float]:
    """Return the front's share of girths whose halves were measured; the whole is filled in."""
    shares = {}
    for name, parts in halves.items():
        if len(parts) == len(HALVES):
            measures[name] = math.fsum(parts.values())
        elif name not in measures:
            raise InputError(
                f"only one half of {measure_entry(name).says} was measured", name,
                "give the other half too, or the whole girth",
            )  # fmt: skip
        front = parts["front"] if "front" in parts else measures[name] - parts["back"]
        shares[name] = front / measures[name]
    return shares


def _length(text: str, where: str) -> float:
    """Read a length; a bare number is in centimetres, as tapes are."""
    try:
        bare = float(text.strip().replace(",", "."))
    except ValueError:
        bare = None
    if bare is not None:
        return bare * 10.0
    try:
        return parse_quantity(text, "mm")
    except InputError as error:
        raise type(error)(error.message, where, error.hint) from None


def read_settings(shape: Shape, written: Mapping[str, str]) -> dict[str, float | str]:
    """Read the settings of a shape, each in its own unit.

    Parameters
    ----------
    shape : Shape
        The shape.
    written : mapping of str to str
        As a person writes them; a bare length is in centimetres.

    Returns
    -------
    dict of str to float or str
        In the parameters' units.

    Raises
    ------
    UnknownNameError
        If the shape has no such parameter.
    InputError
        If a setting cannot be read.
    """
    known = {parameter.name: parameter for parameter in shape.parameters}
    found: dict[str, float | str] = {}
    for key, text in written.items():
        name = key.replace("-", "_").removesuffix("_mm")
        parameter = known.get(name)
        if parameter is None:
            raise UnknownNameError(
                f"{shape.name} has no parameter {key!r}", key, f"it takes {', '.join(known)}"
            )
        found[name] = _setting(parameter, text)
    return found


def _setting(parameter: Parameter, text: str) -> float | str:
    if parameter.choices:
        return text
    if parameter.unit == "mm":
        return _length(text, parameter.name)
    try:
        return parse_quantity(text, UNITS_READ[parameter.unit])
    except InputError as error:
        raise type(error)(
            error.message, parameter.name, f"{parameter.says}: {error.hint}"
        ) from None


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
    numbers, made = _build(shape, body, settings, used)
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
        notes_of(finished, walked, breaks, doubts, body, numbers),
        content_key(ask, "make_piece/2", table_hash(*BODY_TABLES, HANG_TABLE)),
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


def width_asked(text: str) -> float:
    """Return the width of the cloth that is asked about.

    Parameters
    ----------
    text : str
        As written; empty takes the usual one.

    Returns
    -------
    float
        Width [mm].

    Raises
    ------
    OutOfRangeError
        If no cloth is that wide.
    """
    width = _length(text, "width") if text else USUAL_WIDTH_MM
    require_between(100.0, 6000.0, width_mm=width)
    return width


def _build(
    shape: Shape, body: Body, settings: Mapping[str, float | str], used: dict[str, Estimate]
) -> tuple[Values, Made]:
    """Build once, or once a side where measures that matter differ between the sides."""
    shares = {
        f"front_{name.removesuffix('_girth')}_share": v for name, v in body.front_shares.items()
    }
    known = {parameter.name for parameter in shape.parameters}
    settings = {**{name: v for name, v in shares.items() if name in known}, **settings}

    def measured(which: Body) -> Values:
        def measure(name: str) -> float:
            found = estimate(which, name)
            layered = measure_entry(name).run == "girth" and body.layers_mm > 0.0
            value = found.value_mm + (6.283185307179586 * body.layers_mm if layered else 0.0)
            used[name] = replace(found, value_mm=value)
            return value

        return fill_in(shape, settings, measure)

    numbers = measured(body)
    whole = shape.build(numbers)
    if not set(body.uneven) & set(used):
        return numbers, whole
    sided = {side: shape.build(measured(body.one_side(side))) for side in SIDES}
    return numbers, _by_sides(whole, sided)


def _by_sides(whole: Made, sided: Mapping[str, Made]) -> Made:
    """Take mirrored pairs from each side's own build, everything else from the mean."""
    pieces: list[Piece] = []
    pairs = {piece.name for piece in whole.pieces if piece.mirrored}
    for piece in whole.pieces:
        if piece.name not in pairs:
            pieces.append(piece)
            continue
        for side in SIDES:
            own = next(one for one in sided[side].pieces if one.name == piece.name)
            pieces.append(
                replace(own, name=f"{own.name}, {side}", copies=own.copies // 2, mirrored=False,
                        note=own.note if side == "right" else "cut wrong side up")
            )  # fmt: skip
    mates = []
    for mate in whole.mates:
        names = {mate.first[0], mate.second[0]}
        if not names & pairs:
            mates.append(mate)
            continue
        for side in SIDES:
            twin = next(
                m for m in sided[side].mates if (m.first, m.second) == (mate.first, mate.second)
            )
            ends = [(f"{p}, {side}" if p in pairs else p, e) for p, e in (mate.first, mate.second)]
            mates.append(replace(twin, first=ends[0], second=ends[1]))
    why = (
        *whole.reasons,
        reason("left and right were measured apart, so each side is its own piece"),
    )
    return Made(tuple(pieces), tuple(mates), (), whole.values, why)


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


def finish_asked(ask: PieceAsk) -> Finish:
    """Return how pieces are to be finished.

    Parameters
    ----------
    ask : PieceAsk
        What was asked.

    Returns
    -------
    Finish
        Allowances, shrinkage, nap, turn of cloth and label.

    Raises
    ------
    SamiteError
        If an allowance, a seam or a shrinkage cannot be read.
    """
    check_corners(ask.corners)
    allowances = seam_allowances(ask.seams)
    for edge, text in ask.allowances.items():
        allowances[edge] = parse_quantity(text, "mm")
    along, _, across = ask.shrink.partition(";")
    shrink = [
        parse_quantity(part, "%") if part.strip() else 0.0 for part in (along, across or along)
    ]
    return Finish(
        MappingProxyType(allowances),
        shrink[0],
        shrink[1],
        ask.one_way,
        ask.cloth,
        ask.dated,
        parse_quantity(ask.turn, "mm") if ask.turn else 0.0,
        MappingProxyType(dict(ask.corners)),
    )


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
    numbers: Values,
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
    numbers : Values
        Parameters as they were taken.

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
    if body.front_shares and not any(name.endswith("_share") for name in numbers):
        notes.append("front and back were measured apart; this shape takes both as one girth")
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
