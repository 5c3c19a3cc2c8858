"""A lay problem as a file, ``samite.lay-problem.v1``."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from samite.kernel.errors import InputError
from samite.lay.check import check_problem
from samite.lay.problem import Fixed, LayPiece, Match, Outline, Point, Problem
from samite.readers.fields import LONGEST_TEXT, Fields
from samite.readers.problem import refuse
from samite.tables.close_names import suggest

FORMAT = "samite.lay-problem.v1"
MOST_PIECES = 20_000
MOST_TOLD = 40
"""Problems that are told at once; of more, the rest is counted."""

KEYS = (
    "format", "width_mm", "fold", "edge_mm", "gap_mm", "outline_mm", "holes", "repeat_mm",
    "pieces", "matches",
)  # fmt: skip
PIECE_KEYS = (
    "name", "outline_mm", "copies", "angles_deg", "mirror", "on_fold", "motif_mm", "fixed",
    "grain_tolerance_deg",
)  # fmt: skip
MATCH_KEYS = ("piece", "at_mm", "with", "to_mm")
FIXED_KEYS = ("piece", "copy", "x_mm", "y_mm", "angle_deg", "mirrored")
STAND_IN: Outline = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
"""In the place of an outline that cannot be read, so that everything else can be looked at."""


def read_lay_problem(text: str) -> Problem:
    """Read a lay problem.

    Parameters
    ----------
    text : str
        JSON in the form ``samite.lay-problem.v1``.

    Returns
    -------
    Problem
        The question; its pieces may still not fit the cloth.

    Raises
    ------
    InputError
        Naming everything that is wrong with it, each with its place and how to mend it.
    """
    return lay_problem_of(_document(text))


def _document(text: str) -> Mapping[str, Any]:
    try:
        document = json.loads(text.removeprefix("\ufeff"))
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise InputError(f"not JSON: {error.msg}", where, "mend the file there") from None
    except (RecursionError, ValueError):
        raise InputError(
            "nested too deeply, or a number of far too many digits", "the file", "mend the file"
        ) from None
    if not isinstance(document, dict):
        raise InputError("the file holds no JSON object", "the file", 'start it with "{"')
    return document


def lay_problem_of(document: Mapping[str, Any]) -> Problem:
    """Read a lay problem from a document.

    Parameters
    ----------
    document : mapping of str to object
        In the form ``samite.lay-problem.v1``.

    Returns
    -------
    Problem
        The question.

    Raises
    ------
    InputError
        Naming everything that is wrong with it, each with its place and how to mend it.
    """
    reader = _Reader()
    problem = reader.problem(document)
    for what, where, mend in check_problem(problem):
        reader.fields.wrong((where,), what, mend)
    found = reader.fields.problems
    if found:
        told = found[:MOST_TOLD]
        whole = "the lay problem"
        if len(found) > MOST_TOLD:
            whole += f" (and {len(found) - MOST_TOLD} more)"
        raise refuse(told, whole)
    return problem


class _Reader:
    """Takes the parts of a document and keeps what is wrong with them."""

    def __init__(self) -> None:
        self.fields = Fields({})

    def problem(self, document: Mapping[str, Any]) -> Problem:
        self._check_keys(document, "", KEYS)
        form = document.get("format") or FORMAT
        if form != FORMAT:
            self.fields.wrong(("format",), f"{str(form)[:60]!r} is not read", f"write {FORMAT!r}")
        repeat = document.get("repeat_mm") or {}
        if not isinstance(repeat, dict):
            self.fields.wrong(
                ("repeat_mm",), "that is no repeat", 'write {"along": 0, "across": 0}'
            )
            repeat = {}
        self._check_keys(repeat, "repeat_mm.", ("along", "across"))
        outline = document.get("outline_mm")
        pieces = self._list(document, "pieces")
        if len(pieces) > MOST_PIECES:
            what = f"{len(pieces)} kinds of pieces are more than one lay can hold"
            self.fields.wrong(("pieces",), what, "lay them in parts, one after the other")
        return Problem(
            self._number(document, "width_mm", "", None, stands_in=1000.0),
            tuple(self._piece(one, f"pieces[{k}]") for k, one in enumerate(pieces[:MOST_PIECES])),
            self._word(document, "fold", "", "none"),
            self._number(document, "edge_mm", "", 0.0),
            self._number(document, "gap_mm", "", 0.0),
            None if outline is None else self._outline(outline, "outline_mm"),
            tuple(
                self._outline(one, f"holes[{k}]")
                for k, one in enumerate(self._list(document, "holes"))
            ),
            self._number(repeat, "along", "repeat_mm.", 0.0),
            self._number(repeat, "across", "repeat_mm.", 0.0),
            tuple(
                self._match(one, f"matches[{k}]")
                for k, one in enumerate(self._list(document, "matches"))
            ),
        )

    def _piece(self, given: Any, where: str) -> LayPiece:
        if not isinstance(given, dict):
            self.fields.wrong(
                (where,), "that is no piece", 'write {"name": ..., "outline_mm": ...}'
            )
            return LayPiece(where, STAND_IN)
        self._check_keys(given, f"{where}.", PIECE_KEYS)
        name = given.get("name")
        if not isinstance(name, str) or not name.strip() or len(name) > LONGEST_TEXT:
            mend = f"give it a name of up to {LONGEST_TEXT} letters"
            self.fields.wrong((f"{where}.name",), "the piece has no name that can be used", mend)
            name = where
        motif = given.get("motif_mm")
        return LayPiece(
            name,
            self._outline(given.get("outline_mm"), f"{where}.outline_mm"),
            self._count(given, f"{where}.copies"),
            self._angles(given.get("angles_deg"), f"{where}.angles_deg"),
            self._word(given, "mirror", f"{where}.", "none"),
            self._truth(given, "on_fold", f"{where}."),
            None if motif is None else self._point(motif, f"{where}.motif_mm"),
            self._fixed(given.get("fixed"), f"{where}.fixed"),
            self._number(given, "grain_tolerance_deg", f"{where}.", 0.0),
        )

    def _count(self, given: Mapping[str, Any], where: str) -> int:
        found = given.get("copies")
        found = 1 if found is None else found
        whole = isinstance(found, int) or (isinstance(found, float) and found.is_integer())
        if isinstance(found, bool) or not whole or abs(found) > 10**9:
            self.fields.wrong((where,), "that is no number of copies", "write a whole number")
            return 2
        return int(found)

    def _angles(self, given: Any, where: str) -> tuple[float, ...]:
        if given is None:
            return (0.0,)
        values = given if isinstance(given, list) else [given]
        found = [self.fields.number(one, (where,), "deg") for one in values]
        return tuple(one for one in found if one is not None) or (0.0,)

    def _fixed(self, given: Any, where: str) -> tuple[Fixed, ...]:
        if given is None:
            return ()
        places = given if isinstance(given, list) else [given]
        found = []
        for one in places:
            if not isinstance(one, dict):
                mend = 'write {"x_mm": ..., "y_mm": ..., "angle_deg": ..., "mirrored": ...}'
                self.fields.wrong((where,), "that is no place to keep", mend)
                continue
            self._check_keys(one, f"{where}.", FIXED_KEYS)
            found.append(
                Fixed(
                    self._number(one, "x_mm", f"{where}.", None),
                    self._number(one, "y_mm", f"{where}.", None),
                    self._number(one, "angle_deg", f"{where}.", 0.0),
                    self._truth(one, "mirrored", f"{where}."),
                    self._copy(one, where),
                )
            )
        return tuple(found)

    def _copy(self, given: Mapping[str, Any], where: str) -> int | None:
        found = given.get("copy")
        if found is None or (isinstance(found, int) and not isinstance(found, bool)):
            return found
        mend = "write a whole number from 0, or leave it out"
        self.fields.wrong((f"{where}.copy",), "that is no number of a copy", mend)
        return None

    def _match(self, given: Any, where: str) -> Match:
        if not isinstance(given, dict):
            mend = 'write {"piece": ..., "at_mm": [x, y], "with": ..., "to_mm": [x, y]}'
            self.fields.wrong((where,), "that is no match", mend)
            return Match("", (0.0, 0.0), "", (0.0, 0.0))
        self._check_keys(given, f"{where}.", MATCH_KEYS)
        return Match(
            str(given.get("piece", "")),
            self._point(given.get("at_mm"), f"{where}.at_mm"),
            str(given.get("with", "")),
            self._point(given.get("to_mm"), f"{where}.to_mm"),
        )

    def _outline(self, given: Any, where: str) -> Outline:
        if not isinstance(given, list):
            self.fields.wrong((where,), "the outline is missing", "write [[x, y], ...] in mm")
            return STAND_IN
        points = [_point_of(one) for one in given]
        for number, point in enumerate(points):
            if point is None:
                mend = "write [x, y] in millimetres"
                self.fields.wrong((f"{where}[{number}]",), "that is no corner", mend)
                return STAND_IN
        found = tuple(point for point in points if point is not None)
        return _without_repeats(found)

    def _point(self, given: Any, where: str) -> Point:
        found = _point_of(given)
        if found is None:
            self.fields.wrong((where,), "that is no point", "write [x, y] in millimetres")
        return found or (0.0, 0.0)

    def _number(
        self,
        table: Mapping[str, Any],
        key: str,
        where: str,
        default: float | None,
        stands_in: float = 0.0,
    ) -> float:
        value = table.get(key)
        if value is None and default is not None:
            return default
        found = self.fields.number(value, (f"{where}{key}",), "mm" if "deg" not in key else "deg")
        return stands_in if found is None else found

    def _word(self, table: Mapping[str, Any], key: str, where: str, default: str) -> str:
        found = table.get(key)
        if found is None or isinstance(found, str):
            return found or default
        self.fields.wrong((f"{where}{key}",), "that is no word", f'write "{default}"')
        return default

    def _truth(self, table: Mapping[str, Any], key: str, where: str) -> bool:
        found = table.get(key)
        if found is None or isinstance(found, bool):
            return bool(found)
        self.fields.wrong(
            (f"{where}{key}",), "that is neither true nor false", "write true or false"
        )
        return False

    def _list(self, table: Mapping[str, Any], key: str) -> list[Any]:
        found = table.get(key)
        if found is None or isinstance(found, list):
            return found or []
        self.fields.wrong((key,), "that is no list", "write [ ... ]")
        return []

    def _check_keys(self, table: Mapping[str, Any], where: str, known: tuple[str, ...]) -> None:
        """Refuse a key that looks like a slip of one that is known; others are left alone."""
        for key in table:
            close = [] if key in known else suggest(key, known)
            if close and close[0] not in table:
                what = f"{key[:LONGEST_TEXT]!r} means nothing here"
                self.fields.wrong((f"{where}{key}",), what, f"did you mean {close[0]!r}?")


def _point_of(given: Any) -> Point | None:
    if not isinstance(given, list) or len(given) != 2:
        return None
    x, y = given
    for value in (x, y):
        if isinstance(value, bool) or not isinstance(value, int | float):
            return None
    try:
        point = float(x), float(y)
    except OverflowError:
        return None
    return point if all(map(math.isfinite, point)) else None


def _without_repeats(points: Outline) -> Outline:
    """Drop corners that stand twice in a row, and a last one that repeats the first."""
    kept: list[Point] = []
    for point in points:
        if not kept or point != kept[-1]:
            kept.append(point)
    while len(kept) > 1 and kept[0] == kept[-1]:
        kept.pop()
    return tuple(kept)
