"""What was pinned at a fitting, put back as another measure or ease, not as a patch."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from samite.kernel.errors import OutOfRangeError, UnknownNameError
from samite.pieces.fitting_words import Alteration
from samite.pieces.shape import Parameter, Shape, Values

_LEVELS = {
    "waist": "waist", "hip": "hip", "bust": "bust", "chest": "bust", "underbust": "underbust",
    "thigh": "thigh", "knee": "knee", "calf": "calf", "ankle": "ankle", "armhole": "armhole",
    "armscye": "armhole", "underarm": "armhole", "side": "waist", "centre": "waist",
}  # fmt: skip
_DOWN = ("down", "lower", "longer", "out")


@dataclass(frozen=True, slots=True)
class Constraint:
    """A change of what the surface must be.

    Parameters
    ----------
    alteration : Alteration
        What was said.
    parameter : str
        Parameter that it changes.
    amount : float
        By how much, in the parameter's unit.
    """

    alteration: Alteration
    parameter: str
    amount: float


def constraints_of(shape: Shape, alterations: Sequence[Alteration]) -> tuple[Constraint, ...]:
    """Return the changes that alterations mean for a fitted shape.

    Parameters
    ----------
    shape : Shape
        The shape.
    alterations : sequence of Alteration
        What was said.

    Returns
    -------
    tuple of Constraint
        One an alteration.

    Raises
    ------
    UnknownNameError
        If the shape has nothing at that place.

    Notes
    -----
    An amount at a side seam of one half changes the girth of that half by it; at a centre seam
    half of it falls to each half. Girths here are whole ones, so a half counts twice.
    """
    known = {parameter.name for parameter in shape.parameters}
    return tuple(_constraint(shape, known, one) for one in alterations)


def _constraint(shape: Shape, known: set[str], said: Alteration) -> Constraint:
    amount = said.amount_mm
    found: tuple[str, float] | None = None
    if said.place == "hem":
        found = _hem(known, said, amount)
    elif said.place == "shoulder" and "shoulder_drop" in known:
        found = ("shoulder_drop", -amount)
    elif said.place == "neck" and "neck_drop" in known:
        found = ("neck_drop", -amount)
    elif said.place in ("front", "back") and f"{said.place}_length" in known:
        found = (f"{said.place}_length", amount)
    elif said.place in _LEVELS:
        found = _girth(known, said)
    if found is None:
        places = sorted(
            {place for place, name in _LEVELS.items() if name in known or f"{name}_ease" in known}
            | ({"shoulder", "neck", "front", "back"} if "front_length" in known else set())
            | {"hem"}
        )
        raise UnknownNameError(
            f"{shape.name} has no place for {said.said!r}",
            said.place,
            f"places are {', '.join(places)}",
        )
    return Constraint(said, *found)


def _girth(known: set[str], said: Alteration) -> tuple[str, float] | None:
    name = _LEVELS[said.place]
    parameter = f"{name}_ease" if f"{name}_ease" in known else name
    if parameter not in known:
        return None
    amount = said.amount_mm
    if name == "armhole":
        way = 1.0 if any(f" {word}" in f" {said.said}" for word in _DOWN) else -1.0
        return parameter, way * abs(amount)
    if said.seam == "side" or said.place == "side":
        return parameter, 2.0 * amount
    return parameter, amount


def _hem(known: set[str], said: Alteration, amount: float) -> tuple[str, float] | None:
    if said.part == "sleeve":
        return ("sleeve_length", amount) if "sleeve_length" in known else None
    for name, sign in (
        ("length", 1.0),
        ("leg_length", 1.0),
        ("hem_height", -1.0),
        ("below_waist", 1.0),
    ):
        if name in known:
            return name, sign * amount
    return None


def altered(shape: Shape, numbers: Values, constraints: Sequence[Constraint], side: str) -> Values:
    """Return the numbers of a build with alterations put in.

    Parameters
    ----------
    shape : Shape
        The shape.
    numbers : Values
        As they were.
    constraints : sequence of Constraint
        What to change.
    side : str
        Which half is built; ``""`` for both alike.

    Returns
    -------
    Values
        Changed numbers.

    Raises
    ------
    OutOfRangeError
        If a parameter leaves its range, or the garment ends above the place.
    """
    ranges: Mapping[str, Parameter] = {p.name: p for p in shape.parameters}
    changed = dict(numbers.numbers)
    for one in constraints:
        if one.alteration.side and side and one.alteration.side != side:
            continue
        _check_reaches(shape, changed, one)
        parameter = ranges[one.parameter]
        value = changed[one.parameter] + one.amount
        if not parameter.low <= value <= parameter.high:
            raise OutOfRangeError(
                f"{one.alteration.said!r} makes {parameter.says} {value:g} {parameter.unit}",
                one.parameter, f"from {parameter.low:g} to {parameter.high:g} {parameter.unit}",
            )  # fmt: skip
        changed[one.parameter] = value
    return Values(changed, numbers.words)


def _check_reaches(shape: Shape, numbers: Mapping[str, float], one: Constraint) -> None:
    """Refuse a fitting at the hip of a garment that ends well above it: it would change nothing."""
    reach, drop = numbers.get("below_waist"), numbers.get("hip_drop")
    # of leggings the same word tells where they begin
    top = "bust_drop" in numbers
    if not top or reach is None or drop is None or _LEVELS.get(one.alteration.place) != "hip":
        return
    # the high hip, half way down, is drawn to both girths: from there on the hip has a say
    if reach + numbers.get("point", 0.0) < 0.25 * drop:
        raise OutOfRangeError(
            f"{one.alteration.said!r} would change nothing: {shape.name} ends {reach:.0f} mm below the"
            f" waist, the hip lies {drop:.0f} mm below it", one.alteration.place,
            f"pin it at the waist, or make it longer: --set below_waist={drop / 10:.0f}",
        )  # fmt: skip
