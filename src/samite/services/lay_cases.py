"""From shapes, a body and cloths to the lays that they ask for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.cloth.reading import Price
from samite.kernel.errors import InfeasibleError, InputError, OutOfRangeError
from samite.kernel.evidence import GIVEN, Evidence, Grade
from samite.kernel.reasons import Reason
from samite.kernel.units import parse_quantity
from samite.lay.buying import laid_width_mm
from samite.lay.figure import figure_matches
from samite.lay.from_pieces import lay_problem
from samite.lay.problem import Problem
from samite.lay.rules import LayRules, find_lay_rules
from samite.lay.split import with_joined
from samite.pieces.finish import FinishedPiece
from samite.pieces.walk import Mate
from samite.services.lay_buy import Extra, extra_for, usual_step_mm
from samite.services.piece import make_piece
from samite.services.piece_ask import PieceAsk
from samite.tables.lay import lay_rule

KINDS = {
    "shell": ("main", "facing"),
    "lining": ("lining",),
    "interfacing": ("facing",),
    "test garment": ("main",),
}
"""The lays of a costume, and which pieces are cut from each cloth."""

MATCHED = (
    "the figure is matched along the cloth, at the seams that run down it; across the cloth, at"
    " sleeves and gathers it is placed by eye"
)

USUAL_WIDTH_MM = 1400.0
WIDTHS_MM = (100.0, 6000.0)
GUESS = Evidence("guess", Grade.GUESS)


@dataclass(frozen=True, slots=True)
class LayAsk:
    """What a person asks of a lay of computed pieces.

    Parameters
    ----------
    pieces : tuple of PieceAsk
        The shapes, for one body.
    cloths : mapping of str to str
        Label of the cloth of each lay, by a key of `KINDS`.
    widths : tuple of str
        Widths on offer of the shell, as written; empty takes that of the label.
    fold : str
        ``folded`` or ``open``; empty leaves it to the cloth.
    nap : str
        ``one-way`` or ``either-way``; empty leaves it to the cloth.
    crosswise : tuple of str
        Names of pieces that may be cut across the cloth.
    joins : tuple of str
        Names of pieces that may be joined from two, with ``@0.4`` for where.
    pretreated : bool
        Whether the cloth is shrunk already.
    flaws_seen : bool
        Whether the length was looked over.
    units : str
        ``metric`` or ``imperial``.
    """

    pieces: tuple[PieceAsk, ...]
    cloths: dict[str, str] = field(default_factory=dict)
    widths: tuple[str, ...] = ()
    fold: str = ""
    nap: str = ""
    crosswise: tuple[str, ...] = ()
    joins: tuple[str, ...] = ()
    pretreated: bool = False
    flaws_seen: bool = False
    units: str = "metric"


@dataclass(frozen=True, slots=True)
class LayCase:
    """One lay that is asked for.

    Parameters
    ----------
    kind : str
        A key of `KINDS`.
    label : str
        The cloth as its label says; may be empty.
    width_mm : float
        Width as bought [mm].
    rules : LayRules
        What the cloth asks.
    extra : Extra
        What is bought beyond the lay.
    price : Price or None
        As the label prints it.
    pieces : tuple of FinishedPiece
        What is cut.
    problem : Problem
        The lay.
    notes : tuple of str
        What was assumed.
    """

    kind: str
    label: str
    width_mm: float
    rules: LayRules
    extra: Extra
    price: Price | None
    pieces: tuple[FinishedPiece, ...]
    problem: Problem
    notes: tuple[str, ...] = ()


def lay_cases(ask: LayAsk) -> tuple[LayCase, ...]:
    """Return the lays that a costume asks for: every cloth, and every width of the shell.

    Parameters
    ----------
    ask : LayAsk
        What was asked.

    Returns
    -------
    tuple of LayCase
        The shell first.

    Raises
    ------
    InputError
        If no shape is asked for.
    SamiteError
        Whatever else is malformed, impossible or unknown.
    """
    if not ask.pieces:
        raise InputError("which shape?", "SHAPE", "samite piece --list shows all shapes")
    finished, mates = costume_parts(ask.pieces)
    made = []
    for kind, cut_from in KINDS.items():
        wanted = kind in {"shell", "lining"} or bool(ask.cloths.get(kind))
        pieces = tuple(one for one in finished if one.piece.cloth in cut_from)
        if wanted and pieces:
            widths: Sequence[str] = ask.widths if kind == "shell" and ask.widths else ("",)
            made += [_case(ask, kind, pieces, mates, width) for width in widths]
    return tuple(made)


def costume_parts(
    asks: Sequence[PieceAsk],
) -> tuple[tuple[FinishedPiece, ...], tuple[Mate, ...]]:
    """Return the finished pieces of several shapes, each under a name of its own.

    Parameters
    ----------
    asks : sequence of PieceAsk
        The shapes.

    Returns
    -------
    tuple of (tuple of FinishedPiece, tuple of Mate)
        A name that two shapes share is told apart by the shape; edges that are sewn together.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    answers = [make_piece(one) for one in asks]
    names = [one.piece.name for answer in answers for one in answer.pieces]
    made: list[FinishedPiece] = []
    mates: list[Mate] = []
    for answer in answers:
        shape = answer.shape.name.replace("-", " ")
        own = {
            one.piece.name: f"{shape} {one.piece.name}"
            for one in answer.pieces
            if names.count(one.piece.name) > 1
        }
        made += [
            replace(one, piece=replace(one.piece, name=own.get(one.piece.name, one.piece.name)))
            for one in answer.pieces
        ]
        for walked in answer.walked:
            (first, edge), (second, other) = walked.mate.first, walked.mate.second
            mates.append(
                replace(
                    walked.mate,
                    first=(own.get(first, first), edge),
                    second=(own.get(second, second), other),
                )
            )
    return tuple(made), tuple(mates)


