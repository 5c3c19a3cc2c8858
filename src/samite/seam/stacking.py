"""The plies of a joint in the order that the iron meets them."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.garment.joint_stack import JointLayer, JointStack
from samite.seam.sides import Side, resting_side, sides_of

Plies = tuple[JointLayer, ...]


def joint_stacks(
    form: str, cloths: tuple[Cloth, ...], *, upper: int = 0, behind: str = ""
) -> tuple[JointStack, ...]:
    """Return the stacks that an iron meets on a joint, pressed from the wrong side.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.
    cloths : tuple of Cloth
        The cloths; a third one lies behind the side that `behind` names and goes with it into
        the allowance.
    upper : int
        Which side lies on top of a lap.
    behind : str
        Behind which of the first two a third lies; empty for the usual.

    Returns
    -------
    tuple of JointStack
        One a side for an opened seam, one for the others; each from the iron down to the face.

    Notes
    -----
    Wrong side of the garment up: a garment ply has its face down, an allowance folded back on it
    its face up. Only the thickest place is given; the single plies beside it are the cloths'.
    """
    sides = sides_of(cloths, behind)
    if form in ("SSa", "FSa"):
        lie = _opened if form == "SSa" else _garment
        return tuple(JointStack(form, lie(one)) for one in _unlike(sides))
    if form == "LSa":
        plies = (*_straight(sides[1 - upper]), *_garment(sides[upper]))
        return (JointStack(form, plies),)
    index = resting_side(cloths, behind)
    return (JointStack(form, _one_sided(form, sides[index], sides[1 - index])),)


def _one_sided(form: str, rest: Side, other: Side) -> Plies:
    """The plies where both allowances lie on one side."""
    if form == "SSae":
        return (*_turned(other), *_turned(rest), *_garment(rest))
    tucked = _folded(other) if form == "LSc" else ()
    return (*_straight(other), *_folded(rest), *tucked, *_garment(rest))


def _opened(side: Side) -> Plies:
    return _folded(side) + _garment(side)


def _unlike(sides: tuple[Side, Side]) -> tuple[Side, ...]:
    return sides[:1] if sides[0].alike(sides[1]) else sides


def _garment(side: Side) -> Plies:
    return tuple(JointLayer(cloth, "garment", "down") for cloth in reversed(side.cloths))


def _folded(side: Side) -> Plies:
    """An allowance folded back on the garment."""
    return tuple(JointLayer(cloth, "allowance", "up") for cloth in side.cloths)


def _straight(side: Side) -> Plies:
    """An allowance that runs on without a fold."""
    return tuple(JointLayer(cloth, "allowance", "down") for cloth in reversed(side.cloths))


def _turned(side: Side) -> Plies:
    """The two plies that a side has inside a French seam, from the top."""
    return (*_straight(side), *_folded(side))
