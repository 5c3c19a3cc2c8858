"""Fitted pieces as every face shows them: the cloth read, both sides built, fittings put back in."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from samite.garment.body import SIDES, Body
from samite.kernel.errors import InfeasibleError
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.keys import content_key
from samite.kernel.quantity import Quantity
from samite.pieces.derive import unfolded
from samite.pieces.finish import Finish, finish
from samite.pieces.fitted.report import FitReport, PanelOption
from samite.pieces.fitting import Change, Fitted
from samite.pieces.fitting_words import read_alterations
from samite.pieces.measure_beliefs import Estimate
from samite.pieces.measure_doubts import find_doubts
from samite.pieces.measures import estimate
from samite.pieces.outline import Piece
from samite.pieces.shape import Made, Shape, Values, fill_in, reason
from samite.pieces.walk import Mate, check_smooth, walk, with_notches
from samite.seam.ground import minutes_class
from samite.seam.minutes import element_minutes_per_m
from samite.services.fitted_alter import Constraint, altered, constraints_of
from samite.services.fitted_cloth import ClothGives, cloth_gives, with_said
from samite.services.fitted_pulls import pulls_of
from samite.services.fitted_sides import both_halves
from samite.services.fitted_swatches import with_book
from samite.services.piece import derived_pieces, notes_of, reasons_of
from samite.services.piece_ask import PieceAnswer, PieceAsk
from samite.services.piece_effects import effects_of
from samite.services.piece_hang import hang_pieces, with_room
from samite.services.piece_read import finish_asked, read_body, read_settings, width_asked
from samite.services.raster import CELL_MM, on_grid, packed_length_mm
from samite.tables.bodies import BODY_TABLES, measure_entry
from samite.tables.fitted import FITTED_TABLES
from samite.tables.loader import table_hash

TRIAL_WIDTH_MM = 1400.0
"""Width of the cloth of a trial [mm]."""

_ELEMENTS = ("hold", "sew", "press")


@dataclass(frozen=True, slots=True)
class OptionCost:
    """What a number of panels costs.

    Parameters
    ----------
    option : PanelOption
        The way to part the garment.
    minutes : float
        Holding, sewing and pressing its seams [min].
    """

    option: PanelOption
    minutes: float


@dataclass(frozen=True, slots=True)
class FitTold:
    """What is told of fitted pieces beside the pieces.

    Parameters
    ----------
    report : FitReport
        Strains, girths, eases, pressures, bones, guesses.
    costs : tuple of OptionCost
        Ways that were tried with their minutes.
    cloth : str
        What was read of the cloth.
    trial_metres : Quantity
        Cloth of the trial, 140 cm wide [m].
    changes : tuple of Constraint
        What fittings changed.
    grade : str
        How well what the cloth allows is known: ``guess`` or ``measured-here``.
    values : mapping of str to float
        Numbers that were solved.
    swatches : tuple of str
        Swatches that are kept and tell what the cloth allows.
    """

    report: FitReport
    costs: tuple[OptionCost, ...]
    cloth: str
    trial_metres: Quantity
    changes: tuple[Constraint, ...]
    grade: str
    values: Mapping[str, float]
    swatches: tuple[str, ...] = ()


def make_fitted(shape: Shape, ask: PieceAsk) -> PieceAnswer:
    """Compute fitted pieces.

    Parameters
    ----------
    shape : Shape
        The shape.
    ask : PieceAsk
        What was asked.

    Returns
    -------
    PieceAnswer
        Finished pieces and what they rest on.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown, or cannot be dressed in that cloth.
    """
    body = read_body(ask)
    asked = read_settings(shape, ask.settings)
    cloth = _cloth(shape, ask, asked)
    settings = {**cloth.settings, **asked}
    used: dict[str, Estimate] = {}
    said = [one for text in ask.alterations for one in read_alterations(text)]
    constraints = constraints_of(shape, said)
    numbers, made = _build(shape, body, settings, constraints, used)
    fittings, seams_before = _fittings(shape, body, settings, constraints, made)
    pieces, hung, hang_why = hang_pieces(made.pieces, made.mates, ask.hang, ask.cloth)
    noticed = with_notches(pieces, made.mates)
    how = with_room(finish_asked(ask), noticed, hung)
    finished = finish((*noticed, *derived_pieces(noticed, ask)), how)
    walked, breaks = walk(noticed, made.mates), check_smooth(noticed, made.smooths)
    doubts = find_doubts(body)
    told = _told(made, cloth, constraints, noticed)
    why = (*reasons_of(made, used), *hang_why, reason(cloth.told))
    as_one = [girth for girth in body.front_shares if girth in used]
    return PieceAnswer(
        shape, body, tuple(used.values()), doubts, numbers, made.values, finished, walked, breaks,
        fittings, why, (*notes_of(finished, walked, breaks, doubts, body, as_one), *pulls_of(told.report)),
        content_key(ask, "make_fitted/5", table_hash(*BODY_TABLES, *FITTED_TABLES)),
        effects_of(fittings, seams_before, how, width_asked(ask.width)), hung, told,
    )  # fmt: skip


def _cloth(shape: Shape, ask: PieceAsk, asked: Mapping[str, float | str]) -> ClothGives:
    """Return what the cloth allows: its class, then its swatches, then what was said by hand."""
    by_label = cloth_gives(ask.cloth, shape)
    return with_said(with_book(by_label, shape, ask.swatches, asked), asked)


def _measured(
    shape: Shape, settings: Mapping[str, float | str], which: Body, used: dict[str, Estimate]
) -> Values:
    def measure(name: str) -> float:
        found = estimate(which, name)
        layered = measure_entry(name).run == "girth" and which.layers_mm > 0.0
        value = found.value_mm + (math.tau * which.layers_mm if layered else 0.0)
        used[name] = replace(found, value_mm=value)
        return value

    return fill_in(shape, settings, measure)


def _build(
    shape: Shape, body: Body, settings: Mapping[str, float | str],
    constraints: Sequence[Constraint], used: dict[str, Estimate],
    *, apart: bool = False,
) -> tuple[Values, Made]:  # fmt: skip
    """Build once, or once a half where the halves differ."""
    numbers = _measured(shape, settings, body, used)
    one_sided = apart or any(one.alteration.side for one in constraints)
    if not one_sided and not set(body.uneven) & set(used):
        changed = altered(shape, numbers, constraints, "")
        return changed, shape.build(changed)
    halves = {
        side: altered(
            shape, _measured(shape, settings, body.one_side(side), used), constraints, side
        )
        for side in SIDES
    }
    return numbers, both_halves(_alike(shape, halves))


def _alike(shape: Shape, halves: Mapping[str, Values]) -> dict[str, Made]:
    """Build both halves with as many panels as the one that needs more."""
    made = {side: shape.build(values) for side, values in halves.items()}
    reports = {side: one.fit for side, one in made.items()}
    left, right = reports["left"], reports["right"]
    if left is None or right is None or left.chosen == right.chosen:
        return made
    more, fewer = ("left", "right") if len(left.options) > len(right.options) else ("right", "left")
    wanted = reports[more]
    count = sum(int(word) for word in wanted.chosen.split() if word.isdigit()) if wanted else 0
    for side in (fewer, more):  # as many are parted alike only where both are asked for that number
        again = Values({**halves[side].numbers, "panels": float(count)}, halves[side].words)
        made[side] = shape.build(again)
        if len({_named(one) for one in made.values()}) == 1:
            return made
    raise InfeasibleError(
        "left and right half need another number of panels", "panels",
        "ask for one number: --set panels=N",
    )  # fmt: skip


def _named(made: Made) -> frozenset[str]:
    return frozenset(piece.name for piece in made.pieces)


def _fittings(
    shape: Shape, body: Body, settings: Mapping[str, float | str],
    constraints: Sequence[Constraint], made: Made,
) -> tuple[tuple[Fitted, ...], tuple[Mate, ...]]:  # fmt: skip
    """Return what the alterations changed: the pieces before, the pieces now."""
    if not constraints:
        return (), made.mates
    one_sided = any(one.alteration.side for one in constraints)
    was_made = _build(shape, body, settings, (), {}, apart=one_sided)[1]
    before = was_made.pieces
    areas = {piece.name: piece.area_mm2 for piece in before}
    changes = []
    for piece in made.pieces:
        was = areas.get(piece.name, areas.get(piece.name.rsplit(", ", 1)[0]))
        if was is None or abs(piece.area_mm2 - was) < 1.0:
            continue
        changes += [
            Change(one.alteration, piece.name, one.parameter, one.alteration.amount_mm,
                   piece.area_mm2 - was)
            for one in constraints
            if not one.alteration.side or one.alteration.side in piece.name
        ]  # fmt: skip
    return (Fitted(before, made.pieces, made.mates, tuple(changes)),), was_made.mates


def _told(
    made: Made, cloth: ClothGives, constraints: tuple[Constraint, ...], pieces: Sequence[Piece]
) -> FitTold:
    report = made.fit
    if report is None:
        raise TypeError("a fitted shape brings its report")
    kind = minutes_class((cloth.cloth,)) if cloth.cloth else "plain"
    rate = sum(element_minutes_per_m(element=name, cloth_class=kind).value for name in _ELEMENTS)
    costs = tuple(
        OptionCost(option, option.seam_length_mm / 1000.0 * rate) for option in report.options
    )
    return FitTold(
        report,
        costs,
        cloth.told,
        trial_metres(pieces),
        constraints,
        cloth.grade,
        made.values,
        cloth.told_by,
    )


def trial_metres(pieces: Sequence[Piece]) -> Quantity:
    """Return how much cloth a trial takes.

    Parameters
    ----------
    pieces : sequence of Piece
        Its pieces.

    Returns
    -------
    Quantity
        Metres of a cloth 140 cm wide [m].

    Notes
    -----
    Laid one after the other as low as they go, on a grid: it errs long.

    References
    ----------
    ``derivation``: areas on a grid.
    """
    made = finish([unfolded(piece) for piece in pieces], Finish())
    cells = []
    for one in made:
        turn = 90.0 - one.piece.grain_deg
        points = one.cut.points[:: max(1, len(one.cut.points) // 240)]
        cells += [(on_grid(points, turn), on_grid(points, turn + 180.0))] * one.piece.copies
    room = max(TRIAL_WIDTH_MM, max(cell.width for pair in cells for cell in pair) * CELL_MM)
    length = packed_length_mm(cells, room) / 1000.0
    value = math.ceil(length * 10.0) / 10.0
    return Quantity(value, 0.85 * length, value + 0.2, "m", Evidence("derivation", Grade.DERIVED))
