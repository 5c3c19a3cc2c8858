"""The plies of a joint in the order that the iron meets them."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.garment.joint_stack import JointLayer, JointStack, apart
from samite.seam.candidate import Candidate
from samite.seam.make_candidates import resting_side


def joint_stacks(candidate: Candidate, cloths: tuple[Cloth, ...]) -> tuple[JointStack, ...]:
    """Return the stacks that an iron meets on a joint, pressed from the wrong side.

    Parameters
    ----------
    candidate : Candidate
        The seam.
    cloths : tuple of Cloth
        The cloths.

    Returns
    -------
    tuple of JointStack
        One a side for an opened seam, one for the others; each from the iron down to the face.

    Notes
    -----
    Wrong side of the garment up: a garment ply has its face down, an allowance folded back on it
    its face up. Only the thickest place is given; the single plies beside it are the cloths'.
    """
    if candidate.form == "SSa":
        return tuple(_opened(candidate.form, cloth) for cloth in apart(cloths))
    rest = cloths[resting_side(cloths)]
    others = tuple(cloth for cloth in cloths if cloth is not rest) or (rest,)
    if candidate.form == "SSa-closed":
        allowances = [*(_straight(cloth) for cloth in others), _folded(rest)]
        return (JointStack(candidate.form, (*allowances, _garment(rest))),)
    if candidate.form == "SSae":
        return (JointStack(candidate.form, (*_rolled(rest, others[0]), _garment(rest))),)
    if candidate.form in ("LSc", "LSq"):
        turned = (_folded(others[0]), _straight(rest), *(_folded_twice(candidate, others[0])))
        return (JointStack(candidate.form, (*turned, _garment(rest))),)
    if candidate.form == "LSa":
        upper = cloths[candidate.upper]
        lower = tuple(c for i, c in enumerate(cloths) if i != candidate.upper)
        return (JointStack(candidate.form, (*(_straight(c) for c in lower), _garment(upper))),)
    return tuple(JointStack(candidate.form, (_garment(cloth),)) for cloth in apart(cloths))


def _garment(cloth: Cloth) -> JointLayer:
    return JointLayer(cloth, "garment", "down")


def _folded(cloth: Cloth) -> JointLayer:
    """An allowance folded back on the garment."""
    return JointLayer(cloth, "allowance", "up")


def _straight(cloth: Cloth) -> JointLayer:
    """An allowance that runs on without a fold."""
    return JointLayer(cloth, "allowance", "down")


def _opened(form: str, cloth: Cloth) -> JointStack:
    return JointStack(form, (_folded(cloth), _garment(cloth)))


def _rolled(rest: Cloth, other: Cloth) -> tuple[JointLayer, ...]:
    """The four plies inside a French seam, from the top."""
    return (_straight(other), _folded(other), _straight(rest), _folded(rest))


def _folded_twice(candidate: Candidate, other: Cloth) -> tuple[JointLayer, ...]:
    return (_straight(other),) if candidate.form == "LSc" else ()
