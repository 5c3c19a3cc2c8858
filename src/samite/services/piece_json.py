"""The JSON form of computed pieces, ``samite.piece.v1``."""

from __future__ import annotations

import math
from typing import Any

from samite.pieces.edge import Edge
from samite.pieces.finish import FinishedPiece, hem_excess_mm
from samite.pieces.follow import Followed
from samite.pieces.measure_beliefs import Estimate
from samite.pieces.outline import Notch, Piece
from samite.pieces.plane import Point, outward
from samite.pieces.walk import Walked
from samite.services.piece_ask import PieceAnswer
from samite.services.piece_effects import Effect

FORMAT = "samite.piece.v1"
PLACES = 4


def piece_json(answer: PieceAnswer) -> dict[str, Any]:
    """Return the JSON form of an answer.

    Parameters
    ----------
    answer : PieceAnswer
        The answer.

    Returns
    -------
    dict of str to object
        Format ``samite.piece.v1``.
    """
    words = answer.numbers.words
    return {
        "format": FORMAT,
        "key": answer.key,
        "shape": answer.shape.name,
        "says": answer.shape.says,
        "parameters": {
            **{
                p.name: _with_unit(answer.numbers[p.name], p.unit)
                for p in answer.shape.parameters
                if not p.choices
            },
            **{name: {"value": word, "unit": ""} for name, word in words.items()},
        },
        "measures": [_measure(one) for one in answer.estimates],
        "values": {name: _round(value) for name, value in answer.values.items()},
        "pieces": [finished_json(one) for one in answer.pieces],
        "walked": [walked_json(one) for one in answer.walked],
        "smooth": [
            {
                "first": list(one.smooth.first),
                "second": list(one.smooth.second),
                "break_deg": _round(one.break_deg),
                "runs_smooth": one.runs_smooth,
            }
            for one in answer.breaks
        ],
        "fittings": [
            {
                "changes": [
                    {
                        "said": change.alteration.said,
                        "piece": change.piece,
                        "edge": change.edge,
                        "moved_mm": _round(change.moved_mm),
                        "area_change_mm2": _round(change.area_change_mm2),
                    }
                    for change in fitted.changes
                ],
                "before": [
                    {"name": piece.name, "area_mm2": _round(piece.area_mm2),
                     "outline_mm": _points(piece.flat())}
                    for piece in fitted.before
                ],
                "followed": [_followed(one) for one in fitted.followed],
                "effect": _effect(effect),
            }
            for fitted, effect in zip(answer.fittings, answer.effects, strict=True)
        ],
        "hung": [
            {
                "piece": one.piece,
                "edge": one.edge,
                "drop_mm": _round(one.drop_mm),
                "least_mm": _round(one.least_mm),
                "most_mm": _round(one.most_mm),
                "grade": "guess",
            }
            for one in answer.hung
        ],
        **_fit(answer),
        "notes": list(answer.notes),
        "reasons": [one.as_dict() for one in answer.reasons],
    }  # fmt: skip


def _fit(answer: PieceAnswer) -> dict[str, Any]:
    if answer.fit is None:
        return {}
    from samite.services.fitted_told import fit_json

    return {"fit": fit_json(answer.fit)}


def _followed(one: Followed) -> dict[str, object]:
    return {
        "piece": one.piece,
        "edge": one.edge,
        "before_mm": _round(one.before_mm),
        "after_mm": _round(one.after_mm),
        "how": one.how,
    }


def _effect(one: Effect) -> dict[str, object]:
    return {
        "told": one.told(),
        "seams": [
            {
                "first": list(seam.first),
                "second": list(seam.second),
                "before_mm": _round(seam.before_mm),
                "after_mm": _round(seam.after_mm),
            }
            for seam in one.seams
        ],
        "cut_area_before_mm2": _round(one.area_before_mm2),
        "cut_area_after_mm2": _round(one.area_after_mm2),
        "width_mm": _round(one.width_mm),
        "laid_before_mm": None if one.laid_before_mm is None else _round(one.laid_before_mm),
        "laid_after_mm": None if one.laid_after_mm is None else _round(one.laid_after_mm),
    }


