"""Measures, settings, allowances and widths as a person writes them, read."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from samite.garment.body import HALVES, SIDES, Body
from samite.kernel.errors import InputError, UnknownNameError
from samite.kernel.ranges import require_between
from samite.kernel.unit_table import INCH_MM
from samite.kernel.units import parse_quantity
from samite.pieces.finish import Finish, check_corners, seam_allowances
from samite.pieces.measures import check_possible
from samite.pieces.shape import Parameter, Shape
from samite.services.metres import USUAL_WIDTH_MM
from samite.services.piece_ask import PieceAsk
from samite.tables.bodies import measure_entry, size_girths

UNITS_READ = {"mm": "mm", "deg": "deg", "%": "%", "1": "1", "count": "1"}


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