def _case(
    ask: LayAsk,
    kind: str,
    pieces: tuple[FinishedPiece, ...],
    mates: tuple[Mate, ...],
    written: str,
) -> LayCase:
    label = ask.cloths.get(kind, "").strip()
    cloth = build_cloth(read_label(label)) if label else None
    width, notes = _width(written, cloth)
    rules = _rules(ask, cloth)
    shrunk = ask.pretreated or any(one.shrink for one in ask.pieces)
    extra = (
        extra_for(cloth, units=ask.units, pretreated=shrunk, flaws_seen=ask.flaws_seen)
        if cloth
        else _plain_extra(ask)
    )
    laid = laid_width_mm(width_mm=width, shrink_across_percent=extra.shrink_across_percent)
    problem, rules = _problem(ask, pieces, rules, laid)
    if rules.repeat_along_mm:
        problem = replace(problem, repeat_across_mm=0.0, matches=figure_matches(pieces, mates))
        notes += (MATCHED,)
    price = cloth.reading.price if cloth else None
    return LayCase(kind, label, width, rules, extra, price, pieces, problem, notes)


def _width(written: str, cloth: Cloth | None) -> tuple[float, tuple[str, ...]]:
    if written:
        width = parse_quantity(written, "mm")
    elif cloth is not None and cloth.width_cm is not None:
        width = cloth.width_cm.value * 10.0
    else:
        told = f"the label gives no width: taken for {USUAL_WIDTH_MM / 10:g} cm"
        return USUAL_WIDTH_MM, (told,)
    if not WIDTHS_MM[0] <= width <= WIDTHS_MM[1]:
        raise OutOfRangeError(
            f"cloth {width / 10:g} cm wide is impossible", "--width", "give its open width, 150 cm"
        )
    return width, ()


def _rules(ask: LayAsk, cloth: Cloth | None) -> LayRules:
    wanted = {"folded": True, "open": False}.get(ask.fold)
    if cloth is not None:
        rules = find_lay_rules(cloth, fold_wanted=wanted)
    else:
        why = Reason("no cloth was named: taken for a plain one that does not slide", (), GUESS)
        gap = lay_rule("gap", "piece_gap_mm", "frays 1").value
        edge = lay_rule("selvedge", "margin_mm").value
        one_way = any(one.one_way for one in ask.pieces)
        rules = LayRules(one_way, bool(wanted), "up", gap, edge, reasons=(("folded", why),))
    if ask.nap:
        said = Reason(f"{ask.nap.replace('-', ' ')}, as was asked", evidence=GIVEN)
        kept = tuple(pair for pair in rules.reasons if pair[0] != "one_way")
        rules = replace(rules, one_way=ask.nap == "one-way", reasons=(("one_way", said), *kept))
    return rules


def _plain_extra(ask: LayAsk) -> Extra:
    flaws = 0.0 if ask.flaws_seen else lay_rule("flaws", "flaw_allowance_percent").value
    straighten = lay_rule("straighten", "straighten_mm", "woven").value
    return Extra(0.0, 0.0, straighten, flaws, usual_step_mm(ask.units))


def _problem(
    ask: LayAsk, pieces: tuple[FinishedPiece, ...], rules: LayRules, width: float
) -> tuple[Problem, LayRules]:
    """Return the problem; a fold that makes wrong hands gives way unless it was insisted on."""
    try:
        problem = lay_problem(pieces, rules, width, crosswise=ask.crosswise)
    except InfeasibleError as error:
        if ask.fold == "folded":
            raise
        why = Reason(f"single layer: {error.message}", evidence=GIVEN)
        kept = tuple(pair for pair in rules.reasons if pair[0] != "folded")
        rules = replace(rules, folded=False, reasons=(*kept, ("folded", why)))
        problem = lay_problem(pieces, rules, width, crosswise=ask.crosswise)
    for join in ask.joins:
        problem = joined_from_two(problem, join)
    return problem, rules


def joined_from_two(problem: Problem, written: str) -> Problem:
    """Return a problem with one of its pieces joined from two, parted across its longer way.

    Parameters
    ----------
    problem : Problem
        The problem.
    written : str
        Name of the piece, with ``@0.4`` for where; the middle without.

    Returns
    -------
    Problem
        With both parts in its place.
    """
    name, _, place = written.partition("@")
    share = parse_quantity(place, "1") if place else 0.5
    piece = next((one for one in problem.pieces if one.name == name.strip()), None)
    long_way = True
    if piece is not None:
        xs, ys = zip(*piece.outline_mm, strict=True)
        long_way = max(xs) - min(xs) >= max(ys) - min(ys) or piece.on_fold
    allowance = lay_rule("join", "join_seam_mm").value
    return with_joined(
        problem, name.strip(), share=share, seam_allowance_mm=allowance, across=long_way
    )