def _with_unit(value: float, unit: str) -> dict[str, object]:
    return {"value": _round(value), "unit": unit}


def _measure(one: Estimate) -> dict[str, object]:
    return {
        "name": one.name,
        "value_mm": _round(one.value_mm),
        "spread_mm": _round(one.spread_mm),
        "given": one.given,
        "told": one.told(),
        "source": one.evidence.source,
        "grade": one.evidence.grade.value,
    }


def walked_json(one: Walked) -> dict[str, object]:
    """Return the JSON form of a seam that was walked.

    Parameters
    ----------
    one : Walked
        The seam.

    Returns
    -------
    dict of str to object
        Places, lengths, ease and difference.
    """
    return {
        "first": list(one.mate.first),
        "second": list(one.mate.second),
        "first_mm": _round(one.first_mm),
        "second_mm": _round(one.second_mm),
        "ease_mm": _round(one.mate.ease_mm),
        "difference_mm": _round(one.difference_mm),
        "equal": one.equal,
    }


def finished_json(one: FinishedPiece) -> dict[str, object]:
    """Return the JSON form of a finished piece.

    Parameters
    ----------
    one : FinishedPiece
        The piece.

    Returns
    -------
    dict of str to object
        As in ``samite.piece.v1``.
    """
    piece = one.piece
    return {
        "name": piece.name,
        "cloth": piece.cloth,
        "copies": piece.copies,
        "mirrored": piece.mirrored,
        "on_fold": piece.on_fold,
        "way_up": one.way_up,
        "nap": one.nap,
        "grain": {"angle_deg": _round(piece.grain_deg), "tolerance_deg": piece.grain_tolerance_deg},
        "outline_mm": _points(piece.flat()),
        "area_mm2": _round(piece.area_mm2),
        "edges": [
            {
                "name": edge.name,
                "kind": edge.kind,
                "length_mm": _round(edge.length_mm),
                "allowance_mm": _round(one.cut.allowances_mm[edge.name]),
                **(
                    {}
                    if edge.gathered_to_mm is None
                    else {"gathered_to_mm": _round(edge.gathered_to_mm)}
                ),
                "corner": edge.corner,
                "start_mm": _point(edge.start),
                "end_mm": _point(edge.end),
                "curves": [type(curve).__name__.lower() for curve in edge.curves],
            }
            for edge in piece.edges
        ],
        "cut_outline_mm": _points(one.cut.points),
        "cut_area_mm2": _round(one.cut.area_mm2),
        "notches": [_notch(piece, notch) for notch in piece.notches],
        "drill_points": [{"name": m.name, "at_mm": _point(m.place)} for m in piece.marks],
        "lines": [{"name": r.name, "points_mm": _points(r.points)} for r in piece.rules],
        "hem_excess_mm": {k: _round(v) for k, v in hem_excess_mm(piece, one.cut).items()},
        "label": list(one.label),
        "note": piece.note,
    }


def _notch(piece: Piece, notch: Notch) -> dict[str, object]:
    edge: Edge = piece.edge(notch.edge)
    place, along = edge.at(notch.distance_mm)
    normal = outward(along)
    return {
        "edge": notch.edge,
        "distance_mm": _round(notch.distance_mm),
        "at_mm": _point(place),
        "angle_deg": _round(math.degrees(math.atan2(normal[1], normal[0]))),
        "count": notch.count,
        "name": notch.name,
    }


def _points(points: tuple[Point, ...]) -> list[list[float]]:
    return [_point(point) for point in points]


def _point(point: Point) -> list[float]:
    return [_round(point[0]), _round(point[1])]


def _round(value: float) -> float:
    return round(value, PLACES) + 0.0
